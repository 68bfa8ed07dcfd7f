//! What is different between two fit-outs, as `compare` prints it.

use std::fmt::{self, Display};

use rust_decimal::Decimal;
use sillbook::money::Currency;
use sillbook::pipeline::Compared;
use sillbook::report::{About, Change};

use super::{Plain, counted};

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
