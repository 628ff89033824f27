//! What an inspection noticed besides its figures.

use std::fmt;

use serde::Serialize;

/// Which way a place stands out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum Direction {
    /// Along the circle.
    Angle,
    /// Across the circle.
    Radius,
}

/// Something the reader of a result should know.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub enum Finding {
    /// A place stands out from the others: modified z-score above 3.5
    /// (Iglewicz and Hoaglin, *How to Detect and Handle Outliers*, 1993, as in
    /// the NIST/SEMATECH e-Handbook, 1.3.5.17).
    Outlier {
        /// Number of the place.
        place: usize,
        /// Its modified z-score, without sign.
        score: f64,
        /// Which way it stands out.
        direction: Direction,
    },
    /// Places that were not measured.
    Missing {
        /// Their numbers.
        places: Vec<usize>,
    },
    /// No uncertainty was stated, so the deviations carry none.
    NoUncertainty,
    /// With so few places the fit takes up every deviation.
    NoRedundancy {
        /// Places measured.
        measured: usize,
    },
    /// The eccentricity is less than twice its uncertainty: its direction means
    /// little.
    DirectionUncertain {
        /// Eccentricity in millimetres.
        eccentricity_mm: f64,
        /// Its standard uncertainty in millimetres.
        uncertainty_mm: f64,
    },
    /// The residuals are larger than the stated uncertainty explains: the holes
    /// themselves are off, or the uncertainty is stated too small.
    LargerThanUncertainty {
        /// Probability of residuals this large.
        probability: f64,
    },
    /// The measured places cover only part of the turn.
    ShortArc {
        /// Smallest arc that holds them all, in radians.
        arc_rad: f64,
    },
}

impl fmt::Display for Finding {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Outlier {
                place,
                score,
                direction,
            } => {
                let way = match direction {
                    Direction::Angle => "in angle",
                    Direction::Radius => "in radius",
                };
                write!(
                    f,
                    "place {place} stands out {way} (score {score:.1}, limit 3.5): \
                     measure it again before using the figures"
                )
            }
            Self::Missing { places } => {
                let shown: Vec<String> = places.iter().take(10).map(usize::to_string).collect();
                let more = if places.len() > 10 { ", …" } else { "" };
                write!(f, "not measured: {}{more}", shown.join(", "))
            }
            Self::NoUncertainty => {
                f.write_str("no uncertainty was stated, so the deviations carry none")
            }
            Self::NoRedundancy { measured } => write!(
                f,
                "{measured} places leave nothing over to check the fit with"
            ),
            Self::DirectionUncertain {
                eccentricity_mm,
                uncertainty_mm,
            } => write!(
                f,
                "the eccentricity of {eccentricity_mm:.6} mm is below twice its standard \
                 uncertainty of {uncertainty_mm:.6} mm: its direction means little"
            ),
            Self::LargerThanUncertainty { probability } => write!(
                f,
                "the residuals are larger than the stated uncertainty explains \
                 (probability {probability:.2e})"
            ),
            Self::ShortArc { arc_rad } => write!(
                f,
                "the places cover only {:.1}° of the turn: centre and radius are uncertain",
                arc_rad.to_degrees()
            ),
        }
    }
}
