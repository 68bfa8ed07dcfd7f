//! Column generation (Gilmore and Gomory, Operations Research 9, 1961, and 11, 1963): the master
//! program prices the pieces, a knapsack finds the bars that are worth more than they cost.

use super::bound::{Bound, cost_at_least, unweigh_free};
use super::columns::Pool;
use super::instance::{Instance, Open};
use super::knapsack::Knapsack;
use super::master::{Master, TOLERANCE};
use super::work::Work;

/// The relaxation of a problem: bars in fractions.
pub(super) struct Relaxed {
    /// Columns in use, and bars of each.
    pub(super) bars: Vec<(u32, f64)>,
    /// What no plan for what is open can undercut.
    pub(super) bound: Bound,
}

/// When a relaxation ends.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum End {
    /// As soon as the bound's last whole unit is reached. The bars in fractions may by then waste
    /// all that this unit leaves room for.
    Bound,
    /// When no column is worth more than it costs: nothing is wasted that the last bars of a dive
    /// could need.
    Least,
}

/// Prices in whole numbers: the dearest bar counts so much.
const SCALE: f64 = 68_719_476_736.0;
/// Work for a first look for a column that is worth its cost.
const FIRST_LOOK: u64 = 80_000;
/// Work for one look for a further column without the pieces of those found.
const NEXT_LOOK: u64 = 120_000;
/// Work for all further columns between two optimizations, for each row of the master program.
const MORE_LOOKS: u64 = 60_000;
/// A bound this near below the master's cost, in the least unit of cost, can hardly rise by one.
const NEAR: f64 = 1e-4;
/// What a bar that costs nothing costs the master program, as a share of the dearest: a token,
/// so that it is not cut up for nothing.
const TOKEN: f64 = 1e-4;

/// Costs as the master program sees them.
pub(super) fn steering_costs(instance: &Instance) -> Vec<f64> {
    let dearest = instance.stocks().iter().map(|stock| stock.cost).max().unwrap_or(0).max(1) as f64;
    instance.stocks().iter().map(|stock| (stock.cost as f64).max(TOKEN * dearest)).collect()
}

/// Relaxes what is open, until the `end`, or the bound passes `hopeless`, or the work runs out.
pub(super) fn relax(
    instance: &Instance,
    open: &Open,
    pool: &mut Pool,
    likely: &[u32],
    hopeless: u128,
    end: End,
    work: &mut Work,
) -> Relaxed {
    let costs = steering_costs(instance);
    let scale = SCALE / costs.iter().copied().fold(0.0, f64::max);
    let unit = (instance.common_cost().max(1)) as f64;
    let uniform = pool.add_uniform(instance, open);
    let mut master = Master::new(open, &costs, pool, &uniform);
    for column in (0..pool.len()).filter(|column| pool.suits(*column, open)) {
        master.admit(column);
    }
    let likely: Vec<u32> = likely.iter().copied().filter(|column| pool.suits(*column, open)).collect();
    master.begin_with(&likely, pool, work);
    work.spend((uniform.len() * uniform.len()) as u64);
    let items = instance.items().len();
    let mut bound = Bound { weights: vec![0; items], most: vec![0; costs.len()], cost: 0 };
    while !work.is_spent() {
        master.optimize(pool, work);
        let mut weights: Vec<u64> =
            master.item_prices().iter().map(|price| (price * scale + 0.5).max(0.0) as u64).collect();
        let mut most = vec![0; costs.len()];
        let mut found: Vec<u32> = Vec::new();
        for stock in (0..costs.len()).filter(|stock| open.has(*stock)) {
            let beat = ((costs[stock] + master.stock_prices()[stock]) * scale * (1.0 + TOLERANCE)) as u64 + 1;
            let priced = price(instance, open, stock, &weights, beat, pool, work);
            most[stock] = priced.at_most;
            found.extend(priced.found);
        }
        unweigh_free(instance, &mut weights, &mut most);
        let cost = cost_at_least(instance, open, &weights, &most);
        if cost >= bound.cost {
            bound = Bound { weights, most, cost };
        }
        found.iter().for_each(|column| master.admit(*column));
        let settled = end == End::Bound && bound.cost as f64 >= master.cost(pool) - NEAR * unit;
        if found.is_empty() || settled || bound.cost > hopeless {
            break;
        }
    }
    Relaxed { bars: master.bars(), bound }
}

/// What pricing one stock came to.
struct Priced {
    /// Columns worth more than they cost.
    found: Vec<u32>,
    /// No filling of the stock is worth more.
    at_most: u64,
}

/// Looks for fillings of one stock that are worth more than `beat` and adds them to the pool.
fn price(
    instance: &Instance,
    open: &Open,
    stock: usize,
    weights: &[u64],
    beat: u64,
    pool: &mut Pool,
    work: &mut Work,
) -> Priced {
    let mut found = Vec::new();
    let capacity = instance.stocks()[stock].capacity;
    let sizes = instance.items().iter().map(|item| item.size);
    let mut knapsack = Knapsack::new(sizes, weights, &open.demands);
    let mut look = work.portion(FIRST_LOOK);
    let mut filling = knapsack.fill(capacity, beat, &mut look, |counts| found.push(pool.add(stock, counts)));
    work.give_back(look);
    if filling.counts.is_empty() && !filling.is_proven() {
        filling = knapsack.fill_by_lists(capacity, beat, work);
        if !filling.counts.is_empty() {
            found.push(pool.add(stock, &filling.counts));
        }
    }
    let at_most = filling.at_most;
    // More columns without any of the pieces of the last: one alone moves the prices but little.
    let rows = open.demands.iter().filter(|demand| **demand > 0).count() as u64;
    let mut more = work.portion(MORE_LOOKS * rows);
    while !filling.counts.is_empty() && !more.is_spent() {
        knapsack.leave_out(&filling.counts);
        more.spend(rows);
        let mut look = more.portion(NEXT_LOOK);
        filling = knapsack.fill(capacity, beat, &mut look, |_| {});
        more.give_back(look);
        if !filling.counts.is_empty() {
            found.push(pool.add(stock, &filling.counts));
        }
    }
    work.give_back(more);
    Priced { found, at_most }
}
