//! The fitter's page: one for each unit, on a sheet of its own or, in a large building, one under
//! the other on `Install 1`, `Install 2`… What a page says is a list of lines, made first; laying
//! it out is one walk over them, so its length is known before anything is written.

use std::borrow::Cow;

use rust_xlsxwriter::Workbook;

use super::cell::Cell;
use super::look::Tone;
use super::sheet::{Keeping, Lie, Sheet};
use super::{HEIGHTS, LEFT_AND_RIGHT, Press, WorkbookError};
use crate::fitting::Fitted;
use crate::hardware::NOT_CHOSEN;
use crate::length::{Length, Units};
use crate::query::OpeningIndex;
use crate::report::{Doubts, Hanging, Load, Report, Unit};
use crate::sizing::Mount;

/// Columns of a page: four names, each with a figure beside it.
const COLUMNS: u16 = 8;
/// Characters that a name and a figure hold; together as wide as an upright page.
const NAME_WIDTH: f64 = 16.0;
const FIGURE_WIDTH: f64 = 9.0;
/// Characters in a line of text that spreads over all columns but the first.
const SPREAD_CHARACTERS: usize = 115;
/// Characters in a line of text over all columns.
const ALL_CHARACTERS: usize = 140;
/// A page of more openings than this goes on over further pages in print, so that it can be read.
const OPENINGS_A_PAGE: usize = 6;

/// One line of a page.
enum Line<'p> {
    /// The unit, and the revision at the right.
    Title(String, String),
    /// The name of an opening's block.
    Band(String, Tone),
    /// Up to four figures, each beside its name.
    Figures(Vec<(&'static str, Cell<'p>)>),
    /// Up to two figures with longer names.
    Pair(Vec<(&'static str, Cell<'p>)>),
    /// Positions along the rail, beside what they are measured from.
    Positions(&'static str, Vec<Length>),
    /// A text beside its name, as tall as it needs.
    Text(&'static str, String),
    /// A sentence over the whole width.
    Sentence(Cow<'p, str>, Tone),
    /// Boxes to fill in by hand.
    Boxes,
    /// Room between blocks.
    Gap,
}

/// Positions that fit on one line beside their name.
const POSITIONS_A_LINE: usize = 5;

/// Rows that a unit's page takes.
pub(super) fn rows(report: &Report<'_>, doubts: &Doubts<'_>, unit: &Unit<'_>) -> u32 {
    u32::try_from(lines(report, doubts, unit, "").len()).unwrap_or(u32::MAX)
}

/// Writes every unit's page.
pub(super) fn write(workbook: &mut Workbook, press: &Press<'_>) -> Result<(), WorkbookError> {
    if press.layout.pages_share_sheets() {
        return write_shared(workbook, press);
    }
    for (place, unit) in press.units.iter().enumerate() {
        let name = press.layout.unit_page(place).sheet.to_string();
        let mut sheet = Sheet::new(workbook, press, name, Keeping::Memory, Lie::Portrait)?;
        set_columns(&mut sheet)?;
        let pages = unit.openings.len().div_ceil(OPENINGS_A_PAGE);
        sheet.set_up().set_print_fit_to_pages(1, u16::try_from(pages).unwrap_or(0));
        lay(&mut sheet, lines(press.report, &press.doubts, unit, &press.layout.unit_titles[place]))?;
        workbook.push_worksheet(sheet.finish());
    }
    Ok(())
}

/// Pages one under the other, each from the top of a printed page.
fn write_shared(workbook: &mut Workbook, press: &Press<'_>) -> Result<(), WorkbookError> {
    let mut open: Option<(Sheet<'_>, Vec<u32>)> = None;
    for (place, unit) in press.units.iter().enumerate() {
        let page = press.layout.unit_page(place);
        if let Some((sheet, breaks)) = open.take_if(|(sheet, _)| sheet.name() != &*page.sheet) {
            close(workbook, sheet, &breaks)?;
        }
        let (sheet, breaks) = match &mut open {
            Some(open) => open,
            None => {
                let mut sheet =
                    Sheet::new(workbook, press, page.sheet.to_string(), Keeping::Disk, Lie::Portrait)?;
                set_columns(&mut sheet)?;
                // Page breaks hold only where a sheet is not fitted to pages.
                sheet.set_up().set_print_scale(PERCENT_OF_SHARED_PAGES);
                open.insert((sheet, Vec::new()))
            }
        };
        // A sheet's first page needs no break; the library panics on a break at the top alone.
        if sheet.row() > 0 {
            breaks.push(sheet.row());
        }
        lay(sheet, lines(press.report, &press.doubts, unit, &press.layout.unit_titles[place]))?;
    }
    match open {
        Some((sheet, breaks)) => close(workbook, sheet, &breaks),
        None => Ok(()),
    }
}

/// Print scale of pages that share a sheet: their width fits, and five openings fit on a page.
const PERCENT_OF_SHARED_PAGES: u16 = 70;

fn close(workbook: &mut Workbook, mut sheet: Sheet<'_>, breaks: &[u32]) -> Result<(), WorkbookError> {
    sheet.set_up().set_page_breaks(breaks)?;
    workbook.push_worksheet(sheet.finish());
    Ok(())
}

fn set_columns(sheet: &mut Sheet<'_>) -> Result<(), WorkbookError> {
    for column in 0..COLUMNS {
        let width = if column % 2 == 0 { NAME_WIDTH } else { FIGURE_WIDTH };
        sheet.set_up().set_column_width(column, width)?;
    }
    Ok(())
}

/// Everything that a unit's page says.
fn lines<'p>(report: &'p Report<'p>, doubts: &Doubts<'_>, unit: &Unit<'_>, title: &str) -> Vec<Line<'p>> {
    let project = &report.rules.project;
    let load = report.load(unit);
    let place: Vec<&str> = [project.name.as_str(), project.site.as_str(), unit.building]
        .into_iter()
        .filter(|part| !part.is_empty())
        .collect();
    let floor = if unit.floor.is_empty() { "not given" } else { unit.floor }.to_owned();
    let mut lines = vec![
        Line::Title(
            if unit.unit.is_empty() { title.to_owned() } else { format!("Unit {title}") },
            format!("Revision {}", project.revision),
        ),
        Line::Sentence(place.join(", ").into(), Tone::Remark),
        Line::Figures(vec![
            ("Floor", floor.into()),
            ("Openings", load.openings.into()),
            ("Boxes to bring", load.boxes.into()),
            ("Held / provisional", format!("{} / {}", load.held, load.provisional).into()),
        ]),
        Line::Figures(vec![
            ("Heaviest (kg)", load.heaviest.map(Cell::Mass).into()),
            ("People", (load.people > 0).then_some(load.people).into()),
        ]),
        Line::Text("Tools and bits", tools(&load, project.units)),
        Line::Sentence(LEFT_AND_RIGHT.into(), Tone::Warning),
        Line::Sentence(HEIGHTS.into(), Tone::Remark),
        Line::Gap,
    ];
    for (place, &opening) in unit.openings.iter().enumerate() {
        lines.extend(block(report, doubts, opening, (place + 1, unit.openings.len())));
        lines.push(Line::Gap);
    }
    lines.push(Line::Band("Before anything is drilled".to_owned(), Tone::Section));
    lines
        .extend(report.site_cautions().into_iter().map(|caution| Line::Sentence(caution.into(), Tone::Body)));
    lines
}

/// One opening's block; `of` is its number among the unit's openings.
fn block<'p>(
    report: &'p Report<'p>,
    doubts: &Doubts<'_>,
    opening: OpeningIndex,
    of: (usize, usize),
) -> Vec<Line<'p>> {
    let who = &report.survey.openings[opening].who;
    let room = if who.room.is_empty() { String::new() } else { format!(", {}", who.room) };
    let several = if who.quantity > 1 { format!(" x {}", who.quantity) } else { String::new() };
    let name = format!("{} of {}: {}{room}{several}", of.0, of.1, who.name);
    let Some(hanging) = report.hanging(doubts, opening) else {
        let stops: Vec<String> = doubts.stops(opening).map(|stop| stop.words()).collect();
        return vec![
            Line::Band(format!("{name} - HELD"), Tone::Held),
            Line::Text("Held by", stops.join("; ")),
        ];
    };
    let units = report.rules.project.units;
    let fitted = &hanging.blind.fitted;
    let size = hanging.blind.sourced.size;
    let mut lines = vec![
        Line::Band(
            format!(
                "{name} - finished {} wide x {} drop, {} mount",
                size.width.show(units),
                size.drop.show(units),
                hanging.blind.sizing.mount.word()
            ),
            Tone::Band,
        ),
        Line::Figures(vec![
            ("Finished width", size.width.into()),
            ("Finished drop", size.drop.into()),
            ("Draw, stacks at", hanging.blind.sizing.operation.draw.word().into()),
            ("Wand side", wand_side(fitted).into()),
        ]),
    ];
    lines.extend(heights(&hanging));
    lines.extend(centres(fitted));
    let [left, right] = match hanging.blind.sizing.mount {
        Mount::Outside => [
            ("Overlap left", Cell::known(fitted.overlap_left)),
            ("Overlap right", Cell::known(fitted.overlap_right)),
        ],
        Mount::Inside => [
            ("Gap each side", Cell::known(hanging.rail_from_edge)),
            ("Stands proud", Cell::known(hanging.blind.sizing.bracket.stands_proud)),
        ],
    };
    lines.push(Line::Figures(vec![
        left,
        right,
        ("Gap below", Cell::known(fitted.gap_below)),
        ("Wand length", fitted.wand.into()),
    ]));
    lines.push(Line::Text("Fixing", fixing(fitted, units)));
    lines.push(Line::Text("Start", hanging.start.to_owned()));
    lines.push(Line::Text(
        "Louvers",
        format!("{} of {}; {}", fitted.louvers.count, fitted.louvers.length.show(units), hanging.face),
    ));
    if !hanging.cautions.is_empty() {
        lines.push(Line::Text("Caution", hanging.cautions.join("\n")));
    }
    if !who.note.is_empty() {
        lines.push(Line::Text("Note", who.note.to_string()));
    }
    lines.push(Line::Boxes);
    lines
}

fn heights<'p>(hanging: &Hanging<'_>) -> [Line<'p>; 2] {
    let (brackets, bracket) = (&hanging.blind.fitted.brackets, &hanging.blind.sizing.bracket);
    let rail = match hanging.rail_from_edge {
        Some(past) if past < Length::ZERO => {
            ("Rail's left end past the opening's left edge by", Cell::Length(past.abs()))
        }
        inside => ("Rail's left end in from the opening's left edge by", Cell::known(inside)),
    };
    let depth = match hanging.blind.sizing.mount {
        Mount::Outside => ("Bracket reach, wall to the line of the louvers", bracket.reach.into()),
        Mount::Inside => (
            "Setback, wall face to the rail's centre",
            match bracket.setback {
                Some(setback) => setback.into(),
                None => Cell::from("measure"),
            },
        ),
    };
    [
        Line::Pair(vec![rail, ("Bracket top above the floor", Cell::known(brackets.top_above_floor))]),
        Line::Pair(vec![depth, ("Bracket top above the head", Cell::known(brackets.top_above_head))]),
    ]
}

fn centres<'p>(fitted: &Fitted<'_>) -> Vec<Line<'p>> {
    let (name, positions) = match &fitted.brackets.from_opening_left {
        Some(positions) => ("Bracket centres from the opening's left edge", positions),
        None => ("Bracket centres from the rail's left end", &fitted.brackets.from_left),
    };
    positions
        .chunks(POSITIONS_A_LINE)
        .enumerate()
        .map(|(line, part)| Line::Positions(if line == 0 { name } else { "" }, part.to_vec()))
        .collect()
}

fn wand_side(fitted: &Fitted<'_>) -> &'static str {
    fitted.control_side.map_or("no wand", |side| side.word())
}

fn fixing(fitted: &Fitted<'_>, units: Units) -> String {
    let count = fitted.fixings.count;
    let Some(fixing) = fitted.fixings.fixing else {
        return format!("{NOT_CHOSEN}: {count} needed; find out what the wall is before drilling");
    };
    let pilot = match fixing.pilot {
        Some(pilot) => format!("pilot {}", pilot.shown(units)),
        None => "no pilot hole given".to_owned(),
    };
    format!(
        "{count} of {} into {}; {pilot}; {} of {}",
        fixing.item,
        fixing.substrate,
        fitted.brackets.count(),
        fitted.brackets.item
    )
}

fn tools(load: &Load, units: Units) -> String {
    let mut tools =
        vec!["tape, level, pencil, step ladder, cable and pipe detector, drill and driver".to_owned()];
    if load.substrates.iter().any(|substrate| substrate.is_hard()) {
        tools.push("hammer drill with dust shroud and vacuum".to_owned());
    }
    tools.extend(
        load.bits.iter().map(|(substrate, pilot)| format!("{} bit for {substrate}", pilot.shown(units))),
    );
    tools.join(", ")
}

/// Lays a page's lines out from the row that the sheet has come to.
fn lay(sheet: &mut Sheet<'_>, lines: Vec<Line<'_>>) -> Result<(), WorkbookError> {
    let last = COLUMNS - 1;
    for line in lines {
        match line {
            Line::Title(unit, revision) => {
                sheet.lines(2)?;
                sheet.put(0, unit, Tone::Title)?;
                sheet.spread((6, last), revision, Tone::Warning)?;
            }
            Line::Band(name, tone) => {
                sheet.spread((0, last), name, tone)?;
            }
            Line::Figures(figures) => {
                for (column, (name, figure)) in (0..).step_by(2).zip(figures) {
                    sheet.put(column, name, Tone::Label)?;
                    sheet.put(column + 1, figure, Tone::Strong)?;
                }
            }
            Line::Pair(figures) => {
                for (column, (name, figure)) in (0..).step_by(4).zip(figures) {
                    sheet.spread((column, column + 2), name, Tone::Label)?;
                    sheet.put(column + 3, figure, Tone::Strong)?;
                }
            }
            Line::Positions(name, positions) => {
                sheet.spread((0, 2), name, Tone::Label)?;
                for (column, position) in (3..).zip(positions) {
                    sheet.put(column, position, Tone::Strong)?;
                }
            }
            Line::Text(name, text) => {
                let text = Cell::from(text);
                sheet.lines(text.lines(SPREAD_CHARACTERS))?;
                sheet.put(0, name, Tone::Label)?;
                sheet.spread((1, last), text, Tone::Body)?;
            }
            Line::Sentence(text, tone) => {
                let text = Cell::Text(text);
                sheet.lines(text.lines(ALL_CHARACTERS))?;
                sheet.spread((0, last), text, tone)?;
            }
            Line::Boxes => {
                sheet.lines(2)?;
                for (column, name) in
                    [(0, "Measured before drilling"), (2, "Fitted"), (4, "Defects"), (6, "Signed")]
                {
                    sheet.put(column, name, Tone::Label)?;
                    sheet.put(column + 1, Cell::Blank, Tone::WriteIn)?;
                }
            }
            Line::Gap => {}
        }
        sheet.next_row();
    }
    Ok(())
}
