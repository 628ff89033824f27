//! Generates a C function for every export that calls it with arguments from
//! outside (calls.h), and runs the program that spoils them one at a time.

use std::collections::HashSet;
use std::fmt::Write;
use std::path::{Path, PathBuf};
use std::process::Command;

use crate::header::{Declaration, Function, Header, crate_folder, read};
use crate::{built, samples};

/// What an argument is.
#[derive(Clone, PartialEq)]
enum Kind {
    Value,
    Structure,
    Callback,
    Length,
    /// The place of its length.
    Text(usize),
    /// A text up to its NUL.
    Words,
    Given,
    /// The place of the number of its entries.
    GivenArray(usize),
    Handle,
    Handles,
    Output,
    OutputArray(usize),
    OutputText,
    OutputHandle,
    Userdata,
}

/// Entries of an array of structs that point, as many as are ever asked for.
const MOST_ENTRIES: usize = 40;

fn c_text(text: &str) -> String {
    let mut quoted = String::from("\"");
    for byte in text.bytes() {
        match byte {
            b'"' | b'\\' => {
                quoted.push('\\');
                quoted.push(char::from(byte));
            }
            b'\n' => quoted.push_str("\\n\"\n\""),
            0x20..0x7f => quoted.push(char::from(byte)),
            _ => write!(quoted, "\\{byte:03o}").unwrap(),
        }
    }
    quoted + "\""
}

/// Whether a size counts what a pointer points to, and is not an index.
fn is_length(name: &str) -> bool {
    ["length", "count", "capacity"]
        .iter()
        .any(|word| name == *word || name.ends_with(&format!("_{word}")))
}

/// Whether the size at `place` is the length of the text before it.
fn counts_a_text(takes: &[Declaration], place: usize) -> bool {
    let Some(before) = place.checked_sub(1).map(|it| &takes[it]) else {
        return false;
    };
    let name = &takes[place].name;
    before.kind == "const char *"
        && (name == "length" || *name == format!("{}_length", before.name))
}

/// The place of the length of the pointer at `place`: of its own name, else the
/// nearest that follows and counts no text. A capacity is that of an output.
fn length_of(takes: &[Declaration], place: usize) -> Option<usize> {
    let lengths: Vec<_> = (0..takes.len())
        .filter(|at| takes[*at].kind == "size_t" && is_length(&takes[*at].name))
        .filter(|at| !counts_a_text(takes, *at))
        .filter(|at| takes[place].is_output() || !takes[*at].name.ends_with("capacity"))
        .collect();
    let name = &takes[place].name;
    let own = lengths
        .iter()
        .find(|at| takes[**at].name.starts_with(&format!("{name}_")));
    let after = || lengths.iter().find(|at| **at > place);
    // Of several outputs the last is called `out` and is no array.
    let before = || {
        let mut lengths = lengths.iter().rev();
        lengths.find(|at| **at < place && takes[place].is_output() && name != "out")
    };
    own.or_else(after).or_else(before).copied()
}

impl Header {
    fn kinds(&self, function: &Function) -> Vec<Kind> {
        let takes = &function.takes;
        (0..takes.len())
            .map(|place| self.kind(takes, place))
            .collect()
    }

    fn kind(&self, takes: &[Declaration], place: usize) -> Kind {
        let it = &takes[place];
        let Some(target) = it.target() else {
            return if it.kind == "size_t" && is_length(&it.name) {
                Kind::Length
            } else if self
                .callbacks
                .iter()
                .any(|callback| callback.name == it.kind)
            {
                Kind::Callback
            } else if self.structs.iter().any(|known| known.name == it.kind) {
                Kind::Structure
            } else {
                Kind::Value
            };
        };
        let bare = target.trim_start_matches("const ");
        if target == "void" {
            Kind::Userdata
        } else if target == "const char *" {
            Kind::Output // a text of the library or of a handle
        } else if let Some(handle) = target.strip_suffix(" *const") {
            let handle = handle.trim_start_matches("const ");
            assert!(self.is_handle(handle), "{target} of {} is unknown", it.name);
            Kind::Handles
        } else if self.is_handle(bare) {
            Kind::Handle
        } else if target == "char *" {
            Kind::OutputText
        } else if let Some(handle) = target.strip_suffix(" *") {
            assert!(self.is_handle(handle), "{target} of {} is unknown", it.name);
            Kind::OutputHandle
        } else if target == "const char" {
            let next = place + 1;
            let length = takes.get(next).filter(|it| it.kind == "size_t");
            match length {
                Some(_) if counts_a_text(takes, next) => Kind::Text(next),
                _ => Kind::Words,
            }
        } else if target == "char" {
            Kind::Handle // a text of the library that is given back
        } else {
            match (it.is_output(), length_of(takes, place)) {
                (true, Some(length)) => Kind::OutputArray(length),
                (true, None) => Kind::Output,
                (false, Some(length)) => Kind::GivenArray(length),
                (false, None) => Kind::Given,
            }
        }
    }

    /// The function that makes a handle: its own output, and the fewest arguments.
    fn maker(&self, handle: &str) -> &Function {
        let wanted = format!("{handle} **");
        self.functions
            .iter()
            .filter(|it| it.takes.last().is_some_and(|last| last.kind == wanted))
            .min_by_key(|it| {
                let kinds = self.kinds(it);
                let plain = |kind: &&Kind| !matches!(kind, Kind::Given | Kind::GivenArray(_));
                (
                    kinds.len() - kinds.iter().filter(plain).count(),
                    kinds.len(),
                )
            })
            .unwrap_or_else(|| panic!("nothing makes a {handle}"))
    }

    /// Whether the comment, or one that it refers to, says of the argument that it
    /// may be NULL, or only together with another.
    fn null(&self, function: &Function, argument: &str) -> &'static str {
        let mut seen = HashSet::new();
        let mut waiting = vec![function];
        while let Some(it) = waiting.pop() {
            let comment = it.comment.split_whitespace().collect::<Vec<_>>().join(" ");
            let sentence = comment.split(['.', ';']).find(|sentence| {
                let names = sentence.split_once("may be NULL").map(|(names, _)| names);
                names.is_some_and(|names| names.contains(&format!("`{argument}`")))
            });
            match sentence {
                Some(it) if it.contains("may be NULL together") => return "NULL_TOGETHER",
                Some(_) => return "NULL_ACCEPTED",
                None => {}
            }
            for other in &self.functions {
                if comment.contains(&format!("s {}", other.name)) && seen.insert(&other.name) {
                    waiting.push(other);
                }
            }
        }
        "NULL_REFUSED"
    }

    /// Whether a struct holds pointers, so that its bytes cannot be drawn.
    fn points(&self, name: &str) -> bool {
        let known = self.structs.iter().find(|known| known.name == name);
        known.is_some_and(|known| {
            let mut kinds = known.members.iter().map(|member| member.kind.as_str());
            kinds.any(|kind| kind.ends_with('*') || self.points(kind))
        })
    }
}

/// Every argument of a call as C statements, and the call's list. A handle that
/// comes out goes to a place of its own for the samples.
fn arguments(
    header: &Header,
    function: &Function,
    ending: &str,
    handle_to: Option<&str>,
) -> (String, String) {
    let kinds = header.kinds(function);
    let name = format!("{}{ending}", function.name);
    let mut body = String::new();
    let takes = &function.takes;
    // Lengths first: what they count is drawn to their measure.
    let texts: HashSet<_> = kinds
        .iter()
        .filter_map(|kind| match kind {
            Kind::Text(length) => Some(*length),
            _ => None,
        })
        .collect();
    for (place, kind) in kinds.iter().enumerate() {
        if *kind == Kind::Length {
            let line = if texts.contains(&place) {
                format!("size_t a{place};")
            } else {
                let entries = samples::length(&name, &takes[place].name);
                format!("size_t a{place} = take_length(it, {place}, {entries});")
            };
            writeln!(body, "    {line}").unwrap();
        }
    }
    for (place, kind) in kinds.iter().enumerate() {
        let it = &takes[place];
        let target = it.target().unwrap_or_default();
        let bare = target.trim_start_matches("const ");
        let plain = !header.structs.iter().any(|known| known.name == bare);
        let line = match kind {
            Kind::Length => continue,
            Kind::Value if it.kind == "double" || it.kind == "float" => format!(
                "{} a{place} = take_number(it, {place}, {:?});",
                it.kind,
                samples::number(&name, &it.name)
            ),
            Kind::Value => format!(
                "{} a{place} = ({})take_whole(it, {place}, {});",
                it.kind,
                it.kind,
                samples::number(&name, &it.name)
            ),
            Kind::Structure => structure(header, &name, it, place),
            Kind::Callback => format!("{} a{place} = watch_{};", it.kind, it.kind),
            Kind::Text(length) => format!(
                "const char *a{place} = take_text(it, {place}, {}, {length}, &a{length});",
                c_text(samples::text(&name, &it.name))
            ),
            Kind::Words => format!(
                "const char *a{place} = take_words(it, {place}, {});",
                if samples::not_given(&name, &it.name) {
                    "NULL".into()
                } else {
                    c_text(samples::text(&name, &it.name))
                }
            ),
            Kind::Given if header.points(bare) => format!(
                "static const {bare} s{place} = {};\n    \
                 const {bare} *a{place} = take_pointing(it, {place}, &s{place});",
                samples::structure(bare)
            ),
            Kind::GivenArray(_) if header.points(bare) => {
                let all = vec![samples::structure(bare); MOST_ENTRIES].join(", ");
                format!(
                    "static const {bare} s{place}[] = {{{all}}};\n    \
                     const {bare} *a{place} = take_pointing(it, {place}, s{place});"
                )
            }
            Kind::Given => format!(
                "static const {bare} s{place} = {};\n    \
                 const {bare} *a{place} = take_given(it, {place}, &s{place}, sizeof s{place}, 1);",
                samples::structure(bare)
            ),
            Kind::GivenArray(length) => {
                let sample = if plain {
                    samples::array(&it.name).to_owned()
                } else {
                    let one = samples::structure(bare);
                    format!("{{{}}}", [one; samples::ENTRIES].join(", "))
                };
                format!(
                    "static const {bare} s{place}[] = {sample};\n    const {bare} *a{place} = \
                     take_given(it, {place}, s{place}, sizeof s{place}[0], a{length});"
                )
            }
            Kind::Handles => {
                let handle = bare.trim_end_matches(" *const");
                let ending = samples::variant(&name, handle);
                let all = vec![format!("sample_{handle}{ending}()"); MOST_ENTRIES].join(", ");
                format!(
                    "const {handle} *const s{place}[] = {{{all}}};\n    \
                     {} a{place} = take_pointing(it, {place}, s{place});",
                    it.kind
                )
            }
            Kind::Handle => {
                let ending = samples::variant(&name, bare);
                format!(
                    "{} a{place} = take_handle(it, {place}, sample_{bare}{ending});",
                    it.kind
                )
            }
            Kind::OutputHandle if handle_to.is_some() => {
                format!("{} a{place} = &{};", it.kind, handle_to.unwrap())
            }
            Kind::Output | Kind::OutputText | Kind::OutputHandle => format!(
                "{} a{place} = take_output(it, {place}, sizeof *a{place}, 1);",
                it.kind
            ),
            Kind::OutputArray(length) => format!(
                "{} a{place} = take_output(it, {place}, sizeof *a{place}, a{length});",
                it.kind
            ),
            Kind::Userdata => format!("void *a{place} = take_userdata(it, {place});"),
        };
        writeln!(body, "    {line}").unwrap();
    }
    let list: Vec<_> = (0..takes.len()).map(|place| format!("a{place}")).collect();
    (body, list.join(", "))
}

/// A struct that goes in by value, field by field.
fn structure(header: &Header, function: &str, it: &Declaration, place: usize) -> String {
    let known = header
        .structs
        .iter()
        .find(|known| known.name == it.kind)
        .unwrap();
    let sample = samples::value(function, &it.name, &it.kind);
    let mut line = format!("{} a{place} = {sample};", it.kind);
    for field in known.members.iter().filter(|field| field.extent.is_empty()) {
        let name = &field.name;
        if field.kind == "double" {
            write!(
                line,
                "\n    a{place}.{name} = take_number(it, {place}, a{place}.{name});"
            )
            .unwrap();
        } else if field.kind.ends_with("_t") {
            write!(
                line,
                "\n    a{place}.{name} = ({})take_whole(it, {place}, (int64_t)a{place}.{name});",
                field.kind
            )
            .unwrap();
        }
    }
    line
}

fn frees(function: &Function) -> bool {
    function.name.ends_with("_free")
}

fn result(function: &Function) -> &'static str {
    match function.gives.as_str() {
        _ if function.gives == "const char *" => "RESULT_TEXT",
        _ if function.takes.is_empty() => "RESULT_OTHER",
        "dividing_status" => "RESULT_STATUS",
        "double" => "RESULT_NUMBER",
        "void" => "RESULT_NOTHING",
        _ => "RESULT_OTHER",
    }
}

/// The function that makes the call, and what there is to say about it.
fn call(header: &Header, function: &Function) -> String {
    let kinds = header.kinds(function);
    let (mut body, list) = arguments(header, function, "", None);
    let name = &function.name;
    let expression = format!("{name}({list})");
    let release: String = kinds
        .iter()
        .enumerate()
        .filter_map(|(place, kind)| match kind {
            Kind::OutputText => Some(format!("        dividing_text_free(*a{place});\n")),
            Kind::OutputHandle => {
                let handle = function.takes[place].kind.trim_end_matches(" **");
                Some(format!("        {handle}_free(*a{place});\n"))
            }
            _ => None,
        })
        .collect();
    let line = match result(function) {
        "RESULT_STATUS" if release.is_empty() => format!("(void)took_status(it, {expression});"),
        "RESULT_STATUS" => format!("if (took_status(it, {expression})) {{\n{release}    }}"),
        "RESULT_NUMBER" => format!("(void)took_number(it, {expression});"),
        "RESULT_TEXT" => format!("took_text(it, {expression});"),
        "RESULT_NOTHING" => format!("{expression};\n    took_nothing(it);"),
        _ => format!("(void){expression};\n    took_nothing(it);"),
    };
    writeln!(body, "    {line}").unwrap();
    let mut text = format!("static void call_{name}(call *it) {{\n{body}}}\n\n");
    if !kinds.is_empty() {
        writeln!(text, "static const argument arguments_{name}[] = {{").unwrap();
        for (it, kind) in function.takes.iter().zip(&kinds) {
            writeln!(text, "    {{{}}},", facts(header, function, it, kind)).unwrap();
        }
        text.push_str("};\n\n");
    }
    text
}

fn facts(header: &Header, function: &Function, it: &Declaration, kind: &Kind) -> String {
    let name = match kind {
        Kind::Value | Kind::Structure | Kind::Callback => "ARGUMENT_VALUE",
        Kind::Length => "ARGUMENT_LENGTH",
        Kind::Text(_) | Kind::Words => "ARGUMENT_TEXT",
        Kind::Given | Kind::GivenArray(_) => "ARGUMENT_GIVEN",
        Kind::Handles => "ARGUMENT_HANDLES",
        Kind::Handle => "ARGUMENT_HANDLE",
        Kind::Output | Kind::OutputArray(_) | Kind::OutputText | Kind::OutputHandle => {
            "ARGUMENT_OUTPUT"
        }
        Kind::Userdata => "ARGUMENT_USERDATA",
    };
    let alignment = match (kind, it.target()) {
        (_, None) | (Kind::Userdata, _) => "0".into(),
        (Kind::Handle, Some(_)) if it.kind != "char *" => "_Alignof(max_align_t)".into(),
        (_, Some(target)) => format!("_Alignof({target})"),
    };
    format!(
        "\"{}\", {name}, {alignment}, {}",
        it.name,
        header.null(function, &it.name)
    )
}

/// The makers of the handles that calls are tried with.
fn sample_handles(header: &Header) -> String {
    let mut text = String::from("static void *sample_char(void) {\n    return NULL;\n}\n\n");
    let mut release = String::new();
    let mut prototypes = String::new();
    for handle in &header.handles {
        let handle = &handle.name;
        let maker = header.maker(handle);
        for ending in samples::variants(handle) {
            let name = format!("{handle}{ending}");
            let kept = format!("kept_{name}");
            let (body, list) = arguments(header, maker, ending, Some(&kept));
            writeln!(
                prototypes,
                "static void *sample_{name}(void);\nstatic {handle} *{kept};"
            )
            .unwrap();
            write!(
                text,
                "static void *sample_{name}(void) {{\n    if ({kept} != NULL) {{\n        \
                 return {kept};\n    }}\n    {{\n    call *it = sound_call();\n    \
                 (void)it;\n{body}    if ({}({list}) != DIVIDING_STATUS_OK) {{\n        \
                 refuse_sample(\"{}{ending}\");\n        return NULL;\n    }}\n    }}\n    \
                 return {kept};\n}}\n\n",
                maker.name, maker.name
            )
            .unwrap();
            write!(release, "    {handle}_free({kept});\n    {kept} = NULL;\n").unwrap();
        }
    }
    format!("{prototypes}\n{text}void free_samples(void) {{\n{release}}}\n\n")
}

/// The whole generated file.
fn generated(header: &Header) -> String {
    let mut text = String::from("/* Generated by calls.rs from include/dividing.h. */\n");
    text.push_str("#include \"calls.h\"\n");
    text.push_str(samples::POINTED_AT);
    for callback in &header.callbacks {
        let takes: Vec<_> = callback.takes.iter().map(Declaration::text).collect();
        let unused: String = callback
            .takes
            .iter()
            .map(|it| format!("    (void){};\n", it.name))
            .collect();
        write!(
            text,
            "static {} watch_{}({}) {{\n{unused}    return 0;\n}}\n\n",
            callback.gives,
            callback.name,
            takes.join(", ")
        )
        .unwrap();
    }
    text.push_str(&sample_handles(header));
    for function in &header.functions {
        text.push_str(&call(header, function));
    }
    text.push_str("const exported EXPORTS[] = {\n");
    for function in &header.functions {
        let (name, count) = (&function.name, function.takes.len());
        let arguments = match count {
            0 => "NULL".into(),
            _ => format!("arguments_{name}"),
        };
        writeln!(
            text,
            "    {{\"{name}\", {}, {}, {count}, {arguments}, call_{name}}},",
            result(function),
            frees(function)
        )
        .unwrap();
    }
    text.push_str("};\nconst size_t EXPORT_COUNT = sizeof EXPORTS / sizeof EXPORTS[0];\n");
    text
}

/// Writes the generated file where scripts find it, too.
fn write_calls() -> PathBuf {
    let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join("calls.c");
    std::fs::write(&path, generated(&read())).unwrap();
    path
}

/// A folder where the library has the name that programs ask for at run time.
fn run_time_folder() -> &'static Path {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR"));
    let (major, minor) = (
        env!("CARGO_PKG_VERSION_MAJOR"),
        env!("CARGO_PKG_VERSION_MINOR"),
    );
    let name = folder.join(format!("libdividing.so.{major}.{minor}"));
    let _ = std::fs::remove_file(&name);
    std::os::unix::fs::symlink(built::folder().join("libdividing.so"), name).unwrap();
    folder
}

/// Compiles with `CC` and `CFLAGS` of the environment, so that checkers of
/// memory can look on, and gives the program.
fn compiled(calls: &Path) -> PathBuf {
    let folder = crate_folder();
    let program = calls.with_file_name("every_export");
    let compiler = std::env::var("CC").unwrap_or_else(|_| "cc".into());
    let flags = std::env::var("CFLAGS").unwrap_or_default();
    let mut command = Command::new(compiler);
    command
        .args([
            "-std=c11",
            "-Wall",
            "-Wextra",
            "-Wno-missing-braces",
            "-Werror",
            "-g",
        ])
        .args(flags.split_whitespace())
        .arg("-I")
        .arg(folder.join("include"))
        .arg("-I")
        .arg(folder.join("tests/abi"))
        .arg(calls)
        .arg(folder.join("tests/abi/every_export.c"))
        .arg("-o")
        .arg(&program)
        .arg("-L")
        .arg(built::folder())
        .args(["-ldividing", "-lm"])
        .arg(format!("-Wl,-rpath,{}", run_time_folder().display()));
    if cfg!(feature = "provoke_panic") {
        command.arg("-DPROVOKE_PANIC");
    }
    let output = command.output().expect("the C compiler that links Rust");
    assert!(
        output.status.success(),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    program
}

/// Every pointer of every export NULL and off its alignment, every length
/// absurd; with the feature `provoke_panic` also a panic inside each.
#[cfg(target_os = "linux")]
#[test]
fn every_export_refuses_what_it_must() {
    let calls = write_calls();
    let output = Command::new(compiled(&calls)).output().unwrap();
    assert!(
        output.status.success(),
        "{}: {}{}",
        output.status,
        String::from_utf8_lossy(&output.stdout),
        String::from_utf8_lossy(&output.stderr)
    );
    let said = String::from_utf8(output.stdout).unwrap();
    let exports = read().functions.len();
    assert!(
        said.contains(&format!(
            "{exports} exports, 0 of them without a good sample"
        )),
        "{said}"
    );
}
