//! Answers: patterns, certificates, and what to change where nothing fits.

use serde::{Deserialize, Deserializer, Serialize, Serializer, de};

use super::bar::BarRoom;
use super::brief::{PATTERN_FORMAT, PlateBrief};
use super::check::CheckReport;
use super::part::PartRoom;
use super::pins::PinPair;
use super::wish::Wish;
use crate::angle::{Angle, as_f64};
use crate::document;
use crate::error::{AtField, Error, ErrorKind, Result};
use crate::length::Length;

/// The answer to a brief.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Design {
    /// A plate that serves every wish.
    Pattern(Box<Pattern>),
    /// No plate of this outline serves every wish.
    DoesNotFit(Box<Shortfall>),
}

impl Design {
    /// The pattern, or an error that says what binds and what to change.
    ///
    /// # Errors
    /// [`ErrorKind::Inconsistent`] where the wishes do not fit the plate.
    pub fn into_pattern(self) -> Result<Pattern> {
        match self {
            Self::Pattern(pattern) => Ok(*pattern),
            Self::DoesNotFit(shortfall) => {
                Err(Error::new(ErrorKind::Inconsistent, shortfall.sentence()))
            }
        }
    }
}

/// A plate to drill. A document of its own (`format` 1); it carries its brief.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields, remote = "Self")]
pub struct Pattern {
    /// Always 1.
    #[cfg_attr(feature = "schema", schemars(range(min = 1, max = 1)))]
    pub format: u32,
    /// What was asked.
    #[serde(with = "PlateBrief")]
    pub brief: PlateBrief,
    /// Rings, from the outside in.
    pub rings: Vec<Ring>,
    /// Stations of the fixed plate of a vernier pair; empty for other uses.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub stations: Vec<Station>,
    /// Each wish and what serves it.
    pub served: Vec<Served>,
    /// Why there are not fewer holes.
    pub certificate: Certificate,
    /// For a pin plate, what room the bar has past pins that it does not lie on;
    /// wishes of very many features on very many pins are left out.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub bar_room: Vec<BarRoom>,
    /// For a pin plate with a part between the pins, the room round the part.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub part_room: Option<PartRoom>,
    /// Every pair of holes and every edge, measured again from the coordinates.
    pub check: CheckReport,
    /// Remarks in plain words.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub remarks: Vec<String>,
}

impl Serialize for Pattern {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        Self::serialize(self, serializer)
    }
}

/// As [`Pattern::from_json`]: the reports of the document are not believed.
impl<'de> Deserialize<'de> for Pattern {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> std::result::Result<Self, D::Error> {
        let pattern = Self::deserialize(deserializer)?;
        pattern.measured_anew().map_err(de::Error::custom)
    }
}

impl Pattern {
    /// Reads a pattern, checks it, and measures its holes and the room of bar and
    /// part anew: the reports of the document are not believed.
    ///
    /// # Errors
    /// As [`PlateBrief::from_json`], and those of [`Pattern::check_sizes`].
    ///
    /// ```
    /// use dividing_core::pattern::{Pattern, PlateBrief, design};
    /// use dividing_core::work::Meter;
    /// let brief = PlateBrief::from_json(
    ///     r#"{"format": 1, "divisions": [6], "outline": {"disc": {"diameter": 100}},
    ///         "hole_diameter": 6, "least_web": 2, "least_edge_distance": 3}"#,
    /// )?;
    /// let plate = design(&brief, &mut Meter::default())?.into_pattern()?;
    /// assert_eq!(Pattern::from_json(&plate.to_json()?)?.rings, plate.rings);
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    pub fn from_json(text: &str) -> Result<Self> {
        /// As it is written: what is wrong is told with its kind.
        #[derive(Deserialize)]
        struct Written(#[serde(with = "Pattern")] Pattern);
        let Written(pattern) = document::read(text)?;
        pattern.measured_anew()
    }

    /// The pattern with the reports that follow from its holes.
    fn measured_anew(mut self) -> Result<Self> {
        self.check_sizes()?;
        self.check = super::check::check_holes(
            &self.brief,
            &self.rings,
            &mut crate::work::Meter::new(u64::MAX),
        )?;
        self.bar_room = self.room_of_bars();
        self.part_room = self.room_of_part();
        Ok(self)
    }

    /// Writes the pattern as JSON text, indented.
    ///
    /// # Errors
    /// Those of [`Pattern::check_sizes`].
    pub fn to_json(&self) -> Result<String> {
        self.check_sizes()?;
        document::write(self)
    }

    /// Checks format, brief, radii and the number of holes.
    ///
    /// # Errors
    /// [`ErrorKind::UnknownFormat`], [`ErrorKind::OutOfRange`] or those of
    /// [`PlateBrief::check`], with the path of the field.
    pub fn check_sizes(&self) -> Result<()> {
        if self.format != PATTERN_FORMAT {
            return Err(Error::new(
                ErrorKind::UnknownFormat,
                format!("{} is not known; accepted: {PATTERN_FORMAT}", self.format),
            )
            .at("format"));
        }
        self.brief.check().at("brief")?;
        for (index, ring) in self.rings.iter().enumerate() {
            Length::from_mm(ring.radius_mm)
                .and_then(Length::check_positive)
                .at(format!("rings[{index}].radius_mm"))?;
        }
        if self.hole_count() as u64 > super::design::MAX_HOLES {
            return Err(Error::out_of_range(
                format!("{} holes", self.hole_count()),
                format!("at most {}", super::design::MAX_HOLES),
            )
            .at("rings"));
        }
        Ok(())
    }

    /// The fixed plate of a vernier pair, its stations as holes, so that tables,
    /// drawings and programs can be made of it too; `None` for other uses.
    ///
    /// # Errors
    /// Those of [`Pattern::check_sizes`].
    ///
    /// ```
    /// use dividing_core::pattern::{PlateBrief, design};
    /// use dividing_core::work::Meter;
    /// let brief = PlateBrief::from_json(
    ///     r#"{"format": 1, "divisions": [20], "use": "vernier_pair",
    ///         "outline": {"disc": {"diameter": 100}}, "hole_diameter": 6,
    ///         "least_web": 2, "least_edge_distance": 3}"#,
    /// )?;
    /// let turning = design(&brief, &mut Meter::default())?.into_pattern()?;
    /// let fixed = turning.station_plate()?.map(|plate| plate.hole_count());
    /// assert_eq!((turning.hole_count(), fixed), (5, Some(4)));
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    pub fn station_plate(&self) -> Result<Option<Self>> {
        self.check_sizes()?;
        let (Some(ring), false) = (self.rings.first(), self.stations.is_empty()) else {
            return Ok(None);
        };
        let mut holes: Vec<Hole> = self
            .stations
            .iter()
            .map(|station| Hole {
                number: station.number,
                place: None,
                angle: station.angle.within_turn(),
            })
            .collect();
        holes.sort_by_key(|hole| hole.angle);
        let rings = vec![Ring {
            radius_mm: ring.radius_mm,
            phase: Angle::ZERO,
            places: None,
            divisions: Vec::new(),
            holes,
        }];
        let check =
            super::check::check_holes(&self.brief, &rings, &mut crate::work::Meter::new(u64::MAX))?;
        Ok(Some(Self {
            rings,
            check,
            stations: Vec::new(),
            bar_room: Vec::new(),
            part_room: None,
            remarks: vec!["the fixed plate: holes are the stations, by number".to_owned()],
            ..self.clone()
        }))
    }

    /// Number of holes of all rings; stations not counted.
    #[must_use]
    pub fn hole_count(&self) -> usize {
        self.rings.iter().map(|ring| ring.holes.len()).sum()
    }

    /// Every hole with the index of its ring, ring by ring.
    pub fn holes(&self) -> impl Iterator<Item = (usize, &Ring, &Hole)> {
        self.rings
            .iter()
            .enumerate()
            .flat_map(|(index, ring)| ring.holes.iter().map(move |hole| (index, ring, hole)))
    }
}

/// Holes on one pitch circle.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Ring {
    /// Pitch radius in millimetres.
    pub radius_mm: f64,
    /// Angle of the zero hole.
    pub phase: Angle,
    /// Equally spaced places of which the holes are some; absent where the
    /// number is beyond 2⁶³.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub places: Option<u64>,
    /// Whole divisions whose every place is drilled, those inside others left out.
    pub divisions: Vec<u64>,
    /// Holes by growing angle from the zero hole.
    pub holes: Vec<Hole>,
}

impl Ring {
    /// Whether some hole belongs to none of the ring's whole divisions.
    pub(crate) fn has_single_holes(&self) -> Result<bool> {
        for hole in &self.holes {
            let parts = hole.angle.checked_sub(self.phase)?.denominator();
            let mut whole = self.divisions.iter().map(|&n| i128::from(n) % parts);
            if !whole.any(|rest| rest == 0) {
                return Ok(true);
            }
        }
        Ok(false)
    }
}

/// One hole.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Hole {
    /// Number on its ring, from 0, as stamped and as plans call it: the place
    /// where the ring has at most 100,000 places, so that places not drilled
    /// are passed over; else counted hole by hole.
    pub number: u32,
    /// Which of the ring's places; absent where the ring has no such number.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub place: Option<u64>,
    /// Angle on the plate, the phase included, within one turn.
    pub angle: Angle,
}

impl Hole {
    /// Coordinates from the plate's centre, in millimetres.
    #[must_use]
    pub fn position_mm(&self, radius_mm: f64) -> (f64, f64) {
        let (sin, cos) = sin_cos(self.angle);
        (radius_mm * cos, radius_mm * sin)
    }
}

/// Sine and cosine of an exact angle, from its exact distance to the nearest
/// quarter turn: quarter turns come out exact, and mirrored holes mirrored.
pub(crate) fn sin_cos(angle: Angle) -> (f64, f64) {
    let turn = angle.within_turn();
    // Terms are at most 10^35, so eight times them fit 128 bits.
    let (p, q) = (turn.numerator(), turn.denominator());
    let quarter = (8 * p + q) / (2 * q);
    let rest_turns = as_f64(4 * p - quarter * q) / as_f64(4 * q);
    let (sin, cos) = (rest_turns * std::f64::consts::TAU).sin_cos();
    match quarter % 4 {
        0 => (sin, cos),
        1 => (cos, -sin),
        2 => (-sin, -cos),
        _ => (-cos, sin),
    }
}

/// A place on the fixed plate where the pin can stand.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Station {
    /// From 0, in the order of the positions they serve.
    pub number: u32,
    /// Angle on the fixed plate.
    pub angle: Angle,
}

/// A wish and what serves it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Served {
    /// The wish.
    pub wish: Wish,
    /// What serves it.
    pub by: ServedBy,
    /// Largest error of a feature from hole position and pin clearance, in
    /// seconds of arc, as plans add it up; absent unless the brief gives pin
    /// (or fit) and hole-position tolerance, or when no hole is used.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub predicted_error_arcsec: Option<f64>,
    /// Tolerance asked for, in seconds of arc.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tolerance_arcsec: Option<f64>,
    /// Tolerance against predicted error.
    pub verdict: Verdict,
}

/// What serves a wish.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum ServedBy {
    /// Faces of the outline.
    Faces(u32),
    /// Whole turns of the crank: any hole.
    AnyHole,
    /// Holes of one ring, by their numbers; for a worm head those that the
    /// crank stops at.
    Ring {
        /// Index of the ring, from the outside.
        ring: usize,
        /// Their numbers.
        holes: Vec<u32>,
    },
    /// Two pins of one ring for each feature.
    Pins {
        /// Index of the ring, from the outside.
        ring: usize,
        /// Equally spaced holes of it that are used; absent where pins were
        /// chosen one by one.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        circle: Option<u64>,
        /// Hole numbers of the pins in use, by growing angle.
        holes: Vec<u32>,
        /// Which two of `holes`, counted from 0.
        pairs: Vec<PinPair>,
    },
    /// A hole in line with a station.
    VernierPair {
        /// Positions that holes and stations give.
        positions: u64,
    },
}

/// Tolerance against predicted error.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// The predicted error is within the tolerance.
    Holds,
    /// It is not.
    DoesNotHold,
    /// No tolerance, or nothing to reckon the error from.
    NotReckoned,
}

/// How a lower bound was proved.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum ProofMethod {
    /// Each different hole angle counted once: no plate has fewer.
    EachHoleOnce,
    /// Each wish's share of the holes it can have in common with others.
    SharedHoles,
    /// Prices of the linear relaxation over every ring that could take part.
    LinearRelaxation,
    /// Every choice of rings with fewer holes was ruled out.
    Exhausted,
    /// n + m over every pair of whole numbers with M | n·m.
    FactorPairs,
    /// Each direction needs a chord of its own, p pins have p(p − 1)/2, and
    /// placings of fewer pins were ruled out; a holes at b stations have a·b
    /// positions.
    Directions,
}

/// Why there are not fewer holes.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Certificate {
    /// Holes of the pattern, stations included.
    pub holes: u64,
    /// No pattern under the same rules has fewer.
    pub lower_bound: u64,
    /// `holes − lower_bound`; 0 when proved.
    pub gap: u64,
    /// How the bound was proved.
    pub proof: ProofMethod,
    /// Whether fewest holes, and the best worst margin among those, are proved.
    pub complete: bool,
    /// True: rings stand a hole and a web apart, and the proof is about such
    /// plates. False: rings stand closer and phases keep the webs; then the
    /// bound allows any number of rings, and the holes may lie above it.
    pub separated_rings: bool,
    /// Sets of holes to share out, those inside others taken out.
    pub wishes_shared_out: u32,
    /// Ways to share them out, rounded (Bell number).
    pub partitions: f64,
    /// Rings that could take part in an allocation as good as the first found;
    /// all others are ruled out by their reduced cost.
    pub rings_considered: u64,
    /// Nodes of the search over those rings.
    pub nodes: u64,
}

/// What is short, and by how much.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Shortfall {
    /// What binds, in plain words.
    pub binding: Vec<String>,
    /// Smallest outline (diameter or across flats) that fits separated rings,
    /// in millimetres, all else the same; absent when none does.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub smallest_outline_mm: Option<f64>,
    /// Largest hole diameter that fits separated rings, in millimetres, the
    /// clearance kept; absent when none does.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub largest_hole_mm: Option<f64>,
    /// The largest pin with it, in millimetres; absent when the brief has no pin.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub largest_pin_mm: Option<f64>,
    /// Largest part of the wishes that fits.
    pub largest_subset: Vec<Wish>,
    /// Whether no larger part fits, or only none was found.
    pub subset_proved: bool,
}

impl Shortfall {
    /// The whole finding in one sentence.
    #[must_use]
    pub fn sentence(&self) -> String {
        let mut text = format!(
            "the wishes do not fit the plate: {}",
            self.binding.join("; ")
        );
        // What a spent budget left out is not told as a finding.
        match self.smallest_outline_mm {
            Some(mm) => text += &format!("; the smallest outline that fits is {mm:.2} mm"),
            None if self.subset_proved => text += "; no plate is large enough",
            None => {}
        }
        if let Some(mm) = self.largest_hole_mm {
            text += &format!("; the largest hole that fits is {mm:.2} mm");
        }
        if let Some(mm) = self.largest_pin_mm {
            text += &format!(", for a pin of {mm:.3} mm");
        }
        if self.largest_subset.is_empty() {
            text += if self.subset_proved {
                "; as it is no wish fits"
            } else {
                "; the budget of work ended before it was known which wishes fit"
            };
        } else {
            let names: Vec<String> = self
                .largest_subset
                .iter()
                .map(ToString::to_string)
                .collect();
            text += &format!("; as it is there is room for {}", names.join(", "));
        }
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quarter_turns_are_exact_and_eighths_symmetric() {
        let at = |n, d| sin_cos(Angle::new(n, d).unwrap());
        assert_eq!(at(0, 1), (0.0, 1.0));
        assert_eq!(at(1, 4), (1.0, 0.0));
        assert_eq!(at(1, 2), (0.0, -1.0));
        assert_eq!(at(3, 4), (-1.0, 0.0));
        for n in 0..720 {
            let (sin, cos) = at(n, 720);
            let angle = Angle::new(n, 720).unwrap().to_radians_f64();
            assert!(
                (sin - angle.sin()).abs() < 1e-14 && (cos - angle.cos()).abs() < 1e-14,
                "{n}"
            );
        }
    }
}
