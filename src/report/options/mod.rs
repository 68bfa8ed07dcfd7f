//! Choices side by side: what the survey comes to as it stands, what it comes to with each choice, and why
//! the two differ. A choice is a whole run of its own, so that no figure of it is worked out in another way.

mod causes;
mod figures;

pub use figures::{Figures, SectionCost};

use causes::Outcome;

use super::Report;

/// What a choice comes to.
#[derive(Clone, Debug)]
pub struct Choice {
    /// Its name; `None` for the survey as it stands.
    pub name: Option<String>,
    /// What is said of it.
    pub note: String,
    /// What it has of its own, such as `Cost basis: make`.
    pub says: Vec<String>,
    /// Its figures.
    pub figures: Figures,
    /// Why they differ from those of the survey as it stands, in words; none for that itself.
    pub causes: Vec<String>,
}

/// The survey as it stands, which choices are compared with.
#[derive(Debug)]
pub struct AsItStands {
    outcome: Outcome,
    figures: Figures,
}

impl AsItStands {
    /// What a report of the survey as it stands comes to.
    pub fn of(report: &Report<'_>) -> AsItStands {
        AsItStands { outcome: Outcome::of(report), figures: Figures::of(report) }
    }

    /// The survey itself in the list of choices.
    pub fn itself(&self) -> Choice {
        let (note, says, causes) = (String::new(), Vec::new(), Vec::new());
        Choice { name: None, note, says, figures: self.figures.clone(), causes }
    }

    /// The report of a choice compared with it.
    pub fn with(&self, name: &str, note: &str, says: Vec<String>, report: &Report<'_>) -> Choice {
        let figures = Figures::of(report);
        let causes = self.outcome.why(&Outcome::of(report), &self.figures, &figures);
        Choice { name: Some(name.to_owned()), note: note.to_owned(), says, figures, causes }
    }
}
