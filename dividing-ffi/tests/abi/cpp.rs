//! The C++ header knows every handle: its list is written from dividing.h.

use std::fmt::Write;

use crate::header::{crate_folder, read};

const BEGIN: &str = "    // [handles: written from dividing.h]\n";
const END: &str = "    // [end of handles]\n";

#[test]
fn the_cpp_header_frees_every_handle() {
    let path = crate_folder().join("include/dividing.hpp");
    let kept = std::fs::read_to_string(&path).unwrap();
    let (before, rest) = kept.split_once(BEGIN).unwrap();
    let (_, after) = rest.split_once(END).unwrap();
    let header = read();
    let mut lines = String::new();
    for handle in &header.handles {
        let name = &handle.name;
        let free = format!("{name}_free");
        assert!(
            header.functions.iter().any(|it| it.name == free),
            "there is no {free}"
        );
        writeln!(
            lines,
            "    void operator()({name} *it) const noexcept {{ {free}(it); }}"
        )
        .unwrap();
    }
    let wanted = format!("{before}{BEGIN}{lines}{END}{after}");
    if std::env::var_os("UPDATE_HEADER").is_some() {
        std::fs::write(&path, &wanted).unwrap();
    }
    let kept = std::fs::read_to_string(&path).unwrap();
    assert!(
        kept == wanted,
        "include/dividing.hpp lacks a handle; \
         UPDATE_HEADER=1 cargo test -p dividing-ffi --test abi writes it"
    );
}
