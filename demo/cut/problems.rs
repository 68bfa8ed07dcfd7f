//! Cutting problems as text: published ones and anyone's own.
//!
//! ```text
//! # A line that begins with # is a comment.
//! instance rails
//! stock 5783 26        # length and cost of a bar; a third word is how many there are, - for no end
//! stock 2383 0 2
//! item 1803 40         # length and how many
//! item 953 120
//! saw 3 10             # kerf, and what comes off each end of a bar; none if nothing is said
//! best 858             # the least cost that is known, if any is
//! end
//! ```
//!
//! `capacity C` stands for `stock C 1`, as in published problems with one bar. Lengths are whole
//! numbers of any unit, as they are measured. `kind` and `source` are for the reader alone.

use std::collections::BTreeSet;

use sillbook::cutting::solver::{Instance, Item, Misfit, Stock};
use thiserror::Error;

/// A problem and what is known of it.
#[derive(Clone, Debug)]
pub struct Problem {
    /// Its name.
    pub name: String,
    /// Bars and pieces.
    pub instance: Instance,
    /// Length of each item's pieces, as the file has it.
    pub lengths: Vec<u64>,
    /// The least cost that is known.
    pub best: Option<u128>,
}

/// Why a text is no list of problems.
#[derive(Debug, Error)]
pub enum Unread {
    /// A line that says nothing known.
    #[error(
        "line {line}: `{text}` is none of instance, capacity, stock, item, saw, best, end, with its numbers"
    )]
    Line {
        /// Its number, from 1.
        line: usize,
        /// What it says.
        text: String,
    },
    /// A line outside `instance` and `end`.
    #[error("line {0} stands outside `instance` and `end`")]
    Outside(usize),
    /// A length that is given twice.
    #[error("line {line}: length {length} was given before; add the numbers up")]
    Twice {
        /// The line's number, from 1.
        line: usize,
        /// The length.
        length: u64,
    },
    /// Numbers that are no cutting problem.
    #[error("`{name}` cannot be cut: {misfit}")]
    Misfit {
        /// The problem's name.
        name: String,
        /// Why not.
        misfit: Misfit,
    },
}

/// A problem whose end is not reached.
#[derive(Default)]
struct Draft {
    name: String,
    stocks: Vec<Stock>,
    items: Vec<Item>,
    lengths: BTreeSet<u64>,
    kerf: u64,
    trim: u64,
    best: Option<u128>,
}

/// The problems of a text, in its order.
///
/// # Errors
/// [`Unread`] with the first line, or problem, that cannot be.
pub fn read(text: &str) -> Result<Vec<Problem>, Unread> {
    let mut problems = Vec::new();
    let mut draft: Option<Draft> = None;
    for (position, text) in text.lines().enumerate() {
        let line = position + 1;
        let words: Vec<&str> = text.split_whitespace().take_while(|word| !word.starts_with('#')).collect();
        match (words.as_slice(), &mut draft) {
            ([], _) => {}
            (["instance", name], none @ None) => {
                *none = Some(Draft { name: (*name).into(), ..Draft::default() })
            }
            (["end"], some @ Some(_)) => problems.extend(some.take().map(finished).transpose()?),
            (["kind" | "source", ..], Some(_)) => {}
            (words, Some(draft)) => draft.add(line, words, text)?,
            (_, None) => return Err(Unread::Outside(line)),
        }
    }
    match draft {
        None => Ok(problems),
        Some(_) => Err(Unread::Outside(text.lines().count())),
    }
}

impl Draft {
    fn add(&mut self, line: usize, words: &[&str], text: &str) -> Result<(), Unread> {
        let unread = || Unread::Line { line, text: text.into() };
        let number = |word: &str| word.parse::<u64>().map_err(|_| unread());
        match words {
            ["capacity", capacity] => {
                self.stocks.push(Stock { capacity: number(capacity)?, cost: 1, limit: None });
            }
            ["stock", capacity, cost] | ["stock", capacity, cost, "-"] => {
                self.stocks.push(Stock { capacity: number(capacity)?, cost: number(cost)?, limit: None });
            }
            ["stock", capacity, cost, limit] => self.stocks.push(Stock {
                capacity: number(capacity)?,
                cost: number(cost)?,
                limit: Some(number(limit)?),
            }),
            ["item", size, demand] => {
                let item = Item { size: number(size)?, demand: number(demand)? };
                if !self.lengths.insert(item.size) {
                    return Err(Unread::Twice { line, length: item.size });
                }
                self.items.push(item);
            }
            ["saw", kerf, trim] => (self.kerf, self.trim) = (number(kerf)?, number(trim)?),
            ["best", best, ..] => self.best = Some(number(best)?.into()),
            _ => return Err(unread()),
        }
        Ok(())
    }
}

/// A kerf goes with every piece: the last one's is beyond the end of what a bar gives.
fn finished(draft: Draft) -> Result<Problem, Unread> {
    let Draft { name, stocks, items, lengths, kerf, trim, best } = draft;
    let items = items.into_iter().map(|item| Item { size: item.size.saturating_add(kerf), ..item });
    let usable = |bar: u64| bar.saturating_sub(trim.saturating_mul(2));
    let stocks = stocks.into_iter().map(|stock| match usable(stock.capacity) {
        0 => Stock { capacity: 0, ..stock },
        usable => Stock { capacity: usable.saturating_add(kerf), ..stock },
    });
    match Instance::new(items, stocks.collect()) {
        Ok(instance) => Ok(Problem { name, instance, lengths: lengths.into_iter().rev().collect(), best }),
        Err(misfit) => Err(Unread::Misfit { name, misfit }),
    }
}
