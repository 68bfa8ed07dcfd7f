//! Cut plans, their patterns and cuts, what cutting by phase takes, and the offcuts left.

use super::cost::amount;
use super::{first_of, names};
use crate::cutting::{BlindId, CutPlan, From, LeftFrom, OffcutLeft, Pattern, Share};
use crate::length::{Length, Units};
use crate::order::OrderLine;
use crate::report::figure::{Lead, Money, Rows, Said, Share as Part, row};
use crate::report::{ByPhase, CutAlike, Report, Run};
use crate::rules::columns::offcuts::COLUMNS;
use crate::rules::{CutIn, StockName};

/// A color that there is.
fn named(color: &str) -> Option<&str> {
    (!color.is_empty()).then_some(color)
}

/// One material's plan in one color.
#[derive(Clone, Copy)]
pub struct PlanRow<'r> {
    pub(super) report: &'r Report<'r>,
    /// The plan.
    pub plan: &'r CutPlan,
}

row! {
    /// One material's plan in one color, for blinds released to be made.
    PlanRow<'r>: row {
        /// The material.
        material: &'r str = MaterialRow(row.plan).material() => shown, worded(|row, _| row.name());
        /// Its color; null for a material without.
        color: Option<&'r str> = MaterialRow(row.plan).color();
        /// The phase that is cut separately; null where the whole project is cut together.
        phase: Option<&'r str> = MaterialRow(row.plan).phase();
        /// What a stock length of the material is called.
        stock_name: StockName = row.stock();
        /// Width of the saw cut.
        kerf_mm: Length = row.plan.kerf => at_least(0);
        /// Length trimmed off each raw end, including its saw cut.
        trim_mm: Length = row.plan.trim => at_least(0);
        /// Pieces in all.
        pieces: u64 = row.plan.pieces => shown;
        /// Stock lengths bought; offcuts on hand are not counted.
        bars: u64 = row.plan.bars => headed("New stock"), worded(|row, _| row.new_stock());
        /// No plan needs fewer bars; null with offcuts on hand or several lengths.
        at_least: Option<u64> = row.plan.at_least => shown, worded(|row, _| row.at_least_in_words());
        /// Cost of the bars bought; null if a bar has no price.
        cost: Option<Money> = row.plan.cost.map(|cost| amount(cost, row.report));
        /// No plan costs less; null if a bar has no price.
        cost_at_least: Option<Money> = row.plan.cost_at_least.map(|cost| amount(cost, row.report));
        /// Whether the plan meets its bound.
        proven: bool = row.plan.proven;
        /// How many bars more than the minimum the plan may use; null where at_least is.
        gap_bars: Option<u64> = row.plan.gap().bars;
        /// How much more than the minimum it may cost; null if a bar has no price.
        gap_cost: Option<Money> = row.plan.gap().cost.map(|cost| amount(cost, row.report));
        /// Pieces over lengths used, kerf not counted as used.
        used_share: Part = Part(row.plan.used_share) => at_most(1);
        /// Any piece from any stock length, or blind by blind.
        cut_in: CutIn = row.plan.cut_in;
        /// Blinds that come from more than one roll; null where no blind can be torn apart, as of a bar.
        torn: Option<u64> = row.plan.torn;
        /// Fewer rolls that would do if more blinds were torn; null where there are none.
        fewest_rolls: Option<u64> = row.plan.fewest_rolls.map(|fewest| fewest.rolls);
        /// Blinds that those would tear.
        fewest_torn: Option<u64> = row.plan.fewest_rolls.map(|fewest| fewest.torn);
        /// How the bars are cut. What is cut blind by blind has a pattern for each roll, in order of use.
        patterns: Rows<'r, PatternRow<'r>> = Rows::new(move || PatternRow::all(row.report, row.plan));
    }
}

impl<'r> PlanRow<'r> {
    /// Every plan, by material and color.
    pub fn all(report: &'r Report<'r>) -> impl Iterator<Item = PlanRow<'r>> {
        report.cuts.plans.iter().map(move |plan| PlanRow { report, plan })
    }
}

/// Bars that are cut alike.
#[derive(Clone, Copy)]
pub struct PatternRow<'r> {
    report: &'r Report<'r>,
    pattern: &'r Pattern,
}

row! {
    /// Bars with the same pieces for the same lines.
    PatternRow<'r>: row {
        /// How many bars.
        bars: u64 = row.pattern.bars => at_least(1);
        /// Length of each.
        stock_mm: Length = row.pattern.stock => above_zero;
        /// Bought, or an offcut on hand.
        from: From = row.pattern.from;
        /// The pieces of one bar in the order of cutting.
        pieces_mm: Vec<Length> = row.pattern.pieces.iter().map(|piece| piece.length).collect()
            => above_zero, at_least_so_many(1);
        /// The order line of each piece; null for a spare.
        lines: Vec<Option<usize>> = row.pattern.pieces.iter().map(|piece| piece.line).collect()
            => at_least(1), at_least_so_many(1);
        /// What is left of each bar.
        offcut_mm: Length = row.pattern.offcut => at_least(0);
        /// The opening of each piece, null for a spare; null unless it is cut blind by blind.
        openings: Option<Vec<Option<&'r str>>> = row.of_blinds(|blind| row.name(blind));
        /// Which of its opening's blinds each piece is for, from 1.
        blinds: Option<Vec<Option<u32>>> = row.of_blinds(|blind| blind.number) => at_least(1);
    }
}

impl<'r> PatternRow<'r> {
    fn all(report: &'r Report<'r>, plan: &'r CutPlan) -> impl Iterator<Item = PatternRow<'r>> {
        plan.patterns.iter().map(move |pattern| PatternRow { report, pattern })
    }

    fn name(self, blind: BlindId) -> &'r str {
        &self.report.survey.openings[blind.opening].who.name
    }

    /// What is known of the blind of each piece.
    fn of_blinds<V: Copy>(self, known: impl Fn(BlindId) -> V) -> Option<Vec<Option<V>>> {
        let shares = &self.pattern.shares;
        let of_share = |share: &Share| std::iter::repeat_n(share.blind.map(&known), share.pieces);
        (!shares.is_empty()).then(|| shares.iter().flat_map(of_share).collect())
    }
}

/// Equal pieces of bars that are cut alike.
#[derive(Clone, Copy)]
pub struct CutRow<'r> {
    report: &'r Report<'r>,
    run: Run<'r>,
}

row! {
    /// Equal pieces of bars that are cut alike: the stop is set once for all of them.
    CutRow<'r>: row {
        /// Pieces of one bar.
        pieces: usize = row.run.pieces() => at_least(1), headed("Pieces per bar"), strong;
        /// The piece's length, to which the stop is set.
        stop_mm: Length = row.run.length => above_zero, headed("Stop, decimal"), strong, worded(|_, stop| Said::Decimal(stop));
        /// The same as a tape shows it; null where it shows decimals.
        tape_mm: Option<Length> = (row.report.rules.project.units == Units::Inches).then_some(row.run.length)
            => above_zero, headed("Stop, fraction"), strong, unless_blank;
        /// The parts that the pieces are.
        parts: Vec<&'r str> = row.run.parts().into_iter().map(|part| part.word()).collect()
            => headed("Part"), wide(12), worded(|_, parts: Vec<&str>| parts.join(", "));
        /// The order line of all these bars' pieces; null for spares.
        lines: Vec<Option<usize>> = row.run.by_line().into_iter().map(|(line, _)| line).collect()
            => headed("All pieces, by order line"), wide(22), worded(|row, _| row.by_line());
        /// The openings of those lines.
        openings: Vec<&'r str> = row.served() => headed("For"), wide(30), worded(|_, names: Vec<&str>| first_of(&names, 2));
    }
}

impl<'r> CutRow<'r> {
    /// The cuts of bars that are cut alike, in the order of cutting.
    pub fn all(report: &'r Report<'r>, alike: CutAlike<'r>) -> impl Iterator<Item = CutRow<'r>> {
        alike.runs().map(move |run| CutRow { report, run })
    }

    /// `12 x line 3, 2 x spare`; where all are for one line, it leads there.
    fn by_line(self) -> Said<'r> {
        let by_line = self.run.by_line();
        let words = by_line.iter().map(|(line, count)| match line {
            Some(line) => format!("{count} x line {line}"),
            None => format!("{count} x spare"),
        });
        let words = words.collect::<Vec<_>>().join(", ");
        match by_line[..] {
            [(Some(line), _)] => Said::Leading(Lead::Line(line), words.into()),
            _ => words.into(),
        }
    }

    /// The openings whose blinds the pieces are for.
    fn served(self) -> Vec<&'r str> {
        let lines = self.run.by_line().into_iter().filter_map(|(line, _)| self.report.order.line(line?));
        let basis = self.report.rules.project.cost_basis;
        let of_line = |line: &OrderLine| {
            let openings = line.of_openings(|seat| seat.is_to_cut(basis)).map(|(opening, _)| opening);
            let mut openings: Vec<_> = openings.collect();
            openings.dedup();
            names(self.report, &openings)
        };
        lines.flat_map(of_line).collect()
    }
}

/// The plan that a pattern belongs to.
#[derive(Clone, Copy)]
pub struct MaterialRow<'r>(&'r CutPlan);

row! {
    /// The plan that a pattern belongs to.
    MaterialRow<'r>: row {
        /// The material.
        material: &'r str = &row.0.material;
        /// Its color; null for a material without.
        color: Option<&'r str> = named(&row.0.color);
        /// The phase that is cut separately; null where the whole project is cut together.
        phase: Option<&'r str> = row.0.phase.as_deref();
    }
}

impl<'r> MaterialRow<'r> {
    /// Every pattern beside its material, plan by plan.
    pub fn patterns(report: &'r Report<'r>) -> impl Iterator<Item = (MaterialRow<'r>, PatternRow<'r>)> {
        report
            .cuts
            .plans
            .iter()
            .flat_map(|plan| PatternRow::all(report, plan).map(move |pattern| (MaterialRow(plan), pattern)))
    }
}

/// One material in one color, cut phase by phase and all together.
#[derive(Clone, Copy)]
pub struct ByPhaseRow<'r> {
    pub(super) report: &'r Report<'r>,
    pub(super) row: ByPhase<'r>,
}

row! {
    /// One material in one color, cut phase by phase, beside the whole project cut together.
    ByPhaseRow<'r>: row {
        /// The material.
        material: &'r str = &row.row.at_once.material;
        /// Its color; null for a material without.
        color: Option<&'r str> = named(&row.row.at_once.color);
        /// Bars that the phases buy.
        bars: u64 = row.row.bars;
        /// Bars that the whole project cut together would buy.
        bars_at_once: u64 = row.row.at_once.bars;
        /// Extra bars; negative if the phases use fewer, dearer bars.
        more_bars: i64 = row.row.more_bars();
        /// What the phases' bars cost; null if a bar has no price.
        cost: Option<Money> = row.row.cost.map(|cost| amount(cost, row.report));
        /// What the bars of the whole project cut together would cost; null if a bar has no price.
        cost_at_once: Option<Money> = row.row.at_once.cost.map(|cost| amount(cost, row.report));
        /// Extra cost; null if a bar has no price.
        more_cost: Option<Money> = row.row.more_cost().map(|cost| amount(cost, row.report));
    }
}

impl<'r> ByPhaseRow<'r> {
    /// Each material in each color, where the project is cut phase by phase.
    pub fn all(report: &'r Report<'r>) -> impl Iterator<Item = ByPhaseRow<'r>> {
        report.by_phase().map(move |row| ByPhaseRow { report, row })
    }
}

/// Offcuts alike. A sheet shows them under the headings of the survey's own, in its order: the
/// heading of the lengths names their unit, for the next survey may be in another, and a decimal
/// number keeps what a fraction would round.
#[derive(Clone, Copy)]
pub struct OffcutRow<'r>(&'r OffcutLeft);

row! {
    /// Identical offcuts that are on hand after cutting.
    OffcutRow<'r>: row {
        /// The material.
        material: &'r str = &row.0.material => headed(COLUMNS.material.name), strong;
        /// Its color; null for a material without.
        color: Option<&'r str> = named(&row.0.color) => headed(COLUMNS.color.name);
        /// Length of each, with a raw end.
        length_mm: Length = row.0.length
            => above_zero, headed(COLUMNS.length.name), strong, worded(|_, length| Said::Decimal(length));
        /// How many.
        quantity: u64 = row.0.quantity => at_least(1), headed(COLUMNS.quantity.name), strong;
        /// Kept from a bar of this run, or on hand before and not needed.
        from: LeftFrom = row.0.from => headed(COLUMNS.note.name), worded(|_, from| match from {
            LeftFrom::Kept => "kept from this job",
            LeftFrom::OnHand => "already on hand, not used",
        });
    }
}

impl<'r> OffcutRow<'r> {
    /// Every kind of offcut, by material and color, the longest first.
    pub fn all(report: &'r Report<'r>) -> impl Iterator<Item = OffcutRow<'r>> {
        report.cuts.offcuts.iter().map(OffcutRow)
    }
}
