//! The plate as equipment.

use super::brief::{PlateBrief, PlateUse};
use super::result::{Pattern, Ring};
use crate::angle::Angle;
use crate::equipment::{
    DirectPlate, Equipment, FacedBlock, HoleCircle, IndexPlate, MAX_HOLES, PinPlate, PlateCircle,
    Sense, VernierIndexer, WormHead,
};
use crate::error::{AtField, Error, ErrorKind, Result};
use crate::length::Length;

impl Pattern {
    /// The plate as equipment for a workshop, under a name.
    ///
    /// A plunger plate is a direct plate, a plate for pins a pin plate, a
    /// vernier pair an indexer, and a plate for a worm head such a head with
    /// this one plate; its `worm_error` is the shop's to add. A ring that holds
    /// only part of its places says which are absent; on a worm head every
    /// circle of a ring is listed by itself, and a ring with single holes besides
    /// as a circle that lacks the others, used by simple indexing. A polygon on a plunger adds its
    /// faces as a block; their error is the shop's to add. Pin and holes register as
    /// the brief says, if it gives the hole-position tolerance and pin or fit.
    ///
    /// Holes and stations have the angles of the pattern, exactly, counted
    /// counter-clockwise on the drilled side, which faces the cutter.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] with the path of a ring of more than 100,000
    /// places, [`ErrorKind::Inconsistent`] for a plate that has no holes; those of [`Pattern::check_sizes`] and of
    /// the equipment.
    ///
    /// ```
    /// use dividing_core::pattern::{PlateBrief, design};
    /// use dividing_core::work::Meter;
    /// use dividing_core::{Job, Workshop, plan_job};
    /// let brief = PlateBrief::from_json(
    ///     r#"{"format": 1, "divisions": [5, 8, 12], "outline": {"disc": {"diameter": 100}},
    ///         "fit": "6 mm H7/g6", "hole_position_tolerance": "0.02 mm",
    ///         "least_web": 2, "least_edge_distance": 3}"#,
    /// )?;
    /// let plate = design(&brief, &mut Meter::default())?.into_pattern()?;
    /// let shop = Workshop::new("bench", plate.equipment("new plate")?)?;
    /// let job = Job::from_json(
    ///     r#"{"format": 1, "name": "twelve", "features": {"equal_divisions": {"count": 12}}}"#,
    /// )?;
    /// assert!(plan_job(&shop, &job)?.plans()[0].exact);
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    pub fn equipment(&self, name: &str) -> Result<Vec<Equipment>> {
        self.check_sizes()?;
        let brief = &self.brief;
        let registration = brief.pin_in_hole().at("brief")?;
        let mut all = Vec::new();
        match (&brief.usage, self.rings.first()) {
            (PlateUse::WormHead { ratio }, Some(_)) => {
                all.push(Equipment::WormHead(WormHead {
                    name: name.to_owned(),
                    worm_ratio: *ratio,
                    change_gears: None,
                    plates: vec![IndexPlate {
                        name: name.to_owned(),
                        circles: self.crank_circles()?,
                        back_circles: Vec::new(),
                    }],
                    registration,
                    smallest_pitch_radius: None,
                    worm_error: None,
                    backlash: None,
                    sense: Sense::CounterClockwise,
                }));
            }
            (PlateUse::Plunger, Some(_)) => all.push(Equipment::DirectPlate(DirectPlate {
                name: name.to_owned(),
                circles: self.hole_circles()?,
                station: Angle::ZERO,
                sense: Sense::CounterClockwise,
                registration,
                eccentricity: Length::ZERO,
                bore_clearance: Length::ZERO,
            })),
            (PlateUse::Pins { .. }, Some(_)) => all.push(Equipment::PinPlate(PinPlate {
                name: name.to_owned(),
                circles: self.hole_circles()?,
                registration,
                ..bare_pin_plate(brief)
            })),
            (PlateUse::VernierPair, Some(ring)) => {
                all.push(Equipment::VernierIndexer(VernierIndexer {
                    name: name.to_owned(),
                    circle: hole_circle(ring).at("rings[0]")?,
                    stations: self.stations.iter().map(|it| it.angle).collect(),
                    sense: Sense::CounterClockwise,
                    registration,
                    station_hole_diameter: None,
                    station_position_tolerance: None,
                    measured_stations: None,
                }));
            }
            (_, None) => {}
        }
        if let (PlateUse::Plunger, Some(faces)) = (&brief.usage, brief.outline.faces()) {
            all.push(Equipment::FacedBlock(FacedBlock {
                name: format!("{name}, faces"),
                faces,
                face_error: None,
                seat_error: Angle::ZERO,
            }));
        }
        if all.is_empty() {
            return Err(Error::new(
                ErrorKind::Inconsistent,
                "the plate has no holes, since whole turns of the crank serve every wish; \
                 use any plate of the head",
            )
            .at("rings"));
        }
        for piece in &all {
            piece.check()?;
        }
        Ok(all)
    }

    fn hole_circles(&self) -> Result<Vec<HoleCircle>> {
        self.rings
            .iter()
            .enumerate()
            .map(|(index, ring)| hole_circle(ring).at(format!("rings[{index}]")))
            .collect()
    }

    /// Every whole circle of every ring, the outer one where two are alike, and
    /// every ring with single holes as a circle that lacks the others.
    fn crank_circles(&self) -> Result<Vec<PlateCircle>> {
        let mut circles: Vec<PlateCircle> = Vec::new();
        for (index, ring) in self.rings.iter().enumerate() {
            let here = format!("rings[{index}]");
            let radius = Length::from_mm(ring.radius_mm).at("radius_mm").at(&here)?;
            for &n in &ring.divisions {
                let holes = u32::try_from(n)
                    .ok()
                    .filter(|&n| n <= MAX_HOLES)
                    .ok_or_else(|| {
                        Error::out_of_range(format!("{n} holes"), format!("2 to {MAX_HOLES} holes"))
                            .at(&here)
                    })?;
                if circles.iter().all(|circle| circle.holes != holes) {
                    circles.push(PlateCircle {
                        holes,
                        pitch_radius: Some(radius),
                        measured: None,
                        absent: Vec::new(),
                    });
                }
            }
            if ring.has_single_holes()? {
                let some = hole_circle(ring).at(&here)?;
                circles.push(PlateCircle {
                    holes: some.holes,
                    pitch_radius: some.pitch_radius,
                    measured: None,
                    absent: some.absent,
                });
            }
        }
        Ok(circles)
    }
}

/// Whether a ring has more places than a circle of a workshop may have.
pub(super) fn is_too_fine(ring: &Ring) -> bool {
    ring.places
        .is_none_or(|places| places > u64::from(MAX_HOLES))
}

/// A ring as equipment counts it: places, and which of them are absent.
fn hole_circle(ring: &Ring) -> Result<HoleCircle> {
    let places = ring
        .places
        .and_then(|places| u32::try_from(places).ok())
        .filter(|&places| places <= MAX_HOLES)
        .ok_or_else(|| {
            let places = ring
                .places
                .map_or_else(|| "more than 2^63".to_owned(), |places| places.to_string());
            Error::out_of_range(
                format!("a circle of {places} places, which its angles need,"),
                format!(
                    "at most {MAX_HOLES} places; round the angles (whole steps of 0.01° or of 30\" \
                     mostly do) or list fewer on one ring"
                ),
            )
        })?;
    let mut drilled = vec![false; places as usize];
    for hole in &ring.holes {
        // The document may come from outside: places count from the angles.
        let turns = hole.angle.checked_sub(ring.phase)?.within_turn();
        let place = turns.checked_mul(i128::from(places))?;
        let here = usize::try_from(place.numerator())
            .ok()
            .filter(|_| place.denominator() == 1)
            .and_then(|place| drilled.get_mut(place))
            .ok_or_else(|| {
                Error::new(
                    ErrorKind::Inconsistent,
                    format!(
                        "hole {} at {} stands on none of the {places} places",
                        hole.number, hole.angle
                    ),
                )
            })?;
        *here = true;
    }
    Ok(HoleCircle {
        measured: None,
        holes: places,
        pitch_radius: Some(Length::from_mm(ring.radius_mm)?),
        first_hole: ring.phase,
        absent: (0..places)
            .zip(&drilled)
            .filter(|&(_, &drilled)| !drilled)
            .map(|(place, _)| place)
            .collect(),
    })
}

/// A pin plate as the brief uses it, without its rings.
pub(crate) fn bare_pin_plate(brief: &PlateBrief) -> PinPlate {
    PinPlate {
        name: String::new(),
        circles: Vec::new(),
        sense: Sense::CounterClockwise,
        bar_turns_over: true,
        square: matches!(brief.usage, PlateUse::Pins { square: true, .. }),
        across_rings: false,
        registration: None,
        pin_hold: brief.pin_hold(),
        bar_straightness: Length::ZERO,
        levelling: None,
        square_error: Angle::ZERO,
    }
}
