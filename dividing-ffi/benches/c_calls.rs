//! What a call across the C border costs over the same work in Rust: the shared
//! library is opened as a program in C would, and both sides run in turns. Prints
//! one JSON line a function with `ours_s`, a call through C, `peer_s`, the call
//! in Rust, and `over_ns`, the difference.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::print_stdout,
    reason = "a benchmark prints, and stops at the first surprise"
)]

use std::ffi::{CStr, CString, c_char, c_int, c_void};
use std::hint::black_box;
use std::os::unix::ffi::OsStrExt;
use std::time::Instant;

use dividing_core::accuracy::pin_play;
use dividing_core::{Angle, Length, gauge_blocks::sine_bar};

unsafe extern "C" {
    fn dlopen(path: *const c_char, how: c_int) -> *mut c_void;
    fn dlsym(library: *mut c_void, name: *const c_char) -> *mut c_void;
}

type OfTwo = extern "C" fn(f64, f64) -> f64;
type OfThree = extern "C" fn(f64, f64, f64) -> f64;
type OfFraction = extern "C" fn(i64, i64) -> f64;

const CALLS: u32 = 200_000;
const ROUNDS: usize = 25;

/// The least seconds a call took of many rounds.
fn seconds(mut call: impl FnMut(u32) -> f64) -> f64 {
    let begin = Instant::now();
    for index in 0..CALLS {
        black_box(call(black_box(index)));
    }
    begin.elapsed().as_secs_f64() / f64::from(CALLS)
}

/// Both sides in turns, so that a slow moment hits both.
fn compare(
    name: &str,
    what: &str,
    mut through_c: impl FnMut(u32) -> f64,
    mut in_rust: impl FnMut(u32) -> f64,
) {
    for index in 1..100 {
        let off = (through_c(index) - in_rust(index)).abs();
        assert!(off <= 1e-9, "{name}: the two sides disagree by {off}");
    }
    let (mut ours_s, mut peer_s) = (f64::INFINITY, f64::INFINITY);
    for _ in 0..ROUNDS {
        ours_s = ours_s.min(seconds(&mut through_c));
        peer_s = peer_s.min(seconds(&mut in_rust));
    }
    println!(
        "{{\"name\": \"{name}\", \"ours_s\": {ours_s:e}, \"peer_s\": {peer_s:e}, \
         \"over_ns\": {:.1}, \"threads\": 1, \"what\": \"{what}, a call through C and in Rust\"}}",
        (ours_s - peer_s) * 1e9
    );
}

fn symbol(library: *mut c_void, name: &CStr) -> *mut c_void {
    // SAFETY: an open library and a name that ends with NUL.
    let found = unsafe { dlsym(library, name.as_ptr()) };
    assert!(!found.is_null(), "there is no {name:?}");
    found
}

fn main() {
    let folder = std::env::current_exe().unwrap();
    let path = folder.parent().unwrap().join("libdividing.so");
    let path = CString::new(path.as_os_str().as_bytes()).unwrap();
    // SAFETY: a path that ends with NUL; 2 is RTLD_NOW.
    let library = unsafe { dlopen(path.as_ptr(), 2) };
    assert!(!library.is_null(), "{path:?} cannot be opened");
    // SAFETY: the signatures of dividing.h.
    let (degrees, sine, pin) = unsafe {
        (
            std::mem::transmute::<*mut c_void, OfFraction>(symbol(
                library,
                c"dividing_turns_to_degrees",
            )),
            std::mem::transmute::<*mut c_void, OfTwo>(symbol(
                library,
                c"dividing_sine_bar_height_mm",
            )),
            std::mem::transmute::<*mut c_void, OfThree>(symbol(
                library,
                c"dividing_pin_worst_error_arcsec",
            )),
        )
    };
    compare(
        "c_turns_to_degrees",
        "a fraction of a turn to degrees",
        |index| degrees(i64::from(index), 360_007),
        |index| {
            Angle::new(i128::from(index), 360_007)
                .unwrap()
                .to_degrees_f64()
        },
    );
    compare(
        "c_pin_worst_error",
        "worst error of a pin in a hole",
        |index| {
            let (radius_mm, position_mm) = black_box((50.0, 0.05));
            pin(radius_mm, f64::from(index % 1000) * 1e-5, position_mm)
        },
        |index| {
            let (radius_mm, position_mm) = black_box((50.0, 0.05));
            let radius_mm = Length::from_mm(radius_mm).unwrap().mm();
            let play = pin_play(radius_mm, radius_mm, f64::from(index % 1000) * 1e-5).unwrap();
            (play.exact_rad + position_mm / 2.0 / radius_mm).to_degrees() * 3600.0
        },
    );
    compare(
        "c_sine_bar_height",
        "height of a sine bar",
        |index| sine(black_box(100.0), f64::from(index % 90)),
        |index| {
            let angle =
                Angle::from_degrees_rounded(f64::from(index % 90), 1_000_000_000_000).unwrap();
            sine_bar::height_mm(Length::from_mm(black_box(100.0)).unwrap(), angle).unwrap()
        },
    );
}
