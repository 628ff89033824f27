//! Every sensitivity of every device by numerical differences (JCGM 100:2008,
//! 5.1.3, note 2) of its geometry, written out here a second time.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "tests"
)]

use crate::common;

use std::collections::BTreeSet;

use common::plans;
use dividing_core::accuracy::{Contributor, InputUnit, numerical_sensitivities};
use dividing_core::reach::{Setting, WayKind};
use dividing_core::work::Meter;
use serde_json::{Value, json};

/// What turns one feature of a plan, and what of it was looked at.
struct Looked {
    contributors: Vec<Contributor>,
    seen: BTreeSet<String>,
}

impl Looked {
    fn at(equipment: &Value, job: &Value, feature: usize) -> Self {
        let workshop = json!({"format": 1, "name": "Bench", "equipment": [equipment]});
        let mut whole = json!({"format": 1, "name": "Job"});
        for (key, value) in job.as_object().unwrap() {
            whole[key] = value.clone();
        }
        let model = plans(&workshop, &whole).error_model(0, &mut Meter::new(u64::MAX));
        Self {
            contributors: model.unwrap().features()[feature].contributors.clone(),
            seen: BTreeSet::new(),
        }
    }

    /// Compares the contributors whose name holds a text with the slope of an
    /// angle over a length or an angle, at an estimate.
    fn has(&mut self, text: &str, estimate: f64, angle_rad: impl Fn(f64) -> f64) {
        let found = numerical_sensitivities(|x| angle_rad(x[0]), &[estimate], &[1e-4]).unwrap();
        let slope = found[0].abs();
        let mut any = false;
        for it in self.contributors.iter().filter(|it| it.name.contains(text)) {
            let sensitivity = it.sensitivity.abs();
            assert!(
                (sensitivity / slope - 1.0).abs() < 1e-6,
                "{}: {sensitivity} instead of {slope}",
                it.name
            );
            self.seen.insert(it.name.to_string());
            any = true;
        }
        assert!(any, "nothing of {text} in {:?}", self.contributors);
    }

    /// That nothing given as a length was left out.
    fn whole(self) {
        for it in &self.contributors {
            let angle = it.unit == InputUnit::Radian;
            assert!(
                angle || self.seen.contains(it.name.as_ref()),
                "{} was not looked at",
                it.name
            );
        }
    }
}

fn divisions(count: u32) -> Value {
    json!({"features": {"equal_divisions": {"count": count}}})
}

/// A pin of 6 mm with everything that can be off.
fn pin(seating: &str) -> Value {
    json!({"pin_diameter": 5.98, "hole_diameter": 6, "hole_position_tolerance": 0.02,
        "pin_diameter_tolerance": 0.002, "hole_diameter_tolerance": 0.004, "seating": seating})
}

/// Direction of a point at a radius that stands off sideways.
fn aside(radius: f64) -> impl Fn(f64) -> f64 {
    move |off| off.atan2(radius)
}

#[test]
fn plungers() {
    let plate = |seating: &str| {
        json!({"direct_plate": {"name": "p", "circles": [{"holes": 12, "pitch_radius": 50}],
            "registration": pin(seating), "eccentricity": 0.01, "bore_clearance": 0.01}})
    };
    let mut free = Looked::at(&plate("free"), &divisions(6), 2);
    free.has("hole position", 0.0, aside(50.0));
    // A free pin moves on the circle: a chord of its play.
    free.has("pin clearance", 0.0, |play| 2.0 * (play / 100.0).asin());
    free.has("off the spindle axis", 0.0, |off| (off / 50.0).asin());
    free.has("plate's bore", 0.0, aside(50.0));
    free.whole();
    // Pushed to one side, a hole larger by ΔD leaves the pin ΔD/2 further over.
    let mut biased = Looked::at(&plate("biased"), &divisions(6), 2);
    biased.has("difference of clearance", 0.0, |larger| {
        aside(50.0)(larger / 2.0)
    });

    let indexer = json!({"vernier_indexer": {"name": "i",
        "circle": {"holes": 12, "pitch_radius": 40}, "registration": pin("free"),
        "stations": ["0 deg", "6 deg"]}});
    let mut looked = Looked::at(&indexer, &divisions(24), 5);
    looked.has("position", 0.0, aside(40.0));
    looked.has("pin clearance", 0.0, |play| 2.0 * (play / 80.0).asin());
    looked.whole();

    let stop = json!({"part_reference": {"name": "s", "from": "common_datum",
        "contact": {"drilled_hole": {"radius": 30, "registration": pin("free")}},
        "angles": ["0 deg", "180 deg"], "angle_error": "1 min"}});
    let mut looked = Looked::at(&stop, &divisions(2), 1);
    looked.has("position of the part's hole", 0.0, aside(30.0));
    looked.has("part's hole", 0.0, |play| 2.0 * (play / 60.0).asin());
    looked.whole();
}

/// The line over two pins as it lies on their tops.
fn tops(baseline: f64, rise: impl Fn(f64) -> f64) -> impl Fn(f64) -> f64 {
    move |off| (rise(off) / baseline).asin()
}

#[test]
fn bars() {
    let plate = |hold: &str, circles: Value| {
        json!({"pin_plate": {"name": "p", "pin_hold": hold, "circles": circles,
            "registration": pin("free"), "bar_straightness": 0.002,
            "levelling": {"reading": 0.01, "travel": 120}}})
    };
    let six = json!([{"holes": 6, "pitch_radius": 40}]);
    let mut loose = Looked::at(&plate("loose", six.clone()), &divisions(6), 1);
    loose.has("hole position", 0.0, aside(80.0));
    // Down by half the clearance, up by half the pin: Δd in full, ΔD by half.
    loose.has(
        "diameter of the first pin's hole",
        0.0,
        tops(80.0, |d| -d / 2.0),
    );
    loose.has(
        "diameter of the second pin's hole",
        0.0,
        tops(80.0, |d| -d / 2.0),
    );
    loose
        .contributors
        .retain(|it| !it.name.ends_with("pin's hole"));
    loose.has("diameter of the", 0.0, tops(80.0, |d| d));
    loose.has("straightness", 0.0, tops(80.0, |d| d));
    loose.has("levelling", 0.0, |reading| (reading / 120.0).asin());
    loose.whole();
    let mut fixed = Looked::at(&plate("fixed", six), &divisions(6), 1);
    fixed.has("diameter of the", 0.0, tops(80.0, |d| d / 2.0));
}

#[test]
fn worms() {
    let head = |more: &Value| {
        let mut head = json!({"name": "h", "worm_ratio": 40, "worm_error": "10 sec",
            "plates": [{"name": "1", "circles": [{"holes": 39, "pitch_radius": 38}]}],
            "registration": pin("free")});
        for (key, value) in more.as_object().unwrap() {
            head[key] = value.clone();
        }
        json!({"worm_head": head})
    };
    let chord = |play: f64| 2.0 * (play / 76.0).asin();
    let mut simple = Looked::at(&head(&json!({})), &divisions(13), 1);
    simple.has("plate hole position", 0.0, |off| aside(38.0)(off) / 40.0);
    simple.has("pin clearance", 0.0, |play| chord(play) / 40.0);
    simple.whole();

    // Differential: with the part turned by s the crank has turned by 40·s and the
    // plate by g·s; the crank against the plate has moved 127·13/39 = 127/3 for a
    // whole turn. Where the pin stands so much off, s follows from
    // (40 − g)·s = moved + off, here found by halving.
    let geared = head(&json!({"change_gears": {"gears": [24, 56], "plate_error": "1 min"}}));
    let workshop = json!({"format": 1, "name": "b", "equipment": [geared]});
    let mut job = divisions(127);
    job["format"] = json!(1);
    job["name"] = json!("j");
    let plan = plans(&workshop, &job).plan(0).unwrap().clone();
    let WayKind::DifferentialIndexing { spaces, .. } = plan.way else {
        panic!("{:?}", plan.way)
    };
    #[allow(clippy::cast_precision_loss, reason = "a few spaces")]
    let moved = 127.0 * spaces as f64 / 39.0;
    let gear = 40.0 - moved;
    let part = |off: f64| {
        let (mut low, mut high) = (-1.0_f64, 1.0_f64);
        for _ in 0..80 {
            let s = f64::midpoint(low, high);
            if 40.0 * s - gear * s < off {
                low = s
            } else {
                high = s
            }
        }
        f64::midpoint(low, high)
    };
    let mut differential = Looked::at(&geared, &divisions(127), 4);
    differential.has("plate hole position", 0.0, |off| part(aside(38.0)(off)));
    differential.has("pin clearance", 0.0, |play| part(chord(play)));
    differential.has("teeth and lost motion", 0.0, part);
    differential.whole();
}

#[test]
fn compound_indexing() {
    let head = json!({"worm_head": {"name": "h", "worm_ratio": 40, "worm_error": "10 sec",
        "plates": [{"name": "1", "circles": [{"holes": 21, "pitch_radius": 38},
            {"holes": 23, "pitch_radius": 45}]}],
        "registration": pin("free")}});
    // 69 = 3 · 23: 40/69 = 21/23 − 11/33 in the handbooks; here by 21 and 23.
    let workshop = json!({"format": 1, "name": "b", "equipment": [head]});
    let mut job = divisions(69);
    job["format"] = json!(1);
    job["name"] = json!("j");
    let plan = plans(&workshop, &job).plan(0).unwrap().clone();
    let (crank, plate) = match plan.way {
        WayKind::CompoundIndexing {
            first_circle: 0, ..
        } => (38.0, 45.0),
        WayKind::CompoundIndexing {
            first_circle: 1, ..
        } => (45.0, 38.0),
        other => panic!("{other:?}"),
    };
    let mut looked = Looked::at(&head, &divisions(69), 1);
    looked.has("position of the crank pin's hole", 0.0, |off| {
        aside(crank)(off) / 40.0
    });
    looked.has("clearance of the crank pin", 0.0, |play| {
        2.0 * (play / 2.0 / crank).asin() / 40.0
    });
    looked.has("position of the plate pin's hole", 0.0, |off| {
        aside(plate)(off) / 40.0
    });
    looked.has("clearance of the plate's pin", 0.0, |play| {
        2.0 * (play / 2.0 / plate).asin() / 40.0
    });
    looked.whole();
}

/// `sin θ = h/L`, differentiated at the height of the stack and at the length.
#[test]
fn sine_bars() {
    let bar = json!({"sine_bar": {"name": "b", "length": 100, "blocks": {"named": "metric_87"},
        "block_error": 0.0002, "length_error": 0.002}});
    for angle in ["5 deg", "30 deg", "55.3 deg"] {
        let job = json!({"features": {"angles": {"angles": ["0 deg", angle]}},
            "start": {"clocked": {"to": "flat"}}});
        let workshop = json!({"format": 1, "name": "b", "equipment": [bar]});
        let mut whole = json!({"format": 1, "name": "j"});
        for (key, value) in job.as_object().unwrap() {
            whole[key] = value.clone();
        }
        let plan = plans(&workshop, &whole).plan(0).unwrap().clone();
        let Setting::SineBar {
            unit, height_units, ..
        } = &plan.placements[1].setting
        else {
            panic!("{:?}", plan.placements[1].setting)
        };
        let height = unit.to_mm(i64::from(*height_units));
        let mut looked = Looked::at(&bar, &job, 1);
        looked.has("gauge block", height, |h| (h / 100.0).asin());
        looked.has("distance of the rollers", 100.0, |length| {
            (height / length).asin()
        });
        looked.whole();
    }
}
