//! Which tables of a survey file hold its openings, and which its types: settled once, before a
//! cell is read, for everything that asks.

use std::collections::{BTreeMap, HashSet};

use crate::grid::{Grid, Row, Sheet, Value};
use crate::length::Unit;
use crate::name::same_name;
use crate::place::CellRef;
use crate::query::{Query, Taken};
use crate::rules::columns::RULE_SHEETS;
use crate::rules::columns::options::OPTIONS;
use crate::rules::columns::phases::PHASES;
use crate::rules::columns::project::PROJECT;
use crate::schema::Column;
use crate::schema::blinds::BLINDS;
use crate::schema::fitting_days::FITTING_DAYS;
use crate::schema::headings::HEADINGS;
use crate::schema::openings::{
    CATEGORY, EXAMPLE_ID, FLOOR, HEIGHTS, KIND, OPENING, OPENINGS, PAIRS, QUANTITY, SILL_HEIGHT, TYPE, TYPES,
    WIDTHS,
};
use crate::tables::{self, Found, Meanings};

use super::answers::{Line, answers_on, lines};
use super::cobie::Cobie;
use super::error::{LookedAt, SurveyError, UnknownHeading};
use super::floors::is_floor;
use super::meanings::OfHeadings;
use super::queries::SurveyQuery;
use super::roles::{Candidate, On, Role, Why, roles};
use super::subject::Subject;
use super::table::{Rows, SizeUnits};

/// Headings of lists of rooms and goods, which have a third size (common practice, no source).
const FOREIGN: [&str; 16] = [
    "Length",
    "Volume",
    "Länge",
    "Volumen",
    "Longueur",
    "Longitud",
    "Largo",
    "Lunghezza",
    "Lengte",
    "Längd",
    "Volym",
    "Długość",
    "长度",
    "长",
    "体积",
    "長さ",
];

/// Headings by which a list of panes or parts names its rows, where nothing names an opening.
const PARTS: &[&str] =
    &["Glass ref", "Glass mark", "Glass no", "Pane", "Pane ref", "Pane no", "Part", "Part no", "Part name"];

/// The files of a run, with what each of them is.
pub struct Files<'g> {
    /// All of them.
    pub(super) grids: &'g [Grid],
    /// Those that list openings. The others hold sheets of ours alone, and speak for all.
    pub(super) layouts: Vec<Layout<'g>>,
    /// What people answered.
    pub(super) answers: Vec<Line<'g>>,
    /// What became of the answers about headings, by their cell.
    pub(super) of_headings: BTreeMap<CellRef, Taken>,
    /// What is odd about what people say of headings and queries.
    pub(super) queries: Vec<Query>,
}

/// A survey file whose tables are found.
pub(super) struct Layout<'g> {
    grid: &'g Grid,
    form: Form<'g>,
    queries: Vec<Query>,
}

/// How a file lists its openings.
enum Form<'g> {
    /// Under headings of the schema.
    Tables {
        /// Never empty.
        openings: Vec<Listing<'g>>,
        types: Vec<Found<'g>>,
    },
    /// As the handover of a building's data.
    Cobie(Box<Cobie<'g>>),
}

/// A table that lists openings.
struct Listing<'g> {
    found: Found<'g>,
    /// The column that names a row: its id, or its type where types are all there is.
    id: &'static Column,
    /// The floor of every row, where the sheets are floors.
    floor: Option<&'g str>,
    /// Whether nothing but its columns says that it lists openings.
    is_doubtful: bool,
}

impl<'g> Files<'g> {
    /// The files that list no openings, and speak for all that do.
    pub(super) fn for_all(&self) -> impl Iterator<Item = &'g Grid> + '_ {
        let lists = |grid: &&Grid| self.layouts.iter().any(|layout| std::ptr::eq(layout.grid, *grid));
        self.grids.iter().filter(move |grid| !lists(grid))
    }
}

/// Finds the tables of every survey of a run.
///
/// # Errors
/// If one of them has no table of openings. One of which all sheets are ours, such as `Project`, and
/// a blank form with its project filled in, need none beside others that have one.
pub fn lay_out(grids: &[Grid]) -> Result<Files<'_>, SurveyError> {
    lay_out_after(None, grids)
}

/// The same after an earlier fit-out, which has answers and nothing else that is read here; one that a
/// survey has as well, or that it has twice, is one.
///
/// # Errors
/// As [`lay_out`].
pub fn lay_out_after<'g>(earlier: Option<&'g Grid>, grids: &'g [Grid]) -> Result<Files<'g>, SurveyError> {
    let mut queries = Vec::new();
    let mut answers: Vec<Line> = grids.iter().flat_map(|grid| lines(grid, &mut queries)).collect();
    let mut known: HashSet<_> = answers.iter().map(Line::said).collect();
    let before = earlier.into_iter().flat_map(|grid| lines(grid, &mut queries));
    answers.extend(before.filter(|line| known.insert(line.said())));
    let mut said = OfHeadings::of(grids, &answers);
    let (mut layouts, mut without) = (Vec::new(), None);
    for grid in grids {
        let error = match Layout::of(grid, &said.meanings) {
            Ok(layout) if grids.len() > 1 && layout.is_a_form() => {
                SurveyError::NoRows { survey: grid.survey.clone(), sheets: vec![OPENINGS.sheet.to_owned()] }
            }
            Ok(layout) => {
                layouts.push(layout);
                continue;
            }
            Err(error) if speaks_for_all(grid) => error,
            Err(error) => return Err(error),
        };
        without = without.or(Some(error));
    }
    match without {
        Some(error) if layouts.is_empty() => Err(error),
        _ => {
            said.ask_unused(layouts.iter().flat_map(Layout::headings));
            queries.append(&mut said.queries);
            Ok(Files { grids, layouts, answers, of_headings: said.answers, queries })
        }
    }
}

/// Whether all that a file holds is on sheets of ours.
fn speaks_for_all(grid: &Grid) -> bool {
    let mut filled = grid.sheets.iter().filter(|sheet| !sheet.rows.is_empty()).peekable();
    filled.peek().is_some() && filled.all(is_reserved)
}

impl<'g> Layout<'g> {
    fn of(grid: &'g Grid, meanings: &Meanings) -> Result<Layout<'g>, SurveyError> {
        let named = tables::find(grid, OPENINGS.sheet);
        if named.is_none()
            && let Some(cobie) = Cobie::of(grid)
        {
            return Ok(Layout { grid, form: Form::Cobie(Box::new(cobie)), queries: Vec::new() });
        }
        let types_sheet = tables::find(grid, TYPES);
        let on = |sheet: &Sheet| match sheet.id {
            id if named.is_some_and(|named| named.id == id) => On::Openings,
            id if types_sheet.is_some_and(|types| types.id == id) => On::Types,
            _ => On::Another,
        };
        let both_named = named.is_some() && types_sheet.is_some();
        let searched = grid.sheets.iter().filter(|sheet| !(both_named && on(sheet) == On::Another));
        let found: Vec<(On, Found)> = searched
            .filter(|sheet| !is_reserved(sheet))
            .flat_map(|sheet| {
                tables::found_on(sheet, &OPENINGS, meanings).into_iter().map(move |found| (on(sheet), found))
            })
            .collect();
        let mut candidates: Vec<Candidate> = found.iter().map(|(on, found)| candidate(*on, found)).collect();
        let roles = roles(&mut candidates);
        let doubtful: Vec<bool> = candidates.iter().map(Candidate::is_doubtful).collect();

        let (mut openings, mut types, mut passed_over) = (Vec::new(), Vec::new(), Vec::new());
        for (((on, found), role), is_doubtful) in found.into_iter().zip(roles).zip(doubtful) {
            match role {
                Role::Openings => openings.push(Listing { found, id: &OPENING, floor: None, is_doubtful }),
                Role::CountedTypes => openings.push(Listing { found, id: &TYPE, floor: None, is_doubtful }),
                Role::Types => types.push(found),
                Role::PassedOver(why) => passed_over.push((on, found, why)),
            }
        }
        if openings.is_empty() {
            let looked_at = looked_at(grid, passed_over.iter().map(|(_, found, why)| (found, why)));
            return Err(SurveyError::NoOpenings { survey: grid.survey.clone(), looked_at });
        }

        let mut queries = Vec::new();
        // With a sheet `Openings` nobody expects the others to be read for openings, unless they look like it.
        let elsewhere = passed_over.iter().filter(|(_, _, why)| *why == Why::OpeningsElsewhere);
        queries.extend(
            elsewhere.map(|(_, found, _)| Query::new(&SurveyQuery::OpeningsElsewhere, Some(found.at()))),
        );
        let expected = if named.is_some() { On::Openings } else { On::Another };
        for (_, found, why) in passed_over.iter().filter(|(on, ..)| *on == expected) {
            // One heading alone is a coincidence.
            if found.columns().count() > 1 {
                let asked = match why {
                    Why::NamedAfter(_) | Why::Things(_) => SurveyQuery::OtherThings,
                    _ => SurveyQuery::PassedOver,
                };
                queries.push(note(asked, found.at()).with_detail(why.to_string()));
            }
        }
        if let Some(sheet) = types_sheet.filter(|_| types.is_empty()) {
            // It holds no length: what it is read in makes no difference.
            queries.extend(tables::read(sheet, &OPENINGS, Unit::Millimeter).queries);
        }
        name_floors(&mut openings, &mut queries);
        Ok(Layout { grid, form: Form::Tables { openings, types }, queries })
    }

    /// Whether it is the blank form with its project filled in and no opening on it.
    fn is_a_form(&self) -> bool {
        let Form::Tables { openings, .. } = &self.form else { return false };
        let is_blank = |listing: &Listing<'_>| !listing.found.has_rows_without(EXAMPLE_ID);
        tables::find(self.grid, PROJECT.sheet).is_some() && openings.iter().all(is_blank)
    }

    /// The file that it is of.
    pub(super) fn grid(&self) -> &'g Grid {
        self.grid
    }

    /// What is odd about the tables.
    pub(super) fn queries(&self) -> &[Query] {
        &self.queries
    }

    /// Whether it is a handover.
    pub(super) fn is_cobie(&self) -> bool {
        matches!(self.form, Form::Cobie(_))
    }

    /// Reads the tables of openings; a length that names no unit is in `bare`, and so is a size whose
    /// heading names the unit that is passed over.
    pub(super) fn openings(&self, bare: Unit, passed_over: Option<Unit>) -> Vec<Rows<'g>> {
        match &self.form {
            Form::Tables { openings, .. } => {
                openings.iter().map(|listing| listing.read(bare, passed_over)).collect()
            }
            Form::Cobie(cobie) => vec![cobie.openings(bare)],
        }
    }

    /// Reads the tables of types likewise. How many there are of a type is no row's quantity.
    pub(super) fn types(&self, bare: Unit, passed_over: Option<Unit>) -> Vec<Rows<'g>> {
        match &self.form {
            Form::Tables { types, .. } => {
                types.iter().map(|found| types_read(found, bare, passed_over)).collect()
            }
            Form::Cobie(cobie) => vec![cobie.types(bare, passed_over)],
        }
    }

    /// The headings of the tables that are read, each with the name of its sheet.
    fn headings(&self) -> impl Iterator<Item = (&str, &str)> {
        let found = match &self.form {
            Form::Tables { openings, types } => {
                openings.iter().map(|listing| &listing.found).chain(types).collect()
            }
            Form::Cobie(_) => Vec::new(),
        };
        found.into_iter().flat_map(|found| {
            let sheet = found.sheet().name.as_str();
            found.headings().map(move |heading| (sheet, heading))
        })
    }

    /// Whether a cell is one of the headings of a table of openings or types.
    pub(super) fn heads(&self, at: CellRef) -> bool {
        let Form::Tables { openings, types } = &self.form else { return false };
        openings.iter().map(|listing| &listing.found).chain(types).any(|found| found.heads(at))
    }

    /// Each unit of length that the tables name, with a cell that names it.
    pub(super) fn units_named(&self) -> Vec<(CellRef, Unit)> {
        match &self.form {
            Form::Tables { openings, types } => {
                let openings = openings.iter().map(|listing| &listing.found);
                openings.chain(types).flat_map(Found::units_named).collect()
            }
            Form::Cobie(cobie) => cobie.unit_named().into_iter().collect(),
        }
    }
}

impl<'g> Listing<'g> {
    fn read(&self, bare: Unit, passed_over: Option<Unit>) -> Rows<'g> {
        Rows {
            sheet: &self.found.sheet().name,
            read: self.found.read_passing_over(passed_over, bare),
            id: self.id,
            floor: self.floor,
            is_doubtful: self.is_doubtful,
            size_units: size_units(&self.found),
            all_openings: false,
        }
    }
}

/// The units that the headings of sizes name.
fn size_units(found: &Found<'_>) -> SizeUnits {
    let columns = WIDTHS.iter().chain(&HEIGHTS).chain(&PAIRS).copied();
    columns.filter_map(|column| Some((column, found.unit_of(column)?))).collect()
}

fn types_read<'g>(found: &Found<'g>, bare: Unit, passed_over: Option<Unit>) -> Rows<'g> {
    let mut read = found.read_passing_over(passed_over, bare);
    let counted = read.rows.iter().find_map(|row| row.entry(&QUANTITY));
    if let Some(first) = counted.map(|entry| entry.at) {
        read.queries.push(note(SurveyQuery::CountsUnused, first));
    }
    Rows {
        sheet: &found.sheet().name,
        read: read.without(&QUANTITY),
        id: &TYPE,
        floor: None,
        is_doubtful: false,
        size_units: size_units(found),
        all_openings: false,
    }
}

/// Whether a sheet is read for what its name says, and never searched for openings.
fn is_reserved(sheet: &Sheet) -> bool {
    let rules = RULE_SHEETS.iter().map(|table| table.sheet);
    let ours = [PROJECT.sheet, PHASES.sheet, OPTIONS.sheet, HEADINGS.sheet, BLINDS.sheet, FITTING_DAYS.sheet];
    let ours = rules.chain(ours);
    answers_on(sheet) || ours.into_iter().any(|name| tables::is_named(sheet, name))
}

fn candidate<'f>(on: On, found: &'f Found<'_>) -> Candidate<'f> {
    // What is said to be a door or a window is no room, whatever else is said of it.
    let is_opening = [&KIND, &CATEGORY, &SILL_HEIGHT].into_iter().any(|column| has(found, column));
    // A window schedule may say of its own panes what a list of panes says.
    let parts = if has(found, &OPENING) { &[] } else { PARTS };
    let is_foreign = |heading: &&str| {
        let mut foreign = FOREIGN.iter().chain(parts);
        foreign.any(|foreign| same_name(foreign, tables::heading_name(heading)))
    };
    let foreign = found.carried().find(is_foreign).filter(|_| !is_opening);
    let subject = match on {
        On::Another => Subject::of(found),
        On::Openings | On::Types => Subject::Openings { by_name: false },
    };
    Candidate { on, columns: found.columns().collect(), foreign, subject }
}

fn has(found: &Found<'_>, wanted: &Column) -> bool {
    found.columns().any(|column| column.slot == wanted.slot)
}

fn note(asked: SurveyQuery, at: CellRef) -> Query {
    Query::new(&asked, Some(at))
}

/// Where no table has a floor and every sheet is named after one, the names are the floors.
fn name_floors(openings: &mut [Listing<'_>], queries: &mut Vec<Query>) {
    let named = |listing: &Listing| !has(&listing.found, &FLOOR) && is_floor(&listing.found.sheet().name);
    if openings.iter().all(named) {
        for listing in openings {
            listing.floor = Some(listing.found.sheet().name.trim());
            queries.push(note(SurveyQuery::FloorFromSheet, listing.found.at()));
        }
    }
}

/// Every table and every sheet without one, with why it holds no openings.
fn looked_at<'f>(
    grid: &Grid,
    tables: impl Iterator<Item = (&'f Found<'f>, &'f Why)> + Clone,
) -> Vec<LookedAt> {
    let mut looked_at = Vec::new();
    for sheet in &grid.sheets {
        let mut on_sheet = tables.clone().filter(|(found, _)| found.sheet().id == sheet.id).peekable();
        let alone = on_sheet.clone().count() == 1;
        if on_sheet.peek().is_none() {
            let why = match sheet {
                _ if is_reserved(sheet) || tables::is_named(sheet, TYPES) => Why::Reserved,
                _ if sheet.rows.is_empty() => Why::Blank,
                _ => Why::NoHeadings,
            };
            let unknown = if why == Why::NoHeadings { first_texts(sheet) } else { Vec::new() };
            looked_at.push(LookedAt { place: sheet.name.clone(), why, unknown });
        }
        for (found, why) in on_sheet {
            let place =
                if alone { sheet.name.clone() } else { format!("{}!{}", sheet.name, found.at().address()) };
            let lacks = matches!(why, Why::NoSize | Why::NoWidth | Why::NoHeight | Why::NoName);
            let unknown = found.carried().filter(|_| lacks);
            let unknown = unknown.map(|heading| unknown_heading(sheet, heading)).collect();
            looked_at.push(LookedAt { place, why: why.clone(), unknown });
        }
    }
    looked_at
}

fn unknown_heading(sheet: &Sheet, heading: &str) -> UnknownHeading {
    let nearest = tables::nearest_column(heading).map(|column| column.name);
    UnknownHeading { sheet: sheet.name.clone(), heading: heading.to_owned(), nearest }
}

/// The first row of a sheet that holds several texts: its headings, if it has any.
fn first_texts(sheet: &Sheet) -> Vec<UnknownHeading> {
    let texts = |row: &Row| -> Vec<UnknownHeading> {
        let text = |(_, value): &(u16, Value)| match value {
            Value::Text(text) => Some(unknown_heading(sheet, text.trim())),
            _ => None,
        };
        row.cells.iter().filter_map(text).collect()
    };
    sheet.rows.iter().map(texts).find(|texts| texts.len() > 1).unwrap_or_default()
}
