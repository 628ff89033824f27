//! Trains of one, two or three pairs of gears, and whether they mesh.

use std::cmp::Reverse;
use std::fmt;

use serde::{Deserialize, Serialize};

use super::ratio::GearRatio;
use crate::error::{Error, ErrorKind, Result};

/// Most driver and driven pairs of a train.
pub const MAX_PAIRS: usize = 3;

/// Whether the gears of a compound train must clear their neighbours' shafts.
///
/// Take a row driver a, driven b, driver c, driven d, with b and c on one stud.
/// The shaft of a stands (a + b)/2 modules from the stud, so c must be smaller
/// than a + b, and likewise b smaller than c + d:
/// `a + b > c + allowance` and `c + d > b + allowance`, where the allowance
/// (in teeth) covers shaft, nut and the height of the teeth.
///
/// With a third pair, driver e and driven f, and d and e on a second stud, the
/// same holds at every mesh for the gear beside each of its two gears:
/// `a + b > c`, `c + d > b`, `c + d > e`, `e + f > d`, each with the allowance.
/// A simple train has no gear beside another and always passes; idlers fill any
/// distance. Common practice, no published source; whether the gears also fit
/// the slots of the bracket is not checked.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum MeshRule {
    /// Ratios alone: every train counts.
    #[default]
    RatiosAlone,
    /// Trains count when they clear with this allowance.
    Clear {
        /// Allowance in teeth, 0 or more.
        allowance_teeth: u16,
    },
}

impl MeshRule {
    /// Whether a row with this margin counts.
    pub(super) fn admits(self, margin: Option<i32>) -> bool {
        match (self, margin) {
            (Self::RatiosAlone, _) | (_, None) => true,
            (Self::Clear { allowance_teeth }, Some(margin)) => margin > i32::from(allowance_teeth),
        }
    }
}

/// The part a gear plays in its pair.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum GearRole {
    /// The gear that turns the other.
    Driver,
    /// The gear that is turned.
    Driven,
}

/// One gear of a train with its position.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PlacedGear {
    /// Number of the pair, from 1 at the driving end.
    pub pair: usize,
    /// Driver or driven.
    pub role: GearRole,
    /// Number of teeth.
    pub teeth: u16,
}

/// A gear train: one, two or three pairs of driver and driven, as a row from the
/// driving end. Driven 1 and driver 2 share a stud, and so on.
///
/// ```
/// use dividing_core::gearing::{GearRatio, Train};
/// let train = Train::new(&[72, 64], &[24, 48])?;
/// assert_eq!(train.ratio(), GearRatio::new(4, 1)?);
/// assert_eq!(train.to_string(), "72/24 × 64/48");
/// assert_eq!(train.mesh_margin_teeth(), Some(32));
/// # Ok::<(), dividing_core::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Train {
    drivers: [u16; MAX_PAIRS],
    driven: [u16; MAX_PAIRS],
    pairs: u8,
}

impl Train {
    /// A train with its gears in the given order.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] unless there are one to three pairs of gears of
    /// 1 to 1000 teeth; [`ErrorKind::Inconsistent`] when the two lists differ in
    /// length.
    pub fn new(drivers: &[u16], driven: &[u16]) -> Result<Self> {
        if drivers.len() != driven.len() {
            return Err(Error::new(
                ErrorKind::Inconsistent,
                format!(
                    "{} drivers and {} driven gears; accepted: as many of both",
                    drivers.len(),
                    driven.len()
                ),
            ));
        }
        if !(1..=MAX_PAIRS).contains(&drivers.len()) {
            return Err(Error::out_of_range(
                format!("a train of {} pairs", drivers.len()),
                "1 to 3 pairs",
            ));
        }
        if let Some(teeth) = drivers
            .iter()
            .chain(driven)
            .find(|teeth| !(1..=1000).contains(*teeth))
        {
            return Err(Error::out_of_range(
                format!("a gear of {teeth} teeth"),
                "1 to 1000 teeth",
            ));
        }
        Ok(Self::row(drivers, driven))
    }

    /// A row from lists already known to be of one to three gears each.
    fn row(drivers: &[u16], driven: &[u16]) -> Self {
        let mut train = Self {
            drivers: [0; MAX_PAIRS],
            driven: [0; MAX_PAIRS],
            pairs: 0,
        };
        for (place, (&driver, &follower)) in drivers.iter().zip(driven).take(MAX_PAIRS).enumerate()
        {
            train.drivers[place] = driver;
            train.driven[place] = follower;
            train.pairs += 1;
        }
        train
    }

    /// The row of these gears that meshes best: the largest margin, then the
    /// row that comes first when read as numbers.
    pub(super) fn in_best_order(drivers: &[u16], driven: &[u16]) -> Self {
        let mut best = Self::row(drivers, driven);
        let mut best_rank = (Reverse(best.mesh_margin_teeth()), best.drivers, best.driven);
        for row in Self::rows(drivers, driven) {
            let rank = (Reverse(row.mesh_margin_teeth()), row.drivers, row.driven);
            if rank < best_rank {
                (best, best_rank) = (row, rank);
            }
        }
        best
    }

    /// Every order of drivers and of driven, equal gears told apart.
    fn rows<'g>(drivers: &'g [u16], driven: &'g [u16]) -> impl Iterator<Item = Self> + 'g {
        let orders = orders(drivers.len());
        let arranged = |gears: &[u16], order: &[usize]| {
            let mut row = [0; MAX_PAIRS];
            for (place, &from) in order.iter().enumerate() {
                row[place] = gears.get(from).copied().unwrap_or(0);
            }
            row
        };
        orders.iter().flat_map(move |first| {
            orders.iter().map(move |second| {
                let pairs = first.len();
                Self::row(
                    &arranged(drivers, first)[..pairs],
                    &arranged(driven, second)[..pairs],
                )
            })
        })
    }

    /// How many different rows of these same gears count under a mesh rule.
    #[must_use]
    pub fn count_rows(&self, mesh: MeshRule) -> u64 {
        let mut rows: Vec<_> = Self::rows(self.drivers(), self.driven())
            .filter(|row| mesh.admits(row.mesh_margin_teeth()))
            .map(|row| (row.drivers, row.driven))
            .collect();
        rows.sort_unstable();
        rows.dedup();
        rows.len() as u64
    }

    /// Number of pairs, 1 to 3.
    #[must_use]
    pub fn pairs(&self) -> usize {
        self.pairs.into()
    }

    /// The drivers from the driving end.
    #[must_use]
    pub fn drivers(&self) -> &[u16] {
        &self.drivers[..self.pairs()]
    }

    /// The driven gears from the driving end.
    #[must_use]
    pub fn driven(&self) -> &[u16] {
        &self.driven[..self.pairs()]
    }

    /// The gears with their positions, from the driving end.
    ///
    /// ```
    /// use dividing_core::gearing::{GearRole, Train};
    /// let train = Train::new(&[72, 64], &[24, 48])?;
    /// let stud: Vec<u16> = train.gears().skip(1).take(2).map(|gear| gear.teeth).collect();
    /// assert_eq!(stud, [24, 64]);
    /// assert_eq!(train.gears().last().map(|gear| gear.role), Some(GearRole::Driven));
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    pub fn gears(&self) -> impl Iterator<Item = PlacedGear> + '_ {
        (0..self.pairs()).flat_map(|place| {
            [
                (GearRole::Driver, self.drivers[place]),
                (GearRole::Driven, self.driven[place]),
            ]
            .map(|(role, teeth)| PlacedGear {
                pair: place + 1,
                role,
                teeth,
            })
        })
    }

    /// Turns of the last driven gear for one turn of the first driver, sign left
    /// out: the product of the drivers over the product of the driven.
    #[must_use]
    pub fn ratio(&self) -> GearRatio {
        let product = |gears: &[u16]| gears.iter().map(|&teeth| u64::from(teeth)).product();
        GearRatio::of_products(product(self.drivers()), product(self.driven()))
    }

    /// The same gears driven from the other end: the ratio turned over.
    ///
    /// ```
    /// use dividing_core::gearing::Train;
    /// let train = Train::new(&[72, 64], &[24, 48])?;
    /// assert_eq!(train.reversed().to_string(), "48/64 × 24/72");
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    #[must_use]
    pub fn reversed(&self) -> Self {
        let pairs = self.pairs();
        let mut turned = *self;
        for place in 0..pairs {
            turned.drivers[place] = self.driven[pairs - 1 - place];
            turned.driven[place] = self.drivers[pairs - 1 - place];
        }
        turned
    }

    /// The least clearance of a compound row in teeth, to be greater than the
    /// allowance of a [`MeshRule`]; none for a simple train, which has no gear
    /// beside another.
    #[must_use]
    pub fn mesh_margin_teeth(&self) -> Option<i32> {
        let sum = |place: usize| i32::from(self.drivers[place]) + i32::from(self.driven[place]);
        (1..self.pairs())
            .map(|place| {
                // The stud between mesh `place − 1` and mesh `place`.
                let over_driver = sum(place - 1) - i32::from(self.drivers[place]);
                let over_driven = sum(place) - i32::from(self.driven[place - 1]);
                over_driver.min(over_driven)
            })
            .min()
    }

    /// Teeth of all gears together.
    #[must_use]
    pub fn total_teeth(&self) -> u32 {
        self.gears().map(|gear| u32::from(gear.teeth)).sum()
    }

    /// The order in which trains are listed: fewest gears, then the largest mesh
    /// margin, then the fewest teeth, then by the numbers of the row.
    pub(super) fn listing_key(&self) -> ListingKey {
        (
            self.pairs,
            Reverse(self.mesh_margin_teeth()),
            self.total_teeth(),
            self.drivers,
            self.driven,
        )
    }
}

/// The sort key of [`Train::listing_key`].
pub(super) type ListingKey = (
    u8,
    Reverse<Option<i32>>,
    u32,
    [u16; MAX_PAIRS],
    [u16; MAX_PAIRS],
);

/// All orders of so many places.
const fn orders(places: usize) -> &'static [&'static [usize]] {
    match places {
        1 => &[&[0]],
        2 => &[&[0, 1], &[1, 0]],
        _ => &[
            &[0, 1, 2],
            &[0, 2, 1],
            &[1, 0, 2],
            &[1, 2, 0],
            &[2, 0, 1],
            &[2, 1, 0],
        ],
    }
}

impl fmt::Display for Train {
    /// `driver/driven` for each pair, with × between.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (place, (driver, driven)) in self.drivers().iter().zip(self.driven()).enumerate() {
            let times = if place == 0 { "" } else { " × " };
            write!(f, "{times}{driver}/{driven}")?;
        }
        Ok(())
    }
}

/// A train in documents: its drivers and its driven gears.
#[derive(Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields, rename = "Train")]
struct TrainDocument {
    drivers: Vec<u16>,
    driven: Vec<u16>,
}

impl Serialize for Train {
    fn serialize<S: serde::Serializer>(
        &self,
        serializer: S,
    ) -> std::result::Result<S::Ok, S::Error> {
        TrainDocument {
            drivers: self.drivers().to_vec(),
            driven: self.driven().to_vec(),
        }
        .serialize(serializer)
    }
}

impl<'de> Deserialize<'de> for Train {
    fn deserialize<D: serde::Deserializer<'de>>(
        deserializer: D,
    ) -> std::result::Result<Self, D::Error> {
        let document = TrainDocument::deserialize(deserializer)?;
        Self::new(&document.drivers, &document.driven).map_err(serde::de::Error::custom)
    }
}

#[cfg(feature = "schema")]
impl schemars::JsonSchema for Train {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Train".into()
    }

    fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        TrainDocument::json_schema(generator)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn margins_follow_the_clearances() {
        let margin = |drivers: &[u16], driven: &[u16]| {
            Train::new(drivers, driven).unwrap().mesh_margin_teeth()
        };
        assert_eq!(margin(&[24], &[100]), None);
        // a=24 b=28, c=100 d=40: c fouls the shaft of a.
        assert_eq!(margin(&[24, 100], &[28, 40]), Some(24 + 28 - 100));
        // a=100 b=90, c=24 d=40: b fouls the shaft of d.
        assert_eq!(margin(&[100, 24], &[90, 40]), Some(24 + 40 - 90));
        // Third pair: e against the middle mesh, d against the last.
        assert_eq!(margin(&[50, 50, 99], &[50, 50, 50]), Some(50 + 50 - 99));
        assert_eq!(margin(&[50, 50, 20], &[50, 80, 21]), Some(20 + 21 - 80));
    }

    #[test]
    fn the_best_order_has_the_largest_margin() {
        let best = Train::in_best_order(&[24, 100], &[28, 40]);
        for row in Train::rows(&[24, 100], &[28, 40]) {
            assert!(row.mesh_margin_teeth() <= best.mesh_margin_teeth());
            assert_eq!(row.ratio(), best.ratio());
        }
        assert_eq!(best.mesh_margin_teeth(), Some(36));
    }

    #[test]
    fn rows_with_equal_gears_are_counted_once() {
        let count = |drivers: &[u16], driven: &[u16]| {
            Train::new(drivers, driven)
                .unwrap()
                .count_rows(MeshRule::RatiosAlone)
        };
        assert_eq!(count(&[24], &[48]), 1);
        assert_eq!(count(&[24, 28], &[48, 50]), 4);
        assert_eq!(count(&[24, 24], &[48, 50]), 2);
        assert_eq!(count(&[24, 28, 32], &[48, 50, 52]), 36);
        assert_eq!(count(&[24, 24, 32], &[48, 48, 48]), 3);
        let rule = MeshRule::Clear { allowance_teeth: 0 };
        let tight = Train::new(&[24, 100], &[28, 40]).unwrap();
        assert!(tight.count_rows(rule) < 4);
    }

    #[test]
    fn reversing_keeps_the_margin_and_turns_the_ratio_over() {
        let train = Train::new(&[24, 100, 30], &[28, 40, 70]).unwrap();
        let turned = train.reversed();
        assert_eq!(turned.mesh_margin_teeth(), train.mesh_margin_teeth());
        assert_eq!(turned.ratio(), train.ratio().reciprocal());
        assert_eq!(turned.reversed(), train);
    }

    #[test]
    fn bad_rows_are_refused() {
        let kind =
            |drivers: &[u16], driven: &[u16]| Train::new(drivers, driven).unwrap_err().kind();
        assert_eq!(kind(&[], &[]), ErrorKind::OutOfRange);
        assert_eq!(kind(&[24; 4], &[24; 4]), ErrorKind::OutOfRange);
        assert_eq!(kind(&[0], &[24]), ErrorKind::OutOfRange);
        assert_eq!(kind(&[24, 28], &[24]), ErrorKind::Inconsistent);
        let text = serde_json::to_string(&Train::new(&[24], &[48]).unwrap()).unwrap();
        assert_eq!(text, r#"{"drivers":[24],"driven":[48]}"#);
        assert!(serde_json::from_str::<Train>(r#"{"drivers":[0],"driven":[48]}"#).is_err());
    }
}
