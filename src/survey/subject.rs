//! What a table says that it lists: openings, other things, or nothing of the kind. It says so by
//! its sheet's name, a title above it, its headings and the texts of its rows.
//!
//! A table that says nothing is read as one of openings, for none must be dropped; a row of it that
//! names another thing is asked about. A sheet's name that may be a place (`Stairs`) says something
//! only beside another that is named after doors or windows; `roles` settles that.

use crate::grid::{Row, Value};
use crate::length::Unit;
use crate::name::fold;
use crate::place::CellRef;
use crate::schema::openings::{CATEGORY, HEIGHTS, KIND, OPENING, PAIRS, SILL_HEIGHT, TYPE, WIDTHS};
use crate::tables::{Datum, Found, ReadTable, TableRow, heading_name};

use super::category::Category;
use super::roles::Why;
use super::table::category;
use super::things::{NamedAfter, named_after, names_opening, names_thing, words};

/// What a table lists, as far as it says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Subject {
    /// Openings. Whether its sheet or its title is named after them.
    Openings {
        /// Else its headings or its rows say it.
        by_name: bool,
    },
    /// Other things, and how it shows.
    Another(Why),
    /// Its name is one of places: other things beside a table that is named after openings.
    Places(Why),
    /// It does not say.
    Unsaid,
}

/// Words of headings that lists of stairs and of furniture have and lists of openings have not.
#[rustfmt::skip]
const FOREIGN_WORDS: &[&str] = &[
    "riser", "risers", "tread", "treads", "seats", "seating", "stufen", "auftritt", "auftrittsbreite",
    "steigungen", "contremarche", "contremarches", "giron", "contrahuella", "contrahuellas", "huella", "peldaños",
    "alzata", "alzate", "pedata", "gradini", "optrede", "optreden", "aantrede", "aantreden", "sättsteg",
    "plansteg", "stopni", "stopnie", "podstopień",
];
/// The same in Chinese and Japanese.
const FOREIGN_JOINED: &[&str] = &["踏步", "踢面", "踏面", "級数", "级数", "蹴上"];
/// Headings of the columns that say in words what a row is, folded.
#[rustfmt::skip]
const DESCRIPTIONS: &[&str] = &[
    "description", "descr", "desc", "family", "familyname", "object", "objecttype", "objectname", "element",
    "elementname", "item", "itemname", "component", "article", "beschreibung", "objekt", "gegenstand", "benennung",
    "désignation", "objet", "descripción", "objeto", "elemento", "descrizione", "oggetto", "omschrijving",
    "beskrivning", "benämning", "opis", "nazwa", "名称", "说明", "描述", "品名", "説明",
];
/// Lines above a table's headings that may be its title.
const TITLE_LINES: usize = 4;
/// Cells that a line of a title has at most.
const TITLE_CELLS: usize = 2;

impl Subject {
    /// What a table says of itself.
    pub fn of(found: &Found<'_>) -> Subject {
        let has = |column| found.columns().any(|known| known == column);
        if has(&KIND) || has(&SILL_HEIGHT) {
            return Subject::Openings { by_name: false };
        }
        if let Some(heading) = found.headings().find(|heading| is_foreign(heading) && !has(&CATEGORY)) {
            return Subject::Another(Why::Foreign(heading.to_owned()));
        }
        let name = found.sheet().name.as_str();
        let names = || std::iter::once(name).chain(titles(found));
        let after = |wanted| names().find(|name| named_after(name) == Some(wanted));
        if after(NamedAfter::Openings).is_some() {
            return Subject::Openings { by_name: true };
        }
        if found.headings().any(names_opening) {
            return Subject::Openings { by_name: false };
        }
        // It holds texts alone: what a length is read in makes no difference.
        let read = found.read(Unit::Millimeter);
        if read.rows.iter().any(is_door_or_window) {
            return Subject::Openings { by_name: false };
        }
        if let Some(goods) = after(NamedAfter::Goods) {
            return Subject::Another(Why::NamedAfter(goods.to_owned()));
        }
        if let Some(thing) = only_things(&read) {
            return Subject::Another(Why::Things(thing.to_owned()));
        }
        match after(NamedAfter::Places) {
            Some(places) => Subject::Places(Why::NamedAfter(places.to_owned())),
            None => Subject::Unsaid,
        }
    }
}

fn is_foreign(heading: &str) -> bool {
    words(heading).iter().any(|word| FOREIGN_WORDS.contains(&word.as_str()))
        || FOREIGN_JOINED.iter().any(|part| heading.contains(part))
}

/// The texts of the lines right above a table, as far as they have the few cells of a title.
fn titles<'f>(found: &'f Found<'_>) -> impl Iterator<Item = &'f str> {
    let rows = &found.sheet().rows;
    let above = rows.partition_point(|row| row.row < found.at().row);
    let is_title = |row: &&Row| row.cells.len() <= TITLE_CELLS;
    let lines = rows[..above].iter().rev().take(TITLE_LINES).take_while(is_title);
    lines.flat_map(|row| &row.cells).filter_map(|(_, value)| match value {
        Value::Text(text) => Some(&**text),
        _ => None,
    })
}

fn is_door_or_window(row: &TableRow) -> bool {
    matches!(category(row), Some(Category::Door | Category::Window))
}

/// A thing that a row names, if every row with a size names one.
fn only_things(read: &ReadTable) -> Option<&str> {
    let sizes = || WIDTHS.iter().chain(&HEIGHTS).chain(&PAIRS);
    let is_sized =
        |row: &&TableRow| sizes().any(|size| row.entry(size).is_some_and(|entry| entry.datum.is_ok()));
    let mut sized = read.rows.iter().filter(is_sized);
    let first = thing_of(sized.next()?, read)?.1;
    sized.all(|row| thing_of(row, read).is_some()).then_some(first)
}

/// The cell in which a row names another thing than a door or a window, and what it says; `None`
/// if it does not, or if another cell names an opening.
pub(super) fn thing_of<'r>(row: &'r TableRow, table: &ReadTable) -> Option<(CellRef, &'r str)> {
    let own = [&OPENING, &TYPE, &CATEGORY].into_iter().filter_map(|column| {
        let entry = row.entry(column)?;
        match &entry.datum {
            Ok(Datum::Text(text)) => Some((entry.at, &**text)),
            _ => None,
        }
    });
    let described = table.carried.iter().zip(&row.carried).filter_map(|((heading, at), text)| {
        let describes = DESCRIPTIONS.contains(&fold(heading_name(heading)).as_str());
        (describes && !text.is_empty()).then_some((CellRef { row: row.at.row, ..*at }, &**text))
    });
    let mut thing = None;
    for (at, text) in own.chain(described) {
        if names_opening(text) {
            return None;
        }
        if thing.is_none() && names_thing(text) {
            thing = Some((at, text));
        }
    }
    thing
}
