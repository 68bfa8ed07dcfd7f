//! The rule sheets of Larch Terrace's own workshop: what it buys, has, pays and does otherwise
//! than the defaults. All of it is invented.

use sillbook::schema::rules::{bars, fixings, offcuts, prices, products, rates};
use sillbook::schema::{Column, Kind};
use sillbook::survey::Substrate;

use super::row::{Row, RowSheet};
use super::workbook::{Cell, Sheet};

/// The workshop's second product: a heavier fabric in colours of its own.
pub const HEAVY: &str = "louver-89-heavy";
/// Its darker colour.
pub const SLATE: &str = "slate";

/// Every rule sheet.
pub fn sheets() -> Vec<Sheet> {
    [products(), bars(), offcuts(), fixings(), prices(), rates()]
        .map(|rows| RowSheet::of(rows).into_sheet(heading))
        .into()
}

fn heading(column: &Column) -> String {
    match column.kind {
        Kind::Length { .. } => format!("{} (mm)", column.name),
        _ => column.name.to_owned(),
    }
}

/// Reveals of 1958 are out of true, so the workshop leaves more air than the built-in product.
fn products() -> Vec<Row> {
    use products::*;
    let row = |product: &str| Row::of(&PRODUCTS).with(&PRODUCT, product);
    vec![
        row("louver-89").with(&SIDE_CLEARANCE, 8).with(&HEM, 40),
        row(HEAVY)
            .with(&LIKE, "louver-89")
            .with(&COLOURS, format!("sand, {SLATE}"))
            .with(&FABRIC_MASS, 0.36)
            .with(&LOUVER_MATERIAL, "fabric-89-heavy"),
    ]
}

fn bars() -> Vec<Row> {
    use bars::*;
    let cut = |material: &str, mm: i32, price: f64| {
        let row = Row::of(&BARS).with(&MATERIAL, material).with(&LENGTH_OF_BAR, mm).with(&PRICE, price);
        row.with(&KERF, 4).with(&TRIM, 15).with(&LEAST_USEFUL, 500)
    };
    let rolled = |material: &str, price: f64| cut(material, 50_000, price).with(&KERF, 0);
    vec![
        cut("rail", 6_000, 28.4),
        cut("rod", 6_000, 8.9).with(&COLOURED, "no"),
        // Two lengths of valance: the dearer one wastes less.
        cut("valance", 5_000, 12.2),
        cut("valance", 6_500, 16.3),
        rolled("fabric-89", 49.0),
        rolled("fabric-89-heavy", 68.0),
        rolled("fabric-127", 66.0),
    ]
}

/// What the last job left over.
fn offcuts() -> Vec<Row> {
    use offcuts::*;
    let left = |material: &str, colour: &str, mm: i32, quantity: i32| {
        let row = Row::of(&OFFCUTS).with(&MATERIAL, material).with(&LENGTH_OF_OFFCUT, mm);
        let row = row.with(&QUANTITY, quantity);
        if colour.is_empty() { row } else { row.with(&COLOUR, colour) }
    };
    vec![
        left("rail", "white", 2_410, 3),
        left("rail", SLATE, 1_985, 1),
        left("rod", "", 2_400, 4),
        left("valance", "white", 1_260, 6),
    ]
}

/// Capacities are working loads of invented anchors.
fn fixings() -> Vec<Row> {
    use fixings::*;
    let screw = |item: &str, into: Substrate, mm: [f64; 2], capacity: &str, price: f64| {
        let row = Row::of(&FIXINGS).with(&ITEM, item).with(&SUBSTRATE, into.word());
        let row = row.with(&DIAMETER, mm[0]).with(&LENGTH_OF_SCREW, mm[1]).with(&CAPACITY, capacity);
        row.with(&PACK_OF, 50).with(&PRICE, price)
    };
    vec![
        screw("nylon plug 6 x 40", Substrate::Masonry, [4.5, 40.0], "190 N", 4.2).with(&PILOT, 6),
        screw("nylon plug 8 x 60", Substrate::Masonry, [6.0, 60.0], "420 N", 7.9).with(&PILOT, 8),
        screw("concrete screw 6 x 45", Substrate::Concrete, [6.0, 45.0], "850 N", 18.5).with(&PILOT, 5),
        screw("wood screw 5 x 60", Substrate::Timber, [5.0, 60.0], "NDS", 6.4)
            .with(&THREAD, 36)
            .with(&PILOT, 3),
    ]
}

fn prices() -> Vec<Row> {
    use prices::*;
    let part = |item: &str, price: f64, pack: i32| {
        Row::of(&PRICES).with(&ITEM, item).with(&PRICE, price).with(&PER, "each").with(&PACK_OF, pack)
    };
    let made = Row::of(&PRICES).with(&ITEM, "made blind").with(&PRICE, 58).with(&PER, "each");
    vec![
        // Bought whole it would be this price; made here, it is ready after these days.
        made.with(&LEAD_DAYS, 20),
        part("bracket 3 in", 1.35, 20),
        part("bracket 4 1/2 in", 1.8, 20),
        part("bracket 6 in", 2.25, 20),
        part("inside bracket", 0.95, 20),
        part("valance clip", 0.28, 50),
        part("carrier", 0.22, 200),
        part("hanger", 0.09, 200),
        part("bottom weight", 0.19, 200),
        part("spacer link", 0.03, 500),
        part("end cap", 0.3, 20),
        part("corner piece", 0.7, 20),
        Row::of(&PRICES).with(&ITEM, "wand").with(&PRICE, 1.1).with(&PER, "12 in"),
    ]
}

fn rates() -> Vec<Row> {
    use rates::*;
    let rate = |item: &str, value: f64| Row::of(&RATES).with(&ITEM, item).with(&RATE, Cell::Number(value));
    vec![rate("making", 32.0), rate("removal", 6.5), rate("delivery", 140.0), rate("size set-up", 3.0)]
}
