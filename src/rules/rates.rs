//! Times, charges and a share. Every one may be unknown; then what needs it is not in the total.

use rust_decimal::Decimal;

use super::columns::rates::COLUMNS as r;
use super::queries::{Findings, RuleQuery};
use super::raw::RawRow;
use super::sheets::Renamed;
use crate::grid::Value;
use crate::length::Unit;
use crate::name::{self, same_name};
use crate::schema::{Column, Kind};
use crate::tables;

/// Declares a rate as a field of `Rates`, as its item's name in `rate`, and read from that item's
/// row: `/// What it is. field: ITEM = "item" ["another name"], "its unit" ["another wording"];`.
macro_rules! rates {
    ($($(#[$doc:meta])* $field:ident: $item:ident = $name:literal [$($also:literal)*],
       $unit:literal [$($unit_also:literal)*];)*) => {
        /// Times in minutes and charges in the project's currency.
        #[derive(Clone, Debug, Default, PartialEq)]
        pub struct Rates { $($(#[$doc])* pub $field: Option<Decimal>,)* }

        /// The items of times and charges, as the built-in file names them.
        pub mod rate { $($(#[$doc])* pub const $item: &str = $name;)* }

        /// Other names of an item and wordings of its unit, which surveys in use have.
        pub(super) const RENAMED: Renamed =
            &[$(($name, &[$($also),*]), ($unit, &[$($unit_also),*])),*];

        impl Rates {
            fn read(rows: &[RawRow]) -> Rates {
                let value = |item: &str| rows.iter().find(|row| row.item == item)?.value(&r.rate);
                Rates { $($field: value(rate::$item),)* }
            }
        }
    };
}

rates! {
    /// Measuring: minutes per opening.
    survey_minutes: SURVEY = "survey" [], "min per opening" ["min an opening"];
    /// Making: minutes per blind.
    making_minutes: MAKING = "making" [], "min per blind" ["min a blind"];
    /// Fitting: minutes per blind for each of its people.
    fitting_minutes: FITTING = "fitting" [], "min per blind per person" ["min a blind, each person"];
    /// More for each bracket in masonry or concrete: minutes.
    hard_bracket_minutes: HARD_BRACKET = "masonry or concrete bracket" ["hard bracket"],
        "extra min per bracket" ["min a bracket in masonry or concrete"];
    /// Setting up in a unit: minutes.
    unit_minutes: UNIT_SET_UP = "set-up per unit" ["unit set-up"], "min per unit" ["min a unit"];
    /// How many times as long the first unit of the job takes, while the fitters learn it; planned, not charged.
    learning_start: LEARNING_START = "learning start" [], "times as long for the first unit" [];
    /// Taking an old blind down: charge per opening.
    removal: REMOVAL = "removal" [], "per opening" ["an opening"];
    /// Delivery to the site: charge per project.
    delivery: DELIVERY = "delivery" [], "per project" ["a project"];
    /// Setting up for a size: charge for each distinct size.
    size_set_up: SIZE_SET_UP = "set-up per size" ["size set-up"], "per size" ["a size"];
    /// What comes off the section of blinds: percent.
    discount: DISCOUNT = "discount on blinds" [], "% of the blinds" [];
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
        let own = if known.item == rate::DISCOUNT { in_percent(own, findings) } else { own };
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
    (Rates::read(&rows), rows)
}

/// The cell of a share: `5 %`, a percentage's 0.05 and a plain 5 are all five percent.
fn in_percent(mut row: RawRow, findings: &mut Findings) -> RawRow {
    let Some(mut cell) = row.take(&r.rate) else { return row };
    let percent = Column { kind: Kind::Percent { most: 100 }, ..r.rate };
    // A number's own reading is kept, for it is written as a person reads it.
    let written = Value::Text(cell.written.as_str().into());
    cell.datum = tables::read_value(&written, &percent, None, Unit::Millimeter).map_err(Box::new);
    cell.doubt_share(row.table.sheet, &r.rate, findings);
    row.put(&r.rate, cell);
    row
}
