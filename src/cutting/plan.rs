//! From a demand to a checked plan: lengths and prices into the solver's whole numbers and back.

use std::collections::{BTreeMap, BTreeSet};

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

use super::allot::{Raw, allot};
use super::check::AtLeast;
use super::solver::{Doubt, Instance, Item, Misfit, Stock, Work, check, solve};
use super::{CutFault, CutPlan, Demand, From, PlanFault};
use crate::length::Length;

/// Plans one material in one color.
///
/// # Errors
/// [`CutFault::CannotBeCut`] if a piece fits no bar, [`CutFault::TooManyDigits`] if prices cannot
/// be counted exactly, [`CutFault::Wrong`] if the plan does not pass its check.
pub fn plan(demand: &Demand) -> Result<CutPlan, CutFault> {
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

/// What the solver's costs stand for.
#[derive(Clone, Copy)]
enum Money {
    /// Some bar has no price: every bar counts one.
    Unknown,
    /// No bar costs anything: every bar counts one, and a sum of them nothing.
    Free,
    /// Prices times ten to this power.
    Scaled(u32),
}

impl Problem {
    /// k pieces fit a bar if their sum and k - 1 kerfs are at most the bar less both trims: so each
    /// piece counts with a kerf, and the bar with one more.
    fn of(demand: &Demand) -> Result<Problem, CutFault> {
        let saw = demand.saw;
        let nm = |length: Length| u64::try_from(length.nm()).unwrap_or(0);
        let capacity = |raw: Length| nm(raw - saw.trim * 2 + saw.kerf);
        let bars = cheapest_of_each_length(demand);
        let money = money(&bars);
        let mut raws = Vec::new();
        let mut stocks = Vec::new();
        for (&length, price) in bars.iter().rev() {
            let cost = match (money, price) {
                (Money::Scaled(scale), Some(price)) => {
                    scaled(*price, scale).ok_or_else(|| too_many_digits(demand))?
                }
                _ => 1,
            };
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
        let cost = match self.money {
            Money::Unknown => None,
            Money::Free => Some(Decimal::ZERO),
            Money::Scaled(scale) => Some(in_money(bound, scale).ok_or_else(|| too_many_digits(demand))?),
        };
        Ok(AtLeast { bars, cost })
    }
}

fn cheapest_of_each_length(demand: &Demand) -> BTreeMap<Length, Option<Decimal>> {
    let mut bars: BTreeMap<Length, Option<Decimal>> = BTreeMap::new();
    for bar in &demand.bars {
        // `None` is less than any price, so a length with an unpriced bar stays unpriced.
        bars.entry(bar.length).and_modify(|price| *price = bar.price.min(*price)).or_insert(bar.price);
    }
    bars
}

fn money(bars: &BTreeMap<Length, Option<Decimal>>) -> Money {
    let scales: Option<Vec<u32>> = bars.values().map(|price| Some((*price)?.normalize().scale())).collect();
    match scales {
        None => Money::Unknown,
        Some(_) if bars.values().all(|price| *price == Some(Decimal::ZERO)) => Money::Free,
        Some(scales) => Money::Scaled(scales.into_iter().fold(0, u32::max)),
    }
}

/// A price times ten to the power of `scale`: a whole number.
fn scaled(price: Decimal, scale: u32) -> Option<u64> {
    price.checked_mul(Decimal::from(10_u64.checked_pow(scale)?))?.to_u64()
}

fn in_money(cost: u128, scale: u32) -> Option<Decimal> {
    Decimal::try_from_i128_with_scale(i128::try_from(cost).ok()?, scale).ok()
}

fn wrong(demand: &Demand, fault: PlanFault) -> CutFault {
    CutFault::Wrong { material: demand.material.clone(), color: demand.color.clone(), fault }
}

fn too_many_digits(demand: &Demand) -> CutFault {
    CutFault::TooManyDigits { material: demand.material.clone() }
}
