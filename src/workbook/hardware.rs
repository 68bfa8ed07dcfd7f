//! `Hardware`: for the buyer, by item; and the same as loose counts by floor and by unit.

use rust_xlsxwriter::Workbook;

use super::cell::Cell;
use super::layout::fixed;
use super::look::Tone;
use super::pages::{Column, Form, Frozen, Pages, span};
use super::sheet::{Keeping, Lie};
use super::{Press, WorkbookError};
use crate::hardware::{HardwareItem, Ware};
use crate::report::LooseCount;

pub(super) fn write(workbook: &mut Workbook, press: &Press<'_>) -> Result<(), WorkbookError> {
    let form = Form {
        name: fixed::HARDWARE,
        title: "Hardware",
        remarks: vec![
            "For every sized and provisional blind. What comes with the blinds is in their price: its packs are listed so that a delivery can be counted.".into(),
        ],
        keeping: Keeping::Disk,
        lie: Lie::Landscape,
        frozen: Frozen::Title,
    };
    let hardware = &press.report.hardware;
    let mut pages = Pages::open(workbook, press, form)?;
    let items = item_columns();
    pages.table(&items, &hardware.items, tone)?;
    let span = span(&items);

    let by_floor = press.report.loose_by_floor();
    let mut floor_columns = loose_columns(press);
    floor_columns.remove(3);
    pages.section("Loose, by floor", span)?;
    pages.table(&floor_columns, by_floor.iter().copied(), |count| tone(&hardware.items[count.item]))?;
    pages.section("Loose, by unit", span)?;
    pages.table(&loose_columns(press), press.report.loose_by_unit(), |count| {
        tone(&hardware.items[count.item])
    })?;
    pages.finish()
}

/// What is not chosen stands out.
fn tone(item: &HardwareItem) -> Tone {
    if item.ware == Ware::NotChosen { Tone::Held } else { Tone::Body }
}

fn item_columns<'p>() -> Vec<Column<'p, &'p HardwareItem>> {
    vec![
        Column::new("Item", |item: &'p HardwareItem| &item.item).strong(),
        Column::new("Size", |item: &'p HardwareItem| &*item.size),
        Column::new("Substrate", |item: &'p HardwareItem| item.substrate),
        Column::new("Needed", |item: &HardwareItem| item.needed),
        Column::new("Spare", |item: &HardwareItem| item.spare),
        Column::new("Total", |item: &HardwareItem| item.total()).strong(),
        Column::new("Comes with blinds", |item: &HardwareItem| item.comes_with_blinds),
        Column::new("Pack of", |item: &HardwareItem| Cell::known(item.pack_of)),
        Column::new("Packs", |item: &HardwareItem| Cell::known(item.packs)).strong(),
        Column::new("Left over", |item: &HardwareItem| Cell::known(item.left_over())),
        Column::new("Where used", |item: &'p HardwareItem| &*item.used),
    ]
}

fn loose_columns<'p>(press: &'p Press<'p>) -> Vec<Column<'p, LooseCount<'p>>> {
    let item = |count: LooseCount<'p>| &press.report.hardware.items[count.item];
    vec![
        Column::new("Item", move |count: LooseCount<'p>| &item(count).item).strong(),
        Column::new("Building", |count: LooseCount<'p>| count.building),
        Column::new("Floor", |count: LooseCount<'p>| count.floor),
        Column::new("Unit", |count: LooseCount<'p>| count.unit),
        Column::new("Loose", |count: LooseCount<'p>| count.count).strong(),
    ]
}
