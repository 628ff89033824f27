//! The equipment a shop owns: what each piece can hold and how it registers.
//!
//! The types here are plain data, as written in documents. A [`Workshop`] is
//! the checked whole: it can only be made from equipment that makes sense, and
//! every question starts from one.

mod blocks;
mod change_gears;
mod circle;
mod direct_plate;
mod drilled;
mod measured;
mod measured_covariance;
mod part_reference;
mod pin_plate;
mod protractor;
mod registration;
mod sine_bar;
mod stack;
mod vernier_indexer;
mod workshop;
mod worm;

pub use blocks::{FacedBlock, MAX_FACES, VeeBlock};
pub use change_gears::{ChangeGears, IdlerConvention, MAX_FIXED_GEARING};
pub use circle::{HoleCircle, MAX_HOLES, Sense};
pub use direct_plate::DirectPlate;
pub use drilled::{Drilled, DrilledByCoordinates, DrilledOnHead};
pub use measured::{InterpolatedDeviation, MAX_MEASURED_PLACES, MeasuredPlace, MeasuredRing};
pub use measured_covariance::{MAX_COVARIANCE_PLACES, MeasuredCovariance};
pub use part_reference::{
    DrilledHole, FlatAgainstBlock, MAX_STOPS, PartReference, ReferenceContact, ReferenceFrom,
};
pub use pin_plate::{Levelling, PinHold, PinPlate};
pub use protractor::{MAX_PROTRACTOR_PARTS, Protractor};
pub use registration::{PinInHole, Seating};
pub use sine_bar::{
    AngleBlocks, MAX_SINE_BAR_MM, MAX_STACK_BLOCKS, OwnedAngleBlocks, OwnedBlocks, SineBar,
};
pub use stack::{MAX_STACK_MEMBERS, Stack};
pub use vernier_indexer::{MAX_STATIONS, VernierIndexer};
pub use workshop::{MAX_EQUIPMENT, Workshop};
pub use worm::{GraduatedDial, IndexPlate, MAX_WORM_RATIO, PlateCircle, WormHead, WormRatio};

pub(crate) use blocks::check_error_angle;
#[cfg(feature = "schema")]
pub(crate) use workshop::WorkshopDocument;

use serde::{Deserialize, Serialize};

use crate::error::{AtField, Result};

/// One piece of equipment.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub enum Equipment {
    /// A plate on the spindle with a plunger.
    DirectPlate(DirectPlate),
    /// A circle of holes with several stations for the pin.
    VernierIndexer(VernierIndexer),
    /// A square, hexagon or other block with equal faces.
    FacedBlock(FacedBlock),
    /// A V-block to lay faced blocks in.
    VeeBlock(VeeBlock),
    /// A plate with pins for a levelled bar.
    PinPlate(PinPlate),
    /// A worm head with a crank and plates.
    WormHead(WormHead),
    /// A rotary table or head with a graduated dial.
    GraduatedDial(GraduatedDial),
    /// A sine bar, plate or table with gauge blocks.
    SineBar(SineBar),
    /// Angle gauge blocks.
    AngleBlocks(AngleBlocks),
    /// A level, clinometer or protractor.
    Protractor(Protractor),
    /// A hole or flat that the part already has, against a stop.
    PartReference(PartReference),
    /// One device held on another.
    Stack(Stack),
}

impl Equipment {
    /// What the shop calls it.
    #[must_use]
    pub fn name(&self) -> &str {
        match self {
            Self::DirectPlate(it) => &it.name,
            Self::VernierIndexer(it) => &it.name,
            Self::FacedBlock(it) => &it.name,
            Self::VeeBlock(it) => &it.name,
            Self::PinPlate(it) => &it.name,
            Self::WormHead(it) => &it.name,
            Self::GraduatedDial(it) => &it.name,
            Self::SineBar(it) => &it.name,
            Self::AngleBlocks(it) => &it.name,
            Self::Protractor(it) => &it.name,
            Self::PartReference(it) => &it.name,
            Self::Stack(it) => &it.name,
        }
    }

    /// The kind, as written in documents.
    #[must_use]
    pub const fn kind(&self) -> &'static str {
        match self {
            Self::DirectPlate(_) => "direct_plate",
            Self::VernierIndexer(_) => "vernier_indexer",
            Self::FacedBlock(_) => "faced_block",
            Self::VeeBlock(_) => "vee_block",
            Self::PinPlate(_) => "pin_plate",
            Self::WormHead(_) => "worm_head",
            Self::GraduatedDial(_) => "graduated_dial",
            Self::SineBar(_) => "sine_bar",
            Self::AngleBlocks(_) => "angle_blocks",
            Self::Protractor(_) => "protractor",
            Self::PartReference(_) => "part_reference",
            Self::Stack(_) => "stack",
        }
    }

    /// The way in which its holes, faces or graduations are numbered; a worm
    /// head counts on as the crank brings up growing drawing angles.
    #[must_use]
    pub const fn numbering(&self) -> Sense {
        match self {
            Self::DirectPlate(it) => it.sense,
            Self::VernierIndexer(it) => it.sense,
            Self::PinPlate(it) => it.sense,
            Self::GraduatedDial(it) => it.sense,
            _ => Sense::CounterClockwise,
        }
    }

    /// Refuses equipment that does not make sense; the error names the field.
    pub(crate) fn check(&self) -> Result<()> {
        match self {
            Self::DirectPlate(it) => it.check(),
            Self::VernierIndexer(it) => it.check(),
            Self::FacedBlock(it) => it.check(),
            Self::VeeBlock(it) => it.check(),
            Self::PinPlate(it) => it.check(),
            Self::WormHead(it) => it.check(),
            Self::GraduatedDial(it) => it.check(),
            Self::SineBar(it) => it.check(),
            Self::AngleBlocks(it) => it.check(),
            Self::Protractor(it) => it.check(),
            Self::PartReference(it) => it.check(),
            Self::Stack(it) => it.check(),
        }
        .at(self.kind())
    }
}
