//! What is different from an earlier fit-out: in the survey, in the blinds, in the order, prices and rules;
//! and what is still to be done. A pure function of what is known at two times.
//!
//! A job that is run again after its own fit-out has nothing here but what is to be done: what is to order,
//! to cancel and to make again holds until somebody says on `Blinds` that it is done. What is to order is
//! one row for each line of the order, with the number of its blinds that nobody has ordered: it is
//! ordered by lines.
//!
//! Rows stand in survey order, each opening's together; then those of openings that are gone, in the order
//! that they had, then lines, prices and rules.

mod cause;
mod facts;
mod homes;
mod lines;
mod memory;
mod openings;
mod orders;
mod place;
mod rules;
mod sizes;
mod twins;
mod typed;

pub use cause::Cause;
pub use memory::Memory;

use std::borrow::Cow;

use rust_decimal::Decimal;

use super::Report;
use crate::schema::blinds::BlindState;
use crate::schema::openings::{BUILDING, UNIT};
use cause::Causes;
use memory::Blinds;
use openings::Pairs;
use place::{Place, PlaceIndex};
use typed::Typed;

/// What stands for the blind of an opening that is held.
const HELD: &str = "held";
/// What stands for blinds where there are none.
const NONE: &str = "none";
/// Names of openings that one cell shows.
const NAMES_SHOWN: usize = 3;

/// What a row is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum About {
    /// An opening that was not there.
    OpeningNew,
    /// An opening that is no longer there.
    OpeningGone,
    /// An opening that is gone and one that is new, which may be one and the same.
    MaybeSame,
    /// What the survey says of an opening.
    Fact,
    /// What an opening gets.
    Size,
    /// A line of the order that was not there.
    LineNew,
    /// A line that nothing is on any more.
    LineGone,
    /// Blinds of a line, or spare louvers, that nobody has ordered yet.
    ToOrder,
    /// Blinds that are ordered and that no opening wants.
    ToCancel,
    /// A blind in whose place another is to be ordered.
    MakeAgain,
    /// The price of a line's blinds.
    Price,
    /// A rule.
    Rule,
}

impl About {
    /// Each of them.
    pub const ALL: [About; 12] = [
        About::OpeningNew,
        About::OpeningGone,
        About::MaybeSame,
        About::Fact,
        About::Size,
        About::LineNew,
        About::LineGone,
        About::ToOrder,
        About::ToCancel,
        About::MakeAgain,
        About::Price,
        About::Rule,
    ];

    /// The word that every output uses.
    pub const fn word(self) -> &'static str {
        match self {
            About::OpeningNew => "opening new",
            About::OpeningGone => "opening gone",
            About::MaybeSame => "maybe the same opening",
            About::Fact => "fact",
            About::Size => "size",
            About::LineNew => "line new",
            About::LineGone => "line gone",
            About::ToOrder => "to order",
            About::ToCancel => "to cancel",
            About::MakeAgain => "make again",
            About::Price => "price",
            About::Rule => "rule",
        }
    }
}

/// One thing that is different, or still to be done. Texts are empty where they do not apply.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change {
    /// What it is about.
    pub about: About,
    /// The building.
    pub building: String,
    /// The unit.
    pub unit: String,
    /// The opening's name; of a line, its first openings'.
    pub opening: String,
    /// What is different of it.
    pub fact: String,
    /// What it was.
    pub before: String,
    /// What it is.
    pub now: String,
    /// The line that it was on.
    pub line_before: Option<usize>,
    /// The line that it is on.
    pub line_now: Option<usize>,
    /// How far its blind has come.
    pub state: Option<BlindState>,
    /// Where it comes from; `None` for what is only to be done.
    pub cause: Option<Cause>,
    /// What one blind cost.
    pub cost_before: Option<Decimal>,
    /// What one blind costs.
    pub cost_now: Option<Decimal>,
    /// What to do, if anything.
    pub to_do: Cow<'static, str>,
}

impl Change {
    fn about(about: About) -> Change {
        Change {
            about,
            building: String::new(),
            unit: String::new(),
            opening: String::new(),
            fact: String::new(),
            before: String::new(),
            now: String::new(),
            line_before: None,
            line_now: None,
            state: None,
            cause: None,
            cost_before: None,
            cost_now: None,
            to_do: Cow::Borrowed(""),
        }
    }

    fn at(self, place: Place<'_>) -> Change {
        let [building, unit] = [&BUILDING, &UNIT].map(|column| place.said(column).into_owned());
        Change { building, unit, opening: place.name().to_owned(), ..self }
    }

    fn meant_for(self, [building, unit, opening]: [&str; 3]) -> Change {
        Change { building: building.to_owned(), unit: unit.to_owned(), opening: opening.to_owned(), ..self }
    }
}

impl Report<'_> {
    /// What is different from the earlier fit-out that the run took up; nothing where it took up none.
    /// Worked out when it is first asked for.
    pub fn changes(&self) -> &[Change] {
        let worked_out = || match self.frozen.earlier.filter(|earlier| !earlier.file.is_empty()) {
            Some(earlier) => between(&Memory::of_earlier(earlier), &Memory::of_report(self)),
            None => Vec::new(),
        };
        self.changes.get_or_init(worked_out)
    }

    /// Whether the run took up an earlier fit-out.
    pub fn is_after_another(&self) -> bool {
        self.frozen.earlier.is_some_and(|earlier| !earlier.file.is_empty())
    }
}

/// What is different `now` from what was `then`, and what is to be done now.
pub fn between(then: &Memory<'_>, now: &Memory<'_>) -> Vec<Change> {
    let both = Both::of(then, now);
    let mut changes = openings::of_survey(&both);
    changes.extend(openings::gone(&both));
    changes.extend(lines::changes(&both));
    changes.extend(lines::prices(&both));
    changes.extend(both.rules.iter().map(rules::Differs::change));
    changes
}

/// Two memories side by side.
struct Both<'b, 'm> {
    then: &'b Memory<'m>,
    now: &'b Memory<'m>,
    /// Which opening of then is which of now.
    pairs: Pairs,
    /// Of each opening of now what differs in its cells.
    facts: Vec<Vec<facts::Differs>>,
    /// The blinds of each opening of then, and what people typed beside them since.
    typed: Typed<'b, 'm>,
    /// The blinds that hang at each opening now, or will.
    hung_now: Vec<Vec<&'b Blinds<'m>>>,
    /// The blinds of each opening of now that are to be made again.
    again: Vec<Vec<orders::Again<'b, 'm>>>,
    /// The blinds that are ordered for openings that the survey has no more.
    homeless: orders::Homeless<'b, 'm>,
    /// The rules that differ.
    rules: Vec<rules::Differs<'m>>,
    causes: Causes,
}

impl<'b, 'm> Both<'b, 'm> {
    fn of(then: &'b Memory<'m>, now: &'b Memory<'m>) -> Both<'b, 'm> {
        let pairs = Pairs::of(then, now);
        let facts = now.openings.iter().zip(&pairs.before);
        let are_units_same = then.units == now.units;
        let facts = facts.map(|(place, before)| match before {
            Some(before) => facts::between(then.openings[*before], *place, now.units, are_units_same),
            None => Vec::new(),
        });
        let facts: Vec<Vec<facts::Differs>> = facts.collect();
        let hung_now = by_opening(now);
        let rules = rules::between(then, now);
        let mut both = Both {
            typed: Typed::of(then, now, &pairs, &hung_now, &facts),
            facts,
            hung_now,
            homeless: orders::Homeless::of(now),
            again: orders::to_make_again(&now.blinds, now.openings.len()),
            causes: Causes::of_rules(&rules, then, now),
            then,
            now,
            pairs,
            rules,
        };
        let of_openings = (0..now.openings.len()).map(|opening| cause::of_opening(&both, opening)).collect();
        both.causes.openings = of_openings;
        both
    }

    /// `3 blinds, 1200 mm x 1500 mm, louver-89 white, outside`.
    fn counted(&self, count: u64, blinds: &Blinds<'_>) -> String {
        let noun = if count == 1 { "blind" } else { "blinds" };
        format!("{count} {noun}, {}", blinds.sort.in_words(self.now.units))
    }
}

/// The blinds that hang at each opening, or will.
fn by_opening<'b, 'm>(memory: &'b Memory<'m>) -> Vec<Vec<&'b Blinds<'m>>> {
    let mut openings = vec![Vec::new(); memory.openings.len()];
    for blinds in &memory.blinds {
        if let Some(opening) = blinds.at {
            openings[opening].push(blinds);
        }
    }
    openings
}

/// `0304/W1, 0305/W1, 0306/W1 and 82 more`.
fn names(memory: &Memory<'_>, openings: &[PlaceIndex]) -> String {
    let shown = openings.iter().take(NAMES_SHOWN).map(|&opening| memory.openings[opening].name());
    let shown = shown.collect::<Vec<_>>().join(", ");
    match openings.len().checked_sub(NAMES_SHOWN).filter(|more| *more > 0) {
        Some(more) => format!("{shown} and {more} more"),
        None => shown,
    }
}
