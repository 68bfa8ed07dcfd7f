//! One opening, as `explain` prints it.

use std::fmt::{self, Display};

use sillbook::explain::Explanation;
use sillbook::length::Units;
use sillbook::money::Currency;
use sillbook::place::Sheets;
use sillbook::sourcing::Candidate;

use super::Plain;
use super::queries::{what_to_do, write_place};

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
