//! Cut plans and their patterns.

use crate::cutting::{CutPlan, Pattern};
use crate::exchange::amounts::{Money, Share};
use crate::exchange::columns::{OwnFile, row};
use crate::length::Length;
use crate::money::Currency;
use crate::report::Report;

row! {
    /// One material's plan in one colour.
    PlanRow<'a> {
        /// The material.
        material: &'a str,
        /// Its colour; `None` for a material without.
        colour: Option<&'a str>,
        /// What the saw takes between two pieces.
        kerf_mm: Length,
        /// What comes off each raw end.
        trim_mm: Length,
        /// Pieces in all.
        pieces: u64,
        /// Stock lengths bought.
        bars: u64,
        /// No plan needs fewer; `None` with offcuts on hand or several lengths.
        at_least: Option<u64>,
        /// Cost of the bars bought; `None` if a bar has no price.
        cost: Option<Money>,
        /// No plan costs less; `None` if a bar has no price.
        cost_at_least: Option<Money>,
        /// Whether the plan meets its bound.
        proven: bool,
        /// Pieces over lengths used, kerf not counted as used.
        used_share: Share,
        /// How the bars are cut.
        patterns: OwnFile<PatternRow>,
    }
}

row! {
    /// Bars with the same pieces for the same lines.
    PatternRow {
        /// How many bars.
        bars: u64,
        /// Length of each.
        stock_mm: Length,
        /// `bar` or `offcut`.
        from: &'static str,
        /// The pieces of one bar, in the order of cutting.
        pieces_mm: Vec<Length>,
        /// The order line of each piece; `None` for a spare.
        lines: Vec<Option<usize>>,
        /// What is left of each bar.
        offcut_mm: Length,
    }
}

row! {
    /// The plan that a pattern belongs to.
    MaterialRow<'a> {
        /// The material.
        material: &'a str,
        /// Its colour; `None` for a material without.
        colour: Option<&'a str>,
    }
}

impl<'a> PlanRow<'a> {
    /// Every plan, by material and colour.
    pub fn all(report: &'a Report<'_>) -> impl Iterator<Item = PlanRow<'a>> {
        let currency = report.rules.project.currency;
        report.cuts.plans.iter().map(move |plan| PlanRow::of(plan, currency))
    }

    fn of(plan: &'a CutPlan, currency: Currency) -> PlanRow<'a> {
        let MaterialRow { material, colour } = MaterialRow::of(plan);
        PlanRow {
            material,
            colour,
            kerf_mm: plan.kerf,
            trim_mm: plan.trim,
            pieces: plan.pieces,
            bars: plan.bars,
            at_least: plan.at_least,
            cost: plan.cost.map(|cost| Money::amount(cost, currency)),
            cost_at_least: plan.cost_at_least.map(|cost| Money::amount(cost, currency)),
            proven: plan.proven,
            used_share: plan.used_share.into(),
            patterns: OwnFile(plan.patterns.iter().map(PatternRow::of).collect()),
        }
    }
}

impl PatternRow {
    fn of(pattern: &Pattern) -> PatternRow {
        PatternRow {
            bars: pattern.bars,
            stock_mm: pattern.stock,
            from: pattern.from.word(),
            pieces_mm: pattern.pieces.iter().map(|piece| piece.length).collect(),
            lines: pattern.pieces.iter().map(|piece| piece.line).collect(),
            offcut_mm: pattern.offcut,
        }
    }
}

impl<'a> MaterialRow<'a> {
    /// Every pattern beside its material, plan by plan.
    pub fn patterns(report: &'a Report<'_>) -> impl Iterator<Item = (MaterialRow<'a>, PatternRow)> {
        report.cuts.plans.iter().flat_map(|plan| {
            plan.patterns.iter().map(move |pattern| (MaterialRow::of(plan), PatternRow::of(pattern)))
        })
    }

    fn of(plan: &'a CutPlan) -> MaterialRow<'a> {
        MaterialRow { material: &plan.material, colour: (!plan.colour.is_empty()).then_some(&*plan.colour) }
    }
}
