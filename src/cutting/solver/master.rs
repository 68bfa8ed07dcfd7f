//! The master program of column generation (Gilmore and Gomory, Operations Research 9, 1961):
//! so many bars of each known column that every piece is cut, at least cost.
//!
//! A revised simplex method with a dense inverse. Its numbers are floating-point and only steer:
//! no plan and no bound rests on them. They are the same on every machine all the same, as nothing
//! but sums, differences, products and quotients in a fixed order makes them.

use super::columns::Pool;
use super::instance::Open;
use super::work::Work;

/// What a row's basic variable is.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Basic {
    /// Bars of this column.
    Column(u32),
    /// Pieces cut in excess, or bars of a limited stock left over.
    Surplus(usize),
}

/// Reduced costs nearer to 0 than this share of the dearest bar count as 0: the same share by
/// which pricing lets a column fall short.
pub(super) const TOLERANCE: f64 = 1.0 / 134_217_728.0;
/// A pivot smaller than this would lose too many digits.
const LEAST_PIVOT: f64 = 1e-9;
/// Pivots between two looks at how far the numbers have drifted.
const PIVOTS_PER_LOOK: u32 = 64;
/// Drift of a row, as a share of what it should come to, from which on the inverse is computed afresh.
const MOST_DRIFT: f64 = 1e-6;
/// The right-hand sides that steer the choice of pivots are off by up to this: without, most
/// pivots at several hundred lengths would move nothing.
const SHIFT: f64 = 1e-3;
/// Weights past this start afresh.
const MOST_WEIGHT: f64 = 1e7;
/// No row.
const NONE: u32 = u32::MAX;

/// The rows: pieces to cut of each open item, then bars of each limited stock as a limit from
/// above, all told as "at least" (the limits negated).
pub(super) struct Master {
    pub(super) rows: usize,
    row_of_item: Vec<u32>,
    row_of_stock: Vec<u32>,
    /// The inverse of the basis, row by row.
    inverse: Vec<f64>,
    basis: Vec<Basic>,
    demand: Vec<f64>,
    steered_demand: Vec<f64>,
    /// Values of the basic variables.
    values: Vec<f64>,
    steered: Vec<f64>,
    /// Cost of a bar of each stock.
    costs: Vec<f64>,
    dearest: f64,
    /// Price of each item, and of each stock's limit.
    item_prices: Vec<f64>,
    stock_prices: Vec<f64>,
    duals: Vec<f64>,
    alpha: Vec<f64>,
    pub(super) pivots: u32,
    columns: Vec<(u32, f64)>,
    surplus_weights: Vec<f64>,
    last_line: Vec<f64>,
    last_weight: f64,
    item_ratios: Vec<f64>,
    stock_ratios: Vec<f64>,
}

impl Master {
    /// Starts from a basis of columns with one kind of piece each, which needs no search.
    pub(super) fn new(open: &Open, costs: &[f64], pool: &Pool, uniform: &[u32]) -> Master {
        let mut row_of_item = vec![NONE; open.demands.len()];
        let mut row_of_stock = vec![NONE; open.limits.len()];
        let mut demand = Vec::new();
        for (item, &pieces) in open.demands.iter().enumerate().filter(|(_, pieces)| **pieces > 0) {
            row_of_item[item] = demand.len() as u32;
            demand.push(pieces as f64);
        }
        for (stock, limit) in open.limits.iter().enumerate() {
            if let Some(limit) = limit.filter(|limit| *limit > 0) {
                row_of_stock[stock] = demand.len() as u32;
                demand.push(-(limit as f64));
            }
        }
        let rows = demand.len();
        let mut basis: Vec<Basic> = (0..rows).map(Basic::Surplus).collect();
        let mut inverse = vec![0.0; rows * rows];
        for row in 0..rows {
            inverse[row * rows + row] = -1.0;
        }
        for &column in uniform {
            for &(item, count) in pool.entries(column) {
                let row = row_of_item[item as usize] as usize;
                basis[row] = Basic::Column(column);
                inverse[row * rows + row] = 1.0 / f64::from(count);
            }
        }
        let mut seed = 0x9e37_79b9_7f4a_7c15_u64;
        let mut steered_demand = demand.clone();
        for demand in &mut steered_demand {
            *demand += SHIFT * (0.5 + 0.5 * next_share(&mut seed));
        }
        let dearest = costs.iter().copied().fold(0.0, f64::max);
        let mut master = Master {
            rows,
            row_of_item,
            row_of_stock,
            inverse,
            basis,
            values: demand.clone(),
            steered: demand.clone(),
            demand,
            steered_demand,
            costs: costs.to_vec(),
            dearest,
            item_prices: vec![0.0; open.demands.len()],
            stock_prices: vec![0.0; open.limits.len()],
            duals: vec![0.0; rows],
            alpha: vec![0.0; rows],
            pivots: 0,
            columns: Vec::new(),
            surplus_weights: vec![1.0; rows],
            last_line: vec![0.0; rows],
            last_weight: 0.0,
            item_ratios: vec![0.0; open.demands.len()],
            stock_ratios: vec![0.0; open.limits.len()],
        };
        master.recompute(pool);
        master
    }

    /// Price of each item; 0 for one without a row. None is under 0 once all columns are priced.
    pub(super) fn item_prices(&self) -> &[f64] {
        &self.item_prices
    }

    /// What one more bar of each limited stock would save.
    pub(super) fn stock_prices(&self) -> &[f64] {
        &self.stock_prices
    }

    /// Cost of the solution as it stands.
    pub(super) fn cost(&self, pool: &Pool) -> f64 {
        (0..self.rows).map(|row| self.basic_cost(row, pool) * self.values[row]).sum()
    }

    /// The columns in use and how many bars of each.
    pub(super) fn bars(&self) -> Vec<(u32, f64)> {
        let in_use = self.basis.iter().zip(&self.values);
        in_use
            .filter_map(|(basic, value)| match basic {
                Basic::Column(column) if *value > LEAST_PIVOT => Some((*column, *value)),
                _ => None,
            })
            .collect()
    }

    /// Lets the program use a column.
    pub(super) fn admit(&mut self, column: u32) {
        self.columns.push((column, 1.0));
    }

    /// Brings columns that are likely to be wanted into the basis, one after another, as far as
    /// each is an improvement: fewer and cheaper pivots than to find them one by one.
    pub(super) fn begin_with(&mut self, likely: &[u32], pool: &Pool, work: &mut Work) {
        for &column in likely {
            let stock = pool.stock(column);
            let mut reduced = self.costs[stock] + self.stock_prices[stock];
            for &(item, count) in pool.entries(column) {
                reduced -= self.item_prices[item as usize] * f64::from(count);
            }
            if reduced < -TOLERANCE * self.dearest && !self.enter(Basic::Column(column), 1.0, pool, work) {
                return;
            }
        }
    }

    /// Pivots until no column improves the solution, or the work runs out.
    pub(super) fn optimize(&mut self, pool: &Pool, work: &mut Work) {
        while !work.is_spent() {
            let Some((entering, weight)) = self.entering(pool, work) else {
                return;
            };
            if !self.enter(entering, weight, pool, work) {
                return;
            }
        }
    }

    /// What lowers the cost most for how far it moves the solution (Harris's Devex rule,
    /// Mathematical Programming 5, 1973), with its weight.
    fn entering(&mut self, pool: &Pool, work: &mut Work) -> Option<(Basic, f64)> {
        let tolerance = -TOLERANCE * self.dearest;
        let mut most = 0.0;
        let mut entering = None;
        for (row, dual) in self.duals.iter().enumerate() {
            let ratio = self.last_line[row];
            let weight = &mut self.surplus_weights[row];
            *weight = weight.max(ratio * ratio * self.last_weight);
            if *dual < tolerance && dual * dual > most * *weight {
                most = dual * dual / *weight;
                entering = Some((Basic::Surplus(row), *weight));
            }
        }
        let mut numbers = self.rows;
        for (column, weight) in &mut self.columns {
            let stock = pool.stock(*column);
            let mut reduced = self.costs[stock] + self.stock_prices[stock];
            let mut ratio = -self.stock_ratios[stock];
            let entries = pool.entries(*column);
            numbers += entries.len() * 2 + 2;
            for &(item, count) in entries {
                let count = f64::from(count);
                reduced -= self.item_prices[item as usize] * count;
                ratio += self.item_ratios[item as usize] * count;
            }
            *weight = weight.max(ratio * ratio * self.last_weight);
            if reduced < tolerance && reduced * reduced > most * *weight {
                most = reduced * reduced / *weight;
                entering = Some((Basic::Column(*column), *weight));
            }
        }
        work.spend(numbers as u64);
        if entering.is_some_and(|(_, weight)| weight > MOST_WEIGHT) {
            self.columns.iter_mut().for_each(|(_, weight)| *weight = 1.0);
            self.surplus_weights.fill(1.0);
        }
        entering
    }

    /// Brings a variable into the basis. `false` if the numbers allow no pivot.
    fn enter(&mut self, entering: Basic, weight: f64, pool: &Pool, work: &mut Work) -> bool {
        let reduced = self.direction(entering, pool);
        let mut leaving: Option<usize> = None;
        let mut least = f64::INFINITY;
        for row in 0..self.rows {
            let pivot = self.alpha[row];
            if pivot > LEAST_PIVOT {
                let ratio = self.steered[row].max(0.0) / pivot;
                let better =
                    ratio < least || ratio == least && leaving.is_some_and(|other| self.alpha[other] < pivot);
                if better {
                    least = ratio;
                    leaving = Some(row);
                }
            }
        }
        let Some(leaving) = leaving else {
            return false;
        };
        self.pivot(leaving, entering, reduced, work);
        self.last_weight = weight;
        self.pivots += 1;
        if self.pivots.is_multiple_of(PIVOTS_PER_LOOK) && self.drift(pool) > MOST_DRIFT {
            work.spend((self.rows * self.rows * self.rows) as u64);
            self.invert(pool);
            self.recompute(pool);
        }
        true
    }

    /// How the basic variables change as this one grows; hands back its reduced cost.
    fn direction(&mut self, entering: Basic, pool: &Pool) -> f64 {
        let mut reduced = match entering {
            Basic::Column(column) => self.costs[pool.stock(column)],
            Basic::Surplus(_) => 0.0,
        };
        self.alpha.fill(0.0);
        for (row, number) in self.rows_of(entering, pool) {
            reduced -= self.duals[row] * number;
            for (alpha, line) in self.alpha.iter_mut().zip(self.inverse.chunks_exact(self.rows)) {
                *alpha += line[row] * number;
            }
        }
        reduced
    }

    /// A variable's column: its rows and the numbers in them.
    fn rows_of(&self, basic: Basic, pool: &Pool) -> Vec<(usize, f64)> {
        match basic {
            Basic::Surplus(row) => vec![(row, -1.0)],
            Basic::Column(column) => {
                let row = |row: u32| row as usize;
                let pieces = pool.entries(column).iter();
                let mut rows: Vec<(usize, f64)> = pieces
                    .map(|&(item, count)| (row(self.row_of_item[item as usize]), f64::from(count)))
                    .collect();
                let limit = self.row_of_stock[pool.stock(column)];
                if limit != NONE {
                    rows.push((row(limit), -1.0));
                }
                rows
            }
        }
    }

    fn pivot(&mut self, leaving: usize, entering: Basic, reduced: f64, work: &mut Work) {
        let rows = self.rows;
        let pivot = self.alpha[leaving];
        let (above, rest) = self.inverse.split_at_mut(leaving * rows);
        let (line, below) = rest.split_at_mut(rows);
        for number in line.iter_mut() {
            *number /= pivot;
        }
        let step = self.values[leaving] / pivot;
        let steered_step = self.steered[leaving] / pivot;
        let mut touched = 1;
        let others = above.chunks_exact_mut(rows).chain(below.chunks_exact_mut(rows));
        let others = (0..rows).filter(|row| *row != leaving).zip(others);
        for (row, other) in others {
            let factor = self.alpha[row];
            if factor != 0.0 {
                touched += 1;
                for (number, by) in other.iter_mut().zip(line.iter()) {
                    *number -= factor * by;
                }
                self.values[row] -= factor * step;
                self.steered[row] -= factor * steered_step;
            }
        }
        self.values[leaving] = step;
        self.steered[leaving] = steered_step;
        for (dual, by) in self.duals.iter_mut().zip(line.iter()) {
            *dual += reduced * by;
        }
        self.last_line.copy_from_slice(line);
        self.basis[leaving] = entering;
        self.share_prices();
        work.spend((touched * rows / 2 + 4 * rows) as u64);
    }

    fn share_prices(&mut self) {
        for (item, row) in self.row_of_item.iter().enumerate().filter(|(_, row)| **row != NONE) {
            self.item_prices[item] = self.duals[*row as usize];
            self.item_ratios[item] = self.last_line[*row as usize];
        }
        for (stock, row) in self.row_of_stock.iter().enumerate().filter(|(_, row)| **row != NONE) {
            self.stock_prices[stock] = self.duals[*row as usize];
            self.stock_ratios[stock] = self.last_line[*row as usize];
        }
    }

    fn basic_cost(&self, row: usize, pool: &Pool) -> f64 {
        match self.basis[row] {
            Basic::Column(column) => self.costs[pool.stock(column)],
            Basic::Surplus(_) => 0.0,
        }
    }

    /// Values and duals from the inverse.
    fn recompute(&mut self, pool: &Pool) {
        self.duals.fill(0.0);
        for row in 0..self.rows {
            let line = &self.inverse[row * self.rows..(row + 1) * self.rows];
            self.values[row] = line.iter().zip(&self.demand).map(|(a, b)| a * b).sum();
            self.steered[row] = line.iter().zip(&self.steered_demand).map(|(a, b)| a * b).sum();
            let cost = self.basic_cost(row, pool);
            for (dual, number) in self.duals.iter_mut().zip(line) {
                *dual += cost * number;
            }
        }
        self.share_prices();
    }

    /// The largest difference between what the rows come to and what they should.
    fn drift(&self, pool: &Pool) -> f64 {
        let mut left = self.demand.clone();
        let mut cost_left: f64 = 0.0;
        for (basic, value) in self.basis.iter().zip(&self.values) {
            let mut cost = match basic {
                Basic::Column(column) => self.costs[pool.stock(*column)],
                Basic::Surplus(_) => 0.0,
            };
            for (row, number) in self.rows_of(*basic, pool) {
                left[row] -= number * value;
                cost -= self.duals[row] * number;
            }
            cost_left = cost_left.max(cost.abs());
        }
        let by_row = left.iter().zip(&self.demand).map(|(left, demand)| left.abs() / (1.0 + demand.abs()));
        by_row.fold(cost_left / self.dearest, f64::max)
    }

    /// The inverse afresh from the basis, by Gauss and Jordan with row exchanges.
    fn invert(&mut self, pool: &Pool) {
        let rows = self.rows;
        let mut matrix = vec![0.0; rows * rows];
        for position in 0..rows {
            for (row, number) in self.rows_of(self.basis[position], pool) {
                matrix[row * rows + position] = number;
            }
        }
        let mut inverse = vec![0.0; rows * rows];
        for row in 0..rows {
            inverse[row * rows + row] = 1.0;
        }
        for position in 0..rows {
            let mut best = position;
            for row in position + 1..rows {
                if matrix[row * rows + position].abs() > matrix[best * rows + position].abs() {
                    best = row;
                }
            }
            let pivot = matrix[best * rows + position];
            if pivot.abs() < LEAST_PIVOT {
                return;
            }
            exchange(&mut matrix, rows, position, best);
            exchange(&mut inverse, rows, position, best);
            for number in &mut matrix[position * rows..(position + 1) * rows] {
                *number /= pivot;
            }
            for number in &mut inverse[position * rows..(position + 1) * rows] {
                *number /= pivot;
            }
            for row in (0..rows).filter(|row| *row != position) {
                let factor = matrix[row * rows + position];
                if factor != 0.0 {
                    subtract(&mut matrix, rows, row, position, factor);
                    subtract(&mut inverse, rows, row, position, factor);
                }
            }
        }
        self.inverse = inverse;
    }
}

fn exchange(matrix: &mut [f64], rows: usize, one: usize, other: usize) {
    if one != other {
        for at in 0..rows {
            matrix.swap(one * rows + at, other * rows + at);
        }
    }
}

/// Takes `factor` times one row off another.
fn subtract(matrix: &mut [f64], rows: usize, from: usize, row: usize, factor: f64) {
    for at in 0..rows {
        let by = matrix[row * rows + at];
        if by != 0.0 {
            matrix[from * rows + at] -= factor * by;
        }
    }
}

/// The next of a fixed sequence of shares of one (Steele, Lea and Flood's SplitMix, 2014).
pub(super) fn next_share(seed: &mut u64) -> f64 {
    *seed = seed.wrapping_add(0x9e37_79b9_7f4a_7c15);
    let mut mixed = *seed;
    mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    mixed ^= mixed >> 31;
    (mixed >> 11) as f64 / 9_007_199_254_740_992.0
}

#[cfg(test)]
mod tests {
    use super::super::columns::Pool;
    use super::super::instance::Open;
    use super::super::work::Work;
    use super::{Basic, MOST_DRIFT, Master, PIVOTS_PER_LOOK};

    /// A master program with these basic columns, each as so many of each item, and without a word about its inverse.
    fn with_basis(columns: &[&[(usize, u64)]], surplus: Option<usize>) -> (Master, Pool) {
        let rows = columns.len() + usize::from(surplus.is_some());
        let open = Open { demands: vec![6; rows], limits: vec![None] };
        let mut pool = Pool::new();
        let uniform: Vec<u32> = (0..rows).map(|item| pool.add(0, &vec![(item, 2)])).collect();
        let mut master = Master::new(&open, &[3.0], &pool, &uniform);
        let columns = columns.iter().map(|counts| Basic::Column(pool.add(0, &counts.to_vec())));
        master.basis = columns.chain(surplus.map(Basic::Surplus)).collect();
        (master, pool)
    }

    /// What the inverse makes of each basic column: the unit vectors, if it is one.
    fn product(master: &Master, pool: &Pool) -> Vec<f64> {
        let mut product = vec![0.0; master.rows * master.rows];
        for (position, basic) in master.basis.iter().enumerate() {
            for (row, number) in master.rows_of(*basic, pool) {
                for line in 0..master.rows {
                    product[line * master.rows + position] +=
                        master.inverse[line * master.rows + row] * number;
                }
            }
        }
        product
    }

    fn is_inverse(master: &Master, pool: &Pool) -> bool {
        let product = product(master, pool);
        let wanted = |at: usize| if at / master.rows == at % master.rows { 1.0 } else { 0.0 };
        product.iter().enumerate().all(|(at, number)| (number - wanted(at)).abs() < 1e-9)
    }

    /// What each column has in its rows, and the row of a surplus.
    type Basis = (&'static [&'static [(usize, u64)]], Option<usize>);

    #[test]
    fn an_inverse_computed_afresh_is_that_of_the_basis() {
        let bases: [Basis; 6] = [
            // In turn; the first row has nothing of the first column; one row alone has anything; a surplus.
            (&[&[(0, 2)], &[(0, 1), (1, 1)], &[(2, 3)]], None),
            (&[&[(1, 1), (2, 3)], &[(0, 2), (1, 1)], &[(0, 1), (2, 1)]], None),
            (&[&[(1, 1)], &[(0, 1)]], None),
            (&[&[(2, 1)], &[(1, 1)], &[(0, 1)]], None),
            (&[&[(1, 1)], &[(2, 1)], &[(0, 1)]], None),
            (&[&[(1, 4), (3, 1)], &[(2, 1), (3, 2)], &[(0, 1), (1, 1)]], Some(2)),
        ];
        for (columns, surplus) in bases {
            let (mut master, pool) = with_basis(columns, surplus);
            assert!(!is_inverse(&master, &pool) || columns[0] == [(0, 2)], "the test would say nothing");
            master.inverse.fill(7.0);
            master.invert(&pool);
            assert!(is_inverse(&master, &pool), "{columns:?}: {:?}", product(&master, &pool));
        }
        // Two columns alike have none: what there was stays.
        let (mut master, pool) = with_basis(&[&[(0, 1), (1, 1)], &[(0, 1), (1, 1)]], None);
        let before = master.inverse.clone();
        master.invert(&pool);
        assert_eq!(master.inverse, before);
    }

    #[test]
    fn numbers_that_have_drifted_are_computed_afresh_when_they_are_looked_at() {
        for (pivots, is_looked_at) in [(PIVOTS_PER_LOOK - 1, true), (PIVOTS_PER_LOOK - 2, false)] {
            let open = Open { demands: vec![6; 3], limits: vec![None] };
            let mut pool = Pool::new();
            let uniform: Vec<u32> = (0..3).map(|item| pool.add(0, &vec![(item, 1)])).collect();
            let better = pool.add(0, &vec![(0, 1), (1, 1), (2, 1)]);
            let mut master = Master::new(&open, &[3.0], &pool, &uniform);
            assert!(master.drift(&pool) < MOST_DRIFT);
            master.values[1] += 0.01;
            assert!(master.drift(&pool) > MOST_DRIFT);
            master.pivots = pivots;
            assert!(master.enter(Basic::Column(better), 1.0, &pool, &mut Work(1_000)));
            assert_eq!(master.drift(&pool) < MOST_DRIFT, is_looked_at);
            assert!(is_inverse(&master, &pool));
        }
    }
}
