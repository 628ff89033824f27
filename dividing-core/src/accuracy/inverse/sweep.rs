//! Many clearances, tolerances and radii at once: arrays in, arrays out.

use crate::accuracy::probability::{check_not_negative, check_positive};
use crate::error::{AtField, Error, ErrorKind, Result};

/// Largest difference of two eccentricity errors over N equal features, in
/// radians: `2e/r` for N even, `2(e/r)·cos(π/2N)` for N odd.
///
/// N points at equal angles on a sinusoid of amplitude e/r: opposite extremes
/// are both hit when N is even and one is missed by a quarter step either way
/// when N is odd.
///
/// ```
/// use dividing_core::accuracy::eccentricity_peak_to_peak_rad;
/// assert_eq!(eccentricity_peak_to_peak_rad(0.025, 50.0, 12)?, 0.001);
/// # Ok::<(), dividing_core::Error>(())
/// ```
///
/// # Errors
/// [`ErrorKind::OutOfRange`] for a negative eccentricity, a radius that is not
/// greater than zero or no feature; [`ErrorKind::NotFinite`] for values that
/// are not finite.
pub fn eccentricity_peak_to_peak_rad(
    eccentricity_mm: f64,
    radius_mm: f64,
    features: u32,
) -> Result<f64> {
    check_not_negative(eccentricity_mm, "eccentricity_mm")?;
    check_positive(radius_mm, "radius_mm")?;
    if features == 0 {
        return Err(Error::out_of_range("0 features", "1 or more"));
    }
    let amplitude = eccentricity_mm / radius_mm;
    finite(if features == 1 {
        0.0
    } else if features.is_multiple_of(2) {
        2.0 * amplitude
    } else {
        2.0 * amplitude * (std::f64::consts::FRAC_PI_2 / f64::from(features)).cos()
    })
}

fn finite(value: f64) -> Result<f64> {
    if value.is_finite() {
        Ok(value)
    } else {
        Err(Error::new(
            ErrorKind::Overflow,
            "the answer is too large for a number; use smaller lengths or a larger radius",
        ))
    }
}

/// One column of a sweep: its name, its values and whether 0 is allowed.
type Column<'a> = (&'static str, &'a [f64], bool);

/// The common length of the columns; a column of one value stands for all rows.
fn rows(columns: &[Column<'_>]) -> Result<usize> {
    let mut rows = 1;
    for (name, values, zero_allowed) in columns {
        match values.len() {
            0 => {
                return Err(Error::new(
                    ErrorKind::EmptyList,
                    "a column of a sweep needs one value or one for each row",
                )
                .at(name));
            }
            1 => {}
            many if rows == 1 || rows == many => rows = many,
            many => {
                return Err(Error::new(
                    ErrorKind::Inconsistent,
                    format!("{many} values do not go with the {rows} of another column"),
                )
                .at(name));
            }
        }
        for (index, value) in values.iter().enumerate() {
            let checked = if *zero_allowed {
                check_not_negative(*value, name)
            } else {
                check_positive(*value, name)
            };
            // The path is written for a refusal alone: a million rows pass here.
            checked.map_err(|error| error.at(format!("{name}[{index}]")))?;
        }
    }
    Ok(rows)
}

/// The value of a column in a row.
fn cell(values: &[f64], row: usize) -> f64 {
    values.get(row).or(values.first()).copied().unwrap_or(0.0)
}

/// Plungers: every column holds one value for all rows or one for each.
///
/// ```
/// use dividing_core::accuracy::PlungerSweep;
/// let sweep = PlungerSweep {
///     pitch_radius_mm: &[50.0],
///     hole_deviation_mm: &[0.005],
///     station_deviation_mm: &[0.0],
///     clearance_mm: &[0.0, 0.010, 0.020],
///     bore_clearance_mm: &[0.0],
///     eccentricity_mm: &[0.0],
/// };
/// let worst = sweep.worst_case_rad()?;
/// assert!((worst[2] - 0.0003).abs() < 1e-15);
/// # Ok::<(), dividing_core::Error>(())
/// ```
#[derive(Clone, Copy, Debug)]
pub struct PlungerSweep<'a> {
    /// Pitch radius of the holes.
    pub pitch_radius_mm: &'a [f64],
    /// Largest tangential deviation of a hole: half a position zone's diameter.
    pub hole_deviation_mm: &'a [f64],
    /// Largest tangential deviation of the station.
    pub station_deviation_mm: &'a [f64],
    /// Hole less pin.
    pub clearance_mm: &'a [f64],
    /// Bore less plunger, in series with the pin.
    pub bore_clearance_mm: &'a [f64],
    /// Eccentricity of the plate to the spindle axis.
    pub eccentricity_mm: &'a [f64],
}

/// One row of plungers.
pub(super) struct PlungerRow {
    pub(super) pitch_radius_mm: f64,
    pub(super) hole_deviation_mm: f64,
    pub(super) clearance_mm: f64,
    pub(super) bore_clearance_mm: f64,
    pub(super) eccentricity_mm: f64,
}

impl PlungerSweep<'_> {
    pub(super) fn row(&self, row: usize) -> PlungerRow {
        PlungerRow {
            pitch_radius_mm: cell(self.pitch_radius_mm, row),
            hole_deviation_mm: cell(self.hole_deviation_mm, row),
            clearance_mm: cell(self.clearance_mm, row),
            bore_clearance_mm: cell(self.bore_clearance_mm, row),
            eccentricity_mm: cell(self.eccentricity_mm, row),
        }
    }

    fn lengths(&self) -> [Column<'_>; 5] {
        [
            ("hole_deviation_mm", self.hole_deviation_mm, true),
            ("station_deviation_mm", self.station_deviation_mm, true),
            ("clearance_mm", self.clearance_mm, true),
            ("bore_clearance_mm", self.bore_clearance_mm, true),
            ("eccentricity_mm", self.eccentricity_mm, true),
        ]
    }

    fn with_radius(&self) -> Result<usize> {
        let [hole, station, clearance, bore, eccentricity] = self.lengths();
        let radius = ("pitch_radius_mm", self.pitch_radius_mm, false);
        rows(&[radius, hole, station, clearance, bore, eccentricity])
    }

    /// Tangential deviation at worst, without the pin's clearance.
    fn without_clearance_mm(&self, row: usize) -> f64 {
        cell(self.hole_deviation_mm, row)
            + cell(self.station_deviation_mm, row)
            + cell(self.bore_clearance_mm, row) / 2.0
            + cell(self.eccentricity_mm, row)
    }

    /// Worst case of each row in radians:
    /// `(hole + station + (clearance + bore clearance)/2 + eccentricity)/radius`.
    ///
    /// # Errors
    /// [`ErrorKind::EmptyList`] and [`ErrorKind::Inconsistent`] for columns
    /// without values or of unequal length, [`ErrorKind::OutOfRange`] and
    /// [`ErrorKind::NotFinite`] for impossible values.
    pub fn worst_case_rad(&self) -> Result<Vec<f64>> {
        (0..self.with_radius()?)
            .map(|row| {
                let total = self.without_clearance_mm(row) + cell(self.clearance_mm, row) / 2.0;
                finite(total / cell(self.pitch_radius_mm, row))
            })
            .collect()
    }

    /// Combined standard uncertainty of each row in radians, with the holes
    /// and the stations uniform in discs of their deviation (half of it), free
    /// seating in both clearances (a quarter of each), and an eccentricity of
    /// unknown direction (e/√2).
    ///
    /// # Errors
    /// As [`PlungerSweep::worst_case_rad`].
    pub fn standard_uncertainty_rad(&self) -> Result<Vec<f64>> {
        (0..self.with_radius()?)
            .map(|row| {
                let total = (cell(self.hole_deviation_mm, row) / 2.0)
                    .hypot(cell(self.station_deviation_mm, row) / 2.0)
                    .hypot(cell(self.clearance_mm, row) / 4.0)
                    .hypot(cell(self.bore_clearance_mm, row) / 4.0)
                    .hypot(cell(self.eccentricity_mm, row) / std::f64::consts::SQRT_2);
                finite(total / cell(self.pitch_radius_mm, row))
            })
            .collect()
    }

    /// Largest clearance of each row, in millimetres, that keeps the worst
    /// case within a limit; none where the rest alone breaks it. The column
    /// `clearance_mm` is not used.
    ///
    /// # Errors
    /// As [`PlungerSweep::worst_case_rad`], also for a limit that is not
    /// greater than zero.
    pub fn loosest_clearance_mm(&self, limit_rad: f64) -> Result<Vec<Option<f64>>> {
        check_positive(limit_rad, "limit_rad").at("limit_rad")?;
        let [hole, station, _, bore, eccentricity] = self.lengths();
        let radius = ("pitch_radius_mm", self.pitch_radius_mm, false);
        (0..rows(&[radius, hole, station, bore, eccentricity])?)
            .map(|row| {
                let allowed = limit_rad * cell(self.pitch_radius_mm, row);
                let left = finite(2.0 * (allowed - self.without_clearance_mm(row)))?;
                Ok((left >= 0.0).then_some(left))
            })
            .collect()
    }

    /// Least pitch radius of each row, in millimetres, that keeps the worst
    /// case within a limit. The column `pitch_radius_mm` is not used.
    ///
    /// # Errors
    /// As [`PlungerSweep::loosest_clearance_mm`].
    pub fn least_pitch_radius_mm(&self, limit_rad: f64) -> Result<Vec<f64>> {
        check_positive(limit_rad, "limit_rad").at("limit_rad")?;
        (0..rows(&self.lengths())?)
            .map(|row| {
                let total = self.without_clearance_mm(row) + cell(self.clearance_mm, row) / 2.0;
                finite(total / limit_rad)
            })
            .collect()
    }
}

/// Bars over two pins: every column holds one value for all rows or one for
/// each.
#[derive(Clone, Copy, Debug)]
pub struct BarSweep<'a> {
    /// Distance of the two holes.
    pub baseline_mm: &'a [f64],
    /// Largest deviation of one hole along the bar's normal: half a position
    /// zone's diameter.
    pub hole_deviation_mm: &'a [f64],
    /// Largest difference of the two pins' diameters.
    pub pin_difference_mm: &'a [f64],
    /// Largest difference of the two holes' diameters.
    pub hole_difference_mm: &'a [f64],
    /// Straightness of the bar over the baseline.
    pub straightness_mm: &'a [f64],
    /// Reading of the levelling over the baseline.
    pub levelling_mm: &'a [f64],
}

/// One row of bars.
pub(super) struct BarRow {
    pub(super) baseline_mm: f64,
    pub(super) hole_deviation_mm: f64,
    pub(super) pin_difference_mm: f64,
    pub(super) hole_difference_mm: f64,
    pub(super) straightness_mm: f64,
    pub(super) levelling_mm: f64,
}

impl BarSweep<'_> {
    pub(super) fn row(&self, row: usize) -> BarRow {
        BarRow {
            baseline_mm: cell(self.baseline_mm, row),
            hole_deviation_mm: cell(self.hole_deviation_mm, row),
            pin_difference_mm: cell(self.pin_difference_mm, row),
            hole_difference_mm: cell(self.hole_difference_mm, row),
            straightness_mm: cell(self.straightness_mm, row),
            levelling_mm: cell(self.levelling_mm, row),
        }
    }

    fn lengths(&self) -> [Column<'_>; 5] {
        [
            ("hole_deviation_mm", self.hole_deviation_mm, true),
            ("pin_difference_mm", self.pin_difference_mm, true),
            ("hole_difference_mm", self.hole_difference_mm, true),
            ("straightness_mm", self.straightness_mm, true),
            ("levelling_mm", self.levelling_mm, true),
        ]
    }

    /// Normal deviation at worst; loose pins count their difference in full and
    /// add half that of the holes.
    fn total_mm(&self, row: usize, loose: bool) -> f64 {
        let pins = cell(self.pin_difference_mm, row);
        let seating = if loose {
            pins + cell(self.hole_difference_mm, row) / 2.0
        } else {
            pins / 2.0
        };
        2.0 * cell(self.hole_deviation_mm, row)
            + seating
            + cell(self.straightness_mm, row)
            + cell(self.levelling_mm, row)
    }

    fn worst_case(&self, loose: bool) -> Result<Vec<f64>> {
        let [hole, pins, holes, straightness, levelling] = self.lengths();
        let baseline = ("baseline_mm", self.baseline_mm, false);
        (0..rows(&[baseline, hole, pins, holes, straightness, levelling])?)
            .map(|row| finite(self.total_mm(row, loose) / cell(self.baseline_mm, row)))
            .collect()
    }

    /// Worst case of each row in radians with pins fixed in their holes:
    /// `(2 hole + pin difference/2 + straightness + levelling)/baseline`.
    ///
    /// # Errors
    /// As [`PlungerSweep::worst_case_rad`].
    pub fn fixed_worst_case_rad(&self) -> Result<Vec<f64>> {
        self.worst_case(false)
    }

    /// Worst case of each row in radians with loose pins lying at the bottom of
    /// their holes under a level bar: `(2 hole + pin difference + hole
    /// difference/2 + straightness + levelling)/baseline`.
    ///
    /// # Errors
    /// As [`PlungerSweep::worst_case_rad`].
    pub fn loose_worst_case_rad(&self) -> Result<Vec<f64>> {
        self.worst_case(true)
    }

    fn standard_uncertainty(&self, loose: bool) -> Result<Vec<f64>> {
        let [hole, pins, holes, straightness, levelling] = self.lengths();
        let baseline = ("baseline_mm", self.baseline_mm, false);
        let share = if loose { 1.0 } else { 0.5 };
        (0..rows(&[baseline, hole, pins, holes, straightness, levelling])?)
            .map(|row| {
                let hole_share = if loose { 0.5 } else { 0.0 };
                let uniform = (share * cell(self.pin_difference_mm, row))
                    .hypot(hole_share * cell(self.hole_difference_mm, row))
                    .hypot(cell(self.straightness_mm, row))
                    .hypot(cell(self.levelling_mm, row));
                let total = (cell(self.hole_deviation_mm, row) / std::f64::consts::SQRT_2)
                    .hypot(uniform / 3.0_f64.sqrt());
                finite(total / cell(self.baseline_mm, row))
            })
            .collect()
    }

    /// Combined standard uncertainty of each row in radians with fixed pins: both
    /// holes uniform in discs of their deviation (together deviation/√2), all
    /// else uniform (limit/√3).
    ///
    /// # Errors
    /// As [`PlungerSweep::worst_case_rad`].
    pub fn fixed_standard_uncertainty_rad(&self) -> Result<Vec<f64>> {
        self.standard_uncertainty(false)
    }

    /// The same with loose pins under a level bar.
    ///
    /// # Errors
    /// As [`PlungerSweep::worst_case_rad`].
    pub fn loose_standard_uncertainty_rad(&self) -> Result<Vec<f64>> {
        self.standard_uncertainty(true)
    }

    /// Least baseline of each row, in millimetres, that keeps the worst case of
    /// loose pins within a limit. The column `baseline_mm` is not used.
    ///
    /// # Errors
    /// As [`PlungerSweep::worst_case_rad`], also for a limit that is not
    /// greater than zero.
    pub fn least_baseline_mm(&self, limit_rad: f64) -> Result<Vec<f64>> {
        check_positive(limit_rad, "limit_rad").at("limit_rad")?;
        (0..rows(&self.lengths())?)
            .map(|row| finite(self.total_mm(row, true) / limit_rad))
            .collect()
    }
}
