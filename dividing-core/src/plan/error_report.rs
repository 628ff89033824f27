//! Where the error of a plan comes from and what it would bear, as data, text and
//! HTML: the sheet for whoever answers for the accuracy.

use std::fmt::Write as _;

use serde::Serialize;

use super::sheet::SheetTable;
use super::{Plan, words};
use crate::accuracy::{
    Allowance, Budget, Coverage, Criterion, ErrorModel, InputUnit, PlanTradeOff, TradeOff,
};
use crate::document;
use crate::error::{Error, Result};
use crate::html::escaped;
use crate::job::SheetUnits;

/// Seconds of arc in a radian.
const ARCSEC_PER_RAD: f64 = 180.0 * 3600.0 / std::f64::consts::PI;

/// The budget of a plan's worst feature and the table of trade-offs.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ErrorReport {
    /// The piece of equipment.
    pub equipment: String,
    /// The worst feature, counted from 0.
    pub feature: usize,
    /// Its uncertainty budget, in seconds of arc.
    pub budget: Budget,
    /// What the plan would bear, one thing changed at a time; none where the job
    /// gives no tolerance.
    pub trade_offs: Option<PlanTradeOff>,
    /// What the figures leave out.
    pub unknown: Vec<String>,
}

impl ErrorReport {
    pub(super) fn new(
        model: &ErrorModel,
        plan: &Plan,
        criterion: Criterion,
        coverage: Coverage,
    ) -> Result<Self> {
        let worst = plan.error.features.iter().enumerate();
        let worst = worst.reduce(|most, it| {
            if it.1.worst_rad > most.1.worst_rad {
                it
            } else {
                most
            }
        });
        let (feature, _) = worst.ok_or_else(|| Error::internal("a plan without features"))?;
        let limits = model.limits();
        let limited = [
            limits.deviation_rad,
            limits.single_pitch_rad,
            limits.cumulative_pitch_rad,
        ];
        Ok(Self {
            equipment: plan.equipment.clone(),
            feature,
            budget: model.budget(feature, coverage)?,
            trade_offs: if limited.iter().any(Option::is_some) {
                Some(model.trade_offs(criterion)?)
            } else {
                None
            },
            unknown: model.unknown().to_vec(),
        })
    }

    /// The report as plain text in lines ending with a newline.
    #[must_use]
    pub fn to_text(&self) -> String {
        let mut out = self.budget.to_text();
        if let Some(table) = &self.trade_offs {
            let _ = writeln!(out, "\nWhat the plan would bear: {}", summary(table));
            for row in rows(table, &plain) {
                let [name, now, may] = row;
                let _ = writeln!(out, "  {name}: now {now}, {may}");
            }
        }
        for unknown in &self.unknown {
            let _ = writeln!(out, "left out: {unknown}");
        }
        out
    }

    /// The report as a fragment of HTML, every text escaped.
    #[must_use]
    pub fn to_html(&self) -> String {
        let mut out = self.budget.to_html();
        if let Some(table) = &self.trade_offs {
            let _ = write!(
                out,
                "<table class=\"trade-offs\">\n<caption>What the plan would bear: {}</caption>\n\
                 <thead><tr><th scope=\"col\">one thing changed</th><th scope=\"col\">now</th>\
                 <th scope=\"col\">may be</th></tr></thead>\n<tbody>\n",
                escaped(&summary(table))
            );
            for row in rows(table, &plain) {
                let [name, now, may] = row.map(|it| escaped(&it).to_string());
                let _ = writeln!(
                    out,
                    "<tr><th scope=\"row\">{name}</th><td>{now}</td><td>{may}</td></tr>"
                );
            }
            out.push_str("</tbody>\n</table>\n");
        }
        if !self.unknown.is_empty() {
            let unknown = self.unknown.join("; ");
            let _ = writeln!(out, "<p>Left out: {}</p>", escaped(&unknown));
        }
        out
    }

    /// The report as JSON text.
    ///
    /// # Errors
    /// None on reports made by this library; the result is one so that a defect
    /// shows as an error.
    pub fn to_json(&self) -> Result<String> {
        document::write(self)
    }
}

fn summary(table: &PlanTradeOff) -> String {
    let what = match table.pitch_from {
        None => format!("feature {}", table.feature + 1),
        Some(from) => format!("pitch from feature {} to {}", from + 1, table.feature + 1),
    };
    format!(
        "{what} is off by {:.2} arcsec, the limit is {:.2} arcsec",
        table.present_rad * ARCSEC_PER_RAD,
        table.limit_rad * ARCSEC_PER_RAD
    )
}

/// The table for a sheet, in its units.
pub(super) fn sheet_table(table: &PlanTradeOff, units: SheetUnits) -> SheetTable {
    let write = |value: f64, unit: InputUnit| match unit {
        InputUnit::Millimetre => words::small_length_mm(value, units),
        InputUnit::Radian => words::small_angle(value, units),
    };
    let rows = rows(table, &write).into_iter().map(Vec::from);
    SheetTable {
        head: [
            "diameters of positions and clearances, else ±",
            "now",
            "may be",
        ]
        .map(Into::into)
        .to_vec(),
        rows: rows.collect(),
    }
}

/// Millimetres and seconds of arc.
fn plain(value: f64, unit: InputUnit) -> String {
    match unit {
        // Radii and baselines need no tenth of a micrometre, tolerances do.
        InputUnit::Millimetre if value >= 10.0 => format!("{value:.3} mm"),
        InputUnit::Millimetre => format!("{value:.4} mm"),
        InputUnit::Radian => format!("{:.2} arcsec", value * ARCSEC_PER_RAD),
    }
}

/// Name, present value and allowance of every line.
fn rows(table: &PlanTradeOff, write: &dyn Fn(f64, InputUnit) -> String) -> Vec<[String; 3]> {
    let lines = table.inputs.iter();
    let mut rows: Vec<[String; 3]> = lines.map(|line| row(line, write)).collect();
    let lever = |value_mm| write(value_mm, InputUnit::Millimetre);
    if let Some(now) = table.present_lever_mm {
        rows.push([
            "pitch radius or baseline".into(),
            lever(now),
            match table.least_lever_mm {
                Some(least) => format!("at least {}", lever(least)),
                None => "no length is enough".into(),
            },
        ]);
    }
    rows
}

fn row(line: &TradeOff, write: &dyn Fn(f64, InputUnit) -> String) -> [String; 3] {
    let value = |it: f64| write(it, line.unit);
    [
        line.name.clone(),
        value(line.present),
        match line.allowance {
            Allowance::UpTo(most) => format!("up to {}", value(most)),
            Allowance::Unlimited => "as large as it likes".into(),
            Allowance::Never => "not even zero is enough".into(),
        },
    ]
}
