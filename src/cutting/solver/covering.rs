//! Which bars to buy, before anyone knows how to cut them.
//!
//! However the pieces are weighed, the bars must hold that weight: an inequality in the number of
//! bars of each stock. The cheapest whole bars that agree with several of them cost no more than
//! any plan, and often more than fractions of bars would: a small covering program, with as many
//! variables as there are stocks with a price.

use super::certificate::Weighing;
use super::instance::Instance;
use super::work::Work;

/// So many bars of each stock, by the stock's position.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Bars {
    pub(super) counts: Vec<u64>,
    pub(super) cost: u128,
}

/// Of the bars that can hold the pieces, which are wanted.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Aim {
    /// Those that cost least.
    Cheapest,
    /// Those that can hold most by the last weighing.
    Roomiest,
}

/// Bars for which bars of another stock are spared, at most.
const MOST_FOR_OTHERS: i128 = 32;
/// Work for one choice, for each weighing.
const NODE: u64 = 8;

/// The work ran out before the search came to its end.
pub(super) struct Unfinished;

/// The covering program. What free bars hold is taken off; they are all used.
pub(super) struct Covering {
    needs: Vec<i128>,
    /// Stocks with a price, what holds most for its price last.
    priced: Vec<Priced>,
    free: Vec<u64>,
}

struct Priced {
    stock: usize,
    cost: i128,
    limit: i128,
    /// What a bar holds, by weighing.
    holds: Vec<i128>,
    /// What the stock that holds most for its price holds and costs, of this and those after it.
    densest: Vec<(i128, i128)>,
}

impl Covering {
    pub(super) fn new(instance: &Instance, weighings: &[Weighing]) -> Covering {
        let stocks = instance.stocks();
        // What a free bar without end can hold is no need.
        let tells = |weighing: &&Weighing| {
            let mut held = stocks.iter().zip(&weighing.most);
            held.all(|(stock, most)| stock.cost > 0 || stock.limit.is_some() || *most == 0)
        };
        let weighings: Vec<&Weighing> = weighings.iter().filter(tells).collect();
        let free = stocks.iter().map(|stock| if stock.cost == 0 { stock.limit.unwrap_or(0) } else { 0 });
        let free: Vec<u64> = free.collect();
        let need = |weighing: &&Weighing| {
            let held = weighing.most.iter().zip(&free);
            let pieces = weighing.weights.iter().zip(instance.items());
            let of_all: i128 =
                pieces.map(|(weight, item)| i128::from(*weight) * i128::from(item.demand)).sum();
            let held: i128 = held.map(|(most, bars)| i128::from(*most) * i128::from(*bars)).sum();
            of_all - held
        };
        let needs = weighings.iter().map(need).collect();
        let mut priced: Vec<Priced> = Vec::new();
        for (position, stock) in stocks.iter().enumerate().filter(|(_, stock)| stock.cost > 0) {
            let holds: Vec<i128> = weighings.iter().map(|each| i128::from(each.most[position])).collect();
            let cost = i128::from(stock.cost);
            let limit = stock.limit.map_or(i128::MAX, i128::from);
            let densest = holds.iter().map(|held| (*held, cost)).collect();
            priced.push(Priced { stock: position, cost, limit, holds, densest });
        }
        let last = |stock: &Priced| stock.holds.last().copied().unwrap_or(0);
        priced.sort_by(|a, b| (last(a) * b.cost).cmp(&(last(b) * a.cost)));
        for first in (1..priced.len()).rev() {
            let after = priced[first].densest.clone();
            for (own, other) in priced[first - 1].densest.iter_mut().zip(after) {
                if other.0 * own.1 > own.0 * other.1 {
                    *own = other;
                }
            }
        }
        let most: Vec<i128> = (0..priced.len())
            .map(|at| priced[at].limit.min(most_beside(&priced[at], &priced[at + 1..])))
            .collect();
        for (stock, most) in priced.iter_mut().zip(most) {
            stock.limit = most;
        }
        Covering { needs, priced, free }
    }

    /// The bars of at most this cost that are wanted, if any can hold the pieces.
    ///
    /// # Errors
    /// [`Unfinished`] if the work does not reach to tell.
    pub(super) fn find(
        &self,
        aim: Aim,
        most_cost: u128,
        work: &mut Work,
    ) -> Result<Option<Bars>, Unfinished> {
        let most_cost = i128::try_from(most_cost).unwrap_or(i128::MAX);
        let counts = vec![0; self.priced.len()];
        let mut search = Search { covering: self, aim, most_cost, counts, best: None, work };
        search.look(0, 0, &self.needs);
        let best = search.best;
        if work.is_spent() && (aim == Aim::Cheapest || best.is_none()) {
            return Err(Unfinished);
        }
        Ok(best.map(|(_, counts)| self.bars(&counts)))
    }

    fn bars(&self, bought: &[i128]) -> Bars {
        let mut bars = Bars { counts: self.free.clone(), cost: 0 };
        for (stock, &count) in self.priced.iter().zip(bought) {
            bars.counts[stock.stock] = u64::try_from(count).unwrap_or(u64::MAX);
            bars.cost += (stock.cost * count).unsigned_abs();
        }
        bars
    }
}

/// How many bars of a stock there need be beside others: if some of them hold no more than fewer
/// bars of another stock without end, and cost no less, that many are never needed. Only stocks
/// that come after it count, so that none is spared for one that is spared for it.
fn most_beside(stock: &Priced, others: &[Priced]) -> i128 {
    let mut most = i128::MAX;
    for other in others.iter().filter(|other| other.limit == i128::MAX) {
        for bars in 1..=MOST_FOR_OTHERS {
            let spared = (bars * other.cost + stock.cost - 1) / stock.cost;
            if stock.holds.iter().zip(&other.holds).all(|(own, held)| spared * own <= bars * held) {
                most = most.min(spared - 1);
                break;
            }
        }
    }
    most
}

/// Depth first over the stocks: 0, 1, 2... bars of each, while the money left could still buy
/// enough of the rest.
struct Search<'s> {
    covering: &'s Covering,
    aim: Aim,
    most_cost: i128,
    counts: Vec<i128>,
    /// The best bars so far, and how much room they have left.
    best: Option<(i128, Vec<i128>)>,
    work: &'s mut Work,
}

impl Search<'_> {
    fn look(&mut self, level: usize, spent: i128, needs: &[i128]) {
        let covering = self.covering;
        self.work.spend(NODE * (1 + needs.len() as u64));
        let Some(stock) = covering.priced.get(level) else {
            return self.weigh_up(spent, needs);
        };
        let left = self.most_cost - spent;
        // Saturating at the top only makes the money seem to reach where it does not.
        let reaches = |(need, (held, cost)): (&i128, &(i128, i128))| {
            *need <= 0 || left.saturating_mul(*held) >= need.saturating_mul(*cost)
        };
        if left < 0 || !needs.iter().zip(&stock.densest).all(reaches) {
            return;
        }
        let most = stock.limit.min(left / stock.cost);
        let (mut count, last) = (0, level + 1 == covering.priced.len());
        if last {
            // Nothing is left to choose.
            let least = needs.iter().zip(&stock.holds).map(|(need, held)| (need + held - 1) / (*held).max(1));
            let least = least.fold(0, i128::max);
            count = if self.aim == Aim::Cheapest { least } else { most.max(least) };
        }
        while count <= most && !self.work.is_spent() {
            let needs: Vec<i128> =
                needs.iter().zip(&stock.holds).map(|(need, held)| need - held * count).collect();
            self.counts[level] = count;
            self.look(level + 1, spent + stock.cost * count, &needs);
            if last {
                return;
            }
            count += 1;
        }
    }

    fn weigh_up(&mut self, spent: i128, needs: &[i128]) {
        if spent > self.most_cost || needs.iter().any(|need| *need > 0) {
            return;
        }
        let room = needs.last().map_or(0, |need| -need);
        let better = self.best.as_ref().is_none_or(|(most, _)| self.aim == Aim::Cheapest || room > *most);
        if better {
            self.best = Some((room, self.counts.clone()));
        }
        if self.aim == Aim::Cheapest {
            self.most_cost = spent - 1;
        }
    }
}
