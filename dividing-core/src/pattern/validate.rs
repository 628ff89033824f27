//! Bounds of a brief, each with an error that names the field.

use super::brief::{Circle, Outline, PATTERN_FORMAT, PlateBrief, PlateUse};
use crate::angle::Angle;
use crate::error::{AtField, Error, ErrorKind, Result};

/// Largest division of a brief.
pub const MAX_DIVISION: u64 = 100_000;

/// Most wishes of each kind in a brief.
pub const MAX_WISHES: usize = 256;

/// Most single angles of a brief, lists included.
pub const MAX_ANGLES: usize = 1024;

/// Largest denominator, in turns, of a single angle of a brief.
pub const MAX_ANGLE_DENOMINATOR: i128 = 1_000_000_000;

/// Most keep-out circles and mounting holes each.
const MAX_CIRCLES: usize = 1000;

impl PlateBrief {
    /// Checks every field against its bounds and the fields against each other.
    ///
    /// # Errors
    /// [`ErrorKind::UnknownFormat`], [`ErrorKind::EmptyList`],
    /// [`ErrorKind::OutOfRange`], [`ErrorKind::Duplicate`] or
    /// [`ErrorKind::Inconsistent`], with the path of the field.
    pub fn check(&self) -> Result<()> {
        if self.format != PATTERN_FORMAT {
            return Err(Error::new(
                ErrorKind::UnknownFormat,
                format!("{} is not known; accepted: {PATTERN_FORMAT}", self.format),
            )
            .at("format"));
        }
        self.check_sizes()?;
        self.check_wishes()?;
        self.check_circles()?;
        self.check_rings()
    }

    fn check_sizes(&self) -> Result<()> {
        match self.outline {
            Outline::Disc { diameter } => diameter.check_positive().at("outline.disc.diameter")?,
            Outline::Polygon {
                faces,
                across_flats,
            } => {
                if !(3..=100).contains(&faces) {
                    return Err(Error::out_of_range(faces, "3 to 100").at("outline.polygon.faces"));
                }
                across_flats
                    .check_positive()
                    .at("outline.polygon.across_flats")?;
            }
        }
        self.check_pin_and_holes()?;
        self.least_web.check_not_negative().at("least_web")?;
        self.least_edge_distance
            .check_not_negative()
            .at("least_edge_distance")?;
        for (field, length) in [
            ("least_bore_edge_distance", self.least_bore_edge_distance),
            ("hole_position_tolerance", self.hole_position_tolerance),
        ] {
            if let Some(length) = length {
                length.check_not_negative().at(field)?;
            }
        }
        let across = 2.0 * self.outline.inner_radius_mm();
        if self.largest_hole_mm() >= across {
            let field = if self.fit.is_some() {
                "fit"
            } else {
                "hole_diameter"
            };
            return Err(Error::out_of_range(
                format!("a hole of {} mm", self.largest_hole_mm()),
                format!("less than the outline, {across} mm"),
            )
            .at(field));
        }
        if let Some(bore) = self.bore {
            bore.check_positive().at("bore")?;
            if bore.mm() >= across {
                return Err(Error::new(
                    ErrorKind::Inconsistent,
                    format!(
                        "a bore of {bore} leaves nothing of a plate {across} mm across; accepted: less than {across} mm"
                    ),
                )
                .at("bore"));
            }
        }
        if let PlateUse::Pins {
            part_diameter: Some(part),
            ..
        } = self.usage
        {
            part.check_positive().at("use.pins.part_diameter")?;
        }
        if self.most_rings == Some(0) {
            return Err(Error::out_of_range(0, "1 or more").at("most_rings"));
        }
        Ok(())
    }

    fn check_wishes(&self) -> Result<()> {
        let none = self.divisions.is_empty()
            && self.angles.is_empty()
            && self.lists.is_empty()
            && self.rings.iter().all(|ring| ring.divisions.is_empty());
        if none {
            return Err(Error::new(
                ErrorKind::EmptyList,
                "nothing is wanted; name at least one division, angle or list",
            )
            .at("divisions"));
        }
        for (field, count) in [
            ("divisions", self.divisions.len()),
            ("angles", self.angles.len()),
            ("lists", self.lists.len()),
            ("rings", self.rings.len()),
        ] {
            if count > MAX_WISHES {
                return Err(Error::out_of_range(
                    format!("{count} entries"),
                    format!("at most {MAX_WISHES}"),
                )
                .at(field));
            }
        }
        for (index, wish) in self.divisions.iter().enumerate() {
            let here = format!("divisions[{index}]");
            check_division(wish.division).at("division").at(&here)?;
            check_tolerance(wish.tolerance).at(&here)?;
        }
        for (index, wish) in self.angles.iter().enumerate() {
            let here = format!("angles[{index}]");
            check_angle(wish.angle).at("angle").at(&here)?;
            check_tolerance(wish.tolerance).at(&here)?;
        }
        for (index, list) in self.lists.iter().enumerate() {
            let here = format!("lists[{index}]");
            if list.angles.is_empty() {
                return Err(Error::new(
                    ErrorKind::EmptyList,
                    "a list without angles; name at least one",
                )
                .at("angles")
                .at(&here));
            }
            if list.angles.len() > MAX_WISHES {
                return Err(Error::out_of_range(
                    format!("{} angles", list.angles.len()),
                    format!("at most {MAX_WISHES}"),
                )
                .at("angles")
                .at(&here));
            }
            for (k, &angle) in list.angles.iter().enumerate() {
                check_angle(angle).at(format!("angles[{k}]")).at(&here)?;
            }
            check_tolerance(list.tolerance).at(&here)?;
        }
        let angles: usize = self.lists.iter().map(|list| list.angles.len()).sum();
        if angles + self.angles.len() > MAX_ANGLES {
            return Err(Error::out_of_range(
                format!("{} angles in all", angles + self.angles.len()),
                format!("at most {MAX_ANGLES}"),
            )
            .at("lists"));
        }
        Ok(())
    }

    fn check_circles(&self) -> Result<()> {
        for (field, circles) in [
            ("keep_outs", &self.keep_outs),
            ("mounting_holes", &self.mounting_holes),
        ] {
            if circles.len() > MAX_CIRCLES {
                return Err(Error::out_of_range(
                    format!("{} circles", circles.len()),
                    format!("at most {MAX_CIRCLES}"),
                )
                .at(field));
            }
            for (index, Circle { diameter, .. }) in circles.iter().enumerate() {
                diameter
                    .check_positive()
                    .at(format!("{field}[{index}].diameter"))?;
            }
        }
        Ok(())
    }

    fn check_rings(&self) -> Result<()> {
        for (index, ring) in self.rings.iter().enumerate() {
            let here = format!("rings[{index}]");
            if ring.radius.is_none() && ring.divisions.is_empty() {
                return Err(Error::new(
                    ErrorKind::Inconsistent,
                    "a fixed ring needs a radius or divisions, or both",
                )
                .at(&here));
            }
            if let Some(radius) = ring.radius {
                radius.check_positive().at("radius").at(&here)?;
            }
            if let Some(phase) = ring.phase {
                check_angle(phase).at("phase").at(&here)?;
            }
            if ring.divisions.len() > MAX_WISHES {
                return Err(Error::out_of_range(
                    format!("{} divisions", ring.divisions.len()),
                    format!("at most {MAX_WISHES}"),
                )
                .at("divisions")
                .at(&here));
            }
            for (k, &division) in ring.divisions.iter().enumerate() {
                check_division(division)
                    .at(format!("divisions[{k}]"))
                    .at(&here)?;
            }
        }
        if matches!(self.usage, PlateUse::VernierPair) && !self.rings.is_empty() {
            return Err(Error::new(
                ErrorKind::Inconsistent,
                "a vernier pair has one ring, as far out as it can stand; leave the list empty",
            )
            .at("rings"));
        }
        Ok(())
    }
}

fn check_division(division: u64) -> Result<()> {
    if (2..=MAX_DIVISION).contains(&division) {
        Ok(())
    } else {
        Err(Error::out_of_range(
            division,
            format!("2 to {MAX_DIVISION} divisions"),
        ))
    }
}

fn check_angle(angle: Angle) -> Result<()> {
    if angle.denominator() > MAX_ANGLE_DENOMINATOR {
        return Err(Error::out_of_range(
            format!("{angle} with a denominator of {}", angle.denominator()),
            format!(
                "fractions of a turn with denominators up to {MAX_ANGLE_DENOMINATOR}; round the angle"
            ),
        ));
    }
    Ok(())
}

fn check_tolerance(tolerance: Option<Angle>) -> Result<()> {
    match tolerance {
        Some(angle) if angle.numerator() <= 0 => {
            Err(Error::out_of_range(angle, "greater than 0").at("tolerance"))
        }
        _ => Ok(()),
    }
}
