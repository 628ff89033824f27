//! The change gears of a worm head, between its spindle and its plate.

use serde::{Deserialize, Serialize};

use super::blocks::check_error_angle;
use crate::angle::Angle;
use crate::error::{AtField, Error, Result};
use crate::gearing::{GearRatio, GearSet, MAX_PAIRS, MeshRule, RelativeSense, Train};

/// Largest numerator and denominator of the fixed gearing of a head.
pub const MAX_FIXED_GEARING: i128 = 1000;

/// How many idlers turn the plate which way.
///
/// Every mesh reverses, so a train of p pairs with n idlers reverses p + n times;
/// which of the two senses that is at the plate depends on the gearing inside
/// the head.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum IdlerConvention {
    /// The common handbook one: a simple train takes one idler to turn the plate
    /// with the crank and two against it, a compound train none and one.
    /// *Practical Treatise on Milling and Milling Machines*, p. 57: 271 divisions
    /// with a simple train and one idler, 319 with a compound train and one.
    #[default]
    CommonHandbook,
    /// The other way about, for a head with one reversal more or less inside: a
    /// simple train takes two idlers for with and one for against, a compound
    /// train one and none.
    Reversed,
}

impl IdlerConvention {
    /// Idlers that turn the plate with the crank, or against it.
    ///
    /// ```
    /// use dividing_core::equipment::IdlerConvention;
    /// use dividing_core::gearing::Train;
    /// let simple = Train::new(&[72], &[56])?;
    /// let usual = IdlerConvention::CommonHandbook;
    /// assert_eq!((usual.idlers(&simple, true), usual.idlers(&simple, false)), (1, 2));
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    #[must_use]
    pub fn idlers(self, train: &Train, with_crank: bool) -> u32 {
        let same = with_crank == (self == Self::CommonHandbook);
        train.idlers_for_sense(if same {
            RelativeSense::Same
        } else {
            RelativeSense::Opposite
        })
    }
}

/// The change gears of a worm head and how they reach the plate.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ChangeGears {
    /// The gears owned, a gear owned twice listed twice.
    pub gears: GearSet,
    /// Whether compound trains must clear their neighbours' shafts, and by how
    /// much; ratios alone where not given.
    #[serde(default)]
    pub mesh: MeshRule,
    /// Most pairs of driver and driven that the bracket takes, 1 to 3; two where
    /// not given.
    #[serde(default = "two_pairs", skip_serializing_if = "is_two_pairs")]
    pub most_pairs: u8,
    /// Turns of the plate for one turn of the train's last gear, by gearing
    /// fixed in the head; 1 where not given.
    #[serde(default = "no_gearing", skip_serializing_if = "is_no_gearing")]
    pub fixed_gearing: GearRatio,
    /// Which idlers turn the plate which way.
    #[serde(default)]
    pub idlers: IdlerConvention,
    /// Deviation of the plate from true by teeth and lost motion of the train,
    /// either way. Needed for an error figure of differential indexing.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub plate_error: Option<Angle>,
}

const fn two_pairs() -> u8 {
    2
}

const fn is_two_pairs(pairs: &u8) -> bool {
    *pairs == two_pairs()
}

const fn no_gearing() -> GearRatio {
    GearRatio::ONE
}

fn is_no_gearing(ratio: &GearRatio) -> bool {
    *ratio == GearRatio::ONE
}

impl ChangeGears {
    /// These gears with everything else as where it is not given.
    ///
    /// ```
    /// use dividing_core::equipment::ChangeGears;
    /// use dividing_core::gearing::GearSet;
    /// let written: ChangeGears = serde_json::from_str(r#"{"gears": [24, 24, 28, 32]}"#)?;
    /// assert_eq!(written, ChangeGears::new(GearSet::new(&[24, 24, 28, 32])?));
    /// assert_eq!(written.most_pairs, 2);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    #[must_use]
    pub const fn new(gears: GearSet) -> Self {
        Self {
            gears,
            mesh: MeshRule::RatiosAlone,
            most_pairs: two_pairs(),
            fixed_gearing: no_gearing(),
            idlers: IdlerConvention::CommonHandbook,
            plate_error: None,
        }
    }

    pub(crate) fn check(&self) -> Result<()> {
        if !(1..=MAX_PAIRS).contains(&usize::from(self.most_pairs)) {
            return Err(
                Error::out_of_range(format!("{} pairs", self.most_pairs), "1 to 3 pairs")
                    .at("most_pairs"),
            );
        }
        let fixed = self.fixed_gearing;
        if fixed.numerator().max(fixed.denominator()) > MAX_FIXED_GEARING {
            return Err(Error::out_of_range(
                format!("a fixed gearing of {fixed}"),
                "1 to 1000 over 1 to 1000, such as 1 or 1/2",
            )
            .at("fixed_gearing"));
        }
        self.plate_error
            .map_or(Ok(()), check_error_angle)
            .at("plate_error")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_conventions_follow_the_meshes() {
        let trains = [
            Train::new(&[72], &[56]).unwrap(),
            Train::new(&[72, 64], &[24, 48]).unwrap(),
            Train::new(&[72, 64, 24], &[24, 48, 28]).unwrap(),
        ];
        let counts = |convention: IdlerConvention| {
            trains.map(|train| {
                (
                    convention.idlers(&train, true),
                    convention.idlers(&train, false),
                )
            })
        };
        assert_eq!(
            counts(IdlerConvention::CommonHandbook),
            [(1, 2), (0, 1), (1, 0)]
        );
        assert_eq!(counts(IdlerConvention::Reversed), [(2, 1), (1, 0), (0, 1)]);
    }

    #[test]
    fn hostile_gears_are_refused() {
        let read = |text: &str| serde_json::from_str::<ChangeGears>(text);
        assert!(read(r#"{"gears": []}"#).is_err());
        assert!(read(r#"{"gears": [24], "geers": 1}"#).is_err());
        for (text, field) in [
            (r#"{"gears": [24], "most_pairs": 0}"#, "most_pairs"),
            (r#"{"gears": [24], "most_pairs": 4}"#, "most_pairs"),
            (
                r#"{"gears": [24], "fixed_gearing": "1/1001"}"#,
                "fixed_gearing",
            ),
            (
                r#"{"gears": [24], "plate_error": "200 deg"}"#,
                "plate_error",
            ),
        ] {
            assert_eq!(read(text).unwrap().check().unwrap_err().field(), field);
        }
        let plain = read(r#"{"gears": [24, 28]}"#).unwrap();
        assert_eq!(plain, ChangeGears::new(GearSet::new(&[24, 28]).unwrap()));
        let text = serde_json::to_string(&plain).unwrap();
        assert_eq!(read(&text).unwrap(), plain);
    }
}
