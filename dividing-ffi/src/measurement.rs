//! Measurements: readings of a plate or a part, from arrays, CSV or JSON.

use std::ffi::c_char;

use dividing_core::FORMAT;
use dividing_core::inspection::{
    AngleReading, AngleReadings, AxisUncertainty, ChordReading, ChordReadings, ClosureReadings,
    CoordinateReadings, DeviationReading, DeviationReadings, Measurement, Numbering, PointReading,
    Readings, SetupReadings, StationReadings, angles_about_axis, angles_from_csv, chords_from_csv,
    closure_from_csv, deviations_from_csv, points_from_csv,
};

use crate::angle::Fraction;
use crate::array::{OutArray, slice};
use crate::circle::pairs;
use crate::error::{Failure, Outcome};
use crate::fields::{OptionalLength, chosen, length, string, yes};
use crate::guard::guard;
use crate::handle;
use crate::live::{self, Handle};
use crate::plate_fields::angles;
use crate::pointer::{Out, reference};
use crate::status::Status;
use crate::text;

/// Readings of a plate or a part: an opaque handle.
///
/// Made by dividing_measurement_points and its like, freed by
/// dividing_measurement_free. It never changes in between, so any number of
/// threads may read it at a time.
pub struct MeasurementHandle {
    measurement: Measurement,
}

impl Handle for MeasurementHandle {
    const MARK: [u8; 8] = *b"measurem";
}

impl MeasurementHandle {
    fn of(name: Option<String>, readings: Readings) -> Outcome<Self> {
        let measurement = Measurement {
            format: FORMAT,
            name,
            measured_by: None,
            measured_on: None,
            instrument: None,
            temperature: None,
            readings,
        };
        Ok(Self { measurement })
    }

    pub(crate) const fn measurement(&self) -> &Measurement {
        &self.measurement
    }
}

/// What is said of a ring of readings besides the readings. All zeros stand for
/// "not given", places apart.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct RingFields {
    /// What was measured, in free words; NULL where not said. Ends with NUL.
    pub name: *const c_char,
    /// Equally spaced places round the turn, measured or not, 3 to 10000; of a
    /// closure calibration its positions, 2 to 21600.
    pub places: usize,
    /// Which way the places are numbered: a dividing_sense. Of coordinates and
    /// angles.
    pub numbering: i32,
    /// 1 when the two fields below give the axis that the part turns about. Of
    /// coordinates.
    pub axis: i32,
    /// The axis along X, in millimetres.
    pub axis_x_mm: f64,
    /// The axis along Y.
    pub axis_y_mm: f64,
    /// Radius: of coordinates the one that the drawing asks for, of angles and
    /// deviations the one that turns them into lengths.
    pub radius: OptionalLength,
    /// Standard uncertainty of every reading, above 0; 0 where not stated: in
    /// millimetres of points and chords, in seconds of arc of the others.
    pub standard_uncertainty: f64,
    /// Spaces between the two pins of a chord; 0 stands for 1.
    pub span: usize,
    /// Diameter of the pins in millimetres; 0 for chords between centres.
    pub pin_diameter_mm: f64,
}

impl RingFields {
    /// # Safety
    /// `name` is as its comment says.
    unsafe fn name(&self) -> Outcome<Option<String>> {
        if self.name.is_null() {
            return Ok(None);
        }
        // SAFETY: the caller's contract.
        unsafe { string(self.name, "name") }.map(Some)
    }

    fn numbering(&self) -> Outcome<Numbering> {
        let ways = [Numbering::CounterClockwise, Numbering::Clockwise];
        chosen(self.numbering, "numbering", &ways)
    }

    fn uncertainty_arcsec(&self) -> Option<f64> {
        (self.standard_uncertainty != 0.0).then_some(self.standard_uncertainty)
    }

    fn coordinates(&self, points: Vec<PointReading>) -> Outcome<Readings> {
        let common = |mm: f64| -> Outcome<Option<AxisUncertainty>> {
            if mm == 0.0 {
                return Ok(None);
            }
            let each = length(mm, "standard_uncertainty")?;
            Ok(Some(AxisUncertainty { x: each, y: each }))
        };
        Ok(Readings::Coordinates(CoordinateReadings {
            places: self.places,
            numbering: self.numbering()?,
            axis: if yes(self.axis, "axis")? {
                Some([
                    length(self.axis_x_mm, "axis_x_mm")?,
                    length(self.axis_y_mm, "axis_y_mm")?,
                ])
            } else {
                None
            },
            nominal_radius: self.radius.length("radius")?,
            standard_uncertainty: common(self.standard_uncertainty)?,
            points,
        }))
    }

    fn angles(&self, readings: Vec<AngleReading>) -> Outcome<Readings> {
        Ok(Readings::Angles(AngleReadings {
            places: self.places,
            numbering: self.numbering()?,
            radius: self.radius.length("radius")?,
            standard_uncertainty_arcsec: self.uncertainty_arcsec(),
            readings,
        }))
    }

    fn deviations(&self, readings: Vec<DeviationReading>) -> Outcome<Readings> {
        Ok(Readings::Deviations(DeviationReadings {
            places: self.places,
            radius: self.radius.length("radius")?,
            standard_uncertainty_arcsec: self.uncertainty_arcsec(),
            readings,
        }))
    }

    fn chords(&self, readings: Vec<ChordReading>) -> Outcome<Readings> {
        Ok(Readings::Chords(ChordReadings {
            places: self.places,
            span: self.span.max(1),
            pin_diameter: length(self.pin_diameter_mm, "pin_diameter_mm")?,
            standard_uncertainty: if self.standard_uncertainty == 0.0 {
                None
            } else {
                Some(length(self.standard_uncertainty, "standard_uncertainty")?)
            },
            readings,
        }))
    }
}

/// # Safety
/// The contract of the exports that call it.
unsafe fn measured(
    ring: *const RingFields,
    out: *mut *mut MeasurementHandle,
    read: impl FnOnce(&RingFields) -> Outcome<Readings>,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (ring, out) = unsafe { (reference(ring, "ring")?, Out::new(out, "out")?) };
        // SAFETY: the contract of this function.
        let name = unsafe { ring.name()? };
        live::give(MeasurementHandle::of(name, read(ring)?)?, out);
        Ok(())
    })
}

/// The places of readings: as listed, or 0 and on where the list is NULL.
///
/// # Safety
/// A pointer that is not null points to `count` numbers.
unsafe fn numbers(list: *const usize, count: usize) -> Outcome<Vec<usize>> {
    if list.is_null() {
        return Ok((0..count).collect());
    }
    // SAFETY: the caller's contract.
    Ok(unsafe { slice(list, count, "places")? }.to_vec())
}

/// Measured hole centres, `count` of them, in millimetres.
///
/// `places` numbers them from 0; `places` may be NULL for 0, 1, 2 and on.
/// `x_uncertainty_mm` and `y_uncertainty_mm` are standard uncertainties of the
/// points, in place of the common one; `x_uncertainty_mm` and
/// `y_uncertainty_mm` may be NULL together.
///
/// Errors: inconsistent for one uncertainty without the other, not_finite,
/// out_of_range, null_pointer, invalid_utf8, misaligned; what the readings lack
/// is said when they are inspected. Ownership: `*out` is the caller's, freed
/// with dividing_measurement_free; nothing that comes in is kept. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_measurement_points(
    ring: *const RingFields,
    places: *const usize,
    x_mm: *const f64,
    y_mm: *const f64,
    x_uncertainty_mm: *const f64,
    y_uncertainty_mm: *const f64,
    count: usize,
    out: *mut *mut MeasurementHandle,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        measured(ring, out, |ring| {
            let (x, y) = (slice(x_mm, count, "x_mm")?, slice(y_mm, count, "y_mm")?);
            let uncertainties = pairs(x_uncertainty_mm, y_uncertainty_mm, count)?;
            let points = numbers(places, count)?.into_iter().zip(x.iter().zip(y));
            let points = points.enumerate().map(|(index, (place, (x, y)))| {
                let of_point = uncertainties
                    .as_ref()
                    .and_then(|(x, y)| Some((*x.get(index)?, *y.get(index)?)));
                Ok(PointReading {
                    place,
                    x: length(*x, &format!("x_mm[{index}]"))?,
                    y: length(*y, &format!("y_mm[{index}]"))?,
                    standard_uncertainty: match of_point {
                        Some((x, y)) => Some(AxisUncertainty {
                            x: length(x, &format!("x_uncertainty_mm[{index}]"))?,
                            y: length(y, &format!("y_uncertainty_mm[{index}]"))?,
                        }),
                        None => None,
                    },
                })
            });
            ring.coordinates(points.collect::<Outcome<_>>()?)
        })
    }
}

/// The directions of `count` measured points about an axis, in turns, into the
/// caller's array of `capacity` fractions, in the order given: what
/// dividing_measurement_stations takes when a body was measured by coordinates.
/// All lengths are in millimetres; a direction is rounded to a millionth of a
/// second of arc.
///
/// Errors: inconsistent for a point on the axis, not_finite, out_of_range,
/// buffer_too_small, null_pointer, misaligned; on any of them no fraction is
/// touched. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_angles_about_axis(
    x_mm: *const f64,
    y_mm: *const f64,
    count: usize,
    axis_x_mm: f64,
    axis_y_mm: f64,
    turns: *mut Fraction,
    capacity: usize,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (x, y, turns) = unsafe {
            (
                slice(x_mm, count, "x_mm")?,
                slice(y_mm, count, "y_mm")?,
                OutArray::new(turns, capacity, "turns")?,
            )
        };
        let points = x.iter().zip(y).enumerate().map(|(place, (x, y))| {
            Ok(PointReading {
                place,
                x: length(*x, &format!("x_mm[{place}]"))?,
                y: length(*y, &format!("y_mm[{place}]"))?,
                standard_uncertainty: None,
            })
        });
        let points = points.collect::<Outcome<Vec<_>>>()?;
        let axis = [
            length(axis_x_mm, "axis_x_mm")?,
            length(axis_y_mm, "axis_y_mm")?,
        ];
        let found = angles_about_axis(&points, axis)?;
        let fractions = found.iter().map(|it| Fraction::of(it.angle));
        turns.give(&fractions.collect::<Outcome<Vec<_>>>()?)
    })
}

/// Measured angles in turns, `count` of them; their common zero does not matter.
///
/// `places` as dividing_measurement_points.
///
/// Errors, ownership and threads as dividing_measurement_points.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_measurement_angles(
    ring: *const RingFields,
    places: *const usize,
    turns: *const Fraction,
    count: usize,
    out: *mut *mut MeasurementHandle,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        measured(ring, out, |ring| {
            let turns = slice(turns, count, "turns")?;
            ring.angles(angle_readings(places, turns)?)
        })
    }
}

/// Measured deviations in seconds of arc, `count` of them; their common zero
/// does not matter.
///
/// `places` as dividing_measurement_points.
///
/// Errors, ownership and threads as dividing_measurement_points.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_measurement_deviations(
    ring: *const RingFields,
    places: *const usize,
    deviation_arcsec: *const f64,
    count: usize,
    out: *mut *mut MeasurementHandle,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        measured(ring, out, |ring| {
            let deviations = slice(deviation_arcsec, count, "deviation_arcsec")?;
            let readings = numbers(places, count)?.into_iter().zip(deviations);
            let readings = readings.map(|(place, deviation)| DeviationReading {
                place,
                deviation_arcsec: *deviation,
            });
            ring.deviations(readings.collect())
        })
    }
}

/// Measured chords over pins in millimetres, one from every place.
///
/// `places` as dividing_measurement_points.
///
/// Errors, ownership and threads as dividing_measurement_points.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_measurement_chords(
    ring: *const RingFields,
    places: *const usize,
    over_pins_mm: *const f64,
    count: usize,
    out: *mut *mut MeasurementHandle,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        measured(ring, out, |ring| {
            let chords = slice(over_pins_mm, count, "over_pins_mm")?;
            let readings = numbers(places, count)?.into_iter().zip(chords);
            let readings = readings.enumerate().map(|(index, (place, chord))| {
                Ok(ChordReading {
                    place,
                    over_pins: length(*chord, &format!("over_pins_mm[{index}]"))?,
                })
            });
            ring.chords(readings.collect::<Outcome<_>>()?)
        })
    }
}

/// Measured angles of the stations of a vernier indexer, which may stand
/// anywhere.
///
/// `stations` says where all `station_count` of them should stand, in turns, as
/// the indexer lists them, 2 to 1000. `turns` holds `count` readings in turns,
/// whose common zero does not matter; `places` numbers the stations read, from 0,
/// and may be NULL for 0, 1, 2 and on. Of `ring` the name, the numbering and the
/// uncertainty (seconds of arc) are looked at.
///
/// Errors, ownership and threads as dividing_measurement_points.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_measurement_stations(
    ring: *const RingFields,
    stations: *const Fraction,
    station_count: usize,
    places: *const usize,
    turns: *const Fraction,
    count: usize,
    out: *mut *mut MeasurementHandle,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        measured(ring, out, |ring| {
            let stations = slice(stations, station_count, "stations")?;
            let turns = slice(turns, count, "turns")?;
            Ok(Readings::Stations(StationReadings {
                stations: angles(stations, "stations")?,
                numbering: ring.numbering()?,
                standard_uncertainty_arcsec: ring.uncertainty_arcsec(),
                readings: angle_readings(places, turns)?,
            }))
        })
    }
}

/// # Safety
/// As [`numbers`].
unsafe fn angle_readings(places: *const usize, turns: &[Fraction]) -> Outcome<Vec<AngleReading>> {
    // SAFETY: the caller's contract.
    let places = unsafe { numbers(places, turns.len())? };
    let readings = places.into_iter().zip(angles(turns, "turns")?);
    Ok(readings
        .map(|(place, angle)| AngleReading { place, angle })
        .collect())
}

/// Comparisons of two dividing devices: `setup_count` set-ups, in set-up s
/// position `shifts[s]` of the second device against position 0 of the first.
///
/// `readings_arcsec` holds the readings in seconds of arc, set-up by set-up,
/// `ring->places` of each, `reading_count` in all; NaN where there is none.
///
/// Errors: inconsistent for another count, and those of
/// dividing_measurement_points. Ownership and threads as
/// dividing_measurement_points.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_measurement_closure(
    ring: *const RingFields,
    shifts: *const usize,
    setup_count: usize,
    readings_arcsec: *const f64,
    reading_count: usize,
    out: *mut *mut MeasurementHandle,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        measured(ring, out, |ring| {
            let positions = ring.places;
            let shifts = slice(shifts, setup_count, "shifts")?;
            let readings = slice(readings_arcsec, reading_count, "readings_arcsec")?;
            if positions.checked_mul(setup_count) != Some(reading_count) {
                return Err(Failure::new(
                    Status::Inconsistent,
                    "readings_arcsec",
                    format!(
                        "{reading_count} readings for {setup_count} set-ups of {positions} \
                         positions; accepted: as many as set-ups times positions"
                    ),
                ));
            }
            let rows = readings.chunks_exact(positions.max(1));
            let setups = shifts.iter().zip(rows).map(|(shift, row)| SetupReadings {
                shift: *shift,
                readings_arcsec: row.iter().map(|it| (!it.is_nan()).then_some(*it)).collect(),
            });
            Ok(Readings::Closure(ClosureReadings {
                positions,
                standard_uncertainty_arcsec: ring.uncertainty_arcsec(),
                setups: setups.collect(),
            }))
        })
    }
}

/// What the rows of comma-separated text are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(i32)]
pub enum ReadingsOf {
    /// Hole centres: place, x_mm, y_mm (or x_in, y_in) and, both or neither,
    /// x_uncertainty_mm, y_uncertainty_mm.
    Coordinates = 0,
    /// Angles: place, angle or angle_deg.
    Angles = 1,
    /// Deviations: place, deviation_arcsec.
    Deviations = 2,
    /// Chords: place, over_pins_mm or over_pins_in.
    Chords = 3,
    /// A closure calibration: shift, position, reading_arcsec.
    Closure = 4,
}

/// Readings from comma-separated text whose first line names the columns.
///
/// `readings` is a dividing_readings; `csv` is UTF-8 of `length` bytes, or up to
/// its NUL with DIVIDING_NUL_ENDED.
///
/// Errors: the field of the last error names line and column, `line 4, column
/// x_mm`; invalid_field, unknown_field, inconsistent, duplicate, not_finite,
/// out_of_range, empty_list; null_pointer, invalid_utf8, misaligned. Ownership:
/// as dividing_measurement_points. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_measurement_from_csv(
    ring: *const RingFields,
    readings: i32,
    csv: *const c_char,
    length: usize,
    out: *mut *mut MeasurementHandle,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        measured(ring, out, |ring| {
            let csv = text::read(csv, length, "csv")?;
            match chosen(readings, "readings", &[0, 1, 2, 3, 4])? {
                0 => ring.coordinates(points_from_csv(csv)?),
                1 => ring.angles(angles_from_csv(csv)?),
                2 => ring.deviations(deviations_from_csv(csv)?),
                3 => ring.chords(chords_from_csv(csv)?),
                _ => {
                    let mut closure = closure_from_csv(ring.places, csv)?;
                    let stated = ring.uncertainty_arcsec();
                    closure.standard_uncertainty_arcsec =
                        stated.or(closure.standard_uncertainty_arcsec);
                    Ok(Readings::Closure(closure))
                }
            }
        })
    }
}

/// A measurement from a JSON document with `"format": 1`.
///
/// `json` is UTF-8 of `length` bytes, or up to its NUL with DIVIDING_NUL_ENDED.
///
/// Errors: malformed_json, unknown_field, invalid_field, unknown_format,
/// null_pointer, invalid_utf8, misaligned. Ownership: as
/// dividing_measurement_points. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_measurement_from_json(
    json: *const c_char,
    length: usize,
    out: *mut *mut MeasurementHandle,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (json, out) = unsafe { (text::read(json, length, "json")?, Out::new(out, "out")?) };
        let measurement = Measurement::from_json(json)?;
        live::give(MeasurementHandle { measurement }, out);
        Ok(())
    })
}

/// Frees a measurement. Inspections made from it stay as they are.
///
/// Ownership: the handle is gone; to free or use it again is an error of the
/// caller, seen (not_a_handle) only while its memory is not used for something
/// else. NULL is accepted and does nothing. Threads: any, while no other thread
/// uses the handle.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_measurement_free(measurement: *mut MeasurementHandle) {
    // SAFETY: by the contract the pointer came from this library.
    unsafe { live::free(measurement, "measurement") }
}

/// The measurement as a JSON document, as dividing_measurement_from_json reads
/// it.
///
/// Errors: null_pointer, misaligned. Ownership: `*out` is the caller's, freed
/// with dividing_text_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_measurement_json(
    measurement: *const MeasurementHandle,
    out: *mut *mut c_char,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::text_of(measurement, "measurement", out, |it| {
            it.measurement.to_json().map_err(Failure::from)
        })
    }
}
