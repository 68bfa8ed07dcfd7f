//! The queries of each opening, found by the opening.

use super::Report;
use crate::query::{Acceptance, GatheredQuery, OpeningIndex, QueryPlace, Severity};

/// Every query that is about an opening, in order of opening, then of the report's queries, those
/// that were accepted last.
pub struct Doubts<'r> {
    queries: Vec<&'r GatheredQuery>,
    /// Opening, position of the query and of the place in it; sorted.
    places: Vec<(OpeningIndex, usize, usize)>,
}

impl<'r> Doubts<'r> {
    /// Sorts the report's queries by opening.
    pub fn of(report: &'r Report<'_>) -> Doubts<'r> {
        let queries: Vec<&GatheredQuery> = report.queries.iter().chain(&report.accepted).collect();
        let mut places: Vec<_> = queries
            .iter()
            .enumerate()
            .flat_map(|(query, gathered)| {
                let opening_of =
                    move |(place, found): (usize, &QueryPlace)| Some((found.opening?, query, place));
                gathered.places.iter().enumerate().filter_map(opening_of)
            })
            .collect();
        places.sort_unstable();
        Doubts { queries, places }
    }

    /// The queries about one opening: stops first, then checks, then notes.
    pub fn about(&self, opening: OpeningIndex) -> impl Iterator<Item = Doubt<'r>> + '_ {
        let from = self.places.partition_point(|place| place.0 < opening);
        self.places[from..].iter().take_while(move |place| place.0 == opening).map(|&(_, query, place)| {
            let query = self.queries[query];
            Doubt { query, place: &query.places[place] }
        })
    }

    /// The codes of the queries about an opening that were accepted.
    pub fn accepted(&self, opening: OpeningIndex) -> impl Iterator<Item = &'static str> + '_ {
        self.about(opening).filter(|doubt| doubt.place.accepted.is_some()).map(|doubt| doubt.query.code)
    }

    /// What holds an opening back.
    pub fn stops(&self, opening: OpeningIndex) -> impl Iterator<Item = Doubt<'r>> + '_ {
        self.about(opening).filter(|doubt| doubt.query.severity == Severity::Stop)
    }
}

/// One query at one opening.
#[derive(Clone, Copy, Debug)]
pub struct Doubt<'r> {
    /// The cause.
    pub query: &'r GatheredQuery,
    /// This place of it.
    pub place: &'r QueryPlace,
}

impl Doubt<'_> {
    /// What is wrong, with what is special to this opening, and who accepted it, in brackets.
    pub fn words(&self) -> String {
        let accepted = self.place.accepted.as_ref().map(Acceptance::words);
        let special = [self.place.detail.as_str(), accepted.as_deref().unwrap_or_default()];
        match special.into_iter().filter(|words| !words.is_empty()).collect::<Vec<_>>().join("; ") {
            special if special.is_empty() => self.query.message.clone(),
            special => format!("{} ({special})", self.query.message),
        }
    }
}
