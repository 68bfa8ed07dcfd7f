//! `Hardware`: for the buyer, by item; and the same as loose counts by floor and by unit, each
//! under a row that its counts fold away under.

use std::collections::HashMap;

use super::cell::Cell;
use super::layout::fixed;
use super::look::Tone;
use super::pages::{Form, Frozen, Pages, columns_of, in_use, span};
use super::paper::Lie;
use super::sheet::ROW;
use super::{Press, WorkbookError, Written};
use crate::hardware::HardwareItem;
use crate::report::rows::{BitRow, HardwareRow, LooseRow};
use crate::survey::shown_unit;

pub(super) fn write(press: &Press<'_>) -> Written {
    let hardware = &press.report.hardware;
    let form = Form {
        name: fixed::HARDWARE,
        title: "Hardware",
        remarks: vec![
            "For every sized and provisional blind. Parts that come with the blinds are in their price; spares are counted on blinds released for making.".into(),
        ],
        lie: Lie::Landscape,
        frozen: Frozen::Title,
    };
    let mut pages = Pages::open(press, form)?;
    pages.way_back()?;
    let items = columns_of::<HardwareRow<'_>>(press, |lead| press.address(lead));
    pages.table(&items, HardwareRow::all(press.report), |item| tone(item.is_not_chosen()))?;
    let whole = to_buy(&hardware.items);
    if !whole.is_empty() {
        pages.remark(&whole)?;
    }
    let span = span(&items);
    if BitRow::all(press.report).next().is_some() {
        let bits =
            in_use(columns_of::<BitRow<'_>>(press, |lead| press.address(lead)), BitRow::all(press.report));
        pages.section("Bits", span)?;
        pages.table(&bits, BitRow::all(press.report), |_| Tone::Body)?;
    }

    let by_floor = LooseRow::in_the_van(LooseRow::by_floor(press.report));
    pages.section_on_new_page("Van list by floor: what does not come in the boxes of the blinds", span)?;
    groups(
        &mut pages,
        press,
        &by_floor,
        |loose| (loose.building(), loose.floor()),
        |loose| place([loose.building(), loose.floor()]).into(),
    )?;
    let by_unit = LooseRow::in_the_van(LooseRow::by_unit(press.report));
    let pages_of = unit_pages(press);
    pages.section_on_new_page("The same by unit", span)?;
    groups(
        &mut pages,
        press,
        &by_unit,
        |loose| (loose.building(), loose.floor(), loose.unit()),
        |loose| {
            let words = place([loose.building(), loose.floor(), shown_unit(loose.unit())]);
            match pages_of.get(&(loose.building(), loose.unit())) {
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
    let singles: u64 = items.iter().map(|item| item.pieces).sum();
    let pieces: u64 = items.iter().map(HardwareItem::total).sum();
    let unpacked = items.iter().filter(|item| item.packs.is_none()).count() as u64;
    let many = |count: u64, one: &str| format!("{count} {one}{}", if count == 1 { "" } else { "s" });
    if items.is_empty() {
        return String::new();
    }
    let unknown = match unpacked {
        0 => String::new(),
        unpacked => format!(", plus {} of unknown pack size", many(unpacked, "item")),
    };
    format!(
        "Total: {}, {}. To buy: {}, {}{unknown}.",
        many(items.len() as u64, "item"),
        many(pieces, "piece"),
        many(packs, "pack"),
        many(singles, "single piece"),
    )
}

/// `Building, floor, unit`, without what is blank.
fn place<const N: usize>(names: [&str; N]) -> String {
    let names: Vec<&str> = names.into_iter().filter(|name| !name.is_empty()).collect();
    if names.is_empty() { "No floor given".to_owned() } else { names.join(", ") }
}

/// Counts of one place under its name, which they fold away under.
fn groups<'p, K: PartialEq>(
    pages: &mut Pages<'_>,
    press: &'p Press<'p>,
    counts: &[LooseRow<'p>],
    key: impl Fn(&LooseRow<'p>) -> K,
    name: impl Fn(&LooseRow<'p>) -> Cell<'p>,
) -> Result<(), WorkbookError> {
    let columns = columns_of::<LooseRow<'p>>(press, |lead| press.address(lead));
    pages.headings(&columns)?;
    for group in counts.chunk_by(|left, right| key(left) == key(right)) {
        let Some(first) = group.first() else { continue };
        let pieces: u64 = group.iter().map(|loose| loose.apart()).sum();
        // A group's row is not parted from its first.
        if pages.keep_together(2, 2 * ROW)? {
            pages.headings(&columns)?;
        }
        pages.group([name(first), Cell::Blank, Cell::Blank, pieces.into()])?;
        pages.folded_rows(&columns, group.iter().copied(), |loose| tone(loose.is_not_chosen()))?;
    }
    Ok(())
}

/// What is not chosen stands out.
fn tone(is_not_chosen: bool) -> Tone {
    if is_not_chosen { Tone::Held } else { Tone::Body }
}
