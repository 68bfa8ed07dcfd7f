//! A small block: 2 units, 4 openings, one of them provisional and one held. The survey is read,
//! sized, fitted, ordered and priced by the stages themselves; the cut plan is written out by hand.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use sillbook::cutting::{AtLeast, CutPlan, Cuts, Demand, From, Offered, Part, Pattern, Piece};
use sillbook::grid::{Grid, Row, Sheet, Value};
use sillbook::length::{Length, Units};
use sillbook::place::Sheets;
use sillbook::query::{self, Query};
use sillbook::report::{Counts, Report};
use sillbook::rules::{self, Rules, Saw};
use sillbook::sourcing::{Sourced, Supply};
use sillbook::survey::{self, Survey};
use sillbook::{cost, fitting, hardware, order, sizing};

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

    /// The block with every fixing chosen, so that every amount is known.
    pub fn priced() -> Block {
        let mut rows = openings("");
        rows[2][9] = "timber".to_owned();
        Block::of(&rows)
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
        let blinds = fitted.value;
        let order = order::group_identical(&self.survey, &blinds, &self.rules);
        let hardware = hardware::total(&self.survey, &blinds, &self.rules);
        let cuts = cuts();
        let priced = cost::price(&self.survey, &blinds, &order, &cuts, &hardware, &self.rules);
        queries.extend(priced.queries);
        Report {
            sheets: &self.sheets,
            rules: &self.rules,
            survey: &self.survey,
            blinds,
            merging: None,
            order,
            cuts,
            hardware,
            cost: priced.value,
            assumptions: self.survey.assumptions.clone(),
            queries: query::gather(queries),
            counts: Counts { rows: 4, openings: 4, sized: 2, provisional: 1, held: 1, blinds: 3, sizes: 2 },
        }
    }
}

/// Both headrails of 109 3/4 in on one bar of 5.8 m.
fn cuts() -> Cuts {
    let rail = Piece { length: eighths(110 * 8 - 2), line: Some(1), part: Part::Headrail };
    let stock = Length::from_mm(5_800);
    let (kerf, trim) = (Length::from_mm(3), Length::from_mm(10));
    // 5,800 - 10 - 2 x 2,787.65 - 2 x 3 = 208.7 mm.
    let offcut = stock - trim - rail.length * 2 - kerf * 2;
    let demand = Demand {
        material: "rail".into(),
        colour: "white".into(),
        saw: Saw { kerf, trim, least_useful: Length::from_mm(600) },
        bars: vec![Offered { length: stock, price: Some(Decimal::new(2600, 2)) }],
        offcuts: BTreeMap::new(),
        pieces: [(rail, 2)].into(),
    };
    let pattern = Pattern { number: 1, bars: 1, stock, from: From::Bar, pieces: vec![rail, rail], offcut };
    let at_least = AtLeast { bars: Some(1), cost: Some(Decimal::new(2600, 2)) };
    Cuts { plans: vec![CutPlan::checked(&demand, vec![pattern], at_least).unwrap()] }
}
