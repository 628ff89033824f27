//! Correction tables for devices with a dial.

use serde::{Deserialize, Serialize};

use crate::error::{AtField, Error, Result};

use super::choice::{KnownDeviation, check_known};

/// What to add to the dial at one place.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Correction {
    /// Number of the place.
    pub place: usize,
    /// Graduations to add to the nominal setting; minus means less.
    pub graduations: i64,
    /// The same as an angle of the device, in radians.
    pub correction_rad: f64,
    /// The deviation that is left, in radians: at most half a graduation.
    pub left_rad: f64,
    /// Standard uncertainty of what is left, in radians.
    pub standard_uncertainty_rad: f64,
}

/// Makes a correction table: for each known place the whole graduations to add
/// to its nominal setting so that it stands as true as the dial allows.
///
/// `graduation_rad` is the angle of the device for one graduation, above 0; the
/// nominal settings are taken to lie on graduations. Half a graduation rounds
/// to the even number.
///
/// # Errors
/// [`ErrorKind::OutOfRange`](crate::ErrorKind::OutOfRange) and
/// [`ErrorKind::NotFinite`](crate::ErrorKind::NotFinite).
///
/// ```
/// use dividing_core::inspection::{KnownDeviation, correction_table};
/// let arcsec = std::f64::consts::PI / 648_000.0;
/// let known = [0.0, 13.0, -4.0].map(|value| {
///     Some(KnownDeviation { deviation_rad: value * arcsec, standard_uncertainty_rad: 0.0 })
/// });
/// let table = correction_table(&known, 5.0 * arcsec)?;
/// assert_eq!(table[1].graduations, -3);
/// assert!((table[1].left_rad / arcsec + 2.0).abs() < 1e-9);
/// assert_eq!(table[2].graduations, 1);
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn correction_table(
    known: &[Option<KnownDeviation>],
    graduation_rad: f64,
) -> Result<Vec<Correction>> {
    if !(1.0e-9..=10.0).contains(&graduation_rad) {
        return Err(
            Error::out_of_range(format!("{graduation_rad} rad"), "0.000000001 to 10 rad")
                .at("graduation"),
        );
    }
    let mut table = Vec::with_capacity(known.len());
    for (place, known) in known.iter().enumerate() {
        let Some(known) = known else { continue };
        check_known(known).at(format!("known[{place}]"))?;
        let steps = (-known.deviation_rad / graduation_rad).round_ties_even();
        // At most 10 / 10⁻⁹ steps.
        #[allow(
            clippy::cast_possible_truncation,
            reason = "a whole number of at most 10^10"
        )]
        let graduations = steps as i64;
        let correction_rad = steps * graduation_rad;
        table.push(Correction {
            place,
            graduations,
            correction_rad,
            left_rad: known.deviation_rad + correction_rad,
            standard_uncertainty_rad: known.standard_uncertainty_rad,
        });
    }
    Ok(table)
}
