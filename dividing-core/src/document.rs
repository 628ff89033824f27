//! Reading documents: JSON with errors that name the path to the field.

use serde::de::{DeserializeOwned, IgnoredAny};

use crate::error::{Error, ErrorKind, Result};

/// The `format` number of the documents that this version reads and writes.
pub const FORMAT: u32 = 1;

/// Largest document that is read, in bytes.
pub const MAX_DOCUMENT_BYTES: usize = 16 * 1024 * 1024;

/// Reads a document from JSON text.
pub fn read<T: DeserializeOwned>(text: &str) -> Result<T> {
    if text.len() > MAX_DOCUMENT_BYTES {
        return Err(Error::out_of_range(
            format!("a document of {} bytes", text.len()),
            format!("at most {MAX_DOCUMENT_BYTES} bytes"),
        ));
    }
    let mut reader = serde_json::Deserializer::from_str(text);
    let document = serde_path_to_error::deserialize(&mut reader).map_err(|error| {
        let path = error.path().to_string();
        // The path is not known where the text breaks off.
        let path = if path == "." || path.contains('?') {
            String::new()
        } else {
            path
        };
        document_error(error.inner(), text).at(path)
    })?;
    reader.end().map_err(|error| document_error(&error, text))?;
    Ok(document)
}

fn document_error(error: &serde_json::Error, text: &str) -> Error {
    let mut sentence = in_plain_words(error.to_string());
    let kind = if !error.is_data() {
        // The reader also calls it bad syntax when an object that chooses a
        // kind has no key or two, or a number is too large for any field.
        if serde_json::from_str::<IgnoredAny>(text).is_err() {
            return Error::new(ErrorKind::MalformedJson, sentence);
        }
        if sentence.starts_with("expected") {
            sentence += "; an object that chooses a kind holds exactly that one key";
        }
        ErrorKind::InvalidField
    } else if sentence.starts_with("unknown field") || sentence.starts_with("unknown variant") {
        ErrorKind::UnknownField
    } else {
        ErrorKind::InvalidField
    };
    Error::new(kind, sentence)
}

/// The reader's sentence with the names of its types in plain words.
fn in_plain_words(sentence: String) -> String {
    const WORDS: [(&str, &str); 5] = [
        ("expected u32", "expected a whole number, 0 or more"),
        ("expected u64", "expected a whole number, 0 or more"),
        ("expected usize", "expected a whole number, 0 or more"),
        ("expected f64", "expected a number"),
        ("expected a sequence", "expected a list"),
    ];
    WORDS.iter().fold(sentence, |sentence, (type_name, words)| {
        sentence.replace(type_name, words)
    })
}

/// Writes a document as JSON text, indented, with a newline at the end.
pub fn write<T: serde::Serialize>(document: &T) -> Result<String> {
    let mut text = serde_json::to_string_pretty(document).map_err(Error::internal)?;
    text.push('\n');
    Ok(text)
}

/// Reads a document that another version may have written: that its format is
/// not known is told before anything else that is wrong with it.
pub(crate) fn read_format<T: DeserializeOwned>(text: &str) -> Result<T> {
    #[derive(serde::Deserialize)]
    struct FormatOnly {
        format: u32,
    }
    read(text).map_err(|error| match read::<FormatOnly>(text) {
        Ok(document) => check_format(document.format).err().unwrap_or(error),
        Err(_) => error,
    })
}

/// The format of a document whose other fields are read as they stand.
pub(crate) fn known_format<'de, D: serde::Deserializer<'de>>(
    deserializer: D,
) -> std::result::Result<u32, D::Error> {
    let format = <u32 as serde::Deserialize>::deserialize(deserializer)?;
    check_format(format).map_err(serde::de::Error::custom)?;
    Ok(format)
}

/// Refuses a document of another format.
pub(crate) fn check_format(format: u32) -> Result<()> {
    if format == FORMAT {
        Ok(())
    } else {
        Err(Error::new(
            ErrorKind::UnknownFormat,
            format!("format {format} cannot be read; accepted: {FORMAT}"),
        )
        .at("format"))
    }
}

/// Longest name, in characters.
const LONGEST_NAME: usize = 120;

/// Refuses an empty, overlong or unprintable name.
pub(crate) fn check_name(name: &str) -> Result<()> {
    let length = name.chars().count();
    if name.trim().is_empty() || length > LONGEST_NAME || name.chars().any(char::is_control) {
        return Err(Error::out_of_range(
            format!(
                "a name of {length} characters ({})",
                crate::error::quoted(name)
            ),
            format!("1 to {LONGEST_NAME} printable characters"),
        ));
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[derive(Debug, serde::Deserialize)]
    #[serde(deny_unknown_fields)]
    struct Outer {
        #[allow(dead_code, reason = "read by the test's deserializer only")]
        list: Vec<Inner>,
    }

    #[derive(Debug, serde::Deserialize)]
    #[serde(deny_unknown_fields)]
    struct Inner {
        #[allow(dead_code, reason = "read by the test's deserializer only")]
        holes: u32,
    }

    #[test]
    fn well_formed_json_is_never_called_malformed() {
        #[derive(Debug, serde::Deserialize)]
        #[serde(rename_all = "snake_case")]
        enum Choice {
            #[allow(dead_code, reason = "read by the test's deserializer only")]
            Plate(u32),
            #[allow(dead_code, reason = "read by the test's deserializer only")]
            Block(u32),
        }
        for text in [
            "[{}]",
            r#"[{"plate":3,"block":4}]"#,
            r#"[{"plate":1e999}]"#,
            "[[]]",
        ] {
            let error = read::<Vec<Choice>>(text).unwrap_err();
            assert_eq!(error.kind(), ErrorKind::InvalidField, "{text}: {error}");
            assert!(error.field().starts_with("[0]"), "{text}: {error}");
        }
        let error = read::<Vec<Choice>>("[{}").unwrap_err();
        assert_eq!(error.kind(), ErrorKind::MalformedJson);
    }

    #[test]
    fn errors_name_the_path_and_the_kind() {
        let error = read::<Outer>(r#"{"list":[{"holes":4},{"holes":-1}]}"#).unwrap_err();
        assert_eq!(
            (error.field(), error.kind()),
            ("list[1].holes", ErrorKind::InvalidField)
        );
        let error = read::<Outer>(r#"{"list":[{"holes":4,"hoels":5}]}"#).unwrap_err();
        assert_eq!(error.kind(), ErrorKind::UnknownField);
        assert!(error.to_string().contains("hoels"));
        for bad in ["", "{", r#"{"list":[]} x"#, "[", "nul"] {
            assert_eq!(
                read::<Outer>(bad).unwrap_err().kind(),
                ErrorKind::MalformedJson,
                "{bad}"
            );
        }
        let deep = "[".repeat(100_000);
        assert_eq!(
            read::<Vec<serde_json::Value>>(&deep).unwrap_err().kind(),
            ErrorKind::MalformedJson
        );
    }
}
