//! What a band of headings says of each of its columns: groups over names over units.

use super::bands::Band;
use super::cell::shown;
use super::lines::{Lines, cells_in, text};
use super::meanings::Meaning;
use super::names::Known;
use super::suffix::{is_remark, unit_alone, unit_at_end, without_unit};
use super::words::words;
use crate::grid::{Row, Value};
use crate::length::Unit;
use crate::name::fold;
use crate::place::column_letters;
use crate::schema::Column;
use crate::schema::groups::{DETAILS_BESIDE_A_SILL, Whose, may_be_anothers, whose};
use crate::schema::openings::{OPENING, QUANTITY, SILL_HEIGHT, TYPE, UNIT};

/// One column's heading.
pub(super) struct Heading {
    /// Column of the sheet, from 0.
    pub column: u16,
    /// The heading as written, its group before it where that matters; `column F` where cells stand
    /// under none.
    pub text: String,
    /// Row of its name, from 0; `None` where cells stand under no heading.
    pub row: Option<u32>,
    /// What the schema makes of it.
    pub known: Option<Known>,
    /// Whose the group over it says that it is.
    pub whose: Whose,
    /// What a person says that it means.
    pub said: Option<Meaning>,
    /// Whether it is known to be of something else, by what stands beside or below it.
    pub set_aside: bool,
    /// Row of the cell that names its unit, from 0.
    pub unit_row: u32,
}

/// The heading of each column of a band, from the left; also of columns whose cells in the rows
/// below stand under none.
pub(super) fn headings(lines: &Lines<'_, '_>, band: &Band) -> Vec<Heading> {
    let composed = Composed::of(lines, band);
    let mut headings: Vec<Heading> =
        composed.columns().filter_map(|column| composed.heading(column)).collect();
    sill_of_a_drawing(&mut headings);
    count_of_types(&mut headings, lines.sheet.rows.get(band.body.clone()).unwrap_or(&[]));
    unit_of_measure(&mut headings, lines.sheet.rows.get(band.body.clone()).unwrap_or(&[]));
    let mut headed: Vec<u16> = headings.iter().map(|heading| heading.column).collect();
    let mut met: Vec<bool> = Vec::new();
    for row in lines.sheet.rows.get(band.body.clone()).unwrap_or(&[]) {
        for (column, _) in cells_in(row, band.claims) {
            let column = usize::from(*column);
            if met.len() <= column {
                met.resize(column + 1, false);
            }
            met[column] = true;
        }
    }
    headed.sort_unstable();
    let ghosts = (0..).zip(met).filter(|(column, met)| *met && headed.binary_search(column).is_err());
    headings.extend(ghosts.map(|(column, _)| {
        let text = format!("column {}", column_letters(column));
        let said = lines.said(&text);
        Heading {
            column,
            row: None,
            known: said.and_then(|_| lines.named(&text)),
            whose: Whose::Unsaid,
            said,
            set_aside: false,
            unit_row: 0,
            text,
        }
    }));
    headings.sort_by_key(|heading| heading.column);
    headings
}

/// A sill beside a head and a jamb, without a group over them, is the number of a drawing.
fn sill_of_a_drawing(headings: &mut [Heading]) {
    let ends_in = |heading: &Heading, known: &[&str]| {
        words(&heading.text).last().is_some_and(|word| known.contains(&word.as_str()))
    };
    let says = |heading: &Heading, word: &str| heading.known.is_none() && ends_in(heading, &[word]);
    if !DETAILS_BESIDE_A_SILL.iter().all(|word| headings.iter().any(|heading| says(heading, word))) {
        return;
    }
    for heading in headings.iter_mut().filter(|heading| heading.said.is_none()) {
        heading.set_aside |= ends_in(heading, &DETAILS_BESIDE_A_SILL);
        if ends_in(heading, &["sill", "cill"]) {
            heading.known = heading.known.filter(|known| known.column.slot != SILL_HEIGHT.slot);
            heading.set_aside = true;
        }
    }
}

/// A column `Unit` that says `mm` or `each` in every row is no apartment's.
fn unit_of_measure(headings: &mut [Heading], body: &[Row]) {
    let is_unit = |heading: &&mut Heading| heading.known.is_some_and(is_unit_of_a_building);
    let Some(heading) = headings.iter_mut().filter(|heading| heading.said.is_none()).find(is_unit) else {
        return;
    };
    let mut values = body.iter().filter_map(|row| row.value(heading.column)).peekable();
    let measures = |value: &Value| {
        text(value)
            .is_some_and(|text| unit_alone(text).is_some() || (is_remark(text) && !fold(text).is_empty()))
    };
    if values.peek().is_some() && values.all(measures) {
        heading.known = None;
        heading.set_aside = true;
    }
}

/// `No.` behind a type is how many there are of it, if it names no row: where nothing else counts,
/// and its whole numbers are not in rising order as those that number rows are.
fn count_of_types(headings: &mut [Heading], body: &[Row]) {
    const NUMBERS: [&str; 3] = ["no", "nr", "number"];
    let of = |headings: &[Heading], column: &Column| {
        let mut own = headings
            .iter()
            .enumerate()
            .filter(|(_, heading)| heading.known.is_some_and(|known| known.column.key == column.key));
        own.next().map(|(at, _)| at).filter(|_| own.next().is_none())
    };
    let (Some(id), Some(kind), None) = (of(headings, &OPENING), of(headings, &TYPE), of(headings, &QUANTITY))
    else {
        return;
    };
    let column = headings[id].column;
    let numbers: Option<Vec<_>> = body
        .iter()
        .filter_map(|row| row.value(column))
        .map(|value| match value {
            Value::Number(number) if number.is_integer() => Some(*number),
            _ => None,
        })
        .collect();
    let counts = numbers.is_some_and(|numbers| numbers.windows(2).any(|pair| pair[0] >= pair[1]));
    if counts
        && id > kind
        && headings[id].said.is_none()
        && NUMBERS.contains(&fold(&headings[id].text).as_str())
    {
        headings[id].known = headings[id].known.map(|known| Known { column: &QUANTITY, ..known });
    }
}

fn is_unit_of_a_building(known: Known) -> bool {
    known.column.slot == UNIT.slot && known.column.key == UNIT.key
}

/// A band's rows of headings.
struct Composed<'l, 's, 'n> {
    lines: &'l Lines<'s, 'n>,
    /// The rows of groups and names, from the top.
    rows: Vec<&'s Row>,
    /// The rows of units alone.
    unit_rows: Vec<&'s Row>,
    columns: (u16, u16),
}

/// A text of a heading over or in one column.
#[derive(Clone, Copy)]
struct Level<'s> {
    row: u32,
    text: &'s str,
}

impl<'l, 's, 'n> Composed<'l, 's, 'n> {
    fn of(lines: &'l Lines<'s, 'n>, band: &Band) -> Composed<'l, 's, 'n> {
        let own = band.headings.clone();
        let (unit_rows, rows): (Vec<usize>, Vec<usize>) =
            own.partition(|line| lines.is_units(*line, band.columns));
        let rows_at = |at: Vec<usize>| at.into_iter().filter_map(|line| lines.row(line)).collect();
        Composed { lines, rows: rows_at(rows), unit_rows: rows_at(unit_rows), columns: band.columns }
    }

    /// The columns with a cell in any of the rows.
    fn columns(&self) -> impl Iterator<Item = u16> {
        let cells = self.rows.iter().flat_map(|row| cells_in(row, self.columns));
        let mut columns: Vec<u16> = cells.map(|(column, _)| *column).collect();
        columns.sort_unstable();
        columns.dedup();
        columns.into_iter()
    }

    fn heading(&self, column: u16) -> Option<Heading> {
        let own = |row: &'s Row| row.value(column);
        let name_at = self.rows.iter().rposition(|row| own(row).is_some_and(|value| !is_unit(value)));
        let mut unit = None;
        for row in self.rows.iter().chain(&self.unit_rows) {
            if let Some(named) = own(row).and_then(text).and_then(unit_alone) {
                unit = Some((named, row.row));
            }
        }
        // A unit alone is no heading.
        let name_at = name_at?;
        let name_row = *self.rows.get(name_at)?;
        let name = shown(own(name_row)?);
        let groups: Vec<Level> =
            self.rows.iter().take(name_at).filter_map(|row| self.over(row, column)).collect();
        let mut over: Vec<Level> = Vec::new();
        for level in groups {
            match unit_alone(level.text) {
                Some(named) => unit = unit.or(Some((named, level.row))),
                None => over.push(level),
            }
        }
        Some(self.named(column, name_row.row, &name, &over, unit))
    }

    /// The heading of a name under group headings, the uppermost first.
    fn named(&self, column: u16, row: u32, name: &str, over: &[Level], unit: Option<(Unit, u32)>) -> Heading {
        let groups: Vec<(&str, Option<(Unit, u32)>)> = over.iter().map(|level| split_unit(*level)).collect();
        let whose =
            groups.iter().rev().map(|(group, _)| whose_group(group)).find(|whose| *whose != Whose::Unsaid);
        let whose = whose.unwrap_or(Whose::Unsaid);
        let plain = self.lines.named(name);
        let compounds = [groups.as_slice(), groups.get(groups.len().saturating_sub(1)..).unwrap_or(&[])];
        let compound = compounds.iter().filter(|groups| !groups.is_empty()).find_map(|groups| {
            let together: Vec<&str> = groups.iter().map(|(group, _)| *group).collect();
            self.lines.compound(&together.join(" "), name)
        });
        let shows_group = whose != Whose::Unsaid || compound.is_some();
        let text = match over.last().filter(|_| shows_group) {
            Some(group) => format!("{} {name}", group.text),
            None => name.to_owned(),
        };
        let said = self.lines.said(&text);
        let known = match (compound, plain) {
            _ if said.is_some() => self.lines.named(&text),
            (Some(compound), Some(plain)) if compound.column.slot == plain.column.slot => {
                Some(Known { rank: compound.rank.min(plain.rank), ..compound })
            }
            (Some(compound), _) => Some(compound),
            (None, plain) => plain.filter(|known| whose != Whose::Another || !may_be_anothers(known.column)),
        };
        let own = known.and_then(|known| known.unit).map(|unit| (unit, row));
        let of_group = groups.iter().rev().find_map(|(_, unit)| *unit);
        let unit = own.or(unit).or(of_group);
        Heading {
            column,
            text,
            row: Some(row),
            known: known.map(|known| Known {
                unit: unit.map(|(unit, _)| unit).filter(|_| known.column.holds_lengths()),
                ..known
            }),
            whose,
            said,
            set_aside: false,
            unit_row: unit.map_or(row, |(_, row)| row),
        }
    }

    /// The text of a row that stands over a column: its own cell's, that of a merged block over it,
    /// or of the last cell to its left, if that is not merged and heads something below it.
    fn over(&self, row: &'s Row, column: u16) -> Option<Level<'s>> {
        let cells = cells_in(row, (self.columns.0, column));
        let (at, value) = cells.last()?;
        let level = Level { row: row.row, text: text(value)? };
        if *at == column {
            return Some(level);
        }
        let block = self.lines.last_merged(row.row, *at);
        let stands_over = match block {
            Some(last) => column <= last,
            None => self.rows.iter().any(|below| below.row > row.row && below.value(*at).is_some()),
        };
        stands_over.then_some(level)
    }
}

fn is_unit(value: &Value) -> bool {
    text(value).and_then(unit_alone).is_some()
}

/// A group heading without the unit that it names.
fn split_unit<'s>(level: Level<'s>) -> (&'s str, Option<(Unit, u32)>) {
    let unit = unit_at_end(level.text).next().map(|(_, unit)| (unit, level.row));
    (if unit.is_some() { without_unit(level.text) } else { level.text }, unit)
}

fn whose_group(group: &str) -> Whose {
    let words = words(group);
    match whose(words.iter().map(String::as_str)) {
        // `R.O.` and `S.O.` are words of one letter each.
        Whose::Unsaid => whose(std::iter::once(fold(group).as_str())),
        whose => whose,
    }
}
