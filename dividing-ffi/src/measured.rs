//! What a measurement is good for: equipment that knows its errors, a better
//! start, corrections, a verdict on the part.

use std::ffi::{c_char, c_void};

use dividing_core::Equipment;
use dividing_core::equipment::{HoleCircle, MeasuredRing};
use dividing_core::inspection::{
    Checked, Device, Inspection, Judging, KnownDeviation, PartCheck, PartVerdict, Readings,
    Reference, RingLimits, Wheel, check_position, check_ring, choose_start, correction_table,
    pitch_grade,
};

use crate::array::{self, OutArray, slice};
use crate::closure::device_of;
use crate::error::{Failure, Outcome};
use crate::error_model::{DecisionOf, rule};
use crate::fields::{chosen, length};
use crate::guard::guard;
use crate::handle;
use crate::inspection::InspectionHandle;
use crate::live;
use crate::measurement::MeasurementHandle;
use crate::pointer::{Out, reference};
use crate::status::Status;
use crate::text;
use crate::watch::{Watcher, metered};
use crate::workshop::WorkshopHandle;

impl InspectionHandle {
    fn measured(&self, device: Device) -> Outcome<MeasuredRing> {
        Ok(match self.result() {
            Inspection::Coordinates(found) => found.measured()?,
            Inspection::Ring(found) => found.measured()?,
            Inspection::Closure(found) => found.measured(device)?,
            Inspection::Stations(found) => found.measured()?,
            _ => return Err(unknown_result()),
        })
    }

    fn known(&self, about: i32, device: Device) -> Outcome<Vec<Option<KnownDeviation>>> {
        Ok(match self.result() {
            Inspection::Closure(found) => found.known(device),
            _ => self.ring(about)?.known(),
        })
    }
}

fn unknown_result() -> Failure {
    Failure::new(
        Status::Inconsistent,
        "inspection",
        "the inspection is of something that equipment does not keep; accepted: hole centres, \
         angles, deviations, chords, stations or two devices compared",
    )
}

/// The piece with its stations measured.
fn with_stations(piece: &Equipment, ring: MeasuredRing) -> Outcome<Equipment> {
    let Equipment::VernierIndexer(indexer) = piece else {
        return Err(Failure::new(
            Status::Inconsistent,
            "piece",
            format!(
                "a {} has no stations; accepted: a vernier_indexer",
                piece.kind()
            ),
        ));
    };
    let mut indexer = indexer.clone();
    indexer.measured_stations = Some(ring);
    Ok(Equipment::VernierIndexer(indexer))
}

fn with_ring(piece: &Equipment, circle: usize, ring: MeasuredRing) -> Outcome<Equipment> {
    let mut piece = piece.clone();
    let place = |circles: &mut [HoleCircle]| -> Outcome {
        let count = circles.len();
        let found = circles.get_mut(circle).ok_or_else(|| {
            Failure::new(
                Status::NotFound,
                "circle",
                format!(
                    "there is no circle {circle}; accepted: less than the {count} of the piece"
                ),
            )
        })?;
        found.measured = Some(ring.clone());
        Ok(())
    };
    match &mut piece {
        Equipment::DirectPlate(plate) => place(&mut plate.circles)?,
        Equipment::PinPlate(plate) => place(&mut plate.circles)?,
        Equipment::VernierIndexer(indexer) => place(std::slice::from_mut(&mut indexer.circle))?,
        Equipment::GraduatedDial(dial) => dial.measured = Some(ring),
        other => {
            return Err(Failure::new(
                Status::Inconsistent,
                "piece",
                format!(
                    "a {} keeps no measurement; accepted: a direct_plate, pin_plate, \
                     vernier_indexer or graduated_dial",
                    other.kind()
                ),
            ));
        }
    }
    Ok(piece)
}

/// A new workshop in which one piece, counted from 0, knows what was measured of
/// it; plans then use its actual errors.
///
/// `circle` is the hole circle that was measured, counted from 0; a vernier
/// indexer has one, and for a graduated dial and for measured stations it is not
/// looked at. `device` is a dividing_device, looked at for two compared devices
/// alone.
///
/// Errors: not_found; inconsistent for equipment that keeps no measurement, or
/// another number of places than the circle has; out_of_range, null_pointer,
/// misaligned. Ownership: `*out` is the caller's, freed with
/// dividing_workshop_free; what is given stays as it is. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_inspection_into_workshop(
    inspection: *const InspectionHandle,
    device: i32,
    workshop: *const WorkshopHandle,
    piece: usize,
    circle: usize,
    out: *mut *mut WorkshopHandle,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (inspection, workshop, out) = unsafe {
            (
                live::reference(inspection, "inspection")?,
                live::reference(workshop, "workshop")?,
                Out::new(out, "out")?,
            )
        };
        let ring = inspection.measured(device_of(device)?)?;
        let known = match inspection.result() {
            Inspection::Stations(_) => with_stations(workshop.piece(piece)?, ring)?,
            _ => with_ring(workshop.piece(piece)?, circle, ring)?,
        };
        let mut equipment = workshop.workshop().equipment().to_vec();
        if let Some(place) = equipment.get_mut(piece) {
            *place = known;
        }
        let name = workshop.workshop().name();
        let made = dividing_core::Workshop::new(name, equipment)?;
        live::give(WorkshopHandle::new(made)?, out);
        Ok(())
    })
}

/// What was measured, as the `measured` field of equipment in JSON, of stations the
/// `measured_stations` field; `device` as
/// dividing_inspection_into_workshop.
///
/// Errors: out_of_range, null_pointer, misaligned. Ownership: `*out` is the
/// caller's, freed with dividing_text_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_inspection_measured_json(
    inspection: *const InspectionHandle,
    device: i32,
    out: *mut *mut c_char,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::text_of(inspection, "inspection", out, |it| {
            text::json(&it.measured(device_of(device)?)?)
        })
    }
}

/// What deviations are counted from when a start is chosen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(i32)]
pub enum ReferenceOf {
    /// As they are given: the zero of the plate is kept.
    Given = 0,
    /// Their mean.
    Mean = 1,
    /// The shift that makes the worst least.
    Middle = 2,
    /// The first feature of the pattern.
    FirstFeature = 3,
}

/// The start that is best for a pattern. Deviations are in radians.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct StartRecord {
    /// The place to begin at; the smallest of several equally good ones.
    pub best: usize,
    /// The worst deviation from there.
    pub worst_rad: f64,
    /// The feature that has it.
    pub worst_feature: usize,
    /// The worst deviation from the worst start.
    pub worst_choice_rad: f64,
    /// The mean over all starts.
    pub average_choice_rad: f64,
    /// How many starts there were.
    pub choices: usize,
}

/// Chooses the start of a pattern that makes the worst deviation least.
///
/// `pattern` holds the `count` places that the features take, the first start
/// being place 0. `from` is a dividing_reference; `coverage_factor` standard
/// uncertainties, 0 or more, are added to each deviation. `about` is a
/// dividing_about and `device` a dividing_device, each looked at where it has a
/// meaning. `work_limit`, `watcher` and `userdata` as dividing_plans_new_within.
///
/// Errors: undetermined when no start meets measured places alone; empty_list,
/// out_of_range, duplicate; work_limit, cancelled; null_pointer, misaligned.
/// Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_inspection_choose_start(
    inspection: *const InspectionHandle,
    about: i32,
    device: i32,
    pattern: *const usize,
    count: usize,
    from: i32,
    coverage_factor: f64,
    work_limit: u64,
    watcher: Watcher,
    userdata: *mut c_void,
    out: *mut StartRecord,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (inspection, pattern, out) = unsafe {
            (
                live::reference(inspection, "inspection")?,
                slice(pattern, count, "pattern")?,
                Out::new(out, "out")?,
            )
        };
        let references = [
            Reference::Given,
            Reference::Mean,
            Reference::Middle,
            Reference::FirstFeature,
        ];
        let judging = Judging {
            reference: chosen(from, "from", &references)?,
            coverage_factor,
            limits_rad: None,
        };
        let known = inspection.known(about, device_of(device)?)?;
        // SAFETY: the caller gave the watcher to be called so.
        let found = unsafe {
            metered(work_limit, watcher, userdata, |meter| {
                choose_start(&known, pattern, &judging, meter)
            })?
        };
        out.write(StartRecord {
            best: found.best,
            worst_rad: found.judged.worst,
            worst_feature: found.judged.worst_feature,
            worst_choice_rad: found.worst_choice,
            average_choice_rad: found.average_choice,
            choices: found.choices,
        });
        Ok(())
    })
}

/// How a place is corrected on a device with graduations of `graduation_rad`.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct CorrectionRecord {
    /// Number of the place.
    pub place: usize,
    /// Graduations to add to the nominal setting; below 0 means less.
    pub graduations: i64,
    /// The same as an angle of the device, in radians.
    pub correction_rad: f64,
    /// The deviation that is left, in radians: at most half a graduation.
    pub left_rad: f64,
    /// Standard uncertainty of what is left, in radians.
    pub standard_uncertainty_rad: f64,
}

/// The corrections of all measured places into the caller's array of `capacity`
/// records; as many as places were measured. `graduation_rad` is one graduation
/// in radians; `about` and `device` as dividing_inspection_choose_start.
///
/// Errors: out_of_range, buffer_too_small, null_pointer, misaligned. Threads:
/// any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_inspection_corrections(
    inspection: *const InspectionHandle,
    about: i32,
    device: i32,
    graduation_rad: f64,
    corrections: *mut CorrectionRecord,
    capacity: usize,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (inspection, corrections) = unsafe {
            (
                live::reference(inspection, "inspection")?,
                OutArray::new(corrections, capacity, "corrections")?,
            )
        };
        let known = inspection.known(about, device_of(device)?)?;
        let table = correction_table(&known, graduation_rad)?;
        array::check_capacity(capacity, table.len(), "corrections")?;
        corrections.write(table.iter().map(|it| CorrectionRecord {
            place: it.place,
            graduations: it.graduations,
            correction_rad: it.correction_rad,
            left_rad: it.left_rad,
            standard_uncertainty_rad: it.standard_uncertainty_rad,
        }));
        Ok(())
    })
}

/// Limits of a ring, in radians; 0 for no limit.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct RingLimitFields {
    /// Largest angular deviation of a feature either way.
    pub angle_rad: f64,
    /// 1 when `datum_place` is the feature that the others are clocked to; 0
    /// when the whole ring may shift.
    pub has_datum: i32,
    /// That feature.
    pub datum_place: usize,
    /// Largest single pitch deviation either way.
    pub single_pitch_rad: f64,
    /// Largest total cumulative pitch deviation.
    pub cumulative_pitch_rad: f64,
}

/// The verdict on a measured part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(C)]
pub struct PartVerdictRecord {
    /// Pass when every check passes, fail when one fails, else not proven.
    pub verdict: DecisionOf,
    /// Checks made.
    pub check_count: usize,
    /// Places that were not measured; a part with any can fail but not pass.
    pub missing_count: usize,
}

impl PartVerdictRecord {
    fn of(found: &PartVerdict) -> Self {
        Self {
            verdict: DecisionOf::of(found.decision),
            check_count: found.checks.len(),
            missing_count: found.missing_places.len(),
        }
    }
}

fn limit(rad: f64) -> Option<f64> {
    (rad != 0.0).then_some(rad)
}

/// # Safety
/// `limits` points to live fields.
unsafe fn checked(
    inspection: &InspectionHandle,
    about: i32,
    limits: *const RingLimitFields,
    guard_band: f64,
) -> Outcome<PartVerdict> {
    // SAFETY: the caller's contract.
    let fields = unsafe { reference(limits, "limits")? };
    let limits = RingLimits {
        angle_rad: limit(fields.angle_rad),
        datum_place: crate::fields::yes(fields.has_datum, "has_datum")?
            .then_some(fields.datum_place),
        single_pitch_rad: limit(fields.single_pitch_rad),
        cumulative_pitch_rad: limit(fields.cumulative_pitch_rad),
    };
    Ok(check_ring(
        inspection.ring(about)?,
        &limits,
        rule(guard_band),
    )?)
}

/// Whether a measured part holds its limits.
///
/// `guard_band` is the width of the guard band over the expanded uncertainty, 1
/// by ISO 14253-1; below 0 it stands for simple acceptance. `about` is a
/// dividing_about.
///
/// Errors: inconsistent for stations and for two devices compared; out_of_range, not_finite,
/// not_found for a datum that was not measured; null_pointer, misaligned.
/// Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_inspection_check(
    inspection: *const InspectionHandle,
    about: i32,
    limits: *const RingLimitFields,
    guard_band: f64,
    out: *mut PartVerdictRecord,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(inspection, "inspection", out, |it| {
            let found = checked(it, about, limits, guard_band)?;
            Ok(PartVerdictRecord::of(&found))
        })
    }
}

/// What a check looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(i32)]
pub enum CheckOf {
    /// Something that this version has no name for.
    Other = 0,
    /// The angle of a place, in radians.
    Angle = 1,
    /// The single pitch from a place to the next, in radians.
    SinglePitch = 2,
    /// The total cumulative pitch, in radians.
    CumulativePitch = 3,
    /// The position of a place: the diameter of its zone, in millimetres.
    Position = 4,
}

/// One check of a measured part, in radians, a position in millimetres; NaN where a figure cannot be told.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct CheckRecord {
    /// What was checked.
    pub checked: CheckOf,
    /// The place; 0 for the total cumulative pitch.
    pub place: usize,
    /// The measured value.
    pub value: f64,
    /// Its standard uncertainty.
    pub standard_uncertainty: f64,
    /// How far inside its limits it lies; below 0 outside.
    pub margin: f64,
    /// Width of the guard band.
    pub guard_band: f64,
    /// Probability that the true value conforms.
    pub conformance_probability: f64,
    /// The decision.
    pub decision: DecisionOf,
}

impl CheckRecord {
    fn of(check: &PartCheck) -> Self {
        let (checked, place) = match check.checked {
            Checked::Angle { place } => (CheckOf::Angle, place),
            Checked::SinglePitch { from_place } => (CheckOf::SinglePitch, from_place),
            Checked::CumulativePitch => (CheckOf::CumulativePitch, 0),
            Checked::Position { place } => (CheckOf::Position, place),
        };
        Self {
            checked,
            place,
            value: check.measured.value,
            standard_uncertainty: check.measured.standard_uncertainty.unwrap_or(f64::NAN),
            margin: check.decided.margin,
            guard_band: check.decided.guard_band,
            conformance_probability: check.decided.conformance_probability.unwrap_or(f64::NAN),
            decision: DecisionOf::of(check.decided.decision),
        }
    }
}

/// Every check of dividing_inspection_check, in the order of the places, into
/// the caller's array of `capacity` records.
///
/// Errors: those of dividing_inspection_check and buffer_too_small. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_inspection_checks(
    inspection: *const InspectionHandle,
    about: i32,
    limits: *const RingLimitFields,
    guard_band: f64,
    checks: *mut CheckRecord,
    capacity: usize,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (inspection, checks) = unsafe {
            (
                live::reference(inspection, "inspection")?,
                OutArray::new(checks, capacity, "checks")?,
            )
        };
        // SAFETY: the contract of this function.
        let found = unsafe { checked(inspection, about, limits, guard_band)? };
        let records: Vec<_> = found.checks.iter().map(CheckRecord::of).collect();
        checks.give(&records)
    })
}

fn positions(
    inspection: &InspectionHandle,
    measurement: &MeasurementHandle,
    zone_diameter_mm: f64,
    guard_band: f64,
) -> Outcome<PartVerdict> {
    let Readings::Coordinates(readings) = &measurement.measurement().readings else {
        return Err(Failure::new(
            Status::Inconsistent,
            "measurement",
            "the measurement is of something else; accepted: one of hole centres",
        ));
    };
    let zone = length(zone_diameter_mm, "zone_diameter_mm")?;
    let (found, rule) = (inspection.coordinates()?, rule(guard_band));
    Ok(check_position(readings, found, zone, rule)?)
}

/// Whether measured hole centres hold a position tolerance, whose zone has a
/// diameter in millimetres, above 0: twice the distance of each from its true
/// place, the pattern turned so that the worst is best.
///
/// `measurement` is the one that was inspected; it says the nominal radius.
/// `guard_band` as dividing_inspection_check.
///
/// Errors: inconsistent for another measurement than of hole centres, or one
/// that was not inspected or says no radius; out_of_range, not_finite,
/// null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_inspection_check_position(
    inspection: *const InspectionHandle,
    measurement: *const MeasurementHandle,
    zone_diameter_mm: f64,
    guard_band: f64,
    out: *mut PartVerdictRecord,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (inspection, measurement, out) = unsafe {
            (
                live::reference(inspection, "inspection")?,
                live::reference(measurement, "measurement")?,
                Out::new(out, "out")?,
            )
        };
        let found = positions(inspection, measurement, zone_diameter_mm, guard_band)?;
        out.write(PartVerdictRecord::of(&found));
        Ok(())
    })
}

/// Every check of dividing_inspection_check_position, in the order of the
/// places, into the caller's array of `capacity` records.
///
/// Errors: those of dividing_inspection_check_position and buffer_too_small.
/// Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_inspection_position_checks(
    inspection: *const InspectionHandle,
    measurement: *const MeasurementHandle,
    zone_diameter_mm: f64,
    guard_band: f64,
    checks: *mut CheckRecord,
    capacity: usize,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (inspection, measurement, checks) = unsafe {
            (
                live::reference(inspection, "inspection")?,
                live::reference(measurement, "measurement")?,
                OutArray::new(checks, capacity, "checks")?,
            )
        };
        let found = positions(inspection, measurement, zone_diameter_mm, guard_band)?;
        let records: Vec<_> = found.checks.iter().map(CheckRecord::of).collect();
        checks.give(&records)
    })
}

/// The classes of ISO 1328-1:2013 that the pitch of a ring meets.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct PitchClassRecord {
    /// Largest single pitch deviation on the reference circle, in micrometres.
    pub single_um: f64,
    /// Total cumulative pitch deviation there.
    pub cumulative_um: f64,
    /// Finest class whose single pitch tolerance holds; 0 beyond 11.
    pub single_class: u8,
    /// Finest class whose cumulative pitch tolerance holds; 0 beyond 11.
    pub cumulative_class: u8,
    /// Finest class that holds both; 0 beyond 11.
    pub both_classes: u8,
}

/// The classes of ISO 1328-1:2013 that the pitch of a ring meets, its pitch
/// alone: a plate is no gear. `module_mm` is 0.5 to 70, `reference_diameter_mm`
/// 5 to 15000; `about` is a dividing_about.
///
/// Errors: inconsistent for stations and for two devices compared; undetermined when a place is
/// missing; out_of_range, null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_inspection_pitch_class(
    inspection: *const InspectionHandle,
    about: i32,
    module_mm: f64,
    reference_diameter_mm: f64,
    out: *mut PitchClassRecord,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(inspection, "inspection", out, |it| {
            let wheel = Wheel {
                module_mm,
                reference_diameter_mm,
            };
            let found = pitch_grade(it.ring(about)?, wheel)?;
            Ok(PitchClassRecord {
                single_um: found.single_um,
                cumulative_um: found.cumulative_um,
                single_class: found.single_class.unwrap_or(0),
                cumulative_class: found.cumulative_class.unwrap_or(0),
                both_classes: found.class.unwrap_or(0),
            })
        })
    }
}
