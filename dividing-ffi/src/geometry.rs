//! The exact geometry of pins, plates and bars, beside its linear model.

use dividing_core::accuracy::{
    BarSupport, Entry, EntryFinding, Model, ModelledAngle, PinSeating, bar_tilt,
    eccentricity_between, eccentricity_error, pin_play,
};

use crate::error::Outcome;
use crate::fields::chosen;
use crate::guard::guard;
use crate::handle;
use crate::pointer::Out;
use crate::status::Status;

/// An angle by the linear model and by the exact geometry, in radians.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct ModelledAngleRecord {
    /// By the linear model.
    pub linear_rad: f64,
    /// By the exact geometry.
    pub exact_rad: f64,
    /// The one to use.
    pub angle_rad: f64,
    /// Whether the linear model is near enough, so that it is the one to use.
    pub linear_holds: bool,
}

impl ModelledAngleRecord {
    fn of(found: ModelledAngle) -> Self {
        Self {
            linear_rad: found.linear_rad,
            exact_rad: found.exact_rad,
            angle_rad: found.angle_rad(),
            linear_holds: found.model == Model::Linear,
        }
    }
}

/// # Safety
/// The contract of the exports that call it.
unsafe fn modelled(
    out: *mut ModelledAngleRecord,
    body: impl FnOnce() -> Outcome<ModelledAngle>,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let out = unsafe { Out::new(out, "out")? };
        out.write(ModelledAngleRecord::of(body()?));
        Ok(())
    })
}

/// How far a pin at one radius can turn in a hole at another, either way.
///
/// Radii are above 0, `clearance_mm`, hole less pin, 0 or more.
///
/// Errors: inconsistent when the pin does not enter; out_of_range, not_finite,
/// null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_pin_play(
    pin_radius_mm: f64,
    hole_radius_mm: f64,
    clearance_mm: f64,
    out: *mut ModelledAngleRecord,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        modelled(out, || {
            Ok(pin_play(pin_radius_mm, hole_radius_mm, clearance_mm)?)
        })
    }
}

/// What the eccentricity of a plate does to one hole: `phase_rad` is the angle
/// of the hole from the direction of the eccentricity, in radians.
///
/// Errors: inconsistent when the eccentricity reaches the hole; out_of_range,
/// not_finite, null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_eccentricity_error(
    hole_radius_mm: f64,
    eccentricity_mm: f64,
    phase_rad: f64,
    out: *mut ModelledAngleRecord,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        modelled(out, || {
            Ok(eccentricity_error(
                hole_radius_mm,
                eccentricity_mm,
                phase_rad,
            )?)
        })
    }
}

/// The largest change of the angle between two holes of one circle that stand
/// `apart_rad` apart, in radians, by an eccentricity, 0 or more and below
/// `hole_radius_mm`, whose direction is not known.
///
/// Errors: undetermined when the eccentricity reaches the radius; out_of_range,
/// not_finite, null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_eccentricity_between(
    hole_radius_mm: f64,
    eccentricity_mm: f64,
    apart_rad: f64,
    out: *mut ModelledAngleRecord,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        modelled(out, || {
            Ok(eccentricity_between(
                hole_radius_mm,
                eccentricity_mm,
                apart_rad,
            )?)
        })
    }
}

/// A hole with its pin under a bar, in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct BarSupportFields {
    /// Centre of the hole along X.
    pub hole_x_mm: f64,
    /// Centre of the hole along Y.
    pub hole_y_mm: f64,
    /// Diameter of the hole.
    pub hole_diameter_mm: f64,
    /// Diameter of the pin.
    pub pin_diameter_mm: f64,
}

impl BarSupportFields {
    const fn build(&self) -> BarSupport {
        BarSupport {
            hole_mm: (self.hole_x_mm, self.hole_y_mm),
            hole_diameter_mm: self.hole_diameter_mm,
            pin_diameter_mm: self.pin_diameter_mm,
        }
    }
}

/// How far a bar on two pins tilts from the line of their holes: `loose` is 1
/// for pins that lie at the bottom of their holes, 0 for pins fixed in them.
///
/// Errors: out_of_range, not_finite, inconsistent, with the path to the field;
/// null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_bar_tilt(
    first: BarSupportFields,
    second: BarSupportFields,
    loose: i32,
    out: *mut ModelledAngleRecord,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        modelled(out, || {
            let seating = chosen(loose, "loose", &[PinSeating::Fixed, PinSeating::AtBottom])?;
            Ok(bar_tilt(first.build(), second.build(), seating)?)
        })
    }
}

/// What decides whether a pin enters its hole, in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct EntryFields {
    /// Pitch radius of the pin less that of the hole.
    pub radius_difference_mm: f64,
    /// Deviation of the pin's radius either way.
    pub pin_radius_tolerance_mm: f64,
    /// Deviation of the hole's radius either way.
    pub hole_radius_tolerance_mm: f64,
    /// Eccentricity of the plate, at most.
    pub eccentricity_mm: f64,
    /// Least clearance, hole less pin.
    pub least_clearance_mm: f64,
    /// Greatest clearance.
    pub greatest_clearance_mm: f64,
}

/// Whether a pin enters its hole.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct EntryRecord {
    /// Largest distance of the two centres along the radius, in millimetres.
    pub worst_distance_mm: f64,
    /// Play left at worst; below 0 what is lacking.
    pub worst_margin_mm: f64,
    /// Whether it enters at the limits of all tolerances.
    pub always_enters: bool,
    /// Probability that it enters.
    pub probability: f64,
}

impl EntryRecord {
    pub(crate) const fn of(found: EntryFinding) -> Self {
        Self {
            worst_distance_mm: found.worst_distance_mm,
            worst_margin_mm: found.worst_margin_mm,
            always_enters: found.always_enters,
            probability: found.probability,
        }
    }
}

/// Whether a pin enters its hole, at worst and how likely.
///
/// Errors: out_of_range, not_finite, inconsistent, with the path to the field;
/// null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_pin_entry(
    entry: *const EntryFields,
    out: *mut EntryRecord,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_from(entry, "entry", out, |it| {
            let found = Entry {
                radius_difference_mm: it.radius_difference_mm,
                pin_radius_tolerance_mm: it.pin_radius_tolerance_mm,
                hole_radius_tolerance_mm: it.hole_radius_tolerance_mm,
                eccentricity_mm: it.eccentricity_mm,
                least_clearance_mm: it.least_clearance_mm,
                greatest_clearance_mm: it.greatest_clearance_mm,
            }
            .check()?;
            Ok(EntryRecord::of(found))
        })
    }
}
