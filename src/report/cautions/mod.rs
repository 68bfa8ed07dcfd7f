//! What a fitter must know before drilling, chosen by the facts of a unit's openings: each caution once
//! a page, with its source. A fact that is not known keeps the caution that it would have lifted.
//!
//! A caution is one entry of `list`: at which openings it applies, its words, and where it comes from.
//! Where a query of the openings says the same, the page says it once, here; one that was accepted
//! stands at its opening all the same, with who accepted it.

mod lifting;
mod list;
mod years;

use rust_decimal::Decimal;

use super::{Doubts, Report};
use crate::fitting::Blind;
use crate::length::Length;
use crate::query::OpeningIndex;
use crate::rules::{Project, Rates, Rules};
use crate::survey::{Facts, Identity};

use list::{Entry, LIST};

/// What stands below a unit's cautions, once a page.
pub const CODES_AND_TRADES: &str = "Check your local code, and a licensed trade where it applies. What names no source is common practice, no source.";

/// Where a caution comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Basis {
    /// A standard or a law, by title and number.
    Written {
        /// Its title.
        title: &'static str,
        /// Its number.
        number: &'static str,
        /// Whether what it says is given from memory.
        from_memory: bool,
    },
    /// What is usually done.
    Practice,
    /// What is remembered, without a title.
    Memory,
}

/// One caution of a unit, which is worked out when it is asked for.
#[derive(Clone, Copy)]
pub struct Caution<'c> {
    entry: &'static Entry,
    report: &'c Report<'c>,
    doubts: &'c Doubts<'c>,
    openings: &'c [OpeningIndex],
}

/// One opening with its blind, and what is known of it.
struct Hangs<'c> {
    opening: OpeningIndex,
    who: &'c Identity,
    facts: &'c Facts,
    blind: &'c Blind<'c>,
    doubts: &'c Doubts<'c>,
    project: &'c Project,
}

/// The openings at which a caution applies.
struct At<'c> {
    hanging: Vec<Hangs<'c>>,
    /// Whether no other opening of the unit has a blind.
    is_everywhere: bool,
    project: &'c Project,
    rates: &'c Rates,
}

impl Basis {
    /// In words; empty where a page says nothing of it.
    pub fn on_page(self) -> String {
        match self {
            Basis::Practice => String::new(),
            other => other.words(),
        }
    }

    /// In words.
    pub fn words(self) -> String {
        match self {
            Basis::Written { title, number, from_memory } => {
                format!("{title}, {number}{}", if from_memory { ", from memory" } else { "" })
            }
            Basis::Practice => "common practice, no source".to_owned(),
            Basis::Memory => "from memory".to_owned(),
        }
    }
}

impl<'c> Caution<'c> {
    /// Its name, which lasts.
    pub const fn code(self) -> &'static str {
        self.entry.code
    }

    /// What to watch for.
    pub fn words(self) -> String {
        let hanging: Vec<Hangs<'_>> = self.at().collect();
        let blinds = self.openings.iter().filter(|&&opening| self.report.blinds[opening].is_some());
        let Rules { project, rates, .. } = self.report.rules;
        (self.entry.words)(&At { is_everywhere: hanging.len() == blinds.count(), hanging, project, rates })
    }

    /// Where it comes from.
    pub const fn basis(self) -> Basis {
        self.entry.basis
    }

    /// The openings that it is about.
    pub fn openings(self) -> Vec<OpeningIndex> {
        self.at().map(|hangs| hangs.opening).collect()
    }

    /// The caution with its source, as a page says it.
    pub fn on_page(self) -> String {
        match self.basis().on_page() {
            none if none.is_empty() => self.words(),
            source => format!("{} ({source})", self.words()),
        }
    }

    fn at(self) -> impl Iterator<Item = Hangs<'c>> {
        let hanging = self.openings.iter().filter_map(move |&opening| self.hangs(opening));
        hanging.filter(move |hangs| (self.entry.applies)(hangs))
    }

    fn hangs(self, opening: OpeningIndex) -> Option<Hangs<'c>> {
        let survey = &self.report.survey.openings[opening];
        Some(Hangs {
            opening,
            who: &survey.who,
            facts: survey.facts.as_ref()?,
            blind: self.report.blinds[opening].as_ref()?,
            doubts: self.doubts,
            project: &self.report.rules.project,
        })
    }
}

impl Hangs<'_> {
    /// Its id, which is unique in its unit; as shown, if it has none.
    fn name(&self) -> &str {
        if self.who.written.is_empty() { &self.who.name } else { &self.who.written }
    }

    fn bracket_top(&self) -> Option<Length> {
        self.blind.fitted.brackets.top_above_floor
    }

    /// Whether a query of that code is asked about it, or was and is accepted.
    fn is_asked(&self, code: &str) -> bool {
        self.doubts.about(self.opening).any(|doubt| doubt.query.code == code)
    }

    /// How heavy a lift it is for one person.
    fn lifting_index(&self) -> Decimal {
        lifting::index(self.blind.fitted.weight, self.bracket_top())
    }
}

impl Report<'_> {
    /// What to watch for at these openings of a unit, in the order in which it is met; nothing where no
    /// blind hangs.
    pub fn cautions<'c>(
        &'c self,
        doubts: &'c Doubts<'c>,
        openings: &'c [OpeningIndex],
    ) -> impl Iterator<Item = Caution<'c>> {
        let all = LIST.iter().map(move |entry| Caution { entry, report: self, doubts, openings });
        all.filter(|caution| caution.at().next().is_some())
    }

    /// How heavy the heaviest lift at these openings is for one person, by the NIOSH equation; `None`
    /// without a blind.
    pub fn lifting_index(&self, openings: &[OpeningIndex]) -> Option<Decimal> {
        let fitted = openings.iter().filter_map(|&opening| Some(&self.blinds[opening].as_ref()?.fitted));
        fitted.map(|fitted| lifting::index(fitted.weight, fitted.brackets.top_above_floor)).max()
    }
}

/// Whether a query is told once for a whole unit.
pub(super) fn tells(code: &str) -> bool {
    LIST.iter().any(|entry| entry.tells == Some(code))
}
