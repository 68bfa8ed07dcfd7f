//! A second family, in tests alone: a cloth that rolls onto a tube, with a bar along its foot. It
//! has no louvers, goes up instead of aside, and has neither valance nor wand. This file and its
//! arms in `blinds` are all that takes it from a survey to a workbook.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test says what it expects by failing")]

use std::collections::BTreeMap;
use std::io::Cursor;
use std::sync::Arc;

use calamine::{Data, Reader, Xlsx};
use rust_decimal::Decimal;
use serde_json::{Value, json};

use super::{CutPart, Made, Panel, Part, Wanted, Ware};
use crate::exchange::json as document;
use crate::length::{Length, Unit};
use crate::pipeline::{self, Input, Silent};
use crate::report::Report;
use crate::rules::{Bar, CostBasis, Family, Material, Product, SmallPart};
use crate::workbook;

const TUBE: Part = Part::named("tube");
const CLOTH: Part = Part::named("cloth");
const BOTTOM_BAR: Part = Part::named("bottom bar");

/// Height of the tube with its brackets.
const HEAD: Length = Length::from_mm(40);
/// What the ends of the tube take off the width.
const ENDS: Length = Length::from_mm(30);
/// Cloth that stays on the tube.
const ON_THE_TUBE: Length = Length::from_mm(200);

pub(super) fn hang(wanted: Wanted) -> Panel {
    Panel { length: wanted.size.drop - HEAD, stack: None, louvers: None }
}

pub(super) fn make(wanted: Wanted) -> Made {
    let across = wanted.size.width - ENDS;
    let one = |part, material: &str, length| CutPart::one(part, &Arc::from(material), length);
    Made {
        moving: Decimal::ZERO,
        parts: vec![
            one(TUBE, "toy tube", across),
            one(CLOTH, "toy cloth", wanted.size.drop + ON_THE_TUBE),
            one(BOTTOM_BAR, "toy bar", across),
        ],
        wares: vec![(Ware::Small(SmallPart::EndCap), 2)],
        mass: Decimal::from(3) * wanted.size.width.meters(),
    }
}

/// Two openings of the toy, and one of louvers.
const SURVEY: &str = "\
Unit,Opening,Kind,Width,Height,Sill,Mount,Product,Control,Substrate
101,W1,window,1200,1000,900,outside,toy,motor,wood
101,W2,window,1200,1000,900,outside,toy,motor,wood
102,W3,window,1200,1000,900,outside,louver-89,wand,wood
";

fn input() -> Input {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("toys.csv");
    std::fs::write(&path, SURVEY).unwrap();
    let mut input = pipeline::read(&[path], Some(Unit::Millimeter), &Silent).unwrap();
    let (products, bars) = (&mut input.rules.products, &mut input.rules.bars);
    let louver = products[0].clone();
    products.push(Product { name: Arc::from("toy"), family: Family::Toy, ..louver });
    let rail = bars[0].clone();
    bars.extend(
        ["toy tube", "toy cloth", "toy bar"]
            .map(|material| Bar { material: Arc::from(material), ..rail.clone() }),
    );
    let rail = input.rules.materials[0].clone();
    input.rules.materials.extend(
        ["toy tube", "toy cloth", "toy bar"].map(|name| Material { name: Arc::from(name), ..rail.clone() }),
    );
    input.rules.project.cost_basis = CostBasis::Make;
    input
}

fn told(report: &Report<'_>) -> Value {
    let mut out = Vec::new();
    document::write(report, &mut out).unwrap();
    serde_json::from_slice(&out).unwrap()
}

/// The texts and numbers of every sheet, row by row.
fn sheets(report: &Report<'_>) -> BTreeMap<String, Vec<Vec<String>>> {
    let mut file = Cursor::new(Vec::new());
    workbook::write(report, workbook::Limits::SPREADSHEET, &mut file).unwrap();
    let mut book = Xlsx::new(file).unwrap();
    let text = |cell: &Data| cell.to_string();
    let rows =
        |range: calamine::Range<Data>| range.rows().map(|row| row.iter().map(text).collect()).collect();
    book.worksheets().into_iter().map(|(name, range)| (name, rows(range))).collect()
}

/// The cell below a heading, in the first row of its table.
fn below<'s>(rows: &'s [Vec<String>], heading: &str) -> &'s str {
    let cell = rows.iter().enumerate().find_map(|(row, cells)| {
        let is_it = |cell: &String| cell == heading || cell.starts_with(&format!("{heading} "));
        let column = cells.iter().position(is_it)?;
        Some(&rows[row + 1][column])
    });
    cell.unwrap_or_else(|| panic!("no heading {heading}"))
}

#[test]
fn a_family_without_louvers_is_sized_made_ordered_and_priced() {
    let input = input();
    let report = pipeline::work(&input, &Silent).unwrap();
    let told = told(&report);

    let opening = &told["openings"][0];
    assert_eq!((&opening["state"], &opening["product"]), (&json!("sized"), &json!("toy")));
    for key in ["louvers", "draw", "stack_mm", "clear_open_mm", "valance_mm", "control_side", "wand_mm"] {
        assert_eq!(opening[key], Value::Null, "{key}");
    }
    assert_eq!((&opening["return_left_mm"], &opening["return_right_mm"]), (&json!(0), &json!(0)));
    let width = opening["width_mm"].as_i64().unwrap();
    let drop = opening["drop_mm"].as_i64().unwrap();
    let weight = report.blinds[0].as_ref().unwrap().fitted.weight;
    // 3 kg a meter, and a motor of 1.5 kg.
    assert_eq!(weight, Decimal::new(3 * width + 1500, 3));

    let line = &told["order"][0];
    assert_eq!((&line["product"], &line["quantity"]), (&json!("toy"), &json!(2)));
    for key in ["louver_count", "louver_length_mm", "draw", "valance_mm"] {
        assert_eq!(line[key], Value::Null, "{key}");
    }
    assert_ne!(told["order"][1]["louver_count"], Value::Null);

    let pieces: BTreeMap<&str, Vec<&Value>> = (told["cuts"].as_array().unwrap().iter())
        .filter_map(|plan| Some((plan["material"].as_str()?.strip_prefix("toy ")?, plan)))
        .map(|(part, plan)| {
            (
                part,
                plan["patterns"]
                    .as_array()
                    .unwrap()
                    .iter()
                    .flat_map(|pattern| pattern["pieces_mm"].as_array().unwrap())
                    .collect(),
            )
        })
        .collect();
    let [across, down] = [json!(width - 30), json!(drop + 200)];
    let two = |length| vec![length, length];
    assert_eq!(
        pieces,
        BTreeMap::from([("bar", two(&across)), ("cloth", two(&down)), ("tube", two(&across))])
    );

    let needed = |item: &str| {
        let items = told["hardware"].as_array().unwrap();
        items.iter().find(|row| row["item"] == item).map(|row| row["needed"].as_u64().unwrap())
    };
    let louvers = told["order"][1]["louver_count"].as_u64();
    let brackets = |opening: usize| told["openings"][opening]["brackets"]["count"].as_u64().unwrap();
    // Each blind has two end caps; carriers and clips are those of the louvers alone.
    assert_eq!(needed("end cap"), Some(6));
    assert_eq!(needed("carrier"), louvers);
    assert_eq!(needed("valance clip"), Some(brackets(2)));
    assert_eq!(needed("bracket 3 in"), Some(brackets(0) + brackets(1) + brackets(2)));

    let priced: Vec<&str> = report.cost.lines.iter().map(|line| &*line.item).collect();
    for material in ["toy tube", "toy cloth", "toy bar"] {
        assert!(priced.iter().any(|item| item.starts_with(material)), "{material} in {priced:?}");
    }
}

#[test]
fn its_sheets_leave_blank_what_only_louvers_have() {
    let input = input();
    let sheets = sheets(&pipeline::work(&input, &Silent).unwrap());
    let order = &sheets["Order"];
    assert_eq!(below(order, "Product"), "toy");
    for heading in ["Headrail cut", "Tilt rod cut", "Louvers", "Louver length", "Draw", "Valance front"] {
        assert_eq!(below(order, heading), "", "{heading}");
    }
    let says = |sheet: &str, words: &str| sheets[sheet].iter().flatten().any(|cell| cell.contains(words));
    for part in [TUBE, CLOTH, BOTTOM_BAR] {
        assert!(says("Cut list", part.word()), "{}", part.word());
    }
    let page = sheets.keys().find(|name| name.contains("101")).unwrap();
    assert!(
        says(page, "W1") && says(page, "Bracket top above floor") && !says(page, "patterned or convex face")
    );
    let other = sheets.keys().find(|name| name.contains("102")).unwrap();
    assert!(says(other, "patterned or convex face"));
}
