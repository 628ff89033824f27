//! The inverse questions: how loose an input may be, how large a radius must be.

use std::ffi::c_char;

use dividing_core::accuracy::{Allowance, least_radius_mm, loosest_limit};

use crate::contributor::{self, ContributorRecord, criterion_of};
use crate::error::{Failure, Outcome};
use crate::fields::string;
use crate::guard::guard;
use crate::pointer::Out;
use crate::status::Status;

/// Sorts of allowance.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(i32)]
pub enum AllowanceKind {
    /// Up to a value.
    UpTo = 0,
    /// As large as it likes: it does not turn the part.
    Unlimited = 1,
    /// Not even zero is enough: the other inputs alone break the limit.
    Never = 2,
}

/// How large an input may be.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct AllowanceRecord {
    /// Which sort it is.
    pub kind: AllowanceKind,
    /// The value of an allowance up to one, in the unit of the input; 0 for the
    /// others.
    pub up_to: f64,
    /// The present limit of the input, in its unit; the largest where several
    /// bear the name.
    pub present: f64,
}

impl AllowanceRecord {
    pub(crate) const fn of(allowance: Allowance, present: f64) -> Self {
        let (kind, up_to) = match allowance {
            Allowance::UpTo(value) => (AllowanceKind::UpTo, value),
            Allowance::Unlimited => (AllowanceKind::Unlimited, 0.0),
            Allowance::Never => (AllowanceKind::Never, 0.0),
        };
        Self {
            kind,
            up_to,
            present,
        }
    }
}

/// What a criterion gives for contributors, in radians.
///
/// `contributors` holds `count` records. `criterion` is a
/// dividing_criterion, `coverage_factor` that of an expanded uncertainty.
///
/// Errors: out_of_range, not_finite, with the path to the field; null_pointer,
/// invalid_utf8, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_total_rad(
    contributors: *const ContributorRecord,
    count: usize,
    criterion: i32,
    coverage_factor: f64,
    out: *mut f64,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (list, out) = unsafe {
            (
                contributor::list(contributors, count)?,
                Out::new(out, "out")?,
            )
        };
        out.write(criterion_of(criterion, coverage_factor)?.total_rad(&list)?);
        Ok(())
    })
}

/// The largest limit of the contributors of one name that keeps a criterion
/// within `limit_rad` while all others stay as they are. `name` ends with NUL;
/// the other arguments as dividing_total_rad.
///
/// Errors: as dividing_total_rad; not_found when no contributor has the name.
/// Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_loosest_limit(
    contributors: *const ContributorRecord,
    count: usize,
    name: *const c_char,
    criterion: i32,
    coverage_factor: f64,
    limit_rad: f64,
    out: *mut AllowanceRecord,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (list, name, out) = unsafe {
            (
                contributor::list(contributors, count)?,
                string(name, "name")?,
                Out::new(out, "out")?,
            )
        };
        let criterion = criterion_of(criterion, coverage_factor)?;
        let found = loosest_limit(&list, &name, criterion, limit_rad)?;
        let named = list.iter().filter(|it| it.name == name);
        let present = named.map(|it| it.limit).fold(0.0, f64::max);
        out.write(AllowanceRecord::of(found, present));
        Ok(())
    })
}

/// The least radius or baseline, in millimetres, that keeps a criterion within
/// `limit_rad`, when all contributors in millimetres act over `present_mm` now.
/// The other arguments as dividing_total_rad.
///
/// Errors: as dividing_total_rad; undetermined when no radius is enough, because
/// the others alone break the limit; overflow. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_least_radius_mm(
    contributors: *const ContributorRecord,
    count: usize,
    present_mm: f64,
    criterion: i32,
    coverage_factor: f64,
    limit_rad: f64,
    out: *mut f64,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (list, out) = unsafe {
            (
                contributor::list(contributors, count)?,
                Out::new(out, "out")?,
            )
        };
        let criterion = criterion_of(criterion, coverage_factor)?;
        out.write(enough(least_radius_mm(
            &list, present_mm, criterion, limit_rad,
        )?)?);
        Ok(())
    })
}

fn enough(radius_mm: Option<f64>) -> Outcome<f64> {
    radius_mm.ok_or_else(|| {
        Failure::new(
            Status::Undetermined,
            "limit_rad",
            "no radius is large enough: contributors that do not fall with it break the limit; \
             accepted: a wider limit",
        )
    })
}
