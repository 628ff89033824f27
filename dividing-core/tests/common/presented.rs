//! What a setting presents, by the definitions of the trade, from the document.
//!
//! Presented is the drawing angle, up to the start, that stands where the cutter
//! works: the negative of how far the part is turned.
#![allow(clippy::cast_possible_truncation, reason = "counts of holes are small")]

use dividing_core::Angle;
use num_rational::Ratio;
use serde_json::{Value, json};

type Fraction = Ratio<i128>;

fn whole(value: &Value) -> i128 {
    i128::from(
        value
            .as_i64()
            .unwrap_or_else(|| panic!("{value} is no whole number")),
    )
}

fn angle(value: &Value) -> Fraction {
    let Some(text) = value.as_str() else {
        return Ratio::from_integer(0);
    };
    let angle: Angle = text.parse().unwrap();
    Ratio::new(angle.numerator(), angle.denominator())
}

fn worm_ratio(value: &Value) -> Fraction {
    match value.as_str() {
        Some(text) => {
            let (above, below) = text.split_once('/').unwrap();
            Ratio::new(above.parse().unwrap(), below.parse().unwrap())
        }
        None => Ratio::from_integer(whole(value)),
    }
}

fn sense(piece: &Value) -> i128 {
    if piece["sense"] == "clockwise" { -1 } else { 1 }
}

fn circle_of<'p>(circles: &'p Value, holes: &Value) -> &'p Value {
    let circles = circles.as_array().unwrap();
    circles.iter().find(|it| it["holes"] == *holes).unwrap()
}

/// The angle of a present hole.
fn hole_angle(circle: &Value, hole: &Value) -> Fraction {
    let holes = whole(&circle["holes"]);
    assert!(
        (0..holes).contains(&whole(hole)),
        "no hole {hole} of {holes}"
    );
    let absent = circle["absent"].as_array();
    assert!(
        !absent.is_some_and(|it| it.contains(hole)),
        "hole {hole} is absent"
    );
    angle(&circle["first_hole"]) + Ratio::new(whole(hole), holes)
}

/// What a setting of a piece presents, in turns.
pub(crate) fn presented(piece: &Value, setting: &Value) -> Fraction {
    let (kind, piece) = piece.as_object().unwrap().iter().next().unwrap();
    let (form, it) = setting.as_object().unwrap().iter().next().unwrap();
    match (kind.as_str(), form.as_str()) {
        ("direct_plate", "hole") => {
            let circle = circle_of(&piece["circles"], &it["circle"]);
            (hole_angle(circle, &it["hole"]) - angle(&piece["station"])) * sense(piece)
        }
        ("vernier_indexer", "hole_at_station") => {
            let station = usize::try_from(whole(&it["station"])).unwrap();
            let hole = hole_angle(&piece["circle"], &it["hole"]);
            (hole - angle(&piece["stations"][station])) * sense(piece)
        }
        ("faced_block", "face_down") => Ratio::new(whole(&it["face"]), whole(&piece["faces"])),
        ("faced_block", "faces_in_vee") => {
            // The direction midway between the touching faces points down.
            let faces = whole(&piece["faces"]);
            let (left, right) = (whole(&it["left_face"]), whole(&it["right_face"]));
            Ratio::new(2 * left + (right - left).rem_euclid(faces), 2 * faces)
        }
        ("pin_plate", "bar_on_pins") => {
            let circle = circle_of(&piece["circles"], &it["circle"]);
            let (a, b) = (
                hole_angle(circle, &it["first_pin"]),
                hole_angle(circle, &it["second_pin"]),
            );
            let span = Ratio::new(whole(&it["span"]), whole(&circle["holes"]));
            assert_eq!(
                (b - a - span).denom(),
                &1,
                "the span is not that of the pins"
            );
            let normal = (a + span / 2) * sense(piece);
            let quarters = match it["bar"].as_str().unwrap() {
                "upright_right" => 0,
                "level_above" => 1,
                "upright_left" => 2,
                "level_below" => 3,
                other => panic!("{other}"),
            };
            let may_turn = piece["bar_turns_over"] != false || quarters < 2;
            let may_stand = piece["square"] == true || quarters % 2 == 1;
            assert!(may_turn && may_stand, "{setting} is not for this plate");
            normal - Ratio::new(quarters, 4)
        }
        ("worm_head", "crank") => {
            let plate = &piece["plates"][usize::try_from(whole(&it["plate"])).unwrap()];
            let side = if it["back"] == true {
                "back_circles"
            } else {
                "circles"
            };
            let owned = plate[side].as_array().unwrap();
            assert!(
                owned.contains(&it["circle"]),
                "{setting} is on no circle of the plate"
            );
            let crank = Ratio::from(whole(&it["turns"]))
                + Ratio::new(whole(&it["hole"]), whole(&it["circle"]));
            crank / worm_ratio(&piece["worm_ratio"])
        }
        // Plate and crank turn the worm together, so their turns add.
        ("worm_head", "compound_crank") => {
            let plate = &piece["plates"][usize::try_from(whole(&it["plate"])).unwrap()];
            let side = if it["back"] == true {
                "back_circles"
            } else {
                "circles"
            };
            let owned = plate[side].as_array().unwrap();
            let part = |circle: &str, hole: &str| {
                assert!(
                    owned.contains(&it[circle]),
                    "{setting} is on no circle of the plate"
                );
                Ratio::new(whole(&it[hole]), whole(&it[circle]))
            };
            let crank = Ratio::from(whole(&it["turns"]))
                + part("first_circle", "first_hole")
                + part("second_circle", "second_hole");
            crank / worm_ratio(&piece["worm_ratio"])
        }
        ("graduated_dial", "reading") => {
            let handle = Ratio::from(whole(&it["turns"]))
                + Ratio::new(whole(&it["graduation"]), whole(&piece["graduations"]));
            let table = handle / worm_ratio(&piece["worm_ratio"]);
            assert_eq!((table - angle(&it["table"])).denom(), &1, "{setting}");
            table * sense(piece)
        }
        _ => panic!("{setting} of {kind}"),
    }
}

/// What the zero setting of a way presents: the first usable hole, face, pins.
pub(crate) fn zero_presented(piece: &Value, way: &Value) -> Fraction {
    let (kind, data) = piece.as_object().unwrap().iter().next().unwrap();
    let first_present = |circle: &Value| {
        let absent = circle["absent"].as_array().cloned().unwrap_or_default();
        (0..whole(&circle["holes"]))
            .find(|hole| !absent.contains(&json!(*hole as i64)))
            .unwrap() as i64
    };
    match kind.as_str() {
        "direct_plate" => {
            let index = whole(&way["direct_circle"]["circle"]);
            let circle = &data["circles"][usize::try_from(index).unwrap()];
            let setting =
                json!({"hole": {"circle": circle["holes"], "hole": first_present(circle)}});
            presented(piece, &setting)
        }
        "vernier_indexer" => {
            let hole = first_present(&data["circle"]);
            presented(
                piece,
                &json!({"hole_at_station": {"hole": hole, "station": 0}}),
            )
        }
        "pin_plate" => {
            let (form, it) = way.as_object().unwrap().iter().next().unwrap();
            let circle = &data["circles"][usize::try_from(whole(&it["circle"])).unwrap()];
            let holes = whole(&circle["holes"]) as i64;
            let absent = circle["absent"].as_array().cloned().unwrap_or_default();
            let fits = |first: i64, span: i64| {
                !absent.contains(&json!(first)) && !absent.contains(&json!((first + span) % holes))
            };
            let first_of = |span: i64| {
                (0..holes)
                    .find(|first| fits(*first, span))
                    .map(|first| (first, span))
            };
            // Spans as needed: the longest that has pins counts.
            let (first, span) = if form == "pins_one_span" {
                first_of(it["span"].as_i64().unwrap()).unwrap()
            } else {
                (1..=holes / 2).rev().find_map(first_of).unwrap()
            };
            presented(
                piece,
                &json!({"bar_on_pins": {"circle": holes, "first_pin": first,
                "second_pin": (first + span) % holes, "span": span, "bar": "level_above"}}),
            )
        }
        _ => Ratio::from_integer(0),
    }
}
