//! Idlers: gears that change only the sense of a train.

use serde::{Deserialize, Serialize};

use super::train::Train;

/// How the last driven gear turns against the first driver.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum RelativeSense {
    /// Both turn the same way.
    Same,
    /// They turn opposite ways.
    Opposite,
}

impl Train {
    /// The sense of the last driven gear with so many idlers in the train: every
    /// mesh reverses it, and a train of p pairs with n idlers has p + n meshes.
    ///
    /// ```
    /// use dividing_core::gearing::{RelativeSense, Train};
    /// let simple = Train::new(&[72], &[56])?;
    /// assert_eq!(simple.sense_with_idlers(0), RelativeSense::Opposite);
    /// assert_eq!(simple.sense_with_idlers(1), RelativeSense::Same);
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    #[must_use]
    pub fn sense_with_idlers(&self, idlers: u32) -> RelativeSense {
        if self.pairs().is_multiple_of(2) == idlers.is_multiple_of(2) {
            RelativeSense::Same
        } else {
            RelativeSense::Opposite
        }
    }

    /// The fewest idlers that give a sense, by the common handbook rule: a simple
    /// train has at least one, to span the distance, so one for the same sense and
    /// two for the opposite; a compound train has as few as turn it right.
    ///
    /// What sense a head needs between its spindle and its plate depends on the
    /// gearing inside it; the caller knows that.
    ///
    /// ```
    /// use dividing_core::gearing::{RelativeSense, Train};
    /// let compound = Train::new(&[72, 64], &[24, 48])?;
    /// assert_eq!(compound.idlers_for_sense(RelativeSense::Same), 0);
    /// assert_eq!(compound.idlers_for_sense(RelativeSense::Opposite), 1);
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    #[must_use]
    pub fn idlers_for_sense(&self, sense: RelativeSense) -> u32 {
        let fewest = u32::from(self.pairs() == 1);
        if self.sense_with_idlers(fewest) == sense {
            fewest
        } else {
            fewest + 1
        }
    }
}
