//! Least-squares circles through the caller's points.

use dividing_core::inspection::{CircleFit, MeasuredPoint, PointUncertainty, fit_circle};

use crate::array::{OutArray, slice};
use crate::error::{Failure, Outcome};
use crate::guard::guard;
use crate::pointer::Out;
use crate::status::Status;

/// A fitted circle. Lengths are in millimetres; NaN where there is nothing to
/// estimate a figure from.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct CircleRecord {
    /// Centre along X.
    pub x_mm: f64,
    /// Centre along Y.
    pub y_mm: f64,
    /// Radius.
    pub radius_mm: f64,
    /// Points less the three unknowns.
    pub degrees_of_freedom: usize,
    /// Covariance of X, Y and radius in square millimetres, row by row.
    pub covariance_mm2: [f64; 9],
    /// Sum of the squared residuals over their stated variances.
    pub chi_square: f64,
    /// Standard deviation of the residuals over the degrees of freedom.
    pub standard_deviation_mm: f64,
}

impl CircleRecord {
    pub(crate) fn of(fit: &CircleFit) -> Self {
        let mut covariance_mm2 = [f64::NAN; 9];
        if let Some(rows) = &fit.covariance_mm2 {
            for (place, value) in covariance_mm2.iter_mut().zip(rows.iter().flatten()) {
                *place = *value;
            }
        }
        Self {
            x_mm: fit.x_mm,
            y_mm: fit.y_mm,
            radius_mm: fit.radius_mm,
            degrees_of_freedom: fit.degrees_of_freedom,
            covariance_mm2,
            chi_square: fit.chi_square.unwrap_or(f64::NAN),
            standard_deviation_mm: fit.standard_deviation_mm.unwrap_or(f64::NAN),
        }
    }
}

/// Fits a circle by least squares of the distances (geometric fit) to `count`
/// points, 3 to 10000, in millimetres.
///
/// `x_uncertainty_mm` and `y_uncertainty_mm` are standard uncertainties of the
/// points, above 0; `x_uncertainty_mm` and `y_uncertainty_mm` may be NULL
/// together. The residuals, distance from the centre less
/// the radius in the order of the points, come into the caller's array of
/// `count` numbers; `residuals_mm` may be NULL.
///
/// Errors: undetermined for fewer than three points or points on a line;
/// not_finite, out_of_range; inconsistent for one uncertainty without the other;
/// null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_fit_circle(
    x_mm: *const f64,
    y_mm: *const f64,
    x_uncertainty_mm: *const f64,
    y_uncertainty_mm: *const f64,
    count: usize,
    residuals_mm: *mut f64,
    out: *mut CircleRecord,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (x, y, uncertainties, residuals, out) = unsafe {
            (
                slice(x_mm, count, "x_mm")?,
                slice(y_mm, count, "y_mm")?,
                pairs(x_uncertainty_mm, y_uncertainty_mm, count)?,
                OutArray::unless_null(residuals_mm, count, "residuals_mm")?,
                Out::new(out, "out")?,
            )
        };
        let points: Vec<MeasuredPoint> = x
            .iter()
            .zip(y)
            .enumerate()
            .map(|(index, (x_mm, y_mm))| MeasuredPoint {
                x_mm: *x_mm,
                y_mm: *y_mm,
                uncertainty: uncertainties.as_ref().and_then(|(x, y)| {
                    Some(PointUncertainty {
                        x_mm: *x.get(index)?,
                        y_mm: *y.get(index)?,
                    })
                }),
            })
            .collect();
        let fit = fit_circle(&points)?;
        let record = CircleRecord::of(&fit);
        if let Some(residuals) = residuals {
            residuals.give(&fit.residuals_mm)?;
        }
        out.write(record);
        Ok(())
    })
}

/// Both columns of uncertainties, or none.
///
/// # Safety
/// A pointer that is not null points to `count` numbers.
pub(crate) unsafe fn pairs<'a>(
    x: *const f64,
    y: *const f64,
    count: usize,
) -> Outcome<Option<(&'a [f64], &'a [f64])>> {
    match (x.is_null(), y.is_null()) {
        (true, true) => Ok(None),
        // SAFETY: the caller's contract.
        (false, false) => unsafe {
            Ok(Some((
                slice(x, count, "x_uncertainty_mm")?,
                slice(y, count, "y_uncertainty_mm")?,
            )))
        },
        _ => Err(Failure::new(
            Status::Inconsistent,
            "y_uncertainty_mm",
            "one of the two uncertainties is NULL; accepted: both or neither",
        )),
    }
}
