//! Pictures of deviations round the circle, for paper.

use std::f64::consts::TAU;

use svg::Document;
use svg::node::element::path::Data;
use svg::node::element::{Circle, Group, Line, Path, Text};

use super::coordinates::CoordinateInspection;
use super::numeric::count;
use super::ring::RingDeviations;

const WIDTH: f64 = 1040.0;
const HEIGHT: f64 = 520.0;
/// Middle and zero circle of the polar picture.
const POLAR: (f64, f64, f64) = (235.0, 284.0, 120.0);
/// How far the largest deviation reaches from the zero circle.
const POLAR_REACH: f64 = 75.0;
/// Left, right, middle and half height of the unrolled picture.
const UNROLLED: (f64, f64, f64, f64) = (545.0, 1010.0, 250.0, 150.0);

pub(crate) const BEFORE: &str = "#8a5a00";
pub(crate) const AFTER: &str = "#003f7f";

/// What stands round the circle, and how it is numbered.
pub(crate) struct Stands {
    pub(crate) called: &'static str,
    pub(crate) first_number: usize,
    /// What a positive deviation means.
    pub(crate) positive: &'static str,
}

impl Stands {
    fn number(&self, place: usize) -> String {
        place.saturating_add(self.first_number).to_string()
    }

    /// The places whose numbers are written: the first, and those of round numbers
    /// that stand free of it, for as many numbers as there is room.
    fn numbered(&self, places: usize, room: usize) -> impl Iterator<Item = usize> + use<> {
        let first = self.first_number;
        let step = number_step(places, room);
        (0..places).filter(move |&place| {
            let free = 5 * place.min(places - place) >= 4 * step;
            place == 0 || (free && (place + first).is_multiple_of(step))
        })
    }
}

const PLACES: Stands = Stands {
    called: "place",
    first_number: 0,
    positive: "positive in the sense of the numbering",
};

/// A row of deviations under one name.
pub(crate) struct Curve<'c> {
    pub(crate) label: &'c str,
    pub(crate) colour: &'static str,
    pub(crate) dashed: bool,
    /// Place and deviation in radians, ascending.
    pub(crate) values: Vec<(usize, f64)>,
}

/// The deviations of a ring as measured and without the first harmonic, polar
/// and unrolled, as an SVG document.
///
/// ```
/// use dividing_core::inspection::{
///     DeviationReading, DeviationReadings, inspect_deviations, ring_picture,
/// };
/// let readings = (0..8)
///     .map(|place| DeviationReading { place, deviation_arcsec: if place < 4 { 5.0 } else { -5.0 } })
///     .collect();
/// let ring = inspect_deviations(&DeviationReadings {
///     places: 8,
///     radius: None,
///     standard_uncertainty_arcsec: None,
///     readings,
/// })?;
/// assert!(ring_picture("Index plate, 8 holes", &ring).starts_with("<svg"));
/// # Ok::<(), dividing_core::Error>(())
/// ```
#[must_use]
pub fn ring_picture(title: &str, ring: &RingDeviations) -> String {
    let measured = ring.deviations.iter();
    let before = measured.clone().map(|d| (d.place, d.deviation_rad));
    let after = measured.map(|d| (d.place, d.rest_rad));
    draw(
        title,
        &PLACES,
        ring.places,
        &[
            Curve {
                label: "as measured",
                colour: BEFORE,
                dashed: true,
                values: before.collect(),
            },
            Curve {
                label: "without first harmonic",
                colour: AFTER,
                dashed: false,
                values: after.collect(),
            },
        ],
    )
}

/// The deviations of measured holes about the axis and about the fitted
/// centre, before and after eccentricity is taken out, as an SVG document.
/// Without an axis there is only the second. Places run counter-clockwise in
/// the polar picture whichever way the part is numbered.
///
/// ```
/// use dividing_core::Length;
/// use dividing_core::inspection::{
///     CoordinateReadings, Numbering, coordinate_picture, inspect_coordinates, points_from_csv,
/// };
/// let text = "place,x_mm,y_mm\n0,40.004,0.002\n1,0.001,40.006\n2,-39.995,0.004\n3,0.006,-39.998\n";
/// let inspection = inspect_coordinates(&CoordinateReadings {
///     places: 4,
///     numbering: Numbering::CounterClockwise,
///     axis: Some([Length::ZERO; 2]),
///     nominal_radius: None,
///     standard_uncertainty: None,
///     points: points_from_csv(text)?,
/// })?;
/// assert!(coordinate_picture("Plate of 4", &inspection).contains("about the axis"));
/// # Ok::<(), dividing_core::Error>(())
/// ```
#[must_use]
pub fn coordinate_picture(title: &str, inspection: &CoordinateInspection) -> String {
    let values = |ring: &RingDeviations| -> Vec<(usize, f64)> {
        ring.deviations
            .iter()
            .map(|d| (d.place, d.deviation_rad))
            .collect()
    };
    let mut curves = Vec::new();
    if let Some(ring) = &inspection.about_axis {
        curves.push(Curve {
            label: "about the axis",
            colour: BEFORE,
            dashed: true,
            values: values(ring),
        });
    }
    curves.push(Curve {
        label: "about the fitted centre, eccentricity removed",
        colour: AFTER,
        dashed: false,
        values: values(&inspection.about_centre),
    });
    draw(title, &PLACES, inspection.about_centre.places, &curves)
}

/// The unit of the picture: name and how many make a radian.
fn unit(largest_rad: f64) -> (&'static str, f64) {
    let arcsec = 648_000.0 / std::f64::consts::PI;
    if largest_rad * arcsec > 600.0 {
        ("minutes of arc", arcsec / 60.0)
    } else {
        ("seconds of arc", arcsec)
    }
}

/// A round step of which two to five reach up to `largest`.
fn round_step(largest: f64) -> f64 {
    let rough = largest / 3.0;
    let decade = 10.0_f64.powf(rough.log10().floor());
    [1.0, 2.0, 5.0, 10.0]
        .into_iter()
        .map(|factor| factor * decade)
        .find(|step| *step >= rough)
        .unwrap_or(10.0 * decade)
}

fn label(value: f64) -> String {
    let text = format!("{value:.6}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" || text.is_empty() {
        "0".into()
    } else {
        text.replace('-', "\u{2212}")
    }
}

fn text(x: f64, y: f64, anchor: &str, size: f64, content: &str) -> Text {
    Text::new(content)
        .set("x", rounded(x))
        .set("y", rounded(y))
        .set("text-anchor", anchor)
        .set("font-size", size)
        .set("font-family", "sans-serif")
        .set("fill", "#000000")
}

/// Size of the title: smaller where it would run over the edge.
fn title_size(title: &str) -> f64 {
    // Letters are a little over half as wide as they are high.
    const WIDTH_OF_A_LETTER: f64 = 0.58;
    let fits = 0.97 * WIDTH / (WIDTH_OF_A_LETTER * count(title.chars().count().max(1)));
    rounded(fits.min(20.0))
}

/// Two decimals are finer than any printer.
fn rounded(value: f64) -> f64 {
    (value * 100.0).round() / 100.0 + 0.0
}

/// Draws curves over the places of a circle, polar and unrolled.
pub(crate) fn draw(title: &str, stands: &Stands, places: usize, curves: &[Curve<'_>]) -> String {
    // The fields of a ring are open to change; no places make no picture.
    let places = places.max(1);
    let largest_rad = curves
        .iter()
        .flat_map(|curve| curve.values.iter().map(|(_, value)| value.abs()))
        .fold(0.0, f64::max);
    // Perfect rings still get a scale: a thousandth of a second of arc.
    let largest_rad = largest_rad.max(5.0e-9);
    let (unit_name, per_rad) = unit(largest_rad);
    let step = round_step(largest_rad * per_rad);
    let steps = (largest_rad * per_rad / step).ceil().max(1.0);
    let scale = Scale {
        per_rad,
        step,
        steps,
        full: step * steps,
    };
    let mut document = Document::new()
        .set("viewBox", (0, 0, WIDTH, HEIGHT))
        .set("width", "260mm")
        .set("height", "130mm")
        .add(
            svg::node::element::Rectangle::new()
                .set("width", WIDTH)
                .set("height", HEIGHT)
                .set("fill", "#ffffff"),
        )
        .add(text(WIDTH / 2.0, 30.0, "middle", title_size(title), title))
        .add(text(
            WIDTH / 2.0,
            52.0,
            "middle",
            14.0,
            &format!("deviation in {unit_name}, {}", stands.positive),
        ))
        .add(polar_frame(stands, places, &scale))
        .add(unrolled_frame(stands, places, &scale));
    for curve in curves {
        document = document
            .add(polar_curve(places, curve, &scale))
            .add(unrolled_curve(places, curve, &scale));
    }
    document
        .add(polar_scale(&scale))
        .add(legend(curves, places))
        .to_string()
}

struct Scale {
    per_rad: f64,
    step: f64,
    steps: f64,
    full: f64,
}

impl Scale {
    /// The ring values, from minus full to full.
    fn ticks(&self) -> impl Iterator<Item = f64> + use<> {
        let (step, steps) = (self.step, self.steps);
        (-8..=8_i8)
            .map(f64::from)
            .filter(move |k| k.abs() <= steps)
            .map(move |k| k * step)
    }

    fn part(&self, value_rad: f64) -> f64 {
        value_rad * self.per_rad / self.full
    }
}

fn polar_point(places: usize, place: usize, part: f64) -> (f64, f64) {
    let (x, y, radius) = POLAR;
    let (sin, cos) = (TAU * count(place) / count(places)).sin_cos();
    let reach = radius + POLAR_REACH * part;
    (rounded(x + reach * cos), rounded(y - reach * sin))
}

/// How many places apart the numbers stand so that they can be read.
fn number_step(places: usize, room: usize) -> usize {
    [
        1, 2, 3, 5, 6, 10, 12, 15, 20, 30, 45, 60, 90, 100, 120, 180, 200, 500, 1000, 2000,
    ]
    .into_iter()
    .find(|step| places / step <= room)
    .unwrap_or(5000)
}

fn polar_frame(stands: &Stands, places: usize, scale: &Scale) -> Group {
    let (x, y, radius) = POLAR;
    let mut group = Group::new().set("fill", "none").set("stroke", "#b0b0b0");
    for tick in scale.ticks() {
        let zero = tick.abs() < scale.step / 2.0;
        group = group.add(
            Circle::new()
                .set("cx", x)
                .set("cy", y)
                .set("r", rounded(radius + POLAR_REACH * tick / scale.full))
                .set("stroke", if zero { "#000000" } else { "#c8c8c8" })
                .set("stroke-width", if zero { 1.2 } else { 0.6 }),
        );
    }
    for place in stands.numbered(places, 12) {
        let (inner_x, inner_y) = polar_point(places, place, -1.0);
        let (outer_x, outer_y) = polar_point(places, place, 1.0);
        let (text_x, text_y) = polar_point(places, place, 1.28);
        group = group
            .add(
                Line::new()
                    .set("x1", inner_x)
                    .set("y1", inner_y)
                    .set("x2", outer_x)
                    .set("y2", outer_y)
                    .set("stroke-width", 0.6)
                    .set("stroke", "#c8c8c8"),
            )
            .add(
                text(text_x, text_y + 4.5, "middle", 13.0, &stands.number(place))
                    .set("stroke", "none"),
            );
    }
    group
}

/// The scale, written over the curves where the circles cross the upright.
fn polar_scale(scale: &Scale) -> Group {
    let (x, y, radius) = POLAR;
    let mut group = Group::new();
    for tick in [-scale.full, 0.0, scale.full] {
        let at = y - radius - POLAR_REACH * tick / scale.full;
        // A white rim, then the figure: not every printing program can do both in
        // one, and some would print the rim over the figure.
        let figure = text(x + 4.0, at - 3.0, "start", 11.0, &label(tick));
        let rim = figure
            .clone()
            .set("stroke", "#ffffff")
            .set("stroke-width", 3);
        group = group.add(rim).add(figure);
    }
    group
}

fn polar_curve(places: usize, curve: &Curve<'_>, scale: &Scale) -> Group {
    let points: Vec<(usize, (f64, f64))> = curve
        .values
        .iter()
        .map(|&(place, value)| (place, polar_point(places, place, scale.part(value))))
        .collect();
    // Closed when nothing is missing; a gap stays a gap.
    let mut line = path_through(&points);
    if points.len() == places {
        line = line.close();
    } else if let (Some(first), Some(last)) = (points.first(), points.last())
        && first.0 == 0
        && last.0 + 1 == places
    {
        line = line.move_to(last.1).line_to(first.1);
    }
    curve_group(line, &points, curve, places)
}

fn path_through(points: &[(usize, (f64, f64))]) -> Data {
    let mut data = Data::new();
    let mut before: Option<usize> = None;
    for &(place, at) in points {
        data = if before.is_some_and(|last| last + 1 == place) {
            data.line_to(at)
        } else {
            data.move_to(at)
        };
        before = Some(place);
    }
    data
}

fn curve_group(
    line: Data,
    points: &[(usize, (f64, f64))],
    curve: &Curve<'_>,
    places: usize,
) -> Group {
    let mut path = Path::new()
        .set("d", line)
        .set("fill", "none")
        .set("stroke", curve.colour)
        .set("stroke-width", 1.6);
    if curve.dashed {
        path = path.set("stroke-dasharray", "5 3");
    }
    let mut group = Group::new().add(path);
    // Dots would run together where the places stand close.
    const MOST_DOTS: usize = 120;
    if places <= MOST_DOTS {
        for &(_, (x, y)) in points {
            group = group.add(marker(x, y, curve));
        }
    }
    group
}

fn marker(x: f64, y: f64, curve: &Curve<'_>) -> Circle {
    Circle::new()
        .set("cx", x)
        .set("cy", y)
        .set("r", 3)
        .set(
            "fill",
            if curve.dashed {
                "#ffffff"
            } else {
                curve.colour
            },
        )
        .set("stroke", curve.colour)
        .set("stroke-width", 1.2)
}

fn unrolled_point(places: usize, place: usize, part: f64) -> (f64, f64) {
    let (left, right, middle, half) = UNROLLED;
    let along = count(place) / count(places);
    (
        rounded(left + (right - left) * along),
        rounded(middle - half * part),
    )
}

fn unrolled_frame(stands: &Stands, places: usize, scale: &Scale) -> Group {
    let (left, right, middle, half) = UNROLLED;
    let mut group = Group::new().set("stroke", "#c8c8c8");
    for tick in scale.ticks() {
        let zero = tick.abs() < scale.step / 2.0;
        let at = rounded(middle - half * tick / scale.full);
        group = group
            .add(
                Line::new()
                    .set("x1", left)
                    .set("y1", at)
                    .set("x2", right)
                    .set("y2", at)
                    .set("stroke", if zero { "#000000" } else { "#c8c8c8" })
                    .set("stroke-width", if zero { 1.2 } else { 0.6 }),
            )
            .add(text(left - 8.0, at + 4.5, "end", 13.0, &label(tick)).set("stroke", "none"));
    }
    let bottom = middle + half;
    // Longer numbers want more room.
    let room = if places >= 100 { 11 } else { 16 };
    // The first place stands at both ends: the picture is a turn cut open.
    for place in stands.numbered(places, room).chain([places]) {
        let (x, _) = unrolled_point(places, place, 0.0);
        group = group
            .add(
                Line::new()
                    .set("x1", x)
                    .set("y1", bottom)
                    .set("x2", x)
                    .set("y2", bottom + 5.0)
                    .set("stroke", "#000000"),
            )
            .add(
                text(
                    x,
                    bottom + 20.0,
                    "middle",
                    13.0,
                    &stands.number(place % places),
                )
                .set("stroke", "none"),
            );
    }
    group.add(
        text(
            (left + right) / 2.0,
            bottom + 40.0,
            "middle",
            13.0,
            stands.called,
        )
        .set("stroke", "none"),
    )
}

fn unrolled_curve(places: usize, curve: &Curve<'_>, scale: &Scale) -> Group {
    let mut points: Vec<(usize, (f64, f64))> = curve
        .values
        .iter()
        .map(|&(place, value)| (place, unrolled_point(places, place, scale.part(value))))
        .collect();
    if let Some(&(0, value)) = curve.values.first() {
        points.push((places, unrolled_point(places, places, scale.part(value))));
    }
    curve_group(path_through(&points), &points, curve, places)
}

fn legend(curves: &[Curve<'_>], places: usize) -> Group {
    let mut group = Group::new();
    let mut x = UNROLLED.0 - 40.0;
    // A curve without a label is the other side of the one before it.
    for curve in curves.iter().filter(|it| !it.label.is_empty()) {
        let y = 490.0;
        let points = [(0, (x, y)), (1, (x + 34.0, y))];
        group = group
            .add(curve_group(
                path_through(&points),
                &[(0, (x + 17.0, y))],
                curve,
                places,
            ))
            .add(text(x + 42.0, y + 4.5, "start", 13.0, curve.label));
        x += 62.0 + 6.6 * count(curve.label.chars().count());
    }
    group
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::inspection::{DeviationReading, DeviationReadings, inspect_deviations};

    fn ring(values: &[f64]) -> RingDeviations {
        inspect_deviations(&DeviationReadings {
            places: values.len(),
            radius: None,
            standard_uncertainty_arcsec: None,
            readings: values
                .iter()
                .enumerate()
                .map(|(place, &deviation_arcsec)| DeviationReading {
                    place,
                    deviation_arcsec,
                })
                .collect(),
        })
        .unwrap()
    }

    #[test]
    fn every_place_has_its_dot_in_both_pictures() {
        let picture = ring_picture("ring", &ring(&[1.0, -2.0, 3.0, 0.0, 5.0, -4.0, 2.0, 1.0]));
        // Two curves: 8 dots polar, 9 unrolled (place 0 twice), 1 in the legend.
        assert_eq!(picture.matches("r=\"3\"").count(), 2 * (8 + 9 + 1));
        assert!(picture.contains("seconds of arc"));
    }

    #[test]
    fn titles_are_escaped_and_nothing_is_no_number() {
        for values in [
            vec![0.0; 5],
            vec![1.0e-7, 0.0, 2.0e-7, 0.0],
            vec![9000.0, 0.0, 1.0, -9000.0],
        ] {
            let picture = ring_picture("a <b> & \"c\"", &ring(&values));
            assert!(picture.contains("a &lt;b&gt; &amp;"), "{picture}");
            assert!(!picture.contains("NaN") && !picture.contains("inf"));
        }
    }

    #[test]
    fn scales_are_round_and_hold_everything() {
        for largest in [1.0e-3, 0.7, 1.0, 14.0, 33.0, 600.0] {
            let step = round_step(largest);
            let steps = (largest / step).ceil();
            assert!((1.0..=8.0).contains(&steps), "{largest} {step}");
        }
        assert_eq!(label(-20.0), "\u{2212}20");
        assert_eq!(label(0.0), "0");
        assert_eq!(label(0.25), "0.25");
    }
}
