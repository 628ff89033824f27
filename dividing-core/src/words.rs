//! Numbers with their nouns.

use std::fmt::Display;

/// A count with its noun, in the plural where it must be: `1 hole`, `2 holes`.
pub(crate) fn count(number: impl Display, noun: &str) -> String {
    let number = number.to_string();
    let noun = if number == "1" {
        noun.to_owned()
    } else {
        plural(noun)
    };
    format!("{number} {noun}")
}

/// The plural of an English noun of the trade.
fn plural(noun: &str) -> String {
    if let Some(stem) = noun.strip_suffix("tooth") {
        format!("{stem}teeth")
    } else if noun.ends_with('s') || noun.ends_with("ch") || noun.ends_with('x') {
        format!("{noun}es")
    } else {
        format!("{noun}s")
    }
}
