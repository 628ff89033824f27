//! The geometric least-squares circle through measured points.

use serde::Serialize;

use crate::error::{AtField, Error, ErrorKind, Result};
use crate::length::MAX_LENGTH_MM;

use super::cholesky::{Pivoted, Square};
use super::numeric::count;

/// Most points of one circle.
pub const MAX_POINTS: usize = 10_000;

/// Standard uncertainties of one point along the two axes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PointUncertainty {
    /// Along X, in millimetres, above 0.
    pub x_mm: f64,
    /// Along Y, in millimetres, above 0.
    pub y_mm: f64,
}

/// A measured point in the plane.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeasuredPoint {
    /// X in millimetres.
    pub x_mm: f64,
    /// Y in millimetres.
    pub y_mm: f64,
    /// Standard uncertainty of the point; all points of a fit have one or none has.
    pub uncertainty: Option<PointUncertainty>,
}

/// A circle fitted by least squares of the orthogonal distances.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct CircleFit {
    /// Centre along X, in millimetres.
    pub x_mm: f64,
    /// Centre along Y, in millimetres.
    pub y_mm: f64,
    /// Radius in millimetres.
    pub radius_mm: f64,
    /// Distance from the centre less the radius, point by point, in millimetres.
    pub residuals_mm: Vec<f64>,
    /// Points less the three unknowns.
    pub degrees_of_freedom: usize,
    /// Covariance of X, Y and radius in mm². From the stated uncertainties of
    /// the points, else from the residuals; `None` when three points without
    /// uncertainty leave nothing to estimate it from.
    pub covariance_mm2: Option<[[f64; 3]; 3]>,
    /// Sum of the squared residuals over their variances; `None` without
    /// stated uncertainties.
    pub chi_square: Option<f64>,
    /// Standard deviation of the residuals, in millimetres, over the degrees
    /// of freedom; `None` without any.
    pub standard_deviation_mm: Option<f64>,
    /// Inverse of the normal matrix, and rows of the Jacobian (weighted where
    /// uncertainties are stated): what the covariance of deviations needs.
    #[serde(skip)]
    pub(super) inverse_normal: [[f64; 3]; 3],
    #[serde(skip)]
    pub(super) jacobian: Vec<[f64; 3]>,
}

/// Fits a circle to three or more points.
///
/// Minimises `Σ (dᵢ/σᵢ)²` with dᵢ the signed orthogonal distance of point i
/// from the circle and σᵢ its standard uncertainty across the circle,
/// `σᵢ² = (uₓ·cos φᵢ)² + (u_y·sin φᵢ)²` at its direction φᵢ from the centre (the
/// effective variance of Barker and Diana, *Am. J. Phys.* 42 (1974) 224); σ = 1
/// where no uncertainty is given. Levenberg–Marquardt steps from Taubin's
/// algebraic circle (Chernov, *Circular and Linear Regression*, 2010, chapters 4
/// and 5). Covariance `(JᵀJ)⁻¹`, times the residual variance when none is given
/// (JCGM 100:2008, 4.2 and H.3).
///
/// # Errors
/// [`ErrorKind::Undetermined`] for fewer than three points, points all in a
/// line or an arc too flat to hold a centre; [`ErrorKind::Duplicate`] for two
/// points at one place; [`ErrorKind::NotFinite`] and [`ErrorKind::OutOfRange`]
/// for bad numbers; [`ErrorKind::Inconsistent`] when only some points have an
/// uncertainty.
///
/// ```
/// use dividing_core::inspection::{MeasuredPoint, fit_circle};
/// let points: Vec<MeasuredPoint> = [(52.0, 7.0), (2.0, 57.0), (-48.0, 7.0), (2.0, -43.0)]
///     .into_iter()
///     .map(|(x_mm, y_mm)| MeasuredPoint { x_mm, y_mm, uncertainty: None })
///     .collect();
/// let circle = fit_circle(&points)?;
/// assert!((circle.x_mm - 2.0).abs() < 1e-12);
/// assert!((circle.radius_mm - 50.0).abs() < 1e-12);
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn fit_circle(points: &[MeasuredPoint]) -> Result<CircleFit> {
    check(points)?;
    let frame = Frame::new(points)?;
    let weighted = points.iter().all(|point| point.uncertainty.is_some());
    let scaled: Vec<MeasuredPoint> = points.iter().map(|point| frame.inside(point)).collect();
    let (solution, jacobian) = levenberg_marquardt(&scaled, algebraic(&scaled)?)?;
    let [x, y, radius] = solution;
    // In units of the scatter of the points: beyond this nothing but rounding
    // tells the arc from a line.
    const FLATTEST: f64 = 1.0e4;
    let sound = radius < FLATTEST;
    if !sound {
        return Err(in_a_line());
    }
    let inverse = Pivoted::new(normal(&jacobian, 0.0));
    if !inverse.has_full_rank() {
        return Err(in_a_line());
    }
    let inverse = inverse.inverse();
    let scale = frame.scale_mm;
    // With weights the residuals are pure numbers and the Jacobian is per
    // length; without, the Jacobian is a pure number.
    let unit = scale * scale;
    let mut inverse_normal = [[0.0; 3]; 3];
    for (i, row) in inverse_normal.iter_mut().enumerate() {
        for (j, value) in row.iter_mut().enumerate() {
            *value = inverse.at(i, j) * if weighted { unit } else { 1.0 };
        }
    }
    let jacobian = jacobian
        .iter()
        .map(|row| row.map(|value| if weighted { value / scale } else { value }))
        .collect();
    let residuals_mm: Vec<f64> = scaled
        .iter()
        .map(|point| ((point.x_mm - x).hypot(point.y_mm - y) - radius) * scale)
        .collect();
    let degrees_of_freedom = points.len() - 3;
    let sum: f64 = residuals_mm.iter().map(|r| r * r).sum();
    let free = degrees_of_freedom > 0;
    let variance = free.then(|| sum / count(degrees_of_freedom));
    let chi_square = weighted.then(|| {
        scaled
            .iter()
            .map(|point| {
                let (residual, _) = residual_and_gradient(point, solution);
                residual * residual
            })
            .sum()
    });
    let factor = if weighted { Some(1.0) } else { variance };
    Ok(CircleFit {
        x_mm: x * scale + frame.x_mm,
        y_mm: y * scale + frame.y_mm,
        radius_mm: radius * scale,
        residuals_mm,
        degrees_of_freedom,
        covariance_mm2: factor.map(|factor| inverse_normal.map(|row| row.map(|v| v * factor))),
        chi_square,
        standard_deviation_mm: variance.map(f64::sqrt),
        inverse_normal,
        jacobian,
    })
}

fn in_a_line() -> Error {
    Error::new(
        ErrorKind::Undetermined,
        "the points lie in a line, or on an arc too flat to tell where its centre is; \
         measure points further round the circle",
    )
    .at("points")
}

fn check(points: &[MeasuredPoint]) -> Result<()> {
    if points.len() < 3 {
        return Err(Error::new(
            ErrorKind::Undetermined,
            format!(
                "{} points do not make a circle; accepted: 3 or more",
                points.len()
            ),
        )
        .at("points"));
    }
    if points.len() > MAX_POINTS {
        return Err(
            Error::out_of_range(points.len(), format!("3 to {MAX_POINTS} points")).at("points"),
        );
    }
    let with = points.iter().filter(|p| p.uncertainty.is_some()).count();
    if with != 0 && with != points.len() {
        return Err(Error::new(
            ErrorKind::Inconsistent,
            format!(
                "{with} of {} points have an uncertainty; give one to all of them or to none",
                points.len()
            ),
        )
        .at("points"));
    }
    for (i, point) in points.iter().enumerate() {
        check_point(point).at(format!("points[{i}]"))?;
    }
    check_distinct(points)
}

fn check_point(point: &MeasuredPoint) -> Result<()> {
    for (name, value) in [("x", point.x_mm), ("y", point.y_mm)] {
        if !value.is_finite() {
            return Err(Error::new(
                ErrorKind::NotFinite,
                format!("{value} is no coordinate; accepted: a finite number of millimetres"),
            )
            .at(name));
        }
        if value.abs() > MAX_LENGTH_MM {
            return Err(Error::out_of_range(
                format!("{value} mm"),
                format!("at most {MAX_LENGTH_MM} mm either way"),
            )
            .at(name));
        }
    }
    let Some(uncertainty) = point.uncertainty else {
        return Ok(());
    };
    for (name, value) in [("x", uncertainty.x_mm), ("y", uncertainty.y_mm)] {
        if !(1.0e-9..=1.0e3).contains(&value) {
            return Err(Error::out_of_range(
                format!("{value} mm"),
                "a standard uncertainty from 0.000000001 to 1000 mm",
            )
            .at(name)
            .at("uncertainty"));
        }
    }
    Ok(())
}

fn check_distinct(points: &[MeasuredPoint]) -> Result<()> {
    let mut order: Vec<usize> = (0..points.len()).collect();
    order.sort_by(|&a, &b| {
        let (a, b) = (&points[a], &points[b]);
        // + 0.0 makes one zero of both signs.
        (a.x_mm + 0.0)
            .total_cmp(&(b.x_mm + 0.0))
            .then((a.y_mm + 0.0).total_cmp(&(b.y_mm + 0.0)))
    });
    for pair in order.windows(2) {
        let (a, b) = (&points[pair[0]], &points[pair[1]]);
        let same = (a.x_mm - b.x_mm).hypot(a.y_mm - b.y_mm) == 0.0;
        if same {
            return Err(Error::new(
                ErrorKind::Duplicate,
                format!(
                    "points {} and {} both lie at X {} mm, Y {} mm; each hole is given once",
                    pair[0].min(pair[1]),
                    pair[0].max(pair[1]),
                    a.x_mm,
                    a.y_mm
                ),
            )
            .at("points"));
        }
    }
    Ok(())
}

/// A frame in which the points have mean 0 and scatter 1.
struct Frame {
    x_mm: f64,
    y_mm: f64,
    scale_mm: f64,
}

impl Frame {
    fn new(points: &[MeasuredPoint]) -> Result<Self> {
        let xs: Vec<f64> = points.iter().map(|p| p.x_mm).collect();
        let ys: Vec<f64> = points.iter().map(|p| p.y_mm).collect();
        let (x_mm, y_mm) = (super::numeric::mean(&xs), super::numeric::mean(&ys));
        let (mut xx, mut xy, mut yy) = (0.0, 0.0, 0.0);
        for point in points {
            let (x, y) = (point.x_mm - x_mm, point.y_mm - y_mm);
            xx += x * x;
            xy += x * y;
            yy += y * y;
        }
        let scatter = xx + yy;
        // Scatter across the best line over scatter along it: a straight row
        // leaves only the rounding of the coordinates.
        let sound = xx * yy - xy * xy > 1.0e-18 * scatter * scatter;
        if !sound {
            return Err(in_a_line());
        }
        Ok(Self {
            x_mm,
            y_mm,
            scale_mm: (scatter / count(points.len())).sqrt(),
        })
    }

    fn inside(&self, point: &MeasuredPoint) -> MeasuredPoint {
        MeasuredPoint {
            x_mm: (point.x_mm - self.x_mm) / self.scale_mm,
            y_mm: (point.y_mm - self.y_mm) / self.scale_mm,
            uncertainty: point.uncertainty.map(|u| PointUncertainty {
                x_mm: u.x_mm / self.scale_mm,
                y_mm: u.y_mm / self.scale_mm,
            }),
        }
    }
}

/// Taubin's circle, for points in their [`Frame`].
fn algebraic(points: &[MeasuredPoint]) -> Result<[f64; 3]> {
    let n = count(points.len());
    let (mut xx, mut xy, mut yy, mut xz, mut yz, mut zz) = (0.0, 0.0, 0.0, 0.0, 0.0, 0.0);
    for point in points {
        let (x, y) = (point.x_mm, point.y_mm);
        let z = x * x + y * y;
        xx += x * x / n;
        xy += x * y / n;
        yy += y * y / n;
        xz += x * z / n;
        yz += y * z / n;
        zz += z * z / n;
    }
    let z = xx + yy;
    let spread = xx * yy - xy * xy;
    let variance = zz - z * z;
    // Characteristic polynomial; its smallest root that is not negative.
    let a3 = 4.0 * z;
    let a2 = -3.0 * z * z - zz;
    let a1 = variance * z + 4.0 * spread * z - xz * xz - yz * yz;
    let a0 = xz * (xz * yy - yz * xy) + yz * (yz * xx - xz * xy) - variance * spread;
    let mut root = 0.0;
    for _ in 0..100 {
        let value = a0 + root * (a1 + root * (a2 + root * a3));
        let slope = a1 + root * (2.0 * a2 + root * 3.0 * a3);
        let next = root - value / slope;
        if !next.is_finite() || next < 0.0 {
            root = 0.0;
            break;
        }
        if (next - root).abs() <= 1.0e-14 * next.abs() {
            root = next;
            break;
        }
        root = next;
    }
    let determinant = 2.0 * (root * root - root * z + spread);
    let x = (xz * (yy - root) - yz * xy) / determinant;
    let y = (yz * (xx - root) - xz * xy) / determinant;
    let radius = (x * x + y * y + z).sqrt();
    if [x, y, radius].iter().all(|value| value.is_finite()) {
        Ok([x, y, radius])
    } else {
        Err(in_a_line())
    }
}

/// Weighted distance of a point from the circle, and its derivatives by X, Y
/// and radius.
fn residual_and_gradient(point: &MeasuredPoint, circle: [f64; 3]) -> (f64, [f64; 3]) {
    let (x, y) = (point.x_mm - circle[0], point.y_mm - circle[1]);
    // A point at the centre has no direction; the gradient is then nothing.
    let from_centre = x.hypot(y).max(f64::MIN_POSITIVE);
    let (cos, sin) = (x / from_centre, y / from_centre);
    let distance = from_centre - circle[2];
    let Some(uncertainty) = point.uncertainty else {
        return (distance, [-cos, -sin, -1.0]);
    };
    let (ux2, uy2) = (
        uncertainty.x_mm * uncertainty.x_mm,
        uncertainty.y_mm * uncertainty.y_mm,
    );
    let variance = ux2 * cos * cos + uy2 * sin * sin;
    let sigma = variance.sqrt();
    // d(variance)/dφ, with dφ/dX = sin/ρ and dφ/dY = −cos/ρ of the centre.
    let turn = 2.0 * (uy2 - ux2) * sin * cos;
    let lag = -distance / (2.0 * variance * sigma) * turn / from_centre;
    (
        distance / sigma,
        [
            -cos / sigma + lag * sin,
            -sin / sigma - lag * cos,
            -1.0 / sigma,
        ],
    )
}

fn normal(jacobian: &[[f64; 3]], damping: f64) -> Square {
    let mut matrix = Square::zero(3);
    for row in jacobian {
        for i in 0..3 {
            for j in 0..3 {
                matrix.add(i, j, row[i] * row[j]);
            }
        }
    }
    for i in 0..3 {
        matrix.add(i, i, damping * matrix.at(i, i));
    }
    matrix
}

fn levenberg_marquardt(
    points: &[MeasuredPoint],
    start: [f64; 3],
) -> Result<([f64; 3], Vec<[f64; 3]>)> {
    const MOST_STEPS: usize = 500;
    let evaluate = |circle: [f64; 3]| -> (f64, Vec<f64>, Vec<[f64; 3]>) {
        let (residuals, jacobian): (Vec<f64>, Vec<[f64; 3]>) = points
            .iter()
            .map(|point| residual_and_gradient(point, circle))
            .unzip();
        (residuals.iter().map(|r| r * r).sum(), residuals, jacobian)
    };
    let mut circle = start;
    let (mut cost, mut residuals, mut jacobian) = evaluate(circle);
    let mut damping = 0.0;
    for _ in 0..MOST_STEPS {
        let mut gradient = vec![0.0; 3];
        for (row, residual) in jacobian.iter().zip(&residuals) {
            for (sum, value) in gradient.iter_mut().zip(row) {
                *sum -= value * residual;
            }
        }
        let factor = Pivoted::new(normal(&jacobian, damping));
        if !factor.has_full_rank() {
            damping = f64::max(damping * 10.0, 1.0e-6);
            if damping > 1.0e12 {
                return Err(in_a_line());
            }
            continue;
        }
        let step = factor.solve(&gradient);
        let size = step.iter().map(|s| s.abs()).fold(0.0, f64::max);
        let trial = [
            circle[0] + step[0],
            circle[1] + step[1],
            circle[2] + step[2],
        ];
        let (trial_cost, trial_residuals, trial_jacobian) = evaluate(trial);
        let small = size <= 1.0e-13 * circle[2].abs().max(1.0);
        if trial_cost <= cost && trial[2] > 0.0 {
            circle = trial;
            (cost, residuals, jacobian) = (trial_cost, trial_residuals, trial_jacobian);
            damping = if damping < 1.0e-9 { 0.0 } else { damping * 0.1 };
            if small {
                return Ok((circle, jacobian));
            }
        } else {
            // At the minimum rounding alone can raise the cost.
            if small || (damping == 0.0 && size <= 1.0e-9 * circle[2].abs().max(1.0)) {
                return Ok((circle, jacobian));
            }
            damping = f64::max(damping * 10.0, 1.0e-6);
        }
    }
    Err(Error::new(
        ErrorKind::Undetermined,
        "the points do not settle on a circle; measure points further round it",
    )
    .at("points"))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn points(list: &[(f64, f64)]) -> Vec<MeasuredPoint> {
        list.iter()
            .map(|&(x_mm, y_mm)| MeasuredPoint {
                x_mm,
                y_mm,
                uncertainty: None,
            })
            .collect()
    }

    fn kind(list: &[(f64, f64)]) -> ErrorKind {
        fit_circle(&points(list)).unwrap_err().kind()
    }

    #[test]
    fn what_is_no_circle_is_refused() {
        assert_eq!(kind(&[]), ErrorKind::Undetermined);
        assert_eq!(kind(&[(0.0, 0.0), (1.0, 0.0)]), ErrorKind::Undetermined);
        let line: Vec<(f64, f64)> = (0..9)
            .map(|i| (0.1 * f64::from(i), 0.3 * f64::from(i) + 7.0))
            .collect();
        assert_eq!(kind(&line), ErrorKind::Undetermined);
        assert_eq!(
            kind(&[(0.0, 0.0), (1.0, 0.0), (0.0, 1.0), (1.0, 0.0)]),
            ErrorKind::Duplicate
        );
        assert_eq!(
            kind(&[(0.0, f64::NAN), (1.0, 0.0), (0.0, 1.0)]),
            ErrorKind::NotFinite
        );
        assert_eq!(
            kind(&[(0.0, 1.0e9), (1.0, 0.0), (0.0, 1.0)]),
            ErrorKind::OutOfRange
        );
    }

    #[test]
    fn some_uncertainties_are_refused() {
        let mut list = points(&[(0.0, 0.0), (1.0, 0.0), (0.0, 1.0)]);
        list[1].uncertainty = Some(PointUncertainty {
            x_mm: 0.001,
            y_mm: 0.001,
        });
        assert_eq!(
            fit_circle(&list).unwrap_err().kind(),
            ErrorKind::Inconsistent
        );
    }

    #[test]
    fn three_points_have_a_circle_but_no_scatter() {
        let circle = fit_circle(&points(&[(1.0, 0.0), (0.0, 1.0), (-1.0, 0.0)])).unwrap();
        assert!((circle.radius_mm - 1.0).abs() < 1e-14);
        assert_eq!(circle.degrees_of_freedom, 0);
        assert!(circle.covariance_mm2.is_none());
    }
}
