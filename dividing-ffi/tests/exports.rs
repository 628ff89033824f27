//! The exports, called from Rust: what a caller in C sees, where the checkers of
//! Rust can see the unsafe code.
#![allow(clippy::unwrap_used, reason = "a failing unwrap is a failing test")]

use std::ffi::{CStr, c_char, c_void};
use std::mem::MaybeUninit;
use std::ptr::{null, null_mut};

use dividing::angle::*;
use dividing::document::*;
use dividing::error::*;
use dividing::length::*;
use dividing::plans::*;
use dividing::scalar::*;
use dividing::setting::*;
use dividing::sheet::*;
use dividing::status::*;
use dividing::text::*;
use dividing_core::{Job, Plans, Workshop, plan_job};

const WORKSHOP: &str = include_str!("../../dividing-core/examples/demo/workshop.json");
const JOBS: [&str; 6] = [
    include_str!("../../dividing-core/examples/demo/job_1_nine_slots.json"),
    include_str!("../../dividing-core/examples/demo/job_2_bolt_circle.json"),
    include_str!("../../dividing-core/examples/demo/job_3_five_flats.json"),
    include_str!("../../dividing-core/examples/demo/job_4_wheel_127.json"),
    include_str!("../../dividing-core/examples/demo/job_5_detents.json"),
    include_str!("../../dividing-core/examples/demo/job_6_clocked_holes.json"),
];

/// A handle that frees itself.
struct Handle(*mut PlansHandle);

impl Handle {
    fn new(workshop: &str, job: &str) -> Result<Self, Status> {
        let mut plans = null_mut();
        // SAFETY: texts with their lengths and a place for the handle.
        let status = unsafe {
            dividing_plans_new(
                workshop.as_ptr().cast(),
                workshop.len(),
                job.as_ptr().cast(),
                job.len(),
                &mut plans,
            )
        };
        if status == Status::Ok {
            Ok(Self(plans))
        } else {
            assert!(plans.is_null());
            Err(status)
        }
    }
}

impl Drop for Handle {
    fn drop(&mut self) {
        // SAFETY: made by `new`, freed once.
        unsafe { dividing_plans_free(self.0) }
    }
}

/// The text of a call that succeeds; freed.
fn text(call: impl FnOnce(*mut *mut c_char) -> Status) -> String {
    let mut out = null_mut();
    assert_eq!(call(&mut out), Status::Ok, "{}", last_error());
    // SAFETY: a text of the library, freed once.
    unsafe {
        let text = CStr::from_ptr(out).to_str().unwrap().to_owned();
        dividing_text_free(out);
        text
    }
}

/// The value of a call that succeeds.
fn value<T>(call: impl FnOnce(*mut T) -> Status) -> T {
    let mut out = MaybeUninit::uninit();
    assert_eq!(call(out.as_mut_ptr()), Status::Ok, "{}", last_error());
    // SAFETY: a call that succeeds has written its output.
    unsafe { out.assume_init() }
}

fn borrowed(text: *const c_char) -> String {
    // SAFETY: a text of the library that ends with NUL.
    unsafe { CStr::from_ptr(text) }.to_str().unwrap().to_owned()
}

fn last_error() -> String {
    borrowed(dividing_last_error_text())
}

fn direct(job: &str) -> Plans {
    plan_job(
        &Workshop::from_json(WORKSHOP).unwrap(),
        &Job::from_json(job).unwrap(),
    )
    .unwrap()
}

/// Everything that crosses the border for the demo jobs is what the core says.
#[test]
fn plans_cross_the_border_unchanged() {
    for job in JOBS {
        let direct = direct(job);
        let handle = Handle::new(WORKSHOP, job).unwrap();
        let plans = handle.0;
        // SAFETY, for the whole test: a live handle, places of the right type.
        unsafe {
            assert_eq!(
                value(|out| dividing_plans_count(plans, out)),
                direct.plans().len()
            );
            assert_eq!(
                text(|out| dividing_plans_json(plans, out)),
                direct.to_json().unwrap()
            );
            for (index, plan) in direct.plans().iter().enumerate() {
                let record = value(|out| dividing_plans_get(plans, index, out));
                assert_eq!(borrowed(record.equipment), plan.equipment);
                assert_eq!(borrowed(record.equipment_kind), plan.equipment_kind);
                assert_eq!(borrowed(record.method), plan.method);
                assert_eq!(record.step_count, plan.placements.len());
                assert_eq!(record.exact, plan.exact);
                assert_eq!(record.verdict as i32, plan.verdict.kind as i32);
                assert_eq!(record.figure_is_complete, plan.error.unknown.is_empty());
                assert_eq!(
                    record.error.worst_rad.to_bits(),
                    plan.error.worst_rad.to_bits()
                );
                assert_eq!(Some(record.margin_rad), plan.verdict.margin_rad);
                assert_eq!(Some(record.limit_rad), plan.verdict.limit_rad);
                let sheet = direct.sheet(index).unwrap();
                assert_eq!(
                    text(|out| dividing_plans_sheet_text(plans, index, out)),
                    sheet.to_text()
                );
                assert_eq!(
                    text(|out| dividing_plans_sheet_html(plans, index, out)),
                    sheet.to_html()
                );
                assert_eq!(
                    text(|out| dividing_plans_drawing_svg(plans, index, out)),
                    direct.drawing(index).unwrap()
                );
                let json = text(|out| dividing_plans_sheet_json(plans, index, out));
                assert_eq!(
                    serde_json::from_str::<dividing_core::plan::Sheet>(&json).unwrap(),
                    sheet
                );
                for (step, placement) in plan.placements.iter().enumerate() {
                    let fractions = [
                        value(|out| dividing_plans_step_required(plans, index, step, out)),
                        value(|out| dividing_plans_step_attained(plans, index, step, out)),
                        value(|out| dividing_plans_step_residual(plans, index, step, out)),
                    ];
                    let angles = [placement.required, placement.attained, placement.residual];
                    for (fraction, angle) in fractions.into_iter().zip(angles) {
                        assert_eq!(i128::from(fraction.numerator), angle.numerator());
                        assert_eq!(i128::from(fraction.denominator), angle.denominator());
                    }
                    let json =
                        text(|out| dividing_plans_step_setting_json(plans, index, step, out));
                    assert_eq!(
                        serde_json::from_str::<dividing_core::reach::Setting>(&json).unwrap(),
                        placement.setting
                    );
                    let record = value(|out| dividing_plans_step_setting(plans, index, step, out));
                    assert_ne!(record.kind, SettingKind::Other);
                    let words =
                        text(|out| dividing_plans_step_setting_text(plans, index, step, out));
                    assert!(sheet.to_text().contains(&words), "{words}");
                    let figure = value(|out| dividing_plans_step_error(plans, index, step, out));
                    assert_eq!(
                        figure.worst_rad.to_bits(),
                        plan.error.features[step].worst_rad.to_bits()
                    );
                }
            }
        }
    }
}

#[test]
fn errors_name_the_document_and_the_field() {
    let refused = |workshop, job| Handle::new(workshop, job).map(|_| ()).unwrap_err();
    assert_eq!(refused("{", JOBS[0]), Status::MalformedJson);
    assert!(last_error().starts_with("workshop"), "{}", last_error());
    assert_eq!(refused(WORKSHOP, WORKSHOP), Status::UnknownField);
    assert!(
        last_error().starts_with("job.equipment"),
        "{}",
        last_error()
    );
    let typo = WORKSHOP.replacen("\"worm_ratio\": 40", "\"worm_ratio\": 0", 1);
    assert_ne!(typo, WORKSHOP);
    let status = refused(&typo, JOBS[0]);
    assert_eq!(dividing_last_error_status(), status);
    assert_eq!(
        borrowed(dividing_last_error_field()),
        "workshop.equipment[0].worm_head.worm_ratio"
    );
}

#[test]
fn texts_and_numbers_cross_the_border() {
    let angle = "7°30'15\"";
    // SAFETY: texts with their lengths, places of the right type.
    unsafe {
        let turns = value(|out| dividing_angle_parse(angle.as_ptr().cast(), angle.len(), out));
        assert_eq!((turns.numerator, turns.denominator), (1801, 86_400));
        let style = Style::DegreesMinutesSeconds as i32;
        assert_eq!(
            text(|out| dividing_angle_format(turns, style, 0, out)),
            angle
        );
        assert_eq!(
            text(|out| dividing_angle_convert(
                angle.as_ptr().cast(),
                angle.len(),
                Style::FractionOfTurn as i32,
                0,
                out
            )),
            "1801/86400 turn"
        );
        let wide = c"1/10000000000000000000 turn".as_ptr();
        let mut untouched = Fraction {
            numerator: 5,
            denominator: 7,
        };
        assert_eq!(
            dividing_angle_parse(wide, NUL_ENDED, &mut untouched),
            Status::Overflow
        );
        assert_eq!((untouched.numerator, untouched.denominator), (5, 7));
        let mm = value(|out| dividing_length_parse(c"0.250 in".as_ptr(), NUL_ENDED, out));
        assert!((mm - 6.35).abs() < 1e-12);
        assert_eq!(
            dividing_workshop_check(WORKSHOP.as_ptr().cast(), WORKSHOP.len()),
            Status::Ok
        );
        assert_eq!(
            dividing_job_check(JOBS[0].as_ptr().cast(), JOBS[0].len()),
            Status::Ok
        );
        assert_eq!(dividing_job_check(null(), 0), Status::NullPointer);
    }
    assert!((dividing_turns_to_degrees(1, 9) - 40.0).abs() < 1e-12);
    assert!(dividing_turns_to_radians(1, 0).is_nan());
}

#[test]
fn a_watcher_gets_its_userdata_and_can_stop() {
    unsafe extern "C" fn stop(_: u64, userdata: *mut c_void) -> i32 {
        // SAFETY: the test gives a counter.
        unsafe { *userdata.cast::<u32>() += 1 };
        1
    }
    let job = r#"{"format":1,"name":"j","features":{"equal_divisions":{"count":100000}}}"#;
    let (mut asked, mut plans) = (0_u32, null_mut());
    // SAFETY: texts with their lengths, a counter as userdata, a place.
    let status = unsafe {
        dividing_plans_new_within(
            WORKSHOP.as_ptr().cast(),
            WORKSHOP.len(),
            job.as_ptr().cast(),
            job.len(),
            0,
            Some(stop),
            (&raw mut asked).cast(),
            &mut plans,
        )
    };
    assert_eq!((status, asked), (Status::Cancelled, 1));
    assert!(plans.is_null());
}

#[test]
fn threads_work_on_handles_of_their_own() {
    std::thread::scope(|scope| {
        for job in JOBS {
            scope.spawn(move || {
                let wanted = direct(job).sheet(0).unwrap().to_text();
                for _ in 0..3 {
                    let handle = Handle::new(WORKSHOP, job).unwrap();
                    // SAFETY: a live handle and a place for the text.
                    let sheet = text(|out| unsafe { dividing_plans_sheet_text(handle.0, 0, out) });
                    assert_eq!(sheet, wanted);
                }
                assert_eq!(dividing_last_error_status(), Status::Ok);
                assert_eq!(Handle::new("", job).map(|_| ()), Err(Status::MalformedJson));
            });
        }
    });
}
