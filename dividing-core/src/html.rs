//! Text made safe for HTML.

/// A text with the characters that mean something in HTML made harmless.
#[must_use]
pub fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for character in text.chars() {
        match character {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            other => out.push(other),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn texts_are_escaped() {
        assert_eq!(
            escaped("<b>\"5' & up\"</b>"),
            "&lt;b&gt;&quot;5&#39; &amp; up&quot;&lt;/b&gt;"
        );
    }
}
