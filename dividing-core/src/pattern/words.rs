//! Numbers, verdicts and proofs in words.

use std::fmt;

use super::result::{ProofMethod, Verdict};
use crate::angle::{Angle, AngleStyle};

/// Parts of a turn of one second of arc.
const SECONDS_OF_A_TURN: i128 = 1_296_000;

/// An angle as a drawing has it: in degrees, or in degrees, minutes and whole
/// seconds, where that is exact; else as a fraction of a turn.
pub(super) fn angle_text(angle: Angle) -> String {
    let text = angle.to_string();
    if text.ends_with("turn") && SECONDS_OF_A_TURN % angle.denominator() == 0 {
        return angle.format(AngleStyle::DegreesMinutesSeconds(0));
    }
    text
}

impl fmt::Display for Verdict {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Holds => "holds",
            Self::DoesNotHold => "DOES NOT HOLD",
            Self::NotReckoned => "not judged",
        })
    }
}

impl fmt::Display for ProofMethod {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::EachHoleOnce => "each hole counted once",
            Self::SharedHoles => "shares of holes in common",
            Self::LinearRelaxation => "linear relaxation",
            Self::Exhausted => "all choices ruled out",
            Self::FactorPairs => "all factor pairs",
            Self::Directions => "each direction needs its own",
        })
    }
}
