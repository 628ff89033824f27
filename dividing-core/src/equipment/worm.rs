//! Worm heads with index plates, and worm-driven tables with a graduated dial.

use std::collections::BTreeSet;
use std::fmt;
use std::str::FromStr;

use num_rational::Ratio;
use serde::{Deserialize, Deserializer, Serialize, Serializer, de};

use super::blocks::check_error_angle;
use super::change_gears::ChangeGears;
use super::circle::{Sense, check_absent, check_holes};
use super::measured::MeasuredRing;
use super::registration::PinInHole;
use crate::angle::Angle;
use crate::document::check_name;
use crate::error::{AtField, Error, ErrorKind, Result, quoted};
use crate::length::Length;

/// Largest numerator and denominator of a worm ratio.
pub const MAX_WORM_RATIO: i128 = 100_000;

/// Crank turns for one spindle turn, an exact fraction greater than zero.
///
/// ```
/// use dividing_core::equipment::WormRatio;
/// let usual: WormRatio = "40:1".parse()?;
/// assert_eq!((usual.numerator(), usual.denominator()), (40, 1));
/// assert_eq!("81/2".parse::<WormRatio>()?.to_string(), "81/2");
/// assert_eq!("40.5".parse::<WormRatio>()?, "81/2".parse()?);
/// # Ok::<(), dividing_core::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct WormRatio(Ratio<i128>);

impl WormRatio {
    /// The ratio `numerator : denominator`.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] unless both are 1 to [`MAX_WORM_RATIO`].
    pub fn new(numerator: i128, denominator: i128) -> Result<Self> {
        let accepted = 1..=MAX_WORM_RATIO;
        if accepted.contains(&numerator) && accepted.contains(&denominator) {
            Ok(Self(Ratio::new(numerator, denominator)))
        } else {
            Err(Error::out_of_range(
                format!("a worm ratio of {numerator}/{denominator}"),
                "1 to 100000 over 1 to 100000, such as 40 or 81/2",
            ))
        }
    }

    /// Crank turns.
    #[must_use]
    pub const fn numerator(self) -> i128 {
        *self.0.numer()
    }

    /// Spindle turns for them.
    #[must_use]
    pub const fn denominator(self) -> i128 {
        *self.0.denom()
    }

    /// The ratio as a binary number.
    #[must_use]
    pub fn to_f64(self) -> f64 {
        crate::angle::as_f64(self.numerator()) / crate::angle::as_f64(self.denominator())
    }
}

impl fmt::Display for WormRatio {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.denominator() == 1 {
            write!(f, "{}", self.numerator())
        } else {
            write!(f, "{}/{}", self.numerator(), self.denominator())
        }
    }
}

impl FromStr for WormRatio {
    type Err = Error;

    fn from_str(text: &str) -> Result<Self> {
        let unreadable = || {
            Error::new(
                ErrorKind::UnreadableText,
                format!(
                    "{} cannot be read as a worm ratio; write 40, 40:1, 81/2 or 22.5",
                    quoted(text)
                ),
            )
        };
        let (above, below) = text.split_once([':', '/']).unwrap_or((text, "1"));
        let whole = |part: &str| part.trim().parse::<i128>().map_err(|_| unreadable());
        match above.split_once('.') {
            None => Self::new(whole(above)?, whole(below)?),
            Some(parts) => {
                let (numerator, tens) = decimal(parts).ok_or_else(unreadable)?;
                let denominator = whole(below)?.checked_mul(tens).ok_or_else(unreadable)?;
                if numerator == 0 || denominator == 0 {
                    return Self::new(numerator, denominator);
                }
                let exact = Ratio::new(numerator, denominator);
                Self::new(*exact.numer(), *exact.denom())
            }
        }
    }
}

/// Most digits that are read after the point of a worm ratio.
const MOST_DECIMALS: usize = 9;

/// Digits before and after the point as a fraction over a power of ten.
fn decimal((before, after): (&str, &str)) -> Option<(i128, i128)> {
    let (before, after) = (before.trim_start(), after.trim_end());
    let digits = |part: &str| part.chars().all(|c| c.is_ascii_digit());
    if before.is_empty() || after.is_empty() || after.len() > MOST_DECIMALS {
        return None;
    }
    if !digits(before) || !digits(after) {
        return None;
    }
    let tens = 10_i128.pow(u32::try_from(after.len()).ok()?);
    let whole: i128 = before.parse().ok()?;
    let part: i128 = after.parse().ok()?;
    Some((whole.checked_mul(tens)?.checked_add(part)?, tens))
}

impl Serialize for WormRatio {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        match u32::try_from(self.numerator()) {
            Ok(whole) if self.denominator() == 1 => serializer.serialize_u32(whole),
            _ => serializer.collect_str(self),
        }
    }
}

struct WormRatioValue;

impl de::Visitor<'_> for WormRatioValue {
    type Value = WormRatio;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a worm ratio: a whole number such as 40, or text such as \"81/2\"")
    }

    fn visit_u64<E: de::Error>(self, value: u64) -> std::result::Result<WormRatio, E> {
        WormRatio::new(i128::from(value), 1).map_err(E::custom)
    }

    fn visit_i64<E: de::Error>(self, value: i64) -> std::result::Result<WormRatio, E> {
        WormRatio::new(i128::from(value), 1).map_err(E::custom)
    }

    fn visit_str<E: de::Error>(self, text: &str) -> std::result::Result<WormRatio, E> {
        text.parse().map_err(E::custom)
    }
}

impl<'de> Deserialize<'de> for WormRatio {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> std::result::Result<Self, D::Error> {
        deserializer.deserialize_any(WormRatioValue)
    }
}

#[cfg(feature = "schema")]
impl schemars::JsonSchema for WormRatio {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "WormRatio".into()
    }

    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({
            "description": "Crank turns for one spindle turn: a whole number, or text with a fraction or a decimal.",
            "type": ["integer", "string"],
            "examples": [40, "81/2", "40.5"]
        })
    }
}

/// One circle of a worm head's plate: a count of holes, or that with its radius
/// and the places that have no hole.
#[derive(Clone, Debug, PartialEq)]
pub struct PlateCircle {
    /// Equally spaced holes, 2 to 100,000.
    pub holes: u32,
    /// Radius of the pitch circle; the head's `smallest_pitch_radius` stands in
    /// where it is not given.
    pub pitch_radius: Option<Length>,
    /// What was measured of its holes: where they really stand on the plate.
    /// Places are numbered from the hole in which the crank pin stands at zero, on
    /// in the way in which the crank brings up growing drawing angles; behind
    /// the worm every deviation is divided by the ratio.
    pub measured: Option<MeasuredRing>,
    /// Places without a usable hole, counted from the hole marked 0 the way the
    /// crank turns. A circle that lacks some is used by simple indexing only; what
    /// was measured of a hole before counts for nothing.
    pub absent: Vec<u32>,
}

/// The long form of a plate circle in documents.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct PlateCircleDocument {
    holes: u32,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pitch_radius: Option<Length>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    measured: Option<MeasuredRing>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    absent: Vec<u32>,
}

impl Serialize for PlateCircle {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        if self.pitch_radius.is_none() && self.measured.is_none() && self.absent.is_empty() {
            return serializer.serialize_u32(self.holes);
        }
        PlateCircleDocument {
            holes: self.holes,
            pitch_radius: self.pitch_radius,
            measured: self.measured.clone(),
            absent: self.absent.clone(),
        }
        .serialize(serializer)
    }
}

struct PlateCircleValue;

impl<'de> de::Visitor<'de> for PlateCircleValue {
    type Value = PlateCircle;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(
            "a count of holes such as 18, or an object with `holes`, `pitch_radius`, `measured` and \
             `absent`",
        )
    }

    fn visit_u64<E: de::Error>(self, holes: u64) -> std::result::Result<PlateCircle, E> {
        let holes = u32::try_from(holes).map_err(|_| {
            E::custom(format!(
                "{holes} holes are out of range; accepted: 2 to 100000"
            ))
        })?;
        Ok(PlateCircle {
            holes,
            pitch_radius: None,
            measured: None,
            absent: Vec::new(),
        })
    }

    fn visit_map<M: de::MapAccess<'de>>(
        self,
        map: M,
    ) -> std::result::Result<PlateCircle, M::Error> {
        let document =
            PlateCircleDocument::deserialize(de::value::MapAccessDeserializer::new(map))?;
        Ok(PlateCircle {
            holes: document.holes,
            pitch_radius: document.pitch_radius,
            measured: document.measured,
            absent: document.absent,
        })
    }
}

impl<'de> Deserialize<'de> for PlateCircle {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> std::result::Result<Self, D::Error> {
        deserializer.deserialize_any(PlateCircleValue)
    }
}

#[cfg(feature = "schema")]
impl schemars::JsonSchema for PlateCircle {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "PlateCircle".into()
    }

    fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        let length = generator.subschema_for::<Length>();
        let measured = generator.subschema_for::<MeasuredRing>();
        schemars::json_schema!({
            "description": "A circle of a worm head's plate: its count of holes, or that with its pitch radius, what was measured of it and the places that have no hole.",
            "anyOf": [
                { "type": "integer", "minimum": 2, "maximum": 100_000 },
                {
                    "type": "object",
                    "properties": {
                        "holes": { "type": "integer", "minimum": 2, "maximum": 100_000 },
                        "pitch_radius": length,
                        "measured": measured,
                        "absent": {
                            "type": "array",
                            "items": { "type": "integer", "minimum": 0, "maximum": 99_999 }
                        }
                    },
                    "required": ["holes"],
                    "additionalProperties": false
                }
            ]
        })
    }
}

/// A plate for the crank pin of a worm head, with holes on one or both sides.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct IndexPlate {
    /// What the shop calls it.
    pub name: String,
    /// Circles of the front, or of the only side.
    pub circles: Vec<PlateCircle>,
    /// Circles of the back, where the plate can be turned round.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub back_circles: Vec<PlateCircle>,
}

impl IndexPlate {
    fn check(&self) -> Result<()> {
        check_name(&self.name).at("name")?;
        if self.circles.is_empty() {
            return Err(Error::new(
                ErrorKind::EmptyList,
                "there is no hole circle; give at least one",
            )
            .at("circles"));
        }
        for (side, circles) in [
            ("circles", &self.circles),
            ("back_circles", &self.back_circles),
        ] {
            let mut seen = BTreeSet::new();
            for (index, circle) in circles.iter().enumerate() {
                let path = format!("{side}[{index}]");
                check_holes(circle.holes).at(&path)?;
                check_absent(&circle.absent, circle.holes).at(&path)?;
                if let Some(radius) = circle.pitch_radius {
                    radius.check_positive().at("pitch_radius").at(&path)?;
                }
                if let Some(measured) = &circle.measured {
                    measured
                        .check_for(circle.holes as usize, "holes of this circle")
                        .at("measured")
                        .at(&path)?;
                }
                if !seen.insert(circle.holes) {
                    return Err(Error::new(
                        ErrorKind::Duplicate,
                        format!(
                            "a circle of {} holes is listed twice; list each once",
                            circle.holes
                        ),
                    )
                    .at(path));
                }
            }
        }
        Ok(())
    }
}

/// A worm head with a crank, plates and sector arms.
///
/// By simple indexing on a circle of c holes it holds `<1/(R·c)>`.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct WormHead {
    /// What the shop calls it.
    pub name: String,
    /// Crank turns for one spindle turn.
    pub worm_ratio: WormRatio,
    /// The plates owned.
    pub plates: Vec<IndexPlate>,
    /// Crank pin and plate holes. Needed for an error figure.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub registration: Option<PinInHole>,
    /// Pitch radius of the smallest circle, the safe stand-in for circles whose
    /// own radius is not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub smallest_pitch_radius: Option<Length>,
    /// Deviation of the spindle from true by worm and wheel, either way. Needed
    /// for an error figure.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub worm_error: Option<Angle>,
    /// Lost motion of the spindle when the crank changes its sense.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub backlash: Option<Angle>,
    /// The way the part turns when the crank turns clockwise.
    #[serde(default)]
    pub sense: Sense,
    /// Gears that turn the plate with the spindle, for differential indexing.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub change_gears: Option<ChangeGears>,
}

impl WormHead {
    pub(crate) fn check(&self) -> Result<()> {
        check_name(&self.name).at("name")?;
        if self.plates.is_empty() {
            return Err(
                Error::new(ErrorKind::EmptyList, "there is no plate; give at least one")
                    .at("plates"),
            );
        }
        let mut seen = BTreeSet::new();
        for (index, plate) in self.plates.iter().enumerate() {
            plate.check().at(format!("plates[{index}]"))?;
            if !seen.insert(plate.name.as_str()) {
                return Err(Error::new(
                    ErrorKind::Duplicate,
                    format!(
                        "two plates are called {}; give each its own name",
                        quoted(&plate.name)
                    ),
                )
                .at(format!("plates[{index}].name")));
            }
        }
        if let Some(registration) = &self.registration {
            registration.check().at("registration")?;
        }
        if let Some(radius) = self.smallest_pitch_radius {
            radius.check_positive().at("smallest_pitch_radius")?;
        }
        check_optional_error(self.worm_error).at("worm_error")?;
        check_optional_error(self.backlash).at("backlash")?;
        match &self.change_gears {
            Some(gears) => gears.check().at("change_gears"),
            None => Ok(()),
        }
    }

    /// The circles of one side of a plate, if there is such a plate.
    #[must_use]
    pub fn side(&self, plate: usize, back: bool) -> Option<&[PlateCircle]> {
        let plate = self.plates.get(plate)?;
        Some(if back {
            &plate.back_circles
        } else {
            &plate.circles
        })
    }
}

/// A rotary table, or a worm head, that is read on a graduated dial.
///
/// It holds the multiples of one graduation, `<1/(R·graduations)>`.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct GraduatedDial {
    /// What the shop calls it.
    pub name: String,
    /// Handle turns for one turn of the table.
    pub worm_ratio: WormRatio,
    /// Graduations on the dial for one handle turn, 1 to 100,000.
    pub graduations: u32,
    /// Deviation of the table from true by worm and wheel, either way. Needed
    /// for an error figure.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub table_error: Option<Angle>,
    /// Lost motion of the table when the handle changes its sense.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub backlash: Option<Angle>,
    /// The way in which the readings grow.
    #[serde(default)]
    pub sense: Sense,
    /// What was measured of the table at equally spaced readings from 0.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measured: Option<MeasuredRing>,
    /// How far the table may stand off the straight line between two neighbouring
    /// measured readings, either way: what worm and wheel do between them. With
    /// it the deviation there is interpolated; without it `table_error` stands.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub between_measured: Option<Angle>,
}

impl GraduatedDial {
    pub(crate) fn check(&self) -> Result<()> {
        check_name(&self.name).at("name")?;
        if !(1..=100_000).contains(&self.graduations) {
            return Err(
                Error::out_of_range(self.graduations, "1 to 100000 graduations").at("graduations"),
            );
        }
        if let Some(measured) = &self.measured {
            measured.check().at("measured")?;
        }
        if self.between_measured.is_some() && self.measured.is_none() {
            return Err(Error::new(
                ErrorKind::Inconsistent,
                "there are no measured readings to lie between; give measured too",
            )
            .at("between_measured"));
        }
        check_optional_error(self.between_measured).at("between_measured")?;
        check_optional_error(self.table_error).at("table_error")?;
        check_optional_error(self.backlash).at("backlash")
    }
}

fn check_optional_error(error: Option<Angle>) -> Result<()> {
    error.map_or(Ok(()), check_error_angle)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn worm_ratios_read_and_write() {
        for (text, n, d) in [
            ("40", 40, 1),
            ("40:1", 40, 1),
            ("81/2", 81, 2),
            (" 180 / 2 ", 90, 1),
            ("22.5", 45, 2),
            ("40.0:1", 40, 1),
            ("0.00001", 1, 100_000),
        ] {
            let ratio: WormRatio = text.parse().unwrap();
            assert_eq!((ratio.numerator(), ratio.denominator()), (n, d));
            let json = serde_json::to_string(&ratio).unwrap();
            assert_eq!(serde_json::from_str::<WormRatio>(&json).unwrap(), ratio);
        }
        for bad in [
            "",
            "0",
            "-40",
            "40/0",
            "1/2/3",
            "forty",
            "1000001",
            "0.0",
            "1.",
            ".5",
            "1.-5",
            "-1.5",
            "1.5.5",
            "1.5/0",
            "0.000001",
            "1.0000000001",
            "1e2",
            "99999999999999999999999999999999999999.5",
        ] {
            assert!(bad.parse::<WormRatio>().is_err(), "{bad}");
        }
        for bad in ["0", "-1", "1.5", "null", "\"x\"", "[40]"] {
            assert!(serde_json::from_str::<WormRatio>(bad).is_err(), "{bad}");
        }
    }

    #[test]
    fn plate_circles_have_a_short_and_a_long_form() {
        let short: PlateCircle = serde_json::from_str("18").unwrap();
        assert_eq!(serde_json::to_string(&short).unwrap(), "18");
        let long: PlateCircle = serde_json::from_str(r#"{"holes":18,"pitch_radius":50}"#).unwrap();
        assert_eq!(long.pitch_radius.unwrap().mm(), 50.0);
        assert!(serde_json::from_str::<PlateCircle>(r#"{"holes":18,"radius":50}"#).is_err());
        assert!(serde_json::from_str::<PlateCircle>("-4").is_err());
    }
}
