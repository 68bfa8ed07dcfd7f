//! `Hardware`: for the buyer, by item; and the same as loose counts by floor and by unit, each
//! under a row that its counts fold away under.

use std::collections::HashMap;

use rust_xlsxwriter::Workbook;

use super::cell::Cell;
use super::layout::fixed;
use super::look::Tone;
use super::pages::{Column, Form, Frozen, Pages, span};
use super::sheet::{Keeping, Lie, ROW};
use super::{Press, WorkbookError};
use crate::blinds::Ware;
use crate::hardware::HardwareItem;
use crate::report::LooseCount;
use crate::survey::shown_unit;

pub(super) fn write(workbook: &mut Workbook, press: &Press<'_>) -> Result<(), WorkbookError> {
    let hardware = &press.report.hardware;
    let counts: usize = hardware.by_unit.iter().map(|unit| unit.counts.len() + 1).sum();
    let form = Form {
        name: fixed::HARDWARE,
        title: "Hardware",
        remarks: vec![
            "For every sized and provisional blind. What comes with the blinds is in their price: its packs are listed so that a delivery can be counted.".into(),
        ],
        keeping: Keeping::folding(counts * 2, press.limits),
        lie: Lie::Landscape,
        frozen: Frozen::Title,
    };
    let mut pages = Pages::open(workbook, press, form)?;
    pages.way_back()?;
    let items = item_columns();
    pages.table(&items, &hardware.items, tone)?;
    let whole = to_buy(&hardware.items);
    if !whole.is_empty() {
        pages.remark(&whole)?;
    }
    let span = span(&items);

    let by_floor = press.report.loose_by_floor();
    pages.section_on_new_page("Loose, by floor", span)?;
    groups(
        &mut pages,
        press,
        &by_floor,
        |count| (count.building, count.floor),
        |count| place([count.building, count.floor]).into(),
    )?;
    let by_unit: Vec<LooseCount<'_>> = press.report.loose_by_unit().collect();
    let pages_of = unit_pages(press);
    pages.section_on_new_page("Loose, by unit", span)?;
    groups(
        &mut pages,
        press,
        &by_unit,
        |count| (count.building, count.floor, count.unit),
        |count| {
            let words = place([count.building, count.floor, shown_unit(count.unit)]);
            match pages_of.get(&(count.building, count.unit)) {
                Some(&unit) => Cell::Link(press.layout.unit_page(unit), words.into()),
                None => words.into(),
            }
        },
    )?;
    pages.finish()
}

/// Position of each unit, by building and name.
fn unit_pages<'p>(press: &'p Press<'p>) -> HashMap<(&'p str, &'p str), usize> {
    press.units.iter().enumerate().map(|(place, unit)| ((unit.building, unit.unit), place)).collect()
}

/// What there is to order in all; nothing where nothing is.
fn to_buy(items: &[HardwareItem]) -> String {
    let packs: u64 = items.iter().filter_map(|item| item.packs).sum();
    let pieces: u64 = items.iter().map(HardwareItem::total).sum();
    let unpacked = items.iter().filter(|item| item.packs.is_none()).count();
    match (items.len(), unpacked) {
        (0, _) => String::new(),
        (kinds, 0) => format!("In all: {kinds} items, {pieces} pieces, {packs} packs."),
        (kinds, unpacked) => format!(
            "In all: {kinds} items, {pieces} pieces, {packs} packs and what {unpacked} items take whose pack is not known."
        ),
    }
}

/// `Building, floor, unit`, without what is blank.
fn place<const N: usize>(names: [&str; N]) -> String {
    let names: Vec<&str> = names.into_iter().filter(|name| !name.is_empty()).collect();
    if names.is_empty() { "No floor given".to_owned() } else { names.join(", ") }
}

/// Counts of one place under its name, which they fold away under.
fn groups<'p, K: PartialEq>(
    pages: &mut Pages<'_, '_>,
    press: &'p Press<'p>,
    counts: &[LooseCount<'p>],
    key: impl Fn(&LooseCount<'p>) -> K,
    name: impl Fn(&LooseCount<'p>) -> Cell<'p>,
) -> Result<(), WorkbookError> {
    let columns = loose_columns(press);
    let items = &press.report.hardware.items;
    pages.headings(&columns)?;
    for group in counts.chunk_by(|left, right| key(left) == key(right)) {
        let Some(first) = group.first() else { continue };
        let pieces: u64 = group.iter().map(|count| count.count).sum();
        // A group's row is not parted from its first.
        if pages.keep_together(2, 2 * ROW)? {
            pages.headings(&columns)?;
        }
        pages.group([name(first), Cell::Blank, Cell::Blank, pieces.into()])?;
        pages.folded_rows(&columns, group.iter().copied(), |count| tone(&items[count.item]))?;
    }
    Ok(())
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
        Column::new("Size", move |count: LooseCount<'p>| &*item(count).size),
        Column::new("Substrate", move |count: LooseCount<'p>| item(count).substrate),
        Column::new("Loose", |count: LooseCount<'p>| count.count).strong(),
    ]
}
