//! Overhead on direct cost, profit on both, contingency on all of these, and tax on its base: each on
//! what is known of it. One of 0 % has its line too, for the sheet lets it be changed.

use rust_decimal::Decimal;

use super::ledger::{Entry, Ledger};
use super::rate::Rate;
use super::{AmountFormula, Commitment, CostLine, Measure, QuantityFrom, Section};
use crate::rules::columns::project::{COLUMNS, PROJECT};
use crate::rules::{Project, Rules};
use crate::schema::Column;

/// The sections of a cost before contingency. Each base of a share is the first so many of them.
const SECTIONS: &[Section] = &[
    Section::Blinds,
    Section::Discount,
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
const DIRECT: &[Section] = SECTIONS.split_at(8).0;
const DIRECT_AND_OVERHEAD: &[Section] = SECTIONS.split_at(9).0;

/// One share taken of a base.
struct Markup {
    section: Section,
    column: &'static Column,
    unit: &'static str,
    base: &'static [Section],
    percent: Decimal,
}

/// Enters overhead, profit and contingency.
pub(super) fn enter(ledger: &mut Ledger, rules: &Rules) {
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
    for Markup { section, column, unit, base, percent } in markups {
        let lines = ledger.lines().iter().map(|entered| &entered.line);
        let known = lines.filter(|line| base.contains(&line.section)).filter_map(|line| line.amount).sum();
        ledger.enter(Entry {
            section,
            item: section.word().to_owned(),
            unit,
            basis: "base x %".into(),
            quantity: Some(known),
            quantity_from: QuantityFrom::Sections,
            rate: Rate::used(Some(percent / Decimal::ONE_HUNDRED), rules, &PROJECT, "", column),
            formula: AmountFormula::ShareOf(base),
            shared_in: Measure::one(unit),
            parts: Vec::new(),
            commitment: Commitment::Open,
            gap: None,
        });
    }
}

/// The tax on what is known of the taxable lines, rounded once.
pub(super) fn known_tax<'l>(lines: impl Iterator<Item = &'l CostLine>, project: &Project) -> Decimal {
    let base: Decimal = lines.filter(|line| line.taxable).filter_map(|line| line.amount).sum();
    // The share comes first: a hundred times a great base may be past what a decimal holds.
    project.currency.round(base * (project.tax / Decimal::ONE_HUNDRED))
}
