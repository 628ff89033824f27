//! The plate as a DXF drawing.
//!
//! Written as plain group codes of DXF release 12, which every program that
//! opens DXF reads: no clock, no random identifiers, the same bytes every time.

use super::labels::{hole_label, ring_letter};
use super::table::{TableUnit, corners_mm};
use crate::pattern::brief::Outline;
use crate::pattern::result::Pattern;

/// Draws the plate at full size in the unit asked for, its centre at the
/// origin. Layers: `OUTLINE`, `BORE`, `PITCH_CIRCLES`, one `RING_A`, `RING_B` …
/// for each ring, `STATIONS`, `LABELS`, `MOUNTING_HOLES`, `KEEP_OUTS`.
///
/// ```
/// use dividing_core::pattern::outputs::{TableUnit, plate_dxf};
/// use dividing_core::pattern::{PlateBrief, design};
/// use dividing_core::work::Meter;
/// let brief = PlateBrief::from_json(
///     r#"{"format": 1, "divisions": [4], "outline": {"disc": {"diameter": 100}},
///         "hole_diameter": 6, "least_web": 2, "least_edge_distance": 3}"#,
/// )?;
/// let plate = design(&brief, &mut Meter::default())?.into_pattern()?;
/// let text = plate_dxf(&plate, TableUnit::Millimetre);
/// assert!(text.starts_with("0\nSECTION\n") && text.ends_with("0\nEOF\n"));
/// # Ok::<(), dividing_core::Error>(())
/// ```
#[must_use]
pub fn plate_dxf(pattern: &Pattern, unit: TableUnit) -> String {
    let mut drawing = Writer {
        text: String::new(),
        mm_per_unit: unit.mm(),
    };
    let brief = &pattern.brief;
    drawing.head(pattern, unit);
    drawing.pair(0, "SECTION");
    drawing.pair(2, "ENTITIES");
    match brief.outline {
        Outline::Disc { diameter } => drawing.circle("OUTLINE", (0.0, 0.0), diameter.mm() / 2.0),
        Outline::Polygon { .. } => {
            let corners = corners_mm(&brief.outline);
            for (index, &from) in corners.iter().enumerate() {
                if let Some(&to) = corners.get((index + 1) % corners.len()) {
                    drawing.line("OUTLINE", from, to);
                }
            }
        }
    }
    if let Some(bore) = brief.bore {
        drawing.circle("BORE", (0.0, 0.0), bore.mm() / 2.0);
    }
    for (layer, circles) in [
        ("MOUNTING_HOLES", &brief.mounting_holes),
        ("KEEP_OUTS", &brief.keep_outs),
    ] {
        for circle in circles {
            drawing.circle(
                layer,
                (circle.x.mm(), circle.y.mm()),
                circle.diameter.mm() / 2.0,
            );
        }
    }
    let hole_radius_mm = brief.largest_hole_mm() / 2.0;
    for ring in &pattern.rings {
        drawing.circle("PITCH_CIRCLES", (0.0, 0.0), ring.radius_mm);
    }
    for (index, ring, hole) in pattern.holes() {
        let at = hole.position_mm(ring.radius_mm);
        drawing.circle(&ring_layer(index), at, hole_radius_mm);
        let label = hole_label(index, hole.number);
        drawing.centred_text("LABELS", at, hole_radius_mm * 0.6, &label);
    }
    if let Some(ring) = pattern.rings.first() {
        for station in &pattern.stations {
            let (sin, cos) = crate::pattern::result::sin_cos(station.angle);
            let at = (ring.radius_mm * cos, ring.radius_mm * sin);
            drawing.circle("STATIONS", at, hole_radius_mm);
        }
    }
    drawing.pair(0, "ENDSEC");
    drawing.pair(0, "EOF");
    drawing.text
}

fn ring_layer(index: usize) -> String {
    format!("RING_{}", ring_letter(index))
}

struct Writer {
    text: String,
    mm_per_unit: f64,
}

impl Writer {
    fn pair(&mut self, code: u16, value: &str) {
        self.text += &format!("{code}\n{value}\n");
    }

    fn real(&mut self, code: u16, mm: f64) {
        // Twelve digits keep a nanometre on a plate of any size; no sign on zero.
        let text = format!("{:.12}", mm / self.mm_per_unit);
        let zero = text.chars().all(|c| "-0.".contains(c));
        self.pair(code, if zero { "0.0" } else { &text });
    }

    fn head(&mut self, pattern: &Pattern, unit: TableUnit) {
        self.pair(0, "SECTION");
        self.pair(2, "HEADER");
        self.pair(9, "$ACADVER");
        self.pair(1, "AC1009");
        self.pair(9, "$INSUNITS");
        self.pair(
            70,
            match unit {
                TableUnit::Inch => "1",
                TableUnit::Millimetre => "4",
            },
        );
        self.pair(0, "ENDSEC");
        self.pair(0, "SECTION");
        self.pair(2, "TABLES");
        self.pair(0, "TABLE");
        self.pair(2, "LTYPE");
        self.pair(70, "1");
        self.pair(0, "LTYPE");
        self.pair(2, "CONTINUOUS");
        self.pair(70, "0");
        self.pair(3, "Solid line");
        self.pair(72, "65");
        self.pair(73, "0");
        self.pair(40, "0.0");
        self.pair(0, "ENDTAB");
        // Colours by number: 7 white or black, 8 grey, 1 red, 3 green, 5 blue.
        let mut layers: Vec<(String, &str)> = [
            ("OUTLINE", "7"),
            ("BORE", "7"),
            ("PITCH_CIRCLES", "8"),
            ("LABELS", "3"),
            ("MOUNTING_HOLES", "5"),
            ("KEEP_OUTS", "1"),
            ("STATIONS", "6"),
        ]
        .map(|(name, colour)| (name.to_owned(), colour))
        .to_vec();
        layers.extend((0..pattern.rings.len()).map(|index| (ring_layer(index), "7")));
        self.pair(0, "TABLE");
        self.pair(2, "LAYER");
        self.pair(70, &layers.len().to_string());
        for (name, colour) in layers {
            self.pair(0, "LAYER");
            self.pair(2, &name);
            self.pair(70, "0");
            self.pair(62, colour);
            self.pair(6, "CONTINUOUS");
        }
        self.pair(0, "ENDTAB");
        self.pair(0, "ENDSEC");
    }

    fn point(&mut self, first_code: u16, (x, y): (f64, f64)) {
        self.real(first_code, x);
        self.real(first_code + 10, y);
        self.pair(first_code + 20, "0.0");
    }

    fn circle(&mut self, layer: &str, centre: (f64, f64), radius_mm: f64) {
        self.pair(0, "CIRCLE");
        self.pair(8, layer);
        self.point(10, centre);
        self.real(40, radius_mm);
    }

    fn line(&mut self, layer: &str, from: (f64, f64), to: (f64, f64)) {
        self.pair(0, "LINE");
        self.pair(8, layer);
        self.point(10, from);
        self.point(11, to);
    }

    fn centred_text(&mut self, layer: &str, at: (f64, f64), height_mm: f64, text: &str) {
        self.pair(0, "TEXT");
        self.pair(8, layer);
        self.point(10, at);
        self.real(40, height_mm);
        self.pair(1, text);
        self.pair(72, "1");
        self.pair(73, "2");
        self.point(11, at);
    }
}
