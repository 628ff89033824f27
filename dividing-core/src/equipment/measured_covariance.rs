//! How the errors of a measurement hang together from place to place.

use serde::{Deserialize, Serialize};

use super::measured::MeasuredPlace;
use crate::error::{AtField, Error, ErrorKind, Result};

/// Most measured places with a covariance for every pair.
pub const MAX_COVARIANCE_PLACES: usize = 400;

/// Relative room between a variance and the square of the stated uncertainty,
/// for figures that were written out and read again.
const SAME: f64 = 1.0e-6;

/// Covariance of the deviations of a measured ring (JCGM 100:2008, 5.2), in
/// squared seconds of arc.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum MeasuredCovariance {
    /// Depends only on how many places two of them are apart, the short way
    /// round: for 0, 1, … up to half the places. So after a closure calibration
    /// with whole rings, or chords all the way round.
    ByDifference(Vec<f64>),
    /// A row for each measured place, up to the place itself; at most 400
    /// places.
    LowerTriangle(Vec<Vec<f64>>),
}

impl MeasuredCovariance {
    /// Of two entries of the list, which stand at two places of so many.
    pub(super) fn at(
        &self,
        places: u32,
        (index, place): (usize, u32),
        (other_index, other): (usize, u32),
    ) -> Option<f64> {
        match self {
            Self::ByDifference(values) => {
                let apart = place.abs_diff(other);
                let short_way = apart.min(places.saturating_sub(apart));
                values.get(short_way as usize).copied()
            }
            Self::LowerTriangle(rows) => rows
                .get(index.max(other_index))?
                .get(index.min(other_index))
                .copied(),
        }
    }

    /// Refuses what does not belong to a list of measured places.
    pub(super) fn check(&self, places: u32, list: &[MeasuredPlace]) -> Result<()> {
        let mut variances = Vec::with_capacity(list.len());
        for place in list {
            let Some(uncertainty) = place.standard_uncertainty_arcsec else {
                return Err(Error::new(
                    ErrorKind::Inconsistent,
                    format!(
                        "a covariance of place {}, which has no standard_uncertainty_arcsec; \
                         give one to every place",
                        place.place
                    ),
                ));
            };
            variances.push(uncertainty * uncertainty);
        }
        match self {
            Self::ByDifference(values) => check_length(
                values.len(),
                places as usize / 2 + 1,
                "values, one for 0 places apart and on to half the turn",
            )
            .and_then(|()| {
                let own = values.first().copied().unwrap_or(0.0);
                for variance in &variances {
                    check_variance(own, *variance).at("[0]")?;
                }
                for (index, value) in values.iter().enumerate() {
                    check_covariance(*value, own, own).at(format!("[{index}]"))?;
                }
                Ok(())
            })
            .at("by_difference"),
            Self::LowerTriangle(rows) => check_rows(rows, &variances).at("lower_triangle"),
        }
    }
}

fn check_rows(rows: &[Vec<f64>], variances: &[f64]) -> Result<()> {
    if variances.len() > MAX_COVARIANCE_PLACES {
        return Err(Error::out_of_range(
            format!("{} measured places", variances.len()),
            format!("at most {MAX_COVARIANCE_PLACES} with a covariance for every pair"),
        ));
    }
    check_length(
        rows.len(),
        variances.len(),
        "rows, one for each measured place",
    )?;
    for (row, (values, variance)) in rows.iter().zip(variances).enumerate() {
        let here = format!("[{row}]");
        check_length(values.len(), row + 1, "values, up to the place itself").at(&here)?;
        for (column, (value, other)) in values.iter().zip(variances).enumerate() {
            let checked = if column == row {
                check_variance(*value, *variance)
            } else {
                check_covariance(*value, *variance, *other)
            };
            checked.at(format!("[{column}]")).at(&here)?;
        }
    }
    Ok(())
}

fn check_length(found: usize, wanted: usize, what: &str) -> Result<()> {
    if found == wanted {
        return Ok(());
    }
    Err(Error::new(
        ErrorKind::Inconsistent,
        format!("{found} where {wanted} are wanted; accepted: {wanted} {what}"),
    ))
}

fn check_finite(value: f64) -> Result<()> {
    if value.is_finite() {
        return Ok(());
    }
    Err(Error::new(
        ErrorKind::NotFinite,
        format!("{value} is not finite; accepted: squared seconds of arc"),
    ))
}

fn check_variance(value: f64, wanted: f64) -> Result<()> {
    check_finite(value)?;
    if (value - wanted).abs() <= SAME * wanted {
        return Ok(());
    }
    Err(Error::new(
        ErrorKind::Inconsistent,
        format!("a variance of {value} arcsec²; accepted: the squared uncertainty, {wanted}"),
    ))
}

/// No covariance is larger than the root of the product of the variances.
fn check_covariance(value: f64, one: f64, other: f64) -> Result<()> {
    check_finite(value)?;
    let largest = (one * other).sqrt();
    if value.abs() <= largest * (1.0 + SAME) {
        return Ok(());
    }
    Err(Error::out_of_range(
        format!("a covariance of {value} arcsec²"),
        format!("at most {largest} arcsec² either way, by the uncertainties"),
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn places(uncertainties: &[Option<f64>]) -> Vec<MeasuredPlace> {
        (0..)
            .zip(uncertainties)
            .map(|(place, &standard_uncertainty_arcsec)| MeasuredPlace {
                place,
                deviation_arcsec: 0.0,
                standard_uncertainty_arcsec,
                radial: None,
                radial_uncertainty: None,
            })
            .collect()
    }

    #[test]
    fn what_does_not_belong_to_the_places_is_refused() {
        let list = places(&[Some(2.0); 4]);
        let refused = |covariance: MeasuredCovariance, list: &[MeasuredPlace]| {
            let error = covariance.check(4, list).unwrap_err();
            (error.kind(), error.field().to_owned())
        };
        let by = MeasuredCovariance::ByDifference;
        let rows = MeasuredCovariance::LowerTriangle;
        assert!(by(vec![4.0, 1.0, -1.0]).check(4, &list).is_ok());
        let whole = vec![
            vec![4.0],
            vec![1.0, 4.0],
            vec![0.0, 1.0, 4.0],
            vec![0.0, 0.0, 1.0, 4.0],
        ];
        assert!(rows(whole.clone()).check(4, &list).is_ok());
        let inconsistent = ErrorKind::Inconsistent;
        assert_eq!(
            refused(by(vec![4.0, 1.0]), &list),
            (inconsistent, "by_difference".into())
        );
        assert_eq!(
            refused(by(vec![5.0, 1.0, 1.0]), &list).1,
            "by_difference[0]"
        );
        assert_eq!(
            refused(by(vec![4.0, 4.1, 0.0]), &list),
            (ErrorKind::OutOfRange, "by_difference[1]".into())
        );
        assert_eq!(
            refused(by(vec![4.0, f64::NAN, 0.0]), &list).0,
            ErrorKind::NotFinite
        );
        let mut short = whole.clone();
        short[2].pop();
        assert_eq!(refused(rows(short), &list).1, "lower_triangle[2]");
        let mut wrong = whole;
        wrong[3][3] = 9.0;
        assert_eq!(refused(rows(wrong), &list).1, "lower_triangle[3][3]");
        let mut without = list;
        without[1].standard_uncertainty_arcsec = None;
        assert_eq!(refused(by(vec![4.0, 1.0, 1.0]), &without).0, inconsistent);
    }
}
