//! Sequential value correction (Mukhacheva; Belov and Scheithauer, INFORMS Journal on Computing
//! 19, 2007; from memory): bars are filled one pattern after another with what is worth most, and
//! an item that ended up on wasteful bars is worth more the next time round.

use super::instance::{Instance, Open};
use super::knapsack::{Counts, Knapsack};
use super::plan::Cut;
use super::work::Work;

/// What a unit of size is worth at first: fine enough for the corrections.
const WORTH: u64 = 1_024;

/// Values to start from: what a piece takes of its bar.
pub(super) fn by_size(instance: &Instance) -> Vec<u64> {
    instance.items().iter().map(|item| item.size.saturating_mul(WORTH)).collect()
}

/// Every bar of one stock, largest pieces first: the plan that anyone would make by hand. `None`
/// if not all pieces can come off that stock.
pub(super) fn first_fit_decreasing(instance: &Instance, stock: usize) -> Option<Vec<Cut>> {
    let kind = instance.stocks()[stock];
    if kind.limit.is_some() || instance.items().iter().any(|item| item.size > kind.capacity) {
        return None;
    }
    let mut open = instance.whole();
    let mut cuts = Vec::new();
    while !open.is_done() {
        let mut room = kind.capacity;
        let mut counts = Counts::new();
        for (item, most) in open.demands.iter().enumerate().filter(|(_, most)| **most > 0) {
            let size = instance.items()[item].size;
            let count = (room / size).min(*most);
            if count > 0 {
                counts.push((item, count));
                room -= count * size;
            }
        }
        let bars = open.repeats(stock, &counts);
        open.take(stock, &counts, bars);
        cuts.push(Cut { stock, bars, counts });
    }
    Some(cuts)
}

/// A plan for what is open by the values as they stand; the values learn from it. Each pattern
/// is cut from one `lots`th of the bars it could be cut from: one lot gives few patterns, several
/// leave more choice to the patterns that follow. At most `steps` of work go into one bar.
pub(super) fn fill_in_turn(
    instance: &Instance,
    mut open: Open,
    values: &mut [u64],
    lots: u64,
    steps: u64,
    work: &mut Work,
) -> Vec<Cut> {
    let mut cuts = Vec::new();
    while !open.is_done() {
        let Some((stock, counts)) = choose(instance, &open, values, steps, work) else {
            return Vec::new();
        };
        let bars = open.repeats(stock, &counts).div_ceil(lots);
        open.take(stock, &counts, bars);
        let cut = Cut { stock, bars, counts };
        learn(instance, &cut, &open.demands, values);
        cuts.push(cut);
    }
    cuts
}

/// The stock whose best filling is worth most for its cost, free ones first.
fn choose(
    instance: &Instance,
    open: &Open,
    values: &[u64],
    steps: u64,
    work: &mut Work,
) -> Option<(usize, Counts)> {
    let mut knapsack = Knapsack::new(instance.items().iter().map(|item| item.size), values, &open.demands);
    work.spend(values.len() as u64 * 4);
    let mut best: Option<(u128, u128, usize, Counts)> = None;
    for (position, stock) in instance.stocks().iter().enumerate().filter(|(at, _)| open.has(*at)) {
        let mut portion = work.portion(steps);
        let filling = knapsack.fill(stock.capacity, 0, &mut portion, |_| {});
        work.give_back(portion);
        if filling.counts.is_empty() {
            continue;
        }
        // Between two free stocks, the one that is filled better.
        let free = stock.cost == 0;
        let per = if free { u128::from(stock.capacity) } else { u128::from(stock.cost) };
        let value = u128::from(filling.value);
        let better = best.as_ref().is_none_or(|(other, other_per, other_stock, _)| {
            let other_free = instance.stocks()[*other_stock].cost == 0;
            (free && !other_free) || (free == other_free && value * other_per > other * per)
        });
        if better {
            best = Some((value, per, position, filling.counts));
        }
    }
    best.map(|(_, _, stock, counts)| (stock, counts))
}

/// Moves the value of each item on these bars towards what it cost there: its share of the bar,
/// waste included, and a little more for large items, which are the hard ones to place.
fn learn(instance: &Instance, cut: &Cut, left: &[u64], values: &mut [u64]) {
    let stock = instance.stocks()[cut.stock];
    let Some((ideal_capacity, ideal_cost)) = cheapest_by_capacity(instance) else {
        return;
    };
    if stock.cost == 0 {
        return;
    }
    let used: u64 = cut.counts.iter().map(|&(item, count)| instance.items()[item].size * count).sum();
    let dearness = (u128::from(stock.cost) * u128::from(ideal_capacity) * u128::from(WORTH)
        / u128::from(used.max(1))
        / u128::from(ideal_cost))
    .min(u128::from(4 * WORTH));
    let capacity = u128::from(stock.capacity);
    for &(item, count) in &cut.counts {
        let (size, demand) = (instance.items()[item].size, instance.items()[item].demand);
        let paid = u128::from(size) * dearness * (20 * capacity + u128::from(size)) / (20 * capacity);
        let now = u128::from(count * cut.bars);
        let before = u128::from(demand + left[item]) * 5 / 4 + 1;
        let value = (u128::from(values[item]) * before + paid * now) / (before + now);
        values[item] = u64::try_from(value).unwrap_or(u64::MAX).max(1);
    }
}

/// Capacity and cost of the stock without end that holds most for its cost.
fn cheapest_by_capacity(instance: &Instance) -> Option<(u64, u64)> {
    let endless = instance.stocks().iter().filter(|stock| stock.limit.is_none());
    endless.map(|stock| (stock.capacity, stock.cost.max(1))).reduce(|best, next| {
        let dearer = u128::from(next.1) * u128::from(best.0) >= u128::from(best.1) * u128::from(next.0);
        if dearer { best } else { next }
    })
}
