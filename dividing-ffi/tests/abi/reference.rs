//! The reference page, written from the header, and what every comment must say.

use std::fmt::Write;

use crate::header::{Function, Header, crate_folder, read};

const TITLE: &str = "\
# The C interface, function by function

Written from `include/dividing.h`; the conventions that every function keeps stand in the [README](README.md). `UPDATE_HEADER=1 cargo test -p dividing-ffi --test abi` writes this page anew.
";

/// A comment as Markdown: lists stay, other lines flow together.
fn prose(comment: &str) -> String {
    let mut text = String::new();
    for line in comment.lines() {
        if line.is_empty() {
            text.push_str("\n\n");
        } else {
            if !text.is_empty() && !text.ends_with('\n') {
                text.push(if line.starts_with("- ") { '\n' } else { ' ' });
            }
            text.push_str(line);
        }
    }
    text.replace('*', "\\*").replace('|', "\\|")
}

fn in_a_row(comment: &str) -> String {
    prose(comment).replace("\n\n", " ")
}

fn page(header: &Header) -> String {
    let mut text = format!("{TITLE}\n## Functions\n");
    for function in &header.functions {
        write!(
            text,
            "\n### {}\n\n```c\n{};\n```\n\n{}\n",
            function.name,
            function.prototype(),
            prose(&function.comment)
        )
        .unwrap();
    }
    text.push_str("\n## Callbacks\n");
    for callback in &header.callbacks {
        write!(
            text,
            "\n### {}\n\n```c\n{};\n```\n\n{}\n",
            callback.name,
            callback.prototype(),
            prose(&callback.comment)
        )
        .unwrap();
    }
    text.push_str("\n## Handles\n");
    for handle in &header.handles {
        write!(
            text,
            "\n### {}\n\n{}\n",
            handle.name,
            prose(&handle.comment)
        )
        .unwrap();
    }
    text.push_str("\n## Structs\n");
    for it in &header.structs {
        write!(
            text,
            "\n### {}\n\n{}\n\n| field | meaning |\n| --- | --- |\n",
            it.name,
            prose(&it.comment)
        )
        .unwrap();
        for field in &it.members {
            writeln!(
                text,
                "| `{}` | {} |",
                field.text(),
                in_a_row(&field.comment)
            )
            .unwrap();
        }
    }
    text.push_str("\n## Enumerations\n");
    for it in &header.enumerations {
        write!(
            text,
            "\n### {}\n\n{}\n\n| name | number | meaning |\n| --- | --- | --- |\n",
            it.name,
            prose(&it.comment)
        )
        .unwrap();
        for (name, value, comment) in &it.members {
            writeln!(text, "| `{name}` | {value} | {} |", in_a_row(comment)).unwrap();
        }
    }
    text
}

#[test]
fn the_reference_page_is_current() {
    let path = crate_folder().join("reference.md");
    let wanted = page(&read());
    if std::env::var_os("UPDATE_HEADER").is_some() {
        std::fs::write(&path, &wanted).unwrap();
    }
    let kept = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(
        kept == wanted,
        "reference.md is not what the header says; \
         UPDATE_HEADER=1 cargo test -p dividing-ffi --test abi writes it anew"
    );
}

/// Names such as dividing_plans_new in a text.
fn names(text: &str) -> impl Iterator<Item = &str> {
    text.split(|sign: char| !(sign.is_ascii_alphanumeric() || sign == '_'))
        .filter(|word| !word.is_empty())
}

/// Whether a sentence says of the matter "as" another function: "Errors,
/// ownership and threads as dividing_plans_new."
fn refers(comment: &str, matter: &str) -> bool {
    let comment = comment.to_lowercase().replace('\n', " ");
    comment.split('.').any(|sentence| {
        sentence
            .find("as dividing_")
            .is_some_and(|at| sentence[..at].contains(matter))
    })
}

impl Header {
    fn knows(&self, name: &str) -> bool {
        self.functions.iter().any(|it| it.name == name)
            || self.callbacks.iter().any(|it| it.name == name)
            || self.handles.iter().any(|it| it.name == name)
            || self.structs.iter().any(|it| it.name == name)
            || self.enumerations.iter().any(|it| it.name == name)
            || self
                .enumerations
                .iter()
                .any(|it| it.members.iter().any(|(member, _, _)| member == name))
            // Macros.
            || name == "DIVIDING_NUL_ENDED"
            || name.starts_with("DIVIDING_VERSION")
    }

    fn is_status(&self, name: &str) -> bool {
        let wanted = format!("DIVIDING_STATUS_{}", name.to_uppercase());
        self.knows(&wanted)
    }

    /// What the comment of a function lacks.
    fn faults(&self, function: &Function) -> Vec<String> {
        let comment = function.comment.as_str();
        let mut faults = Vec::new();
        let mut wants = |needed: bool, word: &str| {
            let elsewhere = word.trim_end_matches(':').to_lowercase();
            if needed && !comment.contains(word) && !refers(comment, &elsewhere) {
                faults.push(format!("{}: no \"{word}\"", function.name));
            }
        };
        wants(true, "Threads:");
        let fails = function.gives_status() || function.gives == "double";
        wants(fails && !function.takes.is_empty(), "Errors:");
        let gives_away = function.gives.ends_with('*')
            || function.takes.iter().any(|it| {
                it.kind == "char **"
                    || it
                        .kind
                        .strip_suffix(" **")
                        .is_some_and(|handle| self.is_handle(handle))
            });
        wants(
            (gives_away || function.name.ends_with("_free"))
                && !comment.contains("Errors: those of both"),
            "Ownership:",
        );
        for name in names(comment) {
            if (name.starts_with("dividing_") || name.starts_with("DIVIDING_"))
                && !self.knows(name)
                && !name.ends_with('_')
            {
                faults.push(format!("{}: there is no {name}", function.name));
            }
        }
        // Errors are called by the names of statuses.
        if let Some((_, rest)) = comment.split_once("Errors:") {
            let end = rest.find("Ownership:").or_else(|| rest.find("Threads:"));
            let unquoted: String = rest[..end.unwrap_or(rest.len())]
                .split('`')
                .step_by(2)
                .collect();
            for name in
                names(&unquoted).filter(|it| it.contains('_') && !it.starts_with("dividing_"))
            {
                if !self.is_status(name) {
                    faults.push(format!("{}: {name} is no status", function.name));
                }
            }
        }
        faults
    }
}

/// Every comment says the errors, who owns what comes out, and the rule of
/// threads, and names nothing that is not there.
#[test]
fn every_comment_says_what_it_must() {
    let header = read();
    let faults: Vec<_> = header
        .functions
        .iter()
        .flat_map(|function| header.faults(function))
        .collect();
    assert!(faults.is_empty(), "{}", faults.join("\n"));
    for it in &header.structs {
        assert!(!it.comment.is_empty(), "{} has no comment", it.name);
        for field in &it.members {
            assert!(!field.comment.is_empty(), "{}.{}", it.name, field.name);
        }
    }
}

/// The check finds what is missing or wrong.
#[test]
fn a_poor_comment_is_seen() {
    let mut header = read();
    let at = header
        .functions
        .iter()
        .position(|it| it.name == "dividing_plans_new")
        .unwrap();
    header.functions[at].comment = "Errors: no_such_thing, as dividing_nowhere.".into();
    let faults = header.faults(&header.functions[at]);
    assert_eq!(faults.len(), 4, "{faults:?}");
}
