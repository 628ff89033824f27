//! What notebooks show: fragments of HTML without script, with nothing from
//! outside, in the colours of the page.

use dividing_core::Plans;
use dividing_core::accuracy::VerdictKind;
use dividing_core::html::escaped;
use pyo3::prelude::*;

const CELL: &str = "text-align:left;padding:0 1em 0 0";

/// A sheet with the picture of its plan. The picture is an image of its own,
/// so that its style cannot reach the page.
pub(crate) fn plan_page(py: Python<'_>, sheet: &str, svg: &str) -> PyResult<String> {
    let picture = picture(py, svg, "picture of the set-up")?;
    Ok(format!(
        "<div style=\"max-width:76em\">\n{picture}{sheet}</div>\n"
    ))
}

/// A table of plans, the best first.
pub(crate) fn plans_table(plans: &Plans) -> String {
    let mut out = format!(
        "<div style=\"font-family:sans-serif\">\n<h4>Plans: {}</h4>\n\
         <table style=\"border-collapse:collapse\">\n<tr>",
        escaped(plans.job().name())
    );
    for head in [
        "",
        "Equipment",
        "Method",
        "Exact",
        "Verdict",
        "Worst case",
        "Margin",
    ] {
        out.push_str(&format!(
            "<th style=\"{CELL};border-bottom:1px solid\">{head}</th>"
        ));
    }
    out.push_str("</tr>\n");
    for (index, plan) in plans.plans().iter().enumerate() {
        let exact = if plan.exact {
            "yes".into()
        } else {
            format!("off by {:.4}°", plan.largest_residual.to_degrees_f64())
        };
        let verdict = match plan.verdict.kind {
            VerdictKind::Pass => "pass",
            VerdictKind::NoTolerance => "no tolerance",
            VerdictKind::NotProven => "not proven",
            VerdictKind::Fail => "fail",
        };
        let known = if plan.error.unknown.is_empty() {
            ""
        } else {
            " or more"
        };
        let worst = format!("{:.4}°{known}", plan.error.worst_rad.to_degrees());
        let margin = plan
            .verdict
            .margin_rad
            .map_or_else(String::new, |it| format!("{:+.4}°", it.to_degrees()));
        out.push_str("<tr>");
        for cell in [
            index.to_string(),
            escaped(&plan.equipment),
            escaped(&plan.method),
            exact,
            verdict.into(),
            worst,
            margin,
        ] {
            out.push_str(&format!("<td style=\"{CELL}\">{cell}</td>"));
        }
        out.push_str("</tr>\n");
    }
    out.push_str("</table>\n</div>\n");
    out
}

/// A picture beside a text, as an image of its own.
pub(crate) fn picture(py: Python<'_>, svg: &str, what: &str) -> PyResult<String> {
    let encoded: String = py
        .import("base64")?
        .call_method1("b64encode", (svg.as_bytes(),))?
        .call_method1("decode", ("ascii",))?
        .extract()?;
    Ok(format!(
        "<img alt=\"{what}\" \
         style=\"float:right;width:26em;max-width:42%;height:auto;margin:0 0 1em 1.5em\" \
         src=\"data:image/svg+xml;base64,{encoded}\">\n"
    ))
}

/// A title, facts and a table. Every text is escaped; the colours and the
/// line under the headings are the page's own, so that it reads on light and
/// dark ground and on paper.
pub(crate) fn table(
    title: &str,
    facts: &[(String, String)],
    head: &[String],
    rows: &[Vec<String>],
) -> String {
    let mut out = format!(
        "<div style=\"font-family:sans-serif\">\n<h4>{}</h4>\n",
        escaped(title)
    );
    if !facts.is_empty() {
        out.push_str("<table style=\"border-collapse:collapse\">\n");
        for (label, value) in facts {
            out.push_str(&format!(
                "<tr><th style=\"{CELL}\">{}</th><td style=\"{CELL}\">{}</td></tr>\n",
                escaped(label),
                escaped(value)
            ));
        }
        out.push_str("</table>\n");
    }
    if !head.is_empty() {
        out.push_str("<table style=\"border-collapse:collapse\">\n<thead><tr>");
        for cell in head {
            out.push_str(&format!(
                "<th style=\"{CELL};border-bottom:1px solid currentColor\">{}</th>",
                escaped(cell)
            ));
        }
        out.push_str("</tr></thead>\n<tbody>\n");
        for row in rows {
            out.push_str("<tr>");
            for cell in row {
                out.push_str(&format!("<td style=\"{CELL}\">{}</td>", escaped(cell)));
            }
            out.push_str("</tr>\n");
        }
        out.push_str("</tbody></table>\n");
    }
    out.push_str("</div>\n");
    out
}
