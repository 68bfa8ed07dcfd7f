//! Times and charges. Every one may be unknown; then what needs it is not in the total.

use rust_decimal::Decimal;

use super::columns::rates::COLUMNS as r;
use super::queries::{Findings, RuleQuery};
use super::raw::RawRow;
use crate::name::{self, same_name};

/// Times in minutes and charges in the project's currency.
#[derive(Clone, Debug, Default, PartialEq)]
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

/// The items of times and charges, as the built-in file names them.
pub mod rate {
    /// Measuring an opening.
    pub const SURVEY: &str = "survey";
    /// Making a blind.
    pub const MAKING: &str = "making";
    /// Fitting a blind.
    pub const FITTING: &str = "fitting";
    /// More for a bracket in masonry or concrete.
    pub const HARD_BRACKET: &str = "hard bracket";
    /// Setting up in a unit.
    pub const UNIT_SET_UP: &str = "unit set-up";
    /// Taking an old blind down.
    pub const REMOVAL: &str = "removal";
    /// Delivery to the site.
    pub const DELIVERY: &str = "delivery";
    /// Setting up for a size.
    pub const SIZE_SET_UP: &str = "size set-up";
}

/// The rates: the built-in ones under the survey's rows; and the rows as used.
pub(super) fn rates(
    built_in: &[RawRow],
    written: &[RawRow],
    findings: &mut Findings,
) -> (Rates, Vec<RawRow>) {
    let mut rows: Vec<RawRow> = built_in.iter().map(|row| row.clone().with_example(None)).collect();
    for row in written {
        let Some(known) = rows.iter_mut().find(|known| same_name(&known.item, &row.item)) else {
            let names = built_in.iter().map(|known| known.item.as_str());
            let nearest = name::nearest(&row.item, names).map(str::to_owned);
            let query = RuleQuery::Item { sheet: row.table.sheet, nearest };
            findings.raise(query, row.at(&r.item), row.item.clone());
            continue;
        };
        let own = row.clone().with_example(Some(known));
        let example = if own.cell(&r.rate).is_some() { own.example } else { known.example };
        let mut row = RawRow { item: known.item.clone(), example, ..own.over(known) };
        row.sift(findings);
        if !same_name(row.written(&r.unit), known.written(&r.unit)) {
            let expected = known.written(&r.unit).to_owned();
            findings.raise(RuleQuery::RateUnit { expected }, row.at(&r.unit), row.item.clone());
            row.forget(&r.rate);
        }
        *known = row;
    }
    let value = |item: &str| rows.iter().find(|row| row.item == item)?.value::<Decimal>(&r.rate);
    let rates = Rates {
        survey_minutes: value(rate::SURVEY),
        making_minutes: value(rate::MAKING),
        fitting_minutes: value(rate::FITTING),
        hard_bracket_minutes: value(rate::HARD_BRACKET),
        unit_minutes: value(rate::UNIT_SET_UP),
        removal: value(rate::REMOVAL),
        delivery: value(rate::DELIVERY),
        size_set_up: value(rate::SIZE_SET_UP),
    };
    (rates, rows)
}
