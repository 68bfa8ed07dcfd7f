//! The options: each with what it changes, what it costs and why; then figure by figure, side by side.

use crate::cost::Section;
use crate::report::figure::{Heading, Money, Row};
use crate::report::rows::{ChoiceCostRow, ChoiceRow, DifferenceRow, FiguresRow};
use crate::workbook::cell::Cell;
use crate::workbook::charts::{self, Bars};
use crate::workbook::column::{cell_of, in_its_unit};
use crate::workbook::look::Tone;
use crate::workbook::pages::{Column, Pages, in_use, span};
use crate::workbook::{Press, WorkbookError};

/// Columns of the sheet that a long text stands over.
const OVER: u16 = 4;
/// Characters that a column of figures holds at the least.
const NARROWEST: usize = 12;

/// Whether the survey has options.
pub(super) fn is_there(press: &Press<'_>) -> bool {
    !press.report.options.is_empty()
}

/// Writes both tables, and a chart of the totals, if the survey has options.
pub(super) fn write(pages: &mut Pages<'_>, press: &Press<'_>) -> Result<(), WorkbookError> {
    if !is_there(press) {
        return Ok(());
    }
    pages.remark(
        "Each option is worked as a run of its own. To have all sheets of one, run again with --option and its name. What is ordered already is the same in every option.",
    )?;
    let rows: Vec<ChoiceRow<'_>> = ChoiceRow::all(press.report).collect();
    totals(pages, press, &rows)?;
    side_by_side(pages, press, &rows)
}

/// Each option on a row, with a chart of the totals below. What is known of a total that is not known is no
/// saving, so it is compared with nothing.
fn totals(pages: &mut Pages<'_>, press: &Press<'_>, rows: &[ChoiceRow<'_>]) -> Result<(), WorkbookError> {
    let heading = press.money("Total");
    let money = |known: Option<Money>| Cell::known(known.map(|money| Cell::Money(money.0)));
    let columns = vec![
        Column::new("Option", |row: ChoiceRow<'_>| Cell::from(row.shown_name().to_owned())).strong(),
        Column::new(heading.clone(), move |row: ChoiceRow<'_>| money(row.cost().total())).strong(),
        Column::new(press.money("Difference"), move |row: ChoiceRow<'_>| {
            row.difference().map_or(Cell::Blank, |difference| money(difference.total()))
        }),
        Column::new(press.money("KNOWN SO FAR"), |row: ChoiceRow<'_>| match row.cost().total() {
            Some(_) => Cell::Blank,
            None => Cell::Money(row.cost().known_total().0),
        })
        .unless_blank(),
        Column::new("What it changes", |row: ChoiceRow<'_>| Cell::from(row.says().join("; "))).over(OVER),
        Column::new("Why", |row: ChoiceRow<'_>| Cell::from(row.why().join("; "))).over(2 * OVER),
        Column::new("Note", |row: ChoiceRow<'_>| Cell::from(row.note().to_owned())).over(OVER),
    ];
    let columns = in_use(columns, rows.iter().copied());
    // As wide as the figures below need them, so that a long text over them takes the rows that it needs.
    for column in 1..span(&columns) {
        pages.widen(column, NARROWEST);
    }
    charts::keep_below(pages, rows.len(), rows.len())?;
    pages.section("What each option comes to", span(&columns))?;
    let top = pages.sheet().row();
    pages.table(&columns, rows.iter().copied(), |_| Tone::Body)?;
    let bars = Bars {
        title: format!("{heading} by option"),
        names: "Option",
        values: heading.clone(),
        rows: rows.len(),
        series: &[(1, &heading)],
        shares: false,
    };
    charts::below(pages, top, &bars)
}

/// A figure on each row, and beside it what each option makes of it.
fn side_by_side(
    pages: &mut Pages<'_>,
    press: &Press<'_>,
    rows: &[ChoiceRow<'_>],
) -> Result<(), WorkbookError> {
    let lines = Lines::of(press);
    let mut columns =
        vec![Column::new("Figure", |line: Line| Cell::from(lines.name(line, press))).strong().wide(30)];
    for &row in rows {
        let lines = &lines;
        columns.push(Column::new(row.shown_name().to_owned(), move |line| lines.figure(line, row)));
        if row.option().is_some() {
            columns.push(Column::new("Difference", move |line| lines.difference(line, row)));
        }
    }
    pages.section("Side by side", span(&columns))?;
    pages.table(&columns, lines.all(), |line| match line {
        Line::Cost(_) => Tone::Strong,
        Line::Figure(_) | Line::Section(_) => Tone::Body,
    })
}

/// A row of the table of figures.
#[derive(Clone, Copy)]
enum Line {
    /// A figure, by its place among them.
    Figure(usize),
    /// A section of the cost.
    Section(Section),
    /// A total of the cost, by its place among them.
    Cost(usize),
}

/// What the rows of the table of figures are made from.
struct Lines<'p> {
    figures: Vec<Heading<'p, FiguresRow<'p>>>,
    sections: Vec<Section>,
    costs: Vec<Heading<'p, ChoiceCostRow<'p>>>,
    differences: Vec<Heading<'p, DifferenceRow<'p>>>,
}

fn headings<'p, R: Row<'p>>() -> Vec<Heading<'p, R>> {
    R::fields().into_iter().flat_map(|field| field.headings).collect()
}

impl<'p> Lines<'p> {
    fn of(press: &Press<'p>) -> Lines<'p> {
        Lines {
            figures: headings(),
            sections: ChoiceRow::sections_of_any(press.report),
            costs: headings(),
            differences: headings(),
        }
    }

    fn all(&self) -> impl Iterator<Item = Line> {
        let sections = self.sections.iter().map(|section| Line::Section(*section));
        let costs = (0..self.costs.len()).map(Line::Cost);
        (0..self.figures.len()).map(Line::Figure).chain(sections).chain(costs)
    }

    fn name(&self, line: Line, press: &Press<'_>) -> String {
        let in_capitals = |word: &str| {
            let mut word = word.to_owned();
            word.get_mut(..1).into_iter().for_each(str::make_ascii_uppercase);
            word
        };
        match line {
            Line::Figure(place) => {
                let heading = &self.figures[place];
                in_its_unit(press, heading.key, heading.words.clone()).into_owned()
            }
            Line::Section(section) => press.money(&in_capitals(section.word())),
            Line::Cost(place) => press.money(&self.costs[place].words),
        }
    }

    fn figure(&self, line: Line, row: ChoiceRow<'p>) -> Cell<'p> {
        match line {
            Line::Figure(place) => cell_of((self.figures[place].said)(row.figures()), &|_| None),
            Line::Section(section) => {
                Cell::known(row.section_row(section).amount().map(|money| Cell::Money(money.0)))
            }
            Line::Cost(place) => cell_of((self.costs[place].said)(row.cost()), &|_| None),
        }
    }

    fn difference(&self, line: Line, row: ChoiceRow<'p>) -> Cell<'p> {
        let key = match line {
            Line::Section(section) => {
                return Cell::known(row.section_row(section).difference().map(|money| Cell::Money(money.0)));
            }
            Line::Figure(place) => self.figures[place].key,
            Line::Cost(place) => self.costs[place].key,
        };
        let own = self.differences.iter().find(|own| own.key == key);
        let said = own.zip(row.difference()).map(|(own, difference)| (own.said)(difference));
        said.map_or(Cell::Blank, |said| cell_of(said, &|_| None))
    }
}
