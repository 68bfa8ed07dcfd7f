//! A COBie handover as openings with types: the components whose type, or own IFC entity, is a
//! door or a window. Every cell keeps the address at which it stands.
//!
//! In a handover every component that is a door or a window stands in the building, so it is an
//! opening even where nothing gives its size, and held then; in other tables a row without a size
//! may be a remark. Where a type has neither a nominal width nor a nominal height (or 0, as exports
//! write a blank), a size in its `Size` or `Description` is taken, with a check, if it can be read
//! in one way alone, in a unit that it names or in the facility's; the width comes first unless it
//! says otherwise (common practice, no source).
//!
//! A component is an opening if its own IFC entity, else its type's category or entity, is a door
//! or a window. A component whose type is missing is left out with a check. Columns that openings
//! have no use for are not carried through.

use std::collections::{BTreeMap, BTreeSet};

use rust_decimal::Decimal;

use crate::grid::{Grid, Value};
use crate::length::{Length, PLAUSIBLE, PairOrder, Unit, pairs_within};
use crate::name::folded;
use crate::place::CellRef;
use crate::query::Query;
use crate::schema::cobie::component::{self, COMPONENT};
use crate::schema::cobie::facility::{FACILITY, LINEAR_UNITS};
use crate::schema::cobie::space::{self, FLOOR_NAME, SPACE};
use crate::schema::cobie::types::{self, NOMINAL_HEIGHT, NOMINAL_WIDTH};
use crate::schema::openings::{CATEGORY, FLOOR, HEIGHT, NOTE, OPENING, ROOM, TYPE, WIDTH};
use crate::schema::{Column, Table};
use crate::tables::{self, Datum, Entry, Found, ReadTable, TableRow, read_value};

use super::category::Category;
use super::queries::SurveyQuery;
use super::table::{Rows, SizeUnits};
use super::units::UnitFrom;

/// How COBie writes that there is nothing to say.
const BLANK: &str = "n/a";

/// The sheets of a handover that tell of openings.
pub(super) struct Cobie<'g> {
    components: Found<'g>,
    types: Found<'g>,
    spaces: Option<Found<'g>>,
    unit: Option<(CellRef, Unit)>,
}

impl<'g> Cobie<'g> {
    /// The handover, if a workbook is one: it has the sheets Component and Type with the headings
    /// that join them and give sizes.
    pub fn of(grid: &'g Grid) -> Option<Cobie<'g>> {
        let found = |table: &'static Table, needs: &[&Column]| {
            let sheet = tables::find(grid, table.sheet)?;
            let has = |found: &Found, need: &Column| found.columns().any(|column| column.slot == need.slot);
            let mut found = tables::found_on(sheet, table, &tables::Meanings::default()).into_iter();
            found.find(|found| needs.iter().all(|need| has(found, need)))
        };
        Some(Cobie {
            components: found(&COMPONENT, &[&component::NAME, &component::TYPE_NAME])?,
            types: found(&types::TYPE, &[&types::NAME, &NOMINAL_WIDTH, &NOMINAL_HEIGHT])?,
            spaces: found(&SPACE, &[&space::NAME, &FLOOR_NAME]),
            unit: found(&FACILITY, &[&LINEAR_UNITS]).and_then(|facility| linear_units(&facility)),
        })
    }

    /// The unit of every length, and the cell that names it.
    pub fn unit_named(&self) -> Option<(CellRef, Unit)> {
        self.unit
    }

    /// The components that are doors and windows, under the columns of `Openings`.
    pub fn openings(&self, bare: Unit) -> Rows<'g> {
        let (of_types, floors) = (self.categories(), self.floors());
        let (mut rows, mut queries) = (Vec::new(), Vec::new());
        let mut others: Vec<CellRef> = Vec::new();
        for line in lines(&self.components) {
            let category_at = match line.is(&of_types) {
                Component::Lost => {
                    let at = line.cell(&component::TYPE_NAME);
                    queries.push(Query::new(&SurveyQuery::LostComponent, at));
                    continue;
                }
                Component::Other => {
                    others.push(line.0.at);
                    continue;
                }
                Component::Opening(category_at) => category_at,
            };
            let floor = line.text(&component::SPACE).and_then(|space| floors.get(&folded(space)));
            let cells = [
                (line.cell(&component::NAME), &OPENING),
                (floor.copied(), &FLOOR),
                (line.cell(&component::SPACE), &ROOM),
                (Some(category_at), &CATEGORY),
                (line.cell(&component::TYPE_NAME), &TYPE),
                (line.cell(&component::DESCRIPTION), &NOTE),
            ];
            rows.push(self.row(line.0.at, cells, None, bare));
        }
        if let Some(first) = others.first() {
            let query = Query::new(&SurveyQuery::OtherCategory, Some(*first));
            queries.push(query.with_detail(format!(
                "{} of {} rows",
                others.len(),
                others.len() + rows.len()
            )));
        }
        let mut listed = rows_of(&self.components, rows, &OPENING);
        listed.read.queries = queries;
        listed.all_openings = true;
        listed
    }

    /// The types with their sizes, under the columns of `Openings`; `passed_over` is the facility's
    /// unit where sizes are not in that.
    pub fn types(&self, bare: Unit, passed_over: Option<Unit>) -> Rows<'g> {
        let unit = self.unit.map(|(_, unit)| unit).filter(|unit| Some(*unit) != passed_over);
        let of_types = self.categories();
        let openings =
            lines(&self.components).filter(|line| matches!(line.is(&of_types), Component::Opening(_)));
        let wanted: BTreeSet<String> =
            openings.filter_map(|line| line.text(&component::TYPE_NAME).map(folded)).collect();
        let mut queries = Vec::new();
        let row = |line: Line| {
            let cells = [(&types::NAME, &TYPE), (&NOMINAL_WIDTH, &WIDTH), (&NOMINAL_HEIGHT, &HEIGHT)];
            let mut row = self.row(line.0.at, cells.map(|(from, to)| (line.cell(from), to)), unit, bare);
            let of_openings = line.text(&types::NAME).is_some_and(|name| wanted.contains(&folded(name)));
            if let Some((column, at, size)) = line.size_in_words(unit).filter(|_| of_openings) {
                for (column, length) in [&WIDTH, &HEIGHT].into_iter().zip(size) {
                    row.put(column, Entry { at, datum: Ok(Datum::Length(length)) });
                }
                queries.push(Query::new(&SurveyQuery::TypeSize { column }, Some(at)));
            }
            row
        };
        let rows = lines(&self.types).map(row).collect();
        let mut listed = rows_of(&self.types, rows, &TYPE);
        listed.read.queries = queries;
        // The facility names the unit of every length, in a cell of its own.
        let lengths = listed.read.columns.iter_mut();
        for read in lengths.filter(|read| read.taken.is_some_and(Column::holds_lengths)) {
            read.unit = unit.map(|unit| (unit, UnitFrom::Cells.words()));
        }
        listed.size_units =
            [&WIDTH, &HEIGHT].into_iter().filter_map(|column| Some((column, unit?))).collect();
        listed
    }

    /// What each type is.
    fn categories(&self) -> TypeCategories {
        let category = |line: Line| {
            let name = folded(line.text(&types::NAME)?);
            Some((name, line.category(&[&types::CATEGORY, &types::EXT_OBJECT])))
        };
        lines(&self.types).filter_map(category).collect()
    }

    /// The cell with the floor of each space.
    fn floors(&self) -> BTreeMap<String, CellRef> {
        let floor = |line: Line| Some((folded(line.text(&space::NAME)?), line.cell(&FLOOR_NAME)?));
        self.spaces.iter().flat_map(lines).filter_map(floor).collect()
    }

    /// A row of cells that stand elsewhere, each read as what its new column holds.
    fn row<const N: usize>(
        &self,
        at: CellRef,
        cells: [(Option<CellRef>, &'static Column); N],
        unit: Option<Unit>,
        bare: Unit,
    ) -> TableRow {
        let entry = |(at, column): (Option<CellRef>, &'static Column)| {
            let datum = read_value(self.value(at?)?, column, unit, bare).map_err(Box::new);
            Some((column, Entry { at: at?, datum }))
        };
        TableRow::new(at, cells.into_iter().filter_map(entry).collect())
    }

    fn value(&self, at: CellRef) -> Option<&'g Value> {
        let found = [Some(&self.components), Some(&self.types), self.spaces.as_ref()];
        let sheet = found.into_iter().flatten().map(Found::sheet).find(|sheet| sheet.id == at.sheet)?;
        sheet.value(at.row, at.column)
    }
}

/// What each type is, with the cell that says so; `None` for a type that does not say.
type TypeCategories = BTreeMap<String, Option<(Category, CellRef)>>;

/// What a component is.
enum Component {
    /// A door or a window, with the cell that says so.
    Opening(CellRef),
    /// Another thing.
    Other,
    /// Of a type that is not listed.
    Lost,
}

/// One row of a sheet of the handover.
struct Line(TableRow);

fn lines(found: &Found<'_>) -> impl Iterator<Item = Line> + use<> {
    // Every column is read as text: in what units makes no difference.
    found.read(Unit::Millimeter).rows.into_iter().map(Line)
}

impl Line {
    /// The cell under a column, unless it says nothing.
    fn cell(&self, column: &Column) -> Option<CellRef> {
        let entry = self.0.entry(column)?;
        let blank = matches!(&entry.datum, Ok(Datum::Text(text)) if text.eq_ignore_ascii_case(BLANK));
        (!blank).then_some(entry.at)
    }

    /// Its text, likewise.
    fn text(&self, column: &Column) -> Option<&str> {
        self.cell(column)?;
        match &self.0.entry(column)?.datum {
            Ok(Datum::Text(text)) => Some(text),
            _ => None,
        }
    }

    /// What the component is, by itself or by its type.
    fn is(&self, of_types: &TypeCategories) -> Component {
        let own = self.category(&[&component::EXT_OBJECT]);
        let of_type = self.text(&component::TYPE_NAME).map(|name| of_types.get(&folded(name)));
        let category = match (own, of_type) {
            (None, Some(None)) => return Component::Lost,
            (None, Some(Some(of_type))) => *of_type,
            (own, _) => own,
        };
        match category {
            Some((Category::Door | Category::Window, at)) => Component::Opening(at),
            _ => Component::Other,
        }
    }

    /// The size that a type's words give where its nominal ones do not: the column, the cell and the
    /// one way in which it can be read, the width first.
    fn size_in_words(&self, unit: Option<Unit>) -> Option<(&'static Column, CellRef, [Length; 2])> {
        let is_zero = |text: &str| text.parse().is_ok_and(|number: Decimal| number.is_zero());
        let is_missing = |column: &&'static Column| self.text(column).is_none_or(is_zero);
        if ![&NOMINAL_WIDTH, &NOMINAL_HEIGHT].iter().all(is_missing) {
            return None;
        }
        let (column, text) = [&types::SIZE, &types::DESCRIPTION].into_iter().find_map(|column| {
            let text = self.text(column)?;
            (!pairs_within(text).is_empty()).then_some((column, text))
        })?;
        Some((column, self.cell(column)?, one_size(text, unit)?))
    }

    /// The first category that one of the columns names, and the cell that does.
    fn category(&self, columns: &[&Column]) -> Option<(Category, CellRef)> {
        columns.iter().find_map(|column| Some((Category::named(self.text(column)?)?, self.cell(column)?)))
    }
}

fn rows_of<'g>(found: &Found<'g>, rows: Vec<TableRow>, id: &'static Column) -> Rows<'g> {
    let read = ReadTable { rows, columns: found.columns_read(), ..ReadTable::default() };
    let (size_units, all_openings) = (SizeUnits::default(), false);
    Rows { sheet: &found.sheet().name, read, id, floor: None, size_units, all_openings, is_doubtful: false }
}

/// The width and the height that a text gives, if it can be read in one way.
fn one_size(text: &str, unit: Option<Unit>) -> Option<[Length; 2]> {
    let mut sizes: Vec<[Length; 2]> = Vec::new();
    for pair in pairs_within(text) {
        let [first, second] = pair.readings.each_ref().map(|readings| {
            let mut lengths =
                readings.iter().map(|reading| Length::of(reading.value, reading.unit.or(unit)?));
            let length = lengths.next()??;
            let same = lengths.all(|other| other == Some(length));
            (same && PLAUSIBLE.contains(&length)).then_some(length)
        });
        let size = match pair.order {
            Some(PairOrder::HeightFirst) => [second?, first?],
            Some(PairOrder::WidthFirst) | None => [first?, second?],
        };
        if pair.with_third || !sizes.iter().all(|known| *known == size) {
            return None;
        }
        sizes.push(size);
    }
    sizes.first().copied()
}

/// The unit that the first facility with one names.
fn linear_units(facility: &Found<'_>) -> Option<(CellRef, Unit)> {
    lines(facility)
        .find_map(|line| Some((line.cell(&LINEAR_UNITS)?, Unit::named(line.text(&LINEAR_UNITS)?)?)))
}
