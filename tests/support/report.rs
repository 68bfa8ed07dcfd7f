//! A small block: 2 units, 4 openings, one of them provisional and one held. The survey is read,
//! sized and fitted by the stages themselves; order, cuts, hardware and cost are written out by hand.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use sillbook::cost::{AmountFormula, Breakdown, Cost, CostLine, NotInTotal, RateFrom, Section};
use sillbook::cutting::{CutPlan, Cuts, From, Part, Pattern, Piece};
use sillbook::fitting::{self, ControlSide};
use sillbook::grid::{Grid, Row, Sheet, Value};
use sillbook::hardware::{Hardware, HardwareItem, UnitCounts};
use sillbook::length::{Length, Units};
use sillbook::order::{LineKey, Order, OrderLine};
use sillbook::place::Sheets;
use sillbook::query::{self, Query};
use sillbook::report::{Counts, Report};
use sillbook::rules::{self, Rules};
use sillbook::sizing::{self, Mount, Release, Size};
use sillbook::sourcing::{Sourced, Supply};
use sillbook::survey::{self, Assumption, Control, Draw, Survey};

/// What a report borrows.
pub struct Block {
    sheets: Sheets,
    rules: Rules,
    survey: Survey,
    queries: Vec<Query>,
}

/// Eighths of an inch.
fn eighths(count: i64) -> Length {
    Length::sixty_fourths(8 * count)
}

fn inches(count: i64) -> Length {
    Length::inches(count)
}

const PROJECT: &[&[&str]] = &[
    &["Item", "Value"],
    &["Project", "Quay House & Mews"],
    &["Site", "4 Harbour Lane"],
    &["Client", "Harbour Homes"],
    &["Revision", "B"],
    &["Units", "in"],
    &["Overhead %", "8"],
    &["Tax %", "8.25"],
];

const HEADINGS: &[&str] = &[
    "Opening",
    "Building",
    "Floor",
    "Unit",
    "Room",
    "Width",
    "Height",
    "Recess depth",
    "Measured",
    "Substrate",
    "Door set",
    "Note",
];

/// D1 is 106 x 78 in without a recess: outside, 110 x 83 1/2. W2 has a recess of 3 in and comes
/// from a drawing: inside, 105 1/2 x 77 1/2, provisional. The last has no height: held.
fn openings(note: &str) -> Vec<Vec<String>> {
    let row = |cells: [&str; 12]| cells.map(str::to_owned).to_vec();
    vec![
        HEADINGS.iter().map(|&heading| heading.to_owned()).collect(),
        row(["D1", "North", "3", "0304", "Living room", "106", "78", "0", "tape", "timber", "set 1", note]),
        row(["W2", "North", "3", "0304", "Bedroom", "106", "78", "3", "drawing", "", "set 2", ""]),
        row(["D1", "North", "3", "0305", "Living room", "106", "78", "0", "tape", "timber", "set 3", ""]),
        row(["W2", "North", "3", "0305", "Kitchen", "106", "", "", "", "", "set 4", ""]),
    ]
}

fn sheet(sheets: &mut Sheets, name: &str, rows: &[Vec<String>]) -> Sheet {
    let filled = |row: &Vec<String>| -> Vec<(u16, Value)> {
        let cells = (0..).zip(row).filter(|(_, text)| !text.is_empty());
        cells.map(|(column, text)| (column, Value::Text(text.as_str().into()))).collect()
    };
    Sheet {
        id: sheets.enter("block.xlsx", name).expect("a sheet"),
        name: name.to_owned(),
        rows: (0..).zip(rows).map(|(row, cells)| Row { row, cells: filled(cells) }).collect(),
        merged: vec![],
    }
}

impl Block {
    /// The block, with a text of the caller's in the note of the first opening.
    pub fn with_note(note: &str) -> Block {
        Block::of(&openings(note))
    }

    /// So many more units of one opening each, all held, after the block's own.
    pub fn of_units(more: usize) -> Block {
        let mut rows = openings("");
        for unit in 0..more {
            let mut row = rows[4].clone();
            row[3] = format!("1{unit:04}");
            rows.push(row);
        }
        Block::of(&rows)
    }

    fn of(openings: &[Vec<String>]) -> Block {
        let mut sheets = Sheets::default();
        let project: Vec<Vec<String>> =
            PROJECT.iter().map(|row| row.iter().map(|&text| text.to_owned()).collect()).collect();
        let grids = [Grid {
            survey: "block.xlsx".to_owned(),
            sheets: vec![sheet(&mut sheets, "Project", &project), sheet(&mut sheets, "Openings", openings)],
        }];
        let rules = rules::build(&grids, Units::Inches).expect("rules").value;
        let survey = survey::read(&grids, Units::Inches).expect("a survey");
        Block { sheets, rules, survey: survey.value, queries: survey.queries }
    }

    /// The block without notes.
    pub fn plain() -> Block {
        Block::with_note("")
    }

    /// What the stages hand on.
    pub fn report(&self) -> Report<'_> {
        let sized = sizing::size_openings(&self.survey, &self.rules);
        let sourced = sized.value.iter().map(|sizing| {
            sizing.as_ref().map(|sizing| Sourced {
                size: sizing.window.preferred(),
                supply: Supply::Made,
                arrives: None,
                lead_days: Some(15),
            })
        });
        let sourced: Vec<Option<Sourced<'_>>> = sourced.collect();
        let fitted = fitting::fit_openings(&self.survey, sized.value, sourced, &self.rules);
        let mut queries = self.queries.clone();
        queries.extend(sized.queries);
        queries.extend(fitted.queries);
        Report {
            sheets: &self.sheets,
            rules: &self.rules,
            survey: &self.survey,
            blinds: fitted.value,
            merging: None,
            order: order(),
            cuts: cuts(),
            hardware: hardware(),
            cost: cost(),
            assumptions: self.survey.assumptions.clone(),
            queries: query::gather(queries),
            counts: Counts { rows: 4, openings: 4, sized: 2, provisional: 1, held: 1, blinds: 3, sizes: 2 },
        }
    }
}

fn order() -> Order {
    let key = LineKey {
        product: "louver-89".into(),
        colour: "white".into(),
        size: Size { width: inches(110), drop: eighths(83 * 8 + 4) },
        louver_count: 36,
        louver_length: inches(82),
        draw: Draw::Left,
        control: Control::Wand,
        control_side: Some(ControlSide::Right),
        wand: Some(inches(36)),
        mount: Mount::Outside,
        bracket: "bracket 3 in".into(),
        bracket_count: 5,
        reach: Some(inches(3)),
        valance: eighths(110 * 8 + 4),
        return_left: inches(5),
        return_right: inches(5),
        phase: "1".into(),
        stock: None,
        release: Release::Make,
    };
    let inside = LineKey {
        size: Size { width: eighths(105 * 8 + 4), drop: eighths(77 * 8 + 4) },
        louver_count: 34,
        louver_length: eighths(75 * 8 + 6),
        mount: Mount::Inside,
        bracket: "inside bracket".into(),
        reach: None,
        valance: eighths(105 * 8 + 4),
        return_left: Length::ZERO,
        return_right: Length::ZERO,
        release: Release::Provisional,
        ..key.clone()
    };
    let line = |line, key: LineKey, openings: Vec<usize>| OrderLine {
        line,
        quantity: openings.len() as u64,
        openings,
        rail_cut: key.size.width - eighths(2),
        rod_cut: key.size.width - inches(1),
        weight: Decimal::new(1_098, 2),
        key,
    };
    Order { lines: vec![line(1, key, vec![0, 2]), line(2, inside, vec![1])] }
}

/// Two headrails of 109 3/4 in on a 5.8 m bar each of their own (2 x 2.788 m + kerf and trims fit on one).
fn cuts() -> Cuts {
    let rail = Piece { length: eighths(110 * 8 - 2), line: Some(1), part: Part::Headrail };
    let stock = Length::from_mm(5_800);
    let (kerf, trim) = (Length::from_mm(3), Length::from_mm(10));
    // 5,800 - 10 - 2 x 2,787.65 - 2 x 3 = 208.7 mm.
    let offcut = stock - trim - rail.length * 2 - kerf * 2;
    Cuts {
        plans: vec![CutPlan {
            material: "rail".into(),
            colour: "white".into(),
            kerf,
            trim,
            least_useful: Length::from_mm(600),
            patterns: vec![Pattern {
                number: 1,
                bars: 1,
                stock,
                from: From::Bar,
                pieces: vec![rail, rail],
                offcut,
            }],
            pieces: 2,
            bars: 1,
            bought: vec![(stock, Some(Decimal::new(2600, 2)), 1)],
            at_least: Some(1),
            cost: Some(Decimal::new(2600, 2)),
            cost_at_least: Some(Decimal::new(2600, 2)),
            proven: true,
            used_share: Decimal::new(9613, 4),
        }],
    }
}

fn hardware() -> Hardware {
    let item = |item: &str, substrate, needed, spare, comes: u64, pack: Option<u32>, packs| HardwareItem {
        item: item.into(),
        size: String::new(),
        substrate,
        needed,
        needed_to_make: needed,
        comes_with_blinds: comes,
        spare,
        pack_of: pack,
        packs,
        used: "outside mounts".to_owned(),
    };
    let unit = |unit: &str, counts: &[(usize, u64)]| UnitCounts {
        building: "North".into(),
        floor: "3".into(),
        unit: unit.into(),
        counts: counts.iter().copied().collect::<BTreeMap<_, _>>(),
    };
    Hardware {
        items: vec![
            item("bracket 3 in", "", 10, 0, 10, Some(10), Some(0)),
            item("wood screw 8 x 1 1/2", "timber", 20, 2, 0, Some(100), Some(1)),
            item("not chosen", "", 10, 1, 0, None, None),
        ],
        by_unit: vec![unit("0304", &[(0, 5), (1, 10), (2, 10)]), unit("0305", &[(0, 5), (1, 10)])],
    }
}

/// 2 blinds of 110 x 83 1/2 in at 160.30 and one unpriced; screws; an hour of fitting at 45.00;
/// overhead 8 % and tax 8.25 %.
fn cost() -> Cost {
    const DIRECT: &[Section] = &[
        Section::Blinds,
        Section::Parts,
        Section::Making,
        Section::Fitting,
        Section::Survey,
        Section::Removal,
        Section::Delivery,
    ];
    let line =
        |section, item: &str, unit, quantity: Decimal, rate: Decimal, formula, amount: Decimal| CostLine {
            section,
            item: item.to_owned(),
            unit,
            basis: "per blind",
            quantity: Some(quantity),
            rate: Some(rate),
            formula,
            amount: Some(amount),
            taxable: true,
            rate_from: RateFrom::Example,
        };
    let two = |cents| Decimal::new(cents, 2);
    let lines = vec![
        line(
            Section::Blinds,
            "louver-89, 110 x 83 1/2 in",
            "each",
            Decimal::TWO,
            two(16030),
            AmountFormula::Product,
            two(32060),
        ),
        line(
            Section::Parts,
            "wood screw 8 x 1 1/2",
            "pack",
            Decimal::ONE,
            two(600),
            AmountFormula::Product,
            two(600),
        ),
        // 125 minutes at 45.00 an hour = 93.75.
        line(
            Section::Fitting,
            "fitting",
            "min",
            Decimal::from(125),
            two(4500),
            AmountFormula::MinutesAtHourlyRate,
            two(9375),
        ),
        // 8 % of 320.60 + 6.00 + 93.75 = 420.35: 33.628, rounded 33.63.
        line(
            Section::Overhead,
            "overhead",
            "share of direct cost",
            two(42035),
            two(8),
            AmountFormula::ShareOf(DIRECT),
            two(3363),
        ),
    ];
    // 453.98 and 8.25 % of it, 37.45335, rounded 37.45.
    Cost {
        lines,
        subtotal: two(45398),
        tax: Some(two(3745)),
        total: Some(two(49143)),
        not_in_total: vec![NotInTotal {
            what: "held openings".to_owned(),
            openings: vec![3],
            allowance: Some(two(16030)),
        }],
        breakdowns: vec![Breakdown {
            by: "Unit",
            rows: vec![("0304".to_owned(), 2, two(21018)), ("0305".to_owned(), 1, two(21017))],
        }],
    }
}
