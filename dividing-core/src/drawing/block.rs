//! Faced blocks: the polygon with its faces numbered, the used ones marked, and
//! the V it lies in.

use std::collections::BTreeSet;
use std::f64::consts::{PI, TAU};

use super::canvas::{Canvas, GREY, INK};
use crate::equipment::{Equipment, FacedBlock, Workshop};
use crate::plan::Plan;
use crate::reach::{Setting, WayKind};

/// Radius of the inscribed circle in the picture, in millimetres.
const INSIDE_MM: f64 = 22.0;

pub(super) fn block(title: &str, workshop: &Workshop, block: &FacedBlock, plan: &Plan) -> String {
    let vee_seat = match plan.way {
        WayKind::BlockFlatAndVee {
            vee_block,
            steps_between,
        } => match workshop.equipment().get(vee_block) {
            Some(Equipment::VeeBlock(vee)) => Some((
                vee.included_angle.to_degrees_f64(),
                f64::from(steps_between),
            )),
            _ => None,
        },
        _ => None,
    };
    let caption = "seen from the side of the cutter; face numbers in use dark; not to scale";
    let mut canvas = Canvas::new(title, caption, if vee_seat.is_some() { 68.0 } else { 42.0 });
    let mut flat_faces = BTreeSet::new();
    let mut vee_faces = BTreeSet::new();
    for placement in &plan.placements {
        match placement.setting {
            Setting::FaceDown { face } => {
                flat_faces.insert(face);
            }
            Setting::FacesInVee {
                left_face,
                right_face,
            } => {
                vee_faces.extend([left_face, right_face]);
            }
            _ => {}
        }
    }
    match vee_seat {
        None => draw(&mut canvas, block.faces, 0.0, -PI / 2.0, &flat_faces),
        Some((included_deg, steps_between)) => {
            draw(&mut canvas, block.faces, -30.0, -PI / 2.0, &flat_faces);
            canvas.line((-58.0, -INSIDE_MM), (-2.0, -INSIDE_MM), INK, 0.8);
            canvas.text_at("flat", -30.0, -INSIDE_MM - 6.0, 3.5, INK);
            let half_step = PI / f64::from(block.faces);
            draw(
                &mut canvas,
                block.faces,
                30.0,
                -PI / 2.0 - half_step * steps_between,
                &vee_faces,
            );
            draw_vee(&mut canvas, 30.0, included_deg.to_radians());
            canvas.text_at("in the V", 30.0, -INSIDE_MM - 22.0, 3.5, INK);
        }
    }
    canvas.finish()
}

/// A polygon with face 0 at a direction, about a middle on the X axis.
fn draw(canvas: &mut Canvas, faces: u32, middle_mm: f64, face_zero_rad: f64, used: &BTreeSet<u32>) {
    /// Most faces with a number each.
    const MOST_NUMBERED: u32 = 36;
    let step = TAU / f64::from(faces);
    let corner_mm = INSIDE_MM / (step / 2.0).cos();
    let corners: Vec<(f64, f64)> = (0..faces)
        .map(|face| {
            let at = face_zero_rad + step * (f64::from(face) + 0.5);
            (middle_mm + corner_mm * at.cos(), corner_mm * at.sin())
        })
        .collect();
    canvas.polygon(&corners, INK);
    canvas.circle(middle_mm, 0.0, 8.0, "none", GREY);
    for face in (0..faces).take_while(|_| faces <= MOST_NUMBERED) {
        let at = face_zero_rad + step * f64::from(face);
        let radius_mm = INSIDE_MM * 0.82;
        let ink = if used.contains(&face) { INK } else { GREY };
        canvas.text_at(
            &face.to_string(),
            middle_mm + radius_mm * at.cos(),
            radius_mm * at.sin(),
            3.5,
            ink,
        );
    }
}

/// The flanks of a V, touching the inscribed circle.
fn draw_vee(canvas: &mut Canvas, middle_mm: f64, included_rad: f64) {
    let half = included_rad / 2.0;
    let bottom = -INSIDE_MM / half.sin();
    let length_mm = 46.0;
    for side in [-1.0, 1.0] {
        let top = (
            middle_mm + side * length_mm * half.sin(),
            bottom + length_mm * half.cos(),
        );
        canvas.line((middle_mm, bottom), top, INK, 0.8);
    }
}
