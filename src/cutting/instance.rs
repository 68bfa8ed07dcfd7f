//! A cutting problem in whole units.

use std::collections::BTreeMap;

/// A cutting problem, kerf and trim already counted in. Every item fits a stock
/// that can be bought.
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
    /// Where it comes from.
    pub supply: Supply,
}

/// Where a kind of bar comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Supply {
    /// Bought, as many as are wanted.
    Bought {
        /// What one costs.
        cost: u64,
    },
    /// On hand, and free.
    OnHand {
        /// How many there are.
        count: u64,
    },
}

impl Instance {
    /// `None` if an item has no size or no demand, or fits no stock that can be bought. Items of
    /// one size are taken together.
    pub fn new(items: impl IntoIterator<Item = Item>, stocks: Vec<Stock>) -> Option<Instance> {
        let longest = stocks.iter().filter_map(|stock| stock.cost().map(|_| stock.capacity)).max()?;
        let mut demands: BTreeMap<u64, u64> = BTreeMap::new();
        for item in items {
            if item.size == 0 || item.demand == 0 || item.size > longest {
                return None;
            }
            let demand = demands.entry(item.size).or_default();
            *demand = demand.checked_add(item.demand)?;
        }
        let items = demands.into_iter().rev().map(|(size, demand)| Item { size, demand }).collect();
        Some(Instance { items, stocks })
    }

    /// The items, largest first, no two of one size.
    pub fn items(&self) -> &[Item] {
        &self.items
    }

    /// The stocks, in the order given.
    pub fn stocks(&self) -> &[Stock] {
        &self.stocks
    }

    /// Sizes, largest first.
    pub(super) fn sizes(&self) -> Vec<u64> {
        self.items.iter().map(|item| item.size).collect()
    }

    /// Demands in the order of the sizes.
    pub(super) fn demands(&self) -> Vec<u64> {
        self.items.iter().map(|item| item.demand).collect()
    }

    /// The largest sum of money of which every cost is a whole multiple.
    pub(super) fn common_cost(&self) -> u64 {
        self.stocks.iter().filter_map(Stock::cost).fold(0, greatest_common_divisor)
    }
}

impl Stock {
    /// What one costs; `None` for one on hand.
    pub fn cost(&self) -> Option<u64> {
        match self.supply {
            Supply::Bought { cost } => Some(cost),
            Supply::OnHand { .. } => None,
        }
    }

    /// How many bars there are at most.
    pub fn limit(&self) -> u64 {
        match self.supply {
            Supply::Bought { .. } => u64::MAX,
            Supply::OnHand { count } => count,
        }
    }
}

/// The greatest common divisor; of 0 and a number, that number.
pub(super) fn greatest_common_divisor(a: u64, b: u64) -> u64 {
    let (mut a, mut b) = (a, b);
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a
}
