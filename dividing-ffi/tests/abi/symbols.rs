//! The list of what the library offers, `symbols.txt`: a symbol that is removed
//! or changed is seen when the list is.

use std::fmt::Write;
use std::process::Command;

use crate::header::{Header, crate_folder, read};

const TITLE: &str = "\
# What the C interface offers, one a line: functions, callbacks, enumerators and
# structs. A line that is removed or changed breaks programs that are compiled,
# so it wants a new minor version before 1.0 and a new major version after.
# UPDATE_SYMBOLS=1 cargo test -p dividing-ffi --test abi writes it anew.
";

fn list(header: &Header) -> String {
    let mut lines = Vec::new();
    for function in &header.functions {
        lines.push(function.prototype());
    }
    for callback in &header.callbacks {
        lines.push(format!("callback {}", callback.prototype()));
    }
    for enumeration in &header.enumerations {
        for (name, value, _) in &enumeration.members {
            lines.push(format!("{} {name} = {value}", enumeration.name));
        }
    }
    for it in &header.structs {
        let mut line = format!("struct {} {{", it.name);
        for field in &it.members {
            write!(line, " {};", field.text()).unwrap();
        }
        lines.push(line + " }");
    }
    for handle in &header.handles {
        lines.push(format!("struct {}", handle.name));
    }
    lines.sort();
    format!("{TITLE}\n{}\n", lines.join("\n"))
}

/// The lines of one text that the other lacks.
fn missing<'a>(from: &'a str, other: &str) -> Vec<&'a str> {
    from.lines()
        .filter(|line| !other.lines().any(|it| it == *line))
        .collect()
}

#[test]
fn the_list_of_symbols_is_that_of_the_header() {
    let path = crate_folder().join("symbols.txt");
    let wanted = list(&read());
    if std::env::var_os("UPDATE_SYMBOLS").is_some() {
        std::fs::write(&path, &wanted).unwrap();
    }
    let kept = std::fs::read_to_string(&path).unwrap_or_default();
    let (gone, new) = (missing(&kept, &wanted), missing(&wanted, &kept));
    assert!(
        gone.is_empty(),
        "removed or changed, which breaks programs that are compiled:\n{}\n\
         now there is:\n{}",
        gone.join("\n"),
        new.join("\n")
    );
    assert!(
        kept == wanted,
        "symbols.txt lacks, or has out of order:\n{}\n\
         UPDATE_SYMBOLS=1 cargo test -p dividing-ffi --test abi writes it anew",
        new.join("\n")
    );
}

/// A change of a signature, and a removal, are seen as such.
#[test]
fn a_changed_symbol_is_seen() {
    let mut header = read();
    let before = list(&header);
    let changed = &mut header.functions[5];
    let name = changed.name.clone();
    changed.gives = "uint8_t".into();
    let gone = list(&header);
    let gone = missing(&before, &gone);
    assert!(gone.len() == 1 && gone[0].contains(&name), "{gone:?}");
    header.functions.remove(5);
    assert_eq!(missing(&before, &list(&header)), gone);
    let structure = header.structs.last_mut().unwrap();
    structure.members.swap(0, 1);
    assert_eq!(missing(&before, &list(&header)).len(), 2);
}

/// What the shared library exports is what the header declares, no more, no
/// less. The library is the one that was built for this test.
#[cfg(target_os = "linux")]
#[test]
fn the_shared_library_exports_the_header() {
    let library = crate::built::folder().join("libdividing.so");
    let output = Command::new("nm")
        .args(["--dynamic", "--defined-only"])
        .arg(&library)
        .output()
        .expect("nm, which comes with every linker");
    let text = String::from_utf8(output.stdout).unwrap();
    assert!(output.status.success(), "nm {}: {text}", library.display());
    let mut exported: Vec<_> = text
        .lines()
        .filter_map(|line| line.split_whitespace().last())
        .filter(|name| !(cfg!(feature = "provoke_panic") && *name == "dividing_provoke_panic"))
        .collect();
    exported.sort_unstable();
    let header = read();
    let mut declared: Vec<_> = header.functions.iter().map(|it| &*it.name).collect();
    declared.sort_unstable();
    assert!(!declared.is_empty());
    assert_eq!(exported, declared);
}
