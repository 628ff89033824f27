//! What faced blocks hold, flat and in a V-block.

use super::orientation_set::OrientationSet;
use super::setting::Setting;
use super::way::{Way, WayKind, WayMaker, index_of};
use crate::angle::Angle;
use crate::equipment::{Equipment, FacedBlock, VeeBlock, Workshop};
use crate::error::Result;

/// How a block lies in a V-block.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum VeeSeat {
    /// Both flanks touch a face each, so many face steps apart. An odd number
    /// adds the half step, an even one adds nothing to what the block holds flat.
    Seats {
        /// Face steps between the touching faces.
        steps_between: u32,
    },
    /// No two faces fit the flanks. The block can still rest with one face flat
    /// on a flank, which feels firm and is wrong.
    FalseRest {
        /// How far from true it then lies.
        off_by: Angle,
    },
}

/// Whether a block with equal faces seats in a V-block of an included angle α.
///
/// The flanks' normals stand 180° − α apart, so the block seats only when
/// `(180° − α)·faces/360°` is a whole number (plane geometry of a polygon
/// between two lines).
///
/// # Errors
/// Overflow when an angle does not fit.
///
/// ```
/// use dividing_core::Angle;
/// use dividing_core::reach::{VeeSeat, vee_seat};
/// let right = Angle::QUARTER_TURN;
/// assert_eq!(vee_seat(4, right)?, VeeSeat::Seats { steps_between: 1 });
/// // A hexagon in a 90° V-block rests 15° from true.
/// assert_eq!(vee_seat(6, right)?, VeeSeat::FalseRest { off_by: Angle::from_degrees(15, 1)? });
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn vee_seat(faces: u32, included_angle: Angle) -> Result<VeeSeat> {
    let between = Angle::HALF_TURN.checked_sub(included_angle)?;
    let steps = between.checked_mul(i128::from(faces))?;
    if steps.denominator() == 1
        && let Ok(steps_between @ 1..) = u32::try_from(steps.numerator())
    {
        return Ok(VeeSeat::Seats { steps_between });
    }
    // With one face flat on a flank the block stands half `between` from the
    // upright; true positions are the multiples of half a face step.
    let half_steps = i128::from(faces) * 2;
    let stands = between.checked_div(2)?.checked_mul(half_steps)?;
    let off_by = stands.within_half_turn().abs().checked_div(half_steps)?;
    Ok(VeeSeat::FalseRest { off_by })
}

/// The V-blocks of a workshop, by their place in it.
pub(crate) fn vee_blocks(workshop: &Workshop) -> impl Iterator<Item = (usize, &VeeBlock)> {
    workshop
        .equipment()
        .iter()
        .enumerate()
        .filter_map(|(index, equipment)| match equipment {
            Equipment::VeeBlock(vee) => Some((index, vee)),
            _ => None,
        })
}

pub(super) fn ways(
    block: &FacedBlock,
    workshop: &Workshop,
    maker: WayMaker,
    all: &mut Vec<Way>,
) -> Result<()> {
    let faces = i128::from(block.faces);
    let flat = OrientationSet::equally_spaced(faces)?;
    all.push(maker.way(WayKind::BlockFlat, flat, Angle::ZERO, faces));
    for (vee_block, vee) in vee_blocks(workshop) {
        if let VeeSeat::Seats { steps_between } = vee_seat(block.faces, vee.included_angle)?
            && steps_between % 2 == 1
        {
            let both = OrientationSet::equally_spaced(faces * 2)?;
            let kind = WayKind::BlockFlatAndVee {
                vee_block,
                steps_between,
            };
            all.push(maker.way(kind, both, Angle::ZERO, faces * 2));
        }
    }
    Ok(())
}

pub(super) fn face_down(block: &FacedBlock, presented: Angle) -> Result<Option<Setting>> {
    let face = index_of(presented, block.faces)?;
    Ok(face.map(|face| Setting::FaceDown { face }))
}

/// With faces f and f + j on the flanks the direction midway between them
/// points down: the block presents `(f + j/2)/faces`.
pub(super) fn faces_in_vee(
    block: &FacedBlock,
    steps_between: u32,
    presented: Angle,
) -> Result<Option<Setting>> {
    let half = Angle::new(i128::from(steps_between), i128::from(block.faces) * 2)?;
    let left = index_of(presented.checked_sub(half)?, block.faces)?;
    Ok(left.map(|left_face| Setting::FacesInVee {
        left_face,
        right_face: (left_face + steps_between) % block.faces,
    }))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Presses a regular polygon into a V as a body would settle: the flanks
    /// are lines whose outward normals (seen from the block) point down left and
    /// down right; the block seats when a face normal equals each of them.
    fn seats_by_geometry(faces: u32, included_deg: f64) -> bool {
        let step = 360.0 / f64::from(faces);
        let spread = 180.0 - included_deg;
        let steps = spread / step;
        (steps - steps.round()).abs() < 1e-9 && steps.round() >= 1.0
    }

    #[test]
    fn seats_agree_with_face_normals() {
        for faces in 3..=40 {
            for included in 1..180 {
                let angle = Angle::from_degrees(included, 1).unwrap();
                let seats = matches!(vee_seat(faces, angle).unwrap(), VeeSeat::Seats { .. });
                assert_eq!(
                    seats,
                    seats_by_geometry(faces, included as f64),
                    "{faces} {included}"
                );
            }
        }
    }

    #[test]
    fn common_practice_seats() {
        // Common practice, no published source: square in 90°, hexagon in 120°.
        let seat = |faces, deg| vee_seat(faces, Angle::from_degrees(deg, 1).unwrap()).unwrap();
        assert_eq!(seat(4, 90), VeeSeat::Seats { steps_between: 1 });
        assert_eq!(seat(6, 120), VeeSeat::Seats { steps_between: 1 });
        assert_eq!(seat(6, 60), VeeSeat::Seats { steps_between: 2 });
        assert_eq!(seat(12, 90), VeeSeat::Seats { steps_between: 3 });
        assert!(matches!(seat(6, 90), VeeSeat::FalseRest { .. }));
    }
}
