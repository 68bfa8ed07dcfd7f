//! The check through which every cut plan is made. It shares nothing with the solver: it counts
//! in lengths, as the saw does.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::{CutFault, CutPlan, Demand, From, Pattern, Piece, PlanFault, rolls};
use crate::length::Length;
use crate::rules::{CutIn, Saw};

/// What no plan can undercut, in bars and in money.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct AtLeast {
    /// Bars bought; `None` with offcuts on hand or several lengths.
    pub bars: Option<u64>,
    /// Cost; `None` if a bar has no price.
    pub cost: Option<Decimal>,
}

impl CutPlan {
    /// A plan, once every piece of the demand is counted on exactly one bar, no bar holds more than
    /// it gives, no more offcuts are used than there are and no bound is undercut.
    ///
    /// # Errors
    /// [`CutFault::Wrong`] with the first thing that does not agree.
    pub fn checked(demand: &Demand, patterns: Vec<Pattern>, at_least: AtLeast) -> Result<CutPlan, CutFault> {
        let wrong =
            |fault| CutFault::Wrong { material: demand.material.clone(), color: demand.color.clone(), fault };
        for pattern in &patterns {
            check_bar(pattern, demand.saw).map_err(wrong)?;
        }
        check_pieces(demand, &patterns).map_err(wrong)?;
        check_offcuts(demand, &patterns).map_err(wrong)?;
        let torn = match demand.cut_in {
            CutIn::Pieces => rolls::torn_apart(demand, &patterns),
            CutIn::Blinds => Some(rolls::check_rolls(demand, &patterns).map_err(wrong)?),
        };
        let bought = bought(demand, &patterns).map_err(wrong)?;

        let bars = bought.iter().map(|(_, _, count)| count).sum();
        let sums = sums(&bought, &patterns);
        let Some(Sums { cost, used_share }) = sums else {
            return Err(CutFault::TooManyDigits { material: demand.material.clone() });
        };
        // Where any bar on offer has no price, nobody knows what the least cost is.
        let cost = cost.filter(|_| demand.bars.iter().all(|bar| bar.price.is_some()));
        let undercut = at_least.bars.is_some_and(|least| bars < least)
            || at_least.cost.is_some_and(|least| cost.is_some_and(|cost| cost < least));
        if undercut {
            return Err(wrong(PlanFault::UnderBound));
        }
        let proven = match at_least.bars {
            Some(least) => bars == least,
            None => cost.is_some() && cost == at_least.cost,
        };
        Ok(CutPlan {
            material: demand.material.clone(),
            color: demand.color.clone(),
            phase: None,
            kerf: demand.saw.kerf,
            trim: demand.saw.trim,
            least_useful: demand.saw.least_useful,
            pieces: demand.pieces.values().sum(),
            bars,
            bought,
            at_least: at_least.bars,
            cost,
            cost_at_least: at_least.cost,
            proven,
            used_share,
            cut_in: demand.cut_in,
            torn,
            fewest_rolls: None,
            patterns,
        })
    }
}

/// Pieces with a kerf between each two and a trim at both ends must come out of the bar.
fn check_bar(pattern: &Pattern, saw: Saw) -> Result<(), PlanFault> {
    let number = pattern.number;
    if pattern.bars == 0 || pattern.pieces.is_empty() {
        return Err(PlanFault::Empty { number });
    }
    let pieces: Length = pattern.pieces.iter().map(|piece| piece.length).sum();
    let kerfs = pattern.pieces[1..].iter().map(|_| saw.kerf).sum();
    if pieces + kerfs > pattern.stock - saw.trim * 2 {
        return Err(PlanFault::OverFull { number });
    }
    let left = offcut(pattern.stock, &pattern.pieces, saw);
    if pattern.offcut != left {
        return Err(PlanFault::Offcut { number, left });
    }
    Ok(())
}

/// What is left of a bar: its far end stays raw, and the last piece too is cut off with a kerf.
pub(super) fn offcut(stock: Length, pieces: &[Piece], saw: Saw) -> Length {
    let taken: Length = pieces.iter().map(|piece| piece.length + saw.kerf).sum();
    (stock - saw.trim - taken).max(Length::ZERO)
}

fn check_pieces(demand: &Demand, patterns: &[Pattern]) -> Result<(), PlanFault> {
    let mut planned: BTreeMap<Piece, u64> = BTreeMap::new();
    for pattern in patterns {
        for piece in &pattern.pieces {
            let count = planned.entry(*piece).or_default();
            *count = count.saturating_add(pattern.bars);
        }
    }
    for piece in demand.pieces.keys().chain(planned.keys()) {
        let needed = demand.pieces.get(piece).copied().unwrap_or(0);
        let planned = planned.get(piece).copied().unwrap_or(0);
        if needed != planned {
            return Err(PlanFault::Pieces { piece: *piece, needed, planned });
        }
    }
    Ok(())
}

fn check_offcuts(demand: &Demand, patterns: &[Pattern]) -> Result<(), PlanFault> {
    for (length, used) in bars_by_length(patterns, From::Offcut) {
        let on_hand = demand.offcuts.get(&length).copied().unwrap_or(0);
        if used > on_hand {
            return Err(PlanFault::Offcuts { length, used, on_hand });
        }
    }
    Ok(())
}

type Bought = Vec<(Length, Option<Decimal>, u64)>;

/// The bars to buy: length, price and how many, longest first.
fn bought(demand: &Demand, patterns: &[Pattern]) -> Result<Bought, PlanFault> {
    let mut bought = Vec::new();
    for (length, count) in bars_by_length(patterns, From::Bar).into_iter().rev() {
        let of_length = demand.bars.iter().filter(|bar| bar.length == length);
        let Some(price) = of_length.map(|bar| bar.price).min() else {
            return Err(PlanFault::NotOnOffer { length });
        };
        bought.push((length, price, count));
    }
    Ok(bought)
}

fn bars_by_length(patterns: &[Pattern], from: From) -> BTreeMap<Length, u64> {
    let mut bars = BTreeMap::new();
    for pattern in patterns.iter().filter(|pattern| pattern.from == from) {
        *bars.entry(pattern.stock).or_default() += pattern.bars;
    }
    bars
}

struct Sums {
    cost: Option<Decimal>,
    used_share: Decimal,
}

/// `None` where a sum does not fit exact arithmetic.
fn sums(bought: &Bought, patterns: &[Pattern]) -> Option<Sums> {
    let mut cost = Some(Decimal::ZERO);
    for (_, price, count) in bought {
        cost = match (cost, price) {
            (Some(sum), Some(price)) => Some(sum.checked_add(price.checked_mul(Decimal::from(*count))?)?),
            _ => None,
        };
    }
    let (mut used, mut cut) = (0_i128, 0_i128);
    for pattern in patterns {
        let pieces: i128 = pattern.pieces.iter().map(|piece| i128::from(piece.length.nm())).sum();
        used += i128::from(pattern.bars) * pieces;
        cut += i128::from(pattern.bars) * i128::from(pattern.stock.nm());
    }
    let used = Decimal::try_from_i128_with_scale(used, 0).ok()?;
    let cut = Decimal::try_from_i128_with_scale(cut, 0).ok()?;
    Some(Sums { cost, used_share: used.checked_div(cut)? })
}
