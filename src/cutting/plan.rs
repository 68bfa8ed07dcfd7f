//! From a demand to a checked plan: lengths and prices into the solver's whole numbers and back. What
//! is cut blind by blind is planned in [`rolls`].

use std::collections::BTreeSet;

use super::allot::{Raw, allot};
use super::check::AtLeast;
use super::money::{Money, cheapest_of_each_length, too_many_digits};
use super::solver::{Doubt, Instance, Item, Misfit, Stock, Work, check, solve};
use super::{CutFault, CutPlan, Demand, From, PlanFault, rolls};
use crate::length::Length;
use crate::rules::CutIn;

/// Plans one material in one color.
///
/// # Errors
/// [`CutFault::CannotBeCut`] if a piece fits no bar, [`CutFault::TooManyDigits`] if prices cannot
/// be counted exactly, [`CutFault::Wrong`] if the plan does not pass its check.
pub fn plan(demand: &Demand) -> Result<CutPlan, CutFault> {
    match demand.cut_in {
        CutIn::Pieces => plan_pieces(demand),
        CutIn::Blinds => rolls::plan(demand),
    }
}

fn plan_pieces(demand: &Demand) -> Result<CutPlan, CutFault> {
    let problem = Problem::of(demand)?;
    let solution = solve(&problem.instance, Work::FOR_A_PLAN);
    // A proof that was not checked to its end is none.
    let bound = match check(&problem.instance, &solution.cuts, &solution.certificate) {
        Ok(_) => solution.certificate.cost,
        Err(Doubt::TooManySteps) => 0,
        Err(doubt) => return Err(wrong(demand, PlanFault::Proof(doubt))),
    };
    let patterns = allot(demand, solution.cuts, &problem.raws, &problem.lengths);
    CutPlan::checked(demand, patterns, problem.at_least(demand, bound)?)
}

/// The solver's problem, and what its numbers stand for.
struct Problem {
    instance: Instance,
    /// The bar behind each stock.
    raws: Vec<Raw>,
    /// The length behind each item.
    lengths: Vec<Length>,
    /// Distinct lengths of bar on offer.
    lengths_on_offer: usize,
    money: Money,
}

impl Problem {
    /// k pieces fit a bar if their sum and k - 1 kerfs are at most the bar less both trims: so each
    /// piece counts with a kerf, and the bar with one more.
    fn of(demand: &Demand) -> Result<Problem, CutFault> {
        let saw = demand.saw;
        let nm = |length: Length| u64::try_from(length.nm()).unwrap_or(0);
        let capacity = |raw: Length| nm(raw - saw.trim * 2 + saw.kerf);
        let bars = cheapest_of_each_length(demand);
        let money = Money::of(&bars);
        let mut raws = Vec::new();
        let mut stocks = Vec::new();
        for (&length, price) in bars.iter().rev() {
            let cost = money.counted(*price, demand)?;
            raws.push(Raw { length, from: From::Bar });
            stocks.push(Stock { capacity: capacity(length), cost, limit: None });
        }
        for (&length, &count) in demand.offcuts.iter().rev() {
            raws.push(Raw { length, from: From::Offcut });
            stocks.push(Stock { capacity: capacity(length), cost: 0, limit: Some(count) });
        }
        let lengths: BTreeSet<Length> = demand.pieces.keys().map(|piece| piece.length).collect();
        let cannot_be_cut =
            |length: Length| CutFault::CannotBeCut { material: demand.material.clone(), length };
        if let Some(shortest) = lengths.first().filter(|shortest| **shortest <= Length::ZERO) {
            return Err(cannot_be_cut(*shortest));
        }
        let items =
            demand.pieces.iter().map(|(piece, &demand)| Item { size: nm(piece.length + saw.kerf), demand });
        let instance = Instance::new(items, stocks).map_err(|misfit| match misfit {
            Misfit::TooLarge => too_many_digits(demand),
            Misfit::Nothing | Misfit::TooLong(_) => {
                cannot_be_cut(lengths.last().copied().unwrap_or_default())
            }
        })?;
        Ok(Problem {
            instance,
            raws,
            lengths: lengths.into_iter().rev().collect(),
            lengths_on_offer: bars.len(),
            money,
        })
    }

    /// The bound in bars and in money.
    fn at_least(&self, demand: &Demand, bound: u128) -> Result<AtLeast, CutFault> {
        // The contract promises a bound on bars only where nothing but the bars of one length is
        // there to be cut, even if what else there is would be too short for any piece.
        let one_length = demand.offcuts.is_empty() && self.lengths_on_offer == 1;
        let only = self.instance.stocks().first().filter(|_| one_length);
        let bars = only.and_then(|bar| u64::try_from(bound / u128::from(bar.cost.max(1))).ok());
        Ok(AtLeast { bars, cost: self.money.of_count(bound, demand)? })
    }
}

fn wrong(demand: &Demand, fault: PlanFault) -> CutFault {
    CutFault::Wrong { material: demand.material.clone(), color: demand.color.clone(), fault }
}
