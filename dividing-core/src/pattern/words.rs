//! Verdicts and proofs in words.

use std::fmt;

use super::result::{ProofMethod, Verdict};

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
