//! Sine bars, angle gauge blocks, protractors, references of the part, stacks
//! and bars across rings, from documents to sheets, against first principles:
//! every setting is carried out here by its own arithmetic or geometry.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::float_cmp,
    reason = "a test states what must hold"
)]

use std::f64::consts::{PI, TAU};

use dividing_core::gauge_blocks::BlockUnit;
use dividing_core::plan::FindingKind;
use dividing_core::reach::{
    BarPlace, Setting, StackedBlocks, VeeSeat, WayKind, reach, vee_seat, ways,
};
use dividing_core::work::Meter;
use dividing_core::{Angle, Job, Plans, Workshop, plan_job};

fn plans(equipment: &str, job: &str) -> Plans {
    let workshop = format!(r#"{{"format":1,"name":"Bench","equipment":[{equipment}]}}"#);
    let job = format!(r#"{{"format":1,"name":"Job",{job}}}"#);
    let workshop = Workshop::from_json(&workshop).unwrap();
    // What is written reads back the same.
    assert_eq!(
        Workshop::from_json(&workshop.to_json().unwrap()).unwrap(),
        workshop
    );
    plan_job(&workshop, &Job::from_json(&job).unwrap()).unwrap()
}

fn angles(list: &[f64]) -> String {
    let texts: Vec<String> = list.iter().map(|it| format!("\"{it} deg\"")).collect();
    format!(
        r#""features":{{"angles":{{"angles":[{}]}}}}"#,
        texts.join(",")
    )
}

/// Off by so much, within half a turn, in radians.
fn off_rad(attained_rad: f64, required: Angle) -> f64 {
    let off = (attained_rad - required.to_radians_f64()).rem_euclid(TAU);
    if off > PI { off - TAU } else { off }
}

fn height_mm(unit: BlockUnit, stack: &StackedBlocks, wear: Option<u32>) -> f64 {
    let sum = |blocks: &[u32]| blocks.iter().map(|it| i64::from(*it)).sum::<i64>();
    let wear = if stack.low.is_empty() {
        2 * i64::from(wear.unwrap_or(0))
    } else {
        0
    };
    unit.to_mm(sum(&stack.high) - sum(&stack.low) + wear)
}

/// Rows of sine tables: 34°25' and 27° on a 5 in bar (R. A. Walsh, Handbook of
/// Machining and Metalworking Calculations, ch. 4: 2.826 in; a sine-plate FAQ:
/// 2.270 in), set with the inch set of 81 pieces.
#[test]
fn published_sine_bar_rows_come_out_as_plans() {
    for (angle, height_in) in [("34°25'", 2.826), ("27 deg", 2.270)] {
        let found = plans(
            r#"{"sine_bar":{"name":"bar","length":"5 in","blocks":{"named":"inch_81"}}}"#,
            &format!(
                r#""features":{{"angles":{{"angles":["0 deg","{angle}"]}}}},"start":"on_a_setting""#
            ),
        );
        let plan = found.plan(0).unwrap();
        let heights: Vec<f64> = plan
            .placements
            .iter()
            .map(|it| match &it.setting {
                Setting::SineBar {
                    reversed,
                    unit,
                    height_units,
                    ..
                } => {
                    let sign = if *reversed { -1.0 } else { 1.0 };
                    sign * unit.to_mm(i64::from(*height_units)) / 127.0
                }
                other => panic!("{other:?}"),
            })
            .collect();
        // The start may tilt the first feature; the angle between the two is
        // that of the table's height.
        let between_deg = (heights[1].asin() - heights[0].asin()).to_degrees();
        let table_deg = (height_in / 5.0_f64).asin().to_degrees();
        // Printed to three decimals of an inch.
        let printed_deg = (0.0005 / 5.0_f64).to_degrees() / (height_in / 5.0_f64).asin().cos();
        assert!((between_deg - table_deg).abs() <= printed_deg);
        assert!(!plan.exact);
    }
}

#[test]
fn a_sine_bar_plan_adds_up_block_by_block() {
    for (two_stacks, wear) in [(false, ""), (true, ""), (false, r#","wear_block":2"#)] {
        let found = plans(
            &format!(
                r#"{{"sine_bar":{{"name":"bar","length":100,"blocks":{{"named":"metric_87"}},
                   "two_stacks":{two_stacks},"block_error":0.0002,"length_error":0.002{wear}}}}}"#
            ),
            &(angles(&[0.0, 0.1, 11.25, 17.5, 41.3, -23.456])
                + r#","start":{"clocked":{"to":"flat"}}"#),
        );
        let plan = found.plan(0).unwrap();
        assert_eq!(plan.way, WayKind::SineBar);
        for it in &plan.placements {
            let Setting::SineBar {
                reversed,
                unit,
                height_units,
                stacks,
                wear_block_units,
            } = &it.setting
            else {
                panic!("{:?}", it.setting)
            };
            let height = unit.to_mm(i64::from(*height_units));
            for stack in stacks {
                assert!((height_mm(*unit, stack, *wear_block_units) - height).abs() < 1e-9);
                assert!(stack.high.len() + stack.low.len() <= 5);
            }
            if height > 0.0 {
                assert_eq!(stacks.len(), if two_stacks { 2 } else { 1 });
                let mut used: Vec<u32> = stacks
                    .iter()
                    .flat_map(|it| it.high.iter().chain(&it.low).copied())
                    .collect();
                let all = used.len();
                used.sort_unstable();
                used.dedup();
                assert_eq!(used.len(), all, "a block stands in two places");
            }
            let tilt = (height / 100.0).asin() * if *reversed { -1.0 } else { 1.0 };
            let off = off_rad(tilt, it.required);
            let said = it
                .residual_rad
                .unwrap_or_else(|| it.residual.to_radians_f64());
            assert!((off - said).abs() < 1e-14, "{off} {said}");
            // Half a step of 0.001 mm at this tilt is the most it can be off.
            assert!(off.abs() <= 0.000_51 / (100.0 * tilt.cos()), "{off}");
        }
    }
}

/// A set so small that every stack can be tried: no start and no choice of
/// stacks does better.
#[test]
fn sine_bar_settings_are_optimal() {
    let sizes = [100_000_u32, 130_000, 200_000, 270_000];
    let equipment = r#"{"sine_bar":{"name":"bar","length":100,"blocks":
        {"own":{"unit":"tenth_micrometre","blocks":[100000,130000,200000,270000]}}}}"#;
    let mut tilts = vec![0.0];
    // Single stacks up to 60° of tilt, and below the smallest block differences.
    for choice in 0..3_u32.pow(4) {
        let (mut rest, mut height, mut minus) = (choice, 0_i64, false);
        for size in sizes {
            match rest % 3 {
                1 => height += i64::from(size),
                2 => {
                    height -= i64::from(size);
                    minus = true;
                }
                _ => {}
            }
            rest /= 3;
        }
        if height > 0 && (!minus || height < 100_000) {
            let sine = BlockUnit::TenthMicrometre.to_mm(height) / 100.0;
            if sine <= (PI / 3.0).sin() {
                tilts.extend([sine.asin(), -sine.asin()]);
            }
        }
    }
    let nearest = |target: f64| {
        tilts
            .iter()
            .map(|tilt| {
                let off = (tilt - target).rem_euclid(TAU);
                off.min(TAU - off)
            })
            .fold(f64::INFINITY, f64::min)
    };
    for list in [
        vec![0.0, 10.0, 21.0],
        vec![3.0, 7.5, 12.25, 30.0],
        vec![0.0, 30.0],
        vec![-14.0, 2.0, 5.0, 33.0, 41.0],
    ] {
        let worst = |start: f64| {
            list.iter()
                .map(|it: &f64| nearest(start + it.to_radians()))
                .fold(0.0, f64::max)
        };
        // The best free start puts one feature as far above as another is below:
        // try the middle of every two exact starts.
        let exact: Vec<f64> = list
            .iter()
            .flat_map(|it| tilts.iter().map(move |tilt| tilt - it.to_radians()))
            .collect();
        let mut best = f64::INFINITY;
        for a in &exact {
            for b in &exact {
                best = best.min(worst(f64::midpoint(*a, *b)));
            }
        }
        let best_on = tilts
            .iter()
            .map(|tilt| worst(tilt - list[0].to_radians()))
            .fold(f64::INFINITY, f64::min);
        let solve = |start: &str| {
            let found = plans(equipment, &(angles(&list) + start));
            let plan = found.plan(0).unwrap();
            plan.placements
                .iter()
                .map(|it| {
                    it.residual_rad
                        .unwrap_or(it.residual.to_radians_f64())
                        .abs()
                })
                .fold(0.0, f64::max)
        };
        // The search works to a millionth of a second of arc.
        let grid = 5e-12;
        assert!((solve("") - best).abs() < grid, "{list:?}");
        assert!((solve(r#","start":"on_a_setting""#) - best_on).abs() < grid);
        let clocked = solve(r#","start":{"clocked":{"to":"flat"}}"#);
        assert!((clocked - worst(0.0)).abs() < grid);
    }
}

/// Niven's theorem: level and 30° are the only exact tilts.
#[test]
fn a_sine_bar_is_exact_at_thirty_degrees_only() {
    let bar = r#"{"sine_bar":{"name":"bar","length":100,"blocks":{"named":"metric_87"}}}"#;
    let clocked = r#","start":{"clocked":{"to":"flat"}}"#;
    let exact = plans(bar, &(angles(&[0.0, 30.0, -30.0]) + clocked));
    assert!(exact.plan(0).unwrap().exact);
    for other in [29.0, 45.0, 36.0, 18.0] {
        let found = plans(bar, &(angles(&[0.0, other]) + clocked));
        let plan = found.plan(0).unwrap();
        assert!(!plan.exact, "{other}");
        assert!(
            plan.findings
                .iter()
                .any(|it| it.kind == FindingKind::RealAngles)
        );
    }
}

/// The 13-piece set reaches every 3" up to 81°40'57" and nothing beyond
/// (Transactions of the Institute of Measurement and Control 15, 1993, abstract;
/// sizes from memory).
#[test]
fn angle_gauge_blocks_reach_their_published_range() {
    let set = r#"{"angle_blocks":{"name":"wedges","blocks":{"named":"pieces13"}}}"#;
    let clocked = r#","start":{"clocked":{"to":"flat"}}"#;
    let off = |angle: &str| {
        let found = plans(
            set,
            &format!(r#""features":{{"angles":{{"angles":["{angle}"]}}}}{clocked}"#),
        );
        let plan = found.plan(0).unwrap();
        let Setting::AngleStack {
            plus_arcsec,
            minus_arcsec,
        } = &plan.placements[0].setting
        else {
            panic!()
        };
        let sum = |blocks: &[u32]| blocks.iter().map(|it| i128::from(*it)).sum::<i128>();
        let total = Angle::new(sum(plus_arcsec) - sum(minus_arcsec), 1_296_000).unwrap();
        assert_eq!(plan.placements[0].attained, total);
        assert_eq!(plan.exact, plan.placements[0].residual.is_zero());
        plan.placements[0].residual.to_string()
    };
    assert_eq!(off("81d40m57s"), "0°");
    assert_eq!(off("-81d40m57s"), "0°");
    assert_eq!(off("33d9m15s"), "0°");
    assert_eq!(
        off("81d41m0s").parse::<Angle>().unwrap(),
        "-3\"".parse().unwrap()
    );
    assert_eq!(
        off("10d0m1s").parse::<Angle>().unwrap().abs(),
        "1\"".parse().unwrap()
    );
}

#[test]
fn a_protractor_rounds_every_angle_once() {
    let found = plans(
        r#"{"protractor":{"name":"level","resolution":"5'","instrument_error":"2'"}}"#,
        &(angles(&[0.0, 12.5, 40.04]) + r#","start":"on_a_setting""#),
    );
    let plan = found.plan(0).unwrap();
    // 40.04° is 40°2.4'; the nearest reading is 40°0' or, on another start, the
    // same difference.
    assert_eq!(plan.largest_residual, "2.4'".parse().unwrap());
    // Half the resolution and the instrument's error.
    let limits: f64 = plan
        .error
        .contributors
        .iter()
        .map(|it| it.limit_rad())
        .sum();
    let expected: Angle = "4.5'".parse().unwrap();
    assert!((limits - expected.to_radians_f64()).abs() < 1e-15);
    assert!(found.sheet(0).unwrap().to_text().contains("absolute"));
}

fn stop(from: &str, angles: &str) -> String {
    format!(
        r#"{{"part_reference":{{"name":"stop","contact":{{"flat":{{"seat_error":"20\""}}}},
        "from":"{from}","angles":[{angles}],"angle_error":"10\""}}}}"#
    )
}

#[test]
fn chained_references_add_errors_up_and_a_common_datum_does_not() {
    let nine =
        r#""features":{"equal_divisions":{"count":9,"called":"slot"}},"start":"on_a_setting""#;
    let found = plans(&stop("last_feature", "\"40 deg\""), nine);
    let plan = found.plan(0).unwrap();
    assert!(plan.exact);
    let arcsec = |rad: f64| rad.to_degrees() * 3600.0;
    for (steps, (feature, placement)) in
        plan.error.features.iter().zip(&plan.placements).enumerate()
    {
        assert_eq!(
            placement.setting,
            Setting::FromLast {
                steps: u32::try_from(steps).unwrap()
            }
        );
        let steps = steps as f64;
        assert!((arcsec(feature.worst_rad) - 30.0 * steps).abs() < 1e-9);
        // The stop is the same at every step, the seating is new.
        let squares = (10.0 * steps).powi(2) + 400.0 * steps;
        assert!((arcsec(feature.root_sum_square_rad) - squares.sqrt()).abs() < 1e-9);
    }
    let text = found.sheet(0).unwrap().to_text();
    assert!(text.contains("accumulating"), "{text}");
    // Nine steps of 30" either way: 4'30", 0.075°.
    assert!(
        text.contains("Closing error") && text.contains("0.0750°"),
        "{text}"
    );
    assert!(
        plan.findings
            .iter()
            .any(|it| it.kind == FindingKind::ErrorsAddUp)
    );

    let stops: Vec<String> = (0..9).map(|k| format!("\"{} deg\"", 40 * k)).collect();
    let found = plans(&stop("common_datum", &stops.join(",")), nine);
    let plan = found.plan(0).unwrap();
    assert!(plan.exact);
    for feature in &plan.error.features {
        assert!((arcsec(feature.worst_rad) - 30.0).abs() < 1e-9);
    }
    assert!(found.sheet(0).unwrap().to_text().contains("absolute"));
}

/// A step of 51.4° for seven divisions: every start on a fine grid is tried.
#[test]
fn a_chain_gets_the_best_start() {
    let job = r#""features":{"equal_divisions":{"count":7}}"#;
    let found = plans(&stop("last_feature", "\"51.4 deg\""), job);
    let plan = found.plan(0).unwrap();
    let worst = |start: i64| {
        (0..7)
            .map(|k| {
                // In parts of 70 to a degree, so that all is whole.
                let off = (start + k * 3598 - k * 3600).rem_euclid(25_200);
                off.min(25_200 - off)
            })
            .max()
            .unwrap()
    };
    let best = (0..25_200).map(worst).min().unwrap();
    assert_eq!(
        plan.largest_residual,
        Angle::from_degrees(best.into(), 70).unwrap()
    );
    assert!(plan.shortfall.as_ref().unwrap().supply.contains("1/7 turn"));
}

const SHOP: &str = r#"
    {"direct_plate":{"name":"plate","circles":[{"holes":10,"absent":[3]}],"sense":"clockwise"}},
    {"faced_block":{"name":"hexagon","faces":6,"face_error":"10\""}},
    {"angle_blocks":{"name":"wedges","blocks":{"named":"pieces13"},"block_error":"1\""}},
    {"sine_bar":{"name":"bar","length":100,"blocks":{"named":"metric_87"}}}"#;

/// Every setting of a stack is added up from its members by the meaning of each.
#[test]
fn stacks_add_up_member_by_member() {
    for (members, count) in [
        ("plate\",\"hexagon", 30),
        ("hexagon\",\"wedges", 7),
        ("plate\",\"hexagon\",\"wedges", 11),
        ("hexagon\",\"bar", 13),
    ] {
        let job = format!(r#""features":{{"equal_divisions":{{"count":{count}}}}}"#);
        let shop = format!(r#"{SHOP},{{"stack":{{"name":"both","members":["{members}"]}}}}"#);
        let found = plans(&shop, &job);
        let plan = found
            .plans()
            .iter()
            .find(|it| it.equipment == "both")
            .unwrap();
        for it in &plan.placements {
            let Setting::Stack { members } = &it.setting else {
                panic!()
            };
            // Presented: what drawing angle, up to the start, is at the cutter.
            let presented: f64 = members
                .iter()
                .map(|member| match member {
                    // A clockwise plate counts the other way.
                    Setting::Hole { hole, .. } => {
                        assert_ne!(*hole, 3);
                        -TAU * f64::from(*hole) / 10.0
                    }
                    Setting::FaceDown { face } => TAU * f64::from(*face) / 6.0,
                    Setting::AngleStack {
                        plus_arcsec,
                        minus_arcsec,
                    } => {
                        let sum =
                            |blocks: &[u32]| blocks.iter().map(|it| f64::from(*it)).sum::<f64>();
                        ((sum(plus_arcsec) - sum(minus_arcsec)) / 3600.0).to_radians()
                    }
                    Setting::SineBar {
                        reversed,
                        unit,
                        height_units,
                        ..
                    } => {
                        let tilt = (unit.to_mm(i64::from(*height_units)) / 100.0).asin();
                        if *reversed { -tilt } else { tilt }
                    }
                    other => panic!("{other:?}"),
                })
                .sum();
            let off = off_rad(presented - plan.start.to_radians_f64(), it.required);
            let said = it.residual_rad.unwrap_or(it.residual.to_radians_f64());
            // The start itself is on the grid of a millionth of a second.
            assert!((off - said).abs() < 1e-12, "{off} {said}");
        }
        assert!(found.sheet(0).unwrap().to_text().contains("SETTINGS"));
    }
}

#[test]
fn a_hexagon_on_a_plate_of_ten_holds_thirty_and_says_what_sixty_needs() {
    let shop = r#"{"direct_plate":{"name":"plate","circles":[{"holes":10}]}},
        {"faced_block":{"name":"hexagon","faces":6}},
        {"stack":{"name":"both","members":["plate","hexagon"]}}"#;
    let exact = |count: u32| {
        let found = plans(
            shop,
            &format!(r#""features":{{"equal_divisions":{{"count":{count}}}}}"#),
        );
        let plan = found
            .plans()
            .iter()
            .find(|it| it.equipment == "both")
            .unwrap();
        (plan.exact, plan.shortfall.clone())
    };
    // lcm(10, 6) = 30.
    for count in [2, 3, 5, 6, 10, 15, 30] {
        assert!(exact(count).0, "{count}");
    }
    let (is_exact, shortfall) = exact(60);
    assert!(!is_exact);
    let suppliers = shortfall.unwrap().suppliers;
    // 60 = 4·3·5: with the hexagon (2·3) kept the other must bring 4·5, with the
    // plate (2·5) kept 4·3; the smaller is named first.
    let sizes: Vec<i128> = suppliers.iter().map(|it| it.size).collect();
    assert_eq!(sizes, [12, 20]);
}

/// Three pins, two rings: the plate is turned as the setting says and the bar's
/// edge must touch both pins at one height, or at one distance when upright.
#[test]
fn bars_across_rings_lie_level_in_the_plane() {
    let shop = r#"{"pin_plate":{"name":"pins","across_rings":true,"square":true,"sense":"clockwise",
        "circles":[{"holes":5,"pitch_radius":31},{"holes":7,"pitch_radius":47,"first_hole":"4 deg"}]}}"#;
    let list = [0.0, 13.7, 91.2, 200.123];
    let workshop = Workshop::from_json(&format!(
        r#"{{"format":1,"name":"w","equipment":[{shop}]}}"#
    ))
    .unwrap();
    let clocked = r#","start":{"clocked":{"to":"flat"}}"#;
    let job = format!(r#"{{"format":1,"name":"j",{}{clocked}}}"#, angles(&list));
    let meter = &mut Meter::default();
    let ways = ways(&workshop, meter).unwrap();
    let across = ways
        .iter()
        .find(|way| way.kind() == WayKind::PinsAcrossRings)
        .unwrap();
    let laid = reach(&workshop, across, &Job::from_json(&job).unwrap(), meter).unwrap();
    assert!(!laid.exact);
    for it in &laid.placements {
        let Setting::BarAcrossRings {
            first_ring,
            first_pin,
            second_ring,
            second_pin,
            bar,
        } = it.setting
        else {
            panic!("{:?}", it.setting)
        };
        assert_eq!((first_ring, second_ring), (5, 7));
        // With the drawing angle presented at the cutter the part stands turned
        // back by it; holes count clockwise.
        let presented =
            laid.start.to_radians_f64() + it.required.to_radians_f64() + it.residual_rad.unwrap();
        let place = |radius: f64, hole: u32, count: f64, first_deg: f64| {
            let angle = -(TAU * f64::from(hole) / count + first_deg.to_radians()) - presented;
            (radius * angle.cos(), radius * angle.sin())
        };
        let a = place(31.0, first_pin, 5.0, 0.0);
        let b = place(47.0, second_pin, 7.0, 4.0);
        let (off, outward) = match bar {
            BarPlace::LevelAbove => (a.1 - b.1, a.1),
            BarPlace::LevelBelow => (a.1 - b.1, -a.1),
            BarPlace::UprightRight => (a.0 - b.0, a.0),
            BarPlace::UprightLeft => (a.0 - b.0, -a.0),
        };
        assert!(off.abs() < 1e-9, "{off} {bar:?}");
        assert!(outward > -1e-9, "the bar lies on the side of the centre");
    }
    // One ring is preferred where it is exact.
    let ten = plans(shop, r#""features":{"equal_divisions":{"count":10}}"#);
    assert!(ten.plan(0).unwrap().exact);
    assert!(matches!(
        ten.plan(0).unwrap().way,
        WayKind::PinsOneSpan { circle: 0, .. }
    ));
}

/// One pin on each of two rings, laid in the plane: the sheet names the pin at the
/// left, or the low one, as they then stand.
#[test]
fn pins_across_rings_are_named_by_where_they_stand() {
    for sense in ["clockwise", "counter_clockwise"] {
        let shop = format!(
            r#"{{"pin_plate":{{"name":"pins","across_rings":true,"square":true,"sense":"{sense}",
            "circles":[{{"holes":5,"pitch_radius":31,"absent":[0,1,2,4]}},
                {{"holes":7,"pitch_radius":47,"absent":[0,2,3,4,5,6]}}]}}}}"#
        );
        let sign = if sense == "clockwise" { -1.0 } else { 1.0 };
        let all = plans(&shop, &angles(&[0.0, 90.0, 180.0, 270.0]));
        let plan = all.plan(0).unwrap();
        assert_eq!(plan.way, WayKind::PinsAcrossRings);
        let mut bars = Vec::new();
        for (step, it) in plan.placements.iter().enumerate() {
            let Setting::BarAcrossRings { bar, .. } = it.setting else {
                panic!("{:?}", it.setting)
            };
            bars.push(bar);
            let presented = plan.start.to_radians_f64()
                + it.required.to_radians_f64()
                + it.residual_rad.unwrap_or(it.residual.to_radians_f64());
            let place = |radius: f64, hole: f64, count: f64| {
                let angle = sign * TAU * hole / count - presented;
                (radius * angle.cos(), radius * angle.sin())
            };
            let (a, b) = (place(31.0, 3.0, 5.0), place(47.0, 1.0, 7.0));
            let upright = matches!(bar, BarPlace::UprightRight | BarPlace::UprightLeft);
            let five_first = if upright { a.1 < b.1 } else { a.0 < b.0 };
            let five = "pin 3 of the 5-hole ring";
            let seven = "pin 1 of the 7-hole ring";
            let (one, other) = if five_first {
                (five, seven)
            } else {
                (seven, five)
            };
            let (near, far) = if upright {
                ("low", "high")
            } else {
                ("left", "right")
            };
            let text = all.setting_text(0, step).unwrap();
            let named = format!("{one} {near}, {other} {far}; bar ");
            assert!(text.starts_with(&named), "{text} for {named}");
        }
        bars.dedup();
        assert_eq!(bars.len(), 4, "every way of the bar");
    }
}

/// A regular polygon let down into a V, face by face: it seats when, with one
/// face on the left flank, some face lies on the right flank along its length.
#[test]
fn vee_seats_follow_from_faces_on_flanks() {
    for faces in 3..=24_u32 {
        for included in (10..180).step_by(5) {
            let half = f64::from(included).to_radians() / 2.0;
            // Flank lines through the bottom of the V, pointing up and outward.
            let right = (half.sin(), half.cos());
            let left = (-half.sin(), half.cos());
            // A polygon with inradius 1 touches both flanks with its inscribed
            // circle; its centre stands on the axis of the V.
            let centre = (0.0, 1.0 / half.sin());
            // Face 0 lies along the left flank: its outward normal is the one
            // of the flank that points away from the centre.
            let normal = (-left.1, left.0);
            let flank_normal = if normal.0 * centre.0 + normal.1 * centre.1 < 0.0 {
                normal
            } else {
                (-normal.0, -normal.1)
            };
            let face_zero = flank_normal.1.atan2(flank_normal.0);
            let seats = (1..faces).any(|face| {
                let direction = face_zero + TAU * f64::from(face) / f64::from(faces);
                let corner = |side: f64| {
                    let half_face = PI / f64::from(faces);
                    let at = direction + side * half_face;
                    let out = 1.0 / half_face.cos();
                    (centre.0 + out * at.cos(), centre.1 + out * at.sin())
                };
                // Both ends of the face on the line of the right flank.
                [-1.0, 1.0].iter().all(|side| {
                    let (x, y) = corner(*side);
                    (x * right.1 - y * right.0).abs() < 1e-9 && x * right.0 + y * right.1 > -1e-9
                })
            });
            let angle = Angle::from_degrees(included.into(), 1).unwrap();
            let said = matches!(vee_seat(faces, angle).unwrap(), VeeSeat::Seats { .. });
            assert_eq!(said, seats, "{faces} faces in {included}°");
        }
    }
}

#[test]
fn sheets_of_features_name_what_to_measure() {
    let plate = r#"{"direct_plate":{"name":"plate","circles":[{"holes":60}]}}"#;
    let sheet = |features: &str| {
        let found = plans(plate, &format!(r#""features":{{{features}}}"#));
        found.drawing(0).unwrap();
        // Lines are wrapped; what they say is not.
        let sheet = found.sheet(0).unwrap();
        sheet.checks.join(" ") + &sheet.to_text()
    };
    let slots = sheet(r#""slots":{"count":6,"width":8,"depth":10,"outside_diameter":60}"#);
    assert!(
        slots.contains("6 slots") && slots.contains("opposite slots: 40.000 mm"),
        "{slots}"
    );
    let teeth = sheet(r#""teeth":{"count":20,"size":{"module":2}}"#);
    assert!(
        teeth.contains("20 teeth") && teeth.contains("blank 44.000 mm"),
        "{teeth}"
    );
    let lines = sheet(r#""graduations":{"count":60,"middle_every":5,"major_length":6}"#);
    assert!(
        lines.contains("major, 6.000 mm") && lines.contains("middle"),
        "{lines}"
    );
    let circle = sheet(
        r#""bolt_circle":{"count":6,"pitch_radius":30,"hole_diameter":8,"chord_checks":[2,3],
           "axes":{"centre_x":100,"centre_y":-20,"angle_zero":"plus_y","angles_grow":"clockwise"}}"#,
    );
    // Hole 1 straight above the centre, hole 2 60° clockwise from it.
    assert!(circle.contains("100.000 mm   10.000 mm"), "{circle}");
    assert!(circle.contains("125.981 mm   -5.000 mm"), "{circle}");
    assert!(
        circle.contains("2 spaces apart: 51.962 mm")
            && circle.contains("3 spaces apart: 60.000 mm")
    );
    assert!(circle.contains("38.000 mm outside, 22.000 mm inside"));
}

/// Pictures show what is used: the pins of a bar across rings with its line, the
/// members' settings of a stack, stops and readings beside their features.
#[test]
fn pictures_show_the_settings_of_devices() {
    let across = r#"{"pin_plate":{"name":"pins","across_rings":true,"circles":[
        {"holes":5,"pitch_radius":31,"absent":[0,1,2,4]},
        {"holes":7,"pitch_radius":47,"absent":[0,2,3,4,5,6]}]}}"#;
    let found = plans(across, &angles(&[0.0, 180.0]));
    let index = found
        .plans()
        .iter()
        .position(|it| it.way == WayKind::PinsAcrossRings)
        .unwrap();
    let picture = found.drawing(index).unwrap();
    // A line from hole 3 of 5 to hole 1 of 7, both with their numbers.
    assert!(
        picture.contains(">\n3\n<") && picture.contains(">\n1\n<"),
        "{picture}"
    );
    let rounded = |value: f64| (value * 1000.0).round() / 1000.0;
    let (a, b) = (TAU * 3.0 / 5.0, TAU / 7.0);
    let ends = format!(
        r#"x1="{}" x2="{}" y1="{}" y2="{}""#,
        rounded(31.0 * a.cos()),
        rounded(47.0 * b.cos()),
        rounded(-31.0 * a.sin()),
        rounded(-47.0 * b.sin())
    );
    assert!(picture.contains(&ends), "{ends} {picture}");

    let stack = r#"{"direct_plate":{"name":"plate","circles":[{"holes":10}]}},
        {"faced_block":{"name":"hexagon","faces":6}},
        {"stack":{"name":"both","members":["plate","hexagon"]}}"#;
    let found = plans(stack, r#""features":{"equal_divisions":{"count":15}}"#);
    assert_eq!(found.plan(0).unwrap().equipment, "both");
    let picture = found.drawing(0).unwrap();
    for placement in &found.plan(0).unwrap().placements {
        let Setting::Stack { members } = &placement.setting else {
            panic!()
        };
        let [Setting::Hole { hole, .. }, Setting::FaceDown { face }] = members.as_slice() else {
            panic!("{members:?}")
        };
        assert!(
            picture.contains(&format!("hole {hole}; face {face}")),
            "{picture}"
        );
    }

    let stops = stop("common_datum", r#""0 deg","95.5 deg""#);
    let picture = plans(&stops, &angles(&[0.0, 95.5])).drawing(0).unwrap();
    assert!(picture.contains("stop 0") && picture.contains("stop 1"));
}
