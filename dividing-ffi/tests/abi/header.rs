//! The committed header, read: every function, enumeration and struct with its
//! comment. It reads what cbindgen writes and no C beyond that.

use std::path::{Path, PathBuf};

/// What the header declares, in its order.
pub struct Header {
    pub functions: Vec<Function>,
    /// Names, values and comments of the enumerators.
    pub enumerations: Vec<Named<(String, String, String)>>,
    pub structs: Vec<Named<Declaration>>,
    pub callbacks: Vec<Function>,
    /// Types that only a pointer is ever seen of.
    pub handles: Vec<Named<()>>,
}

/// A type with its comment and its members.
pub struct Named<T> {
    pub name: String,
    pub comment: String,
    pub members: Vec<T>,
}

pub struct Function {
    pub name: String,
    pub comment: String,
    pub gives: String,
    pub takes: Vec<Declaration>,
}

/// A parameter or a field: `const char *` and `text`.
#[derive(Clone)]
pub struct Declaration {
    pub kind: String,
    pub name: String,
    /// Of a field that is an array: "[4]".
    pub extent: String,
    pub comment: String,
}

impl Declaration {
    /// The pointer's target: "const char" of `const char *`.
    pub fn target(&self) -> Option<&str> {
        self.kind.strip_suffix('*').map(str::trim_end)
    }

    /// Whether the call may write through it.
    pub fn is_output(&self) -> bool {
        self.target()
            .is_some_and(|target| !target.starts_with("const ") && target != "void")
    }

    pub fn text(&self) -> String {
        let space = if self.kind.ends_with('*') { "" } else { " " };
        format!("{}{space}{}{}", self.kind, self.name, self.extent)
    }
}

impl Function {
    pub fn prototype(&self) -> String {
        let takes: Vec<_> = self.takes.iter().map(Declaration::text).collect();
        let takes = if takes.is_empty() {
            "void".into()
        } else {
            takes.join(", ")
        };
        let space = if self.gives.ends_with('*') { "" } else { " " };
        format!("{}{space}{}({takes})", self.gives, self.name)
    }

    pub fn gives_status(&self) -> bool {
        self.gives == "dividing_status"
    }
}

pub fn crate_folder() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

pub fn path() -> PathBuf {
    crate_folder().join("include/dividing.h")
}

/// Reads the committed header.
pub fn read() -> Header {
    let text = std::fs::read_to_string(path()).unwrap();
    let mut header = Header {
        functions: Vec::new(),
        enumerations: Vec::new(),
        structs: Vec::new(),
        callbacks: Vec::new(),
        handles: Vec::new(),
    };
    for (comment, code) in items(&text) {
        header.take(comment, &code);
    }
    header
}

/// Comment and code of each declaration; a declaration ends with a semicolon
/// outside braces. Lines of the preprocessor are left out.
fn items(text: &str) -> Vec<(String, String)> {
    let mut found = Vec::new();
    let (mut comment, mut code, mut depth) = (String::new(), String::new(), 0_i32);
    let mut lines = text.lines();
    while let Some(line) = lines.next() {
        let bare = line.trim();
        if depth == 0 && code.is_empty() && bare.starts_with("/*") {
            comment = comment_from(bare, &mut lines);
        } else if bare.starts_with('#') || bare == "extern \"C\" {" || bare.starts_with("}  //") {
            if code.is_empty() {
                comment.clear();
            }
        } else if !bare.is_empty() {
            depth += count(bare, '{') - count(bare, '}');
            code.push_str(bare);
            code.push('\n');
            if depth == 0 && bare.ends_with(';') {
                found.push((std::mem::take(&mut comment), std::mem::take(&mut code)));
            }
        }
    }
    assert!(code.is_empty(), "the header ends inside: {code}");
    found
}

fn count(text: &str, sign: char) -> i32 {
    i32::try_from(text.matches(sign).count()).unwrap()
}

fn comment_from<'a>(first: &str, lines: &mut impl Iterator<Item = &'a str>) -> String {
    let (mut text, mut line) = (String::new(), first);
    loop {
        let inner = line
            .trim()
            .trim_start_matches("/**")
            .trim_start_matches("/*")
            .trim_end_matches("*/");
        let inner = inner.strip_prefix('*').unwrap_or(inner);
        text.push_str(inner.strip_prefix(' ').unwrap_or(inner).trim_end());
        text.push('\n');
        if line.trim().ends_with("*/") {
            return text.trim().to_owned();
        }
        line = lines.next().unwrap();
    }
}

impl Header {
    fn take(&mut self, comment: String, code: &str) {
        if let Some(rest) = code.strip_prefix("enum ") {
            let name = rest.split_whitespace().next().unwrap().to_owned();
            let members = members(inside(code))
                .into_iter()
                .map(|(comment, member)| {
                    let (name, value) = member.split_once('=').unwrap();
                    (name.trim().to_owned(), value.trim().to_owned(), comment)
                })
                .collect();
            self.enumerations.push(Named {
                name,
                comment,
                members,
            });
        } else if code.starts_with("typedef struct") && code.contains('{') {
            let name = code.split_whitespace().nth(2).unwrap().to_owned();
            let members = members(inside(code))
                .into_iter()
                .map(|(comment, member)| declaration(&member, comment))
                .collect();
            self.structs.push(Named {
                name,
                comment,
                members,
            });
        } else if let Some(rest) = code.strip_prefix("typedef struct ") {
            let name = rest.split_whitespace().next().unwrap().to_owned();
            self.handles.push(Named {
                name,
                comment,
                members: Vec::new(),
            });
        } else if let Some(rest) = code.strip_prefix("typedef ") {
            if rest.contains("(*") {
                let mut callback = function(&rest.replace("(*", "").replacen(")(", "(", 1));
                callback.comment = comment;
                self.callbacks.push(callback);
            }
        } else {
            let mut function = function(code);
            assert!(function.name.starts_with("dividing_"), "{code}");
            function.comment = comment;
            self.functions.push(function);
        }
    }

    pub fn is_handle(&self, kind: &str) -> bool {
        self.handles.iter().any(|handle| handle.name == kind)
    }
}

fn inside(code: &str) -> &str {
    let (start, end) = (code.find('{').unwrap(), code.rfind('}').unwrap());
    &code[start + 1..end]
}

/// Comment and text of each member of a struct or an enumeration.
fn members(body: &str) -> Vec<(String, String)> {
    let (mut found, mut comment) = (Vec::new(), String::new());
    let mut lines = body.lines();
    while let Some(line) = lines.next() {
        if line.starts_with("/*") {
            comment = comment_from(line, &mut lines);
        } else if !line.is_empty() {
            let text = line.trim_end_matches([',', ';']).to_owned();
            found.push((std::mem::take(&mut comment), text));
        }
    }
    found
}

fn function(code: &str) -> Function {
    let (head, rest) = code.split_once('(').unwrap();
    let (takes, _) = rest.rsplit_once(')').unwrap();
    let head = declaration(head, String::new());
    Function {
        name: head.name,
        comment: String::new(),
        gives: head.kind,
        takes: takes
            .split(',')
            .map(str::trim)
            .filter(|it| !it.is_empty() && *it != "void")
            .map(|it| declaration(it, String::new()))
            .collect(),
    }
}

/// "const char *text" apart: the kind without `struct`, the name.
fn declaration(text: &str, comment: String) -> Declaration {
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let (text, extent) = match text.find('[') {
        Some(at) => text.split_at(at),
        None => (text.as_str(), ""),
    };
    let at = text.rfind([' ', '*']).unwrap() + 1;
    Declaration {
        kind: text[..at].trim().replace("struct ", ""),
        name: text[at..].to_owned(),
        extent: extent.to_owned(),
        comment,
    }
}
