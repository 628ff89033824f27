//! Error figures against plane geometry and figures worked out by hand.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "tests"
)]

use crate::common;

use std::f64::consts::{PI, TAU};

use common::plans;
use dividing_core::reach::{BarPlace, Setting};
use dividing_core::{ErrorKind, Plan, Workshop};
use serde_json::{Value, json};

/// A few sums and products of binary numbers: relative, some hundred units in
/// the last place.
const ROUNDING: f64 = 1e-13;

fn close(found: f64, expected: f64) {
    assert!(
        (found - expected).abs() <= ROUNDING * expected.abs(),
        "{found} is not {expected}"
    );
}

fn plan(piece: &Value, count: u32, more: &Value) -> Plan {
    let workshop = json!({"format": 1, "name": "Bench", "equipment": [piece]});
    let mut job =
        json!({"format": 1, "name": "Job", "features": {"equal_divisions": {"count": count}}});
    for (key, value) in more.as_object().unwrap() {
        job[key] = value.clone();
    }
    plans(&workshop, &job).plan(0).unwrap().clone()
}

fn pin(clearance: f64) -> Value {
    json!({"pin_diameter": 6.0 - clearance, "hole_diameter": 6, "hole_position_tolerance": 0.02})
}

/// A plate that sits off the axis of the part changes no angle of a levelled
/// bar: whatever its offset, the pins of every setting stand level (or upright)
/// when the part is turned to the attained angle. Exact plane geometry.
#[test]
fn an_off_centre_plate_changes_no_angle_of_a_levelled_bar() {
    let mut looked_at = 0;
    for holes in [3_u32, 4, 5, 6, 9] {
        let ring = json!({"pin_plate": {"name": "pins", "square": true,
            "circles": [{"holes": holes, "pitch_radius": 40, "first_hole": "7 deg"}]}});
        let plan = plan(&ring, 2 * holes, &json!({}));
        assert!(plan.exact);
        for (offset_x, offset_y) in [(0.0, 0.0), (3.0, 0.0), (-1.7, 2.9), (25.0, -11.0)] {
            for placement in &plan.placements {
                let Setting::BarOnPins {
                    first_pin,
                    second_pin,
                    bar,
                    ..
                } = placement.setting
                else {
                    panic!("{:?}", placement.setting);
                };
                // The part stands turned back by what is presented at the cutter.
                let presented = plan.start.checked_add(placement.attained).unwrap();
                let turn = -presented.to_radians_f64();
                let place = |hole: u32| {
                    let own = TAU * f64::from(hole) / f64::from(holes) + 7.0_f64.to_radians();
                    let (x, y) = (offset_x + 40.0 * own.cos(), offset_y + 40.0 * own.sin());
                    (
                        x * turn.cos() - y * turn.sin(),
                        x * turn.sin() + y * turn.cos(),
                    )
                };
                let ((ax, ay), (bx, by)) = (place(first_pin), place(second_pin));
                let off_mm = match bar {
                    BarPlace::LevelAbove | BarPlace::LevelBelow => by - ay,
                    BarPlace::UprightRight | BarPlace::UprightLeft => bx - ax,
                };
                assert!(off_mm.abs() < 1e-12 * 100.0, "{holes}: {off_mm} mm");
                looked_at += 1;
            }
        }
    }
    assert_eq!(looked_at, 4 * 2 * (3 + 4 + 5 + 6 + 9));
    // The document has no place for it either.
    let error = Workshop::from_json(
        r#"{"format": 1, "name": "b", "equipment": [{"pin_plate": {"name": "p",
            "circles": [{"holes": 5}], "eccentricity": 0.1}}]}"#,
    )
    .unwrap_err();
    assert_eq!(error.kind(), ErrorKind::UnknownField);
}

/// (T/2 + c/2 + e + cb/2)/r, by hand: (0.01 + 0.01 + 0.03 + 0.005)/50.
#[test]
fn a_plunger_by_hand() {
    let plate = |seating: &str, more: &Value| {
        let mut plate = json!({"direct_plate": {"name": "plate",
            "circles": [{"holes": 12, "pitch_radius": 50}],
            "registration": pin(0.02)}});
        plate["direct_plate"]["registration"]["seating"] = seating.into();
        for (key, value) in more.as_object().unwrap() {
            plate["direct_plate"][key] = value.clone();
        }
        plan(&plate, 4, &json!({})).error
    };
    let off = json!({"eccentricity": 0.03, "bore_clearance": 0.01});
    let error = plate("free", &json!({}));
    close(error.worst_rad, 0.000_4);
    close(error.root_sum_square_rad, 0.02 / 2.0_f64.sqrt() / 50.0);
    let error = plate("free", &off);
    close(error.worst_rad, 0.001_1);
    close(error.root_sum_square_rad, 0.001_125_f64.sqrt() / 50.0);
    // Always pushed one way, equal clearances cancel between holes.
    close(plate("biased", &json!({})).worst_rad, 0.01 / 50.0);
    assert!(error.unknown.is_empty());
}

/// The plate's own circle about an axis e away: its holes are seen under angles
/// that differ by no more than asin(e/r), which the figure must hold to the
/// second order.
#[test]
fn an_off_centre_plunger_plate_does_change_angles() {
    let (radius_mm, off_mm) = (50.0_f64, 0.5_f64);
    let plate = json!({"direct_plate": {"name": "plate", "eccentricity": off_mm,
        "circles": [{"holes": 12, "pitch_radius": radius_mm}],
        "registration": {"pin_diameter": 6, "hole_diameter": 6, "hole_position_tolerance": 0}}});
    let figure_rad = plan(&plate, 12, &json!({})).error.worst_rad;
    let mut largest_rad = 0.0_f64;
    for step in 0..3600 {
        let at = TAU * f64::from(step) / 3600.0;
        let seen = (radius_mm * at.sin()).atan2(off_mm + radius_mm * at.cos());
        let deviation = (seen - at + PI).rem_euclid(TAU) - PI;
        largest_rad = largest_rad.max(deviation.abs());
    }
    close(figure_rad, off_mm / radius_mm);
    let second_order = (off_mm / radius_mm).powi(2);
    assert!(
        (largest_rad - figure_rad).abs() < second_order,
        "{largest_rad} {figure_rad}"
    );
}

/// By hand for pins straight across, L = 80: (2·T/2 + 2·Δd + 2·ΔD/2 + s)/L +
/// reading/travel = (0.02 + 0.004 + 0.004 + 0.003)/80 + 0.01/100.
#[test]
fn a_bar_on_loose_pins_by_hand() {
    let ring = |hold: &str, more: &Value| {
        let mut ring = json!({"pin_plate": {"name": "pins", "pin_hold": hold,
            "circles": [{"holes": 6, "pitch_radius": 40}], "bar_straightness": 0.003,
            "levelling": {"reading": 0.01, "travel": 100},
            "registration": {"pin_diameter": 5.99, "hole_diameter": 6,
                "hole_position_tolerance": 0.02, "hole_diameter_tolerance": 0.004,
                "pin_diameter_tolerance": 0.002}}});
        for (key, value) in more.as_object().unwrap() {
            ring["pin_plate"][key] = value.clone();
        }
        plan(&ring, 6, &json!({})).error
    };
    let error = ring("loose", &json!({}));
    close(error.worst_rad, 0.031 / 80.0 + 0.000_1);
    let squares = [0.01, 0.01, 0.002, 0.002, 0.002, 0.002, 0.003, 0.008];
    let root = squares.iter().map(|it: &f64| it * it).sum::<f64>().sqrt();
    close(error.root_sum_square_rad, root / 80.0);
    // Fixed pins touch the bar at their radius, whatever their holes:
    // (2·T/2 + 2·Δd/2 + s)/L + reading/travel.
    let error = ring("fixed", &json!({}));
    close(error.worst_rad, 0.025 / 80.0 + 0.000_1);
}

/// Loose pins under a level bar, laid in place as circles: a pin larger by Δd
/// lifts its end by Δd, a hole larger by ΔD drops it by ΔD/2.
#[test]
fn loose_pins_lie_at_the_bottom_of_their_holes() {
    // Top of the pin over the centre of its hole.
    let top_mm = |pin_mm: f64, hole_mm: f64| pin_mm / 2.0 - (hole_mm - pin_mm) / 2.0;
    let rest = top_mm(5.99, 6.0);
    let ring = |pin: f64, hole: f64| {
        let ring = json!({"pin_plate": {"name": "pins", "circles": [{"holes": 6, "pitch_radius": 40}],
            "levelling": {"reading": 0, "travel": 100},
            "registration": {"pin_diameter": 5.99, "hole_diameter": 6, "hole_position_tolerance": 0,
                "pin_diameter_tolerance": pin, "hole_diameter_tolerance": hole}}});
        plan(&ring, 6, &json!({})).error.worst_rad
    };
    // The worst: one pin larger, the other smaller, straight across (L = 80).
    let pins_mm = top_mm(5.992, 6.0) - top_mm(5.988, 6.0);
    let holes_mm = top_mm(5.99, 5.996) - top_mm(5.99, 6.004);
    assert!((rest - (5.99 - 3.0)).abs() < 1e-12);
    assert!((ring(0.002, 0.0) - pins_mm / 80.0).abs() < 1e-12);
    assert!((ring(0.0, 0.004) - holes_mm / 80.0).abs() < 1e-12);
}

/// Half a graduation, π/(90·240) rad = 30", and the table's 45".
#[test]
fn a_dial_by_hand() {
    let dial = json!({"graduated_dial": {"name": "table", "worm_ratio": 90, "graduations": 240,
        "table_error": "0°00'45\""}});
    let error = plan(&dial, 16, &json!({})).error;
    let arcsec = TAU / 1_296_000.0;
    close(error.worst_rad, 75.0 * arcsec);
    close(
        error.root_sum_square_rad,
        (30.0_f64.powi(2) + 45.0_f64.powi(2)).sqrt() * arcsec,
    );
}

/// Face and seat of a block add: 1' + 2'.
#[test]
fn a_block_by_hand() {
    let block = json!({"faced_block": {"name": "square", "faces": 4, "face_error": "0°01'",
        "seat_error": "0°02'"}});
    let error = plan(&block, 4, &json!({})).error;
    close(error.worst_rad, 3.0 * TAU / 21_600.0);
    close(error.root_sum_square_rad, 5.0_f64.sqrt() * TAU / 21_600.0);
}

/// Crank-side deviations divide by the worm ratio.
#[test]
fn a_plate_on_a_40_to_1_head_shows_a_fortieth_of_its_hole_error() {
    let on_spindle = json!({"direct_plate": {"name": "plate",
        "circles": [{"holes": 20, "pitch_radius": 50}], "registration": pin(0.02)}});
    let on_crank = json!({"worm_head": {"name": "head", "worm_ratio": 40, "worm_error": "0 deg",
        "smallest_pitch_radius": 50, "registration": pin(0.02),
        "plates": [{"name": "plate", "circles": [20]}]}});
    let (spindle, crank) = (
        plan(&on_spindle, 10, &json!({})),
        plan(&on_crank, 10, &json!({})),
    );
    close(crank.error.worst_rad * 40.0, spindle.error.worst_rad);
    close(
        crank.error.root_sum_square_rad * 40.0,
        spindle.error.root_sum_square_rad,
    );
    assert!(spindle.error.worst_rad > 0.0);
}

/// A zone of 0.1 on a circle of radius 30: the chord from the true place to where
/// the circle leaves the zone is 0.05, so 2·30·sin(θ/2) = 0.05.
#[test]
fn a_position_diameter_of_0_1_at_30_mm() {
    let plate = json!({"direct_plate": {"name": "plate",
        "circles": [{"holes": 8, "pitch_radius": 50}], "registration": pin(0.02)}});
    let zone = json!({"tolerance": {"position_diameter": {"diameter": 0.1, "radius": 30}}});
    let verdict = plan(&plate, 8, &zone).verdict;
    let limit_rad = verdict.limit_rad.unwrap();
    let chord_mm = 2.0 * 30.0 * (limit_rad / 2.0).sin();
    assert!((chord_mm - 0.05).abs() < 1e-12);
    // By hand: 0.05/30 rad = 0.0955°, less the plunger's 0.0004 rad.
    assert!((limit_rad.to_degrees() - 0.0955).abs() < 5e-5);
    close(verdict.margin_rad.unwrap(), limit_rad - 0.000_4);
}

/// The residual of a setting is part of the figure: five on 24 holes are off by
/// (1 − 1/5)/48 turn = 6°.
#[test]
fn residuals_count_in_full() {
    let plate = json!({"direct_plate": {"name": "plate",
        "circles": [{"holes": 24, "pitch_radius": 50}], "registration": pin(0.02)}});
    let plan = plan(&plate, 5, &json!({}));
    close(plan.error.worst_rad, 6.0_f64.to_radians() + 0.000_4);
}

/// Clocked, the datum's own registration is added, and its clocking error:
/// 0.0004 + 0.0004 rad + 1'. The feature at the datum's own hole keeps what is
/// new at each seating, twice: (c/2 + c/2)/r.
#[test]
fn a_clocked_start_adds_the_datum() {
    let plate = json!({"direct_plate": {"name": "plate",
        "circles": [{"holes": 12, "pitch_radius": 50}], "registration": pin(0.02)}});
    let clocked = json!({"start": {"clocked": {"to": "keyway", "clocking_error": "0°01'"}}});
    let error = plan(&plate, 4, &clocked).error;
    let minute = TAU / 21_600.0;
    close(error.worst_rad, 0.000_8 + minute);
    close(error.features[0].worst_rad, 0.000_4 + minute);
}
