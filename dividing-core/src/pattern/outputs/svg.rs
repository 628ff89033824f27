//! The plate as an SVG picture at true scale.

use svg::Document;
use svg::node::element::{Circle, Group, Line, Polygon, Text};

use super::labels::{ring_letter, ring_stamp};
use super::table::{bounds_mm, corners_mm};
use crate::pattern::brief::Outline;
use crate::pattern::result::Pattern;
use crate::pattern::words::angle_text;
use crate::words::count;

const MARGIN_MM: f64 = 10.0;
const NOTES_MM: f64 = 82.0;
const LINE_MM: f64 = 4.6;
/// Most dimension lines below the plate; the notes name every ring anyway.
const MOST_DIMENSIONS: usize = 8;
const STEP_MM: f64 = 6.0;

/// Draws the plate in millimetres, one user unit a millimetre, with hole
/// numbers, pitch circles, dimensions and notes. The file says its size in
/// millimetres; printed without scaling, its 50 mm bar measures 50 mm.
///
/// ```
/// use dividing_core::pattern::{PlateBrief, design, outputs::plate_svg};
/// use dividing_core::work::Meter;
/// let brief = PlateBrief::from_json(
///     r#"{"format": 1, "divisions": [4], "outline": {"disc": {"diameter": 100}},
///         "hole_diameter": 6, "least_web": 2, "least_edge_distance": 3}"#,
/// )?;
/// let plate = design(&brief, &mut Meter::default())?.into_pattern()?;
/// assert!(plate_svg(&plate).contains("mm\""));
/// # Ok::<(), dividing_core::Error>(())
/// ```
#[must_use]
pub fn plate_svg(pattern: &Pattern) -> String {
    let (left, low, right, high) = bounds_mm(&pattern.brief.outline);
    let notes = notes(pattern);
    let dimensions = dimensions(pattern, low);
    let count = |n: usize| f64::from(u32::try_from(n).unwrap_or(u32::MAX));
    let below = count(dimensions.lines) * STEP_MM + 4.0;
    let scale_bar = 14.0;
    let plate_height = (high - low) + below + scale_bar;
    let notes_height = count(notes.len()) * LINE_MM + 4.0;
    let width = MARGIN_MM + (right - left) + 8.0 + NOTES_MM + MARGIN_MM;
    let height = 2.0 * MARGIN_MM + plate_height.max(notes_height);
    // The picture's y grows downwards: every y is turned once, at drawing.
    let mut plate = Group::new().set("fill", "none").set("stroke", "black");
    plate = draw_outline(pattern, plate);
    plate = draw_rings(pattern, plate);
    let bar_y = -low + below + 6.0;
    let mut document = Document::new()
        .set("width", format!("{width:.3}mm"))
        .set("height", format!("{height:.3}mm"))
        .set(
            "viewBox",
            (
                tidy(left - MARGIN_MM),
                tidy(-high - MARGIN_MM),
                tidy(width),
                tidy(height),
            ),
        )
        .set("font-family", "sans-serif")
        .add(
            svg::node::element::Rectangle::new()
                .set("x", tidy(left - MARGIN_MM))
                .set("y", tidy(-high - MARGIN_MM))
                .set("width", tidy(width))
                .set("height", tidy(height))
                .set("fill", "white"),
        )
        .add(plate)
        .add(draw_labels(pattern))
        .add(dimensions.group)
        .add(scale_bar_group(left, bar_y));
    let mut y = -high + LINE_MM;
    for note in notes {
        // Spaces at the start of a text are not drawn: indent by place.
        let indent = if note.starts_with(' ') { 5.0 } else { 0.0 };
        document = document.add(
            Text::new(note.trim_start().to_owned())
                .set("x", tidy(right + 8.0 + indent))
                .set("y", tidy(y))
                .set("font-size", 3.2),
        );
        y += LINE_MM;
    }
    format!("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n{document}\n")
}

/// Six digits, no sign on zero: a nanometre is finer than any printer.
fn tidy(mm: f64) -> f64 {
    (mm * 1.0e6).round() / 1.0e6 + 0.0
}

fn circle(x: f64, y: f64, radius: f64) -> Circle {
    Circle::new()
        .set("cx", tidy(x))
        .set("cy", tidy(-y))
        .set("r", tidy(radius))
}

fn line(from: (f64, f64), to: (f64, f64)) -> Line {
    Line::new()
        .set("x1", tidy(from.0))
        .set("y1", tidy(from.1))
        .set("x2", tidy(to.0))
        .set("y2", tidy(to.1))
}

fn draw_outline(pattern: &Pattern, mut group: Group) -> Group {
    let brief = &pattern.brief;
    group = match brief.outline {
        Outline::Disc { diameter } => group.add(
            circle(0.0, 0.0, diameter.mm() / 2.0)
                .set("class", "outline")
                .set("stroke-width", 0.5),
        ),
        Outline::Polygon { .. } => {
            let points: Vec<String> = corners_mm(&brief.outline)
                .into_iter()
                .map(|(x, y)| format!("{},{}", tidy(x), tidy(-y)))
                .collect();
            group.add(
                Polygon::new()
                    .set("class", "outline")
                    .set("points", points.join(" "))
                    .set("stroke-width", 0.5),
            )
        }
    };
    if let Some(bore) = brief.bore {
        group = group.add(
            circle(0.0, 0.0, bore.mm() / 2.0)
                .set("class", "bore")
                .set("stroke-width", 0.5),
        );
    }
    for hole in &brief.mounting_holes {
        group = group.add(
            circle(hole.x.mm(), hole.y.mm(), hole.diameter.mm() / 2.0)
                .set("class", "mounting-hole")
                .set("stroke", "#1f4e9e")
                .set("stroke-width", 0.35),
        );
    }
    for area in &brief.keep_outs {
        group = group.add(
            circle(area.x.mm(), area.y.mm(), area.diameter.mm() / 2.0)
                .set("class", "keep-out")
                .set("fill", "#f6d9d5")
                .set("stroke", "#b03020")
                .set("stroke-dasharray", "1.2 0.8")
                .set("stroke-width", 0.25),
        );
    }
    let (left, low, right, high) = bounds_mm(&brief.outline);
    for (from, to) in [
        ((left - 3.0, 0.0), (right + 3.0, 0.0)),
        ((0.0, -high - 3.0), (0.0, -low + 3.0)),
    ] {
        group = group.add(
            line(from, to)
                .set("stroke", "#808080")
                .set("stroke-width", 0.13)
                .set("stroke-dasharray", "6 1 1 1"),
        );
    }
    group
}

/// Stations are drawn in blue.
const STATION_COLOUR: &str = "#1f4e9e";

/// Where the stations stand, moved towards the centre by so much.
fn stations_mm(pattern: &Pattern, inward_mm: f64) -> Vec<(f64, f64)> {
    let radius_mm = (pattern.rings.first()).map_or(0.0, |ring| ring.radius_mm - inward_mm);
    let place = |angle| {
        let (sin, cos) = crate::pattern::result::sin_cos(angle);
        (radius_mm * cos, radius_mm * sin)
    };
    (pattern.stations.iter())
        .map(|station| place(station.angle))
        .collect()
}

/// Numbers of the stations, S0 and on, inside the ring.
fn station_labels(pattern: &Pattern, mut group: Group) -> Group {
    let hole_mm = pattern.brief.largest_hole_mm();
    let size = (hole_mm * 0.5).min(2.5);
    let numbered_inside = numbering(pattern, 0).is_some_and(|it| !it.beside);
    if !numbered_inside || size < SMALLEST_DIGITS_MM {
        return group;
    }
    let inward_mm = hole_mm / 2.0 + 1.2 * size;
    for (number, (x, y)) in stations_mm(pattern, inward_mm).into_iter().enumerate() {
        group = group.add(
            Text::new(format!("S{number}"))
                .set("x", tidy(x))
                .set("y", tidy(-y + size * 0.36))
                .set("font-size", tidy(size))
                .set("fill", STATION_COLOUR),
        );
    }
    group
}

fn draw_rings(pattern: &Pattern, mut group: Group) -> Group {
    for ring in &pattern.rings {
        group = group.add(
            circle(0.0, 0.0, ring.radius_mm)
                .set("class", "pitch-circle")
                .set("stroke", "#808080")
                .set("stroke-width", 0.13)
                .set("stroke-dasharray", "6 1 1 1"),
        );
    }
    let radius = pattern.brief.largest_hole_mm() / 2.0;
    // Below the holes: the fixed plate lies behind the turning one.
    for (x, y) in stations_mm(pattern, 0.0) {
        group = group.add(
            circle(x, y, radius)
                .set("class", "station")
                .set("stroke", STATION_COLOUR)
                .set("stroke-dasharray", "0.8 0.5")
                .set("stroke-width", 0.25),
        );
    }
    for (_, ring, hole) in pattern.holes() {
        let (x, y) = hole.position_mm(ring.radius_mm);
        group = group.add(
            circle(x, y, radius)
                .set("class", "hole")
                .set("fill", "white")
                .set("stroke-width", 0.3_f64.min(radius / 4.0)),
        );
    }
    group
}

/// How the holes of a ring are numbered on the drawing.
struct Numbering {
    /// Height of the digits, in millimetres.
    size_mm: f64,
    /// Every so many holes one number, the zero hole always.
    every: usize,
    /// Beside the holes, towards the centre, where they are too small for digits.
    beside: bool,
}

/// A digit is about 0.6 of its height wide.
const DIGIT_WIDE: f64 = 0.62;

/// Smallest digits that print legibly, in millimetres.
const SMALLEST_DIGITS_MM: f64 = 1.0;

/// Numbers inside the holes where digits of at least 1 mm go in, else beside
/// them, every first, second, fifth, tenth … hole so that no two touch; none on
/// rings that leave no room.
fn numbering(pattern: &Pattern, index: usize) -> Option<Numbering> {
    let ring = pattern.rings.get(index)?;
    let hole_mm = pattern.brief.largest_hole_mm();
    let most = ring.holes.iter().map(|hole| hole.number).max().unwrap_or(0);
    let letters = ring_letter(index).len() + 1;
    let digits = most.to_string().len().max(letters);
    let wide = f64::from(u32::try_from(digits).unwrap_or(u32::MAX));
    let inside_mm = (hole_mm * 0.8 / (DIGIT_WIDE * wide.max(1.6)))
        .min(hole_mm * 0.5)
        .min(3.2);
    if inside_mm >= SMALLEST_DIGITS_MM {
        return Some(Numbering {
            size_mm: inside_mm,
            every: 1,
            beside: false,
        });
    }
    // Between this ring and what comes next inwards: a ring or the bore.
    let below_mm = match pattern.rings.get(index + 1) {
        Some(next) => next.radius_mm + hole_mm / 2.0,
        None => pattern.brief.bore.map_or(0.0, |bore| bore.mm() / 2.0),
    };
    let room_mm = ring.radius_mm - hole_mm / 2.0 - below_mm;
    let size_mm = (room_mm / (0.6 + DIGIT_WIDE * wide)).min(2.0);
    if size_mm < SMALLEST_DIGITS_MM {
        return None;
    }
    let label_radius_mm =
        ring.radius_mm - hole_mm / 2.0 - size_mm * (0.3 + DIGIT_WIDE * wide / 2.0);
    let needed_mm = size_mm * (DIGIT_WIDE * wide + 0.5);
    let count = ring.holes.len();
    let apart_mm = |every: usize| {
        let numbered: Vec<f64> = ring
            .holes
            .iter()
            .step_by(every)
            .map(|hole| hole.angle.to_turns_f64())
            .collect();
        let around = numbered.iter().skip(1).copied();
        let last = numbered.first().map(|first| first + 1.0);
        numbered
            .iter()
            .zip(around.chain(last))
            .map(|(a, b)| {
                let gap = (b - a).rem_euclid(1.0).min(0.5);
                2.0 * label_radius_mm * (std::f64::consts::PI * gap).sin()
            })
            .fold(f64::INFINITY, f64::min)
    };
    let tens = std::iter::successors(Some(1_usize), |ten| ten.checked_mul(10));
    tens.flat_map(|ten| [ten, 2 * ten, 5 * ten])
        .take_while(|&every| every < count)
        .chain([count.max(1)])
        .find(|&every| every >= count || apart_mm(every) >= needed_mm)
        .map(|every| Numbering {
            size_mm,
            every,
            beside: true,
        })
}

/// Numbers of the holes; the zero hole of each ring carries its letter.
fn draw_labels(pattern: &Pattern) -> Group {
    let mut group = Group::new()
        .set("text-anchor", "middle")
        .set("fill", "#202020")
        .set("class", "labels");
    let hole_mm = pattern.brief.largest_hole_mm();
    for (index, ring) in pattern.rings.iter().enumerate() {
        let Some(numbering) = numbering(pattern, index) else {
            continue;
        };
        let size = numbering.size_mm;
        for hole in ring.holes.iter().step_by(numbering.every) {
            let text = if hole.number == 0 {
                format!("{}0", ring_letter(index))
            } else {
                hole.number.to_string()
            };
            let (sin, cos) = crate::pattern::result::sin_cos(hole.angle);
            let mut radius_mm = ring.radius_mm;
            if numbering.beside {
                let wide = f64::from(u32::try_from(text.len()).unwrap_or(1)) * DIGIT_WIDE;
                let towards_hole = wide / 2.0 * cos.abs() + 0.36 * sin.abs();
                radius_mm -= hole_mm / 2.0 + size * (0.3 + towards_hole);
            }
            let (x, y) = (radius_mm * cos, radius_mm * sin);
            group = group.add(
                Text::new(text)
                    .set("x", tidy(x))
                    .set("y", tidy(-y + size * 0.36))
                    .set("font-size", tidy(size))
                    .set(
                        "font-weight",
                        if hole.number == 0 { "bold" } else { "normal" },
                    ),
            );
        }
    }
    station_labels(pattern, group)
}

struct Dimensions {
    group: Group,
    lines: usize,
}

/// Pitch circle and outline diameters below the plate, innermost first.
fn dimensions(pattern: &Pattern, low: f64) -> Dimensions {
    let mut sizes: Vec<(f64, String)> = pattern
        .rings
        .iter()
        .enumerate()
        .rev()
        .map(|(index, ring)| {
            let across = 2.0 * ring.radius_mm;
            (
                across,
                format!("{} pitch circle ⌀{across:.3}", ring_letter(index)),
            )
        })
        .collect();
    if sizes.len() > MOST_DIMENSIONS {
        sizes.drain(..sizes.len() - MOST_DIMENSIONS);
    }
    match pattern.brief.outline {
        Outline::Disc { diameter } => sizes.push((diameter.mm(), format!("⌀{:.3}", diameter.mm()))),
        // Opposite an odd polygon's face stands a corner: no flats to measure.
        Outline::Polygon {
            faces,
            across_flats,
        } => sizes.push((
            across_flats.mm(),
            if faces % 2 == 0 {
                format!("across flats {:.3}", across_flats.mm())
            } else {
                format!("circle inside the faces ⌀{:.3}", across_flats.mm())
            },
        )),
    }
    let mut group = Group::new()
        .set("class", "dimensions")
        .set("stroke", "#404040")
        .set("stroke-width", 0.15);
    let lines = sizes.len();
    let mut y = -low + STEP_MM;
    for (across, text) in sizes {
        let half = across / 2.0;
        for x in [-half, half] {
            group = group.add(line((x, -low + 1.0), (x, y + 1.2)).set("stroke", "#a0a0a0"));
        }
        group = group.add(line((-half, y), (half, y)));
        for (x, inward) in [(-half, 1.0), (half, -1.0)] {
            group = group.add(
                Polygon::new()
                    .set(
                        "points",
                        format!(
                            "{},{} {},{} {},{}",
                            tidy(x),
                            tidy(y),
                            tidy(x + inward * 2.2),
                            tidy(y - 0.4),
                            tidy(x + inward * 2.2),
                            tidy(y + 0.4)
                        ),
                    )
                    .set("fill", "#404040")
                    .set("stroke", "none"),
            );
        }
        // A white copy below keeps lines off the figures in every program.
        for (fill, stroke) in [("white", "white"), ("#202020", "none")] {
            group = group.add(
                Text::new(text.clone())
                    .set("x", 0)
                    .set("y", tidy(y - 1.2))
                    .set("font-size", 2.8)
                    .set("text-anchor", "middle")
                    .set("fill", fill)
                    .set("stroke", stroke)
                    .set("stroke-width", 0.6),
            );
        }
        y += STEP_MM;
    }
    Dimensions { group, lines }
}

fn scale_bar_group(left: f64, y: f64) -> Group {
    let mut group = Group::new()
        .set("class", "scale-bar")
        .set("stroke", "black")
        .set("stroke-width", 0.25)
        .add(line((left, y), (left + 50.0, y)));
    for tick in 0..=5_u8 {
        let x = left + 10.0 * f64::from(tick);
        group = group.add(line((x, y - 1.5), (x, y + 1.5)));
    }
    group.add(
        Text::new("this bar measures 50 mm when printed at true scale")
            .set("x", tidy(left))
            .set("y", tidy(y + 5.0))
            .set("font-size", 2.8)
            .set("fill", "black")
            .set("stroke", "none"),
    )
}

fn notes(pattern: &Pattern) -> Vec<String> {
    let brief = &pattern.brief;
    let certificate = &pattern.certificate;
    let mut notes = vec![format!(
        "{} ⌀{}",
        count(pattern.hole_count(), "hole"),
        brief.hole_text()
    )];
    for (index, ring) in pattern.rings.iter().enumerate() {
        notes.push(format!(
            "{}: radius {:.3} mm, {}",
            ring_letter(index),
            ring.radius_mm,
            count(ring.holes.len(), "hole")
        ));
        notes.push(format!("    stamp {}", ring_stamp(pattern, index)));
        if !ring.phase.is_zero() {
            notes.push(format!("    zero hole at {}", angle_text(ring.phase)));
        }
        match numbering(pattern, index).map(|it| it.every) {
            None => notes.push("    too close to number here: see the table".to_owned()),
            Some(every) if every >= ring.holes.len() && every > 1 => {
                notes.push("    only its zero hole is numbered here".to_owned());
            }
            Some(1) => {}
            Some(every) => notes.push(format!("    one hole in {every} is numbered here")),
        }
    }
    if !pattern.stations.is_empty() {
        notes.push(format!(
            "{} in the fixed plate (S, dashed)",
            count(pattern.stations.len(), "station")
        ));
    }
    if !brief.mounting_holes.is_empty() {
        notes.push(format!(
            "{} (blue)",
            count(brief.mounting_holes.len(), "mounting hole")
        ));
    }
    if !brief.keep_outs.is_empty() {
        notes.push(format!(
            "{} (red, dashed)",
            count(brief.keep_outs.len(), "keep-out circle")
        ));
    }
    if let Some(web) = pattern.check.least_web_mm {
        notes.push(format!("least web {web:.3} mm"));
    }
    if let Some(edge) = pattern.check.least_edge_mm {
        notes.push(format!("least edge distance {edge:.3} mm"));
    }
    if certificate.gap == 0 {
        notes.push("fewest holes, proved".to_owned());
        notes.push(format!("    ({})", certificate.proof));
    } else {
        notes.push(format!("lower bound {} holes", certificate.lower_bound));
    }
    notes.push("angles counter-clockwise from +x".to_owned());
    notes
}
