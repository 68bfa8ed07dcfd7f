//! Where tables stand on a sheet: bands of headings, each with the columns and the rows that are
//! its own. Tables may stand above one another and side by side.
//!
//! Headings that come again in the same order without a blank column between are tables that touch:
//! a long list folded onto one page.

use std::collections::BTreeMap;
use std::ops::Range;

use super::apart::{is_apart, unfolded};
use super::cell::shown;
use super::lines::{Lines, Piece, cells_in, holds_digit, text};
use super::suffix::unit_alone;
use super::words::words;
use crate::grid::{Row, Sheet, Value};
use crate::schema::groups::{Whose, whose};
use crate::schema::{Column, Kind};

/// Rows of headings above and below the one that names most: groups and names or units.
const MOST_ABOVE: usize = 2;
const MOST_BELOW: usize = 2;

/// A table's headings and what is its own. Lines are positions in the sheet's rows.
#[derive(Clone, Debug)]
pub(super) struct Band {
    /// The lines of headings, groups first, units last.
    pub headings: Range<usize>,
    /// The line that names most of the columns.
    pub names: usize,
    /// First and last column with a heading.
    pub columns: (u16, u16),
    /// First and last column in which cells without a heading are its own.
    pub claims: (u16, u16),
    /// The lines below the headings.
    pub body: Range<usize>,
    /// The columns that its line of names names, with where.
    named: Vec<(u16, &'static Column)>,
}

/// Every band of a sheet, from the top, then from the left.
pub(super) fn bands(lines: &mut Lines<'_, '_>) -> Vec<Band> {
    let mut scan = Scan { lines, open: BTreeMap::new(), bands: Vec::new() };
    for line in 0..scan.lines.sheet.rows.len() {
        for piece in scan.headings_on(line) {
            scan.enter(line, &piece);
        }
    }
    if scan.bands.is_empty() {
        scan.enter_best();
    }
    let end = scan.lines.sheet.rows.len();
    for at in scan.open.values() {
        scan.bands[*at].body.end = end;
    }
    scan.without_titles()
}

/// Rows that are searched for a single heading where no row has two.
pub(super) const HEADING_ROWS: usize = 50;

struct Scan<'l, 's, 'n> {
    lines: &'l mut Lines<'s, 'n>,
    /// Bands that go on, by their first column; no two share a column.
    open: BTreeMap<u16, usize>,
    bands: Vec<Band>,
}

impl Scan<'_, '_, '_> {
    /// The runs of headings that begin a table on this line.
    fn headings_on(&mut self, line: usize) -> Vec<Piece> {
        let pieces = self.pieces(line);
        let strong: Vec<bool> =
            pieces.iter().map(|(piece, open)| self.is_strong(line, piece, *open)).collect();
        if !strong.contains(&true) {
            let begins = |(piece, open): &(Piece, Option<usize>)| self.begins_weakly(line, piece, *open);
            let weak = pieces.iter().find(|piece| begins(piece)).map(|(piece, _)| piece.clone());
            return weak.into_iter().collect();
        }
        let mut runs: Vec<(Piece, bool)> = Vec::new();
        let mut data_between = true;
        for ((piece, open), strong) in pieces.into_iter().zip(strong) {
            let touches = runs.last().is_some_and(|(run, _)| run.columns.1 + 1 == piece.columns.0);
            let is_data = piece.data > 0 || (open.is_some() && !touches);
            if !strong && is_data {
                data_between = true;
                continue;
            }
            match runs.last_mut() {
                Some((run, is_strong))
                    if !data_between && (touches || !is_apart(self.lines, line, run, &piece)) =>
                {
                    *run = std::mem::take(run).and(piece);
                    *is_strong |= strong;
                }
                _ => runs.push((piece, strong)),
            }
            data_between = false;
        }
        runs.retain(|(run, strong)| *strong || self.begins_weakly(line, run, None));
        runs.into_iter().flat_map(|(run, _)| unfolded(self.lines, line, run)).collect()
    }

    /// A line's cells: those within the columns of each open band, and runs of the others. Each
    /// comes with its open band.
    fn pieces(&mut self, line: usize) -> Vec<(Piece, Option<usize>)> {
        let Some(row) = self.lines.row(line) else { return Vec::new() };
        let mut pieces = Vec::new();
        let mut rest = row.cells.as_slice();
        while let Some((first, _)) = rest.first() {
            let open = self.open_at(*first);
            let count = match open {
                Some(at) => {
                    let last = self.bands[at].columns.1;
                    rest.partition_point(|cell| cell.0 <= last)
                }
                None => {
                    let next = self.open.range(first..).next().map_or(u16::MAX, |(column, _)| *column);
                    let run =
                        rest.iter().zip(*first..).take_while(|((column, _), at)| column == at && *at < next);
                    run.count().max(1)
                }
            };
            let (cells, others) = rest.split_at(count);
            // The rows of headings of an open band are its own.
            if open.is_none_or(|at| line >= self.bands[at].body.start) {
                pieces.push((self.lines.piece(cells), open));
            }
            rest = others;
        }
        pieces
    }

    fn open_at(&self, column: u16) -> Option<usize> {
        let (_, at) = self.open.range(..=column).next_back()?;
        (column <= self.bands[*at].columns.1).then_some(*at)
    }

    /// Whether a run names enough columns to begin a table. Within a table that goes on, a word
    /// such as `handle` under `Depth to` is data.
    fn is_strong(&self, line: usize, piece: &Piece, open: Option<usize>) -> bool {
        let Some(open) = open.map(|at| &self.bands[at]) else {
            return piece.known() >= 2 && piece.known() > piece.data;
        };
        let is_choice = |at: u16| {
            let over = open.named.iter().find(|(column, _)| *column == at);
            over.is_some_and(|(_, column)| matches!(column.kind, Kind::Choice(_)))
        };
        if piece.named.len() < 2 {
            return false;
        }
        let mut counted = piece.clone();
        counted.named.retain(|(at, _)| !is_choice(*at));
        let known = counted.known();
        known >= 2
            && known > piece.data
            && (piece.data == 0 || 2 * known >= piece.cells)
            && !self.repeats(line, open)
    }

    /// Whether a line repeats a band's headings.
    fn repeats(&self, line: usize, band: &Band) -> bool {
        self.lines.row(line).is_some_and(|row| band.repeated_in(self.lines.sheet, row))
    }

    /// Whether a line begins a table of which the schema knows one heading (`Room`, `Area`), or,
    /// below a table that goes on, none: then headings stand where sizes stood.
    fn begins_weakly(&self, line: usize, piece: &Piece, open: Option<usize>) -> bool {
        let distinct = || {
            let cells = self.lines.cells(line, piece.columns);
            let mut texts: Vec<&str> = cells.iter().filter_map(|(_, value)| text(value)).collect();
            texts.sort_unstable();
            texts.dedup();
            texts.len()
        };
        let heading_like = piece.cells >= 2 && piece.data == 0 && self.begins_block(line, piece.columns);
        let over_lengths = || {
            let lengths =
                |at: usize| self.bands[at].named.iter().filter(|(_, column)| column.holds_lengths());
            let cells = self.lines.cells(line, piece.columns);
            let under =
                |at| lengths(at).filter(|(column, _)| cells.iter().any(|(own, _)| own == column)).count();
            open.map(under)
        };
        heading_like
            && match (piece.known(), over_lengths()) {
                (1, None) => self.holds_data_below(line, piece),
                (1, Some(under)) => under >= 1 && self.holds_data_below(line, piece),
                (0, Some(under)) => {
                    under >= 2
                        && piece.cells >= 3
                        && distinct() == piece.cells
                        && self.holds_data_below(line, piece)
                }
                _ => false,
            }
    }

    /// Whether nothing stands directly above within columns, or a title alone.
    fn begins_block(&self, line: usize, columns: (u16, u16)) -> bool {
        let blank = |line: usize| !self.lines.follows(line) || self.lines.cells(line - 1, columns).is_empty();
        blank(line) || (self.lines.title(line - 1, columns).is_some() && blank(line - 1))
    }

    /// Whether the next two lines hold data under a run; the last line of a sheet may be the first.
    fn holds_data_below(&self, line: usize, piece: &Piece) -> bool {
        let data = |line: usize| {
            let cells = self.lines.cells(line, piece.columns);
            self.lines.follows(line)
                && cells.len() >= 2
                && cells.iter().any(|(_, value)| text(value).is_none_or(holds_digit))
        };
        data(line + 1) && (data(line + 2) || !self.lines.follows(line + 2))
    }

    /// Without any row that names two columns, the first that names one is headings.
    fn enter_best(&mut self) {
        let mut best: Option<(usize, Piece)> = None;
        for line in 0..HEADING_ROWS.min(self.lines.sheet.rows.len()) {
            let Some(row) = self.lines.row(line) else { continue };
            let piece = self.lines.piece(&row.cells);
            if piece.known() > best.as_ref().map_or(0, |(_, best)| best.known()) {
                best = Some((line, piece));
            }
        }
        if let Some((line, piece)) = best {
            self.enter(line, &piece);
        }
    }

    /// Opens a band at a line, with the lines of headings around it, and ends those it stands under.
    fn enter(&mut self, line: usize, piece: &Piece) {
        let mut columns = piece.columns;
        let mut headings = line..line + 1;
        while headings.start > 0 && line - headings.start < MOST_ABOVE {
            let Some(wider) = self.heading_above(headings.start, columns) else { break };
            columns = wider;
            headings.start -= 1;
        }
        while headings.end - line <= MOST_BELOW && self.is_heading_below(headings.end, columns) {
            columns = self.with_names_beside(headings.end, columns);
            headings.end += 1;
        }
        let left = self.open.range(..columns.0).next_back().map(|(_, at)| *at);
        if let Some(at) = left.filter(|at| self.bands[*at].columns.1 < columns.0) {
            let claims = &mut self.bands[at].claims;
            claims.1 = claims.1.min(columns.0 - 1);
        }
        while let Some((first, at)) =
            self.open.range(..=columns.1).next_back().map(|(first, at)| (*first, *at))
        {
            if self.bands[at].columns.1 < columns.0 {
                break;
            }
            self.open.remove(&first);
            self.bands[at].body.end = headings.start.max(self.bands[at].body.start);
        }
        let right = self.open.range(columns.1..).next().map(|(first, at)| (*first, *at));
        if let Some((first, at)) = right {
            self.bands[at].claims.0 = first;
        }
        let left_too = self.open.range(..columns.0).next_back().is_some();
        self.open.insert(columns.0, self.bands.len());
        self.bands.push(Band {
            body: headings.end..headings.end,
            headings,
            names: line,
            columns,
            claims: (if left_too { columns.0 } else { 0 }, right.map_or(u16::MAX, |(first, _)| first - 1)),
            named: piece.named.clone(),
        });
    }

    /// The columns of a band with the line above `line`, if that holds group headings: not a title,
    /// not a row of another table.
    fn heading_above(&mut self, line: usize, columns: (u16, u16)) -> Option<(u16, u16)> {
        if !self.lines.follows(line) {
            return None;
        }
        let above = line - 1;
        let free = |column: u16| self.open_at(column).is_none_or(|at| above >= self.bands[at].body.start);
        let left =
            self.open.range(..columns.0).next_back().map_or(0, |(_, at)| self.bands[*at].columns.1 + 1);
        let left = if left > columns.0 { columns.0 } else { left };
        let right =
            self.open.range(columns.1.saturating_add(1)..).next().map_or(u16::MAX, |(first, _)| first - 1);
        let cells = self.lines.cells(above, (left, right));
        let (first, last) = (cells.first()?.0, cells.last()?.0);
        let in_open_band = self.open_at(first).or_else(|| self.open_at(last)).is_some();
        let is_title = cells.len() == 1 && first <= columns.0;
        if is_title || !free(first) || (in_open_band && self.lines.follows(above) && !self.says_groups(cells))
        {
            return None;
        }
        let piece = self.lines.piece(cells);
        let groups = piece.known() > 0 || self.says_groups(cells) || self.makes_compounds(cells, line);
        (piece.data == 0 && groups).then(|| (columns.0.min(first), columns.1.max(last)))
    }

    /// Columns with those beside them that are no other table's.
    fn room_around(&self, columns: (u16, u16)) -> (u16, u16) {
        let left = self.open.range(..columns.0).next_back();
        let left = left.map_or(0, |(_, at)| self.bands[*at].columns.1.saturating_add(1));
        let right = self.open.range(columns.1.saturating_add(1)..).next();
        (left.min(columns.0), right.map_or(u16::MAX, |(first, _)| first - 1))
    }

    /// Columns with those of the names beside them on a line of headings.
    fn with_names_beside(&mut self, line: usize, columns: (u16, u16)) -> (u16, u16) {
        let (left, right) = self.room_around(columns);
        let before = self.lines.cells(line, (left, columns.0.saturating_sub(1)));
        let behind = self.lines.cells(line, (columns.1.saturating_add(1), right));
        let beside = [before, behind].map(|cells| {
            let piece = self.lines.piece(cells);
            (piece.cells > 0 && piece.data == 0).then_some(piece.columns)
        });
        let [before, behind] = beside;
        (
            before.map_or(columns.0, |before| before.0.min(columns.0)),
            behind.map_or(columns.1, |behind| behind.1.max(columns.1)),
        )
    }

    fn says_groups(&self, cells: &[(u16, Value)]) -> bool {
        cells.iter().filter_map(|(_, value)| text(value)).any(|text| {
            let words = words(text);
            unit_alone(text).is_some() || whose(words.iter().map(String::as_str)) != Whose::Unsaid
        })
    }

    /// Whether a text and the one below it name a column together, as `Diagonal` and `1`.
    fn makes_compounds(&self, cells: &[(u16, Value)], below: usize) -> bool {
        cells.iter().any(|(at, value)| {
            let name = self.lines.row(below).and_then(|row| row.value(*at)).and_then(text);
            let both = text(value).zip(name);
            both.is_some_and(|(group, name)| self.lines.compound(group, name).is_some())
        })
    }

    /// Whether a line below names goes on with them: names under groups, or units.
    fn is_heading_below(&mut self, line: usize, columns: (u16, u16)) -> bool {
        let cells = self.lines.cells(line, columns);
        if !self.lines.follows(line) || cells.is_empty() {
            return false;
        }
        if self.lines.is_units(line, columns) {
            return true;
        }
        let above = self.lines.cells(line - 1, columns);
        let (mut known, mut unknown, mut data) = (0, 0, 0);
        for (at, value) in cells {
            let group =
                above.partition_point(|cell| cell.0 <= *at).checked_sub(1).and_then(|at| above.get(at));
            let group = group.and_then(|(_, value)| text(value));
            if text(value).and_then(unit_alone).is_some() {
                continue;
            }
            let shown = shown(value);
            let named = match value {
                Value::Text(text) => self.lines.known(text).is_some(),
                _ => false,
            };
            if named || group.is_some_and(|group| self.lines.compound(group, &shown).is_some()) {
                known += 1;
            } else if text(value).is_none_or(holds_digit) {
                data += 1;
            } else {
                unknown += 1;
            }
        }
        match (data, unknown) {
            (0, 0) => known >= 1,
            (0, _) => known >= 2,
            _ => known >= 2 && known > data + unknown,
        }
    }

    /// The bands that hold anything, or end the sheet; a title directly above the next band is not
    /// a row of the one before.
    fn without_titles(self) -> Vec<Band> {
        let Scan { lines, mut bands, .. } = self;
        for band in &mut bands {
            if band.body.end == lines.sheet.rows.len() {
                continue;
            }
            while let Some(last) = band.body.end.checked_sub(1).filter(|last| *last >= band.body.start) {
                let title = lines.title(last, band.claims);
                let apart = !lines.follows(last) || lines.cells(last - 1, band.claims).is_empty();
                match title {
                    Some(title) if apart || !holds_digit(title) => band.body.end = last,
                    _ => break,
                }
            }
        }
        let end = lines.sheet.rows.len();
        bands.retain(|band| !band.body.is_empty() || band.body.end == end);
        bands
    }
}

impl Band {
    /// Whether a row says one of the lines of headings once more, as on each page of a long list.
    pub fn repeated_in(&self, sheet: &Sheet, row: &Row) -> bool {
        let says = |written: &Row, at: u16| row.value(at).is_some() && row.value(at) == written.value(at);
        let names = sheet.rows.get(self.names).filter(|_| !self.named.is_empty());
        let names = names.is_some_and(|names| self.named.iter().all(|(at, _)| says(names, *at)));
        names
            || sheet.rows.get(self.headings.clone()).unwrap_or(&[]).iter().any(|written| {
                let mut cells = cells_in(written, self.columns).iter();
                cells.len() >= 2 && cells.all(|(at, _)| says(written, *at))
            })
    }

    /// The same band as the only one of its sheet.
    pub fn alone(self, sheet: &Sheet) -> Band {
        let body = self.headings.end..sheet.rows.len();
        Band { body, claims: (0, u16::MAX), ..self }
    }

    /// How many different columns its line of names names.
    pub fn known(&self) -> usize {
        let named = self.named.clone();
        Piece { named, ..Piece::default() }.known()
    }
}
