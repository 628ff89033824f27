//! A sheet as plain text for the bench.

use super::sheet::{Sheet, SheetTable};

/// Width of a sheet, in characters.
const WIDTH: usize = 78;

/// Heading of the table of corrections.
pub(super) const CORRECTIONS: &str = "Corrections of the readings, from the measured table";

/// Heading of the table of trade-offs.
pub(super) const TRADE_OFFS: &str = "What the plan would bear, one thing changed at a time";

/// Width of the labels of facts.
const LABEL: usize = 12;

impl Sheet {
    /// The sheet as plain text, at most 78 characters wide except where a table
    /// of settings needs more, in lines ending with a newline.
    #[must_use]
    pub fn to_text(&self) -> String {
        let mut out = String::new();
        let rule = "=".repeat(WIDTH);
        out.push_str(&format!("{rule}\nSET-UP SHEET  {}\n{rule}\n", self.title));
        for fact in &self.facts {
            labelled(&mut out, &fact.label, &fact.value);
        }
        bullets(&mut out, "Take note", "! ", &self.findings);
        numbered(&mut out, "Before the first cut", &self.before);
        heading(&mut out, "Settings");
        table(&mut out, &self.settings);
        if let Some(places) = &self.places {
            heading(&mut out, "Places from the centre, to check by");
            table(&mut out, places);
        }
        if let Some(corrections) = &self.corrections {
            heading(&mut out, CORRECTIONS);
            table(&mut out, corrections);
        }
        bullets(&mut out, "Checks", "- ", &self.checks);
        if !self.error_sources.is_empty() {
            heading(&mut out, "Where the error comes from (largest first)");
            for source in &self.error_sources {
                let dots = WIDTH
                    .saturating_sub(6 + width(&source.label) + width(&source.value))
                    .max(2);
                out.push_str(&format!(
                    "  {} {} {}\n",
                    source.label,
                    ".".repeat(dots),
                    source.value
                ));
            }
        }
        if let Some(trade_offs) = &self.trade_offs {
            heading(&mut out, TRADE_OFFS);
            table(&mut out, trade_offs);
        }
        bullets(
            &mut out,
            "Other ways with the same equipment",
            "- ",
            &self.alternatives,
        );
        bullets(&mut out, "Cautions", "- ", &self.cautions);
        out
    }
}

fn width(text: &str) -> usize {
    text.chars().count()
}

fn heading(out: &mut String, title: &str) {
    out.push_str(&format!(
        "\n{}\n{}\n",
        title.to_uppercase(),
        "-".repeat(width(title))
    ));
}

fn labelled(out: &mut String, label: &str, value: &str) {
    let pad = " ".repeat(LABEL.saturating_sub(width(label)));
    wrapped(out, &format!("{label}{pad}  "), value);
}

fn bullets(out: &mut String, title: &str, mark: &str, lines: &[String]) {
    if lines.is_empty() {
        return;
    }
    heading(out, title);
    for line in lines {
        wrapped(out, &format!("  {mark}"), line);
    }
}

fn numbered(out: &mut String, title: &str, lines: &[String]) {
    if lines.is_empty() {
        return;
    }
    heading(out, title);
    for (index, line) in lines.iter().enumerate() {
        wrapped(out, &format!(" {:>2}. ", index + 1), line);
    }
}

/// Writes a text after a lead, wrapped at words, further lines indented.
fn wrapped(out: &mut String, lead: &str, text: &str) {
    let indent = width(lead);
    out.push_str(lead);
    let mut column = indent;
    for (index, word) in text.split_whitespace().enumerate() {
        if index > 0 && column + 1 + width(word) > WIDTH {
            out.push('\n');
            out.push_str(&" ".repeat(indent));
            column = indent;
        } else if index > 0 {
            out.push(' ');
            column += 1;
        }
        out.push_str(word);
        column += width(word);
    }
    out.push('\n');
}

/// Whether a cell is a number with or without its unit; numbers stand to the
/// right, words to the left.
fn is_number(cell: &str) -> bool {
    let end = cell.trim_end_matches([' ', 'm', 'i', 'n', '°', '"', '\'']);
    cell.starts_with(|c: char| c.is_ascii_digit() || "+-".contains(c))
        && end
            .chars()
            .all(|c| c.is_ascii_digit() || "+-.°'\"".contains(c))
}

fn table(out: &mut String, table: &SheetTable) {
    let columns = table.head.len();
    let mut widths: Vec<usize> = table.head.iter().map(|cell| width(cell)).collect();
    for row in &table.rows {
        for (column, cell) in row.iter().enumerate().take(columns) {
            widths[column] = widths[column].max(width(cell));
        }
    }
    let mut line = |cells: &[String]| {
        let mut text = String::new();
        for (column, cell) in cells.iter().enumerate().take(columns) {
            let pad = " ".repeat(widths[column].saturating_sub(width(cell)));
            let is_number = is_number(cell);
            text.push_str("  ");
            text.push_str(&if is_number {
                pad + cell
            } else {
                cell.clone() + &pad
            });
        }
        out.push_str(text.trim_end());
        out.push('\n');
    };
    line(&table.head);
    for row in &table.rows {
        line(row);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn long_lines_wrap_at_words() {
        let mut out = String::new();
        wrapped(&mut out, "  - ", &"turn on ".repeat(40));
        assert!(out.lines().all(|line| width(line) <= WIDTH));
        assert!(
            out.lines()
                .skip(1)
                .all(|line| line.starts_with("    turn") || line.starts_with("    on"))
        );
    }
}
