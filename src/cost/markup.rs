//! Overhead on direct cost, profit on both, contingency on all of these, and tax on its base.

use rust_decimal::Decimal;

use super::rate::Rate;
use super::{AmountFormula, CostLine, QuantityFrom, Section};
use crate::rules::columns::project::{COLUMNS, PROJECT};
use crate::rules::{Project, Rules, TaxOn};
use crate::schema::Column;

/// The sections of a cost before contingency. Each base of a share is the first so many of them.
const SECTIONS: &[Section] = &[
    Section::Blinds,
    Section::Parts,
    Section::Making,
    Section::Fitting,
    Section::Survey,
    Section::Removal,
    Section::Delivery,
    Section::Overhead,
    Section::Profit,
];
/// What the work itself costs.
const DIRECT: &[Section] = SECTIONS.split_at(7).0;
const DIRECT_AND_OVERHEAD: &[Section] = SECTIONS.split_at(8).0;

/// One share taken of a base.
struct Markup {
    section: Section,
    column: &'static Column,
    unit: &'static str,
    base: &'static [Section],
    percent: Decimal,
}

/// Enters overhead, profit and contingency, each unless it is 0 %. The quantity is the known part of
/// the base; the amount is unknown if any amount of the base is.
pub(super) fn enter(lines: &mut Vec<CostLine>, rules: &Rules) {
    let project = &rules.project;
    let markups = [
        Markup {
            section: Section::Overhead,
            column: &COLUMNS.overhead,
            unit: "direct cost",
            base: DIRECT,
            percent: project.overhead,
        },
        Markup {
            section: Section::Profit,
            column: &COLUMNS.profit,
            unit: "direct cost and overhead",
            base: DIRECT_AND_OVERHEAD,
            percent: project.profit,
        },
        Markup {
            section: Section::Contingency,
            column: &COLUMNS.contingency,
            unit: "direct cost, overhead and profit",
            base: SECTIONS,
            percent: project.contingency,
        },
    ];
    for markup in markups.iter().filter(|markup| !markup.percent.is_zero()) {
        let base = Base::of(lines.iter().filter(|line| markup.base.contains(&line.section)));
        let share = markup.percent / Decimal::ONE_HUNDRED;
        let rate = Rate::used(Some(share), rules, &PROJECT, "", markup.column);
        lines.push(CostLine {
            section: markup.section,
            item: markup.section.word().to_owned(),
            unit: markup.unit,
            basis: "base x %",
            quantity: Some(base.known),
            quantity_from: QuantityFrom::Sections,
            rate: Some(share),
            formula: AmountFormula::ShareOf(markup.base),
            amount: base.complete.then(|| project.currency.round(base.known * share)),
            taxable: project.tax_on == TaxOn::All,
            rate_from: rate.origin(),
        });
    }
}

/// The tax on every taxable line, rounded once; `None` if one of them has no amount.
pub(super) fn tax(lines: &[CostLine], project: &Project) -> Option<Decimal> {
    let base = Base::of(lines.iter().filter(|line| line.taxable));
    // The share comes first: a hundred times a great base may be past what a decimal holds.
    base.complete.then(|| project.currency.round(base.known * (project.tax / Decimal::ONE_HUNDRED)))
}

/// A sum of amounts, some of which may be unknown.
struct Base {
    known: Decimal,
    complete: bool,
}

impl Base {
    fn of<'a>(lines: impl Iterator<Item = &'a CostLine>) -> Base {
        lines.fold(Base { known: Decimal::ZERO, complete: true }, |base, line| Base {
            known: base.known + line.amount.unwrap_or_default(),
            complete: base.complete && line.amount.is_some(),
        })
    }
}
