//! From measured angles of stations, equally spaced or not, to deviations.

use serde::Serialize;

use super::finding::Finding;
use super::measurement::{AngleReading, Numbering, PointReading, StationReadings, uncertainty_rad};
use super::numeric::{count, mean, median};
use crate::angle::Angle;
use crate::equipment::MAX_STATIONS;
use crate::error::{Error, ErrorKind, Result};
use crate::length::Length;

/// The deviation of one station.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct StationDeviation {
    /// Number of the station, from 0.
    pub station: usize,
    /// Where it stands less where it should, about the mean of all measured
    /// stations, in radians; positive in the sense of the numbering.
    pub deviation_rad: f64,
    /// Standard uncertainty of the deviation from the stated uncertainty of
    /// measurement, in radians.
    pub standard_uncertainty_rad: Option<f64>,
}

/// The deviations of the stations of one body.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct StationDeviations {
    /// Stations of the body, measured or not.
    pub stations: usize,
    /// The measured stations in ascending order.
    pub deviations: Vec<StationDeviation>,
    /// What was noticed.
    pub findings: Vec<Finding>,
    #[serde(skip)]
    pub(super) reading_uncertainty_rad: Option<f64>,
}

/// A station further off than this part of the least angle between two is taken
/// to be numbered, typed or measured wrong.
const LARGEST_PART_OF_GAP: f64 = 0.25;

/// Evaluates measured angles of stations that may stand at any angles.
///
/// The zero of the readings does not matter: deviations are about their mean.
///
/// # Errors
/// [`ErrorKind::OutOfRange`] for fewer than 2 or more than 1000 stations and for
/// one that is not listed, [`ErrorKind::Undetermined`] for fewer than two readings,
/// [`ErrorKind::Duplicate`], and [`ErrorKind::Inconsistent`] when the stations run
/// the other way or one stands a quarter of the least gap or more from its angle.
///
/// ```
/// use dividing_core::inspection::{AngleReading, Numbering, StationReadings, inspect_stations};
/// let angle = |text: &str| text.parse::<dividing_core::Angle>();
/// let found = inspect_stations(&StationReadings {
///     stations: vec![angle("0 deg")?, angle("33 deg")?, angle("70 deg")?],
///     numbering: Numbering::CounterClockwise,
///     standard_uncertainty_arcsec: None,
///     readings: vec![
///         AngleReading { place: 0, angle: angle("10 deg")? },
///         AngleReading { place: 1, angle: angle("43°00'09\"")? },
///         AngleReading { place: 2, angle: angle("80 deg")? },
///     ],
/// })?;
/// let arcsec = found.deviations[1].deviation_rad.to_degrees() * 3600.0;
/// assert!((arcsec - 6.0).abs() < 1e-9); // 9 less the mean of 3
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn inspect_stations(readings: &StationReadings) -> Result<StationDeviations> {
    let uncertainty = uncertainty_rad(readings.standard_uncertainty_arcsec)?;
    let stations = readings.stations.len();
    let least_gap_rad = check_stations(&readings.stations)?;
    let mut measured = vec![None; stations];
    for (index, reading) in readings.readings.iter().enumerate() {
        let here = format!("readings[{index}]");
        let Some(slot) = measured.get_mut(reading.place) else {
            let accepted = format!("0 to {}", stations - 1);
            return Err(Error::out_of_range(reading.place, accepted)
                .at("place")
                .at(here));
        };
        if slot.replace(reading.angle).is_some() {
            return Err(Error::new(
                ErrorKind::Duplicate,
                format!("station {} is listed twice; list each once", reading.place),
            )
            .at("place")
            .at(here));
        }
    }
    let measured: Vec<(usize, Angle)> = measured
        .into_iter()
        .enumerate()
        .filter_map(|(station, angle)| Some((station, angle?)))
        .collect();
    if measured.len() < 2 {
        return Err(Error::new(
            ErrorKind::Undetermined,
            format!(
                "{} measured stations have no deviation from one another; accepted: 2 or more",
                measured.len()
            ),
        )
        .at("readings"));
    }
    let raw_rad = off_by_rad(readings, &measured, readings.numbering)?;
    let limit_rad = LARGEST_PART_OF_GAP * least_gap_rad;
    if let Some((station, off_rad)) = worst(&measured, &raw_rad, limit_rad) {
        let other = match readings.numbering {
            Numbering::CounterClockwise => Numbering::Clockwise,
            Numbering::Clockwise => Numbering::CounterClockwise,
        };
        let turned_rad = off_by_rad(readings, &measured, other)?;
        if worst(&measured, &turned_rad, limit_rad).is_none() {
            return Err(Error::new(
                ErrorKind::Inconsistent,
                format!(
                    "the stations run the other way than they are numbered; if they were \
                     measured from the other side or numbered so, give numbering: {}",
                    readings.numbering.other_name()
                ),
            )
            .at("numbering"));
        }
        return Err(Error::new(
            ErrorKind::Inconsistent,
            format!(
                "station {station} stands {:.4}° from its angle, against the others; accepted: up \
                 to {:.4}°, a quarter of the least gap; check its number, its unit and its figures",
                off_rad.to_degrees(),
                limit_rad.to_degrees()
            ),
        )
        .at("readings"));
    }
    let middle_rad = mean(&raw_rad);
    let share = (1.0 - 1.0 / count(measured.len())).sqrt();
    let deviations = measured
        .iter()
        .zip(&raw_rad)
        .map(|(&(station, _), raw_rad)| StationDeviation {
            station,
            deviation_rad: raw_rad - middle_rad,
            standard_uncertainty_rad: uncertainty.map(|it| it * share),
        })
        .collect();
    let mut findings = Vec::new();
    if measured.len() < stations {
        let there = |station: &usize| measured.iter().all(|(it, _)| it != station);
        findings.push(Finding::Missing {
            places: (0..stations).filter(there).collect(),
        });
    }
    if uncertainty.is_none() {
        findings.push(Finding::NoUncertainty);
    }
    Ok(StationDeviations {
        stations,
        deviations,
        findings,
        reading_uncertainty_rad: uncertainty,
    })
}

/// Parts of a turn that directions are rounded to: millionths of a second of arc.
const PARTS_OF_A_TURN: f64 = 1_296_000_000_000.0;

/// The directions of measured points about an axis, as readings of angles: for the
/// stations of a body that were measured by coordinates. A direction is rounded to
/// a millionth of a second of arc; it is as uncertain as its point is across it,
/// over the point's distance from the axis.
///
/// # Errors
/// [`ErrorKind::Inconsistent`] for a point that lies on the axis.
///
/// ```
/// use dividing_core::Length;
/// use dividing_core::inspection::{angles_about_axis, points_from_csv};
/// let points = points_from_csv("place,x_mm,y_mm\n0,50,0\n1,0,50\n")?;
/// let readings = angles_about_axis(&points, [Length::ZERO; 2])?;
/// assert_eq!(readings[1].angle, "90 deg".parse()?);
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn angles_about_axis(points: &[PointReading], axis: [Length; 2]) -> Result<Vec<AngleReading>> {
    let mut readings = Vec::with_capacity(points.len());
    for (index, point) in points.iter().enumerate() {
        let (x, y) = (point.x.mm() - axis[0].mm(), point.y.mm() - axis[1].mm());
        if x == 0.0 && y == 0.0 {
            return Err(Error::new(
                ErrorKind::Inconsistent,
                format!(
                    "place {} lies on the axis and has no direction",
                    point.place
                ),
            )
            .at(format!("points[{index}]")));
        }
        let parts = y.atan2(x) / std::f64::consts::TAU * PARTS_OF_A_TURN;
        #[allow(clippy::cast_possible_truncation, reason = "half a turn at most")]
        let (parts, whole) = (parts.round() as i128, PARTS_OF_A_TURN as i128);
        readings.push(AngleReading {
            place: point.place,
            angle: Angle::new(parts, whole)?,
        });
    }
    Ok(readings)
}

/// The least angle between two stations, in radians.
fn check_stations(stations: &[Angle]) -> Result<f64> {
    if !(2..=MAX_STATIONS).contains(&stations.len()) {
        return Err(
            Error::out_of_range(stations.len(), format!("2 to {MAX_STATIONS} stations"))
                .at("stations"),
        );
    }
    let mut sorted: Vec<(Angle, usize)> = stations
        .iter()
        .enumerate()
        .map(|(index, angle)| (angle.within_turn(), index))
        .collect();
    sorted.sort_unstable();
    let mut next = sorted.clone();
    next.rotate_left(1);
    let mut least = Angle::FULL_TURN;
    for (&(one, first), &(other, second)) in sorted.iter().zip(&next) {
        if one == other {
            let index = first.max(second);
            return Err(Error::new(
                ErrorKind::Duplicate,
                format!("a station at {one} is listed twice; list each once"),
            )
            .at(format!("stations[{index}]")));
        }
        least = least.min(other.checked_sub(one)?.within_turn());
    }
    Ok(least.to_radians_f64())
}

/// How far each measured station is off, all counted from the first, in radians.
fn off_by_rad(
    readings: &StationReadings,
    measured: &[(usize, Angle)],
    numbering: Numbering,
) -> Result<Vec<f64>> {
    let mut first = None;
    let mut all = Vec::with_capacity(measured.len());
    for &(station, angle) in measured {
        let nominal = readings.stations.get(station).copied().unwrap_or_default();
        // Within the turn first, so that many turns cost no digits.
        let angle = match numbering {
            Numbering::CounterClockwise => angle.within_turn(),
            Numbering::Clockwise => (-angle).within_turn(),
        };
        let off = angle.checked_sub(nominal.within_turn())?;
        let from = *first.get_or_insert(off);
        all.push(off.checked_sub(from)?.within_half_turn().to_radians_f64());
    }
    Ok(all)
}

/// The station furthest from where the most of them stand, if beyond a limit.
fn worst(measured: &[(usize, Angle)], off_rad: &[f64], limit_rad: f64) -> Option<(usize, f64)> {
    let middle_rad = median(off_rad);
    measured
        .iter()
        .zip(off_rad)
        .map(|(&(station, _), off_rad)| (station, off_rad - middle_rad))
        .filter(|(_, off_rad)| off_rad.abs() > limit_rad)
        .max_by(|one, other| one.1.abs().total_cmp(&other.1.abs()))
}

#[cfg(test)]
mod tests {
    use super::*;

    const ARCSEC: f64 = std::f64::consts::PI / 648_000.0;

    fn arcsec(value: i128) -> Angle {
        Angle::new(value, 1_296_000).unwrap()
    }

    /// Stations without rule, read from a zero of its own.
    fn readings(numbering: Numbering, off: &[i128]) -> StationReadings {
        let degrees = [0, 11, 25, 47, 200];
        let sign = match numbering {
            Numbering::CounterClockwise => 1,
            Numbering::Clockwise => -1,
        };
        StationReadings {
            stations: degrees.map(|it| arcsec(3600 * it)).to_vec(),
            numbering,
            standard_uncertainty_arcsec: Some(2.0),
            readings: (0..off.len())
                .map(|place| AngleReading {
                    place,
                    angle: arcsec(sign * (3600 * degrees[place] + off[place]) + 1_111_111),
                })
                .collect(),
        }
    }

    #[test]
    fn stations_of_any_angles_come_out_about_their_mean_both_ways_round() {
        for numbering in [Numbering::CounterClockwise, Numbering::Clockwise] {
            let found = inspect_stations(&readings(numbering, &[5, -3, 8, 0, -20])).unwrap();
            // The mean of the five is −2.
            for (it, wanted) in found.deviations.iter().zip([7.0, -1.0, 10.0, 2.0, -18.0]) {
                assert!((it.deviation_rad / ARCSEC - wanted).abs() < 1e-9, "{it:?}");
                // Of a difference from the mean of five: u·√(1 − 1/5).
                let u = it.standard_uncertainty_rad.unwrap() / ARCSEC;
                assert!((u - 2.0 * 0.8_f64.sqrt()).abs() < 1e-12);
            }
            assert!(found.findings.is_empty());
            let measured = found.measured().unwrap();
            assert_eq!(measured.places, 5);
            let place = measured.at(4).unwrap();
            assert!((place.deviation_arcsec + 18.0).abs() < 1e-9);
            // Independent places, as they were read.
            assert!((place.standard_uncertainty_arcsec.unwrap() - 2.0).abs() < 1e-12);
        }
    }

    /// Holes of a body whose axis is not the zero of the machine, off by so much
    /// along the circle, counted about the mean of them.
    #[test]
    fn stations_measured_by_coordinates_are_directions_about_the_axis() {
        let off = [0.006, -0.009, 0.012, 0.0, -0.004];
        let mut given = readings(Numbering::CounterClockwise, &[0; 5]);
        let (radius, axis) = (60.0, [30.0, -12.5]);
        let points: Vec<PointReading> = given
            .stations
            .iter()
            .enumerate()
            .map(|(place, angle)| {
                let (sin, cos) = (angle.to_radians_f64() + off[place] / radius).sin_cos();
                PointReading {
                    place,
                    x: Length::from_mm(axis[0] + radius * cos).unwrap(),
                    y: Length::from_mm(axis[1] + radius * sin).unwrap(),
                    standard_uncertainty: None,
                }
            })
            .collect();
        let axis = axis.map(|it| Length::from_mm(it).unwrap());
        given.readings = angles_about_axis(&points, axis).unwrap();
        let found = inspect_stations(&given).unwrap();
        for (it, off) in found.deviations.iter().zip(off) {
            // The mean of the five is 0.001 mm.
            assert!(
                (it.deviation_rad - (off - 0.001) / radius).abs() < 1e-10,
                "{it:?}"
            );
        }
        let on_the_axis = [PointReading {
            x: axis[0],
            y: axis[1],
            ..points[0]
        }];
        let error = angles_about_axis(&on_the_axis, axis).unwrap_err();
        assert_eq!(
            (error.kind(), error.field()),
            (ErrorKind::Inconsistent, "points[0]")
        );
    }

    #[test]
    fn bad_stations_are_refused_by_field() {
        let good = readings(Numbering::CounterClockwise, &[5, -3, 8, 0, -20]);
        let refused = |change: &dyn Fn(&mut StationReadings)| {
            let mut bad = good.clone();
            change(&mut bad);
            let error = inspect_stations(&bad).unwrap_err();
            (error.kind(), error.field().to_owned())
        };
        let expect = |kind, field: &str| (kind, field.to_owned());
        assert_eq!(
            refused(&|it| it.numbering = Numbering::Clockwise),
            expect(ErrorKind::Inconsistent, "numbering")
        );
        assert_eq!(
            refused(&|it| it.readings[3].place = 5),
            expect(ErrorKind::OutOfRange, "readings[3].place")
        );
        assert_eq!(
            refused(&|it| it.readings[3].place = 1),
            expect(ErrorKind::Duplicate, "readings[3].place")
        );
        assert_eq!(
            refused(&|it| it.stations[3] = it.stations[1]),
            expect(ErrorKind::Duplicate, "stations[3]")
        );
        assert_eq!(
            refused(&|it| it.stations.truncate(1)),
            expect(ErrorKind::OutOfRange, "stations")
        );
        assert_eq!(
            refused(&|it| it.readings.truncate(1)),
            expect(ErrorKind::Undetermined, "readings")
        );
        assert_eq!(
            refused(&|it| it.standard_uncertainty_arcsec = Some(f64::NAN)),
            expect(ErrorKind::NotFinite, "standard_uncertainty_arcsec")
        );
        // Two numbers swapped: neither stands where it should.
        let swapped = refused(&|it| {
            it.readings[1].place = 2;
            it.readings[2].place = 1;
        });
        assert_eq!(swapped, expect(ErrorKind::Inconsistent, "readings"));
    }

    #[test]
    fn stations_that_were_not_measured_are_named() {
        let mut some = readings(Numbering::CounterClockwise, &[5, -3, 8, 0, -20]);
        some.readings.remove(2);
        some.standard_uncertainty_arcsec = None;
        let found = inspect_stations(&some).unwrap();
        assert_eq!(
            found.findings,
            [Finding::Missing { places: vec![2] }, Finding::NoUncertainty]
        );
        let measured = found.measured().unwrap();
        assert!(measured.at(2).is_none() && measured.at(3).is_some());
    }
}
