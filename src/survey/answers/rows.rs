//! The rows that answers may be for, by every way to name them.

use std::collections::HashMap;

use crate::grid::{Grid, Sheet};
use crate::length::Unit;
use crate::name::{self, folded, squeezed};
use crate::query::OpeningIndex;
use crate::schema::Column;
use crate::survey::queries::AnswerQuery;
use crate::survey::{Identity, Layout};

use super::RowKey;

pub(super) struct Rows<'o> {
    openings: &'o [(RowKey, Identity)],
    /// By the name as shown, which no two openings share.
    shown: HashMap<String, OpeningIndex>,
    /// By id, unit and id, building, unit and id, and the shown name, without spaces.
    loose: HashMap<String, Vec<OpeningIndex>>,
    layouts: &'o [Layout<'o>],
}

impl<'o> Rows<'o> {
    pub fn new(layouts: &'o [Layout<'o>], openings: &'o [(RowKey, Identity)]) -> Rows<'o> {
        let mut shown = HashMap::with_capacity(openings.len());
        let mut loose: HashMap<String, Vec<OpeningIndex>> = HashMap::with_capacity(openings.len());
        for (index, (_, who)) in openings.iter().enumerate() {
            shown.insert(folded(&who.name), index);
            let id = &who.written;
            let mut names = vec![who.name.to_string()];
            if !id.is_empty() {
                names.extend([
                    id.to_string(),
                    format!("{}/{id}", who.shown_unit()),
                    format!("{}/{}/{id}", who.building, who.shown_unit()),
                ]);
            }
            let mut names: Vec<String> = names.iter().map(|name| squeezed(name)).collect();
            names.sort_unstable();
            names.dedup();
            for name in names {
                loose.entry(name).or_default().push(index);
            }
        }
        Rows { openings, shown, loose, layouts }
    }

    /// The row that an answer of a survey is for.
    pub fn find(&self, written: &str, from: &Grid) -> Result<RowKey, AnswerQuery> {
        if let Some(index) = self.shown.get(&folded(written)) {
            return Ok(self.openings[*index].0);
        }
        let named = self.loose.get(&squeezed(written)).map_or(&[][..], Vec::as_slice);
        let own = || named.iter().filter(|&&index| *self.openings[index].1.survey == *from.survey);
        match (named, own().next(), own().nth(1)) {
            ([index], ..) | (_, Some(index), None) => Ok(self.openings[*index].0),
            ([], ..) => self.by_place(written, from).ok_or(AnswerQuery::UnknownOpening),
            _ => Err(AnswerQuery::SeveralOpenings),
        }
    }

    /// `Openings!F42` or `Openings row 42`, with the survey's name before it where there are several.
    fn by_place(&self, written: &str, from: &Grid) -> Option<RowKey> {
        let digits = written.len() - written.trim_end_matches(|letter: char| letter.is_ascii_digit()).len();
        let (before, row) = written.split_at(written.len() - digits);
        let row = row.parse::<u32>().ok()?.checked_sub(1)?;
        let place = before.trim_end_matches(|letter: char| letter.is_ascii_uppercase() || letter == '$');
        let sheet = match place.strip_suffix('!') {
            Some(sheet) => sheet,
            None => before.trim_end().strip_suffix("row")?,
        };
        let sheet = squeezed(sheet);
        self.layouts.iter().find_map(|layout| {
            let survey = &layout.grid().survey;
            let is_named = |known: &&Sheet| {
                squeezed(&known.name) == sheet && *survey == from.survey
                    || squeezed(&format!("{survey} {}", known.name)) == sheet
            };
            layout.grid().sheets.iter().find(is_named).map(|sheet| (sheet.id, row))
        })
    }

    /// The name that is most like one that no opening has.
    pub fn nearest(&self, written: &str) -> Option<&'o str> {
        name::nearest(written, self.openings.iter().map(|(_, who)| &*who.name))
    }

    /// The unit that the heading over a row's own cell names.
    pub fn heading_unit(&self, row: RowKey, column: &Column) -> Option<Unit> {
        self.layouts.iter().find_map(|layout| layout.heading_unit(row, column))
    }
}
