//! Every function of the header, called with NULL for every pointer: the C file
//! that does it is written from the header. `UPDATE_HEADER=1 cargo test -p
//! dividing-ffi --test nulls` writes it anew.
#![allow(clippy::unwrap_used, reason = "a failing unwrap is a failing test")]

use std::fmt::Write as _;
use std::path::Path;

/// Name and parameters of every function that returns a status.
fn functions(header: &str) -> Vec<(String, Vec<String>)> {
    let mut found = Vec::new();
    let joined = header.replace('\n', " ");
    let mut rest = joined.as_str();
    while let Some(start) = rest.find("dividing_status dividing_") {
        rest = &rest[start + "dividing_status ".len()..];
        let (Some(open), Some(end)) = (rest.find('('), rest.find(");")) else {
            break;
        };
        let name = &rest[..open];
        if name
            .chars()
            .all(|it| it.is_ascii_alphanumeric() || it == '_')
            && open < end
        {
            let parameters = rest[open + 1..end]
                .split(',')
                .map(|it| it.trim().to_owned());
            found.push((name.to_owned(), parameters.collect()));
        }
    }
    found
}

/// NULL for a pointer or a watcher, 0 for a number, zeros for a struct.
fn argument(parameter: &str) -> String {
    let kind = parameter.rsplit_once(' ').map_or("", |(kind, _)| kind);
    let kind = kind.trim_start_matches("struct ");
    if parameter.contains('*') || kind.contains("watcher") {
        "NULL".to_owned()
    } else if kind.starts_with("dividing_") {
        format!("zero_{}", kind.trim_start_matches("dividing_"))
    } else {
        "0".to_owned()
    }
}

fn generated() -> String {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR"));
    let header = std::fs::read_to_string(folder.join("include/dividing.h")).unwrap();
    let functions = functions(&header);
    let calls: Vec<(&String, Vec<String>)> = functions
        .iter()
        .filter(|(_, parameters)| parameters.iter().any(|it| it.contains('*')))
        .map(|(name, parameters)| (name, parameters.iter().map(|it| argument(it)).collect()))
        .collect();
    let mut structs: Vec<&str> = calls
        .iter()
        .flat_map(|(_, arguments)| arguments)
        .filter_map(|it| it.strip_prefix("zero_"))
        .collect();
    structs.sort_unstable();
    structs.dedup();
    let mut text = String::from(
        "/*\n * Every function that returns a status, with NULL for every pointer. Written from\n \
         * the header by tests/nulls.rs: change that, not this file.\n */\n#include \"suite.h\"\n\n\
         #include <string.h>\n\nvoid test_nulls(void) {\n",
    );
    for name in &structs {
        writeln!(text, "    dividing_{name} zero_{name};").unwrap();
    }
    for name in &structs {
        writeln!(text, "    memset(&zero_{name}, 0, sizeof zero_{name});").unwrap();
    }
    for (name, arguments) in &calls {
        writeln!(
            text,
            "    STATUS({name}({}),\n           DIVIDING_STATUS_NULL_POINTER, \"{name}\");",
            arguments.join(", ")
        )
        .unwrap();
    }
    text.push_str("}\n");
    text
}

#[test]
fn every_function_is_called_with_null() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/c/nulls.c");
    let generated = generated();
    assert!(generated.matches("STATUS(").count() > 150, "{generated}");
    if std::env::var_os("UPDATE_HEADER").is_some() {
        std::fs::write(&path, &generated).unwrap();
    }
    let committed = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(
        committed == generated,
        "tests/c/nulls.c is not what the header says; \
         UPDATE_HEADER=1 cargo test -p dividing-ffi --test nulls writes it anew"
    );
}
