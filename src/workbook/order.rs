//! `Order`: what the maker makes, totals by colour, and which opening each blind is for.

use rust_xlsxwriter::Workbook;

use super::ahead::Ahead;
use super::cell::Cell;
use super::layout::fixed;
use super::look::Tone;
use super::pages::{Column, Form, Frozen, Pages, in_use, span};
use super::sheet::{Keeping, Lie};
use super::{LEFT_AND_RIGHT, Press, WorkbookError};
use crate::blinds::{HEADRAIL, TILT_ROD};
use crate::length::Length;
use crate::order::OrderLine;
use crate::query::OpeningIndex;
use crate::report::expr::Address;
use crate::report::{ColourTotal, Labels, Report};
use crate::rules::SizesGiven;
use crate::sizing::{Release, Size};
use crate::survey::shown_unit;

const TITLE: &str = "FINISHED SIZES - MAKE AS WRITTEN, NO FURTHER DEDUCTION";

/// Writes the sheet; gives where each line stands.
pub(super) fn write(workbook: &mut Workbook, press: &Press<'_>) -> Result<Vec<Address>, WorkbookError> {
    let form = Form {
        name: fixed::ORDER,
        title: TITLE,
        remarks: vec![
            format!("{LEFT_AND_RIGHT} A provisional line is not to be made until its query is answered.")
                .into(),
        ],
        keeping: Keeping::Disk,
        lie: Lie::Wide,
        frozen: Frozen::Headings,
    };
    let report = press.report;
    let mut pages = Pages::open(workbook, press, form)?;
    pages.way_back()?;
    let Places { lines: places, labels: firsts } = Places::ahead(report, pages.ahead());
    let lines = in_use(line_columns(press, &firsts), report.order.lines.iter());
    pages.table(&lines, &report.order.lines, |line| tone(line.key.release))?;

    let totals = report.colour_totals();
    let whole = report.order_total();
    pages.section("Totals by colour", span(&lines))?;
    let rows = totals.iter().map(|total| (*total, Tone::Body)).chain([(whole, Tone::Total)]);
    pages.table(&total_columns(), rows, |(_, tone)| tone)?;

    let each_opening = report
        .order
        .lines
        .iter()
        .flat_map(|line| report.labels(line).map(move |labels| Labelled { line, labels }));
    let labels = in_use(label_columns(press), each_opening.clone());
    pages.section_on_new_page("Which opening each blind is for, as its label says", span(&labels))?;
    pages.table(&labels, each_opening, |row| tone(row.line.key.release))?;
    pages.finish()?;
    Ok(places)
}

/// Where rows of the sheet will stand, before any is written.
struct Places {
    /// The row of each line.
    lines: Vec<Address>,
    /// The row of each line's first label.
    labels: Vec<Address>,
}

impl Places {
    /// Walks the lines and their labels from where the headings of the lines will stand.
    fn ahead(report: &Report<'_>, mut ahead: Ahead) -> Places {
        let lines = &report.order.lines;
        ahead.headings();
        let rows = lines.iter().map(|_| ahead.row()).collect();
        // The totals, with that of all.
        ahead.section();
        ahead.headings();
        (0..=report.colour_totals().len()).for_each(|_| {
            ahead.row();
        });
        ahead.section();
        ahead.headings();
        let first_of = |line: &OrderLine| {
            let first = ahead.row();
            line.openings.iter().skip(1).for_each(|_| {
                ahead.row();
            });
            first
        };
        Places { lines: rows, labels: lines.iter().map(first_of).collect() }
    }
}

fn tone(release: Release) -> Tone {
    match release {
        Release::Make => Tone::Body,
        Release::Provisional => Tone::Provisional,
    }
}

fn line_columns<'p>(press: &'p Press<'p>, firsts: &'p [Address]) -> Vec<Column<'p, &'p OrderLine>> {
    let length = |heading: &str| press.lengths(heading);
    vec![
        Column::new("Line", |line: &OrderLine| line.line).strong(),
        Column::new("Quantity", |line: &OrderLine| line.quantity).strong(),
        Column::new("Product", |line: &'p OrderLine| &line.key.product),
        Column::new("Colour", |line: &'p OrderLine| &line.key.colour),
        Column::new(length("Width"), |line: &OrderLine| line.key.size.width).strong(),
        Column::new(length("Drop"), |line: &OrderLine| line.key.size.drop).strong(),
        Column::new("Release", |line: &OrderLine| line.key.release.word()),
        Column::new(length("Headrail cut"), |line: &OrderLine| line.cut(HEADRAIL)),
        Column::new(length("Tilt rod cut"), |line: &OrderLine| line.cut(TILT_ROD)),
        Column::new("Louvers", |line: &OrderLine| line.louvers.map(|louvers| louvers.count)),
        Column::new(length("Louver length"), |line: &OrderLine| line.louvers.map(|louvers| louvers.length)),
        Column::new("Draw", |line: &OrderLine| line.key.draw.map(|draw| draw.word())),
        Column::new("Control", |line: &OrderLine| line.key.control.word()),
        Column::new("Control side", |line: &OrderLine| line.key.control_side.map(|side| side.word()))
            .unless_blank(),
        Column::new(length("Wand"), |line: &OrderLine| line.key.wand).unless_blank(),
        Column::new("Mount", |line: &OrderLine| line.key.mount().word()),
        Column::new("Bracket", |line: &'p OrderLine| &line.key.bracket),
        Column::new(length("Reach"), |line: &OrderLine| line.key.reach()).unless_blank(),
        Column::new("Brackets each", |line: &OrderLine| match line.brackets_each(&press.report.blinds) {
            Some(count) => count.into(),
            None => Cell::from(format!("{} in all", line.brackets)),
        }),
        Column::new(length("Valance front"), |line: &OrderLine| line.key.valance),
        Column::new(length("Return left"), |line: &OrderLine| present(line.key.returns().left)),
        Column::new(length("Return right"), |line: &OrderLine| present(line.key.returns().right)),
        Column::new("Source", |line: &OrderLine| source(press, line)),
        Column::new(length("Tolerance, plus or minus"), |line: &OrderLine| tolerance(press, line)),
        Column::new("Weight each (kg)", |line: &OrderLine| Cell::Mass(line.weight)),
        Column::new("Phase", |line: &'p OrderLine| &line.key.phase).unless_blank(),
        Column::new("For", |line: &'p OrderLine| {
            let words = openings_in_words(press, line);
            match line.line.checked_sub(1).and_then(|place| firsts.get(place)) {
                Some(first) => Cell::Link(first.clone(), words.into()),
                None => words.into(),
            }
        }),
    ]
}

/// The first opening of a line, and how many more there are.
fn openings_in_words(press: &Press<'_>, line: &OrderLine) -> String {
    let first = line.openings.first().map_or("", |&opening| press.name(opening));
    match line.openings.len() {
        0 | 1 => first.to_owned(),
        several => format!("{first} and {} more", several - 1),
    }
}

/// A return of 0 is no return.
fn present(length: Length) -> Cell<'static> {
    if length == Length::ZERO { "none".into() } else { length.into() }
}

/// `made`, or the stock size by the name it is ordered by, and whether it is to be cut down.
fn source(press: &Press<'_>, line: &OrderLine) -> String {
    let listed = line.key.stock.and_then(|id| press.report.rules.stock_size(id));
    let Some(stock) = listed else {
        return line.key.origin().word().to_owned();
    };
    let units = press.length_units();
    let nominal = format!("{} x {}", stock.nominal_width.show(units), stock.nominal_drop.show(units));
    let cut_down = line.key.size != Size { width: stock.width, drop: stock.drop };
    format!("{} {nominal}{}", line.key.origin().word(), if cut_down { ", cut down" } else { "" })
}

fn tolerance(press: &Press<'_>, line: &OrderLine) -> Option<Length> {
    press.report.rules.product(&line.key.product).map(|product| *product.cover.tolerance)
}

/// One opening's blinds of one line.
#[derive(Clone, Copy)]
struct Labelled<'p> {
    line: &'p OrderLine,
    labels: Labels,
}

/// The first columns stand under the same headings as the lines above them, so that what stays
/// in sight while scrolling is true of both.
fn label_columns<'p>(press: &'p Press<'p>) -> Vec<Column<'p, Labelled<'p>>> {
    let length = |heading: &str| press.lengths(heading);
    let who = |row: Labelled<'p>| &press.report.survey.openings[row.labels.opening].who;
    vec![
        Column::new("Line", |row: Labelled<'p>| row.line.line).strong(),
        Column::new("Label", |row: Labelled<'p>| row.labels.words()).strong(),
        Column::new("Product", |row: Labelled<'p>| &row.line.key.product),
        Column::new("Colour", |row: Labelled<'p>| &row.line.key.colour),
        Column::new(length("Width"), |row: Labelled<'p>| row.line.key.size.width).strong(),
        Column::new(length("Drop"), |row: Labelled<'p>| row.line.key.size.drop).strong(),
        Column::new("Release", |row: Labelled<'p>| row.line.key.release.word()),
        Column::new("Opening", move |row: Labelled<'p>| {
            Cell::Link(press.layout.opening_row(row.labels.opening), (&*who(row).name).into())
        }),
        Column::new("Room", move |row: Labelled<'p>| &who(row).room).unless_blank(),
        Column::new("Unit", move |row: Labelled<'p>| {
            let unit = shown_unit(&who(row).unit);
            Cell::Link(press.layout.page_of(row.labels.opening), unit.into())
        }),
        Column::new("Opening size, width x height", move |row: Labelled<'p>| {
            opening_size(press, row.labels.opening)
        }),
        Column::new("Floor", move |row: Labelled<'p>| &who(row).floor).unless_blank(),
        Column::new("Building", move |row: Labelled<'p>| &who(row).building).unless_blank(),
    ]
}

/// The least width and height of an opening, as text: it is no size to make. A survey of finished
/// sizes does not give it.
fn opening_size(press: &Press<'_>, opening: OpeningIndex) -> Option<String> {
    if press.report.rules.project.sizes_given == SizesGiven::Finished {
        return Some("not given".to_owned());
    }
    let facts = press.report.survey.openings[opening].facts.as_ref()?;
    let units = press.length_units();
    Some(format!("{} x {}", facts.width.least().value.show(units), facts.height.least().value.show(units)))
}

fn total_columns<'p>() -> Vec<Column<'p, (ColourTotal<'p>, Tone)>> {
    type Row<'p> = (ColourTotal<'p>, Tone);
    vec![
        Column::new("", |_: Row<'p>| Cell::Blank),
        Column::new("Blinds", |(total, _): Row<'p>| total.blinds()).strong(),
        Column::new("Product", |(total, _): Row<'p>| total.product),
        Column::new("Colour", |(total, _): Row<'p>| total.colour).strong(),
        Column::new("To make now", |(total, _): Row<'p>| total.to_make),
        Column::new("From stock", |(total, _): Row<'p>| total.from_stock),
        Column::new("Provi- sional", |(total, _): Row<'p>| total.provisional),
        Column::new("Louvers", |(total, _): Row<'p>| total.louvers),
    ]
}
