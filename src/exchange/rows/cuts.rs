//! Cut plans and their patterns.

use rust_decimal::Decimal;

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
        /// The phase that is sawn by itself; `None` where the whole project is sawn together.
        phase: Option<&'a str>,
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
        /// How many bars the plan may be above the least; `None` where `at_least` is.
        gap_bars: Option<u64>,
        /// How much it may cost above the least; `None` if a bar has no price.
        gap_cost: Option<Money>,
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
        /// The phase that is sawn by itself; `None` where the whole project is sawn together.
        phase: Option<&'a str>,
    }
}

row! {
    /// One material in one colour, sawn phase by phase beside the whole project at once.
    ByPhaseRow<'a> {
        /// The material.
        material: &'a str,
        /// Its colour; `None` for a material without.
        colour: Option<&'a str>,
        /// Bars that the phases buy.
        bars: u64,
        /// Bars that the whole project at once would buy.
        bars_at_once: u64,
        /// Bars more.
        more_bars: i64,
        /// What the phases' bars cost; `None` if a bar has no price.
        cost: Option<Money>,
        /// What those of the whole project at once would cost; `None` if a bar has no price.
        cost_at_once: Option<Money>,
        /// Cost more; `None` if a bar has no price.
        more_cost: Option<Money>,
    }
}

row! {
    /// Offcuts alike that are on hand when everything is sawn.
    OffcutRow<'a> {
        /// The material.
        material: &'a str,
        /// Its colour; `None` for a material without.
        colour: Option<&'a str>,
        /// Length of each, with a raw end.
        length_mm: Length,
        /// How many.
        quantity: u64,
        /// `kept` from a bar of this run, or `on hand` before and not needed.
        from: &'static str,
    }
}

impl<'a> ByPhaseRow<'a> {
    /// Each material in each colour, where the project is sawn phase by phase.
    pub fn all(report: &'a Report<'_>) -> impl Iterator<Item = ByPhaseRow<'a>> {
        let currency = report.rules.project.currency;
        let money = move |cost: Option<Decimal>| cost.map(|cost| Money::amount(cost, currency));
        report.by_phase().map(move |row| ByPhaseRow {
            material: &row.at_once.material,
            colour: named(&row.at_once.colour),
            bars: row.bars,
            bars_at_once: row.at_once.bars,
            more_bars: row.more_bars(),
            cost: money(row.cost),
            cost_at_once: money(row.at_once.cost),
            more_cost: money(row.more_cost()),
        })
    }
}

impl<'a> OffcutRow<'a> {
    /// Every kind of offcut, by material and colour, the longest first.
    pub fn all(report: &'a Report<'_>) -> impl Iterator<Item = OffcutRow<'a>> {
        report.cuts.offcuts.iter().map(|offcut| OffcutRow {
            material: &offcut.material,
            colour: named(&offcut.colour),
            length_mm: offcut.length,
            quantity: offcut.quantity,
            from: offcut.from.word(),
        })
    }
}

/// A colour that there is.
fn named(colour: &str) -> Option<&str> {
    (!colour.is_empty()).then_some(colour)
}

impl<'a> PlanRow<'a> {
    /// Every plan, by material and colour.
    pub fn all(report: &'a Report<'_>) -> impl Iterator<Item = PlanRow<'a>> {
        let currency = report.rules.project.currency;
        report.cuts.plans.iter().map(move |plan| PlanRow::of(plan, currency))
    }

    fn of(plan: &'a CutPlan, currency: Currency) -> PlanRow<'a> {
        let MaterialRow { material, colour, phase } = MaterialRow::of(plan);
        let gap = plan.gap();
        PlanRow {
            material,
            colour,
            phase,
            kerf_mm: plan.kerf,
            trim_mm: plan.trim,
            pieces: plan.pieces,
            bars: plan.bars,
            at_least: plan.at_least,
            cost: plan.cost.map(|cost| Money::amount(cost, currency)),
            cost_at_least: plan.cost_at_least.map(|cost| Money::amount(cost, currency)),
            proven: plan.proven,
            gap_bars: gap.bars,
            gap_cost: gap.cost.map(|cost| Money::amount(cost, currency)),
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
        MaterialRow { material: &plan.material, colour: named(&plan.colour), phase: plan.phase.as_deref() }
    }
}
