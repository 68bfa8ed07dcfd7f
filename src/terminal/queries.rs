//! Queries with their places, in full or a line for each kind.

use std::borrow::Cow;
use std::collections::BTreeSet;
use std::fmt::{self, Display};
use std::path::Path;

use sillbook::place::Sheets;
use sillbook::query::{GatheredQuery, QueryPlace, Severity};
use sillbook::report::Report;
use sillbook::schema::headings::HEADINGS;
use sillbook::survey::{Identity, Survey};

use super::{Plain, counted};

/// Places of one stop that `run` names; the workbook has the rest.
const PLACES_SHOWN: usize = 3;

/// Queries from the least grave to the gravest: a terminal shows the last lines, which stand above
/// the result.
const ASCENDING: [Severity; 3] = [Severity::Note, Severity::Check, Severity::Stop];

/// Every query with all its places.
pub struct Queries<'a> {
    /// The queries.
    pub queries: &'a [GatheredQuery],
    /// The sheets that they point into.
    pub sheets: &'a Sheets,
    /// The openings that they are about; `None` where rules alone were read.
    pub survey: Option<&'a Survey>,
}

impl Queries<'_> {
    fn of(&self, severity: Severity) -> impl Iterator<Item = &GatheredQuery> {
        self.queries.iter().filter(move |query| query.severity == severity)
    }

    /// One query with the first of its places.
    fn write(&self, f: &mut fmt::Formatter<'_>, query: &GatheredQuery, places: usize) -> fmt::Result {
        writeln!(f, "{}: {}", query.severity, Plain(&query.message))?;
        for place in query.places.iter().take(places) {
            let opening = place.opening.zip(self.survey);
            let who = opening.and_then(|(index, survey)| Some(&survey.openings.get(index)?.who));
            write_place(f, place, self.sheets, who)?;
        }
        if query.places.len() > places {
            writeln!(f, "  and {} more, on the sheet Queries", query.places.len() - places)?;
        }
        writeln!(f, "  hint: {}", Plain(&what_to_do(query)))
    }
}

impl Display for Queries<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let ascending = ASCENDING.into_iter().flat_map(|severity| self.of(severity));
        for query in ascending {
            self.write(f, query, usize::MAX)?;
        }
        if self.queries.is_empty() { Ok(()) } else { writeln!(f) }
    }
}

/// Queries beside a workbook that has them all: stops in full, a line for each kind of the others.
pub struct InShort<'a> {
    /// What was worked out.
    pub report: &'a Report<'a>,
    /// The workbook, as it was named.
    pub workbook: &'a Path,
}

impl Display for InShort<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Report { queries, sheets, survey, .. } = self.report;
        let all = Queries { queries, sheets, survey: Some(survey) };
        let [note, check, stop] = ASCENDING;
        let mut kinds: Vec<Kind<'_>> = Vec::new();
        for query in all.of(note).chain(all.of(check)) {
            match kinds.iter_mut().find(|kind| kind.0[0].code == query.code) {
                Some(kind) => kind.0.push(query),
                None => kinds.push(Kind(vec![query])),
            }
        }
        kinds.iter().try_for_each(|kind| kind.write(f, self.report))?;
        if !kinds.is_empty() {
            let workbook = self.workbook.display().to_string();
            writeln!(f, "  hint: the sheet Queries of {} has each place and what to do\n", Plain(&workbook))?;
        }
        all.of(stop).try_for_each(|query| all.write(f, query, PLACES_SHOWN))?;
        if all.of(stop).next().is_some() { writeln!(f) } else { Ok(()) }
    }
}

/// Queries of one code, the weightiest first. Never empty.
struct Kind<'a>(Vec<&'a GatheredQuery>);

impl Kind<'_> {
    /// `check: its width is unlike the others, and 1 more of this kind (6 places)`; one place by its name.
    fn write(&self, f: &mut fmt::Formatter<'_>, report: &Report<'_>) -> fmt::Result {
        let first = self.0[0];
        write!(f, "{}: {}", first.severity, Plain(&first.message))?;
        let messages: BTreeSet<&str> = self.0.iter().map(|query| &*query.message).collect();
        if messages.len() > 1 {
            write!(f, ", and {} more of this kind", messages.len() - 1)?;
        }
        let mut places = self.0.iter().flat_map(|query| &query.places);
        match (places.next(), places.count()) {
            (Some(QueryPlace { opening: Some(opening), .. }), 0) => {
                writeln!(f, " ({})", Plain(&report.survey.openings[*opening].who.name))
            }
            (Some(QueryPlace { at: Some(at), .. }), 0) => {
                writeln!(f, " ({})", Plain(&report.sheets.show(*at)))
            }
            (_, more) => writeln!(f, " ({})", counted(more as u64 + 1, "place")),
        }
    }
}

/// `  at Openings!F42 (unit 12-04, opening W2): 3/8 in`, as much of it as there is.
pub(super) fn write_place(
    f: &mut fmt::Formatter<'_>,
    place: &QueryPlace,
    sheets: &Sheets,
    who: Option<&Identity>,
) -> fmt::Result {
    let at = place.at.map(|cell| format!("at {}", sheets.show(cell)));
    let who = who.map(|who| format!("({})", called(who)));
    let place_and_opening = at.into_iter().chain(who).collect::<Vec<_>>().join(" ");
    match (place_and_opening.as_str(), place.detail.as_str()) {
        ("", "") => Ok(()),
        (told, "") | ("", told) => writeln!(f, "  {}", Plain(told)),
        (told, detail) => writeln!(f, "  {}: {}", Plain(told), Plain(detail)),
    }
}

/// `unit 12-04, opening W2`, with the building where there is one.
fn called(who: &Identity) -> String {
    let opening = if who.written.is_empty() { &who.name } else { &who.written };
    let place = [("building", &who.building), ("unit", &who.unit)];
    let known = place.iter().filter(|(_, name)| !name.is_empty());
    known.map(|(word, name)| format!("{word} {name}, ")).chain([format!("opening {opening}")]).collect()
}

/// What to do, with the survey's column that an answer would fill where the words leave it open.
pub(super) fn what_to_do(query: &GatheredQuery) -> Cow<'_, str> {
    let named = |column: &str| query.hint.to_lowercase().contains(&column.to_lowercase());
    match query.fills {
        Some(column) if column != HEADINGS.sheet && !named(column) => {
            Cow::Owned(format!("{} (column {column})", query.hint))
        }
        _ => Cow::Borrowed(&query.hint),
    }
}
