//! The check's side of a bound that rests on whole bars: all bars that might hold the pieces for
//! less are tried.

use super::certificate::{Certificate, Doubt, Weighing};
use super::instance::Instance;

/// Numbers of bars that are tried.
const MOST_TRIALS: u64 = 4_000_000;
/// Stocks with a price, at most: trials go as many calls deep.
const MOST_KINDS: usize = 100;

/// Bars of one kind that are looked at together when asked whether others could replace them.
const MOST_SPARED: u128 = 64;

/// What a bar costs, how many there are, and what it holds by each weighing.
struct Kind {
    cost: u128,
    limit: Option<u64>,
    holds: Vec<u128>,
}

/// What the cheapest whole bars cost that can hold the pieces by every weighing, if that is less
/// than `below`.
///
/// # Errors
/// [`Doubt::TooManySteps`] if there is more to try than is allowed.
pub(super) fn cheaper(instance: &Instance, certificate: &Certificate) -> Result<Option<u128>, Doubt> {
    let tells = |weighing: &&Weighing| !held_for_nothing(instance, weighing);
    let weighings: Vec<&Weighing> = certificate.weighings.iter().filter(tells).collect();
    let mut needs: Vec<u128> = weighings.iter().map(|weighing| all_weigh(instance, weighing)).collect();
    let mut kinds = Vec::new();
    for (at, stock) in instance.stocks().iter().enumerate() {
        let holds: Vec<u128> = weighings.iter().map(|weighing| u128::from(weighing.most[at])).collect();
        if stock.cost == 0 {
            // Bars that cost nothing may as well all be used.
            needs = less(&needs, &holds, u128::from(stock.limit.unwrap_or(0)));
        } else {
            kinds.push(Kind { cost: u128::from(stock.cost), limit: stock.limit, holds });
        }
    }
    if kinds.len() > MOST_KINDS {
        return Err(Doubt::TooManySteps);
    }
    // What holds most for its cost last: a few bars of any other are soon too dear.
    let first = |kind: &Kind| kind.holds.first().copied().unwrap_or(0);
    kinds.sort_by(|a, b| (first(a) * b.cost).cmp(&(first(b) * a.cost)));
    spare(&mut kinds);
    let mut trials = MOST_TRIALS;
    cheapest(&kinds, &needs, certificate.cost, &mut trials)
}

/// What all pieces weigh.
pub(super) fn all_weigh(instance: &Instance, weighing: &Weighing) -> u128 {
    let pieces = weighing.weights.iter().zip(instance.items());
    pieces.map(|(weight, item)| u128::from(*weight) * u128::from(item.demand)).sum()
}

/// Lowers limits to what could be needed. Some bars of one kind are not, if so many bars of a
/// later kind without end cost no more and hold no less: those could be bought instead.
fn spare(kinds: &mut [Kind]) {
    for at in 0..kinds.len() {
        let (before, later) = kinds.split_at_mut(at + 1);
        let kind = &mut before[at];
        for other in later.iter().filter(|other| other.limit.is_none()) {
            let enough = |spared: &u128| {
                let instead = spared * kind.cost / other.cost;
                kind.holds.iter().zip(&other.holds).all(|(own, held)| own * spared <= held * instead)
            };
            if let Some(spared) = (1..=MOST_SPARED).find(enough) {
                let most = u64::try_from(spared - 1).unwrap_or(u64::MAX);
                kind.limit = Some(kind.limit.map_or(most, |limit| limit.min(most)));
            }
        }
    }
}

/// Whether bars that cost nothing and have no end hold any weight.
fn held_for_nothing(instance: &Instance, weighing: &Weighing) -> bool {
    let mut stocks = instance.stocks().iter().zip(&weighing.most);
    stocks.any(|(stock, most)| stock.cost == 0 && stock.limit.is_none() && *most > 0)
}

/// What is still needed once there are so many more bars.
fn less(needs: &[u128], holds: &[u128], bars: u128) -> Vec<u128> {
    needs.iter().zip(holds).map(|(need, held)| need.saturating_sub(held.saturating_mul(bars))).collect()
}

/// The least cost under `below` of bars of these kinds that meet all needs.
fn cheapest(kinds: &[Kind], needs: &[u128], below: u128, trials: &mut u64) -> Result<Option<u128>, Doubt> {
    *trials = trials.checked_sub(1).ok_or(Doubt::TooManySteps)?;
    if below == 0 {
        return Ok(None);
    }
    if needs.iter().all(|need| *need == 0) {
        return Ok(Some(0));
    }
    let Some((kind, others)) = kinds.split_first() else {
        return Ok(None);
    };
    let too_little = |(at, need): (usize, &u128)| {
        kinds.iter().all(|kind| !may_meet(*need, kind.holds[at], kind.cost, below - 1))
    };
    if needs.iter().enumerate().any(too_little) {
        return Ok(None);
    }
    let mut least: Option<u128> = None;
    let mut bars: u128 = 0;
    if others.is_empty() {
        // With one kind left there is nothing to choose.
        bars =
            needs.iter().zip(&kind.holds).map(|(need, held)| need.div_ceil(*held.max(&1))).max().unwrap_or(0);
    }
    while kind.limit.is_none_or(|limit| bars <= u128::from(limit)) {
        let spent = bars.saturating_mul(kind.cost);
        let Some(money) = least.unwrap_or(below).checked_sub(spent) else {
            break;
        };
        let rest = less(needs, &kind.holds, bars);
        if let Some(more) = cheapest(others, &rest, money, trials)? {
            least = Some(spent + more);
        }
        bars += 1;
    }
    Ok(least)
}

/// Whether bars of this kind for so much money, fractions included, hold as much as is needed.
/// `true` where that is past 128 bits.
fn may_meet(need: u128, held: u128, cost: u128, money: u128) -> bool {
    match (money.checked_mul(held), need.checked_mul(cost)) {
        (Some(held), Some(needed)) => held >= needed,
        (held, _) => held.is_none(),
    }
}
