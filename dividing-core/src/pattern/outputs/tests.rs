use super::*;
use crate::Length;
use crate::pattern::{Pattern, PlateBrief, design};
use crate::work::Meter;

fn plate(fields: &str) -> Pattern {
    let brief = PlateBrief::from_json(&format!(
        r#"{{"format": 1, "hole_diameter": 6, "least_web": 2, "least_edge_distance": 3, {fields}}}"#
    ))
    .unwrap();
    design(&brief, &mut Meter::default())
        .unwrap()
        .into_pattern()
        .unwrap()
}

fn usual() -> Pattern {
    plate(r#""divisions": [5, 6, 7, 8, 9, 12], "outline": {"disc": {"diameter": 100}}"#)
}

fn data(style: DrillStyle, table: TableOptions) -> DrillingData {
    DrillingData {
        table,
        style,
        clearance_height: Length::from_mm(5.0).unwrap(),
        depth: Length::from_mm(12.5).unwrap(),
        feed_per_minute: Length::from_mm(80.0).unwrap(),
        spindle_rpm: 900,
    }
}

/// Chordal factors, "Spacing Table", shopswarf.orcon.net.nz/spacing.html,
/// printed to four decimals: chord of N holes on a circle of diameter 1.
#[test]
fn neighbour_chords_agree_with_the_printed_table() {
    for (n, factor) in [
        (5, 0.5878),
        (7, 0.4339),
        (8, 0.3827),
        (11, 0.2817),
        (12, 0.2588),
        (13, 0.2393),
        (14, 0.2225),
        (16, 0.1951),
        (17, 0.1838),
        (19, 0.1646),
        (20, 0.1564),
        (22, 0.1423),
        (23, 0.1362),
        (25, 0.1253),
        (27, 0.1161),
        (28, 0.1120),
        (30, 0.1045),
        (36, 0.0872),
        (38, 0.0826),
        (39, 0.0805),
        (43, 0.0730),
        (45, 0.0698),
    ] {
        let pattern = plate(&format!(
            r#""divisions": [{n}], "outline": {{"disc": {{"diameter": 200}}}}"#
        ));
        let across = 2.0 * pattern.rings[0].radius_mm;
        let checks = check_dimensions(&pattern);
        let neighbours: Vec<_> = checks
            .iter()
            .filter(|c| c.kind == CheckKind::Neighbours)
            .collect();
        assert_eq!(neighbours.len(), 1);
        let dimension = neighbours[0];
        assert!(
            (dimension.centres_mm / across - factor).abs() <= 1.0e-4,
            "{n}"
        );
        assert!((dimension.over_pins_mm - dimension.centres_mm - 6.0).abs() < 1e-12);
        assert!((dimension.centres_mm - dimension.between_pins_mm - 6.0).abs() < 1e-12);
    }
}

/// Across corners of unit hexagon and square: "Hexagons and squares diagonal
/// lengths", eq. (1) and (2), engineeringtoolbox.com.
#[test]
#[allow(clippy::approx_constant, reason = "four digits, as printed")]
fn corners_of_polygons() {
    for (faces, ratio, tolerance) in [(6, 1.154_701, 1e-6), (4, 1.4142, 5e-5)] {
        let outline = crate::pattern::Outline::Polygon {
            faces,
            across_flats: Length::from_mm(100.0).unwrap(),
        };
        let corners = table::corners_mm(&outline);
        assert_eq!(corners.len(), faces as usize);
        for (x, y) in corners {
            assert!((2.0 * x.hypot(y) / 100.0 - ratio).abs() < tolerance);
        }
    }
}

#[test]
fn across_the_circle_and_between_rings() {
    let pattern = usual();
    let checks = check_dimensions(&pattern);
    for (index, ring) in pattern.rings.iter().enumerate() {
        let zero = hole_label(index, 0);
        let across = checks
            .iter()
            .find(|c| c.kind == CheckKind::AcrossTheCircle && c.from == zero)
            .unwrap();
        // Even rings: the diameter; odd n: 2r·cos(π/2n).
        let n = ring.holes.len() as f64;
        let expected = if ring.holes.len() % 2 == 0 {
            2.0 * ring.radius_mm
        } else {
            2.0 * ring.radius_mm * (std::f64::consts::PI / (2.0 * n)).cos()
        };
        if ring.divisions.len() == 1 || ring.holes.len() % 2 == 0 {
            assert!((across.centres_mm - expected).abs() < 1e-9, "{across:?}");
        }
    }
    let between = checks.iter().filter(|c| c.kind == CheckKind::BetweenRings);
    assert_eq!(between.count(), pattern.rings.len() - 1);
}

#[test]
fn rounding_is_reported_honestly() {
    let pattern = usual();
    let mut before = f64::INFINITY;
    for digits in [0_u8, 1, 2, 3, 5] {
        for (unit, mm) in [(TableUnit::Millimetre, 1.0), (TableUnit::Inch, 25.4)] {
            for datum in [Datum::Centre, Datum::LeftAndLowerEdge] {
                let options = TableOptions {
                    digits,
                    unit,
                    datum,
                };
                let table = drill_table(&pattern, &options).unwrap();
                let shift = if datum == Datum::Centre { 0.0 } else { 50.0 };
                let mut largest = 0.0_f64;
                for (row, (_, ring, hole)) in table.rows.iter().zip(pattern.holes()) {
                    let x = row.x.parse::<f64>().unwrap() * mm - shift;
                    let y = row.y.parse::<f64>().unwrap() * mm - shift;
                    let exact = hole.angle.to_radians_f64();
                    let off = (y.atan2(x) - exact).rem_euclid(std::f64::consts::TAU);
                    let off = if off > 3.0 {
                        off - std::f64::consts::TAU
                    } else {
                        off
                    };
                    let off_arcsec = off.to_degrees() * 3600.0;
                    assert!((off_arcsec - row.rounding_error_arcsec).abs() < 1e-6);
                    assert!((x.hypot(y) - ring.radius_mm - row.rounding_radial_mm).abs() < 1e-9);
                    largest = largest.max(off_arcsec.abs());
                    // Half a step each way turns a hole by at most step/√2 over r.
                    let step = mm * 10_f64.powi(-i32::from(digits));
                    let limit =
                        (step / 2.0_f64.sqrt() / ring.radius_mm).asin().to_degrees() * 3600.0;
                    assert!(off_arcsec.abs() <= limit * (1.0 + 1e-9));
                }
                assert!((largest - table.largest_rounding_error_arcsec).abs() < 1e-6);
                if unit == TableUnit::Millimetre && datum == Datum::Centre {
                    assert!(largest < before);
                    before = largest;
                }
            }
        }
    }
    let too_fine = TableOptions {
        digits: 10,
        ..TableOptions::default()
    };
    assert_eq!(
        drill_table(&pattern, &too_fine).unwrap_err().field(),
        "digits"
    );
}

#[test]
fn a_table_has_a_line_a_hole_and_no_signed_zero() {
    let pattern = usual();
    let table = drill_table(&pattern, &TableOptions::default()).unwrap();
    let csv = table.to_csv();
    assert_eq!(csv.lines().count(), pattern.hole_count() + 1);
    assert!(csv.lines().all(|line| line.split(',').count() == 8));
    assert!(!csv.contains(",-0.000,"));
    assert!(csv.starts_with(
        "hole,ring,number,angle,angle_deg,x_mm,y_mm,rounding_arcsec\nA0,A,0,0 turn,0.000000,"
    ));
}

#[test]
fn the_order_visits_each_hole_once_ring_by_ring() {
    for pattern in [
        usual(),
        plate(
            r#""divisions": [7, 11], "angles": ["20 deg"], "outline": {"disc": {"diameter": 120}}"#,
        ),
    ] {
        let stops = drilling_order(&pattern);
        assert_eq!(stops.len(), pattern.hole_count());
        let mut seen: Vec<(usize, u32)> = stops.iter().map(|s| (s.ring, s.number)).collect();
        assert!(
            seen.windows(2).all(|pair| pair[0].0 <= pair[1].0),
            "no ring mixed up"
        );
        seen.sort_unstable();
        seen.dedup();
        assert_eq!(seen.len(), pattern.hole_count());
        let travel: f64 = stops.iter().map(|stop| stop.travel_mm).sum();
        // Once round each ring and straight between them is an upper limit.
        let rounds: f64 = pattern
            .rings
            .iter()
            .map(|r| std::f64::consts::TAU * r.radius_mm)
            .sum();
        let across: f64 = pattern
            .rings
            .windows(2)
            .map(|p| p[0].radius_mm + p[1].radius_mm)
            .sum();
        assert!(travel > 0.0 && travel <= rounds + across);
    }
}

/// Reads the positions out of a program, word by word (ISO 6983-1: a word is
/// an address letter and a number; comments stand in brackets).
fn positions(program: &str) -> Vec<(f64, f64)> {
    let mut found = Vec::new();
    for line in program.lines() {
        if line.starts_with('(') {
            assert!(line.ends_with(')') && line.matches('(').count() == 1);
            assert!(line.is_ascii());
            continue;
        }
        if line == "%" {
            continue;
        }
        let (mut x, mut y) = (None, None);
        for word in line.split(' ') {
            let (address, number) = word.split_at(1);
            assert!("GMXYZRFS".contains(address), "{word}");
            let value: f64 = number.parse().unwrap();
            if "XYZRF".contains(address) {
                assert!(number.contains('.'), "{word}");
            }
            match address {
                "X" => x = Some(value),
                "Y" => y = Some(value),
                _ => {}
            }
        }
        if let (Some(x), Some(y)) = (x, y) {
            found.push((x, y));
        }
    }
    found
}

#[test]
fn programs_drill_every_hole_and_say_to_prove_them_out() {
    let pattern = usual();
    for style in [DrillStyle::Cycle, DrillStyle::Moves] {
        for (unit, mm, digits) in [(TableUnit::Millimetre, 1.0, 3), (TableUnit::Inch, 25.4, 4)] {
            let options = TableOptions {
                digits,
                unit,
                datum: Datum::Centre,
            };
            let program = drill_program(&pattern, &data(style, options)).unwrap();
            let found = positions(&program);
            assert_eq!(found.len(), pattern.hole_count());
            for (_, ring, hole) in pattern.holes() {
                let (x, y) = hole.position_mm(ring.radius_mm);
                assert!(
                    found
                        .iter()
                        .any(|&(a, b)| (a * mm - x).hypot(b * mm - y) < 0.002)
                );
            }
            assert!(program.lines().nth(1).unwrap().contains("PROVE OUT"));
            assert!(program.contains("(SPOT ALL HOLES FIRST"));
            assert!(program.contains(if mm > 1.0 { "G70" } else { "G71" }));
            assert_eq!(program.contains("G81"), style == DrillStyle::Cycle);
            assert!(program.ends_with("G80\nM05\nM30\n%\n"));
            // The first move of the tool is upwards.
            let start = program
                .lines()
                .position(|line| line.starts_with("G00"))
                .unwrap();
            assert!(program.lines().nth(start).unwrap().starts_with("G00 Z"));
        }
    }
    let mut wrong = data(DrillStyle::Cycle, TableOptions::default());
    wrong.depth = Length::ZERO;
    assert_eq!(
        drill_program(&pattern, &wrong).unwrap_err().field(),
        "depth"
    );
    let mut coarse = data(
        DrillStyle::Cycle,
        TableOptions {
            digits: 0,
            ..TableOptions::default()
        },
    );
    coarse.depth = Length::from_mm(0.4).unwrap();
    assert_eq!(
        drill_program(&pattern, &coarse).unwrap_err().field(),
        "depth"
    );
    let mut still = data(DrillStyle::Cycle, TableOptions::default());
    still.spindle_rpm = 0;
    assert_eq!(
        drill_program(&pattern, &still).unwrap_err().field(),
        "spindle_rpm"
    );
}

#[test]
fn dxf_circles_stand_on_their_layers() {
    let pattern = usual();
    for (unit, mm) in [(TableUnit::Millimetre, 1.0), (TableUnit::Inch, 25.4)] {
        let text = plate_dxf(&pattern, unit);
        assert_eq!(text, plate_dxf(&pattern, unit));
        let lines: Vec<&str> = text.lines().collect();
        assert_eq!(lines.len() % 2, 0);
        let pairs: Vec<(&str, &str)> = lines.chunks(2).map(|pair| (pair[0], pair[1])).collect();
        let mut circles = 0;
        for (at, _) in pairs
            .iter()
            .enumerate()
            .filter(|(_, pair)| **pair == ("0", "CIRCLE"))
        {
            let value = |code: &str| {
                pairs[at + 1..at + 6]
                    .iter()
                    .find(|pair| pair.0 == code)
                    .unwrap()
                    .1
            };
            if value("8").starts_with("RING_") {
                let x: f64 = value("10").parse::<f64>().unwrap() * mm;
                let y: f64 = value("20").parse::<f64>().unwrap() * mm;
                let hit = pattern.holes().any(|(index, ring, hole)| {
                    let (a, b) = hole.position_mm(ring.radius_mm);
                    (a - x).hypot(b - y) < 1e-9
                        && value("8") == format!("RING_{}", ring_letter(index))
                });
                assert!(hit);
                circles += 1;
            }
        }
        assert_eq!(circles, pattern.hole_count());
    }
}

#[cfg(feature = "drawing")]
#[test]
fn svg_circles_stand_where_the_holes_are() {
    for pattern in [
        usual(),
        plate(
            r#""divisions": [4, 9], "outline": {"polygon": {"faces": 6, "across_flats": 90}}, "bore": 20,
               "mounting_holes": [{"x": 0, "y": 20, "diameter": 4}]"#,
        ),
    ] {
        let text = plate_svg(&pattern);
        assert_eq!(text, plate_svg(&pattern));
        let attribute = |element: &str, name: &str| {
            let start = element.find(&format!(" {name}=\"")).unwrap() + name.len() + 3;
            element[start..].split('"').next().unwrap().to_owned()
        };
        let holes: Vec<&str> = text
            .split("<circle")
            .filter(|element| element.contains("class=\"hole\""))
            .collect();
        assert_eq!(holes.len(), pattern.hole_count());
        for (element, (_, ring, hole)) in holes.iter().zip(pattern.holes()) {
            let x: f64 = attribute(element, "cx").parse().unwrap();
            let y: f64 = attribute(element, "cy").parse().unwrap();
            let (a, b) = hole.position_mm(ring.radius_mm);
            assert!((x - a).hypot(y + b) < 2e-6);
        }
        // True scale: as many user units as millimetres.
        let width = attribute(&text, "width");
        let view = attribute(&text, "viewBox");
        let wide: f64 = view.split(' ').nth(2).unwrap().parse().unwrap();
        assert!((width.strip_suffix("mm").unwrap().parse::<f64>().unwrap() - wide).abs() < 1e-3);
    }
}

#[test]
fn letters_run_on_after_z() {
    let letters: Vec<String> = [0, 25, 26, 51, 52, 701, 702].map(ring_letter).to_vec();
    assert_eq!(letters, ["A", "Z", "AA", "AZ", "BA", "ZZ", "AAA"]);
}

/// Numbers keep clear of each other on dense plates: every pair of texts, each
/// taken as wide as its digits at 0.6 of their height.
#[cfg(feature = "drawing")]
#[test]
fn numbers_on_the_drawing_do_not_touch() {
    let dense = r#""divisions": [120, 97, 60, 45, 31, 17], "bore": 20,
        "outline": {"disc": {"diameter": 120}}, "hole_diameter": 1.2, "least_web": 0.5"#;
    let brief = format!(r#"{{"format": 1, "least_edge_distance": 2, {dense}}}"#);
    let brief = PlateBrief::from_json(&brief).unwrap();
    let dense = design(&brief, &mut Meter::default()).unwrap();
    for pattern in [usual(), dense.into_pattern().unwrap()] {
        let drawing = plate_svg(&pattern);
        let labels = drawing.split("class=\"labels\"").nth(1).unwrap();
        let labels = labels.split("</g>").next().unwrap();
        let mut boxes: Vec<(f64, f64, f64, f64)> = Vec::new();
        for element in labels.split("<text").skip(1) {
            let value = |name: &str| -> f64 {
                let start = element.find(&format!(" {name}=\"")).unwrap() + name.len() + 3;
                let text = element[start..].split('"').next().unwrap();
                text.parse().unwrap()
            };
            let text = element
                .split('>')
                .nth(1)
                .unwrap()
                .split('<')
                .next()
                .unwrap();
            let size = value("font-size");
            assert!(size >= 1.0, "{text}");
            let half = 0.3 * size * text.trim().len() as f64;
            boxes.push((value("x"), value("y") - 0.36 * size, half, 0.36 * size));
        }
        assert!(boxes.len() >= 17);
        for (k, a) in boxes.iter().enumerate() {
            for b in &boxes[..k] {
                let clear = (a.0 - b.0).abs() >= a.2 + b.2 || (a.1 - b.1).abs() >= a.3 + b.3;
                assert!(clear, "{a:?} {b:?}");
            }
        }
    }
}
