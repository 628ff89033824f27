//! Gives the shared library its name for the run-time linker. Before 1.0 a
//! minor version may break callers, so the name holds both numbers.

fn main() {
    println!("cargo:rerun-if-changed=build.rs");
    let target = std::env::var("CARGO_CFG_TARGET_OS").unwrap_or_default();
    let major = std::env::var("CARGO_PKG_VERSION_MAJOR").unwrap_or_default();
    let minor = std::env::var("CARGO_PKG_VERSION_MINOR").unwrap_or_default();
    if target == "linux" {
        println!("cargo:rustc-cdylib-link-arg=-Wl,-soname,libdividing.so.{major}.{minor}");
    }
}
