//! A table of comma-separated text: its columns and lines.
//!
//! The text is taken apart by the `csv` crate. It mends silently what is no CSV: a
//! quotation mark that is never closed swallows the lines after it, and letters
//! after a closing mark join the field. Readings would vanish or change their
//! figures unseen, so [`check_marks`] refuses both by line.

use csv::{ReaderBuilder, StringRecord};

use crate::error::{AtField, Error, ErrorKind, Result, quoted};
use crate::length::Length;

/// Longest text that is read, in bytes.
const LONGEST_TEXT: usize = 500_000_000;

/// A unit of length in a column's name.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum LengthUnit {
    Millimetre,
    Inch,
}

impl LengthUnit {
    const fn suffix(self) -> &'static str {
        match self {
            Self::Millimetre => "mm",
            Self::Inch => "in",
        }
    }
}

/// A column: where it stands and what it is called.
pub(super) struct Column {
    index: usize,
    pub(super) name: String,
}

pub(super) struct Row {
    line: usize,
    fields: Vec<String>,
}

pub(super) struct Table {
    headers: Vec<String>,
    pub(super) rows: Vec<Row>,
}

impl Table {
    pub(super) fn read(text: &str, known: &[&str]) -> Result<Self> {
        if text.len() > LONGEST_TEXT {
            return Err(Error::out_of_range(
                format!("a text of {} bytes", text.len()),
                format!("at most {LONGEST_TEXT} bytes"),
            ));
        }
        // A byte order mark is what some spreadsheets put in front.
        let text = text.strip_prefix('\u{feff}').unwrap_or(text);
        let mut reader = ReaderBuilder::new()
            .has_headers(false)
            .flexible(true)
            .from_reader(text.as_bytes());
        let mut headers: Option<Vec<String>> = None;
        let mut rows = Vec::new();
        let mut record = StringRecord::new();
        let mut start = 0;
        let mut line = 1;
        while reader.read_record(&mut record).map_err(Error::internal)? {
            let end = usize::try_from(reader.position().byte()).map_err(Error::internal)?;
            let written = text.get(start..end).unwrap_or_default();
            // The reader passes empty lines over without a word.
            let raw = written.trim_start_matches(['\r', '\n']);
            line += count_lines(&written[..written.len() - raw.len()]);
            let here = format!("line {line}");
            let lines_on = count_lines(raw);
            start = end;
            if !raw.trim().is_empty() {
                check_marks(raw.trim_end_matches(['\r', '\n']), &record).at(&here)?;
                let fields: Vec<String> = record.iter().map(plain).collect();
                match &headers {
                    None => headers = Some(check_headers(fields, known, line)?),
                    Some(names) if names.len() == fields.len() => rows.push(Row { line, fields }),
                    Some(names) => {
                        return Err(Error::new(
                            ErrorKind::Inconsistent,
                            format!(
                                "{} fields where the first line names {}; \
                                 decimals are written with a point",
                                fields.len(),
                                names.len()
                            ),
                        )
                        .at(here));
                    }
                }
            }
            line += lines_on;
        }
        let headers = headers.unwrap_or_default();
        if rows.is_empty() {
            return Err(Error::new(
                ErrorKind::EmptyList,
                format!(
                    "there is no line of readings; the first line names the columns, out of: {}",
                    known.join(", ")
                ),
            ));
        }
        Ok(Self { headers, rows })
    }

    pub(super) fn has(&self, name: &str) -> bool {
        self.headers.iter().any(|header| header == name)
    }

    pub(super) fn has_any(&self, stem: &str) -> bool {
        self.has(&format!("{stem}_mm")) || self.has(&format!("{stem}_in"))
    }

    pub(super) fn column(&self, name: &str) -> Result<Column> {
        self.headers
            .iter()
            .position(|header| header == name)
            .map(|index| Column {
                index,
                name: name.to_owned(),
            })
            .ok_or_else(|| {
                Error::new(
                    ErrorKind::InvalidField,
                    format!(
                        "column {name} is missing; the columns are: {}",
                        self.headers.join(", ")
                    ),
                )
                .at("line 1")
            })
    }

    pub(super) fn in_unit(&self, stem: &str, unit: LengthUnit) -> Result<Column> {
        self.column(&format!("{stem}_{}", unit.suffix()))
    }

    /// The one unit in which all of these columns are given.
    pub(super) fn one_unit(&self, stems: &[&str]) -> Result<LengthUnit> {
        let used = |unit: LengthUnit| {
            stems
                .iter()
                .any(|stem| self.has(&format!("{stem}_{}", unit.suffix())))
        };
        match (used(LengthUnit::Millimetre), used(LengthUnit::Inch)) {
            (true, true) => Err(Error::new(
                ErrorKind::Inconsistent,
                format!(
                    "columns of {} in both mm and in; accepted: one unit for all of them",
                    stems.join(" and ")
                ),
            )
            .at("line 1")),
            (false, true) => Ok(LengthUnit::Inch),
            // Without either the missing column is named in millimetres.
            (_, false) => Ok(LengthUnit::Millimetre),
        }
    }

    pub(super) fn no_place_twice(&self, place: &Column) -> Result<()> {
        let mut seen: Vec<(usize, usize)> = self
            .rows
            .iter()
            .map(|row| Ok((row.whole(place)?, row.line)))
            .collect::<Result<_>>()?;
        seen.sort_unstable();
        for pair in seen.windows(2) {
            if pair[0].0 == pair[1].0 {
                return Err(Error::new(
                    ErrorKind::Duplicate,
                    format!(
                        "place {} is listed twice, in lines {} and {}",
                        pair[0].0, pair[0].1, pair[1].1
                    ),
                )
                .at(format!("line {}, column {}", pair[1].1, place.name)));
            }
        }
        Ok(())
    }
}

fn count_lines(text: &str) -> usize {
    text.bytes().filter(|byte| *byte == b'\n').count()
}

/// Refuses a line that the fields read from it, written out again, do not make:
/// a quotation mark that was not closed, or letters after the closing one.
fn check_marks(raw: &str, record: &StringRecord) -> Result<()> {
    if !raw.contains('"') {
        return Ok(());
    }
    let mut rest = raw;
    for field in record {
        let marked = format!("\"{}\"", field.replace('"', "\"\""));
        let written = if rest.starts_with('"') {
            marked.as_str()
        } else {
            field
        };
        let after = rest.strip_prefix(written).filter(|after| {
            !written.contains('\n') && (after.is_empty() || after.starts_with(','))
        });
        let Some(after) = after else {
            return Err(Error::new(
                ErrorKind::InvalidField,
                format!(
                    "the field {} is not closed by a quotation mark before the next comma",
                    quoted(rest)
                ),
            ));
        };
        rest = after.strip_prefix(',').unwrap_or(after);
    }
    Ok(())
}

/// A field without the spaces about it; marks behind a space, which the reader
/// takes for letters, are taken off as others are.
fn plain(field: &str) -> String {
    let field = field.trim();
    match field.strip_prefix('"').and_then(|it| it.strip_suffix('"')) {
        Some(inside) => inside.trim().replace("\"\"", "\""),
        None => field.to_owned(),
    }
}

fn check_headers(names: Vec<String>, known: &[&str], line: usize) -> Result<Vec<String>> {
    for (index, name) in names.iter().enumerate() {
        if !known.contains(&name.as_str()) {
            let hint = if name.contains(';') {
                "; fields are separated by commas, not semicolons"
            } else {
                ""
            };
            return Err(Error::new(
                ErrorKind::UnknownField,
                format!(
                    "{} is no known column{hint}; accepted: {}",
                    quoted(name),
                    known.join(", ")
                ),
            )
            .at(format!("line {line}, column {}", index + 1)));
        }
        if names[..index].contains(name) {
            return Err(Error::new(
                ErrorKind::Duplicate,
                format!("column {name} is named twice"),
            )
            .at(format!("line {line}, column {}", index + 1)));
        }
    }
    Ok(names)
}

impl Row {
    pub(super) fn text(&self, column: &Column) -> &str {
        self.fields.get(column.index).map_or("", String::as_str)
    }

    pub(super) fn path(&self, column: &Column) -> String {
        format!("line {}, column {}", self.line, column.name)
    }

    pub(super) fn number(&self, column: &Column) -> Result<f64> {
        let text = self.text(column);
        let value: f64 = text.parse().map_err(|_| {
            Error::new(
                ErrorKind::InvalidField,
                format!(
                    "{} is no number; write for example 50.0125, with a point and no unit",
                    quoted(text)
                ),
            )
            .at(self.path(column))
        })?;
        if value.is_finite() {
            Ok(value)
        } else {
            Err(Error::new(
                ErrorKind::NotFinite,
                format!(
                    "{} is not finite; leave a missing reading's line out",
                    quoted(text)
                ),
            )
            .at(self.path(column)))
        }
    }

    pub(super) fn whole(&self, column: &Column) -> Result<usize> {
        let text = self.text(column);
        text.parse().map_err(|_| {
            Error::new(
                ErrorKind::InvalidField,
                format!("{} is no whole number from 0", quoted(text)),
            )
            .at(self.path(column))
        })
    }

    pub(super) fn below(&self, column: &Column, limit: usize) -> Result<usize> {
        let value = self.whole(column)?;
        if value < limit {
            Ok(value)
        } else {
            Err(Error::out_of_range(value, format!("0 to {}", limit - 1)).at(self.path(column)))
        }
    }

    pub(super) fn length(&self, column: &Column, unit: LengthUnit) -> Result<Length> {
        let value = self.number(column)?;
        match unit {
            LengthUnit::Millimetre => Length::from_mm(value),
            LengthUnit::Inch => Length::from_inches(value),
        }
        .at(self.path(column))
    }
}
