//! A cutting problem in whole units.

use std::collections::BTreeMap;

use thiserror::Error;

/// A cutting problem, kerf and trim already counted in. Every item fits a stock of which there is
/// no end, so that a plan always exists.
#[derive(Clone, Debug)]
pub struct Instance {
    items: Vec<Item>,
    stocks: Vec<Stock>,
}

/// So many pieces of one size.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Item {
    /// Size, kerf included; above zero.
    pub size: u64,
    /// How many; above zero.
    pub demand: u64,
}

/// A kind of bar.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stock {
    /// What its pieces may come to, each with its kerf.
    pub capacity: u64,
    /// What one costs; 0 for one that is there already.
    pub cost: u64,
    /// How many there are; `None` if as many as are wanted.
    pub limit: Option<u64>,
}

impl Stock {
    pub(super) fn is_free_without_end(&self) -> bool {
        self.cost == 0 && self.limit.is_none()
    }
}

/// Why numbers are no cutting problem.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum Misfit {
    /// An item without size or demand.
    #[error("an item has no size or no demand")]
    Nothing,
    /// An item of this size fits no stock of which there is no end.
    #[error("an item of {0} fits no bar that there is no end of")]
    TooLong(u64),
    /// More pieces or higher costs than are counted exactly.
    #[error("there are more than {MOST_PIECES} pieces, or a bar's length, cost or limit is over {MOST_EACH}")]
    TooLarge,
}

/// Pieces in all, at most.
const MOST_PIECES: u64 = u32::MAX as u64;
/// Cost of one bar, size of one bar, and bars of a limited stock, at most: sums of products of
/// these with the duals and the pieces then stay within 128 bits.
const MOST_EACH: u64 = 1 << 40;

impl Instance {
    /// Items of one size are taken together, and sizes are told in the largest unit of which each
    /// is a whole number: a bar's last fraction of a unit is of no use.
    ///
    /// # Errors
    /// [`Misfit`] with what stands in the way.
    pub fn new(items: impl IntoIterator<Item = Item>, stocks: Vec<Stock>) -> Result<Instance, Misfit> {
        let endless = stocks.iter().filter(|stock| stock.limit.is_none());
        let longest = endless.map(|stock| stock.capacity).max().unwrap_or(0);
        let mut demands: BTreeMap<u64, u64> = BTreeMap::new();
        let mut pieces: u64 = 0;
        for item in items {
            if item.size == 0 || item.demand == 0 {
                return Err(Misfit::Nothing);
            }
            if item.size > longest {
                return Err(Misfit::TooLong(item.size));
            }
            pieces = pieces.saturating_add(item.demand);
            *demands.entry(item.size).or_default() += item.demand.min(MOST_PIECES);
        }
        let too_large = |stock: &Stock| {
            [stock.capacity, stock.cost, stock.limit.unwrap_or(0)].into_iter().any(|each| each > MOST_EACH)
        };
        if pieces > MOST_PIECES || stocks.iter().any(too_large) {
            return Err(Misfit::TooLarge);
        }
        let unit = demands.keys().copied().fold(0, greatest_common_divisor).max(1);
        let in_units = |stock: Stock| Stock { capacity: stock.capacity / unit, ..stock };
        Ok(Instance {
            items: demands
                .into_iter()
                .rev()
                .map(|(size, demand)| Item { size: size / unit, demand })
                .collect(),
            stocks: stocks.into_iter().map(in_units).collect(),
        })
    }

    /// The items, largest first, no two of one size.
    pub fn items(&self) -> &[Item] {
        &self.items
    }

    /// The stocks, in the order given.
    pub fn stocks(&self) -> &[Stock] {
        &self.stocks
    }

    /// The largest sum of money of which every cost is a whole multiple; 0 if all is free.
    pub fn common_cost(&self) -> u64 {
        self.stocks.iter().map(|stock| stock.cost).fold(0, greatest_common_divisor)
    }

    /// Pieces up to this size cost nothing: they fit a free bar of which there is no end.
    pub(super) fn free_size(&self) -> u64 {
        let free = self.stocks.iter().filter(|stock| stock.is_free_without_end());
        free.map(|stock| stock.capacity).max().unwrap_or(0)
    }

    /// The same items off other stocks, of which one without end must hold every item.
    pub(super) fn with_stocks(&self, stocks: Vec<Stock>) -> Instance {
        Instance { items: self.items.clone(), stocks }
    }

    /// Every piece and every bar, none cut yet.
    pub(super) fn whole(&self) -> Open {
        Open {
            demands: self.items.iter().map(|item| item.demand).collect(),
            limits: self.stocks.iter().map(|stock| stock.limit).collect(),
        }
    }
}

/// What is still open of an instance: pieces by item, and bars by stock (`None`: no end).
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Open {
    pub(super) demands: Vec<u64>,
    pub(super) limits: Vec<Option<u64>>,
}

impl Open {
    pub(super) fn is_done(&self) -> bool {
        self.demands.iter().all(|demand| *demand == 0)
    }

    /// Whether there is a bar of this stock left; of a stock of another instance there is none.
    pub(super) fn has(&self, stock: usize) -> bool {
        self.limits.get(stock).is_some_and(|limit| *limit != Some(0))
    }

    /// How many bars can be cut like this before a piece or the stock runs out.
    pub(super) fn repeats(&self, stock: usize, counts: &[(usize, u64)]) -> u64 {
        let by_pieces = counts.iter().map(|&(item, count)| self.demands[item] / count).min().unwrap_or(0);
        by_pieces.min(self.limits[stock].unwrap_or(u64::MAX))
    }

    /// Takes the pieces of `bars` bars and the bars themselves; there must be as many.
    pub(super) fn take(&mut self, stock: usize, counts: &[(usize, u64)], bars: u64) {
        for &(item, count) in counts {
            self.demands[item] -= count * bars;
        }
        if let Some(limit) = &mut self.limits[stock] {
            *limit -= bars;
        }
    }
}

/// The greatest common divisor; of 0 and a number, that number.
fn greatest_common_divisor(a: u64, b: u64) -> u64 {
    let (mut a, mut b) = (a, b);
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a
}
