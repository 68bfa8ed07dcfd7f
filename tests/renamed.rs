//! Headings and items that surveys in use have, under the names of then: each is still read as the same
//! column or item.

use rust_decimal::Decimal;
use sillbook::length::Unit;
use sillbook::query::Checked;
use sillbook::rules::columns::{
    bars, fixings, materials, offcuts, phases, prices, products, project, rates, stock_sizes,
};
use sillbook::rules::{self, Rules, RulesError};
use sillbook::schema::{Form, Table};
use sillbook::tables::{self, ReadTable};

use crate::support::{grid, surveys};

/// The headings of each rule sheet, a line for each column: its key, and every heading that it has had.
const HEADINGS: [(&Table, &str); 10] = [
    (
        &project::PROJECT,
        "\
name: Project; Project name
site: Site; Address
client: Client
client_address: Client address
contact: Contact; Contact person
order_number: Order number; Purchase order; PO number
deliver_to: Deliver to; Delivery address
surveyed_by: Surveyed by
survey_date: Survey date
formerly: Formerly; Former name
revision: Revision
units: Units
currency: Currency
jurisdiction: Jurisdiction
sizes_given: Sizes given are
floors_finished: Floors finished
ceiling_height: Ceiling height
built: Built; Year built
tax: Tax %; Tax
overhead: Overhead %; Overhead
profit: Profit %; Profit
contingency: Contingency %; Contingency
labor_rate: Labor rate; Labour rate
spare_louvers: Spare louvers %; Spare louvers
spare_fixings: Spare fixings %; Spare fixings
spare_parts: Spare parts %; Spare parts
need_by: Need by
cost_basis: Cost basis
stock_sizes: Stock sizes
accept_less_cover: Accept less cover
merge_sizes: Merge sizes
order_date: Order date
work_days: Work days; Working days
lift_door_width: Lift door width; Elevator door width
lift_height: Lift height; Elevator height
lift_depth: Lift depth; Elevator depth
cut_by_phase: Cut by phase
paper: Paper; Paper size
tax_on: Tax on",
    ),
    (
        &products::PRODUCTS,
        "\
name: Product; Product name
like: Like; Starts from
colors: Colors; Colours
suits: Suits; Suits the kind
louver_width: Louver width
pitch: Pitch; Carrier pitch
least_width: Least width; Min width
most_width: Most width; Max width
least_drop: Least drop; Min drop
most_drop: Most drop; Max drop
rounding_step: Rounding step; Round to
most_depth: Most recess depth
most_handle: Most handle
most_trim: Most trim
most_floor_to_come: Most floor to come
side_clearance: Side clearance
inside_drop_clearance: Inside drop clearance
louver_clearance: Louver clearance
half_headrail: Half headrail
spread_limit: Spread limit
small_spread_limit: Small spread limit
small_opening_sq_ft: Small opening sq ft
window_most_off: Most off an inside size
window_least_off: Least off an inside size
overlap_wanted: Overlap wanted
overlap_least: Least overlap; Overlap least
overlap_most: Maximum overlap
valance_past_rail: Valance past rail
hand_room: Hand room
above_wanted: Above wanted
above_least: Least above; Above least
above_most: Most above; Above most
above_floor: Least above with a drop wanted; Above floor
casing_least: Minimum casing to fix to
casing_edge: Rail below casing edge
casing_thickness: Minimum casing thickness
room_above: Room above
bracket_above_rail: Bracket above rail
floor_gap: Floor gap
floor_gap_carpet: Floor gap on carpet
below_wanted: Below wanted
below_least: Least below; Below least
room_below: Room below
above_sill: Above sill
upper_screw: Upper screw
lower_screw: Lower screw
bracket_foot: Bracket top to foot
inside_screws_apart: Inside bracket screws apart
bracket_plate: Bracket thickness
screw_edge: Screw to edge of wood; Screw to edge of timber
reaches: Reaches; Bracket reaches
bracket_items: Bracket items; Brackets
inside_bracket_item: Inside bracket item; Inside bracket
bracket_inset: Bracket inset
bracket_spacing: Bracket spacing
stud_inset_least: Minimum bracket inset on a stud
stud_inset_most: Maximum bracket inset on a stud
stud_span: Maximum bracket spacing on studs
brackets_apart: Minimum bracket spacing
board_most: Maximum board behind a head
steel_beyond: Steel screw beyond board
pull: Pull on a bracket (N)
fixings_per_bracket: Fixings per bracket
louver_off_outside: Louver shorter outside
louver_off_inside: Louver shorter inside
end_cap: End cap
rod_off: Rod shorter
wand_step: Wand step
wand_end_height: Wand end above floor
wand_above_bottom: Wand end above blind bottom
wand_in_reach: Wand end in reach up to
wand_tilt: Wand tilts by
stack_per_louver: Stack per louver
stack_base: Stack besides
return_beyond: Return beyond louver
clip_offset: Clip offset
weight_mass: Bottom weight kg
carrier_mass: Carrier kg
motor_mass: Motor kg
two_people_length: Two people from length
two_people_mass: Two people over kg
two_people_height: Two people from bracket height
two_people_high_length: Two people, high, above rail length
least_spare_louvers: Least spare louvers
rail_material: Rail material
rod_material: Rod material
valance_material: Valance material
louver_material: Louver material
hem: Hem allowance; Hem; Hems
fabric_mass: Fabric kg/m2
rail_mass: Rail kg/m
valance_mass: Valance kg/m
tolerance: Tolerance",
    ),
    (
        &stock_sizes::STOCK_SIZES,
        "\
product: Product
colors: Colors; Color; Colours; Colour
draw: Draw
control: Control
brackets: Brackets; Bracket items
nominal_width: Nominal width; Width
nominal_drop: Nominal drop; Drop
width: Actual width
drop: Actual drop
price: Price
lead_days: Lead days
on_hand: On hand
cut_width_to: Cut down to width
cut_drop_to: Cut down to drop
note: Note",
    ),
    (
        &materials::MATERIALS,
        "\
name: Material
like: Like; Starts from
stock_name: Stock is called
colored: Comes in colors; Colored; Coloured
hem: Hem allowance; Hem; Hems
mass: Mass; Weight; Louver kg/m2; Fabric kg/m2; Rail or valance kg/m; Rail kg/m; Valance kg/m
kerf: Kerf; Saw kerf
trim: End trim; Trim
cut_in: Cut in
torn_costs: Torn blind costs
least_useful: Shortest offcut to keep; Least useful offcut; Least useful",
    ),
    (
        &bars::BARS,
        "\
material: Material
length: Length; Bar length; Stock length
price: Price
kerf: Kerf; Saw kerf
trim: End trim; Trim
least_useful: Least useful offcut; Least useful
colored: Colored; Coloured
note: Note",
    ),
    (
        &offcuts::OFFCUTS,
        "\
material: Material
color: Color; Colour
length: Length
quantity: Quantity; Qty
note: Note",
    ),
    (
        &fixings::FIXINGS,
        "\
item: Item; Fixing
substrate: Substrate; Into
diameter: Diameter
length: Length
thread: Thread
capacity: Capacity
source: Source; Capacity from
edge: Minimum edge distance; Edge
spacing: Minimum spacing; Spacing
pilot: Pilot; Pilot hole
driver: Driver bit; Driver; Drive
pack_of: Pack of; Pack
price: Price
note: Note",
    ),
    (
        &prices::PRICES,
        "\
item: Item
product: Product
price: Price
per: Per; Unit
least_m2: At least m2; Least area
lead_days: Lead days
pack_of: Pack of; Pack
note: Note",
    ),
    (
        &rates::RATES,
        "\
item: Item
rate: Rate; Value
unit: Unit; Per
note: Note",
    ),
    (
        &phases::PHASES,
        "\
phase: Phase; Batch; Stage; Delivery phase
order_number: Order number; Purchase order; PO number
deliver_to: Deliver to; Delivery address
order_date: Order date
need_by: Need by
starts: Starts; Start; Start date; Fitting starts
fitters: Fitters; Installers
hours_a_day: Hours a day; Hours per day
days_off: Days off; Holidays; Closed on
budget: Budget",
    ),
];

/// The sheet's table, read from one heading or item beside the first one.
fn read(table: &'static Table, heading: &str) -> ReadTable {
    let text = match table.form {
        Form::ItemAndValue => format!("[{0}]\nItem | Value\n{heading} | x\n", table.sheet),
        Form::Rows => {
            let first = table.columns[0];
            let is_first = first.names().any(|name| name == heading);
            let beside = table.columns[if is_first { 1 } else { 0 }].name;
            format!("[{}]\n{beside} | {heading}\nx | x\n", table.sheet)
        }
    };
    let grid = grid(&text);
    tables::read(&grid.sheets[0], table, Unit::Inch)
}

/// Whether a heading is read as the column of that key, and nothing is asked about it.
fn is_read_as(table: &'static Table, key: &str, heading: &str) -> bool {
    let read = read(table, heading);
    let column = table.columns.iter().find(|column| column.key == key);
    column.is_some_and(|column| read.rows.iter().any(|row| row.entry(column).is_some()))
        && read.carried.is_empty()
        && read.queries.is_empty()
}

#[test]
fn every_heading_that_a_rule_sheet_has_had_is_read_as_its_column() {
    let mut faults = Vec::new();
    for (table, lines) in HEADINGS {
        assert_eq!(lines.lines().count(), table.columns.len(), "{} has a line for each column", table.sheet);
        for line in lines.lines() {
            let (key, headings) = line.split_once(": ").unwrap();
            let unread = headings.split("; ").filter(|heading| !is_read_as(table, key, heading));
            faults.extend(unread.map(|heading| format!("{}: {heading} is not {key}", table.sheet)));
        }
    }
    assert!(faults.is_empty(), "{faults:#?}");
}

#[test]
fn a_heading_that_is_not_read_as_its_column_is_told() {
    let products = &products::PRODUCTS;
    assert!(is_read_as(products, "least_width", "Least width"));
    // Of no column, and of another.
    assert!(!is_read_as(products, "least_width", "Narrowest"));
    assert!(!is_read_as(products, "least_width", "Most width"));
    assert!(!is_read_as(&project::PROJECT, "tax", "Duty %"));
}

/// The rules of surveys, and the message and detail of each query.
fn built(files: &[(&str, &str)]) -> (Option<Rules>, Vec<String>) {
    let (rules, queries) = match rules::build(&surveys(files).grids, Unit::Inch) {
        Ok(Checked { value, queries }) => (Some(value), queries),
        Err(RulesError::Sheets(queries)) => (None, queries),
        Err(error) => panic!("{error}"),
    };
    (rules, queries.iter().map(|query| format!("{} ({})", query.message, query.detail)).collect())
}

type RateOf = fn(&Rules) -> Option<Decimal>;

/// Rates as they were named, each with the unit as it was worded.
const RATES: [(&str, &str, RateOf); 9] = [
    ("survey", "min an opening", |rules| rules.rates.survey_minutes),
    ("making", "min a blind", |rules| rules.rates.making_minutes),
    ("fitting", "min a blind, each person", |rules| rules.rates.fitting_minutes),
    ("Hard bracket", "min a bracket in masonry or concrete", |rules| rules.rates.hard_bracket_minutes),
    ("unit set-up", "min a unit", |rules| rules.rates.unit_minutes),
    ("learning start", "", |rules| rules.rates.learning_start),
    ("removal", "an opening", |rules| rules.rates.removal),
    ("delivery", "a project", |rules| rules.rates.delivery),
    ("size set-up", "a size", |rules| rules.rates.size_set_up),
];

#[test]
fn every_item_and_unit_that_rates_have_had_is_read() {
    for (item, unit, rate) in RATES {
        for unit in [unit, ""] {
            let text = format!("[Rates]\nItem | Rate | Unit\n{item} | 77 | {unit}\n");
            let (rules, queries) = built(&[("survey.xlsx", &text)]);
            assert_eq!(queries, [""; 0], "{item}, {unit}");
            assert_eq!(rules.as_ref().and_then(rate), Some(Decimal::from(77)), "{item}, {unit}");
        }
    }
}

#[test]
fn every_item_that_prices_have_had_is_read() {
    for item in ["made blind", "Made to measure blind", "made-to-measure blind"] {
        let text = format!("[Prices]\nItem | Price\n{item} | 77\n");
        let (rules, queries) = built(&[("survey.xlsx", &text)]);
        assert_eq!(queries, [""; 0], "{item}");
        let blinds =
            rules.map(|rules| rules.prices.blinds.iter().map(|blind| blind.each).collect::<Vec<_>>());
        assert_eq!(blinds, Some(vec![Some(Decimal::from(77))]), "{item}");
    }
}

/// An item under two of its names is one item: twice in a survey it is a stop, and two surveys agree.
#[test]
fn two_names_of_an_item_are_one_item() {
    let cases = [
        ("Rates", "Item | Rate | Unit", ["hard bracket | 9 |", "masonry or concrete bracket | 9 |"]),
        ("Rates", "Item | Rate | Unit", ["survey | 9 | min an opening", "survey | 9 | min per opening"]),
        ("Prices", "Item | Price | Per", ["made blind | 9 |", "made-to-measure blind | 9 |"]),
    ];
    for (sheet, headings, [then, now]) in cases {
        let (rules, twice) = built(&[("survey.xlsx", &format!("[{sheet}]\n{headings}\n{then}\n{now}\n"))]);
        assert!(rules.is_none() && twice.len() == 1, "{sheet}, {then}, {now}: {twice:?}");
        let [then, now] = [then, now].map(|row| format!("[{sheet}]\n{headings}\n{row}\n"));
        let (rules, differ) = built(&[("then.xlsx", &then), ("now.xlsx", &now)]);
        assert!(rules.is_some() && differ.is_empty(), "{then}{now}: {differ:?}");
    }
}
