//! The pool of columns: every way to fill a bar that was worth knowing so far.

use std::collections::BTreeMap;

use super::instance::{Instance, Open};
use super::knapsack::Counts;

/// Ways to fill a bar, numbered as they come. They lie end to end in one run of memory, as the
/// master program reads all of them between any two pivots.
pub(super) struct Pool {
    starts: Vec<usize>,
    entries: Vec<(u32, u32)>,
    stocks: Vec<u32>,
    known: BTreeMap<(usize, Counts), u32>,
}

impl Pool {
    pub(super) fn new() -> Pool {
        Pool { starts: vec![0], entries: Vec::new(), stocks: Vec::new(), known: BTreeMap::new() }
    }

    pub(super) fn len(&self) -> u32 {
        self.stocks.len() as u32
    }

    /// The number of a column, new or not.
    pub(super) fn add(&mut self, stock: usize, counts: &Counts) -> u32 {
        if let Some(known) = self.known.get(&(stock, counts.clone())) {
            return *known;
        }
        let number = self.len();
        self.entries.extend(counts.iter().map(|&(item, count)| (item as u32, count as u32)));
        self.starts.push(self.entries.len());
        self.stocks.push(stock as u32);
        self.known.insert((stock, counts.clone()), number);
        number
    }

    pub(super) fn stock(&self, column: u32) -> usize {
        self.stocks[column as usize] as usize
    }

    /// Position of each item and how many of it.
    pub(super) fn entries(&self, column: u32) -> &[(u32, u32)] {
        let column = column as usize;
        &self.entries[self.starts[column]..self.starts[column + 1]]
    }

    pub(super) fn counts(&self, column: u32) -> Counts {
        self.entries(column).iter().map(|&(item, count)| (item as usize, u64::from(count))).collect()
    }

    /// Whether a bar can still be cut like this without a piece too many.
    pub(super) fn suits(&self, column: u32, open: &Open) -> bool {
        open.has(self.stock(column))
            && self
                .entries(column)
                .iter()
                .all(|&(item, count)| u64::from(count) <= open.demands[item as usize])
    }

    /// One column for each open item, of nothing but that item: as many as are cheapest together.
    pub(super) fn add_uniform(&mut self, instance: &Instance, open: &Open) -> Vec<u32> {
        let mut uniform = Vec::new();
        for (position, item) in instance.items().iter().enumerate().filter(|(at, _)| open.demands[*at] > 0) {
            let mut best: Option<(usize, u64)> = None;
            for (at, stock) in instance.stocks().iter().enumerate() {
                let count = (stock.capacity / item.size).min(open.demands[position]);
                if stock.limit.is_some() || count == 0 {
                    continue;
                }
                let dearness =
                    |stock: usize, count: u64| u128::from(instance.stocks()[stock].cost) * u128::from(count);
                if best.is_none_or(|(best, most)| dearness(at, most) < dearness(best, count)) {
                    best = Some((at, count));
                }
            }
            if let Some((stock, count)) = best {
                uniform.push(self.add(stock, &vec![(position, count)]));
            }
        }
        uniform
    }
}
