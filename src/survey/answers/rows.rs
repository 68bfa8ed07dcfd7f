//! The rows that answers may be for, by every way to name them.

use std::collections::HashMap;

use crate::grid::{Grid, Sheet};
use crate::name::{self, folded, squeezed};
use crate::place::{CellRef, MOST_COLUMNS, SheetId};
use crate::query::OpeningIndex;
use crate::survey::Identity;
use crate::survey::queries::AnswerQuery;

use super::{EveryRow, RowKey};

pub(super) struct Rows<'o> {
    grids: &'o [Grid],
    every: &'o EveryRow<'o>,
    openings: &'o [(RowKey, Identity)],
    /// By the name as shown, which no two openings share.
    shown: HashMap<String, OpeningIndex>,
    /// By id, unit and id, building, unit and id, and the shown name, without spaces.
    loose: HashMap<String, Vec<OpeningIndex>>,
}

impl<'o> Rows<'o> {
    pub fn new(grids: &'o [Grid], every: &'o EveryRow<'o>, openings: &'o [(RowKey, Identity)]) -> Rows<'o> {
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
        Rows { grids, every, openings, shown, loose }
    }

    /// The row that an answer of a survey is for.
    pub fn find(&self, written: &str, from: &Grid) -> Result<RowKey, AnswerQuery> {
        if let Some(index) = self.shown.get(&folded(written)) {
            return Ok(self.openings[*index].0);
        }
        match self.named(written, from).as_slice() {
            [row] => Ok(*row),
            [] => self.by_place(written, from).ok_or(AnswerQuery::UnknownOpening),
            _ => Err(AnswerQuery::SeveralOpenings),
        }
    }

    /// The rows that may have that name, those of the answer's own file before others.
    pub fn named(&self, written: &str, from: &Grid) -> Vec<RowKey> {
        let named = self.loose.get(&squeezed(written)).map_or(&[][..], Vec::as_slice);
        let own = named.iter().filter(|&&index| *self.openings[index].1.survey == *from.survey);
        let own: Vec<RowKey> = own.map(|&index| self.openings[index].0).collect();
        if own.is_empty() { named.iter().map(|&index| self.openings[index].0).collect() } else { own }
    }

    /// `Openings!F42` or `Openings row 42`, with the survey's name before it where there are several:
    /// the row of a table there, of the last that begins at or before the cell.
    pub fn by_place(&self, written: &str, from: &Grid) -> Option<RowKey> {
        let digits = written.len() - written.trim_end_matches(|letter: char| letter.is_ascii_digit()).len();
        let (before, row) = written.split_at(written.len() - digits);
        let row = row.parse::<u32>().ok()?.checked_sub(1)?;
        let place = before.trim_end_matches(|letter: char| letter.is_ascii_uppercase() || letter == '$');
        let (name, column) = match place.strip_suffix('!') {
            Some(sheet) => (sheet, column_of(&before[place.len()..])),
            None => (before.trim_end().strip_suffix("row")?, 0),
        };
        let sheet = self.sheet(name, from)?;
        let at = |column| CellRef { sheet, row, column };
        let before = self.every.range(..=at(column)).next_back().map(|(at, _)| *at);
        let here = before.filter(|found| (found.sheet, found.row) == (sheet, row));
        here.or_else(|| self.every.range(at(0)..=at(MOST_COLUMNS)).next().map(|(at, _)| *at))
    }

    /// The sheet of that name in the answer's own file, or with its file's name before it.
    fn sheet(&self, name: &str, from: &Grid) -> Option<SheetId> {
        let name = squeezed(name);
        self.grids.iter().find_map(|grid| {
            let is_named = |known: &&Sheet| {
                squeezed(&known.name) == name && (grid.survey == from.survey || self.grids.len() == 1)
                    || squeezed(&format!("{} {}", grid.survey, known.name)) == name
            };
            grid.sheets.iter().find(is_named).map(|sheet| sheet.id)
        })
    }

    /// The name that is most like one that no opening has.
    pub fn nearest(&self, written: &str) -> Option<&'o str> {
        name::nearest(written, self.openings.iter().map(|(_, who)| &*who.name))
    }
}

/// The column that letters name, `$` between them or not; the first for none.
fn column_of(letters: &str) -> u16 {
    let letters = letters.bytes().filter(u8::is_ascii_uppercase);
    let number = letters
        .fold(0_u32, |number, letter| number.saturating_mul(26).saturating_add(u32::from(letter - b'A') + 1));
    u16::try_from(number.saturating_sub(1)).unwrap_or(MOST_COLUMNS)
}
