//! What people typed over the printed figures of an earlier `Cost summary`, taken up.
//!
//! A price, a rate or a share takes the place of the survey's own before any stage works, so that it
//! decides all that the survey's would: which stock size is taken, which fixing, which bars. What is
//! ordered does not move for it: its size, its source and its price are frozen. Where the survey's own
//! figure is no longer the printed one, someone changed both: the survey's stands, and both are shown.
//!
//! A quantity, and a price that no rule gives (of fixings not chosen yet), belong to one line of the cost
//! and are taken up there.
//!
//! A figure that is taken up is printed again beside the survey's own, so that it lasts from run to run
//! until the survey changes.

use rust_decimal::Decimal;

use super::priced::{self, As, Priced};
use super::{RuleUsed, Rules};
use crate::place::CellRef;
use crate::query::{Checked, Entry, Query, queries};
use crate::rounding::same_as_stored;

/// Which figure of a row was typed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Figure {
    /// The price of one, an hourly rate or a share.
    Rate,
    /// How many, or how many minutes.
    Quantity,
}

/// A figure that a person typed over the one that was printed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TypedFigure {
    /// The lasting name of its row.
    pub known_as: String,
    /// Which figure of the row.
    pub figure: Figure,
    /// What was printed; `None` for an unknown one.
    pub printed: Option<Decimal>,
    /// What was typed; `None` where it was cleared, so that it is unknown now.
    pub typed: Option<Decimal>,
    /// Its cell.
    pub at: CellRef,
}

/// What became of the figures that were typed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct TypedFigures {
    /// Those that are in the rules now.
    pub taken: Vec<TypedFigure>,
    /// Those that are of a line of the cost.
    pub of_lines: Vec<TypedFigure>,
}

/// Every query of this room.
pub(crate) const QUERIES: &[Entry] = TypedQuery::ENTRIES;

queries! {
    /// What became of a figure that was typed on `Cost summary`.
    pub(crate) enum TypedQuery {
        Price: Note, "price-typed",
            "a price, a rate or a share that was typed on Cost summary is used"
            => "to keep it apart from the earlier fit-out, enter it in the survey too";
        PriceChanged: Check, "price-typed-and-changed",
            "a price was typed on Cost summary, and the survey has another since; the survey's is used"
            => "enter the right one in the survey, or type it again on Cost summary of this fit-out";
        Quantity: Note, "quantity-typed",
            "a quantity that was typed on Cost summary is used"
            => "order, cut list and hardware still have what was counted";
        QuantityChanged: Check, "quantity-typed-and-changed",
            "a quantity was typed on Cost summary, and another is counted since; the count is used"
            => "type it again on Cost summary of this fit-out if it still holds";
        Unused: Check, "typed-price-unused",
            "something was typed on a row of Cost summary that is no longer there, so it is not used"
            => "enter it in the survey, or on another row, if it still matters";
        Cleared: Check, "typed-price-cleared",
            "a rate that must be known was cleared on Cost summary; the survey's is used"
            => "type 0 there if nothing is charged";
        TooGreat: Check, "typed-share-too-great",
            "a share that was typed on Cost summary is more than it can be; the survey's is used"
            => "type 8 percent as 8% or as 0.08";
        Differ: Check, "typed-prices-differ",
            "prices that do not agree were typed for one part, by the piece and by the pack; one is used"
            => "change the other so that both agree";
        OfOrdered: Check, "price-typed-of-ordered",
            "a price was typed on Cost summary for blinds that are ordered; it is not used"
            => "what is ordered costs Price each on its rows of Blinds: change it there";
    }
}

impl TypedFigure {
    /// Whether the survey's own figure is still the printed one.
    pub fn is_over(&self, now: Option<Decimal>) -> bool {
        is_same(self.printed, now)
    }

    /// Whether the survey says by now what was typed.
    pub fn is_settled(&self, now: Option<Decimal>) -> bool {
        is_same(self.typed, now)
    }

    /// What is asked or told about it; `now` is the survey's own figure.
    pub(crate) fn query(&self, asked: &TypedQuery, now: Option<Decimal>) -> Query {
        let [typed, printed, now] = [self.typed, self.printed, now].map(shown);
        let now = if now == printed { String::new() } else { format!(", now {now}") };
        let detail = format!("{}: {typed} typed, {printed} printed{now}", self.known_as);
        Query::new(asked, Some(self.at)).with_detail(detail)
    }
}

fn shown(figure: Option<Decimal>) -> String {
    figure.map_or_else(|| "unknown".to_owned(), |figure| figure.normalize().to_string())
}

/// Whether two figures are one; an unknown one is like no other.
pub fn is_same(one: Option<Decimal>, other: Option<Decimal>) -> bool {
    match (one, other) {
        (Some(one), Some(other)) => same_as_stored(one, other),
        (one, other) => one == other,
    }
}

impl TypedFigures {
    /// The survey's own rate in the place of one that is in the rules.
    pub fn printed_rate(&self, known_as: &str, rate: Option<Decimal>) -> Option<Decimal> {
        let taken = self.taken.iter().find(|taken| taken.known_as == known_as);
        taken.map_or(rate, |taken| taken.printed)
    }
}

/// What became of one figure.
struct Outcome {
    what: TypedQuery,
    /// The survey's own figure.
    now: Option<Decimal>,
}

/// A rule that has another value now.
struct Noted {
    rule: (&'static str, String, &'static str),
    /// What else to call it where its item has several rows.
    name: String,
    value: Option<Decimal>,
    at: CellRef,
}

impl Rules {
    /// The rules with what was typed in place of the survey's own figures.
    pub fn with_typed(mut self, typed: &[TypedFigure]) -> Checked<Rules> {
        let mut outcomes: Vec<Option<Outcome>> = typed.iter().map(|_| None).collect();
        let mut settled = vec![false; typed.len()];
        let mut noted = Vec::new();
        for figure in typed {
            priced::list(&mut self.prices, &figure.known_as);
        }
        for priced in &mut priced::all(&mut self) {
            take_up(priced, typed, &mut outcomes, &mut settled, &mut noted);
        }
        for noted in noted {
            self.note(noted);
        }
        let mut queries = Vec::new();
        for ((figure, outcome), settled) in typed.iter().zip(outcomes).zip(settled) {
            match outcome {
                Some(Outcome { what, now }) => {
                    queries.push(figure.query(&what, now));
                    if what == TypedQuery::Price {
                        self.typed.taken.push(figure.clone());
                    }
                }
                None if !settled => self.typed.of_lines.push(figure.clone()),
                None => {}
            }
        }
        Checked { value: self, queries }
    }

    /// Enters a value in the list of those used; where the item has several rows there, on a row of its own.
    fn note(&mut self, noted: Noted) {
        let (table, item, rule) = noted.rule;
        let is_it = |used: &&mut RuleUsed| used.table == table && used.item == item && used.rule == rule;
        let mut rows: Vec<&mut RuleUsed> = self.used.iter_mut().filter(is_it).collect();
        let value = shown(noted.value);
        let why = "typed on Cost summary of the earlier fit-out".to_owned();
        if let [used] = rows.as_mut_slice() {
            **used = RuleUsed { value, at: Some(noted.at), why, example: false, ..(**used).clone() };
        } else {
            let item = if rows.is_empty() { item } else { noted.name };
            self.used.push(RuleUsed { table, item, rule, value, at: Some(noted.at), why, example: false });
        }
    }
}

/// Puts what was typed for one figure of the rules in its place.
fn take_up(
    priced: &mut Priced<'_>,
    typed: &[TypedFigure],
    outcomes: &mut [Option<Outcome>],
    settled: &mut [bool],
    noted: &mut Vec<Noted>,
) {
    let own = priced.value.now();
    let mut put: Option<Option<Decimal>> = None;
    for (place, figure) in typed.iter().enumerate().filter(|(_, figure)| figure.figure == Figure::Rate) {
        let Some(shown_as) = named(priced, &figure.known_as) else { continue };
        let now = own.map(|own| shown_as.shown(own));
        // Of two stock sizes of one name one may have had the printed price.
        let was_taken = matches!(&outcomes[place], Some(Outcome { what: TypedQuery::Price, .. }));
        if figure.is_settled(now) {
            settled[place] = true;
            continue;
        }
        let meant = figure.typed.map(|typed| shown_as.meant(typed));
        let too_great = meant.zip(priced.most).is_some_and(|(meant, most)| meant > most);
        let what = match put {
            _ if !figure.is_over(now) => TypedQuery::PriceChanged,
            _ if too_great => TypedQuery::TooGreat,
            Some(before) if is_same(before.map(|before| shown_as.shown(before)), figure.typed) => {
                TypedQuery::Price
            }
            Some(_) => TypedQuery::Differ,
            None if priced.value.put(meant) => {
                put = Some(meant);
                if let Some((example, at)) = &mut priced.source {
                    (**example, **at) = (false, Some(figure.at));
                }
                let (table, item, column) = &priced.rule;
                noted.push(Noted {
                    rule: (table, item.clone(), column.name),
                    name: figure.known_as.clone(),
                    value: meant,
                    at: figure.at,
                });
                TypedQuery::Price
            }
            None => TypedQuery::Cleared,
        };
        if !was_taken {
            outcomes[place] = Some(Outcome { what, now });
        }
    }
}

/// How a figure is shown under a name; `None` if it has not that name.
fn named(priced: &Priced<'_>, known_as: &str) -> Option<As> {
    priced.names.iter().find(|(name, _)| name == known_as).map(|(_, shown)| *shown)
}
