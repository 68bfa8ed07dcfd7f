//! Queries: what a person must answer or look at, raised by every stage and gathered by cause.
//!
//! They are sorted by severity, then by the openings they are about, quantities counted (a place
//! that is about none counts as one), then by their first place.
//!
//! An answer fills one column of `Openings`; where several would do, or a rule sheet or the site
//! must change, a query has none and the hint says so.

mod accept;
mod answer;
mod entry;
mod queries;

pub(crate) use self::queries::QUERIES;
pub use accept::accept;
pub use answer::{Acceptance, Answer, Taken};
pub(crate) use entry::queries;
pub use entry::{Asks, Entry, Fills};

use std::cmp::Reverse;
use std::collections::BTreeMap;
use std::fmt::{self, Display};

use crate::place::CellRef;

/// How much a query holds back.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// The opening is held back until this is answered.
    Stop,
    /// Sized all the same, but someone should look.
    Check,
    /// Worth knowing.
    Note,
}

impl Severity {
    /// `stop`, `check` or `note`.
    pub const fn word(self) -> &'static str {
        match self {
            Severity::Stop => "stop",
            Severity::Check => "check",
            Severity::Note => "note",
        }
    }
}

impl Display for Severity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}

/// Who a query is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Reader {
    /// Whoever measures, makes, buys or fits.
    Everyone,
    /// Whoever chooses and pays: a fitter's page leaves it out.
    Office,
}

/// Position of an opening in the survey's list of openings.
pub type OpeningIndex = usize;

/// The words for something wrong. `Display` says what it is, in lower case at the start and without
/// a full stop; the same words are the same cause.
pub trait Wording: Display {
    /// What to do about it.
    fn hint(&self) -> String;
}

/// The hint beside what was likely a slip of the key.
pub(crate) fn did_you_mean(name: &str) -> String {
    format!("did you mean \"{name}\"?")
}

/// The same where there is a name that is near enough, else other words.
pub(crate) fn did_you_mean_or(nearest: Option<&str>, otherwise: &str) -> String {
    nearest.map_or_else(|| otherwise.to_owned(), did_you_mean)
}

/// One doubt at one place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Query {
    /// The short lasting name of the doubt.
    pub code: &'static str,
    /// What it holds back.
    pub severity: Severity,
    /// What is wrong. Queries with the same code, severity, message and hint have the same cause.
    pub message: String,
    /// What to do.
    pub hint: String,
    /// The heading of the column of `Openings` that an answer would fill, if there is just one.
    pub fills: Option<&'static str>,
    /// Who it is for.
    pub reader: Reader,
    /// The cell to look at, if there is one.
    pub at: Option<CellRef>,
    /// The opening it is about, if it is about one.
    pub opening: Option<OpeningIndex>,
    /// What is special to this place, such as the measured spread; may be empty.
    pub detail: String,
    /// What stands in the place that an answer would fill, where that is no cell of an opening's
    /// row; else empty.
    pub as_read: String,
    /// Who accepted it, where someone did.
    pub accepted: Option<Acceptance>,
}

impl Query {
    /// What a room asks, raised at a place.
    pub fn new(asked: &dyn Asks, at: Option<CellRef>) -> Query {
        let Entry { code, severity } = asked.entry();
        Query {
            code,
            severity,
            message: asked.to_string(),
            hint: asked.hint(),
            fills: asked.fills(),
            reader: asked.reader(),
            at,
            opening: None,
            detail: String::new(),
            as_read: String::new(),
            accepted: None,
        }
    }

    /// The same query about one opening.
    pub fn about(mut self, opening: OpeningIndex) -> Query {
        self.opening = Some(opening);
        self
    }

    /// The same query with what is special to this place.
    pub fn with_detail(mut self, detail: impl Into<String>) -> Query {
        self.detail = detail.into();
        self
    }

    /// The same query with what stands in the place that an answer would fill.
    pub fn reading(mut self, as_read: impl Into<String>) -> Query {
        self.as_read = as_read.into();
        self
    }
}

/// A value with what must be asked about it.
#[derive(Clone, Debug)]
pub struct Checked<T> {
    /// The stage's result.
    pub value: T,
    /// Its queries, in survey order.
    pub queries: Vec<Query>,
}

impl<T> Checked<Vec<T>> {
    /// What was worked out one by one, in order: the values, and all their queries after one another.
    pub fn one_by_one((value, asked): (Vec<T>, Vec<Vec<Query>>)) -> Checked<Vec<T>> {
        Checked { value, queries: asked.into_iter().flatten().collect() }
    }
}

impl<T> Checked<T> {
    /// The value; its queries go to those of the run.
    pub fn into_value(self, queries: &mut Vec<Query>) -> T {
        queries.extend(self.queries);
        self.value
    }
}

/// Proof that a stop was raised: the only way to hold an opening back is
/// [`Record::hold`](crate::worked::Record::hold), so none is held in silence.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Held(pub(crate) ());

/// One cause with all the places where it was found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct GatheredQuery {
    /// The short lasting name of the doubt.
    pub code: &'static str,
    /// What it holds back.
    pub severity: Severity,
    /// What is wrong.
    pub message: String,
    /// What to do.
    pub hint: String,
    /// Who it is for.
    pub reader: Reader,
    /// The heading of the column of `Openings` that an answer would fill, where it is the same one
    /// at every place.
    pub fills: Option<&'static str>,
    /// Where, in survey order.
    pub places: Vec<QueryPlace>,
}

impl GatheredQuery {
    /// How much it holds back: the openings that it is about, by quantity, each once; a place that
    /// is about none counts as one.
    fn weight(&self, quantity: impl Fn(OpeningIndex) -> u32) -> u64 {
        // Places are sorted, so those of one opening stand together.
        let repeated = |pair: &[QueryPlace]| pair[0].opening.is_some() && pair[0].opening == pair[1].opening;
        let of = |place: &QueryPlace| place.opening.map_or(1, |opening| u64::from(quantity(opening)));
        let all: u64 = self.places.iter().map(of).sum();
        let twice: u64 = self.places.windows(2).filter(|pair| repeated(pair)).map(|pair| of(&pair[1])).sum();
        all - twice
    }
}

/// One place of a gathered query. Places are in survey order: what is about no opening first,
/// then by opening and cell.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct QueryPlace {
    /// The opening it is about.
    pub opening: Option<OpeningIndex>,
    /// The cell to look at.
    pub at: Option<CellRef>,
    /// The heading of the column of `Openings` that an answer would fill, if there is just one.
    pub fills: Option<&'static str>,
    /// What is special to this place.
    pub detail: String,
    /// What stands in the place that an answer would fill, where that is no cell of an opening's
    /// row; else empty.
    pub as_read: String,
    /// Who accepted it, where someone did.
    pub accepted: Option<Acceptance>,
}

/// Gathers queries by cause: the same code, severity, message and hint. Stops come first, then checks,
/// then notes, each by how much it holds back, most first, and then in survey order of its first
/// place; a query raised twice at one place counts once. `quantity` is what the row of an opening
/// stands for. The result does not depend on the order of `queries`.
pub fn gather(queries: Vec<Query>, quantity: impl Fn(OpeningIndex) -> u32) -> Vec<GatheredQuery> {
    let mut causes: BTreeMap<(Severity, String, String, Reader, &'static str), Vec<QueryPlace>> =
        BTreeMap::new();
    for Query { code, severity, message, hint, fills, reader, at, opening, detail, as_read, accepted } in
        queries
    {
        let place = QueryPlace { opening, at, fills, detail, as_read, accepted };
        causes.entry((severity, message, hint, reader, code)).or_default().push(place);
    }
    let mut gathered: Vec<(u64, GatheredQuery)> = causes
        .into_iter()
        .map(|((severity, message, hint, reader, code), mut places)| {
            places.sort_unstable();
            places.dedup();
            let fills = places.first().and_then(|place| place.fills);
            let fills = fills.filter(|fills| places.iter().all(|place| place.fills == Some(*fills)));
            let cause = GatheredQuery { code, severity, message, hint, reader, fills, places };
            (cause.weight(&quantity), cause)
        })
        .collect();
    // A stable sort: causes that are alike in all of this stay in order of their words. A detail is
    // no part of the place, for it is written in the survey's units.
    gathered.sort_by_key(|(weight, cause)| {
        let first = cause.places.first().map(|place| (place.opening, place.at));
        (cause.severity, Reverse(*weight), first)
    });
    gathered.into_iter().map(|(_, cause)| cause).collect()
}
