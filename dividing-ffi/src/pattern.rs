//! Plates to drill: from a brief to a pattern, with its certificate.

use std::ffi::{c_char, c_void};

use dividing_core::pattern::{
    Certificate, CheckReport, Design, Pattern, PlateBrief, ProofMethod, Ring, Shortfall, design,
};
use serde_json::{Map, Value, json};

use crate::angle::Fraction;
use crate::array::slice;
use crate::error::{Failure, Outcome};
use crate::fields::{OptionalLength, chosen, yes};
use crate::guard::guard;
use crate::handle;
use crate::live::{self, Handle};
use crate::pointer::{Out, reference};
use crate::status::Status;
use crate::text;
use crate::watch::{Watcher, metered};

/// What a plate is used for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(i32)]
pub enum UseOfPlate {
    /// A pin or plunger at one station enters the holes.
    Plunger = 0,
    /// On a worm head: worm_ratio.
    WormHead = 1,
    /// Pins stand in the holes and a bar is levelled on two: square,
    /// part_diameter.
    Pins = 2,
    /// Holes in the turning plate and stations in the fixed one.
    VernierPair = 3,
}

/// What a plate must serve and what it is made of: the usual fields of a brief.
/// Briefs with more (angles, lists, keep-outs, fixed rings, tolerances) come as
/// JSON. Lengths are in millimetres.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct PlateBriefFields {
    /// Divisions wanted, 2 to 100000 each, `division_count` of them.
    pub divisions: *const u64,
    /// How many `divisions` points to, at most 256.
    pub division_count: usize,
    /// What the plate is used for: a dividing_plate_use.
    pub plate_use: i32,
    /// Crank turns for one spindle turn: 40/1.
    pub worm_ratio: Fraction,
    /// 1 when the bar is also set upright with a square; else 0.
    pub square: i32,
    /// Diameter of a part that lies between the pins.
    pub part_diameter: OptionalLength,
    /// Faces of a polygon, 3 to 100; 0 for a disc.
    pub faces: u32,
    /// Diameter of the disc, or across flats.
    pub outline_mm: f64,
    /// Diameter of the bore.
    pub bore: OptionalLength,
    /// Diameter of the holes.
    pub hole_diameter_mm: f64,
    /// Diameter of the pin or plunger; not given: no error is foretold.
    pub pin_diameter: OptionalLength,
    /// Least material between two holes.
    pub least_web_mm: f64,
    /// Least material between a hole and the outline, and the bore.
    pub least_edge_distance_mm: f64,
    /// Diameter of the tolerance zone of each hole's centre.
    pub hole_position_tolerance: OptionalLength,
}

impl PlateBriefFields {
    /// # Safety
    /// All pointers are as their comments say.
    unsafe fn build(&self) -> Outcome<PlateBrief> {
        // SAFETY: the caller's contract.
        let divisions = unsafe { slice(self.divisions, self.division_count, "divisions")? };
        let mut brief = Map::new();
        let mut put = |name: &str, value: Value| {
            brief.insert(name.to_owned(), value);
        };
        put("format", json!(1));
        put("divisions", json!(divisions));
        put("use", self.usage()?);
        put(
            "outline",
            if self.faces == 0 {
                json!({"disc": {"diameter": finite(self.outline_mm, "outline_mm")?}})
            } else {
                let across = finite(self.outline_mm, "outline_mm")?;
                json!({"polygon": {"faces": self.faces, "across_flats": across}})
            },
        );
        for (name, mm) in [
            ("hole_diameter", self.hole_diameter_mm),
            ("least_web", self.least_web_mm),
            ("least_edge_distance", self.least_edge_distance_mm),
        ] {
            put(name, json!(finite(mm, name)?));
        }
        for (name, length) in [
            ("bore", self.bore),
            ("pin_diameter", self.pin_diameter),
            ("hole_position_tolerance", self.hole_position_tolerance),
        ] {
            if let Some(length) = length.length(name)? {
                put(name, json!(length.mm()));
            }
        }
        Ok(PlateBrief::from_json(&Value::Object(brief).to_string())?)
    }

    fn usage(&self) -> Outcome<Value> {
        Ok(match chosen(self.plate_use, "plate_use", &[0, 1, 2, 3])? {
            0 => json!("plunger"),
            1 => {
                let Fraction {
                    numerator,
                    denominator,
                } = self.worm_ratio;
                json!({"worm_head": {"ratio": format!("{numerator}/{denominator}")}})
            }
            2 => {
                let mut pins = json!({"square": yes(self.square, "square")?});
                let part = self.part_diameter.length("part_diameter")?;
                if let (Some(part), Some(pins)) = (part, pins.as_object_mut()) {
                    pins.insert("part_diameter".to_owned(), json!(part.mm()));
                }
                json!({"pins": pins})
            }
            _ => json!("vernier_pair"),
        })
    }
}

/// JSON has no number for what is not finite.
fn finite(mm: f64, field: &str) -> Outcome<f64> {
    Ok(crate::fields::length(mm, field)?.mm())
}

/// What a brief comes to, a plate or why none fits: an opaque handle.
///
/// Made by dividing_design_new, freed by dividing_design_free. It never changes
/// in between, so any number of threads may read it at a time.
pub struct DesignHandle {
    design: Design,
}

impl Handle for DesignHandle {
    const MARK: [u8; 8] = *b"design  ";
}

/// A plate to drill: an opaque handle.
///
/// Made by dividing_design_pattern or dividing_pattern_from_json, freed by
/// dividing_pattern_free. It never changes in between, so any number of threads
/// may read it at a time.
pub struct PatternHandle {
    pattern: Pattern,
}

impl Handle for PatternHandle {
    const MARK: [u8; 8] = *b"pattern ";
}

impl PatternHandle {
    pub(crate) const fn pattern(&self) -> &Pattern {
        &self.pattern
    }
}

/// # Safety
/// The contract of the exports that call it.
unsafe fn designed(
    brief: &PlateBrief,
    work_limit: u64,
    watcher: Watcher,
    userdata: *mut c_void,
    out: Out<*mut DesignHandle>,
) -> Outcome {
    // SAFETY: the caller gave the watcher to be called so.
    let design = unsafe { metered(work_limit, watcher, userdata, |meter| design(brief, meter))? };
    live::give(DesignHandle { design }, out);
    Ok(())
}

/// Designs the plate with the fewest holes for a brief, a JSON document with
/// `"format": 1`.
///
/// `brief` is UTF-8 of `length` bytes, or up to its NUL with DIVIDING_NUL_ENDED.
/// `work_limit`, `watcher` and `userdata` as dividing_plans_new_within; when
/// they stop the search, the best plate found is marked incomplete in its
/// certificate. A brief that no plate fits is no error: ask dividing_design_fits.
///
/// Errors: malformed_json, unknown_field, invalid_field, unknown_format,
/// out_of_range, empty_list, duplicate, inconsistent, with the path to the
/// field; work_limit and cancelled when nothing was found yet; null_pointer,
/// invalid_utf8, misaligned. Ownership: `*out` is the caller's, freed with
/// dividing_design_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_design_new(
    brief: *const c_char,
    length: usize,
    work_limit: u64,
    watcher: Watcher,
    userdata: *mut c_void,
    out: *mut *mut DesignHandle,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        unsafe {
            let (brief, out) = (text::read(brief, length, "brief")?, Out::new(out, "out")?);
            designed(
                &PlateBrief::from_json(brief)?,
                work_limit,
                watcher,
                userdata,
                out,
            )
        }
    })
}

/// As dividing_design_new, from the usual fields of a brief.
///
/// Errors, ownership and threads as dividing_design_new.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_design_of(
    brief: *const PlateBriefFields,
    work_limit: u64,
    watcher: Watcher,
    userdata: *mut c_void,
    out: *mut *mut DesignHandle,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        unsafe {
            let (brief, out) = (reference(brief, "brief")?.build()?, Out::new(out, "out")?);
            designed(&brief, work_limit, watcher, userdata, out)
        }
    })
}

/// Frees a design. Patterns taken from it stay as they are.
///
/// Ownership: the handle is gone; to free or use it again is an error of the
/// caller, seen (not_a_handle) only while its memory is not used for something
/// else. NULL is accepted and does nothing. Threads: any, while no other thread
/// uses the handle.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_design_free(design: *mut DesignHandle) {
    // SAFETY: by the contract the pointer came from this library.
    unsafe { live::free(design, "design") }
}

/// Whether a plate serves every wish of the brief.
///
/// Errors: null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_design_fits(
    design: *const DesignHandle,
    out: *mut bool,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(design, "design", out, |it| {
            Ok(matches!(it.design, Design::Pattern(_)))
        })
    }
}

/// Why no plate fits, and what would.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct ShortfallRecord {
    /// Smallest outline, diameter or across flats, that fits, in millimetres;
    /// NaN when none does.
    pub smallest_outline_mm: f64,
    /// Largest hole diameter that fits, in millimetres; NaN when none does.
    pub largest_hole_mm: f64,
    /// The largest pin with it, in millimetres; NaN when no hole fits or the
    /// brief has no pin.
    pub largest_pin_mm: f64,
    /// Wishes of the largest part of the brief that fits.
    pub subset_count: usize,
    /// Whether no larger part fits, or only none was found.
    pub subset_proved: bool,
}

fn shortfall(design: &Design) -> Outcome<&Shortfall> {
    match design {
        Design::DoesNotFit(shortfall) => Ok(shortfall),
        Design::Pattern(_) => Err(Failure::new(
            Status::NotFound,
            "design",
            "a plate fits; accepted: a design that none fits",
        )),
    }
}

/// What would fit, where no plate does.
///
/// Errors: not_found when a plate fits; null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_design_shortfall(
    design: *const DesignHandle,
    out: *mut ShortfallRecord,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(design, "design", out, |it| {
            let found = shortfall(&it.design)?;
            Ok(ShortfallRecord {
                smallest_outline_mm: found.smallest_outline_mm.unwrap_or(f64::NAN),
                largest_hole_mm: found.largest_hole_mm.unwrap_or(f64::NAN),
                largest_pin_mm: found.largest_pin_mm.unwrap_or(f64::NAN),
                subset_count: found.largest_subset.len(),
                subset_proved: found.subset_proved,
            })
        })
    }
}

/// Why no plate fits, and what would, as a sentence.
///
/// Errors: not_found when a plate fits; null_pointer, misaligned. Ownership:
/// `*out` is the caller's, freed with dividing_text_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_design_shortfall_text(
    design: *const DesignHandle,
    out: *mut *mut c_char,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::text_of(design, "design", out, |it| {
            Ok(shortfall(&it.design)?.sentence())
        })
    }
}

/// The plate of a design, as a pattern of its own.
///
/// Errors: inconsistent with the sentence of dividing_design_shortfall_text when
/// no plate fits; null_pointer, misaligned. Ownership: `*out` is the caller's,
/// freed with dividing_pattern_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_design_pattern(
    design: *const DesignHandle,
    out: *mut *mut PatternHandle,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (design, out) = unsafe { (live::reference(design, "design")?, Out::new(out, "out")?) };
        let pattern = design.design.clone().into_pattern()?;
        live::give(PatternHandle { pattern }, out);
        Ok(())
    })
}

/// The design as JSON: the pattern, or the shortfall with every field.
///
/// Errors: null_pointer, misaligned. Ownership: `*out` is the caller's, freed
/// with dividing_text_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_design_json(
    design: *const DesignHandle,
    out: *mut *mut c_char,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe { handle::text_of(design, "design", out, |it| text::json(&it.design)) }
}

/// A pattern from its JSON document; its holes are checked anew.
///
/// `json` is UTF-8 of `length` bytes, or up to its NUL with DIVIDING_NUL_ENDED.
///
/// Errors: as dividing_design_new. Ownership: `*out` is the caller's, freed with
/// dividing_pattern_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_pattern_from_json(
    json: *const c_char,
    length: usize,
    out: *mut *mut PatternHandle,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (json, out) = unsafe { (text::read(json, length, "json")?, Out::new(out, "out")?) };
        let pattern = Pattern::from_json(json)?;
        live::give(PatternHandle { pattern }, out);
        Ok(())
    })
}

/// Frees a pattern.
///
/// Ownership: the handle is gone; to free or use it again is an error of the
/// caller, seen (not_a_handle) only while its memory is not used for something
/// else. NULL is accepted and does nothing. Threads: any, while no other thread
/// uses the handle.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_pattern_free(pattern: *mut PatternHandle) {
    // SAFETY: by the contract the pointer came from this library.
    unsafe { live::free(pattern, "pattern") }
}

/// The pattern as a JSON document, as dividing_pattern_from_json reads it.
///
/// Errors: null_pointer, misaligned. Ownership: `*out` is the caller's, freed
/// with dividing_text_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_pattern_json(
    pattern: *const PatternHandle,
    out: *mut *mut c_char,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe { handle::text_of(pattern, "pattern", out, |it| text::json(&it.pattern)) }
}

/// How a lower bound of holes was proved.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(i32)]
pub enum Proof {
    /// Each different hole angle counted once.
    EachHoleOnce = 0,
    /// Each wish's share of the holes it can have in common with others.
    SharedHoles = 1,
    /// Prices of the linear relaxation over every ring that could take part.
    LinearRelaxation = 2,
    /// Every choice of rings with fewer holes was ruled out.
    Exhausted = 3,
    /// n + m over every pair of whole numbers with M dividing n * m.
    FactorPairs = 4,
    /// Each direction needs a chord or a position of its own, and placings of
    /// fewer pins or holes were ruled out.
    Directions = 5,
}

/// The proof that comes with a pattern.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct CertificateRecord {
    /// Holes of the pattern, stations included.
    pub holes: u64,
    /// No pattern under the same rules has fewer.
    pub lower_bound: u64,
    /// `holes` less `lower_bound`; 0 when proved.
    pub gap: u64,
    /// How the bound was proved.
    pub proof: Proof,
    /// Whether fewest holes, and the best worst margin among those, are proved.
    pub complete: bool,
    /// Whether the proof is about plates whose rings stand a hole and a web
    /// apart.
    pub separated_rings: bool,
    /// Sets of holes to share out, those inside others taken out.
    pub wishes_shared_out: u32,
    /// Ways to share them out, rounded.
    pub partitions: f64,
    /// Rings that could take part in an answer as good as the first found.
    pub rings_considered: u64,
    /// Nodes of the search over those rings.
    pub nodes: u64,
}

impl CertificateRecord {
    fn of(found: &Certificate) -> Self {
        Self {
            holes: found.holes,
            lower_bound: found.lower_bound,
            gap: found.gap,
            proof: match found.proof {
                ProofMethod::EachHoleOnce => Proof::EachHoleOnce,
                ProofMethod::SharedHoles => Proof::SharedHoles,
                ProofMethod::LinearRelaxation => Proof::LinearRelaxation,
                ProofMethod::Exhausted => Proof::Exhausted,
                ProofMethod::FactorPairs => Proof::FactorPairs,
                ProofMethod::Directions => Proof::Directions,
            },
            complete: found.complete,
            separated_rings: found.separated_rings,
            wishes_shared_out: found.wishes_shared_out,
            partitions: found.partitions,
            rings_considered: found.rings_considered,
            nodes: found.nodes,
        }
    }
}

/// The certificate of a pattern.
///
/// Errors: null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_pattern_certificate(
    pattern: *const PatternHandle,
    out: *mut CertificateRecord,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(pattern, "pattern", out, |it| {
            Ok(CertificateRecord::of(&it.pattern.certificate))
        })
    }
}

/// What the last check of every pair of holes found. Lengths are in
/// millimetres, NaN where there is nothing to measure.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct HoleCheckRecord {
    /// Least web between two holes.
    pub least_web_mm: f64,
    /// Least material to the outline.
    pub least_edge_mm: f64,
    /// Least material to the bore.
    pub least_bore_edge_mm: f64,
    /// Least material to a mounting hole.
    pub least_mounting_web_mm: f64,
    /// Least distance of a hole's edge to a keep-out.
    pub least_keep_out_mm: f64,
    /// Pairs of holes at the same place.
    pub duplicates: u64,
    /// Pairs of holes measured.
    pub pairs: u64,
    /// Whether every limit of the brief holds.
    pub passed: bool,
}

impl HoleCheckRecord {
    fn of(found: &CheckReport) -> Self {
        Self {
            least_web_mm: found.least_web_mm.unwrap_or(f64::NAN),
            least_edge_mm: found.least_edge_mm.unwrap_or(f64::NAN),
            least_bore_edge_mm: found.least_bore_edge_mm.unwrap_or(f64::NAN),
            least_mounting_web_mm: found.least_mounting_web_mm.unwrap_or(f64::NAN),
            least_keep_out_mm: found.least_keep_out_mm.unwrap_or(f64::NAN),
            duplicates: found.duplicates,
            pairs: found.pairs,
            passed: found.passed,
        }
    }
}

/// Webs and edge distances of a pattern, from every pair of its holes.
///
/// Errors: null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_pattern_check(
    pattern: *const PatternHandle,
    out: *mut HoleCheckRecord,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(pattern, "pattern", out, |it| {
            Ok(HoleCheckRecord::of(&it.pattern.check))
        })
    }
}

/// One ring of holes.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct RingRecord {
    /// Pitch radius in millimetres.
    pub radius_mm: f64,
    /// Angle of the zero hole, in turns.
    pub phase: Fraction,
    /// Equally spaced places of which the holes are some; 0 where the number is
    /// beyond 64 bits.
    pub places: u64,
    /// Holes of the ring.
    pub hole_count: usize,
}

impl RingRecord {
    fn of(ring: &Ring) -> Outcome<Self> {
        Ok(Self {
            radius_mm: ring.radius_mm,
            phase: Fraction::of(ring.phase)?,
            places: ring.places.unwrap_or(0),
            hole_count: ring.holes.len(),
        })
    }
}

/// How many rings a pattern has.
///
/// Errors: null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_pattern_ring_count(
    pattern: *const PatternHandle,
    out: *mut usize,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe { handle::value_of(pattern, "pattern", out, |it| Ok(it.pattern.rings.len())) }
}

/// One ring, counted from 0 from the outside.
///
/// Errors: not_found, overflow, null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_pattern_ring(
    pattern: *const PatternHandle,
    index: usize,
    out: *mut RingRecord,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(pattern, "pattern", out, |it| {
            let rings = &it.pattern.rings;
            let ring = rings.get(index).ok_or_else(|| {
                Failure::new(
                    Status::NotFound,
                    "index",
                    format!(
                        "there is no ring {index}; accepted: less than the {} of the pattern",
                        rings.len()
                    ),
                )
            })?;
            RingRecord::of(ring)
        })
    }
}

/// How many holes a pattern has, stations not counted.
///
/// Errors: null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_pattern_hole_count(
    pattern: *const PatternHandle,
    out: *mut usize,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe { handle::value_of(pattern, "pattern", out, |it| Ok(it.pattern.holes().count())) }
}

/// How many stations the fixed plate of a vernier pair has; 0 for other plates.
///
/// Errors: null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_pattern_station_count(
    pattern: *const PatternHandle,
    out: *mut usize,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe { handle::value_of(pattern, "pattern", out, |it| Ok(it.pattern.stations.len())) }
}
