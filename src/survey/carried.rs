//! Columns that the schema does not know, carried through beside each opening.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::name::folded;
use crate::tables::{ReadTable, TableRow};

use super::texts::Texts;

/// The carried columns of every table of the run, those with the same heading under one another.
#[derive(Default)]
pub(super) struct Carried {
    headings: Vec<Arc<str>>,
    /// Position by folded heading, and which of several alike it is.
    places: BTreeMap<(String, usize), usize>,
}

/// For each carried column of one table, its place among those of the run.
pub(super) struct Places(Vec<usize>);

impl Carried {
    /// Enters a table's carried columns.
    pub fn enter(&mut self, table: &ReadTable) -> Places {
        let mut alike: BTreeMap<String, usize> = BTreeMap::new();
        let place = |(heading, _): &(String, _)| {
            let name = folded(heading);
            let count = alike.entry(name.clone()).or_insert(0);
            *count += 1;
            *self.places.entry((name, *count)).or_insert_with(|| {
                self.headings.push(Arc::from(heading.as_str()));
                self.headings.len() - 1
            })
        };
        Places(table.carried.iter().map(place).collect())
    }

    /// The texts of a row, one for each heading of the run; a later source wins where it has any.
    /// Called once every table is entered.
    pub fn texts<'t>(
        &self,
        sources: impl IntoIterator<Item = (&'t Places, &'t TableRow)>,
        texts: &mut Texts,
    ) -> Vec<Arc<str>> {
        if self.headings.is_empty() {
            return Vec::new();
        }
        let mut carried = vec![texts.shared(""); self.headings.len()];
        for (places, row) in sources {
            for (place, text) in places.0.iter().zip(&row.carried).filter(|(_, text)| !text.is_empty()) {
                carried[*place] = texts.shared(text);
            }
        }
        carried
    }

    /// The headings, in the order in which they were first met.
    pub fn into_headings(self) -> Vec<Arc<str>> {
        self.headings
    }
}
