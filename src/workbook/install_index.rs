//! `Install index`: a row for each unit, leading to its page.

use rust_xlsxwriter::Workbook;

use super::cell::Cell;
use super::layout::fixed;
use super::look::Tone;
use super::pages::{Column, Form, Frozen, Pages};
use super::sheet::{Keeping, Lie};
use super::{Press, WorkbookError};
use crate::report::{Load, Unit};

pub(super) fn write(workbook: &mut Workbook, press: &Press<'_>) -> Result<(), WorkbookError> {
    let form = Form {
        name: fixed::INSTALL_INDEX,
        title: "Install index",
        remarks: vec![
            "A page for each unit. Tick it off when every opening of the unit is fitted and signed.".into(),
        ],
        keeping: Keeping::Disk,
        lie: Lie::Landscape,
        frozen: Frozen::Headings,
    };
    let loads: Vec<Load> = press.units.iter().map(|unit| press.report.load(unit)).collect();
    let rows =
        press.units.iter().zip(&loads).enumerate().map(|(place, (unit, load))| Row { place, unit, load });
    let mut pages = Pages::open(workbook, press, form)?;
    pages.way_back()?;
    pages.table(&columns(press), rows, |row| if row.load.held > 0 { Tone::Held } else { Tone::Body })?;
    pages.finish()
}

#[derive(Clone, Copy)]
struct Row<'p> {
    place: usize,
    unit: &'p Unit<'p>,
    load: &'p Load,
}

fn columns<'p>(press: &'p Press<'p>) -> Vec<Column<'p, Row<'p>>> {
    vec![
        Column::new("Unit", |row: Row<'_>| {
            let title = press.layout.unit_titles[row.place].as_str();
            Cell::Link(press.layout.unit_page(row.place), title.into())
        }),
        Column::new("Building", |row: Row<'p>| row.unit.building),
        Column::new("Floor", |row: Row<'p>| row.unit.floor),
        Column::new("Openings", |row: Row<'p>| row.load.openings),
        Column::new("Boxes to bring", |row: Row<'p>| row.load.boxes).strong(),
        Column::new("Provisional", |row: Row<'p>| row.load.provisional),
        Column::new("Held", |row: Row<'p>| row.load.held),
        Column::new("Heaviest blind (kg)", |row: Row<'p>| row.load.heaviest.map(Cell::Mass)),
        Column::new("People", |row: Row<'p>| (row.load.people > 0).then_some(row.load.people)),
        Column::new("Openings in the unit", |row: Row<'p>| {
            let names: Vec<&str> = row.unit.openings.iter().map(|&opening| press.name(opening)).collect();
            names.join(", ")
        })
        .wide(50),
        Column::new("Done", |_: Row<'p>| Cell::Blank).written_in(6),
    ]
}
