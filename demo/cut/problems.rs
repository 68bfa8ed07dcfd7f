//! Cutting problems as text: published ones and anyone's own.
//!
//! ```text
//! # A line that begins with # is a comment.
//! instance rails
//! stock 5783 26        # length and cost of a bar; a third word is how many there are, - for no end
//! stock 2383 0 2
//! item 1803 40         # length and how many
//! item 953 120
//! best 858             # the least cost that is known, if any is
//! end
//! ```
//!
//! `capacity C` stands for `stock C 1`, as in published problems with one bar. Lengths are whole
//! numbers of any unit; kerf and trims are counted in by who writes the file: a kerf on to each
//! piece, and a bar less both trims and with a kerf. `kind` and `source` are for the reader alone.

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
    /// The least cost that is known.
    pub best: Option<u128>,
}

/// Why a text is no list of problems.
#[derive(Debug, Error)]
pub enum Unread {
    /// A line that says nothing known.
    #[error("line {line}: `{text}` is none of instance, capacity, stock, item, best, end, with its numbers")]
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
    sizes: BTreeSet<u64>,
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
                if !self.sizes.insert(item.size) {
                    return Err(Unread::Twice { line, length: item.size });
                }
                self.items.push(item);
            }
            ["best", best, ..] => self.best = Some(number(best)?.into()),
            _ => return Err(unread()),
        }
        Ok(())
    }
}

fn finished(draft: Draft) -> Result<Problem, Unread> {
    match Instance::new(draft.items, draft.stocks) {
        Ok(instance) => Ok(Problem { name: draft.name, instance, best: draft.best }),
        Err(misfit) => Err(Unread::Misfit { name: draft.name, misfit }),
    }
}
