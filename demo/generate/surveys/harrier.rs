//! Harrier Wharf: an invented block, fitted out new. Nine floors, 84 flats, 453 openings, inches.

use std::collections::BTreeSet;

use sillbook::rules::columns::products;
use sillbook::rules::columns::project::COLUMNS as project;
use sillbook::schema::openings::{ACCESSIBLE, DIAGONAL_1, DIAGONAL_2, MEASURED, NOTE, PRODUCT, ROOM, UNIT};

use super::block;
use super::mistakes::{Mistake, mistakes};
use super::row::{Row, RowSheet};
use super::workbook::{Cell, Sheet, Survey};

/// The workbook.
pub fn survey() -> Survey {
    let openings = openings().0.into_sheet(|column| column.name.to_owned());
    Survey { sheets: vec![project_sheet("Harrier Wharf"), openings, products_sheet()] }
}

/// Louvers that can be wiped.
const WIPED: &str = "louver-89-pvc";

/// The one product that is not built in.
fn products_sheet() -> Sheet {
    use products::{COLUMNS, PRODUCTS};
    let wiped = Row::of(&PRODUCTS).with(&COLUMNS.name, WIPED).with(&COLUMNS.like, "louver-89");
    let wiped = wiped.with(&COLUMNS.louver_material, "pvc-89");
    RowSheet::of(vec![wiped]).into_sheet(|column| column.name.to_owned())
}

/// The openings, and every mistake with the cell (such as `F42`) that it is to be found at.
pub fn openings() -> (RowSheet, Vec<(Mistake, String)>) {
    let mut rows = block::rows(0);
    measured_elsewhere(&mut rows);
    kitchenettes(&mut rows);
    accessible(&mut rows);
    leaning(&mut rows);
    notes(&mut rows);
    let mut made = Vec::new();
    for mistake in mistakes() {
        let Some(row) = rows.iter().position(|row| row.is(mistake.unit, mistake.mark)) else { continue };
        mistake.make(&mut rows[row]);
        made.push((mistake, row));
    }
    let sheet = RowSheet::of(rows);
    let addressed = |(mistake, row): (Mistake, usize)| {
        let address = sheet.address(row, mistake.entries[0].0)?;
        Some((mistake, address))
    };
    let made = made.into_iter().filter_map(addressed).collect();
    (sheet, made)
}

/// The keys of one flat were missing, so its sizes are those of the flat below.
fn measured_elsewhere(rows: &mut [Row]) {
    for row in rows.iter_mut().filter(|row| row.says(&UNIT, "0707")) {
        row.set(&MEASURED, "typical");
    }
}

/// In the studios the kitchen is a corner of the room, and its blind is wiped.
fn kitchenettes(rows: &mut [Row]) {
    let corners = rows.iter().filter(|row| row.says(&ROOM, "Sleeping corner"));
    let studios: BTreeSet<String> = corners.filter_map(|row| row.text(&UNIT).map(str::to_owned)).collect();
    for row in rows.iter_mut().filter(|row| row.says(&ROOM, "Kitchen")) {
        if row.text(&UNIT).is_some_and(|unit| studios.contains(unit)) {
            row.set(&PRODUCT, WIPED);
        }
    }
}

/// One flat beside the entrance is for a tenant in a wheelchair.
fn accessible(rows: &mut [Row]) {
    for row in rows.iter_mut().filter(|row| row.says(&UNIT, "0104")) {
        row.set(&ACCESSIBLE, "yes");
    }
}

/// The frame of one kitchen window leans: its blind is made that much narrower.
fn leaning(rows: &mut [Row]) {
    for row in rows.iter_mut().filter(|row| row.is("0608", "W2")) {
        row.set(&DIAGONAL_1, "51 3/4");
        row.set(&DIAGONAL_2, "51 3/8");
    }
}

/// What the surveyor thought worth writing down.
fn notes(rows: &mut [Row]) {
    for (unit, mark, note) in [
        ("0101", "D1", "entrance canopy outside, no view from the street"),
        ("0202", "W1", "desk goes under this window"),
        ("0306", "D2", "threshold strip to be changed, ask before drilling"),
        ("0601", "D3", "smoke detector 8 in left of the door"),
        ("0904", "D1", "crane tie in the balcony wall until June"),
    ] {
        for row in rows.iter_mut().filter(|row| row.is(unit, mark)) {
            row.set(&NOTE, note);
        }
    }
}

/// The project's items for a block of this name.
pub fn project_sheet(name: &str) -> Sheet {
    Sheet::of_items(
        "Project",
        vec![
            (project.name.name, Cell::from(name)),
            (project.site.name, "Harrier Wharf, Basin Street".into()),
            (project.client.name, "The block's building committee".into()),
            (project.order_number.name, "HW-0417".into()),
            (project.deliver_to.name, "Basin Street, loading bay at the east gate".into()),
            (project.contact.name, "Site office, telephone 555-0142".into()),
            (project.surveyed_by.name, "North team and south team".into()),
            (project.survey_date.name, Cell::Date(2026, 2, 16)),
            (project.revision.name, "B".into()),
            (project.units.name, "in".into()),
            (project.currency.name, "USD".into()),
            (project.jurisdiction.name, "US".into()),
            (project.floors_finished.name, "mixed".into()),
            (project.ceiling_height.name, "9'".into()),
            (project.built.name, 2026.into()),
            (project.tax.name, Cell::Percent(0.0825)),
            (project.overhead.name, Cell::Percent(0.09)),
            (project.profit.name, Cell::Percent(0.10)),
            (project.contingency.name, Cell::Percent(0.03)),
            (project.labor_rate.name, Cell::Number(52.5)),
            (project.cost_basis.name, "buy".into()),
            (project.stock_sizes.name, "yes".into()),
            (project.merge_sizes.name, "1/2".into()),
            (project.order_date.name, Cell::Date(2026, 3, 2)),
            (project.need_by.name, Cell::Date(2026, 4, 10)),
            (project.tax_on.name, "materials".into()),
        ],
    )
}
