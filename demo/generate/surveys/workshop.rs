//! The rule sheets of Larch Terrace's own workshop: what it buys, has, pays and does otherwise
//! than the defaults. All of it is invented.

use sillbook::rules::columns::{bars, fixings, materials, offcuts, prices, products, rates};
use sillbook::schema::{Column, Kind};
use sillbook::survey::Substrate;

use super::row::{Row, RowSheet};
use super::workbook::{Cell, Sheet};

/// The workshop's second product: a heavier fabric in colors of its own.
pub const HEAVY: &str = "louver-89-heavy";
/// What that is cut from.
const HEAVY_FABRIC: &str = "fabric-89-heavy";
/// Its darker color.
pub const SLATE: &str = "slate";

/// Every rule sheet.
pub fn sheets() -> Vec<Sheet> {
    [products(), materials(), bars(), offcuts(), fixings(), prices(), rates()]
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
    let row = |product: &str| Row::of(&PRODUCTS).with(&COLUMNS.name, product);
    vec![
        row("louver-89").with(&COLUMNS.side_clearance, 8),
        row(HEAVY)
            .with(&COLUMNS.like, "louver-89")
            .with(&COLUMNS.colors, format!("sand, {SLATE}"))
            .with(&COLUMNS.louver_material, HEAVY_FABRIC),
    ]
}

/// What it cuts blinds from: its saw takes more than the built-in one, its hems less.
fn materials() -> Vec<Row> {
    use materials::*;
    let row = |material: &str| Row::of(&MATERIALS).with(&COLUMNS.name, material);
    let sawn = |material: &str| {
        row(material).with(&COLUMNS.kerf, 4).with(&COLUMNS.trim, 15).with(&COLUMNS.least_useful, 500)
    };
    let rolled = |material: &str| sawn(material).with(&COLUMNS.kerf, 0);
    vec![
        sawn("rail"),
        sawn("rod"),
        sawn("valance"),
        rolled("fabric-89").with(&COLUMNS.hem, 40),
        row(HEAVY_FABRIC).with(&COLUMNS.like, "fabric-89").with(&COLUMNS.mass, 0.36),
        rolled("fabric-127"),
    ]
}

fn bars() -> Vec<Row> {
    use bars::*;
    let bar = |material: &str, mm: i32, price: f64| {
        Row::of(&BARS).with(&COLUMNS.material, material).with(&COLUMNS.length, mm).with(&COLUMNS.price, price)
    };
    vec![
        bar("rail", 6_000, 28.4),
        bar("rod", 6_000, 8.9),
        // Two lengths of valance: the dearer one wastes less.
        bar("valance", 5_000, 12.2),
        bar("valance", 6_500, 16.3),
        bar("fabric-89", 50_000, 49.0),
        bar(HEAVY_FABRIC, 50_000, 68.0),
        bar("fabric-127", 50_000, 66.0),
    ]
}

/// What the last job left over.
fn offcuts() -> Vec<Row> {
    use offcuts::*;
    let left = |material: &str, color: &str, mm: i32, quantity: i32| {
        let row = Row::of(&OFFCUTS).with(&COLUMNS.material, material).with(&COLUMNS.length, mm);
        let row = row.with(&COLUMNS.quantity, quantity);
        if color.is_empty() { row } else { row.with(&COLUMNS.color, color) }
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
        let row = Row::of(&FIXINGS).with(&COLUMNS.item, item).with(&COLUMNS.substrate, into.word());
        let row =
            row.with(&COLUMNS.diameter, mm[0]).with(&COLUMNS.length, mm[1]).with(&COLUMNS.capacity, capacity);
        row.with(&COLUMNS.pack_of, 50).with(&COLUMNS.price, price)
    };
    vec![
        screw("nylon plug 6 x 40", Substrate::Masonry, [4.5, 40.0], "190 N", 4.2).with(&COLUMNS.pilot, 6),
        screw("nylon plug 8 x 60", Substrate::Masonry, [6.0, 60.0], "420 N", 7.9).with(&COLUMNS.pilot, 8),
        screw("concrete screw 6 x 45", Substrate::Concrete, [6.0, 45.0], "850 N", 18.5)
            .with(&COLUMNS.pilot, 5),
        screw("wood screw 5 x 60", Substrate::Wood, [5.0, 60.0], "NDS", 6.4)
            .with(&COLUMNS.thread, 36)
            .with(&COLUMNS.pilot, 3),
    ]
}

fn prices() -> Vec<Row> {
    use prices::*;
    let part = |item: &str, price: f64, pack: i32| {
        Row::of(&PRICES)
            .with(&COLUMNS.item, item)
            .with(&COLUMNS.price, price)
            .with(&COLUMNS.per, "each")
            .with(&COLUMNS.pack_of, pack)
    };
    let made = Row::of(&PRICES)
        .with(&COLUMNS.item, "made-to-measure blind")
        .with(&COLUMNS.price, 58)
        .with(&COLUMNS.per, "each");
    vec![
        // Bought whole it would be this price; made here, it is ready after these days.
        made.with(&COLUMNS.lead_days, 20),
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
        part("packer", 0.08, 100),
        part("motor", 148.0, 1),
        part("spare louver", 2.4, 1),
        Row::of(&PRICES).with(&COLUMNS.item, "wand").with(&COLUMNS.price, 1.1).with(&COLUMNS.per, "12 in"),
    ]
}

fn rates() -> Vec<Row> {
    use rates::*;
    let rate = |item: &str, value: f64| {
        Row::of(&RATES).with(&COLUMNS.item, item).with(&COLUMNS.rate, Cell::Number(value))
    };
    vec![rate("making", 32.0), rate("removal", 6.5), rate("delivery", 140.0), rate("set-up per size", 3.0)]
}
