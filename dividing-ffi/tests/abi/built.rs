//! What cargo built beside this test.

use std::path::PathBuf;

/// The folder with libdividing.so and libdividing.a of this very build.
pub fn folder() -> PathBuf {
    let test = std::env::current_exe().unwrap();
    test.parent().unwrap().to_owned()
}
