//! The brief: what a plate must serve and what it is made of.

use std::fmt;

use serde::{Deserialize, Deserializer, Serialize, Serializer, de};

use super::fit::PinFit;
use crate::angle::Angle;
use crate::document;
use crate::equipment::WormRatio;
use crate::error::Result;
use crate::length::Length;

/// The `format` number of plate briefs and patterns.
pub const PATTERN_FORMAT: u32 = 1;

/// What is asked of a plate. A document of its own (`format` 1).
///
/// The plate's centre is the origin; x to the right, y up, seen from the side
/// that is drilled; angles grow counter-clockwise.
///
/// ```
/// use dividing_core::pattern::PlateBrief;
/// let brief = PlateBrief::from_json(
///     r#"{"format": 1, "divisions": [5, {"division": 12, "tolerance": "2'"}],
///         "outline": {"disc": {"diameter": 100}}, "hole_diameter": 6,
///         "least_web": 2, "least_edge_distance": 3}"#,
/// )?;
/// assert_eq!(brief.divisions[1].division, 12);
/// # Ok::<(), dividing_core::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields, rename_all = "snake_case", remote = "Self")]
pub struct PlateBrief {
    /// Always 1.
    #[cfg_attr(feature = "schema", schemars(range(min = 1, max = 1)))]
    pub format: u32,
    /// Divisions wanted: whole numbers from 2, or objects with a tolerance.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub divisions: Vec<DivisionWish>,
    /// Single angles wanted, each from the zero hole of its ring.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub angles: Vec<AngleWish>,
    /// Lists of angles, each list on one ring, from the zero hole of that ring.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub lists: Vec<ListWish>,
    /// How the plate is used.
    #[serde(default, rename = "use")]
    pub usage: PlateUse,
    /// The outline of the plate.
    pub outline: Outline,
    /// Diameter of the bore; none when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bore: Option<Length>,
    /// Circles that no hole may cut into.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub keep_outs: Vec<Circle>,
    /// Holes for screws and dowels; the least web holds against them.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub mounting_holes: Vec<Circle>,
    /// Diameter of the holes; this or `fit`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hole_diameter: Option<Length>,
    /// Pin and holes by a fit, such as `"6 mm H7/g6"`, in place of both
    /// diameters. A fit that holds every pin, such as H7/p6, is for pin plates.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fit: Option<PinFit>,
    /// Diameter of the pin or plunger; absent: no error is foretold.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pin_diameter: Option<Length>,
    /// Least material between two holes.
    pub least_web: Length,
    /// Least material between a hole and the outline.
    pub least_edge_distance: Length,
    /// Least material between a hole and the bore; absent: as at the outline.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub least_bore_edge_distance: Option<Length>,
    /// Rings that the user fixes, wholly or in part.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub rings: Vec<FixedRing>,
    /// Most rings; absent: as many as fit.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub most_rings: Option<u32>,
    /// Diameter of the tolerance zone within which the machine that drills the
    /// plate puts each hole's centre.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hole_position_tolerance: Option<Length>,
}

impl PlateBrief {
    /// Reads and checks a brief.
    ///
    /// # Errors
    /// [`crate::ErrorKind::MalformedJson`], [`crate::ErrorKind::UnknownField`] or
    /// [`crate::ErrorKind::InvalidField`] with the path, and those of
    /// [`PlateBrief::check`].
    pub fn from_json(text: &str) -> Result<Self> {
        /// As it is written: what is wrong is told with its kind.
        #[derive(Deserialize)]
        struct Written(#[serde(with = "PlateBrief")] PlateBrief);
        let Written(brief) = document::read(text)?;
        brief.check()?;
        Ok(brief)
    }

    /// Writes the brief as JSON text, indented.
    ///
    /// # Errors
    /// Those of [`PlateBrief::check`].
    pub fn to_json(&self) -> Result<String> {
        self.check()?;
        document::write(self)
    }
}

impl Serialize for PlateBrief {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        Self::serialize(self, serializer)
    }
}

/// A brief that is not accepted is not read.
impl<'de> Deserialize<'de> for PlateBrief {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> std::result::Result<Self, D::Error> {
        let brief = Self::deserialize(deserializer)?;
        brief.check().map_err(de::Error::custom)?;
        Ok(brief)
    }
}

/// A division wanted: N equal parts of a turn.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct DivisionWish {
    /// N, from 2 to 100,000.
    pub division: u64,
    /// Largest deviation allowed either way.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tolerance: Option<Angle>,
}

/// A single angle wanted.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct AngleWish {
    /// From the zero hole.
    pub angle: Angle,
    /// Largest deviation allowed either way.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tolerance: Option<Angle>,
}

/// Several angles wanted on one ring.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct ListWish {
    /// From the zero hole.
    pub angles: Vec<Angle>,
    /// Largest deviation allowed either way.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tolerance: Option<Angle>,
}

/// How the plate registers.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
#[non_exhaustive]
pub enum PlateUse {
    /// A pin or plunger at one station enters the holes.
    #[default]
    Plunger,
    /// On a worm head: R/N turns of the crank for each of N divisions.
    WormHead {
        /// Crank turns for one spindle turn.
        ratio: WormRatio,
    },
    /// Pins stand in the holes; a straight bar on two of them is levelled.
    Pins {
        /// Whether the bar is also set upright with a square.
        #[serde(default)]
        square: bool,
        /// The part lies between the pins: its diameter.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        part_diameter: Option<Length>,
    },
    /// Holes in the turning plate and stations in the fixed one.
    VernierPair,
}

/// The outline of the plate.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
#[non_exhaustive]
pub enum Outline {
    /// A round plate.
    Disc {
        /// Its diameter.
        diameter: Length,
    },
    /// A regular polygon; the first face looks along +x. Its faces index too.
    Polygon {
        /// How many faces, from 3 to 100.
        faces: u32,
        /// Across flats: twice the distance from centre to face.
        across_flats: Length,
    },
}

impl Outline {
    /// Radius of the largest circle inside, in millimetres.
    #[must_use]
    pub fn inner_radius_mm(&self) -> f64 {
        match self {
            Self::Disc { diameter } => diameter.mm() / 2.0,
            Self::Polygon { across_flats, .. } => across_flats.mm() / 2.0,
        }
    }

    /// Faces that index, if any.
    #[must_use]
    pub const fn faces(&self) -> Option<u32> {
        match self {
            Self::Disc { .. } => None,
            Self::Polygon { faces, .. } => Some(*faces),
        }
    }
}

/// A circle on the plate.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Circle {
    /// Centre to the right of the plate's centre.
    pub x: Length,
    /// Centre above the plate's centre.
    pub y: Length,
    /// Its diameter.
    pub diameter: Length,
}

/// A ring that the user fixes: at a radius, with divisions, or both.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct FixedRing {
    /// Pitch radius.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub radius: Option<Length>,
    /// Divisions that must stand on it; others may join them.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub divisions: Vec<u64>,
    /// Angle of its zero hole.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub phase: Option<Angle>,
}

/// The object form of a wish.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct FullDivision {
    division: u64,
    #[serde(default)]
    tolerance: Option<Angle>,
}

/// The object form of a wish.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct FullAngle {
    angle: Angle,
    #[serde(default)]
    tolerance: Option<Angle>,
}

impl<'de> Deserialize<'de> for DivisionWish {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> std::result::Result<Self, D::Error> {
        struct Reader;
        impl<'de> de::Visitor<'de> for Reader {
            type Value = DivisionWish;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a whole number of divisions, or an object with division and tolerance")
            }
            fn visit_u64<E: de::Error>(
                self,
                division: u64,
            ) -> std::result::Result<DivisionWish, E> {
                Ok(DivisionWish {
                    division,
                    tolerance: None,
                })
            }
            fn visit_map<A: de::MapAccess<'de>>(
                self,
                map: A,
            ) -> std::result::Result<DivisionWish, A::Error> {
                let full = FullDivision::deserialize(de::value::MapAccessDeserializer::new(map))?;
                Ok(DivisionWish {
                    division: full.division,
                    tolerance: full.tolerance,
                })
            }
        }
        deserializer.deserialize_any(Reader)
    }
}

impl<'de> Deserialize<'de> for AngleWish {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> std::result::Result<Self, D::Error> {
        struct Reader;
        impl<'de> de::Visitor<'de> for Reader {
            type Value = AngleWish;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("an angle with its unit, or an object with angle and tolerance")
            }
            fn visit_str<E: de::Error>(self, text: &str) -> std::result::Result<AngleWish, E> {
                Ok(AngleWish {
                    angle: text.parse().map_err(E::custom)?,
                    tolerance: None,
                })
            }
            fn visit_map<A: de::MapAccess<'de>>(
                self,
                map: A,
            ) -> std::result::Result<AngleWish, A::Error> {
                let full = FullAngle::deserialize(de::value::MapAccessDeserializer::new(map))?;
                Ok(AngleWish {
                    angle: full.angle,
                    tolerance: full.tolerance,
                })
            }
        }
        deserializer.deserialize_any(Reader)
    }
}

#[cfg(feature = "schema")]
impl schemars::JsonSchema for DivisionWish {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "DivisionWish".into()
    }
    fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        let tolerance = generator.subschema_for::<Angle>();
        let whole = serde_json::json!({"type": "integer", "minimum": 2, "maximum": 100_000});
        schemars::json_schema!({
            "description": "A division wanted: a whole number, or an object with a tolerance.",
            "oneOf": [whole, {
                "type": "object",
                "properties": {"division": whole, "tolerance": tolerance},
                "required": ["division"],
                "additionalProperties": false
            }]
        })
    }
}

#[cfg(feature = "schema")]
impl schemars::JsonSchema for AngleWish {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "AngleWish".into()
    }
    fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        let angle = generator.subschema_for::<Angle>();
        schemars::json_schema!({
            "description": "A single angle wanted: an angle, or an object with a tolerance.",
            "oneOf": [angle, {
                "type": "object",
                "properties": {"angle": angle, "tolerance": angle},
                "required": ["angle"],
                "additionalProperties": false
            }]
        })
    }
}
