//! The joined error model of a plan: budgets, simulation, conformance and
//! trade-offs from one set of contributors, against closed forms.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::float_cmp,
    reason = "tests"
)]

use crate::common;

use std::f64::consts::{PI, SQRT_2};

use common::plans;
use dividing_core::accuracy::{
    Allowance, Coverage, Criterion, Datum, Decision, DecisionRule, ErrorModel, RunSettings,
    Simulation, SimulationReport, TrialCount, VerdictKind, range_constants,
};
use dividing_core::equipment::Equipment;
use dividing_core::work::Meter;
use dividing_core::{ErrorKind, Job, Plan, Workshop};
use serde_json::{Value, json};

const ARCSEC: f64 = 180.0 * 3600.0 / PI;

fn made(piece: &Value, job: &Value) -> (Plan, ErrorModel) {
    let workshop = json!({"format": 1, "name": "Bench", "equipment": [piece]});
    let mut whole = json!({"format": 1, "name": "Job"});
    for (key, value) in job.as_object().unwrap() {
        whole[key] = value.clone();
    }
    let plans = plans(&workshop, &whole);
    let model = plans.error_model(0, &mut Meter::new(u64::MAX)).unwrap();
    (plans.plan(0).unwrap().clone(), model)
}

fn divisions(count: u32) -> Value {
    json!({"equal_divisions": {"count": count}})
}

/// Holes within a zone of 0.02 mm, no clearance at all, at 50 mm.
fn plate(holes: u32, more: &Value) -> Value {
    let mut plate = json!({"name": "plate", "circles": [{"holes": holes, "pitch_radius": 50}],
        "registration": {"pin_diameter": 6, "hole_diameter": 6, "hole_position_tolerance": 0.02}});
    for (key, value) in more.as_object().unwrap() {
        plate[key] = value.clone();
    }
    json!({"direct_plate": plate})
}

fn run(model: &ErrorModel) -> SimulationReport {
    simulated(&model.simulation())
}

fn simulated(simulation: &Simulation) -> SimulationReport {
    let settings = RunSettings {
        trials: TrialCount::Exactly(200_000),
        ..RunSettings::default()
    };
    simulation
        .run(&settings, &mut Meter::new(u64::MAX))
        .unwrap()
}

/// A standard deviation from 200,000 trials of a bounded error has a relative
/// standard error of at most 1/√(2·200,000) = 0.16 %; six of them.
fn near(found: f64, expected: f64) {
    assert!(
        (found / expected - 1.0).abs() < 0.01,
        "{found} is not near {expected}"
    );
}

/// Independent holes: about the device's setting u = (T/4)/r (uniform in a
/// disc, radius T/2), about the mean of N it is u·√(1 − 1/N) (textbook variance
/// of a residual about a sample mean).
#[test]
fn independent_holes_spread_about_their_mean() {
    let (_, model) = made(&plate(12, &json!({})), &json!({"features": divisions(6)}));
    let standard_rad = 0.005 / 50.0;
    let budget = model.budget(0, Coverage::Factor(2.0)).unwrap();
    near(budget.combined_standard_uncertainty, standard_rad * ARCSEC);
    let about_the_mean = Simulation {
        datum: Datum::Mean,
        ..model.simulation()
    };
    let report = simulated(&about_the_mean);
    for feature in &report.features {
        near(
            feature.standard_deviation_rad,
            standard_rad * (5.0_f64 / 6.0).sqrt(),
        );
    }
}

/// Clocked: both the feature's hole and the datum's count, √2·u, and the
/// feature made at the datum's own hole is not off at all.
#[test]
fn a_clocked_start_counts_from_the_datum() {
    let job = json!({"features": divisions(6), "start": {"clocked": {"to": "keyway"}}});
    let (_, model) = made(&plate(12, &json!({})), &job);
    let report = run(&model);
    let standard_rad = 0.005 / 50.0;
    assert!(report.features[0].greatest_rad.abs() < f64::MIN_POSITIVE);
    for (number, feature) in report.features.iter().enumerate().skip(1) {
        near(feature.standard_deviation_rad, standard_rad * SQRT_2);
        let budget = model.budget(number, Coverage::Factor(2.0)).unwrap();
        near(
            budget.combined_standard_uncertainty,
            feature.standard_deviation_rad * ARCSEC,
        );
    }
    // Its seating alone would be left, and there is no clearance.
    let budget = model.budget(0, Coverage::Factor(2.0)).unwrap();
    assert!(budget.combined_standard_uncertainty < f64::MIN_POSITIVE);
}

/// One offset for feature and datum: the difference of two sinusoids Δ apart is
/// a sinusoid of 2(e/r)·sin(Δ/2) (sum-to-product formula), so its standard
/// uncertainty is that over √2, and the simulation, which draws one offset, agrees.
#[test]
fn a_clocked_feature_sees_one_offset_of_the_plate() {
    let off = json!({"eccentricity": 0.05, "registration": {"pin_diameter": 6,
        "hole_diameter": 6, "hole_position_tolerance": 0}});
    let job = json!({"features": divisions(6), "start": {"clocked": {"to": "keyway"}}});
    let (plan, model) = made(&plate(12, &off), &job);
    let report = run(&model);
    for (number, feature) in report.features.iter().enumerate().skip(1) {
        let half = PI * number as f64 / 6.0;
        let swing = 2.0 * 0.05 / 50.0 * half.sin();
        near(plan.error.features[number].worst_rad, swing);
        near(feature.standard_deviation_rad, swing / SQRT_2);
        assert!(feature.greatest_rad <= swing * 1.001);
        let budget = model.budget(number, Coverage::Factor(2.0)).unwrap();
        near(
            budget.combined_standard_uncertainty,
            swing / SQRT_2 * ARCSEC,
        );
    }
    assert!(plan.error.features[0].worst_rad < 1e-15);
    assert!(plan.error.exact_geometry.is_empty());
}

/// Single pitch of an eccentric circle of N: 2(e/r)·sin(π/N); cumulative 2e/r
/// (sum-to-product formula; tables of encoder errors give 2e/r).
#[test]
fn neighbours_see_almost_the_same_offset() {
    let off = json!({"eccentricity": 0.05, "registration": {"pin_diameter": 6,
        "hole_diameter": 6, "hole_position_tolerance": 0}});
    let job = json!({"features": divisions(36),
        "tolerance": {"pitch": {"single": "0.1 deg", "cumulative": "0.2 deg"}}});
    let (plan, model) = made(&plate(36, &off), &job);
    let pitch = plan.error.pitch.unwrap();
    let single = 2.0 * 0.001 * (PI / 36.0).sin();
    near(pitch.single_worst_rad, single);
    near(pitch.cumulative_worst_rad, 0.002);
    let report = run(&model);
    assert!(report.single_pitch.greatest_rad <= pitch.single_worst_rad);
    assert!(report.cumulative_pitch.greatest_rad <= pitch.cumulative_worst_rad * 1.000_001);
    // A single pitch alone decides: the trade-off is made for neighbours.
    let job = json!({"features": divisions(36),
        "tolerance": {"pitch": {"single": "0.1 deg"}}});
    let (_, model) = made(&plate(36, &off), &job);
    let table = model.trade_offs(Criterion::WorstCase).unwrap();
    near(table.present_rad, single);
}

/// A part off the axis is one offset for neighbours too.
#[test]
fn neighbours_see_almost_the_same_offset_of_the_part() {
    let job = json!({"features": divisions(12),
        "part_eccentricity": {"eccentricity": 0.02, "feature_radius": 40},
        "tolerance": {"pitch": {"single": "0.2 deg"}}});
    let exact = json!({"registration": {"pin_diameter": 6, "hole_diameter": 6,
        "hole_position_tolerance": 0}});
    let (plan, _) = made(&plate(12, &exact), &job);
    let expected = 2.0 * 0.02 / 40.0 * (PI / 12.0).sin();
    near(plan.error.pitch.unwrap().single_worst_rad, expected);
}

/// Lost motion comes in only when the side of approach changes (common practice,
/// no published source): a setting stands at one end of it or at the other.
#[test]
fn lost_motion_counts_only_from_either_side() {
    let table = json!({"graduated_dial": {"name": "table", "worm_ratio": 90,
        "graduations": 240, "table_error": "0 deg", "backlash": "0°1'"}});
    let one = json!({"features": divisions(6)});
    let (from_one, _) = made(&table, &one);
    let mut either = one.clone();
    either["approach"] = json!("either_side");
    let (from_either, model) = made(&table, &either);
    let half_rad = 30.0 / ARCSEC;
    near(
        from_either.error.worst_rad - from_one.error.worst_rad,
        half_rad,
    );
    // Two values, half each: u is half of their distance (JCGM 100:2008, 4.3.8
    // gives 1/√12 of the distance for all values between, 1/2 for the ends alone).
    let reading = PI / (90.0 * 240.0) / 3.0_f64.sqrt();
    let budget = model.budget(1, Coverage::Factor(2.0)).unwrap();
    near(
        budget.combined_standard_uncertainty,
        half_rad.hypot(reading) * ARCSEC,
    );
    // Clocked: the datum stands at an end too, and both ends are apart by all of it.
    either["start"] = json!({"clocked": {"to": "keyway"}});
    let (clocked, model) = made(&table, &either);
    let mut kept = either.clone();
    kept["approach"] = json!("one_side");
    let (kept, _) = made(&table, &kept);
    near(
        clocked.error.worst_rad - kept.error.worst_rad,
        2.0 * half_rad,
    );
    let report = run(&model);
    near(
        report.features[1].standard_deviation_rad,
        SQRT_2 * half_rad.hypot(reading),
    );

    // Nothing is known of it: the figure says so.
    let silent = json!({"graduated_dial": {"name": "table", "worm_ratio": 90,
        "graduations": 240, "table_error": "0 deg"}});
    either.as_object_mut().unwrap().remove("start");
    let (plan, _) = made(&silent, &either);
    assert_eq!(plan.error.unknown, ["lost motion of the worm (backlash)"]);
    // A plunger has none.
    let (plan, _) = made(&plate(12, &json!({})), &either);
    assert!(plan.error.unknown.is_empty());
}

/// An eccentricity e alone: over N equal features at most 2e/r peak to peak for
/// N even and 2(e/r)·cos(π/2N) for N odd (common practice; the sinusoid's own
/// geometry), and e/(r√2) standard deviation at each.
#[test]
fn an_off_centre_plate_is_one_sinusoid_for_all_features() {
    for (count, greatest) in [(6, 2.0), (5, 2.0 * (PI / 10.0).cos())] {
        let off = json!({"eccentricity": 0.05, "registration": {"pin_diameter": 6,
            "hole_diameter": 6, "hole_position_tolerance": 0}});
        let (_, model) = made(&plate(30, &off), &json!({"features": divisions(count)}));
        let report = run(&model);
        let greatest_rad = greatest * 0.05 / 50.0;
        let found = report.cumulative_pitch.greatest_rad;
        assert!(
            found <= greatest_rad * (1.0 + 1e-9),
            "{found} {greatest_rad}"
        );
        assert!(found > 0.999 * greatest_rad, "{found} {greatest_rad}");
        near(
            report.features[2].standard_deviation_rad,
            0.05 / 50.0 / SQRT_2,
        );
    }
}

/// Neighbouring bars of a ring share a pin. Fixed pins of true size: only the
/// holes' places count, tilt = (s2 − s1)/L with s normal to each bar. Bars of
/// span 1 on n holes lie 2π/n apart, so the two normal components of the shared
/// hole correlate by cos(2π/n): the variance of a single pitch of this ring is
/// (u/L)²·(4 + 2·cos(2π/n)), hole errors uniform in a disc (u = T/4 an axis).
#[test]
fn bars_that_share_a_pin_see_one_hole_from_two_sides() {
    let ring = json!({"pin_plate": {"name": "ring", "bar_turns_over": false,
        "circles": [{"holes": 3, "pitch_radius": 40}], "pin_hold": "fixed",
        "levelling": {"reading": 0, "travel": 100},
        "registration": {"pin_diameter": 6, "hole_diameter": 6, "hole_position_tolerance": 0.02}}});
    let job = json!({"features": {"angles": {"angles": ["0 deg", "120 deg"]}}});
    let (_, model) = made(&ring, &job);
    let report = run(&model);
    let baseline_mm = 80.0 * (PI / 3.0).sin();
    // Two features about their mean: each deviates by half the pitch.
    let pitch_rad = 2.0 * report.features[0].standard_deviation_rad;
    let variance = 4.0 + 2.0 * (2.0 * PI / 3.0).cos();
    near(pitch_rad, 0.005 / baseline_mm * variance.sqrt());
}

/// Mean range of N independent normal errors is d2(N)·σ (control-chart
/// constants); with errors uniform in a disc it stays within 3 % for N = 6.
#[test]
fn cumulative_pitch_of_a_plan_follows_the_range_constants() {
    let (_, model) = made(&plate(12, &json!({})), &json!({"features": divisions(6)}));
    let expected = range_constants(6).unwrap().mean * 0.005 / 50.0;
    let found = run(&model).cumulative_pitch.mean_rad;
    assert!((found / expected - 1.0).abs() < 0.03, "{found} {expected}");
}

/// A plate on a 40:1 head shows a fortieth of its hole error at the work, and
/// the same hole after other turns of the crank shows the same error.
#[test]
fn a_worm_divides_and_turns_repeat_the_hole() {
    let head = json!({"worm_head": {"name": "head", "worm_ratio": 40, "worm_error": "0 deg",
        "smallest_pitch_radius": 50, "plates": [{"name": "plate", "circles": [20]}],
        "registration": {"pin_diameter": 6, "hole_diameter": 6, "hole_position_tolerance": 0.02}}});
    let (_, model) = made(&head, &json!({"features": divisions(8)}));
    let budget = model.budget(3, Coverage::Factor(1.0)).unwrap();
    near(
        budget.combined_standard_uncertainty,
        0.005 / 50.0 / 40.0 * ARCSEC,
    );
    // Eight from 40:1 is five whole turns: every feature uses hole 0.
    assert!(run(&model).cumulative_pitch.greatest_rad < f64::MIN_POSITIVE);
}

#[test]
fn conformance_follows_the_rule() {
    let job = json!({"features": divisions(6), "tolerance": {"angle": "0.01 deg"}});
    let (_, model) = made(&plate(12, &json!({})), &job);
    let coverage = Coverage::Factor(2.0);
    let found = model
        .conformance(0, DecisionRule::SimpleAcceptance, coverage)
        .unwrap();
    assert_eq!(found.decision, Decision::Pass);
    // Limit 1.745e-4 rad, u 1e-4 rad: 2Φ(1.7453) − 1 (SciPy, norm.cdf) = 0.919067.
    assert!((found.probability - 0.919_067).abs() < 1e-5, "{found:?}");
    let strict = model
        .conformance(0, DecisionRule::GuardBand { multiple: 1.0 }, coverage)
        .unwrap();
    assert_eq!(strict.decision, Decision::NotProven);
    let report = run(&model);
    assert!(report.conformance.unwrap().deviation.is_some());
    let error = model
        .conformance(9, DecisionRule::SimpleAcceptance, coverage)
        .unwrap_err();
    assert_eq!(
        (error.kind(), error.field()),
        (ErrorKind::NotFound, "feature")
    );
}

/// By hand: limit 0.0005 rad at 50 mm is 0.025 mm, of which zone and clearance
/// of 0.02 mm take 0.010 mm each at worst.
#[test]
fn trade_offs_of_a_plan_are_those_by_hand() {
    let loose = json!({"registration": {"pin_diameter": 5.98, "hole_diameter": 6,
        "hole_position_tolerance": 0.02}});
    let degrees = 0.0005_f64.to_degrees();
    let job =
        json!({"features": divisions(6), "tolerance": {"angle": format!("{degrees:.12} deg")}});
    let (_, model) = made(&plate(12, &loose), &job);
    let table = model.trade_offs(Criterion::WorstCase).unwrap();
    near(table.present_rad, 0.0004);
    let line = |name: &str| {
        let line = table.inputs.iter().find(|it| it.name == name).unwrap();
        let Allowance::UpTo(most) = line.allowance else {
            panic!("{line:?}")
        };
        (line.present, most)
    };
    let (present, most) = line("hole position");
    near(present, 0.02);
    near(most, 0.03);
    near(line("pin clearance in the hole").1, 0.03);
    near(table.present_lever_mm.unwrap(), 50.0);
    near(table.least_lever_mm.unwrap(), 40.0);
}

fn judged(tolerance: &Value, count: u32) -> Plan {
    let job = json!({"features": divisions(count), "tolerance": tolerance});
    made(&plate(12, &json!({})), &job).0
}

/// Worst single and cumulative pitch of independent holes: twice one feature's
/// limit, 2·0.010/50 rad.
#[test]
fn pitch_tolerances_are_judged() {
    let limit = |factor: f64| format!("{:.12} deg", (factor * 0.0004_f64).to_degrees());
    let plan = judged(
        &json!({"pitch": {"single": limit(1.01), "cumulative": limit(1.02)}}),
        6,
    );
    assert_eq!(plan.verdict.kind, VerdictKind::Pass);
    near(plan.verdict.limit_rad.unwrap(), 0.0004 * 1.01);
    assert!((plan.verdict.margin_rad.unwrap() - 0.000_004).abs() < 1e-9);
    let plan = judged(&json!({"pitch": {"cumulative": limit(0.99)}}), 6);
    assert_eq!(plan.verdict.kind, VerdictKind::NotProven);
    // Eight from twelve holes: the settings alone are off by degrees.
    let plan = judged(&json!({"pitch": {"single": limit(1.01)}}), 8);
    assert_eq!(plan.verdict.kind, VerdictKind::Fail);
}

/// ISO 2768-1:1989, Table 3: class c, shorter side to 50 mm, ±1°; ISO
/// 1328-1:2013 (formula from memory): grade 5 at d = 100 mm, m = 2 mm is 6 µm
/// single (5.9) and 19.1 µm cumulative, rounded to 19; a zone of 0.1 mm with a
/// hole 0.02 mm over its smallest size has 0.12 mm.
#[test]
fn tolerances_of_the_standards_are_limits() {
    let limits = |tolerance: Value| {
        let job = json!({"format": 1, "name": "j", "features": divisions(6),
            "tolerance": tolerance});
        let job = Job::from_json(&job.to_string()).unwrap();
        assert_eq!(Job::from_json(&job.to_json().unwrap()).unwrap(), job);
        job.tolerance().unwrap().limits().unwrap()
    };
    let class = limits(json!({"angular_class": {"class": "coarse", "shorter_side": 50}}));
    near(class.deviation_rad.unwrap(), 1.0_f64.to_radians());
    let grade = limits(json!({"pitch_grade": {"grade": 5,
        "pitch": {"reference_diameter": 100, "module": 2}}}));
    near(grade.single_pitch_rad.unwrap(), 0.006 / 50.0);
    near(grade.cumulative_pitch_rad.unwrap(), 0.019 / 50.0);
    let bonus = limits(json!({"position_diameter": {"diameter": 0.1, "radius": 30,
        "at_maximum_material": {"maximum_material_size": 5.5, "least_material_size": 5.6,
            "actual_size": 5.52}}}));
    near(bonus.deviation_rad.unwrap(), 0.06 / 30.0);
}

#[test]
fn impossible_tolerances_are_refused_with_a_path() {
    let refused = |tolerance: Value| {
        let job = json!({"format": 1, "name": "j", "features": divisions(6),
            "tolerance": tolerance});
        Job::from_json(&job.to_string())
            .unwrap_err()
            .field()
            .to_owned()
    };
    assert_eq!(refused(json!({"pitch": {}})), "tolerance.pitch");
    assert_eq!(
        refused(json!({"pitch": {"single": "0 deg"}})),
        "tolerance.pitch.single"
    );
    assert_eq!(
        refused(json!({"pitch_grade": {"grade": 12,
            "pitch": {"reference_diameter": 100, "module": 2}}})),
        "tolerance.pitch_grade.grade"
    );
    assert_eq!(
        refused(json!({"pitch_grade": {"grade": 5,
            "pitch": {"reference_diameter": 1, "module": 2}}})),
        "tolerance.pitch_grade.pitch.reference_diameter"
    );
    assert_eq!(
        refused(json!({"angular_class": {"class": "coarse", "shorter_side": 0}})),
        "tolerance.angular_class.shorter_side"
    );
    assert_eq!(
        refused(json!({"position_diameter": {"diameter": 0.1, "radius": 30,
            "at_maximum_material": {"maximum_material_size": 5.5, "least_material_size": 5.6,
                "actual_size": 5.7}}})),
        "tolerance.position_diameter.at_maximum_material.actual_size"
    );
}

/// A clearance so large that linear and exact differ: the exact chord
/// 2·asin(c/(4r)) (plane geometry), and a hole that may lie off by a third of
/// the radius turns by asin(1/3).
#[test]
fn the_exact_geometry_is_used_where_the_linear_model_fails() {
    let wild = json!({"circles": [{"holes": 2, "pitch_radius": 3}],
        "registration": {"pin_diameter": 1.9, "hole_diameter": 5.9, "hole_position_tolerance": 2}});
    let (plan, _) = made(&plate(2, &wild), &json!({"features": divisions(2)}));
    let expected = 2.0 * (4.0_f64 / 12.0).asin() + (1.0_f64 / 3.0).asin();
    assert!(
        (plan.error.worst_rad - expected).abs() < 1e-12,
        "{:?}",
        plan.error
    );
    // The figure says for which.
    assert_eq!(
        plan.error.exact_geometry,
        ["hole position", "pin clearance in the hole"]
    );
    let (usual, _) = made(&plate(12, &json!({})), &json!({"features": divisions(6)}));
    assert!(usual.error.exact_geometry.is_empty());
}

/// ISO 286-2 rows for 6 mm: H7 0 to +12 µm, g6 −4 to −12 µm, so a clearance of
/// 4 to 24 µm.
#[test]
fn a_registration_may_be_given_by_its_fit() {
    let fit = |text: &str| {
        let plate = plate(
            12,
            &json!({"registration": {"fit": text,
            "hole_position_tolerance": 0.02}}),
        );
        json!({"format": 1, "name": "Bench", "equipment": [plate]}).to_string()
    };
    let workshop = Workshop::from_json(&fit("6 mm H7/g6")).unwrap();
    let Equipment::DirectPlate(found) = &workshop.equipment()[0] else {
        panic!("{workshop:?}")
    };
    let pin = found.registration.as_ref().unwrap();
    assert!((pin.least_clearance_mm() - 0.004).abs() < 1e-12, "{pin:?}");
    assert!(
        (pin.greatest_clearance_mm() - 0.024).abs() < 1e-12,
        "{pin:?}"
    );
    let read = Workshop::from_json(&workshop.to_json().unwrap()).unwrap();
    assert_eq!(read, workshop);
    let error = Workshop::from_json(&fit("6 mm H7/m6")).unwrap_err();
    assert!(error.message().contains("interference"), "{error}");
    assert!(error.field().ends_with("registration"), "{error:?}");
    let both = plate(
        12,
        &json!({"registration": {"fit": "6 mm H7/g6", "pin_diameter": 6,
        "hole_position_tolerance": 0.02}}),
    );
    let both = json!({"format": 1, "name": "Bench", "equipment": [both]}).to_string();
    let error = Workshop::from_json(&both).unwrap_err();
    assert!(error.message().contains("fit"), "{error}");
}

/// The finding gives the worst case by hand: holes off by 0.010 mm, least play
/// half of 0.004 mm, short by 0.008 mm.
#[test]
fn a_pin_that_may_not_enter_is_told_with_its_probability() {
    let tight = json!({"registration": {"fit": "6 mm H7/g6", "hole_position_tolerance": 0.02}});
    let (plan, _) = made(&plate(12, &tight), &json!({"features": divisions(6)}));
    let text = &plan.findings[0].text;
    assert!(text.contains("0.008 mm"), "{text}");
    assert!(text.contains('%'), "{text}");
}

/// Simple acceptance and guard bands (JCGM 106:2012, 8.2 and 8.3): a hole
/// uniform in a disc of 0.010 mm at 50 mm has a worst case of 41.25″ and an
/// expanded uncertainty (k = 2) of 41.25″ too.
#[test]
fn a_decision_rule_judges_in_the_place_of_the_worst_case() {
    let job = |tolerance: &str, rule: Value| {
        let mut job = json!({"features": divisions(12), "tolerance": {"angle": tolerance}});
        if !rule.is_null() {
            job["decision_rule"] = rule;
        }
        made(&plate(12, &json!({})), &job).0.verdict
    };
    let guarded = json!({"guard_band": {"multiple": 1}});
    let plain = job("36 sec", Value::Null);
    assert_eq!((plain.kind, plain.rule), (VerdictKind::NotProven, None));
    let simple = job("36 sec", json!("simple_acceptance"));
    assert_eq!(simple.kind, VerdictKind::Pass);
    assert!((simple.margin_rad.unwrap() * ARCSEC - 36.0).abs() < 1e-9);
    // ±36″ are ±1.745 standard deviations: 91.9 % by the table of the normal
    // distribution (2·Φ(1.745) − 1 with Φ(1.74) = 0.9591, Φ(1.75) = 0.9599).
    assert!((simple.probability.unwrap() - 0.919).abs() < 0.001);
    assert_eq!(job("36 sec", guarded.clone()).kind, VerdictKind::NotProven);
    let wide = job("50 sec", guarded.clone());
    assert_eq!(wide.kind, VerdictKind::Pass);
    assert!((wide.margin_rad.unwrap() * ARCSEC - (50.0 - 41.253)).abs() < 0.001);
    // Twelve holes do not reach seven divisions: rejected beyond the band.
    let off = json!({"features": divisions(7), "tolerance": {"angle": "36 sec"},
        "decision_rule": guarded});
    assert_eq!(
        made(&plate(12, &json!({})), &off).0.verdict.kind,
        VerdictKind::Fail
    );
    let hostile = Job::from_json(
        r#"{"format": 1, "name": "j", "features": {"equal_divisions": {"count": 3}},
            "decision_rule": {"guard_band": {"multiple": -1}}}"#,
    )
    .unwrap_err();
    assert_eq!(hostile.field(), "decision_rule.guard_band.multiple");
}

/// A part off the spindle axis: flats shift and do not turn; holes at 40 mm turn
/// by up to e/rf, over twelve of them by 2e/rf peak to peak (common practice; the
/// sinusoid of an eccentric circle).
#[test]
fn a_part_off_the_axis_shifts_and_turns_apart() {
    let job = |radius: Value, from: &str| {
        let mut part = json!({"eccentricity": 0.02, "located_from": from});
        if !radius.is_null() {
            part["feature_radius"] = radius;
        }
        json!({"features": divisions(12), "part_eccentricity": part})
    };
    let perfect = json!({"registration": {"pin_diameter": 6, "hole_diameter": 6,
        "hole_position_tolerance": 0}});
    let plate = plate(12, &perfect);
    let (flats, _) = made(&plate, &job(Value::Null, "spindle_or_plate"));
    let shift = flats.feature_shift.unwrap();
    assert_eq!((shift.shift_mm, shift.angle_rad), (0.02, 0.0));
    assert_eq!(flats.error.worst_rad, 0.0);
    let (own, _) = made(&plate, &job(json!(40), "parts_own_round"));
    assert_eq!(own.feature_shift.unwrap().shift_mm, 0.0);
    assert_eq!(own.error.worst_rad, 0.0);
    let (holes, model) = made(&plate, &job(json!(40), "spindle_or_plate"));
    assert!((holes.error.worst_rad - 0.0005).abs() < 1e-9);
    let report = run(&model);
    assert!((report.cumulative_pitch.greatest_rad - 0.001).abs() < 1e-7);
    // Never below what the twelve directions leave of it, cos(15°).
    assert!(report.cumulative_pitch.least_rad > 0.001 * (PI / 12.0).cos() - 1e-7);
    let reached = Job::from_json(
        r#"{"format": 1, "name": "j", "features": {"equal_divisions": {"count": 3}},
            "part_eccentricity": {"eccentricity": 5, "feature_radius": 5}}"#,
    )
    .unwrap_err();
    assert_eq!(
        (reached.kind(), reached.field()),
        (ErrorKind::Undetermined, "part_eccentricity.eccentricity")
    );
}

/// A plate drilled on a 40:1 head from a rougher plate, used on a 40:1 head: the
/// rougher plate's hole error is a fortieth on the new plate and a fortieth of
/// that at the work (common practice).
#[test]
fn a_fortieth_of_a_fortieth_of_the_rougher_plate_is_left() {
    let head = |registration: Value| {
        json!({"worm_head": {"name": "head", "worm_ratio": 40, "worm_error": "0 deg",
            "plates": [{"name": "p", "circles": [{"holes": 18, "pitch_radius": 50}]}],
            "registration": registration}})
    };
    let job = json!({"features": divisions(9)});
    let of = |piece: &Value| made(piece, &job).0.error.worst_rad;
    let pin = |more: &Value| {
        let mut pin = json!({"pin_diameter": 6, "hole_diameter": 6});
        for (key, value) in more.as_object().unwrap() {
            pin[key] = value.clone();
        }
        pin
    };
    // Holes of the rougher plate within 0.2 mm at 60 mm: 0.1/60 rad.
    let drilled = |worm_error: &str, wander: f64| {
        pin(&json!({"drilled": {"on_dividing_head": {"worm_ratio": 40,
            "rougher_pitch_radius": 60, "rougher_hole_position_tolerance": 0.2,
            "worm_error": worm_error, "drill_wander": wander}}}))
    };
    let rough_rad = 0.1 / 60.0;
    let used = of(&head(drilled("0 deg", 0.0)));
    assert!((used - rough_rad / 1600.0).abs() < 1e-12, "{used}");
    // A direct plate drilled so shows a fortieth.
    let direct = |registration: &Value| {
        of(
            &json!({"direct_plate": {"name": "d", "circles": [{"holes": 18, "pitch_radius": 50}],
            "registration": registration}}),
        )
    };
    let shown = direct(&drilled("0 deg", 0.0));
    assert!((shown - rough_rad / 40.0).abs() < 1e-12, "{shown}");
    // What the drilling adds of its own is not divided.
    let arcsec = 1.0 / ARCSEC;
    let more = direct(&drilled("30 sec", 0.01));
    assert!((more - rough_rad / 40.0 - 30.0 * arcsec - 0.005 / 50.0).abs() < 1e-12);
    // By coordinates: the circle round the square of the table's accuracy.
    let by_table = direct(&pin(
        &json!({"drilled": {"by_coordinates": {"table_accuracy": 0.005}}}),
    ));
    assert!((by_table - 0.005 * SQRT_2 / 50.0).abs() < 1e-12);
    // It reads back, and does not stand beside a tolerance.
    let workshop = json!({"format": 1, "name": "b", "equipment": [head(drilled("1 sec", 0.01))]});
    let read = Workshop::from_json(&workshop.to_string()).unwrap();
    assert_eq!(Workshop::from_json(&read.to_json().unwrap()).unwrap(), read);
    let mut both = drilled("0 deg", 0.0);
    both["hole_position_tolerance"] = json!(0.02);
    let workshop = json!({"format": 1, "name": "b", "equipment": [head(both)]});
    let error = Workshop::from_json(&workshop.to_string()).unwrap_err();
    assert!(error.to_string().contains("give one of the two"), "{error}");
}

/// The inverse for limits of pitch, checked by putting the answer back: with the
/// loosest hole tolerance the worst pitch stands on the limit.
#[test]
fn trade_offs_hold_limits_of_pitch() {
    for (limit, pick) in [("single", 0), ("cumulative", 1)] {
        let job = json!({"features": divisions(12), "tolerance": {"pitch": {limit: "1 min"}}});
        let (plan, model) = made(&plate(12, &json!({})), &job);
        let table = model.trade_offs(Criterion::WorstCase).unwrap();
        // Two holes, each within 0.010 mm at 50 mm.
        assert!((table.present_rad - 0.0004).abs() < 1e-12);
        assert!(table.pitch_from.is_some() && table.pitch_from != Some(table.feature));
        let pitch = plan.error.pitch.unwrap();
        let worst = [pitch.single_worst_rad, pitch.cumulative_worst_rad][pick];
        assert!((table.present_rad - worst).abs() < 1e-12);
        let line = table
            .inputs
            .iter()
            .find(|it| it.name == "hole position")
            .unwrap();
        let Allowance::UpTo(zone) = line.allowance else {
            panic!("{line:?}")
        };
        let again = plate(
            12,
            &json!({"registration": {"pin_diameter": 6, "hole_diameter": 6,
            "hole_position_tolerance": zone}}),
        );
        let pitch = made(&again, &job).0.error.pitch.unwrap();
        let worst = [pitch.single_worst_rad, pitch.cumulative_worst_rad][pick];
        assert!((worst * ARCSEC - 60.0).abs() < 1e-6, "{worst}");
    }
}

/// The class of ISO 2768-1 (Table 3: 20′ for f/m, 30′ for c from 50 to 120 mm) and
/// the grade of ISO 1328-1 that the worst case meets.
#[test]
fn plans_say_which_class_or_grade_they_meet() {
    let class = |zone: f64, class: &str| {
        let piece = plate(
            12,
            &json!({"registration": {"pin_diameter": 6, "hole_diameter": 6,
            "hole_position_tolerance": zone}}),
        );
        let job = json!({"features": divisions(12),
            "tolerance": {"angular_class": {"class": class, "shorter_side": 100}}});
        made(&piece, &job).0.verdict
    };
    // 0.5 mm off at 50 mm is 34.4′, 0.4 mm 27.5′, 0.25 mm 17.2′.
    let met = |zone: f64| class(zone, "very_coarse").class_met.map(|it| it.symbol());
    assert_eq!(met(0.5), Some("f/m"));
    assert_eq!(met(0.8), Some("c"));
    assert_eq!(met(1.0), Some("v"));
    assert_eq!(met(4.0), None);
    // Grade 5 at d = 100 mm, m = 2 mm: 6 µm single, 19 µm cumulative; 2 × 3 µm
    // of hole meets the one, and 6 µm of range the other.
    let job = json!({"features": divisions(12), "tolerance": {"pitch_grade": {"grade": 8,
        "pitch": {"reference_diameter": 100, "module": 2}}}});
    let piece = plate(
        12,
        &json!({"registration": {"pin_diameter": 6, "hole_diameter": 6,
        "hole_position_tolerance": 0.0059}}),
    );
    assert_eq!(made(&piece, &job).0.verdict.grade_met, Some(5));
}

/// The report as text, JSON and HTML, and the picture of the limits.
#[test]
fn a_plan_reports_its_error_and_draws_it() {
    let workshop = json!({"format": 1, "name": "Bench", "equipment": [plate(12, &json!({}))]});
    let job = json!({"format": 1, "name": "A & B", "features": divisions(12),
        "tolerance": {"angle": "1 min"}});
    let plans = plans(&workshop, &job);
    let meter = &mut Meter::new(u64::MAX);
    let report = plans
        .error_report(0, Criterion::WorstCase, Coverage::Factor(2.0), meter)
        .unwrap();
    let text = report.to_text();
    assert!(
        text.contains("hole position: now 0.0200 mm, up to 0.0291 mm"),
        "{text}"
    );
    assert!(
        text.contains("pitch radius or baseline: now 50.000 mm, at least 34.377 mm"),
        "{text}"
    );
    let html = report.to_html();
    assert!(html.contains("<td>up to 0.0291 mm</td>"), "{html}");
    let json: Value = serde_json::from_str(&report.to_json().unwrap()).unwrap();
    assert_eq!(json["trade_offs"]["feature"], 0);
    // The same table on the sheet, in its units, only where it is asked for.
    let sheet = plans.sheet_with_trade_offs(0, meter).unwrap();
    let rows = &sheet.trade_offs.as_ref().unwrap().rows;
    assert_eq!(rows[0], ["hole position", "0.020 mm", "up to 0.029 mm"]);
    let title = "one thing changed at a time";
    assert!(sheet.to_text().to_lowercase().contains(title));
    assert!(sheet.to_html().contains("up to 0.029 mm"));
    assert!(plans.sheet(0).unwrap().trade_offs.is_none());
    let picture = plans.deviation_picture(0).unwrap();
    assert!(picture.starts_with("<svg") && picture.contains("limits at worst"));
    // Both sides of the limits are drawn, but named once: two entries at the foot.
    assert_eq!(picture.matches("cy=\"490\"").count(), 2);
    assert!(picture.contains("A &amp; B") && !picture.contains("NaN"));
}

/// Chained referencing: independent steps add by their squares, so the last of
/// six features is off by √5 steps, and all six steps close the ring with √6
/// (sum of independent errors, JCGM 100:2008, 5.1.2).
#[test]
fn chained_errors_add_from_step_to_step() {
    let piece = json!({"part_reference": {"name": "stop", "from": "last_feature",
        "contact": {"flat": {"seat_error": "1 min"}}, "angles": ["60 deg"],
        "angle_error": "0 deg"}});
    let (plan, model) = made(&piece, &json!({"features": divisions(6)}));
    let minute = 60.0 / ARCSEC;
    assert!((plan.error.worst_rad - 5.0 * minute).abs() < 1e-12);
    let budget = model.budget(5, Coverage::Factor(2.0)).unwrap();
    let step_arcsec = 60.0 / 3.0_f64.sqrt();
    let expected = step_arcsec * 5.0_f64.sqrt();
    assert!((budget.combined_standard_uncertainty - expected).abs() < 1e-6);
    let report = run(&model);
    let closing = report.closing.unwrap().standard_deviation_rad * ARCSEC;
    // Five standard errors of a standard deviation over 200,000 trials.
    let expected = step_arcsec * 6.0_f64.sqrt();
    assert!(
        (closing / expected - 1.0).abs() < 5.0 / 400_000_f64.sqrt(),
        "{closing}"
    );
}
