//! Nothing that is typed is read in silence: a cell of a rule sheet is a rule used, an answer is among the answers,
//! a heading among the columns read, or a query points there.

use std::collections::HashSet;

use sillbook::earlier::{Earlier, Typed};
use sillbook::grid::{Grid, Row, Sheet, Value};
use sillbook::place::CellRef;
use sillbook::report::Report;
use sillbook::rules::columns::RULE_SHEETS;
use sillbook::rules::columns::project::PROJECT;
use sillbook::schema::Column;
use sillbook::schema::answers::VALUE;
use sillbook::schema::blinds::{
    DELIVERED_ON, DO, FITTED_ON, GOES_TO, LEFT, NOTE, ORDER_NUMBER, ORDERED_ON, PAID_BY, REASON, STATE, TYPED,
};
use sillbook::tables;

use super::units::FORMS;

/// What is typed in these files and nowhere told of.
pub fn fault(report: &Report<'_>, grids: &[Grid]) -> Option<String> {
    let told = Told::of(report);
    let sheets = || grids.iter().flat_map(|grid| &grid.sheets);
    // Of surveys that say the same the first is cited.
    let is_one = grids.len() == 1;
    let rule =
        |sheet| told.silent_rules(sheet)?.into_iter().find(|at| is_one && !is_said_of_material(grids, *at));
    let silent = sheets().find_map(|sheet| rule(sheet).or_else(|| told.silent_answer(sheet)));
    let silent = silent.or_else(|| sheets().find_map(|sheet| told.silent_heading(report, sheet)));
    silent.map(|at| format!("reads {} in silence", report.sheets.show(at)))
}

/// Whether `Materials` says the same of the row's material under the same heading: then that is what is cited.
fn is_said_of_material(grids: &[Grid], at: CellRef) -> bool {
    let sheets = || grids.iter().flat_map(|grid| &grid.sheets);
    let Some(sheet) = sheets().find(|sheet| sheet.id == at.sheet) else { return false };
    let Some(heading) = sheet.rows.first().and_then(|head| head.value(at.column)) else { return false };
    let material = sheet.value(at.row, 0);
    sheets().filter(|other| other.id != at.sheet && tables::is_named(other, "Materials")).any(|other| {
        let head = other.rows.first().into_iter().flat_map(|head| &head.cells);
        let mut columns = head.filter(|(_, value)| value == heading).map(|(column, _)| *column);
        columns.any(|column| {
            let mut rows = other.rows.iter().filter(|row| row.value(0) == material);
            rows.any(|row| row.value(column) == sheet.value(at.row, at.column))
        })
    })
}

/// The cells that something is told of.
struct Told {
    cells: HashSet<CellRef>,
    /// Rows of which a cell is asked about.
    rows: HashSet<CellRef>,
    headings: HashSet<CellRef>,
    answers: HashSet<CellRef>,
}

/// The cell that stands for a row.
fn row_of(at: CellRef) -> CellRef {
    CellRef { column: 0, ..at }
}

fn text_of(value: &Value) -> &str {
    match value {
        Value::Text(text) => text,
        _ => "",
    }
}

/// Whether a value is more than a mark: a mark may mean that the cell is as the one above.
fn says_something(value: &Value) -> bool {
    !matches!(value, Value::Text(text) if !text.chars().any(char::is_alphanumeric))
}

/// Whether a text is a unit alone, which stands below a heading and is none.
fn is_unit(text: &str) -> bool {
    FORMS.iter().any(|(_, words)| words.contains(&text.trim()))
}

fn is_named(column: &Column, text: &str) -> bool {
    column.names().any(|name| name == text)
}

impl Told {
    fn of(report: &Report<'_>) -> Told {
        let asked = || report.queries.iter().chain(&report.accepted).flat_map(|query| &query.places);
        let asked: HashSet<CellRef> = asked().filter_map(|place| place.at).collect();
        let used = report.rules.used.iter().filter_map(|used| used.at);
        Told {
            rows: asked.iter().map(|at| row_of(*at)).collect(),
            cells: asked.iter().copied().chain(used).collect(),
            headings: report.survey.columns.iter().map(|read| read.at).collect(),
            answers: report.answers.iter().map(|answer| answer.at).collect(),
        }
    }

    fn knows(&self, at: CellRef) -> bool {
        self.cells.contains(&at) || self.rows.contains(&row_of(at))
    }

    /// Cells of a rule sheet with sound headings that are no rules used.
    fn silent_rules(&self, sheet: &Sheet) -> Option<Vec<CellRef>> {
        let (head, rows) = sheet.rows.split_first()?;
        // Headings that stand there again say nothing more.
        let rows = || rows.iter().filter(|row| row.cells != head.cells);
        let cells = || rows().flat_map(|row| row.cells.iter().map(move |cell| (row, cell)));
        let typed = cells().filter(|(_, (_, value))| says_something(value));
        let typed = typed.map(|(row, (column, _))| (row, sheet.at(row.row, *column)));
        if tables::is_named(sheet, PROJECT.sheet) {
            let item = |text: &str| PROJECT.columns.iter().any(|column| is_named(column, text));
            let is_item = |row: &Row| row.value(0).is_some_and(|value| item(text_of(value)));
            let every = sheet.rows.iter().filter(|row| row.value(1).is_some() && is_item(row));
            return Some(every.map(|row| sheet.at(row.row, 1)).filter(|at| !self.knows(*at)).collect());
        }
        let table = RULE_SHEETS.into_iter().find(|table| tables::is_named(sheet, table.sheet))?;
        let heading = |at: CellRef| {
            let text = text_of(head.value(at.column)?);
            table.columns.iter().find(|column| is_named(column, text))
        };
        let is_sound = head.cells.iter().all(|(column, _)| heading(sheet.at(head.row, *column)).is_some());
        let is_rule = |at: CellRef| heading(at).is_some_and(|column| column.slot > 0 && column.key != "note");
        if !is_sound {
            return None;
        }
        // Of two headings of one column that column alone is read, and the query is at one of them.
        let slot_of = |at: CellRef| heading(at).map(|column| column.slot);
        let is_doubted = |at: CellRef| {
            let mut alike = head.cells.iter().map(|(column, _)| sheet.at(head.row, *column));
            alike.any(|other| slot_of(other) == slot_of(at) && self.cells.contains(&other))
        };
        let silent = typed.filter(|(_, at)| is_rule(*at) && !self.knows(*at) && !is_doubted(*at));
        Some(silent.map(|(_, at)| at).collect())
    }

    /// An answer that is not among the answers.
    fn silent_answer(&self, sheet: &Sheet) -> Option<CellRef> {
        if !["Answers", "Queries"].contains(&&*sheet.name) {
            return None;
        }
        let (head, rows) = sheet.rows.split_first()?;
        let (column, _) = head.cells.iter().find(|(_, value)| is_named(&VALUE, text_of(value)))?;
        let typed = rows.iter().filter(|row| row.cells != head.cells).filter(|row| {
            row.value(*column).is_some_and(|value| says_something(value) && !is_named(&VALUE, text_of(value)))
        });
        let mut typed = typed.map(|row| sheet.at(row.row, *column));
        // What is asked about a heading holds for all that stands below it.
        let is_doubted = self.rows.contains(&row_of(sheet.at(head.row, 0)));
        typed.find(|at| !is_doubted && !self.answers.contains(at) && !self.knows(*at))
    }

    /// A heading among others that is neither a column nor asked about.
    fn silent_heading(&self, report: &Report<'_>, sheet: &Sheet) -> Option<CellRef> {
        let read = report.survey.columns.iter().map(|read| read.at).filter(|at| at.sheet == sheet.id);
        let mut rows: Vec<(u32, u16, u16)> = Vec::new();
        for at in read {
            match rows.iter_mut().find(|(row, ..)| *row == at.row) {
                Some((_, first, last)) => (*first, *last) = ((*first).min(at.column), (*last).max(at.column)),
                None => rows.push((at.row, at.column, at.column)),
            }
        }
        rows.into_iter().find_map(|(row, first, last)| {
            let cells = &sheet.rows.iter().find(|found| found.row == row)?.cells;
            let between = cells.iter().filter(|(column, value)| {
                (first..=last).contains(column)
                    && text_of(value).chars().any(char::is_alphanumeric)
                    && !is_unit(text_of(value))
            });
            let mut between = between.map(|(column, _)| sheet.at(row, *column));
            // A heading above others is part of theirs.
            let is_above = |at: CellRef| {
                (1..=2).any(|below| self.headings.contains(&CellRef { row: at.row + below, ..at }))
            };
            between.find(|at| !self.headings.contains(at) && !self.cells.contains(at) && !is_above(*at))
        })
    }
}

/// What people typed beside a blind that was ordered and no blind of the run has any more.
pub fn fault_of_orders(report: &Report<'_>, earlier: Option<&Earlier>) -> Option<String> {
    let lines = report.order.lines.iter().chain(&report.order.ended);
    let seated: HashSet<usize> = lines.flat_map(|line| &line.seats).filter_map(|seat| seat.kept).collect();
    let blinds = earlier?.blinds.iter().enumerate();
    let mut lost = blinds.filter(|(place, blind)| blind.is_frozen() && !seated.contains(place));
    let (_, blind) = lost.next()?;
    Some(format!("forgets {}, which is ordered", report.sheets.show(blind.at)))
}

/// A cell that people typed in on a sheet `Blinds` and that was not taken up, if there is one: no row with a state
/// is passed over, and of a row that is taken up no cell is.
pub fn forgotten(sheet: &Sheet, earlier: &Earlier) -> Option<CellRef> {
    let place = |row: &Row, name: &str| {
        row.cells.iter().find(|(_, value)| text_of(value) == name).map(|(column, _)| *column)
    };
    let head = sheet.rows.iter().position(|row| place(row, STATE.name).is_some())?;
    let columns = TYPED.iter().filter_map(|column| Some((column, place(&sheet.rows[head], column.name)?)));
    let columns: Vec<(&&Column, u16)> = columns.collect();
    let is_typed = |row: &Row, column: u16| row.value(column).is_some_and(says_something);
    let taken = |row: &Row| {
        let is_row = |at: CellRef| (at.sheet, at.row) == (sheet.id, row.row);
        let blinds = earlier.blinds.iter().map(|blind| (blind.at, &blind.typed));
        let spares = earlier.spares.iter().map(|spares| (spares.at, &spares.typed));
        blinds.chain(spares).find(|(at, _)| is_row(*at)).map(|(_, typed)| typed)
    };
    sheet.rows[head + 1..].iter().find_map(|row| {
        // A row that stands there twice is one.
        let typed = sheet.rows.iter().filter(|other| other.cells == row.cells).find_map(taken);
        let is_lost = |column: &Column| match typed {
            Some(typed) => !has(typed, column),
            None => column.name == STATE.name,
        };
        let lost = columns.iter().find(|(column, place)| is_typed(row, *place) && is_lost(column));
        lost.map(|(_, place)| sheet.at(row.row, *place))
    })
}

/// Whether what people typed in that column is there.
fn has(typed: &Typed, column: &Column) -> bool {
    match column.name {
        name if name == STATE.name => typed.state.is_some(),
        name if name == ORDER_NUMBER.name => !typed.order_number.is_empty(),
        name if name == ORDERED_ON.name => typed.ordered_on.is_some(),
        name if name == DELIVERED_ON.name => typed.delivered_on.is_some(),
        name if name == FITTED_ON.name => typed.fitted_on.is_some(),
        name if name == REASON.name => typed.reason.is_some(),
        name if name == PAID_BY.name => typed.paid_by.is_some(),
        name if name == DO.name => typed.to_do.is_some(),
        name if name == GOES_TO.name => !typed.goes_to.is_empty(),
        name if name == LEFT.name => typed.left.is_some(),
        name if name == NOTE.name => !typed.note.is_empty(),
        other => panic!("{other} is typed in and not held"),
    }
}
