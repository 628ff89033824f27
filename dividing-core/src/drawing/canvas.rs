//! A page with the middle of the picture at the origin and Y upward.

use svg::Document;
use svg::node::element::{Circle, Line, Polygon, Rectangle, Text, Title};

/// Ink for what is there.
pub(super) const INK: &str = "#1a1a1a";
/// Grey for what is there but not used.
pub(super) const GREY: &str = "#8a8a8a";
/// Fill for what is used.
pub(super) const USED: &str = "#1a1a1a";

/// A picture in the making.
pub(super) struct Canvas {
    document: Document,
}

/// Height of the strip for the caption, in millimetres.
const CAPTION_MM: f64 = 12.0;

/// A number for the picture, with no more digits than a printer can show.
fn rounded(value: f64) -> f64 {
    (value * 1000.0).round() / 1000.0 + 0.0
}

impl Canvas {
    /// A square page that shows everything within a radius of the middle, with
    /// a caption below.
    pub(super) fn new(title: &str, caption: &str, radius_mm: f64) -> Self {
        let (side, height) = (2.0 * radius_mm, 2.0 * radius_mm + CAPTION_MM);
        let document = Document::new()
            .set("xmlns", "http://www.w3.org/2000/svg")
            .set("width", format!("{}mm", rounded(side)))
            .set("height", format!("{}mm", rounded(height)))
            .set(
                "viewBox",
                (
                    rounded(-radius_mm),
                    rounded(-radius_mm),
                    rounded(side),
                    rounded(height),
                ),
            )
            .set("role", "img")
            .set("font-family", "sans-serif")
            .add(Title::new(title))
            .add(
                Rectangle::new()
                    .set("x", rounded(-radius_mm))
                    .set("y", rounded(-radius_mm))
                    .set("width", rounded(side))
                    .set("height", rounded(height))
                    .set("fill", "white"),
            );
        let mut canvas = Self { document };
        let size = (side / 32.0).clamp(2.2, 4.0);
        canvas.text_at(
            title,
            0.0,
            -radius_mm - CAPTION_MM * 0.35,
            fitted(title, side, size),
            INK,
        );
        canvas.text_at(
            caption,
            0.0,
            -radius_mm - CAPTION_MM * 0.8,
            fitted(caption, side, size * 0.85),
            GREY,
        );
        canvas
    }

    fn add(&mut self, node: impl Into<Box<dyn svg::Node>>) {
        svg::Node::append(&mut self.document, node);
    }

    pub(super) fn circle(&mut self, x: f64, y: f64, radius: f64, fill: &str, stroke: &str) {
        self.add(
            Circle::new()
                .set("cx", rounded(x))
                .set("cy", rounded(-y))
                .set("r", rounded(radius))
                .set("fill", fill)
                .set("stroke", stroke)
                .set("stroke-width", 0.25),
        );
    }

    pub(super) fn line(&mut self, from: (f64, f64), to: (f64, f64), stroke: &str, width: f64) {
        self.add(
            Line::new()
                .set("x1", rounded(from.0))
                .set("y1", rounded(-from.1))
                .set("x2", rounded(to.0))
                .set("y2", rounded(-to.1))
                .set("stroke", stroke)
                .set("stroke-width", width),
        );
    }

    pub(super) fn polygon(&mut self, corners: &[(f64, f64)], stroke: &str) {
        let points: Vec<String> = corners
            .iter()
            .map(|(x, y)| format!("{},{}", rounded(*x), rounded(-y)))
            .collect();
        self.add(
            Polygon::new()
                .set("points", points.join(" "))
                .set("fill", "none")
                .set("stroke", stroke)
                .set("stroke-width", 0.4),
        );
    }

    /// Text with its middle at a point, on a white ground where it crosses lines.
    pub(super) fn label_at(&mut self, text: &str, x: f64, y: f64, size: f64, fill: &str) {
        self.add(
            text_node(text, x, y, size, fill)
                .set("stroke", "white")
                .set("stroke-width", rounded(size * 0.28))
                .set("paint-order", "stroke"),
        );
    }

    /// Text with its middle at a point.
    pub(super) fn text_at(&mut self, text: &str, x: f64, y: f64, size: f64, fill: &str) {
        self.add(text_node(text, x, y, size, fill));
    }

    /// The axis cross with the ray of angle 0 named.
    pub(super) fn cross(&mut self, reach: f64) {
        self.line((-reach, 0.0), (reach, 0.0), GREY, 0.15);
        self.line((0.0, -reach), (0.0, reach), GREY, 0.15);
        self.text_at("0°", reach - 1.0, -2.6, 2.6, GREY);
    }

    pub(super) fn finish(self) -> String {
        format!("{}\n", self.document)
    }
}

fn text_node(text: &str, x: f64, y: f64, size: f64, fill: &str) -> Text {
    Text::new(text)
        .set("x", rounded(x))
        .set("y", rounded(-y + size * 0.35))
        .set("font-size", rounded(size))
        .set("text-anchor", "middle")
        .set("fill", fill)
}

/// A type size at which a text fits a width, a letter being about 0.55 of it.
pub(super) fn fitted(text: &str, width: f64, size: f64) -> f64 {
    let letters = u32::try_from(text.chars().count())
        .unwrap_or(u32::MAX)
        .max(1);
    size.min(width * 0.96 / (0.55 * f64::from(letters)))
}
