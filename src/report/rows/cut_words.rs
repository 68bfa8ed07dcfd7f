//! What the cut list says in words: of a plan, of bars that are cut alike, and of cutting by phase.

use rust_decimal::Decimal;

use super::{ByPhaseRow, PlanRow};
use crate::cutting::{CutPlan, From};
use crate::length::{Length, Units};
use crate::report::figure::Said;
use crate::report::{CutAlike, Report};
use crate::rounding::half_away;
use crate::rules::{CostBasis, StockName};

impl<'r> PlanRow<'r> {
    /// Material, color and phase.
    pub fn name(self) -> String {
        let phase = self.plan.phase_in_words().map_or_else(String::new, |phase| format!(", {phase}"));
        format!("{}{phase}", material(self.plan))
    }

    /// What a stock length of its material is called.
    pub(super) fn stock(self) -> StockName {
        self.report.rules.stock_name(&self.plan.material)
    }

    /// `14 bars of 5800 mm, 1 bar of 2900 mm`.
    pub(super) fn new_stock(self) -> String {
        let stock = self.stock();
        let of_length = |(length, _, count): &(Length, Option<Decimal>, u64)| {
            format!("{} of {}", stock.counted(*count), length.as_bought(self.report.rules.project.units))
        };
        let bought: Vec<String> = self.plan.bought.iter().map(of_length).collect();
        if bought.is_empty() { "none".to_owned() } else { bought.join(", ") }
    }

    /// `14 (proven)`, in bars or, where those are of several prices, in money.
    pub(super) fn at_least_in_words(self) -> Said<'r> {
        let proven = if self.plan.proven { "proven" } else { "not proven" };
        match (self.plan.at_least, self.plan.cost_at_least) {
            (Some(bars), _) => format!("{bars} ({proven})").into(),
            (None, Some(cost)) => format!("{} ({proven})", amount(self.report, cost)).into(),
            (None, None) => Said::Unknown,
        }
    }

    /// `rail, white: 120 pieces`.
    pub fn title(self) -> String {
        format!("{}: {} pieces", self.name(), self.plan.pieces)
    }

    /// What to buy, if anything is, and how good the plan is; what is torn; how it is cut and what becomes of
    /// the ends.
    pub fn head(self) -> Vec<String> {
        let (report, plan) = (self.report, self.plan);
        let left = plan.leftovers();
        let ends = |count: u64, length: Length| match count {
            0 => "none".to_owned(),
            _ => format!("{count}, total {}", length.shown(report.rules.project.units)),
        };
        let stock = match report.rules.project.cost_basis {
            CostBasis::Make => "To buy: ",
            CostBasis::Buy => {
                "FOR THE MAKER - inside the price of the blinds, nothing here is bought. New stock: "
            }
        };
        [format!("{stock}{}. {}", self.new_stock(), self.bound())]
            .into_iter()
            .chain(self.torn_in_words())
            .chain([format!(
                "Kerf: {}. End trim: {}. Used: {} %. Offcuts kept, {} or longer: {}. Scrapped: {}.",
                exact(report, plan.kerf),
                exact(report, plan.trim),
                half_away(plan.used_share * Decimal::ONE_HUNDRED, 1),
                plan.least_useful.on_tape(report.rules.project.units),
                ends(left.kept, left.kept_length),
                ends(left.scrapped, left.scrapped_length)
            )])
            .collect()
    }

    /// How few bars, or how little money, would do, and how far the plan may be above it.
    fn bound(self) -> String {
        let (report, plan) = (self.report, self.plan);
        let gap = plan.gap();
        let cheapest = plan.bought.iter().filter_map(|(_, price, _)| *price).min();
        let under_one_bar = gap.cost.zip(cheapest).is_some_and(|(gap, bar)| gap < bar);
        let cost_gap = gap.cost.map(|cost| amount(report, cost));
        match (plan.at_least.zip(gap.bars), plan.cost_at_least.zip(cost_gap.as_ref())) {
            (Some(_), _) if plan.proven => "No plan needs fewer (proven).".to_owned(),
            (Some((least, above)), _) => {
                let money = cost_gap.as_ref().map_or_else(String::new, |cost| format!(", {cost}"));
                format!(
                    "At least {least} are needed; this plan may use {above} more than that{money} (not proven)."
                )
            }
            (None, Some(_)) if plan.proven => "No plan costs less (proven).".to_owned(),
            (None, Some((least, above))) => format!(
                "At least {} is needed; this plan may cost {above} more{} (not proven).",
                amount(report, least),
                if under_one_bar { ", less than the cheapest bar" } else { "" }
            ),
            (None, None) => "How few would do is not proven until each length has a price.".to_owned(),
        }
    }

    /// Over the cuts of bars that are cut alike: which bars, and what to do first.
    pub fn before(self, alike: CutAlike<'_>) -> String {
        let pattern = alike.pattern();
        let length = self.exact(pattern.stock);
        let from = match pattern.from {
            From::Bar => format!("{} of {length}, new", self.stock().counted(alike.bars())),
            From::Offcut => format!("{} x {length}, offcut on hand", alike.bars()),
        };
        format!("Pattern {}: {from}.{}", alike.number(), self.trim_first())
    }

    /// What to do first.
    pub(super) fn trim_first(self) -> String {
        match self.plan.trim {
            Length::ZERO => String::new(),
            trim => format!(" Trim the raw end {}.", self.exact(trim)),
        }
    }

    pub(super) fn exact(self, length: Length) -> String {
        exact(self.report, length)
    }

    /// A length as a tape shows it.
    pub(super) fn shown(self, length: Length) -> String {
        length.shown(self.report.rules.project.units).to_string()
    }

    /// Under them: what is left of each bar.
    pub fn after(self, alike: CutAlike<'_>) -> String {
        let pattern = alike.pattern();
        let left = pattern.offcut.shown(self.report.rules.project.units);
        let each = self.stock().word();
        match pattern.offcut {
            Length::ZERO => "Nothing is left over.".to_owned(),
            _ if self.plan.keeps(pattern) => format!("Left over from each {each}: {left}. Keep it."),
            _ => format!("Left over from each {each}: {left}. Scrap it."),
        }
    }
}

impl ByPhaseRow<'_> {
    /// What cutting phase by phase costs in bars and money.
    pub fn in_words(self) -> String {
        let at_once = self.row.at_once;
        let more = match (self.row.more_bars(), self.row.more_cost()) {
            (0, None) => "no more".to_owned(),
            (0, Some(cost)) if cost.is_zero() => "no more".to_owned(),
            (0, Some(cost)) => format!("no more, but {} dearer", amount(self.report, cost)),
            (more, cost) => {
                let word = if more > 0 { "more" } else { "fewer" };
                let money = cost.map_or_else(String::new, |cost| format!(" ({})", amount(self.report, cost)));
                format!("{} {word}{money}", more.unsigned_abs())
            }
        };
        let stock = self.report.rules.stock_name(&at_once.material);
        format!(
            "{}: {} phase by phase, {} for the whole project at once: {more}.",
            material(at_once),
            stock.counted(self.row.bars),
            at_once.bars
        )
    }
}

/// Material and color.
fn material(plan: &CutPlan) -> String {
    if plan.color.is_empty() {
        plan.material.to_string()
    } else {
        format!("{}, {}", plan.material, plan.color)
    }
}

/// As it is exact; in inches besides, where all else is.
fn exact(report: &Report<'_>, length: Length) -> String {
    let units = report.rules.project.units;
    let exact = length.in_its_unit(units);
    match units {
        Units::Inches if exact.ends_with(" mm") => format!("{exact} ({})", length.shown(units)),
        _ => exact,
    }
}

fn amount(report: &Report<'_>, amount: Decimal) -> String {
    report.rules.project.currency.in_words(amount)
}
