//! What a person at a terminal sees: queries, explanations, errors, progress, and the last line.

use std::fmt::{self, Display, Write};
use std::io::{self, Write as _};

use indicatif::{ProgressBar, ProgressStyle};
use sillbook::exchange::rows::shown_source;
use sillbook::explain::Explanation;
use sillbook::length::Units;
use sillbook::pipeline::{Progress, Stage};
use sillbook::place::Sheets;
use sillbook::query::{GatheredQuery, QueryPlace, Severity, Wording};
use sillbook::report::Report;
use sillbook::survey::{Identity, Survey};

/// Places of one query that are shown; the rest are counted.
const PLACES_SHOWN: usize = 5;

/// Says something on standard error. A terminal that is gone cannot be told that it is.
pub fn say(text: impl Display) {
    let _ = writeln!(io::stderr().lock(), "{text}");
}

/// Hands over a result on standard output.
///
/// # Errors
/// If it cannot be written; a reader who has seen enough is no error.
pub fn hand_over(text: impl Display) -> io::Result<()> {
    match write!(io::stdout().lock(), "{text}") {
        Err(error) if error.kind() != io::ErrorKind::BrokenPipe => Err(error),
        _ => Ok(()),
    }
}

/// An error in two lines: what is wrong and what to do.
pub fn error(wording: &dyn Wording) -> String {
    let hint = wording.hint();
    let mut text = format!("error: {}", Plain(&wording.to_string()));
    if !hint.is_empty() {
        text += &format!("\n  hint: {}", Plain(&hint));
    }
    text
}

/// Every query in full but for its places: the first few of them, then a count. Queries that no
/// survey was read for have no openings to name.
pub fn queries(queries: &[GatheredQuery], sheets: &Sheets, survey: Option<&Survey>) -> String {
    let mut text = String::new();
    for query in queries {
        text += &format!("{}: {}\n", query.severity, Plain(&query.message));
        for place in query.places.iter().take(PLACES_SHOWN) {
            if let Some(line) = place_line(place, sheets, survey) {
                text += &format!("  {line}\n");
            }
        }
        if query.places.len() > PLACES_SHOWN {
            let more = query.places.len() - PLACES_SHOWN;
            text += &format!("  and {more} more (the sheet Queries of a run lists them all)\n");
        }
        text += &format!("  hint: {}\n\n", Plain(&query.hint));
    }
    text
}

/// `at Openings!F42 (unit 12-04, opening W2): 3/8 in`; `None` for a query about the run as a whole.
fn place_line(place: &QueryPlace, sheets: &Sheets, survey: Option<&Survey>) -> Option<String> {
    let who = place.opening.zip(survey).and_then(|(index, survey)| survey.openings.get(index));
    let who = who.map(|opening| called(&opening.who));
    let at = place.at.map(|cell| sheets.show(cell));
    let line = match (at, who) {
        (Some(at), Some(who)) => format!("at {at} ({who})"),
        (Some(at), None) => format!("at {at}"),
        (None, Some(who)) => format!("at {who}"),
        (None, None) if place.detail.is_empty() => return None,
        (None, None) => return Some(Plain(&place.detail).to_string()),
    };
    let line = Plain(&line).to_string();
    Some(if place.detail.is_empty() { line } else { format!("{line}: {}", Plain(&place.detail)) })
}

/// `unit 12-04, opening W2`, with the building where there is one.
fn called(who: &Identity) -> String {
    let opening = if who.written.is_empty() { &who.name } else { &who.written };
    let place = [("building", &who.building), ("unit", &who.unit)];
    let known = place.iter().filter(|(_, name)| !name.is_empty());
    known.map(|(word, name)| format!("{word} {name}, ")).chain([format!("opening {opening}")]).collect()
}

/// One opening: its state, every number with its steps, and what is asked about it.
pub fn explanation(explanation: &Explanation<'_>, sheets: &Sheets, units: Units) -> String {
    let who = explanation.who;
    let mut text =
        format!("{}: {}\n  at {}\n", Plain(&who.name), explanation.state, Plain(&sheets.show(who.at)));
    for number in &explanation.numbers {
        text += &format!("\n{}\n", number.of);
        let values: Vec<String> = number.steps.iter().map(|step| step.value.show(units)).collect();
        let widest = values.iter().map(|value| value.chars().count()).max().unwrap_or(0);
        for (step, value) in number.steps.iter().zip(&values) {
            let from = shown_source(step.from, sheets).map(|from| format!(" ({})", Plain(&from)));
            text += &format!(
                "  {:<widest$}  {}{}\n",
                Plain(value).to_string(),
                step.step,
                from.unwrap_or_default()
            );
        }
    }
    for (query, place) in &explanation.queries {
        text += &format!("\n{}: {}\n", query.severity, Plain(&query.message));
        if let Some(line) = place_line(&QueryPlace { opening: None, ..(*place).clone() }, sheets, None) {
            text += &format!("  {line}\n");
        }
        text += &format!("  hint: {}\n", Plain(&query.hint));
    }
    text
}

/// `2 stops and 5 checks in 312 openings; INCOMPLETE: 2 openings are held, 3 provisional`.
pub fn last_line(report: &Report<'_>) -> String {
    let counts = report.counts;
    let stops = counted(report.query_count(Severity::Stop).causes as u64, "stop");
    let checks = counted(report.query_count(Severity::Check).causes as u64, "check");
    let found = format!("{stops} and {checks} in {}", counted(counts.openings, "opening"));
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
    match report.nameless_rows() {
        0 => {}
        1 => missing.push("1 row names no opening".to_owned()),
        rows => missing.push(format!("{rows} rows name no opening")),
    }
    format!("{found}; INCOMPLETE: {}", missing.join(", "))
}

fn counted(count: u64, noun: &str) -> String {
    format!("{count} {noun}{}", if count == 1 { "" } else { "s" })
}

/// Text of a survey on one line, with nothing in it that a terminal would obey.
struct Plain<'a>(&'a str);

impl Display for Plain<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0
            .chars()
            .try_for_each(|c| f.write_char(if c.is_control() { char::REPLACEMENT_CHARACTER } else { c }))
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
