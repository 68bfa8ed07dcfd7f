//! What people say that headings mean. It comes before every name of the schema.

use std::collections::BTreeMap;

use crate::grid::Sheet;
use crate::length::Unit;
use crate::name::squeezed;
use crate::schema::Column;

/// What a person says of one heading.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Meaning {
    /// The column that it is; `None` if it is not needed.
    pub column: Option<&'static Column>,
    /// The unit of its numbers, where the person says so.
    pub unit: Option<Unit>,
    /// Where it is said.
    pub said: Said,
}

/// Where a person says what a heading means.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Said {
    /// On a sheet `Headings`.
    OnHeadings,
    /// In an answer to the query about it.
    InAnswer,
}

/// What people say of the headings of a run.
#[derive(Debug, Default)]
pub struct Meanings {
    /// By sheet and heading, both squeezed; no sheet is every sheet.
    said: BTreeMap<(Option<String>, String), Meaning>,
}

impl Meanings {
    /// Enters what is said of a heading, on one sheet or on all. Gives back what was said of it
    /// before, which stays, if that differs.
    pub fn enter(&mut self, sheet: Option<&str>, heading: &str, meaning: Meaning) -> Option<Meaning> {
        let known = self.said.entry((sheet.map(squeezed), squeezed(heading))).or_insert(meaning);
        let differs = known.column != meaning.column || known.unit != meaning.unit;
        differs.then_some(*known)
    }

    /// What holds on one sheet, by squeezed heading.
    pub(super) fn on(&self, sheet: &Sheet) -> BTreeMap<String, Meaning> {
        let own = Some(squeezed(&sheet.name));
        // Those of every sheet come first, so that the sheet's own take their place.
        let here = self.said.iter().filter(|((on, _), _)| on.is_none() || *on == own);
        here.map(|((_, heading), meaning)| (heading.clone(), *meaning)).collect()
    }
}
