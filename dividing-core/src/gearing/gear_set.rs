//! The change gears a shop owns.

use serde::{Deserialize, Serialize};

use crate::error::{AtField, Error, ErrorKind, Result};

/// Fewest and most teeth of a gear.
pub const TEETH_LIMITS: (u32, u32) = (1, 1000);

/// Most gears in a set, each one counted.
pub const MAX_GEARS: usize = 200;

/// A set of change gears: tooth counts, each with how many gears are owned.
///
/// In documents a list of tooth counts, a gear owned twice written twice.
///
/// ```
/// use dividing_core::gearing::GearSet;
/// let set = GearSet::new(&[48, 24, 24, 32])?;
/// assert_eq!(set.owned(24), 2);
/// assert_eq!(set.teeth(), [24, 32, 48]);
/// assert_eq!(set.len(), 4);
/// # Ok::<(), dividing_core::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(try_from = "Vec<u32>", into = "Vec<u32>")]
pub struct GearSet {
    /// Distinct tooth counts, ascending.
    teeth: Vec<u16>,
    /// How many of each are owned, at least 1.
    owned: Vec<u8>,
}

impl GearSet {
    /// A set from its tooth counts in any order, a gear owned twice named twice.
    ///
    /// # Errors
    /// [`ErrorKind::EmptyList`] for no gear, [`ErrorKind::OutOfRange`] for a
    /// tooth count outside [`TEETH_LIMITS`] or more than [`MAX_GEARS`] gears.
    pub fn new(teeth: &[u32]) -> Result<Self> {
        if teeth.is_empty() {
            return Err(Error::new(
                ErrorKind::EmptyList,
                "the gear set is empty; accepted: at least one gear",
            ));
        }
        if teeth.len() > MAX_GEARS {
            return Err(Error::out_of_range(
                format!("a set of {} gears", teeth.len()),
                format!("at most {MAX_GEARS} gears"),
            ));
        }
        let mut sorted = teeth
            .iter()
            .enumerate()
            .map(|(place, &teeth)| checked_teeth(teeth).at(format_args!("[{place}]")))
            .collect::<Result<Vec<u16>>>()?;
        sorted.sort_unstable();
        let mut set = Self {
            teeth: Vec::new(),
            owned: Vec::new(),
        };
        for gear in sorted {
            match (set.teeth.last(), set.owned.last_mut()) {
                (Some(&last), Some(owned)) if last == gear => *owned += 1,
                _ => {
                    set.teeth.push(gear);
                    set.owned.push(1);
                }
            }
        }
        Ok(set)
    }

    /// The distinct tooth counts, ascending.
    #[must_use]
    pub fn teeth(&self) -> &[u16] {
        &self.teeth
    }

    /// How many gears of `teeth` teeth are owned.
    #[must_use]
    pub fn owned(&self, teeth: u16) -> u8 {
        self.teeth
            .binary_search(&teeth)
            .map_or(0, |place| self.owned[place])
    }

    /// How many gears there are in all, at least 1.
    #[must_use]
    #[allow(
        clippy::len_without_is_empty,
        reason = "a set always holds at least one gear"
    )]
    pub fn len(&self) -> usize {
        self.owned.iter().map(|&owned| usize::from(owned)).sum()
    }

    /// How many of the gear at a place of [`GearSet::teeth`] are owned.
    pub(super) fn owned_at(&self, place: usize) -> u8 {
        self.owned.get(place).copied().unwrap_or(0)
    }

    /// Whether the set holds all gears of a row at the same time.
    #[must_use]
    pub fn holds(&self, gears: &[u16]) -> bool {
        gears.iter().all(|gear| {
            let used = gears.iter().filter(|other| *other == gear).count();
            used <= usize::from(self.owned(*gear))
        })
    }
}

fn checked_teeth(teeth: u32) -> Result<u16> {
    let (fewest, most) = TEETH_LIMITS;
    u16::try_from(teeth)
        .ok()
        .filter(|_| (fewest..=most).contains(&teeth))
        .ok_or_else(|| {
            Error::out_of_range(
                format!("a gear of {teeth} teeth"),
                format!("{fewest} to {most} teeth"),
            )
        })
}

impl TryFrom<Vec<u32>> for GearSet {
    type Error = Error;

    fn try_from(teeth: Vec<u32>) -> Result<Self> {
        Self::new(&teeth)
    }
}

impl From<GearSet> for Vec<u32> {
    fn from(set: GearSet) -> Self {
        set.teeth
            .iter()
            .zip(&set.owned)
            .flat_map(|(&teeth, &owned)| std::iter::repeat_n(u32::from(teeth), owned.into()))
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn limits_are_named() {
        let error = GearSet::new(&[24, 1001]).unwrap_err();
        assert_eq!(error.kind(), ErrorKind::OutOfRange);
        assert_eq!(error.field(), "[1]");
        assert!(error.message().contains("1 to 1000"));
        assert_eq!(
            GearSet::new(&[0]).unwrap_err().kind(),
            ErrorKind::OutOfRange
        );
        assert_eq!(
            GearSet::new(&[70_000]).unwrap_err().kind(),
            ErrorKind::OutOfRange
        );
        assert_eq!(GearSet::new(&[]).unwrap_err().kind(), ErrorKind::EmptyList);
        assert!(GearSet::new(&[24; 201]).is_err());
        assert_eq!(GearSet::new(&[24; 200]).unwrap().owned(24), 200);
    }

    #[test]
    fn holds_counts_each_gear() {
        let set = GearSet::new(&[24, 24, 28]).unwrap();
        assert!(set.holds(&[24, 28, 24]));
        assert!(!set.holds(&[24, 28, 28]));
        assert!(!set.holds(&[30]));
    }

    #[test]
    fn documents_are_lists_of_tooth_counts() {
        let set: GearSet = serde_json::from_str("[28, 24, 24]").unwrap();
        assert_eq!(serde_json::to_string(&set).unwrap(), "[24,24,28]");
        assert!(serde_json::from_str::<GearSet>("[0]").is_err());
    }
}
