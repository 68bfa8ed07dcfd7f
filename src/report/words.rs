//! The words by which every output names a choice that is not the survey's own.

use crate::cutting::Part;
use crate::rules::{CostBasis, Jurisdiction, TaxOn};
use crate::survey::Substrate;

impl Substrate {
    /// Whether it is drilled with a hammer and gives off silica dust.
    pub const fn is_hard(self) -> bool {
        matches!(self, Substrate::Masonry | Substrate::Concrete)
    }
}

impl Part {
    /// The part's name in the words of the trade.
    pub const fn word(self) -> &'static str {
        match self {
            Part::Headrail => "headrail",
            Part::TiltRod => "tilt rod",
            Part::ValanceFront => "valance front",
            Part::ValanceReturn => "valance return",
            Part::Louver => "louver",
        }
    }
}

impl Jurisdiction {
    /// As a survey writes it; a blank in words.
    pub const fn word(self) -> &'static str {
        match self {
            Jurisdiction::UnitedStates => "US",
            Jurisdiction::Canada => "CA",
            Jurisdiction::EuropeanUnion => "EU",
            Jurisdiction::UnitedKingdom => "UK",
            Jurisdiction::Australia => "AU",
            Jurisdiction::Unregulated => "none",
            Jurisdiction::Strictest => "not given: the strictest of all",
        }
    }
}

impl CostBasis {
    /// `buy` or `make`.
    pub const fn word(self) -> &'static str {
        match self {
            CostBasis::Buy => "buy",
            CostBasis::Make => "make",
        }
    }
}

impl TaxOn {
    /// `all` or `materials`.
    pub const fn word(self) -> &'static str {
        match self {
            TaxOn::All => "all",
            TaxOn::Materials => "materials",
        }
    }
}
