//! The exact geometry of registration, kept beside the linear model: a pin in
//! a hole, whether it enters, and a bar resting on two pins.

use serde::Serialize;

use super::probability::{
    check_finite, check_not_negative, check_positive, normal_between, normal_probability,
};
use crate::error::{Error, ErrorKind, Result};

/// The linear model is kept while it differs from the exact geometry by no
/// more than this part of the exact value.
pub const LINEAR_MODEL_TOLERANCE: f64 = 0.005;

/// Which model gave an answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Model {
    /// The linear model, within [`LINEAR_MODEL_TOLERANCE`] of the exact one.
    Linear,
    /// The exact geometry, because the linear model is not good enough.
    Exact,
}

/// An angle by the linear and by the exact model, in radians.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct ModelledAngle {
    /// By the linear model.
    pub linear_rad: f64,
    /// By the exact geometry.
    pub exact_rad: f64,
    /// Which of the two is to be used.
    pub model: Model,
}

impl ModelledAngle {
    /// Chooses the model: linear within [`LINEAR_MODEL_TOLERANCE`] of the exact
    /// value, else exact.
    pub(super) fn choose(linear_rad: f64, exact_rad: f64) -> Result<Self> {
        check_finite(linear_rad, "angle by the linear model")?;
        check_finite(exact_rad, "angle by the exact geometry")?;
        let good = (linear_rad - exact_rad).abs() <= LINEAR_MODEL_TOLERANCE * exact_rad.abs();
        Ok(Self {
            linear_rad,
            exact_rad,
            model: if good { Model::Linear } else { Model::Exact },
        })
    }

    /// The angle by the model to be used, in radians.
    #[must_use]
    pub const fn angle_rad(self) -> f64 {
        match self.model {
            Model::Linear => self.linear_rad,
            Model::Exact => self.exact_rad,
        }
    }
}

/// How far a part can turn either way from the middle while a pin whose centre
/// is at `pin_radius_mm` from the axis stays in a hole whose centre is at
/// `hole_radius_mm`, with the given diametral clearance.
///
/// The pin stays in while the centres are within half the clearance:
/// `rp² + rh² − 2 rp rh cos δ ≤ (c/2)²`, solved as
/// `sin²(δ/2) = ((c/2)² − (rp − rh)²) / (4 rp rh)` so that small angles keep
/// their digits. The linear model is `c/(2 rh)`.
///
/// ```
/// use dividing_core::accuracy::pin_play;
/// let play = pin_play(50.0, 50.0, 0.02)?;
/// assert!((play.angle_rad() - 0.0002).abs() < 1e-12);
/// # Ok::<(), dividing_core::Error>(())
/// ```
///
/// # Errors
/// [`ErrorKind::Inconsistent`] when the pin does not enter the hole,
/// [`ErrorKind::Undetermined`] when the clearance is so large that the pin
/// does not hold the part at any angle, [`ErrorKind::OutOfRange`] or
/// [`ErrorKind::NotFinite`] for radii that are not greater than zero or a
/// negative clearance.
pub fn pin_play(
    pin_radius_mm: f64,
    hole_radius_mm: f64,
    clearance_mm: f64,
) -> Result<ModelledAngle> {
    check_positive(pin_radius_mm, "pin_radius_mm")?;
    check_positive(hole_radius_mm, "hole_radius_mm")?;
    check_not_negative(clearance_mm, "clearance_mm")?;
    let half = clearance_mm / 2.0;
    let apart = (pin_radius_mm - hole_radius_mm).abs();
    if apart > half {
        return Err(Error::new(
            ErrorKind::Inconsistent,
            format!(
                "the pin does not enter: its radius {pin_radius_mm} mm and the radius of the hole \
                 {hole_radius_mm} mm differ by {apart} mm; accepted: at most half the clearance, \
                 {half} mm"
            ),
        ));
    }
    let square = (half - apart) * (half + apart) / (4.0 * pin_radius_mm * hole_radius_mm);
    if !square.is_finite() || square >= 1.0 {
        return Err(Error::new(
            ErrorKind::Undetermined,
            format!(
                "a clearance of {clearance_mm} mm lets the part turn freely about the pin at a \
                 radius of {pin_radius_mm} mm; accepted: half the clearance below the sum of both \
                 radii"
            ),
        ));
    }
    ModelledAngle::choose(half / hole_radius_mm, 2.0 * square.sqrt().asin())
}

/// Error of angle of a hole at `hole_radius_mm` on a plate whose centre stands
/// off the spindle axis by `eccentricity_mm`, seen from the axis.
///
/// `phase_rad` is the angle of the hole less the direction of the
/// eccentricity: exactly `atan2(−e sin φ, r + e cos φ)`, to first order
/// `−(e/r) sin φ`. The part held by a pin in that hole stands off by the
/// opposite.
///
/// # Errors
/// [`ErrorKind::OutOfRange`] or [`ErrorKind::NotFinite`] for a radius that is
/// not greater than zero or a negative eccentricity, and
/// [`ErrorKind::Undetermined`] when the eccentricity is not below the radius.
pub fn eccentricity_error(
    hole_radius_mm: f64,
    eccentricity_mm: f64,
    phase_rad: f64,
) -> Result<ModelledAngle> {
    check_positive(hole_radius_mm, "hole_radius_mm")?;
    check_not_negative(eccentricity_mm, "eccentricity_mm")?;
    check_finite(phase_rad, "phase_rad")?;
    check_below_radius(eccentricity_mm, hole_radius_mm)?;
    let (sine, cosine) = phase_rad.sin_cos();
    ModelledAngle::choose(
        -eccentricity_mm / hole_radius_mm * sine,
        (-eccentricity_mm * sine).atan2(hole_radius_mm + eccentricity_mm * cosine),
    )
}

/// Refuses an eccentricity that puts the axis on the pitch circle or outside.
pub(super) fn check_below_radius(eccentricity_mm: f64, hole_radius_mm: f64) -> Result<()> {
    if eccentricity_mm < hole_radius_mm {
        return Ok(());
    }
    Err(Error::new(
        ErrorKind::Undetermined,
        format!(
            "an eccentricity of {eccentricity_mm} mm reaches the pitch radius of \
             {hole_radius_mm} mm; accepted: an eccentricity below the radius"
        ),
    ))
}

/// What must be known to say whether a plunger enters every hole. All in
/// millimetres; tolerances are the largest deviation either way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Entry {
    /// Radius of the pin's station about the spindle axis less the pitch
    /// radius of the plate, as set or measured.
    pub radius_difference_mm: f64,
    /// Largest deviation of the station's radius.
    pub pin_radius_tolerance_mm: f64,
    /// Largest radial deviation of a hole: half a position zone's diameter.
    pub hole_radius_tolerance_mm: f64,
    /// Eccentricity of the plate to the spindle axis.
    pub eccentricity_mm: f64,
    /// Least clearance of pin and hole.
    pub least_clearance_mm: f64,
    /// Greatest clearance of pin and hole.
    pub greatest_clearance_mm: f64,
}

/// Whether a plunger enters a hole.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct EntryFinding {
    /// Largest radial distance of the centres at the tolerance limits, in
    /// millimetres: everything on one side at once.
    pub worst_distance_mm: f64,
    /// Half the least clearance less that distance, in millimetres; below zero
    /// the pin can be refused.
    pub worst_margin_mm: f64,
    /// Whether the pin enters at all tolerance limits; a lack below a millionth of
    /// a millimetre is rounding.
    pub always_enters: bool,
    /// Probability that the pin enters one hole.
    pub probability: f64,
}

/// Whether a margin lets the pin enter. Sizes are given in steps of a millionth
/// of a millimetre at best; a lack of less is rounding.
pub(super) fn enters(margin_mm: f64) -> bool {
    margin_mm > -1e-6
}

impl Entry {
    /// The worst case and the probability of entry.
    ///
    /// For the probability both radial deviations are taken as normal with
    /// their limits at three standard deviations, the eccentricity as standing
    /// in a random direction (standard deviation e/√2, taken as normal too),
    /// and the clearance as uniform between its limits. The integral over the
    /// clearance is closed: with `G(x) = x Φ(x) + φ(x)` the mean of
    /// `Φ((h − m)/u)` over h is a difference of G.
    ///
    /// ```
    /// use dividing_core::accuracy::Entry;
    /// let entry = Entry {
    ///     radius_difference_mm: 0.0,
    ///     pin_radius_tolerance_mm: 0.002,
    ///     hole_radius_tolerance_mm: 0.003,
    ///     eccentricity_mm: 0.001,
    ///     least_clearance_mm: 0.004,
    ///     greatest_clearance_mm: 0.024,
    /// };
    /// let finding = entry.check()?;
    /// assert!(!finding.always_enters);
    /// assert!((finding.worst_margin_mm + 0.004).abs() < 1e-12);
    /// assert!(finding.probability > 0.99);
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] or [`ErrorKind::NotFinite`] for negative or
    /// non-finite values, [`ErrorKind::Inconsistent`] for a least clearance
    /// above the greatest.
    pub fn check(self) -> Result<EntryFinding> {
        let at = |result: Result<()>, field: &str| result.map_err(|error| error.at(field));
        at(
            check_finite(self.radius_difference_mm, "difference"),
            "radius_difference_mm",
        )?;
        for (value, field) in [
            (self.pin_radius_tolerance_mm, "pin_radius_tolerance_mm"),
            (self.hole_radius_tolerance_mm, "hole_radius_tolerance_mm"),
            (self.eccentricity_mm, "eccentricity_mm"),
            (self.least_clearance_mm, "least_clearance_mm"),
            (self.greatest_clearance_mm, "greatest_clearance_mm"),
        ] {
            at(check_not_negative(value, "length"), field)?;
        }
        if self.least_clearance_mm > self.greatest_clearance_mm {
            return Err(Error::new(
                ErrorKind::Inconsistent,
                format!(
                    "the least clearance {} mm is above the greatest, {} mm",
                    self.least_clearance_mm, self.greatest_clearance_mm
                ),
            )
            .at("least_clearance_mm"));
        }
        let worst_distance_mm = self.radius_difference_mm.abs()
            + self.pin_radius_tolerance_mm
            + self.hole_radius_tolerance_mm
            + self.eccentricity_mm;
        let worst_margin_mm = self.least_clearance_mm / 2.0 - worst_distance_mm;
        check_finite(worst_margin_mm, "margin")?;
        Ok(EntryFinding {
            worst_distance_mm,
            worst_margin_mm,
            always_enters: enters(worst_margin_mm),
            probability: self.probability(),
        })
    }

    fn probability(self) -> f64 {
        let thirds =
            (self.pin_radius_tolerance_mm / 3.0).hypot(self.hole_radius_tolerance_mm / 3.0);
        let spread = thirds.hypot(self.eccentricity_mm / std::f64::consts::SQRT_2);
        let offset = self.radius_difference_mm.abs();
        let (least, greatest) = (
            self.least_clearance_mm / 2.0,
            self.greatest_clearance_mm / 2.0,
        );
        let width = greatest - least;
        if width <= 1e-9 * spread.max(greatest) {
            return normal_between(-greatest - offset, greatest - offset, spread);
        }
        if spread <= 1e-9 * width {
            // Nothing but the clearance varies.
            return ((greatest - offset.max(least)) / width).clamp(0.0, 1.0);
        }
        // Beyond so many standard deviations Φ is 0 or 1 to the last digit.
        const FAR: f64 = 38.5;
        let mean_below = |from: f64, to: f64| {
            // Mean of Φ over its argument, from `from` to `to`.
            if from > FAR || to < -FAR {
                return if from > FAR { 1.0 } else { 0.0 };
            }
            let integral =
                |x: f64| x * normal_probability(x) + super::probability::normal_density(x);
            (integral(to) - integral(from)) / (to - from)
        };
        let upper = mean_below((least - offset) / spread, (greatest - offset) / spread);
        let lower = mean_below((-greatest - offset) / spread, (-least - offset) / spread);
        (upper - lower).clamp(0.0, 1.0)
    }
}

/// How the pins carry the bar.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum PinSeating {
    /// The pins are fixed in the plate (pressed or clamped).
    Fixed,
    /// The pins are loose and lie at the bottom of their holes, pushed there by
    /// the bar along its normal.
    AtBottom,
}

/// One pin of the pair that a bar rests on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BarSupport {
    /// Coordinates of the hole's centre, in millimetres.
    pub hole_mm: (f64, f64),
    /// Diameter of the hole, in millimetres.
    pub hole_diameter_mm: f64,
    /// Diameter of the pin, in millimetres.
    pub pin_diameter_mm: f64,
}

impl BarSupport {
    fn check(self, seating: PinSeating) -> Result<()> {
        check_finite(self.hole_mm.0, "x of the hole")?;
        check_finite(self.hole_mm.1, "y of the hole")?;
        check_positive(self.pin_diameter_mm, "pin_diameter_mm")?;
        check_positive(self.hole_diameter_mm, "hole_diameter_mm")?;
        if seating == PinSeating::AtBottom && self.pin_diameter_mm > self.hole_diameter_mm {
            return Err(Error::new(
                ErrorKind::Inconsistent,
                format!(
                    "a pin of {} mm does not lie loose in a hole of {} mm",
                    self.pin_diameter_mm, self.hole_diameter_mm
                ),
            ));
        }
        Ok(())
    }

    /// Height of the bar over the hole's centre, along the bar's normal.
    fn height_mm(self, seating: PinSeating) -> f64 {
        match seating {
            PinSeating::Fixed => self.pin_diameter_mm / 2.0,
            // Down by half the clearance, up by half the pin.
            PinSeating::AtBottom => self.pin_diameter_mm - self.hole_diameter_mm / 2.0,
        }
    }
}

/// Tilt of a straight bar against the line from the first hole's centre to the
/// second's, the bar lying to the left of that line, counter-clockwise
/// positive.
///
/// The bar is tangent to two circles; with heights s over the hole centres and
/// the baseline L the tilt is exactly `asin((s2 − s1)/L)`, to first order
/// `(s2 − s1)/L`: pins unequal by Δd tilt it by Δd/(2L) when fixed and Δd/L
/// when loose, holes unequal by ΔD by −ΔD/(2L).
///
/// ```
/// use dividing_core::accuracy::{BarSupport, PinSeating, bar_tilt};
/// let first = BarSupport { hole_mm: (0.0, 0.0), hole_diameter_mm: 6.01, pin_diameter_mm: 6.0 };
/// let second = BarSupport { hole_mm: (80.0, 0.0), pin_diameter_mm: 6.008, ..first };
/// let tilt = bar_tilt(first, second, PinSeating::AtBottom)?;
/// assert!((tilt.angle_rad() - 0.0001).abs() < 1e-9);
/// # Ok::<(), dividing_core::Error>(())
/// ```
///
/// # Errors
/// [`ErrorKind::OutOfRange`] or [`ErrorKind::NotFinite`] for impossible sizes,
/// [`ErrorKind::Inconsistent`] for a loose pin larger than its hole,
/// [`ErrorKind::Undetermined`] when the centres coincide or the bar would have
/// to stand across them.
pub fn bar_tilt(
    first: BarSupport,
    second: BarSupport,
    seating: PinSeating,
) -> Result<ModelledAngle> {
    first.check(seating).map_err(|error| error.at("first"))?;
    second.check(seating).map_err(|error| error.at("second"))?;
    let baseline_mm =
        (second.hole_mm.0 - first.hole_mm.0).hypot(second.hole_mm.1 - first.hole_mm.1);
    check_finite(baseline_mm, "baseline")?;
    let rise = second.height_mm(seating) - first.height_mm(seating);
    if baseline_mm <= rise.abs() {
        return Err(Error::new(
            ErrorKind::Undetermined,
            format!(
                "a baseline of {baseline_mm} mm cannot carry a bar over pins whose heights differ \
                 by {} mm; accepted: a longer baseline",
                rise.abs()
            ),
        ));
    }
    let slope = rise / baseline_mm;
    ModelledAngle::choose(slope, slope.asin())
}

#[cfg(test)]
#[allow(clippy::float_cmp, reason = "zeros and ones that come out exactly")]
mod tests {
    use super::*;

    #[test]
    fn the_linear_model_gives_way_to_the_exact_one() {
        // Equal radii: 2·asin(c/4r) against c/(2r), which differ by (c/4r)²/6.
        assert_eq!(pin_play(50.0, 50.0, 0.1).unwrap().model, Model::Linear);
        assert_eq!(pin_play(0.5, 0.5, 0.8).unwrap().model, Model::Exact);
        // Unequal radii take play away: half the clearance radially leaves none.
        let none = pin_play(50.0, 50.01, 0.02).unwrap();
        assert_eq!(none.model, Model::Exact);
        assert!(none.angle_rad() < 1e-7);
    }

    #[test]
    fn extremes_are_errors_or_right_answers() {
        assert_eq!(pin_play(50.0, 50.0, 0.0).unwrap().angle_rad(), 0.0);
        let kind = |result: Result<ModelledAngle>| result.unwrap_err().kind();
        assert_eq!(kind(pin_play(50.0, 50.1, 0.02)), ErrorKind::Inconsistent);
        assert_eq!(kind(pin_play(1.0, 1.0, 4.0)), ErrorKind::Undetermined);
        assert_eq!(kind(pin_play(1e-300, 1e-300, 1.0)), ErrorKind::Undetermined);
        assert_eq!(kind(pin_play(0.0, 1.0, 1.0)), ErrorKind::OutOfRange);
        assert_eq!(kind(pin_play(f64::NAN, 1.0, 1.0)), ErrorKind::NotFinite);
        assert_eq!(
            kind(eccentricity_error(1.0, 1.0, 0.0)),
            ErrorKind::Undetermined
        );
        let support = BarSupport {
            hole_mm: (0.0, 0.0),
            hole_diameter_mm: 6.0,
            pin_diameter_mm: 6.0,
        };
        assert_eq!(
            kind(bar_tilt(support, support, PinSeating::Fixed)),
            ErrorKind::Undetermined
        );
    }

    #[test]
    fn clearance_taken_up_on_one_side_cancels_between_equal_holes() {
        // Common practice, no published source.
        let support = |x: f64| BarSupport {
            hole_mm: (x, 3.0),
            hole_diameter_mm: 6.2,
            pin_diameter_mm: 6.0,
        };
        let tilt = bar_tilt(support(0.0), support(75.0), PinSeating::AtBottom).unwrap();
        assert_eq!(tilt.angle_rad(), 0.0);
    }

    /// 0.1 and 0.2 mm off, 0.6 mm of play: it just goes in, however sums round.
    #[test]
    fn a_pin_at_its_very_limit_enters() {
        let entry = Entry {
            radius_difference_mm: 0.0,
            pin_radius_tolerance_mm: 0.1,
            hole_radius_tolerance_mm: 0.2,
            eccentricity_mm: 0.0,
            least_clearance_mm: 0.6,
            greatest_clearance_mm: 0.6,
        };
        assert!(entry.check().unwrap().always_enters);
        let tighter = Entry {
            least_clearance_mm: 0.599_99,
            ..entry
        };
        assert!(!tighter.check().unwrap().always_enters);
    }

    #[test]
    fn entry_without_spread_is_decided_by_the_clearance_alone() {
        let entry = Entry {
            radius_difference_mm: 0.006,
            pin_radius_tolerance_mm: 0.0,
            hole_radius_tolerance_mm: 0.0,
            eccentricity_mm: 0.0,
            least_clearance_mm: 0.004,
            greatest_clearance_mm: 0.024,
        };
        let finding = entry.check().unwrap();
        assert!((finding.probability - 0.6).abs() < 1e-12);
        assert!(!finding.always_enters);
        let zero = Entry {
            radius_difference_mm: 0.0,
            least_clearance_mm: 0.0,
            greatest_clearance_mm: 0.0,
            ..entry
        };
        assert_eq!(zero.check().unwrap().probability, 1.0);
    }
}
