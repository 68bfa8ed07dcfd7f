//! How long blinds take to fit, as it is charged and as days are planned: one rule for both.

use rust_decimal::Decimal;

use super::Blind;
use crate::rules::Rates;
use crate::sizing::MountOn;
use crate::survey::{Opening, Substrate};

/// Brackets of one blind that go into masonry or concrete, each of which takes longer.
pub fn hard_brackets(opening: &Opening, blind: &Blind<'_>) -> u32 {
    let substrate = opening.facts.as_ref().and_then(|facts| facts.substrate).map(|given| given.value);
    let is_hard = substrate.is_some_and(Substrate::is_hard) && blind.sizing.hung.on() != MountOn::Casing;
    if is_hard { blind.fitted.brackets.count() } else { 0 }
}

/// Minutes of work for one blind, of all its people together; `None` if a rate that it needs is not known.
pub fn fitting_minutes(opening: &Opening, blind: &Blind<'_>, rates: &Rates) -> Option<Decimal> {
    let fitting = rates.fitting_minutes? * Decimal::from(blind.fitted.people);
    match hard_brackets(opening, blind) {
        0 => Some(fitting),
        brackets => Some(fitting + rates.hard_bracket_minutes? * Decimal::from(brackets)),
    }
}
