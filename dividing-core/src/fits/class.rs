//! Tolerance classes such as `H7` and `g6`, and the limits they stand for.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Deserializer, Serialize, Serializer, de};

use super::Limits;
use super::tables::{self, Row, at_step};
use crate::error::{Error, ErrorKind, Result, quoted};
use crate::length::Length;

/// Whether a class belongs to an inner or an outer size.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum SizeKind {
    /// An inner size: a hole; written with capital letters.
    Hole,
    /// An outer size: a pin or shaft; written with small letters.
    Shaft,
}

/// Where a tolerance zone lies against the nominal size.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Deviation {
    /// `D` or `d`.
    D,
    /// `E` or `e`.
    E,
    /// `F` or `f`.
    F,
    /// `G` or `g`.
    G,
    /// `H` or `h`: starts at the nominal size.
    H,
    /// `JS` or `js`: symmetric about the nominal size.
    Js,
    /// `J` or `j`.
    J,
    /// `K` or `k`.
    K,
    /// `M` or `m`.
    M,
    /// `N` or `n`.
    N,
    /// `P` or `p`.
    P,
}

impl Deviation {
    const ALL: [(Self, &'static str, &'static str); 11] = [
        (Self::D, "D", "d"),
        (Self::E, "E", "e"),
        (Self::F, "F", "f"),
        (Self::G, "G", "g"),
        (Self::H, "H", "h"),
        (Self::Js, "JS", "js"),
        (Self::J, "J", "j"),
        (Self::K, "K", "k"),
        (Self::M, "M", "m"),
        (Self::N, "N", "n"),
        (Self::P, "P", "p"),
    ];
}

/// Limits of size against the nominal size, in micrometres.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct LimitDeviations {
    /// Lower limit less nominal size (EI or ei), in micrometres.
    pub lower_um: f64,
    /// Upper limit less nominal size (ES or es), in micrometres.
    pub upper_um: f64,
}

/// A tolerance class of ISO 286-1, IT5 to IT11, deviations D to P.
///
/// ```
/// use dividing_core::Length;
/// use dividing_core::fits::ToleranceClass;
/// let class: ToleranceClass = "g6".parse()?;
/// let deviations = class.limit_deviations(Length::from_mm(6.0)?)?;
/// assert_eq!((deviations.lower_um, deviations.upper_um), (-12.0, -4.0));
/// # Ok::<(), dividing_core::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct ToleranceClass {
    kind: SizeKind,
    deviation: Deviation,
    grade: u8,
}

const ACCEPTED: &str = "D, E, F, G, H, JS, J, K, M, N or P (small letters for a pin or shaft) \
                        with a grade from 5 to 11, as in H7 or g6";

impl ToleranceClass {
    /// A class from its parts.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] for a grade outside 5 to 11, and for J and j
    /// in grades that ISO 286-1 does not give (J6 to J8, j5 to j7).
    pub fn new(kind: SizeKind, deviation: Deviation, grade: u8) -> Result<Self> {
        let class = Self {
            kind,
            deviation,
            grade,
        };
        let grades = match (deviation, kind) {
            (Deviation::J, SizeKind::Hole) => 6..=8,
            (Deviation::J, SizeKind::Shaft) => 5..=7,
            _ => 5..=11,
        };
        if grades.contains(&grade) {
            Ok(class)
        } else {
            Err(Error::out_of_range(
                format!("grade {grade} of {class}"),
                format!(
                    "grades {} to {} of this deviation",
                    grades.start(),
                    grades.end()
                ),
            ))
        }
    }

    /// Whether this is the class of a hole or of a shaft.
    #[must_use]
    pub const fn kind(self) -> SizeKind {
        self.kind
    }

    /// The letter of the class.
    #[must_use]
    pub const fn deviation(self) -> Deviation {
        self.deviation
    }

    /// The number of the class: 7 for IT7.
    #[must_use]
    pub const fn grade(self) -> u8 {
        self.grade
    }

    /// The limits of size against the nominal size (ISO 286-1:2010, Tables 1
    /// to 5). JS and js lie at ± half the standard tolerance, unrounded.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] for a nominal size outside 0 to 500 mm, and
    /// where the standard gives no value: K above IT8 over 3 mm, N above IT8
    /// to 1 mm.
    pub fn limit_deviations(self, nominal: Length) -> Result<LimitDeviations> {
        let step = tables::step_of(nominal.mm())
            .ok_or_else(|| Error::out_of_range(nominal, "a nominal size over 0 to 500 mm"))?;
        let tolerance = self.standard_tolerance(step)?;
        if self.deviation == Deviation::Js {
            let half = f64::from(tolerance) / 2.0;
            return Ok(LimitDeviations {
                lower_um: -half,
                upper_um: half,
            });
        }
        let (lower, upper) = match self.kind {
            SizeKind::Shaft => self.shaft_um(step, tolerance),
            SizeKind::Hole => self.hole_um(nominal, step, tolerance)?,
        };
        Ok(LimitDeviations {
            lower_um: f64::from(lower),
            upper_um: f64::from(upper),
        })
    }

    /// The limits of size on a nominal size.
    ///
    /// # Errors
    /// As [`ToleranceClass::limit_deviations`], and [`ErrorKind::OutOfRange`]
    /// where the lower limit would not be above zero.
    pub fn limits(self, nominal: Length) -> Result<Limits> {
        let deviations = self.limit_deviations(nominal)?;
        Limits::new(
            Length::from_mm(nominal.mm() + deviations.lower_um / 1000.0)?,
            Length::from_mm(nominal.mm() + deviations.upper_um / 1000.0)?,
        )
    }

    fn standard_tolerance(self, step: usize) -> Result<i32> {
        tables::standard_tolerance_um(self.grade, step)
            .ok_or_else(|| Error::internal(format!("no standard tolerance for IT{}", self.grade)))
    }

    /// Distance of the zone from the nominal size, away from it on the side of
    /// clearance for D to H and of interference for K to P.
    fn distance_um(self, step: usize) -> i32 {
        let row: &Row = match self.deviation {
            Deviation::D => &tables::D_UM,
            Deviation::E => &tables::E_UM,
            Deviation::F => &tables::F_UM,
            Deviation::G => &tables::G_UM,
            Deviation::K => &tables::K_UM,
            Deviation::M => &tables::M_UM,
            Deviation::N => &tables::N_UM,
            Deviation::P => &tables::P_UM,
            Deviation::H | Deviation::Js | Deviation::J => return 0,
        };
        at_step(row, step)
    }

    fn shaft_um(self, step: usize, tolerance: i32) -> (i32, i32) {
        let distance = self.distance_um(step);
        match self.deviation {
            Deviation::D | Deviation::E | Deviation::F | Deviation::G | Deviation::H => {
                (-distance - tolerance, -distance)
            }
            Deviation::J | Deviation::Js => {
                let row = if self.grade == 7 {
                    &tables::J7_UM
                } else {
                    &tables::J5_J6_UM
                };
                let lower = at_step(row, step);
                (lower, lower + tolerance)
            }
            // The distance of k holds for IT4 to IT7; other grades start at zero.
            Deviation::K if self.grade > 7 => (0, tolerance),
            Deviation::K | Deviation::M | Deviation::N | Deviation::P => {
                (distance, distance + tolerance)
            }
        }
    }

    fn hole_um(self, nominal: Length, step: usize, tolerance: i32) -> Result<(i32, i32)> {
        let distance = self.distance_um(step);
        let fine = self.grade <= 8;
        let difference = || {
            tables::hole_difference_um(self.grade, step)
                .ok_or_else(|| Error::internal(format!("no difference for IT{}", self.grade)))
        };
        let upper = match self.deviation {
            Deviation::D | Deviation::E | Deviation::F | Deviation::G | Deviation::H => {
                return Ok((distance, distance + tolerance));
            }
            Deviation::J | Deviation::Js => at_step(
                match self.grade {
                    6 => &tables::HOLE_J6_UM,
                    7 => &tables::HOLE_J7_UM,
                    _ => &tables::HOLE_J8_UM,
                },
                step,
            ),
            Deviation::K if fine => -distance + difference()?,
            Deviation::K if step == 0 => 0,
            Deviation::K => {
                return Err(Error::out_of_range(
                    format!("{self} on {nominal}"),
                    "K over 3 mm in grades 5 to 8",
                ));
            }
            // The one exception that the standard prints: M6 over 250 to 315 mm.
            Deviation::M if self.grade == 6 && step == 10 => -9,
            Deviation::M | Deviation::N if fine => -distance + difference()?,
            Deviation::M => -distance,
            Deviation::N if nominal.mm() <= 1.0 => {
                return Err(Error::out_of_range(
                    format!("{self} on {nominal}"),
                    "N to 1 mm in grades 5 to 8",
                ));
            }
            Deviation::N if step == 0 => -distance,
            Deviation::N => 0,
            Deviation::P if self.grade <= 7 => -distance + difference()?,
            Deviation::P => -distance,
        };
        Ok((upper - tolerance, upper))
    }
}

impl fmt::Display for ToleranceClass {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let letters = Deviation::ALL
            .iter()
            .find(|(deviation, ..)| *deviation == self.deviation)
            .map_or("", |(_, hole, shaft)| match self.kind {
                SizeKind::Hole => hole,
                SizeKind::Shaft => shaft,
            });
        write!(f, "{letters}{}", self.grade)
    }
}

impl FromStr for ToleranceClass {
    type Err = Error;

    fn from_str(text: &str) -> Result<Self> {
        let unreadable = || {
            Error::new(
                ErrorKind::UnreadableText,
                format!(
                    "{} is no tolerance class; accepted: {ACCEPTED}",
                    quoted(text)
                ),
            )
        };
        let trimmed = text.trim();
        let split = trimmed
            .find(|c: char| c.is_ascii_digit())
            .ok_or_else(unreadable)?;
        let (letters, digits) = trimmed.split_at(split);
        if digits.starts_with('0') || !digits.bytes().all(|byte| byte.is_ascii_digit()) {
            return Err(unreadable());
        }
        let grade: u8 = digits.parse().map_err(|_| unreadable())?;
        let (deviation, kind) = Deviation::ALL
            .iter()
            .find_map(|(deviation, hole, shaft)| {
                if letters == *hole {
                    Some((*deviation, SizeKind::Hole))
                } else if letters == *shaft {
                    Some((*deviation, SizeKind::Shaft))
                } else {
                    None
                }
            })
            .ok_or_else(unreadable)?;
        Self::new(kind, deviation, grade)
    }
}

impl Serialize for ToleranceClass {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for ToleranceClass {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> std::result::Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        text.parse().map_err(de::Error::custom)
    }
}

#[cfg(feature = "schema")]
impl schemars::JsonSchema for ToleranceClass {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "ToleranceClass".into()
    }

    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({
            "description": "A tolerance class of ISO 286-1.",
            "type": "string",
            "examples": ["H7", "g6"]
        })
    }
}
