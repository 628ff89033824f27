//! What notebooks show: fragments of HTML without script, with nothing from
//! outside, in the colours of the page.

use dividing_core::Plans;
use dividing_core::accuracy::VerdictKind;
use pyo3::prelude::*;

const CELL: &str = "text-align:left;padding:0 1em 0 0";

/// A sheet with the picture of its plan. The picture is an image of its own,
/// so that its style cannot reach the page.
pub(crate) fn plan_page(py: Python<'_>, sheet: &str, svg: &str) -> PyResult<String> {
    let encoded: String = py
        .import("base64")?
        .call_method1("b64encode", (svg.as_bytes(),))?
        .call_method1("decode", ("ascii",))?
        .extract()?;
    Ok(format!(
        "<div style=\"max-width:76em\">\n\
         <img alt=\"picture of the set-up\" \
         style=\"float:right;width:26em;max-width:42%;height:auto;margin:0 0 1em 1.5em\" \
         src=\"data:image/svg+xml;base64,{encoded}\">\n{sheet}</div>\n"
    ))
}

/// A table of plans, the best first.
pub(crate) fn plans_table(plans: &Plans) -> String {
    let mut out = format!(
        "<div style=\"font-family:sans-serif\">\n<h4>Plans: {}</h4>\n\
         <table style=\"border-collapse:collapse\">\n<tr>",
        escape(plans.job().name())
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
            escape(&plan.equipment),
            escape(&plan.method),
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

/// A text with the characters that mean something in HTML made harmless.
fn escape(text: &str) -> String {
    text.replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('>', "&gt;")
        .replace('"', "&quot;")
        .replace('\'', "&#39;")
}
