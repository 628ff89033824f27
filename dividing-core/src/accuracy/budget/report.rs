//! A budget as text and as HTML.

use crate::html::escaped;
use std::fmt::Write as _;

use super::Budget;

/// A number to so many significant digits, plain where that is short.
fn significant(value: f64, digits: i32) -> String {
    if value == 0.0 {
        return "0".into();
    }
    #[allow(clippy::cast_possible_truncation, reason = "a decimal exponent")]
    let exponent = value.abs().log10().floor() as i32;
    if (-5..7).contains(&exponent) {
        let decimals = usize::try_from(digits - 1 - exponent).unwrap_or_default();
        format!("{value:.decimals$}")
    } else {
        let decimals = usize::try_from(digits - 1).unwrap_or_default();
        format!("{value:.decimals$e}")
    }
}

fn degrees(value: Option<f64>) -> String {
    value.map_or_else(|| "∞".into(), |value| significant(value, 3))
}

fn percent(share: f64) -> String {
    format!("{:.1} %", share * 100.0)
}

const HEADINGS: [&str; 6] = [
    "input",
    "standard uncertainty",
    "degrees of freedom",
    "sensitivity",
    "contribution",
    "share of variance",
];

impl Budget {
    fn rows(&self) -> Vec<[String; 6]> {
        let with_unit = |value: String, unit: &str| {
            if unit.is_empty() {
                value
            } else {
                format!("{value} {unit}")
            }
        };
        let mut rows: Vec<[String; 6]> = self
            .lines
            .iter()
            .map(|line| {
                [
                    line.name.clone(),
                    with_unit(significant(line.standard_uncertainty, 4), &line.unit),
                    degrees(line.degrees_of_freedom),
                    significant(line.sensitivity, 5),
                    with_unit(significant(line.contribution, 4), &self.unit),
                    percent(line.share),
                ]
            })
            .collect();
        if self.second_order_share != 0.0 {
            rows.push([
                "second-order terms".into(),
                String::new(),
                String::new(),
                String::new(),
                with_unit(significant(self.second_order_uncertainty, 4), &self.unit),
                percent(self.second_order_share),
            ]);
        }
        rows
    }

    fn results(&self) -> Vec<(&'static str, String)> {
        let in_unit = |value: f64| {
            format!("{} {}", significant(value, 4), self.unit)
                .trim_end()
                .to_owned()
        };
        let mut results = vec![
            (
                "estimate",
                format!("{} {}", self.estimate, self.unit)
                    .trim_end()
                    .to_owned(),
            ),
            (
                "combined standard uncertainty",
                in_unit(self.combined_standard_uncertainty),
            ),
            (
                "effective degrees of freedom",
                degrees(self.effective_degrees_of_freedom),
            ),
        ];
        if let Some(probability) = self.coverage_probability {
            results.push(("coverage probability", percent(probability)));
        }
        results.push(("coverage factor", significant(self.coverage_factor, 4)));
        results.push(("expanded uncertainty", in_unit(self.expanded_uncertainty)));
        results
    }

    /// The budget as a table in plain text.
    #[must_use]
    pub fn to_text(&self) -> String {
        let rows = self.rows();
        let mut widths = HEADINGS.map(|heading| heading.chars().count());
        for row in &rows {
            for (width, cell) in widths.iter_mut().zip(row) {
                *width = (*width).max(cell.chars().count());
            }
        }
        let mut text = format!("Uncertainty budget: {}\n\n", self.quantity);
        let mut put = |cells: &[String; 6]| {
            let mut line = String::new();
            for (index, (cell, width)) in cells.iter().zip(widths).enumerate() {
                if index == 0 {
                    let _ = write!(line, "{cell:<width$}");
                } else {
                    let _ = write!(line, "  {cell:>width$}");
                }
            }
            text.push_str(line.trim_end());
            text.push('\n');
        };
        put(&HEADINGS.map(String::from));
        put(&widths.map(|width| "-".repeat(width)));
        for row in &rows {
            put(row);
        }
        text.push('\n');
        for (name, value) in self.results() {
            let _ = writeln!(text, "{name}: {value}");
        }
        text
    }

    /// The budget as an HTML table, without style or script; every text in it
    /// is escaped.
    #[must_use]
    pub fn to_html(&self) -> String {
        let mut html = format!(
            "<table class=\"uncertainty-budget\">\n<caption>Uncertainty budget: {}</caption>\n<thead><tr>",
            escaped(&self.quantity)
        );
        for heading in HEADINGS {
            let _ = write!(html, "<th scope=\"col\">{heading}</th>");
        }
        html.push_str("</tr></thead>\n<tbody>\n");
        for row in self.rows() {
            html.push_str("<tr>");
            for (index, cell) in row.iter().enumerate() {
                let cell = escaped(cell);
                let _ = if index == 0 {
                    write!(html, "<th scope=\"row\">{cell}</th>")
                } else {
                    write!(html, "<td>{cell}</td>")
                };
            }
            html.push_str("</tr>\n");
        }
        html.push_str("</tbody>\n<tfoot>\n");
        for (name, value) in self.results() {
            let _ = writeln!(
                html,
                "<tr><th scope=\"row\" colspan=\"5\">{name}</th><td>{}</td></tr>",
                escaped(&value)
            );
        }
        html.push_str("</tfoot>\n</table>\n");
        html
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_keep_their_significant_digits() {
        assert_eq!(significant(31.66, 4), "31.66");
        assert_eq!(significant(-0.001_234_56, 4), "-0.001235");
        assert_eq!(significant(1.5e-9, 3), "1.50e-9");
        assert_eq!(significant(206_264.806, 5), "206265");
        assert_eq!(significant(0.0, 4), "0");
    }
}
