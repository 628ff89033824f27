//! Angles in documents: a string in the grammar of angles.

use std::fmt;

use serde::{Deserialize, Deserializer, Serialize, Serializer, de};

use super::Angle;

impl Serialize for Angle {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

struct AngleText;

impl de::Visitor<'_> for AngleText {
    type Value = Angle;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("an angle as text with its unit, such as \"22.5 deg\" or \"1/9 turn\"")
    }

    fn visit_str<E: de::Error>(self, text: &str) -> Result<Angle, E> {
        text.parse().map_err(E::custom)
    }
}

impl<'de> Deserialize<'de> for Angle {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_str(AngleText)
    }
}

#[cfg(feature = "schema")]
impl schemars::JsonSchema for Angle {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Angle".into()
    }

    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({
            "type": "string",
            "description": "An exact angle with its unit: 22.5 deg, 22.5°, 7°30'15\", 1/9 turn, 360/7 deg, 40 gon.",
            "examples": ["22.5 deg", "7°30'15\"", "1/9 turn"]
        })
    }
}
