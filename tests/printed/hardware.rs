//! `Hardware`: the list of items, and their counts by floor and by unit.

use serde_json::{Value, json};

use super::Is::{Count, Length, Text};
use super::table::{self, Table};
use super::{Figure, RUNS, Run, figure, length};
use sillbook::hardware::UnitCount;

const ITEMS: &[Figure] = &[
    figure("Item", Text, "item"),
    figure("Size", Text, "beside.size"),
    figure("Substrate", Text, "beside.substrate"),
    figure("Needed", Count, "needed"),
    figure("Spare", Count, "spare"),
    figure("Total", Count, "beside.total"),
    figure("Comes with blinds", Count, "with_blinds"),
    figure("Pack of", Count, "pack_of").or("unknown"),
    figure("Single pieces", Count, "pieces"),
    figure("Packs", Count, "packs").or("unknown"),
    figure("Left over", Count, "beside.left_over").or("unknown"),
    figure("Where used", Text, "beside.used"),
];

const LOOSE: &[Figure] = &[
    figure("Item", Text, "item"),
    figure("Size", Text, "size"),
    figure("Substrate", Text, "substrate"),
    figure("Quantity", Count, "loose"),
];

/// An item of the document, and beside it what that does not hold.
fn item(run: &Run, place: usize) -> Value {
    let mut row = run.list("hardware")[place].clone();
    let item = &run.report.hardware.items[place];
    let count = |key: &str| row[key].as_u64();
    let total = count("needed").unwrap() + count("spare").unwrap();
    let lacking = total - count("with_blinds").unwrap();
    // Nothing is left over of what is bought by the piece, or not at all.
    let left_over = match count("packs") {
        Some(0) => Some(0),
        packs => packs.zip(count("pack_of")).map(|(packs, of)| packs * of - lacking),
    };
    row["beside"] = json!({
        "size": item.size,
        "substrate": item.substrate,
        "total": total,
        "left_over": left_over,
        "used": item.used,
    });
    row
}

#[test]
fn every_column_of_hardware_shows_its_number() {
    let tables: Vec<Table<'_>> = RUNS
        .iter()
        .map(|run| {
            let rows = (0..run.list("hardware").len()).map(|place| item(run, place)).collect();
            Table::under(run, "Hardware", (3, "Needed"), rows)
        })
        .collect();
    table::check(ITEMS, &tables);
}

const BITS: &[Figure] = &[
    figure("Bit", Text, "bit"),
    figure("Hole", Length, "hole_mm"),
    figure("Screw head", Text, "driver"),
    figure("Into", Text, "substrate"),
    figure("Holes or screws", Count, "uses"),
];

/// The bits of the document, and how often the openings use them.
#[test]
fn every_bit_is_listed_with_its_holes_or_screws() {
    let tables: Vec<Table<'_>> = RUNS
        .iter()
        .map(|run| {
            let rows = run.list("bits").to_vec();
            for row in &rows {
                let mut uses = 0;
                for (opening, blind) in run.report.survey.openings.iter().zip(&run.report.blinds) {
                    let kinds = blind.iter().flat_map(|blind| blind.fitted.fixings.kinds());
                    let wants = kinds.filter(|screws| {
                        screws.fixing.is_some_and(|fixing| {
                            let is_it = match row["bit"].as_str().unwrap() {
                                "drill" => fixing.pilot == Some(length(&row["hole_mm"])),
                                _ => fixing.driver.as_deref() == row["driver"].as_str(),
                            };
                            is_it && row["substrate"] == fixing.substrate.word()
                        })
                    });
                    let each: u32 = wants.map(|screws| screws.count).sum();
                    uses += u64::from(each) * u64::from(opening.who.quantity);
                }
                assert_eq!(row["uses"], uses, "{}: {row}", run.name);
            }
            Table::under(run, "Hardware", (0, "Bit"), rows)
        })
        .collect();
    table::check(BITS, &tables);
}

/// What a place needs, by its name.
type Place = (String, Vec<Value>);

/// The groups of a section as they are printed must be these, each under the sum of its counts.
fn check_groups(run: &Run, section: &str, wanted: &[Place]) {
    let sheet = &run.package.sheets["Hardware"];
    let mut row = sheet.cells.iter().find(|(at, cell)| at.1 == 0 && cell.text == section).unwrap().0.0;
    // Headings stand above the first group, and come again on a new page.
    let next = |row: u32| {
        if sheet.cells.get(&(row + 1, 3)).is_some_and(|cell| cell.text == "Quantity") {
            row + 2
        } else {
            row + 1
        }
    };
    for (name, counts) in wanted {
        row = next(row);
        let sum: u64 = counts.iter().map(|count| count["loose"].as_u64().unwrap()).sum();
        assert_eq!(sheet.cells[&(row, 0)].text, *name, "{}, {section}, row {row}", run.name);
        assert_eq!(sheet.cells[&(row, 3)].text, sum.to_string(), "{}, {section}: {name}", run.name);
        for count in counts {
            row = next(row);
            for (column, figure) in (0..).zip(LOOSE) {
                let (wanted, cell) = (figure.of(count, run.units()), sheet.cells.get(&(row, column)));
                assert!(
                    wanted.is_in(cell),
                    "{}, {name}: {:?} for {wanted:?}",
                    run.name,
                    cell.map(|cell| &cell.text)
                );
            }
        }
    }
    let more = sheet.cells.range((row + 1, 1)..(row + 2, 0)).count();
    assert_eq!(more, 0, "{}, {section}: a row more than there are", run.name);
}

#[test]
fn loose_counts_stand_under_their_place() {
    for run in RUNS.iter() {
        let items = &run.report.hardware.items;
        let (mut by_unit, mut by_floor): (Vec<Place>, Vec<Place>) = (Vec::new(), Vec::new());
        for unit in &run.report.hardware.by_unit {
            let name = |names: &[&str]| {
                let names: Vec<&str> = names.iter().filter(|name| !name.is_empty()).copied().collect();
                if names.is_empty() { "No floor given".to_owned() } else { names.join(", ") }
            };
            let shown = if unit.unit.is_empty() { "No unit" } else { &unit.unit };
            // What comes in the boxes of the blinds is not in the van.
            let count = |(&item, count): (&usize, &UnitCount)| {
                let (item, apart) = (&items[item], count.count.checked_sub(count.with_blinds).unwrap());
                (apart > 0).then(|| {
                    json!({ "item": &*item.item, "size": item.size, "substrate": item.substrate, "loose": apart })
                })
            };
            let counts: Vec<Value> = unit.counts.iter().filter_map(count).collect();
            if !counts.is_empty() {
                by_unit.push((name(&[&unit.building, &unit.floor, shown]), counts.clone()));
                add(&mut by_floor, name(&[&unit.building, &unit.floor]), counts, run);
            }
        }
        check_groups(run, "Van list by floor: what does not come in the boxes of the blinds", &by_floor);
        check_groups(run, "The same by unit", &by_unit);
    }
}

/// Adds a unit's counts to its floor's, which stand in the order of the list of items.
fn add(floors: &mut Vec<Place>, floor: String, counts: Vec<Value>, run: &Run) {
    let place = floors.iter().position(|(name, _)| *name == floor).unwrap_or_else(|| {
        floors.push((floor, Vec::new()));
        floors.len() - 1
    });
    let whole = &mut floors[place].1;
    let same =
        |one: &Value, other: &Value| ["item", "size", "substrate"].iter().all(|key| one[*key] == other[*key]);
    for count in counts {
        match whole.iter_mut().find(|found| same(found, &count)) {
            Some(found) => {
                found["loose"] = json!(found["loose"].as_u64().unwrap() + count["loose"].as_u64().unwrap());
            }
            None => whole.push(count),
        }
    }
    let items = &run.report.hardware.items;
    whole.sort_by_key(|count| {
        items.iter().position(|item| {
            *item.item == count["item"] && item.size == count["size"] && item.substrate == count["substrate"]
        })
    });
}
