//! Nominal sets of gauge blocks as makers sell them.
//!
//! The inch set of 81 pieces follows H. Jack, *Engineer On a Disk* (Grand Valley
//! State University, 2001), chapter on gauge blocks. The other sets are written
//! from memory as makers commonly compose them; sets of the same count from
//! different makers differ (88 and 47 pieces above all), so compare with the lid
//! of the box.

use serde::{Deserialize, Serialize};

use super::blocks::{BlockSet, BlockUnit};

/// A named set of gauge blocks.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum NamedBlockSet {
    /// 112 pieces, 0.5 to 100 mm, steps of 0.0005 mm (from memory).
    #[serde(rename = "metric_112")]
    Metric112,
    /// 103 pieces, 0.5 to 100 mm, steps of 0.005 mm (from memory).
    #[serde(rename = "metric_103")]
    Metric103,
    /// 87 pieces, 0.5 to 100 mm, steps of 0.001 mm (from memory).
    #[serde(rename = "metric_87")]
    Metric87,
    /// 47 pieces, 1 to 100 mm, steps of 0.005 mm (from memory).
    #[serde(rename = "metric_47")]
    Metric47,
    /// 32 pieces, 1 to 60 mm, steps of 0.005 mm (from memory).
    #[serde(rename = "metric_32")]
    Metric32,
    /// 81 pieces, 0.05 to 4 in, steps of 0.0001 in (source in the module's text).
    #[serde(rename = "inch_81")]
    Inch81,
    /// 36 pieces, 0.1 to 4 in, steps of 0.0001 in (from memory).
    #[serde(rename = "inch_36")]
    Inch36,
}

/// A run of blocks: first, step and count, in the unit of the set.
type Run = (u32, u32, u32);

impl NamedBlockSet {
    /// Every named set.
    pub const ALL: [Self; 7] = [
        Self::Metric112,
        Self::Metric103,
        Self::Metric87,
        Self::Metric47,
        Self::Metric32,
        Self::Inch81,
        Self::Inch36,
    ];

    /// The blocks of the set.
    ///
    /// ```
    /// use dividing_core::gauge_blocks::NamedBlockSet;
    /// let set = NamedBlockSet::Metric112.blocks();
    /// assert_eq!(set.units().len(), 112);
    /// // The finest block is 1.0005 mm, in tenths of a micrometre.
    /// assert!(set.units().contains(&10_005));
    /// ```
    #[must_use]
    pub fn blocks(self) -> BlockSet {
        let units = self
            .runs()
            .iter()
            .flat_map(|&(first, step, count)| (0..count).map(move |place| first + step * place))
            .collect();
        BlockSet::from_checked(self.unit(), units)
    }

    /// The unit in which the set is kept.
    #[must_use]
    pub const fn unit(self) -> BlockUnit {
        match self {
            Self::Metric112
            | Self::Metric103
            | Self::Metric87
            | Self::Metric47
            | Self::Metric32 => BlockUnit::TenthMicrometre,
            Self::Inch81 | Self::Inch36 => BlockUnit::HundredThousandthInch,
        }
    }

    const fn runs(self) -> &'static [Run] {
        match self {
            // Tenths of a micrometre: 1 mm is 10 000.
            Self::Metric112 => &[
                (10_005, 5, 1),
                (10_010, 10, 9),
                (10_100, 100, 49),
                (5_000, 5_000, 49),
                (250_000, 250_000, 4),
            ],
            Self::Metric103 => &[
                (10_050, 50, 1),
                (10_100, 100, 49),
                (5_000, 5_000, 49),
                (250_000, 250_000, 4),
            ],
            Self::Metric87 => &[
                (10_010, 10, 9),
                (10_100, 100, 49),
                (5_000, 5_000, 19),
                (100_000, 100_000, 10),
            ],
            Self::Metric47 => &[
                (10_050, 50, 1),
                (10_100, 100, 19),
                (12_000, 1_000, 8),
                (10_000, 10_000, 9),
                (100_000, 100_000, 10),
            ],
            Self::Metric32 => &[
                (10_050, 50, 1),
                (10_100, 100, 9),
                (11_000, 1_000, 9),
                (10_000, 10_000, 9),
                (100_000, 100_000, 3),
                (600_000, 100_000, 1),
            ],
            // Hundred-thousandths of an inch: 1 in is 100 000.
            Self::Inch81 => &[
                (10_010, 10, 9),
                (10_100, 100, 49),
                (5_000, 5_000, 19),
                (100_000, 100_000, 4),
            ],
            Self::Inch36 => &[
                (10_010, 10, 9),
                (10_100, 100, 9),
                (11_000, 1_000, 9),
                (10_000, 10_000, 5),
                (100_000, 100_000, 4),
            ],
        }
    }
}
