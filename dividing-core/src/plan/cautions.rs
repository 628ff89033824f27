//! Cautions that belong on every sheet, and those of one kind of equipment.

use crate::equipment::Equipment;
use crate::reach::{Method, WayKind};

/// The cautions for a set-up, the common ones last.
pub(super) fn cautions(equipment: &Equipment, way: WayKind) -> Vec<String> {
    let own: &[&str] = match equipment {
        Equipment::FacedBlock(_) => &[
            "Clean block, vise and V before every clamping; a chip under a face is an angle error.",
            "After clamping try a feeler at both faces that should touch; neither may let it in.",
        ],
        Equipment::PinPlate(_) => &[
            "Fit only the two pins in use, or check that no other pin touches the bar.",
            "Check that the bar clears the part and everything that stands out of the plate.",
            "Level bar and pins only locate: clamp the part, then take the bar away before cutting.",
            "Adhesive and tape locate a plate but do not hold it against cutting loads.",
        ],
        Equipment::WormHead(_) | Equipment::GraduatedDial(_) => &[
            "Always come to a setting from the same side; if you pass it, go back well beyond and come again.",
            "Release the spindle lock before turning and lock it again before cutting.",
        ],
        Equipment::SineBar(_) | Equipment::AngleBlocks(_) => &[
            "Wipe and wring the blocks one by one, let them come to the temperature of the shop, and never slide a gritty face.",
            "Blocks and bar only set the angle: clamp the work to something solid before cutting, and keep coolant off them.",
            "Do not leave a tilted bar standing free; a steep one tips over.",
        ],
        Equipment::Protractor(_) => &[
            "Clamp the part at the reading, then read again: clamping turns it.",
            "Take the instrument off before the spindle starts.",
        ],
        Equipment::PartReference(_) => &[
            "Remove burrs and chips before the part goes to its stop; press it there the same way every time.",
            "The stop only locates: clamp before cutting.",
        ],
        Equipment::Stack(_) => &[
            "Check every clamped joint between the members by hand and with an indicator; any of them that slips spoils the angle.",
            "Set every member that a row lists, also those that stay as they were.",
        ],
        _ => &[
            "Seat the pin fully, let it down gently, and lock the spindle before cutting.",
            "Plug, tape or mark every hole that is not used, so that the pin cannot find it.",
        ],
    };
    const COMMON: [&str; 6] = [
        "Switch the spindle off and isolate it before changing a set-up or measuring.",
        "Clamp so that a slip of one part cannot free the work; the pin is not a clamp.",
        "Check that cutter, arbor and spindle clear clamps, plate, head and vise at every setting.",
        "Remove keys, handles and indicators before starting; never reach near a turning cutter.",
        "Guards in place, eye protection on, no loose sleeves or gloves at a turning spindle.",
        "The machine maker's instructions and local rules stand above this sheet.",
    ];
    let of_method: &[&str] = match way.method() {
        Method::Differential => &[
            "Isolate the machine before meshing gears; fit the gear guard and keep fingers, cloth and sleeves away when the crank turns.",
            "Release the spindle lock before every move: a locked spindle strains the gears.",
        ],
        Method::Compound => &[
            "One wrong hole spoils the rest of the turn: check the holes of both pins against the row before every cut.",
        ],
        Method::Usual => &[],
    };
    of_method
        .iter()
        .chain(own)
        .chain(&COMMON)
        .map(|line| (*line).into())
        .collect()
}
