//! A small block: 2 units, 4 openings, one of them provisional and one held.

use sillbook::length::Unit;
use sillbook::pipeline::{self, Input, Options, Silent};
use sillbook::report::Report;
use sillbook::rules;
use sillbook::survey;

use super::surveys;

const PROJECT: &str = "
[Project]
Project | Quay House & Mews
Site | 4 Harbour Lane
Client | Harbour Homes
Revision | B
Units | in
Overhead % | 8
Tax % | 8.25
Cost basis | make
[Openings]
Unit | Opening | Building | Floor | Room | Width | Height | Recess depth | Measured | Substrate | Note | Quantity
";

/// D1 is 106 x 78 in without a recess: outside, 110 x 83 1/2. W2 has a recess of 3 in and comes
/// from a drawing: inside, 105 1/2 x 77 1/2, provisional. The last has no height: held.
fn openings(note: &str, second_substrate: &str) -> String {
    format!(
        "'0304 | D1 | North | '3 | Living room | 106 | 78 | 0 | tape | wood | {note}
'0304 | W2 | North | '3 | Bedroom | 106 | 78 | 3 | drawing | {second_substrate} |
'0305 | D1 | North | '3 | Living room | 106 | 78 | 0 | tape | wood |
'0305 | W2 | North | '3 | Kitchen | 106 | | | | |
"
    )
}

fn input(openings: &str) -> Input {
    input_of(&format!("{}{openings}", PROJECT.trim_start()))
}

fn input_of(survey: &str) -> Input {
    let surveys = surveys(&[("block.xlsx", survey)]);
    let bare = Unit::Inch;
    let rules = rules::build(&surveys.grids, bare).expect("rules");
    let survey = survey::lay_out(&surveys.grids)
        .and_then(|layouts| survey::read(&layouts, &surveys.sheets, bare))
        .expect("a survey");
    let mut queries = rules.queries;
    queries.extend(survey.queries);
    Input {
        sheets: surveys.sheets,
        rules: rules.value,
        survey: survey.value,
        queries,
        earlier: None,
        fingerprint: None,
        options: Options::default(),
    }
}

/// The block; one fixing is not chosen, so the total is unknown.
pub fn plain() -> Input {
    with_note("")
}

/// The block with blinds that are bought.
pub fn bought() -> Input {
    let project = PROJECT.trim_start().replace("Cost basis | make", "Cost basis | buy");
    input_of(&(project + &openings("", "wood")))
}

/// The block with a text in the note of the first opening.
pub fn with_note(note: &str) -> Input {
    input(&openings(note, ""))
}

/// The block with every fixing chosen, so that every amount is known.
pub fn priced() -> Input {
    input(&openings("", "wood"))
}

/// The block with three more openings, held, in one row; and no price but that of carriers.
pub fn short_of_prices() -> Input {
    let held = "'0306 | W3 | North | '3 | Hall | 106 | | | | | | 3\n";
    let prices = "[Prices]\nItem | Price | Per\ncarrier | 1 | each\n";
    input(&(openings("", "") + held + prices))
}

/// So many rows of two openings, each of another size, in blinds that are bought; every other one is of a
/// product without a price.
pub fn every_other_without_a_price(rows: u32) -> Input {
    let project = PROJECT.trim_start().replace("Cost basis | make", "Cost basis | buy");
    let project = project.replace("Note | Quantity", "Note | Quantity | Product");
    let product = |row: u32| if row.is_multiple_of(2) { "louver-89" } else { "louver-127" };
    let openings = (0..rows).map(|row| {
        let (width, height) = (30 + row % 100, 40 + row / 100);
        format!(
            "A | W{row} | North | '3 | Hall | {width} | {height} | 0 | tape | wood | | 2 | {}\n",
            product(row)
        )
    });
    let prices = "[Prices]
Item | Product | Price | Per
made-to-measure blind | louver-89 | 50 | each
made-to-measure blind | louver-89 | 20 | m2
spare louver | | 3 | each
";
    input_of(&(project + &openings.collect::<String>() + prices))
}

/// The block without the opening that is held; the second was measured so, and more rows stand below.
pub fn all_sized(measured: &str, more: &str) -> Input {
    let openings = openings("", "wood").replace("drawing", measured);
    let sized = openings.lines().filter(|line| !line.ends_with("| | | | |"));
    input(&sized.chain([more]).map(|line| format!("{line}\n")).collect::<String>())
}

/// The block with three more openings, held, and no price and no rate at all.
pub fn without_a_price() -> Input {
    let held = "'0306 | W3 | North | '3 | Hall | 106 | | | | | | 3\n";
    input(&(openings("", "wood") + held + NO_PRICES))
}

/// Every list that gives prices or rates, without any.
const NO_PRICES: &str = "[Prices]
Item | Price | Per
carrier | | each
[Bars]
Material | Length | Price | Comes in colors
rail | 5.8 m | | yes
rod | 5.8 m | | no
valance | 5.8 m | | yes
fabric-89 | 100 m | | yes
[Fixings]
Item | Substrate | Diameter | Length | Price
plain screw | wood | 5 mm | 50 mm |
[Rates]
Item | Rate
survey | to be asked
making | to be asked
fitting | to be asked
masonry or concrete bracket | to be asked
set-up per unit | to be asked
removal | to be asked
delivery | to be asked
set-up per size | to be asked
";

/// The block with both of its doors from stock, 104 in wide.
pub fn from_stock() -> Input {
    let items = "Stock sizes | yes\nAccept less cover | 2\n[Openings]";
    input_of(&(PROJECT.trim_start().replace("[Openings]", items) + &openings("", "wood")))
}

/// The block with both of its doors cut down from a stock size.
pub fn cut_from_stock() -> Input {
    let stock = "[Stock sizes]
Product | Nominal width | Nominal drop | Price | Lead days | On hand | Cut down to width | Cut down to drop
louver-89 | 120 in | 90 in | 50 | 0 | 10 | 30 in | 40 in
";
    let project = PROJECT.trim_start().replace("[Openings]", "Stock sizes | yes\n[Openings]");
    input_of(&(project + &openings("", "wood") + stock))
}

/// One door whose finished size is given, outside.
pub fn finished() -> Input {
    let project = PROJECT.trim_start().replace("[Openings]", "Sizes given are | finished\n[Openings]");
    let (project, _) = project.split_at(project.find("[Openings]").expect("a sheet of openings"));
    input_of(&format!(
        "{project}[Openings]\nUnit | Opening | Width | Height | Mount\n'0304 | D1 | 106 | 78 | outside\n"
    ))
}

/// The block and so many more units of one held opening each.
pub fn of_units(more: usize) -> Input {
    let held = |unit| format!("1{unit:04} | W1 | North | '4 | Kitchen | 106 | | | | |\n");
    input(&(openings("", "wood") + &(0..more).map(held).collect::<String>()))
}

/// What the outputs are lent.
pub fn report(input: &Input) -> Report<'_> {
    pipeline::work(input, &Silent).expect("a report")
}
