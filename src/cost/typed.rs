//! What was typed for lines of the cost, as they are entered: quantities, and prices that no rule gives.

use std::collections::BTreeSet;

use rust_decimal::Decimal;

use super::rate::Rate;
use super::{Input, RateFrom, RateOf};
use crate::query::Query;
use crate::rules::{Figure, Rules, SHARE, TAX, TypedFigure, TypedFigures, TypedQuery, known_as};

/// The typed figures, and what became of those of lines.
pub(super) struct Typed {
    all: TypedFigures,
    /// For each of those of lines, whether its line is there.
    met: Vec<bool>,
    queries: Vec<Query>,
}

impl Typed {
    pub fn new(rules: &Rules) -> Typed {
        let met = vec![false; rules.typed.of_lines.len()];
        Typed { all: rules.typed.clone(), met, queries: Vec::new() }
    }

    /// The survey's own rate in the place of one that was typed into the rules.
    pub fn printed_rate(&self, known_as: &str, rate: Option<Decimal>) -> Option<Decimal> {
        self.all.printed_rate(known_as, rate)
    }

    /// The rate of a line: that which was typed, if it is the line's own and nobody changed it since.
    pub fn rate(&mut self, known_as: &str, listed: Rate) -> Rate {
        let Some(typed) = self.of_line(known_as, Figure::Rate) else { return listed };
        match listed.of {
            RateOf::AsOrdered => {
                self.raise(&typed, &TypedQuery::OfOrdered, listed.price);
                listed
            }
            _ if !typed.is_over(listed.price) => {
                self.raise(&typed, &TypedQuery::PriceChanged, listed.price);
                listed
            }
            _ => {
                self.raise(&typed, &TypedQuery::Price, listed.price);
                listed.typed(typed.typed, typed.at)
            }
        }
    }

    /// The quantity of a line: that which was typed, as long as as many are counted as were then.
    pub fn quantity(&mut self, known_as: &str, counted: Option<Decimal>) -> Option<Decimal> {
        let Some(typed) = self.of_line(known_as, Figure::Quantity) else { return counted };
        if typed.is_over(counted) {
            self.raise(&typed, &TypedQuery::Quantity, counted);
            typed.typed
        } else {
            self.raise(&typed, &TypedQuery::QuantityChanged, counted);
            counted
        }
    }

    /// What was typed for a line, which is met by that.
    fn of_line(&mut self, known_as: &str, figure: Figure) -> Option<TypedFigure> {
        let is_it = |typed: &TypedFigure| typed.known_as == known_as && typed.figure == figure;
        let place = self.all.of_lines.iter().position(is_it)?;
        self.met[place] = true;
        Some(self.all.of_lines[place].clone())
    }

    /// Says what became of it, unless the survey says the same by now.
    fn raise(&mut self, typed: &TypedFigure, what: &TypedQuery, now: Option<Decimal>) {
        if !typed.is_settled(now) {
            self.queries.push(typed.query(what, now));
        }
    }

    /// Typed prices of the rules that nothing shown follows: a price may be the reason why nothing does.
    pub fn inputs_beside(&self, shown: &BTreeSet<String>) -> Vec<Input> {
        let tax = known_as(TAX, SHARE);
        let taken = self.all.taken.iter();
        let left = taken.filter(|taken| taken.known_as != tax && !shown.contains(&taken.known_as));
        left.filter_map(|taken| {
            let (name, unit) = taken.known_as.rsplit_once(", ")?;
            Some(Input {
                name: name.to_owned(),
                unit: unit.to_owned().into(),
                value: taken.typed,
                printed: taken.printed,
                from: RateFrom::Cell(taken.at),
            })
        })
        .collect()
    }

    /// What is said and asked, also of lines that are not there any more.
    pub fn queries(&self) -> Vec<Query> {
        let gone = self.all.of_lines.iter().zip(&self.met).filter(|(_, met)| !**met);
        let gone = gone.map(|(typed, _)| typed.query(&TypedQuery::Unused, typed.printed));
        self.queries.iter().cloned().chain(gone).collect()
    }
}
