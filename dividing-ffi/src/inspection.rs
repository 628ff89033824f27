//! Inspections: what measured places are really worth.

use std::ffi::{c_char, c_void};

use dividing_core::inspection::{
    Closure, CoordinateInspection, Inspection, InspectionReport, PitchDeviations, PitchExtreme,
    RingDeviations, StationDeviations, coordinate_picture, ring_picture,
};
use dividing_core::work::Meter;

use crate::array::{self, OutArray};
use crate::circle::CircleRecord;
use crate::error::{Failure, Outcome};
use crate::fields::{chosen, string};
use crate::guard::guard;
use crate::handle;
use crate::live::{self, Handle};
use crate::measurement::MeasurementHandle;
use crate::pointer::{Out, reference};
use crate::status::Status;
use crate::watch::Watcher;

/// What an inspection found: an opaque handle.
///
/// Made by dividing_inspection_new, freed by dividing_inspection_free. It never
/// changes in between, so any number of threads may read it at a time.
pub struct InspectionHandle {
    report: InspectionReport,
}

impl Handle for InspectionHandle {
    const MARK: [u8; 8] = *b"inspectn";
}

/// What an inspection is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(i32)]
pub enum InspectionKind {
    /// Of hole centres: circle, eccentricity, deviations.
    Coordinates = 0,
    /// Of angles, deviations or chords: deviations.
    Ring = 1,
    /// Of two devices compared: closure.
    Closure = 2,
    /// Of the stations of a vernier indexer: deviations.
    Stations = 3,
    /// Of something that this version has no name for.
    Other = 100,
}

/// Which deviations of hole centres.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(i32)]
pub enum About {
    /// About the axis where one was given, else about the centre of the fitted
    /// circle.
    AxisOrCentre = 0,
    /// About the centre of the fitted circle: eccentricity removed.
    Centre = 1,
}

impl InspectionHandle {
    fn new(handle: &MeasurementHandle, meter: &mut Meter<'_>) -> Outcome<Self> {
        let report = handle.measurement().inspect_within(meter)?;
        Ok(Self { report })
    }

    pub(crate) fn coordinates(&self) -> Outcome<&CoordinateInspection> {
        match self.report.result() {
            Inspection::Coordinates(found) => Ok(found),
            _ => Err(other("hole centres")),
        }
    }

    pub(crate) fn closure(&self) -> Outcome<&Closure> {
        match self.report.result() {
            Inspection::Closure(found) => Ok(found),
            _ => Err(other("two devices compared")),
        }
    }

    fn stations(&self) -> Outcome<&StationDeviations> {
        match self.report.result() {
            Inspection::Stations(found) => Ok(found),
            _ => Err(other("the stations of a vernier indexer")),
        }
    }

    /// The deviations of a ring of places.
    pub(crate) fn ring(&self, about: i32) -> Outcome<&RingDeviations> {
        let centre = chosen(about, "about", &[false, true])?;
        match self.report.result() {
            Inspection::Ring(found) => Ok(found),
            Inspection::Coordinates(found) => Ok(match &found.about_axis {
                Some(about_axis) if !centre => about_axis,
                _ => &found.about_centre,
            }),
            _ => Err(other("the places of one ring")),
        }
    }

    pub(crate) const fn result(&self) -> &Inspection {
        self.report.result()
    }
}

fn other(wanted: &str) -> Failure {
    Failure::new(
        Status::Inconsistent,
        "inspection",
        format!("the inspection is of something else; accepted: one of {wanted}"),
    )
}

/// Inspects a measurement.
///
/// `work_limit`, `watcher` and `userdata` as dividing_plans_new_within; closure
/// calibrations can be long.
///
/// Errors: undetermined where the readings cannot tell, with what to add;
/// duplicate, out_of_range, not_finite, inconsistent, empty_list, with the path
/// to the field; work_limit, cancelled; null_pointer, misaligned. Ownership:
/// `*out` is the caller's, freed with dividing_inspection_free; the measurement
/// may be freed before it. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_inspection_new(
    measurement: *const MeasurementHandle,
    work_limit: u64,
    watcher: Watcher,
    userdata: *mut c_void,
    out: *mut *mut InspectionHandle,
) -> Status {
    let work = (work_limit, watcher, userdata);
    // SAFETY: the contract of this function.
    unsafe { handle::made_from(measurement, "measurement", work, out, InspectionHandle::new) }
}

/// Frees an inspection.
///
/// Ownership: the handle is gone; to free or use it again is an error of the
/// caller, seen (not_a_handle) only while its memory is not used for something
/// else. NULL is accepted and does nothing. Threads: any, while no other thread
/// uses the handle.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_inspection_free(inspection: *mut InspectionHandle) {
    // SAFETY: by the contract the pointer came from this library.
    unsafe { live::free(inspection, "inspection") }
}

/// What the inspection is of.
///
/// Errors: null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_inspection_kind(
    inspection: *const InspectionHandle,
    out: *mut InspectionKind,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(inspection, "inspection", out, |it| {
            Ok(match it.report.result() {
                Inspection::Coordinates(_) => InspectionKind::Coordinates,
                Inspection::Ring(_) => InspectionKind::Ring,
                Inspection::Closure(_) => InspectionKind::Closure,
                Inspection::Stations(_) => InspectionKind::Stations,
                _ => InspectionKind::Other,
            })
        })
    }
}

/// The circle fitted to hole centres.
///
/// Errors: inconsistent for another inspection, null_pointer, misaligned.
/// Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_inspection_circle(
    inspection: *const InspectionHandle,
    out: *mut CircleRecord,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(inspection, "inspection", out, |it| {
            Ok(CircleRecord::of(&it.coordinates()?.circle))
        })
    }
}

/// How far the centre of a circle lies from the axis.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct EccentricityRecord {
    /// Centre less axis along X, in millimetres.
    pub x_mm: f64,
    /// Centre less axis along Y.
    pub y_mm: f64,
    /// Distance of the centre from the axis.
    pub amount_mm: f64,
    /// Direction from the axis to the centre, counter-clockwise from X, in
    /// radians.
    pub direction_rad: f64,
    /// Standard uncertainty of the distance; NaN where none was stated.
    pub amount_uncertainty_mm: f64,
    /// Standard uncertainty of the direction, in radians; NaN also where the
    /// eccentricity is below twice its uncertainty.
    pub direction_uncertainty_rad: f64,
}

/// How far the centre of the fitted circle lies from the axis.
///
/// Errors: inconsistent for another inspection; not_found when no axis was
/// given; null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_inspection_eccentricity(
    inspection: *const InspectionHandle,
    out: *mut EccentricityRecord,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(inspection, "inspection", out, |it| {
            let found = it.coordinates()?.eccentricity.as_ref().ok_or_else(|| {
                Failure::new(
                    Status::NotFound,
                    "inspection",
                    "no axis was given; accepted: a measurement with one",
                )
            })?;
            Ok(EccentricityRecord {
                x_mm: found.x_mm,
                y_mm: found.y_mm,
                amount_mm: found.amount_mm,
                direction_rad: found.direction_rad,
                amount_uncertainty_mm: found.amount_uncertainty_mm.unwrap_or(f64::NAN),
                direction_uncertainty_rad: found.direction_uncertainty_rad.unwrap_or(f64::NAN),
            })
        })
    }
}

/// The deviations of a ring at a glance, in radians; NaN where a figure cannot
/// be told.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct RingFigures {
    /// Places round the turn, measured or not.
    pub places: usize,
    /// Measured places.
    pub measured_count: usize,
    /// Harmonics 1 to half the places; 0 when a place is missing.
    pub harmonic_count: usize,
    /// Radius that turns angles into lengths, in millimetres.
    pub radius_mm: f64,
    /// Amplitude of the first harmonic: what an eccentric part or axis gives.
    pub first_amplitude_rad: f64,
    /// Its phase.
    pub first_phase_rad: f64,
    /// Its standard uncertainty.
    pub first_uncertainty_rad: f64,
    /// Things noticed; the report has them in words.
    pub finding_count: usize,
}

/// The deviations of the places at a glance; `about` is a dividing_about.
///
/// Errors: inconsistent for stations and for two devices compared; out_of_range, null_pointer,
/// misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_inspection_ring(
    inspection: *const InspectionHandle,
    about: i32,
    out: *mut RingFigures,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(inspection, "inspection", out, |it| {
            let ring = it.ring(about)?;
            Ok(RingFigures {
                places: ring.places,
                measured_count: ring.deviations.len(),
                harmonic_count: ring.spectrum.len(),
                radius_mm: ring.radius_mm.unwrap_or(f64::NAN),
                first_amplitude_rad: ring.first_harmonic.amplitude_rad,
                first_phase_rad: ring.first_harmonic.phase_rad,
                first_uncertainty_rad: ring.first_harmonic_uncertainty_rad.unwrap_or(f64::NAN),
                finding_count: ring.findings.len(),
            })
        })
    }
}

/// Arrays of the caller for the deviations of places, each with room for
/// `capacity` entries; a column whose pointer is NULL is left out.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct DeviationPlaces {
    /// Room of each array, in entries.
    pub capacity: usize,
    /// Number of the place, from 0.
    pub place: *mut usize,
    /// Where it stands less where it should, about the mean of all places, in
    /// radians.
    pub deviation_rad: *mut f64,
    /// The same without the first harmonic, in radians.
    pub rest_rad: *mut f64,
    /// Standard uncertainty of the deviation; NaN where none was stated.
    pub standard_uncertainty_rad: *mut f64,
}

/// The deviations of all measured places, in ascending order, into the caller's
/// arrays; dividing_inspection_ring says how many. `about` is a dividing_about.
///
/// Errors: inconsistent for stations and for two devices compared; buffer_too_small,
/// out_of_range, null_pointer, misaligned; on any of them no array is touched.
/// Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_inspection_deviations(
    inspection: *const InspectionHandle,
    about: i32,
    places: *const DeviationPlaces,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        deviations(inspection, places, |it| {
            let found = &it.ring(about)?.deviations;
            Ok(found
                .iter()
                .map(|it| Deviation {
                    place: it.place,
                    deviation_rad: it.deviation_rad,
                    rest_rad: it.rest_rad,
                    standard_uncertainty_rad: it.standard_uncertainty_rad,
                })
                .collect())
        })
    }
}

/// The stations of a vernier indexer at a glance.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(C)]
pub struct StationFigures {
    /// Stations of the indexer, measured or not.
    pub stations: usize,
    /// Measured stations.
    pub measured_count: usize,
    /// Things noticed; the report has them in words.
    pub finding_count: usize,
}

/// The deviations of stations at a glance.
///
/// Errors: inconsistent for another inspection, null_pointer, misaligned.
/// Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_inspection_stations(
    inspection: *const InspectionHandle,
    out: *mut StationFigures,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(inspection, "inspection", out, |it| {
            let found = it.stations()?;
            Ok(StationFigures {
                stations: found.stations,
                measured_count: found.deviations.len(),
                finding_count: found.findings.len(),
            })
        })
    }
}

/// The deviations of all measured stations, in ascending order, into the
/// caller's arrays; dividing_inspection_stations says how many. A place is the
/// number of a station; `rest_rad` gets NaN, as stations have no harmonics.
///
/// Errors: inconsistent for another inspection; buffer_too_small, null_pointer,
/// misaligned; on any of them no array is touched. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_inspection_station_deviations(
    inspection: *const InspectionHandle,
    places: *const DeviationPlaces,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        deviations(inspection, places, |it| {
            let found = &it.stations()?.deviations;
            Ok(found
                .iter()
                .map(|it| Deviation {
                    place: it.station,
                    deviation_rad: it.deviation_rad,
                    rest_rad: f64::NAN,
                    standard_uncertainty_rad: it.standard_uncertainty_rad,
                })
                .collect())
        })
    }
}

/// One measured place.
struct Deviation {
    place: usize,
    deviation_rad: f64,
    rest_rad: f64,
    standard_uncertainty_rad: Option<f64>,
}

/// # Safety
/// The contract of the exports that call it.
unsafe fn deviations(
    inspection: *const InspectionHandle,
    places: *const DeviationPlaces,
    find: impl FnOnce(&InspectionHandle) -> Outcome<Vec<Deviation>>,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (inspection, capacity, place, deviation, rest, uncertainty) = unsafe {
            let places = reference(places, "places")?;
            let room = places.capacity;
            (
                live::reference(inspection, "inspection")?,
                room,
                OutArray::unless_null(places.place, room, "place")?,
                OutArray::unless_null(places.deviation_rad, room, "deviation_rad")?,
                OutArray::unless_null(places.rest_rad, room, "rest_rad")?,
                OutArray::unless_null(
                    places.standard_uncertainty_rad,
                    room,
                    "standard_uncertainty_rad",
                )?,
            )
        };
        let found = find(inspection)?;
        array::check_capacity(capacity, found.len(), "capacity")?;
        if let Some(out) = place {
            out.write(found.iter().map(|it| it.place));
        }
        if let Some(out) = deviation {
            out.write(found.iter().map(|it| it.deviation_rad));
        }
        if let Some(out) = rest {
            out.write(found.iter().map(|it| it.rest_rad));
        }
        if let Some(out) = uncertainty {
            let uncertainties = found.iter().map(|it| it.standard_uncertainty_rad);
            out.write(uncertainties.map(|it| it.unwrap_or(f64::NAN)));
        }
        Ok(())
    })
}

/// The extremes of pitch, in radians; NaN and 0 where there is none.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct PitchRecord {
    /// The place from which the largest single pitch deviation starts.
    pub single_from: usize,
    /// The place it leads to.
    pub single_to: usize,
    /// The single pitch deviation that is furthest off, with its sign.
    pub single_rad: f64,
    /// Its standard uncertainty.
    pub single_uncertainty_rad: f64,
    /// The place with the smallest deviation.
    pub cumulative_from: usize,
    /// The place with the largest deviation.
    pub cumulative_to: usize,
    /// The total cumulative pitch deviation.
    pub cumulative_rad: f64,
    /// Its standard uncertainty.
    pub cumulative_uncertainty_rad: f64,
}

impl PitchRecord {
    fn of(pitch: &PitchDeviations) -> Self {
        let single: Option<&PitchExtreme> = pitch.largest_single.as_ref();
        let of = |extreme: &PitchExtreme| extreme.standard_uncertainty_rad.unwrap_or(f64::NAN);
        Self {
            single_from: single.map_or(0, |it| it.from_place),
            single_to: single.map_or(0, |it| it.to_place),
            single_rad: single.map_or(f64::NAN, |it| it.deviation_rad),
            single_uncertainty_rad: single.map_or(f64::NAN, of),
            cumulative_from: pitch.total_cumulative.from_place,
            cumulative_to: pitch.total_cumulative.to_place,
            cumulative_rad: pitch.total_cumulative.deviation_rad,
            cumulative_uncertainty_rad: of(&pitch.total_cumulative),
        }
    }
}

/// The pitch deviations of a ring, `without_first` 1 for those without the first
/// harmonic; `about` is a dividing_about.
///
/// Into two arrays of the caller of `capacity` numbers, as many as there are
/// places: the single pitch from every place to the next (the last back to 0)
/// and the cumulative pitch from the first measured place, in radians, NaN where
/// a place was not measured. `single_rad` and `cumulative_rad` may be NULL. `out`
/// takes the extremes.
///
/// Errors: inconsistent for stations and for two devices compared; buffer_too_small,
/// out_of_range, null_pointer, misaligned; on any of them no array is touched.
/// Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_inspection_pitch(
    inspection: *const InspectionHandle,
    about: i32,
    without_first: i32,
    capacity: usize,
    single_rad: *mut f64,
    cumulative_rad: *mut f64,
    out: *mut PitchRecord,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (inspection, single, cumulative, out) = unsafe {
            (
                live::reference(inspection, "inspection")?,
                OutArray::unless_null(single_rad, capacity, "single_rad")?,
                OutArray::unless_null(cumulative_rad, capacity, "cumulative_rad")?,
                Out::new(out, "out")?,
            )
        };
        let ring = inspection.ring(about)?;
        let both = [&ring.pitch, &ring.rest_pitch];
        let pitch = chosen(without_first, "without_first", &both)?;
        for (column, values) in [
            (&single, &pitch.single_rad),
            (&cumulative, &pitch.cumulative_rad),
        ] {
            if let Some(column) = column {
                column.check_room(values.len())?;
            }
        }
        let filled = |values: &[Option<f64>]| -> Vec<f64> {
            values.iter().map(|it| it.unwrap_or(f64::NAN)).collect()
        };
        if let Some(column) = single {
            column.write(filled(&pitch.single_rad));
        }
        if let Some(column) = cumulative {
            column.write(filled(&pitch.cumulative_rad));
        }
        out.write(PitchRecord::of(pitch));
        Ok(())
    })
}

/// The harmonics of the deviations, from the first on, into two arrays of the
/// caller of `capacity` numbers each, in radians; dividing_inspection_ring says
/// how many. `about` is a dividing_about.
///
/// Errors: inconsistent for stations and for two devices compared; buffer_too_small,
/// out_of_range, null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_inspection_harmonics(
    inspection: *const InspectionHandle,
    about: i32,
    capacity: usize,
    amplitude_rad: *mut f64,
    phase_rad: *mut f64,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (inspection, amplitude, phase) = unsafe {
            (
                live::reference(inspection, "inspection")?,
                OutArray::new(amplitude_rad, capacity, "amplitude_rad")?,
                OutArray::new(phase_rad, capacity, "phase_rad")?,
            )
        };
        let spectrum = &inspection.ring(about)?.spectrum;
        array::check_capacity(capacity, spectrum.len(), "capacity")?;
        amplitude.write(spectrum.iter().map(|it| it.amplitude_rad));
        phase.write(spectrum.iter().map(|it| it.phase_rad));
        Ok(())
    })
}

/// The report of the inspection as plain text.
///
/// Errors: null_pointer, misaligned. Ownership: `*out` is the caller's, freed
/// with dividing_text_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_inspection_text(
    inspection: *const InspectionHandle,
    out: *mut *mut c_char,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe { handle::text_of(inspection, "inspection", out, |it| Ok(it.report.to_text())) }
}

/// The inspection with every field as JSON.
///
/// Errors, ownership and threads as dividing_inspection_text.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_inspection_json(
    inspection: *const InspectionHandle,
    out: *mut *mut c_char,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::text_of(inspection, "inspection", out, |it| {
            Ok(it.report.to_json()?)
        })
    }
}

/// A picture of the deviations as SVG; `title` ends with NUL.
///
/// Errors: inconsistent for stations and for two devices compared; null_pointer, invalid_utf8,
/// misaligned. Ownership: `*out` is the caller's, freed with dividing_text_free.
/// Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_inspection_svg(
    inspection: *const InspectionHandle,
    title: *const c_char,
    out: *mut *mut c_char,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::text_of(inspection, "inspection", out, |it| {
            let title = string(title, "title")?;
            match it.report.result() {
                Inspection::Coordinates(found) => Ok(coordinate_picture(&title, found)),
                _ => Ok(ring_picture(&title, it.ring(0)?)),
            }
        })
    }
}
