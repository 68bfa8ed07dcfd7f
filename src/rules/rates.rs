//! Times and charges. Every one may be unknown; then what needs it is not in the total.

use rust_decimal::Decimal;

/// Times in minutes and charges in the project's currency.
#[derive(Clone, Debug, Default)]
pub struct Rates {
    /// Survey, minutes an opening.
    pub survey_minutes: Option<Decimal>,
    /// Making, minutes a blind.
    pub making_minutes: Option<Decimal>,
    /// Fitting, minutes a blind for each of its people.
    pub fitting_minutes: Option<Decimal>,
    /// More for each bracket in masonry or concrete, minutes.
    pub hard_bracket_minutes: Option<Decimal>,
    /// Setting up in a unit, minutes.
    pub unit_minutes: Option<Decimal>,
    /// Taking an old blind down, charge an opening.
    pub removal: Option<Decimal>,
    /// Delivery, charge a project.
    pub delivery: Option<Decimal>,
    /// Set-up, charge for each distinct size.
    pub size_set_up: Option<Decimal>,
}
