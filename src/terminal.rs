//! What a person at a terminal sees: queries, explanations, errors, progress, and the last line.
//!
//! Queries and messages go to stderr, `explain` and `compare` to stdout; progress is shown on a terminal only.

use std::borrow::Cow;
use std::collections::BTreeSet;
use std::fmt::{self, Display, Write as _};
use std::io::{self, Write as _};
use std::path::Path;

use indicatif::{ProgressBar, ProgressStyle};
use rust_decimal::Decimal;
use sillbook::explain::Explanation;
use sillbook::intake::LeftOut;
use sillbook::length::Units;
use sillbook::money::Currency;
use sillbook::name::steers;
use sillbook::pipeline::{Compared, Progress, RunError, Stage};
use sillbook::place::Sheets;
use sillbook::query::{GatheredQuery, QueryPlace, Severity, Wording};
use sillbook::report::{About, Change, Report};
use sillbook::schema::headings::{self, HEADINGS};
use sillbook::sourcing::Candidate;
use sillbook::survey::{Identity, Survey, SurveyError, UnknownHeading};
use sillbook::tables::{By, ColumnRead};

/// Places of one stop that `run` names; the workbook has the rest.
const PLACES_SHOWN: usize = 3;

/// Headings of one kind that a line names; the sheet `Columns read` has all.
const HEADINGS_SHOWN: usize = 20;

/// Says whole lines on standard error. A terminal that is gone cannot be told that it is.
pub fn say(lines: impl Display) {
    let _ = write!(io::stderr().lock(), "{lines}");
}

/// Prints a result on standard output.
///
/// # Errors
/// If it cannot be written; a reader who has seen enough is no error.
pub fn print(text: impl Display) -> io::Result<()> {
    match write!(io::stdout().lock(), "{text}").and_then(|()| io::stdout().flush()) {
        Err(error) if error.kind() != io::ErrorKind::BrokenPipe => Err(error),
        _ => Ok(()),
    }
}

/// A file that is written, as it was named.
pub struct Wrote<'a>(pub &'a Path);

impl Display for Wrote<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(f, "wrote {}", Plain(&self.0.display().to_string()))
    }
}

/// All that `check` found: how the columns were read, every query, and the last line.
#[derive(Clone, Copy)]
pub struct Found<'a>(pub &'a Report<'a>);

impl Display for Found<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Found(report) = *self;
        let queries =
            Queries { queries: &report.queries, sheets: report.sheets, survey: Some(report.survey) };
        write!(f, "{}{queries}", ColumnsRead(report))?;
        writeln!(f, "{}", last_line(report))
    }
}

/// What is wrong with the run as a whole, and what to do.
pub struct Refusal<'a>(pub &'a dyn Wording);

impl Display for Refusal<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(f, "error: {}", Plain(&self.0.to_string()))?;
        let hint = self.0.hint();
        if hint.is_empty() { Ok(()) } else { writeln!(f, "  hint: {}", Plain(&hint)) }
    }
}

/// A command line that cannot be read, said as every other error is; help and version as they are.
pub struct WrongCommandLine(pub clap::Error);

impl Display for WrongCommandLine {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let text = self.0.to_string();
        if !text.starts_with("error: ") {
            return f.write_str(&text);
        }
        let mut lines = text.lines().map(str::trim);
        let wrong: Vec<&str> = lines.by_ref().take_while(|line| !line.is_empty()).collect();
        let wrong = wrong.join(" ").replace("the following required arguments were not provided:", "missing");
        writeln!(f, "{}", Plain(&wrong))?;
        for line in lines {
            if let Some((_, name)) = line.split_once(" exists: ") {
                return writeln!(f, "  hint: did you mean {}?", Plain(name));
            }
            if let Some(usage) = line.strip_prefix("Usage: ") {
                let is_word = |word: &&str| word.starts_with(|c: char| c.is_ascii_lowercase());
                let command: Vec<&str> = usage.split(' ').take_while(is_word).collect();
                return writeln!(f, "  hint: see {} --help", command.join(" "));
            }
        }
        Ok(())
    }
}

/// A note for each file that is left out, with what to do where a reason is first met.
pub struct LeftOutFiles<'a>(pub &'a [LeftOut]);

impl Display for LeftOutFiles<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (position, file) in self.0.iter().enumerate() {
            writeln!(f, "{}: {}", Severity::Note, Plain(&file.to_string()))?;
            let is_new = self.0[..position].iter().all(|earlier| earlier.why != file.why);
            if is_new && !file.hint().is_empty() {
                writeln!(f, "  hint: {}", Plain(&file.hint()))?;
            }
        }
        Ok(())
    }
}

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

/// What the headings of the surveys were taken as: a line for the tables that are read alike, with
/// the headings that were not taken.
pub struct ColumnsRead<'a>(pub &'a Report<'a>);

impl Display for ColumnsRead<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Report { survey, sheets, .. } = self.0;
        let mut alike: Vec<(String, Vec<String>)> = Vec::new();
        for table in survey.columns.chunk_by(|one, next| one.table == next.table) {
            let words = in_words(table);
            let at = sheets.show(table[0].table);
            match alike.iter_mut().find(|(known, _)| *known == words) {
                Some((_, tables)) => tables.push(at),
                None => alike.push((words, vec![at])),
            }
        }
        for (words, tables) in alike {
            let more = tables.len() - 1;
            let and_more = if more == 0 {
                String::new()
            } else {
                format!(" and {}", counted(more as u64, "more table"))
            };
            writeln!(f, "read {}{and_more}: {}", Plain(&tables[0]), Plain(&words))?;
        }
        Ok(())
    }
}

/// `12 columns; only copied: Finish; not read: Sill Ht. (Sill height?)`.
fn in_words(table: &[ColumnRead]) -> String {
    let taken = table.iter().filter(|read| read.taken.is_some()).count();
    let mut words = vec![counted(taken as u64, "column")];
    for (by, told) in [(By::Carried, "only copied"), (By::NotRead, "not read")] {
        let named = |read: &ColumnRead| match read.nearest {
            Some(column) if by == By::NotRead => format!("{} ({}?)", read.heading, column.name),
            _ => read.heading.clone(),
        };
        let names: Vec<String> =
            table.iter().filter(|read| read.by == by && read.filled > 0).map(named).collect();
        let shown = names.iter().take(HEADINGS_SHOWN).cloned().collect::<Vec<_>>().join(", ");
        match names.len().checked_sub(HEADINGS_SHOWN).filter(|more| *more > 0) {
            _ if names.is_empty() => {}
            None => words.push(format!("{told}: {shown}")),
            Some(more) => words.push(format!("{told}: {shown} and {more} more")),
        }
    }
    words.join("; ")
}

/// Rows for a sheet `Headings`, ready to paste: the headings that are asked about, each with the
/// column that it is probably meant for, if there is one. Nothing where none is.
pub struct HeadingRows<'a>(BTreeSet<[&'a str; 3]>);

impl<'a> HeadingRows<'a> {
    /// Those that queries ask about.
    pub fn of(report: &'a Report<'a>) -> HeadingRows<'a> {
        let asked = report.survey.columns.iter().filter(|read| read.query.is_some());
        let row = |read: &'a ColumnRead| {
            let means = read.nearest.map_or("", |column| column.name);
            [report.sheets.sheet(read.at.sheet), read.heading.as_str(), means]
        };
        HeadingRows(asked.map(row).collect())
    }

    /// Those that may be why a survey seems to have no table of openings.
    pub fn of_refused(error: &'a RunError) -> HeadingRows<'a> {
        let RunError::Survey(SurveyError::NoOpenings { looked_at, .. }) = error else {
            return HeadingRows(BTreeSet::new());
        };
        let unknown = looked_at.iter().flat_map(|table| &table.unknown);
        let row = |known: &'a UnknownHeading| {
            [known.sheet.as_str(), known.heading.as_str(), known.nearest.unwrap_or("")]
        };
        HeadingRows(unknown.map(row).collect())
    }
}

impl Display for HeadingRows<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if !self.0.is_empty() {
            let names = [&headings::SHEET, &headings::HEADING, &headings::MEANS].map(|column| column.name);
            writeln!(f, "{}", names.join("\t"))?;
        }
        self.0.iter().try_for_each(|[sheet, heading, means]| {
            writeln!(f, "{}\t{}\t{means}", Plain(sheet), Plain(heading))
        })
    }
}

/// `  at Openings!F42 (unit 12-04, opening W2): 3/8 in`, as much of it as there is.
fn write_place(
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

/// One opening: its state, every number with its steps, and what is asked about it.
pub struct Explained<'a> {
    /// The opening.
    pub explanation: Explanation<'a>,
    /// The sheets that its steps point into.
    pub sheets: &'a Sheets,
    /// How its lengths are shown.
    pub units: Units,
    /// Of what its prices are.
    pub currency: Currency,
}

impl Explained<'_> {
    /// `stock 66 in x 84 in: 43.20 USD with bracket 6 in, 0 days, 2026-03-01; costs more`.
    fn candidate_in_words(&self, candidate: &Candidate<'_>) -> String {
        let price = match candidate.price {
            Some(price) => self.currency.in_words(price),
            None => "price unknown".to_owned(),
        };
        let besides = candidate.besides.map(|bracket| format!(" with {bracket}")).unwrap_or_default();
        let days = match candidate.lead_days {
            Some(1) => "1 day".to_owned(),
            Some(days) => format!("{days} days"),
            None => "lead time unknown".to_owned(),
        };
        let arrives = candidate.arrives.map(|date| format!(", {date}")).unwrap_or_default();
        let why = candidate.why_not.map(|why| format!("; {why}")).unwrap_or_default();
        format!("{}: {price}{besides}, {days}{arrives}{why}", candidate.what(self.units))
    }
}

impl Display for Explained<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Explanation { who, state, numbers, candidates, queries } = &self.explanation;
        writeln!(f, "{}: {state}\n  at {}", Plain(&who.name), Plain(&self.sheets.show(who.at)))?;
        for number in numbers {
            writeln!(f, "\n{}", number.of.name())?;
            let values: Vec<String> = number.steps.iter().map(|step| step.value.show(self.units)).collect();
            let widest = values.iter().map(|value| value.chars().count()).max().unwrap_or(0);
            for (step, value) in number.steps.iter().zip(&values) {
                write!(f, "  {:<widest$}  {}", Plain(value).to_string(), step.step)?;
                match step.from.show(self.sheets) {
                    Some(source) => writeln!(f, " ({})", Plain(&source))?,
                    None => writeln!(f)?,
                }
            }
        }
        if !candidates.is_empty() {
            writeln!(f, "\ncandidates")?;
        }
        for candidate in candidates {
            let taken = if candidate.why_not.is_none() { "taken" } else { "not taken" };
            writeln!(f, "  {taken:<9}  {}", Plain(&self.candidate_in_words(candidate)))?;
        }
        for (query, place) in queries {
            writeln!(f, "\n{}: {}", query.severity, Plain(&query.message))?;
            write_place(f, place, self.sheets, None)?;
            writeln!(f, "  hint: {}", Plain(&what_to_do(query)))?;
        }
        Ok(())
    }
}

/// Columns of a terminal that a list keeps within.
const LIST_WIDTH: usize = 100;

/// Where the openings stand in a list of changes, and where what is said of them.
const OPENING_AT: usize = 24;
const SAID_AT: usize = 42;

/// What is different between two fit-outs, in three columns: what it is about, which opening, and what is
/// said of it; below that what to do.
pub struct ChangesList<'a>(pub &'a Compared);

impl Display for ChangesList<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Compared { changes, currency } = self.0;
        for change in changes {
            let opening = if change.opening.is_empty() { "-" } else { &change.opening };
            let left = format!("{:<OPENING_AT$}{opening}", change.about.word());
            let mut said = wrapped(&said_of(change, *currency), LIST_WIDTH - SAID_AT);
            if !change.to_do.is_empty() {
                let to_do = wrapped(&format!("-> {}", change.to_do), LIST_WIDTH - SAID_AT);
                said.extend(to_do);
            }
            // A long name of an opening has a line of its own.
            if left.chars().count() < SAID_AT {
                let first = if said.is_empty() { String::new() } else { said.remove(0) };
                writeln!(f, "{}", Plain(format!("{left:<SAID_AT$}{first}").trim_end()))?;
            } else {
                for (line, text) in wrapped(opening, LIST_WIDTH - OPENING_AT).iter().enumerate() {
                    let about = if line == 0 { change.about.word() } else { "" };
                    writeln!(f, "{about:<OPENING_AT$}{}", Plain(text))?;
                }
            }
            for line in said {
                writeln!(f, "{:SAID_AT$}{}", "", Plain(&line))?;
            }
        }
        match changes.len() {
            0 => writeln!(f, "nothing is different, and there is nothing to do"),
            count => writeln!(f, "\n{}", counted(count as u64, "row")),
        }
    }
}

/// `Width: 1200 mm x 1500 mm, now 1210 mm x 1500 mm; line 3, now 7; ordered; 43.20 USD, now 44.10 USD (survey)`.
fn said_of(change: &Change, currency: Option<Currency>) -> String {
    let price =
        |price: Decimal| currency.map_or_else(|| price.to_string(), |currency| currency.in_words(price));
    let [before, now] =
        [&change.before, &change.now].map(|text| Some(text.clone()).filter(|text| !text.is_empty()));
    let is_cell = matches!(change.about, About::Fact | About::Rule);
    let values = match (before, now) {
        (Some(before), None) if is_cell => Some(format!("{before}, now blank")),
        (None, Some(now)) if is_cell => Some(format!("blank, now {now}")),
        (before, now) => now_and_then(before, now),
    };
    let fact = match (change.fact.as_str(), values) {
        ("", values) => values,
        (fact, None) => Some(fact.to_owned()),
        (fact, Some(values)) => Some(format!("{fact}: {values}")),
    };
    let lines = [change.line_before, change.line_now].map(|line| line.map(|line| format!("line {line}")));
    let [line_before, line_now] = lines;
    let costs = match change.about {
        // It has said them already.
        About::Price => None,
        _ => now_and_then(change.cost_before.map(price), change.cost_now.map(price)),
    };
    let state = change.state.map(|state| state.word().to_owned());
    let said = [fact, now_and_then(line_before, line_now), state, costs];
    let said = said.into_iter().flatten().collect::<Vec<_>>().join("; ");
    match change.cause {
        Some(cause) => format!("{said} ({})", cause.word()),
        None => said,
    }
}

/// `line 3, now line 7`; of two that are the same, or of which there is but one, that.
fn now_and_then(before: Option<String>, now: Option<String>) -> Option<String> {
    match (before, now) {
        (Some(before), Some(now)) if before != now => Some(format!("{before}, now {now}")),
        (before, now) => now.or(before),
    }
}

/// A text in lines of at most so many characters, broken between words; a longer word stands alone.
fn wrapped(text: &str, most: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match lines.last_mut() {
            Some(line) if line.chars().count() + 1 + word.chars().count() <= most => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}

/// What to do, with the survey's column that an answer would fill where the words leave it open.
fn what_to_do(query: &GatheredQuery) -> Cow<'_, str> {
    let named = |column: &str| query.hint.to_lowercase().contains(&column.to_lowercase());
    match query.fills() {
        Some(column) if column != HEADINGS.sheet && !named(column) => {
            Cow::Owned(format!("{} (column {column})", query.hint))
        }
        _ => Cow::Borrowed(&query.hint),
    }
}

/// `2 stops and 5 checks in 312 openings; INCOMPLETE: 2 openings are held, 3 provisional`.
pub fn last_line(report: &Report<'_>) -> String {
    let counts = report.counts;
    let stops = counted(report.query_count(Severity::Stop).causes as u64, "stop");
    let checks = counted(report.query_count(Severity::Check).causes as u64, "check");
    let accepted: usize = report.accepted.iter().map(|query| query.places.len()).sum();
    let accepted = if accepted == 0 { String::new() } else { format!(", {accepted} accepted,") };
    let found = format!("{stops} and {checks}{accepted} in {}", counted(counts.openings, "opening"));
    if report.complete() {
        let made = format!("{} in {}", counted(counts.blinds, "blind"), counted(counts.sizes, "size"));
        return format!("{found}; complete: {made}");
    }
    let mut missing = Vec::new();
    let openings = [(counts.held, "held"), (counts.provisional, "provisional")];
    for (count, state) in openings.into_iter().filter(|(count, _)| *count > 0) {
        missing.push(match (missing.is_empty(), count) {
            (true, 1) => format!("1 opening is {state}"),
            (true, _) => format!("{count} openings are {state}"),
            (false, _) => format!("{count} {state}"),
        });
    }
    missing.extend(report.nameless());
    format!("{found}; INCOMPLETE: {}", missing.join(", "))
}

fn counted(count: u64, noun: &str) -> String {
    format!("{count} {noun}{}", if count == 1 { "" } else { "s" })
}

/// Text of a survey on one line, with nothing in it that a terminal would obey.
struct Plain<'a>(&'a str);

impl Display for Plain<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.chars().try_for_each(|c| f.write_char(if steers(c) { char::REPLACEMENT_CHARACTER } else { c }))
    }
}

/// A bar on standard error; no sign of it where that is not a terminal.
pub struct Bar(ProgressBar);

impl Bar {
    /// A bar over all stages of a run.
    pub fn new() -> Bar {
        let bar = ProgressBar::new(Stage::COUNT as u64);
        if let Ok(style) = ProgressStyle::with_template("{bar:24} {msg}") {
            bar.set_style(style);
        }
        Bar(bar)
    }
}

/// The bar goes before anything else is said.
impl Drop for Bar {
    fn drop(&mut self) {
        self.0.finish_and_clear();
    }
}

impl Progress for Bar {
    fn begin(&self, stage: Stage) {
        self.0.set_position(stage.before() as u64);
        self.0.set_message(stage.to_string());
    }
}
