//! A sheet as a fragment of HTML: no script, nothing from outside, readable on
//! a light or a dark ground and in print.

use super::sheet::{Sheet, SheetTable};
use super::text::{CORRECTIONS, TRADE_OFFS};
use crate::html::escaped;

impl Sheet {
    /// The sheet as an HTML fragment, every text escaped.
    #[must_use]
    pub fn to_html(&self) -> String {
        let mut out = String::from(
            "<div style=\"font-family:sans-serif;max-width:60em;line-height:1.35\">\n",
        );
        out.push_str(&format!(
            "<h3>Set-up sheet: {}</h3>\n",
            escaped(&self.title)
        ));
        out.push_str("<table style=\"border-collapse:collapse\">\n");
        for fact in &self.facts {
            out.push_str(&format!(
                "<tr><th style=\"text-align:left;vertical-align:top;padding:0 1em 0 0\">{}</th><td style=\"text-align:left;vertical-align:top;padding:0\">{}</td></tr>\n",
                escaped(&fact.label),
                escaped(&fact.value)
            ));
        }
        out.push_str("</table>\n");
        list(&mut out, "Take note", "ul", &self.findings);
        list(&mut out, "Before the first cut", "ol", &self.before);
        table(&mut out, "Settings", &self.settings);
        if let Some(places) = &self.places {
            table(&mut out, "Places from the centre, to check by", places);
        }
        if let Some(corrections) = &self.corrections {
            table(&mut out, CORRECTIONS, corrections);
        }
        list(&mut out, "Checks", "ul", &self.checks);
        let sources: Vec<String> = self
            .error_sources
            .iter()
            .map(|it| format!("{}: {}", it.label, it.value))
            .collect();
        list(
            &mut out,
            "Where the error comes from, largest first",
            "ul",
            &sources,
        );
        if let Some(trade_offs) = &self.trade_offs {
            table(&mut out, TRADE_OFFS, trade_offs);
        }
        list(
            &mut out,
            "Other ways with the same equipment",
            "ul",
            &self.alternatives,
        );
        list(&mut out, "Cautions", "ul", &self.cautions);
        out.push_str("</div>\n");
        out
    }
}

fn table(out: &mut String, title: &str, table: &SheetTable) {
    out.push_str(&format!(
        "<h4>{}</h4>\n<table style=\"border-collapse:collapse\">\n<tr>",
        escaped(title)
    ));
    for cell in &table.head {
        out.push_str(&format!(
            "<th style=\"text-align:left;padding:0 1em 0 0;border-bottom:1px solid\">{}</th>",
            escaped(cell)
        ));
    }
    out.push_str("</tr>\n");
    for row in &table.rows {
        out.push_str("<tr>");
        for cell in row {
            out.push_str(&format!(
                "<td style=\"text-align:left;padding:0 1em 0 0\">{}</td>",
                escaped(cell)
            ));
        }
        out.push_str("</tr>\n");
    }
    out.push_str("</table>\n");
}

fn list(out: &mut String, title: &str, tag: &str, lines: &[String]) {
    if lines.is_empty() {
        return;
    }
    out.push_str(&format!("<h4>{}</h4>\n<{tag}>\n", escaped(title)));
    for line in lines {
        out.push_str(&format!("<li>{}</li>\n", escaped(line)));
    }
    out.push_str(&format!("</{tag}>\n"));
}
