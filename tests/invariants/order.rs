//! Counts that agree between the openings, the order and the hardware.

use std::collections::{BTreeMap, BTreeSet};

use rust_decimal::Decimal;
use serde_json::{Value, json};
use sillbook::length::Length;
use sillbook::rules::CostBasis;

use super::check::{Check, add, drop_last, first, opening};
use super::document::{Run, count, decimal, known_nm, louver, names, nm, text};

pub const CHECKS: &[Check] = &[
    Check {
        name: "every blind is in exactly one order line, and the line is what the opening says",
        faults: one_line_each,
        plants: &[
            ("an opening left off its line", |document| drop_last(&mut document["order"][0]["openings"])),
            ("an opening on two lines", |document| {
                let name = document["order"][0]["openings"][0].clone();
                document["order"][1]["openings"].as_array_mut().unwrap().push(name);
            }),
            ("a held opening in the order", |document| {
                let name = opening(document, "state", "held")["name"].clone();
                document["order"][0]["openings"].as_array_mut().unwrap().push(name);
            }),
            ("a wider line", |document| add(&mut document["order"][0]["width_mm"], 0.000001)),
            ("a line released too early", |document| {
                first(document, "/order", |line| line["release"] == "provisional")["release"] = json!("make");
            }),
        ],
    },
    Check {
        name: "a line holds as many blinds as its openings need, and identical ones share a line",
        faults: lines_add_up,
        plants: &[
            ("one blind too many", |document| add(&mut document["order"][0]["quantity"], 1.0)),
            ("a line number twice", |document| document["order"][1]["line"] = json!(1)),
            ("a line in two", |document| {
                let mut twin = document["order"][0].clone();
                twin["line"] = json!(document["order"].as_array().unwrap().len() + 1);
                document["order"].as_array_mut().unwrap().push(twin);
            }),
        ],
    },
    Check {
        name: "the counts are those of the openings and of the order",
        faults: counts_agree,
        plants: &[
            ("a blind too few", |document| add(&mut document["counts"]["blinds"], -1.0)),
            ("a held opening forgotten", |document| document["counts"]["held"] = json!(0)),
            ("a size too many", |document| add(&mut document["counts"]["sizes"], 1.0)),
            ("complete in spite of a held opening", |document| document["complete"] = json!(true)),
            ("a row lost", |document| drop_last(&mut document["openings"])),
        ],
    },
    Check {
        name: "the hardware is what the blinds need",
        faults: hardware_agrees,
        plants: &[
            ("one bracket too few", |document| {
                let is_bracket = |item: &Value| text(&item["item"]).contains("bracket");
                add(&mut first(document, "/hardware", is_bracket)["needed"], -1.0);
            }),
            ("an item forgotten", |document| drop_last(&mut document["hardware"])),
            ("a pack too few", |document| add(&mut document["hardware"][0]["packs"], -1.0)),
            ("a spare too few", |document| {
                add(&mut first(document, "/hardware", |item| item["spare"] != 0)["spare"], -1.0);
            }),
            ("a spare louver that cannot be hung", |document| {
                add(&mut first(document, "/hardware", |item| item["item"] == "hanger")["spare"], -1.0);
            }),
            ("packers in the price of a blind", |document| {
                add(&mut first(document, "/hardware", |item| item["item"] == "packer")["packs"], -1.0);
            }),
            ("a piece that nobody buys", |document| add(&mut document["hardware"][0]["pieces"], 1.0)),
        ],
    },
];

/// What an opening and its line say alike: where the opening says it, and the line's key.
const ALIKE: [(&str, &str); 21] = [
    ("/product", "product"),
    ("/color", "color"),
    ("/width_mm", "width_mm"),
    ("/drop_mm", "drop_mm"),
    ("/louvers/count", "louver_count"),
    ("/louvers/length_mm", "louver_length_mm"),
    ("/draw", "draw"),
    ("/control", "control"),
    ("/control_side", "control_side"),
    ("/wand_mm", "wand_mm"),
    ("/mount", "mount"),
    ("/cord_device", "cord_device"),
    ("/cord_height_mm", "cord_height_mm"),
    ("/brackets/item", "bracket"),
    ("/brackets/count", "bracket_count"),
    ("/brackets/reach_mm", "reach_mm"),
    ("/valance_mm", "valance_mm"),
    ("/return_left_mm", "return_left_mm"),
    ("/return_right_mm", "return_right_mm"),
    ("/phase", "phase"),
    ("/source", "source"),
];

fn one_line_each(run: &Run<'_>) -> Vec<String> {
    let mut faults = Vec::new();
    let mut lines_of: BTreeMap<&str, Vec<&Value>> = BTreeMap::new();
    for line in run.rows("order") {
        names(line).for_each(|name| lines_of.entry(name).or_default().push(line));
    }
    for (row, _) in run.openings() {
        let name = text(&row["name"]);
        let lines = lines_of.remove(name).unwrap_or_default();
        let wanted = usize::from(row["state"] != "held");
        if lines.len() != wanted {
            faults.push(format!("{name}: in {} lines, not in {wanted}", lines.len()));
            continue;
        }
        for line in lines {
            let differ = ALIKE.iter().filter(|(at, key)| row.pointer(at) != Some(&line[*key]));
            faults.extend(differ.map(|(_, key)| format!("{name}: line {} has another {key}", line["line"])));
            if (row["state"] == "sized") != (line["release"] == "make") {
                faults.push(format!("{name}: {} on a line to {}", row["state"], line["release"]));
            }
        }
    }
    faults.extend(lines_of.keys().map(|name| format!("{name}: in the order, but no opening")));
    faults
}

fn lines_add_up(run: &Run<'_>) -> Vec<String> {
    let quantities: BTreeMap<&str, u64> =
        run.rows("openings").iter().map(|row| (text(&row["name"]), count(&row["quantity"]))).collect();
    let mut faults = Vec::new();
    let mut seen = BTreeSet::new();
    for (number, line) in (1..).zip(run.rows("order")) {
        if count(&line["line"]) != number {
            faults.push(format!("line {} stands at {number}", line["line"]));
        }
        let needed: u64 = names(line).filter_map(|name| quantities.get(name)).sum();
        if needed != count(&line["quantity"]) {
            faults.push(format!("line {number} has {} blinds for {needed} openings", line["quantity"]));
        }
        let blind: Vec<String> = ALIKE.iter().map(|(_, key)| line[*key].to_string()).collect();
        if line["source"] == "made" && !seen.insert((blind, line["release"].to_string())) {
            faults.push(format!("line {number} is the same as another"));
        }
    }
    faults
}

fn counts_agree(run: &Run<'_>) -> Vec<String> {
    let openings = run.rows("openings");
    let of_state = |state: &str| -> u64 {
        openings.iter().filter(|row| row["state"] == state).map(|row| count(&row["quantity"])).sum()
    };
    let (sized, provisional, held) = (of_state("sized"), of_state("provisional"), of_state("held"));
    let hung = openings.iter().filter(|row| row["state"] != "held");
    let sizes: BTreeSet<_> =
        hung.map(|row| (text(&row["product"]), nm(&row["width_mm"]), nm(&row["drop_mm"]))).collect();
    let ordered: u64 = run.rows("order").iter().map(|line| count(&line["quantity"])).sum();
    let nameless: usize = (run.rows("queries").iter())
        .filter(|query| text(&query["message"]) == "the row has a size, but no id, unit, room or type")
        .map(|query| query["at"].as_array().unwrap().len())
        .sum();
    let counts = &run.document["counts"];
    let mut faults = Vec::new();
    let mut agree = |what: &str, wanted: u64, found: u64| {
        if wanted != found {
            faults.push(format!("{what}: {found}, not {wanted}"));
        }
    };
    agree("openings read", run.input.survey.openings.len() as u64, openings.len() as u64);
    agree("rows", (openings.len() + nameless) as u64, count(&counts["rows"]));
    agree("openings", sized + provisional + held, count(&counts["openings"]));
    agree("sized", sized, count(&counts["sized"]));
    agree("provisional", provisional, count(&counts["provisional"]));
    agree("held", held, count(&counts["held"]));
    agree("blinds", sized + provisional, count(&counts["blinds"]));
    agree("blinds in the order", ordered, count(&counts["blinds"]));
    agree("sizes", sizes.len() as u64, count(&counts["sizes"]));
    let complete = held + provisional == 0 && nameless == 0;
    agree("complete", u64::from(complete), u64::from(run.document["complete"] == true));
    faults
}

/// How many of an item are needed, how many of those by blinds that may be made now, and how many
/// of them arrive with a blind that is bought whole.
#[derive(Default)]
struct Need {
    all: u64,
    to_make: u64,
    with_blinds: u64,
}

fn hardware_agrees(run: &Run<'_>) -> Vec<String> {
    let project = &run.input.rules.project;
    let mut needs: BTreeMap<String, Need> = BTreeMap::new();
    for hung in run.hung() {
        let row = hung.row;
        let bought_whole = project.cost_basis == CostBasis::Buy || row["source"] == "stock";
        // A box of these surveys has the shortest brackets in it, and no others.
        let bracket = text(&row["brackets"]["item"]);
        let shortest = &run.input.rules.product(text(&row["product"])).unwrap().cover.bracket_items[0];
        let is_lacking = row["source"] == "stock" && *bracket != **shortest;
        let mut need = |item: &str, each: u64, is_part: bool| {
            if each > 0 {
                let all = each * hung.quantity();
                let need = needs.entry(item.to_owned()).or_default();
                need.all += all;
                need.to_make += if row["state"] == "sized" { all } else { 0 };
                need.with_blinds += if is_part && bought_whole { all } else { 0 };
            }
        };
        let louvers = count(&row["louvers"]["count"]);
        let is_split = row["draw"] == "split";
        let returns = ["return_left_mm", "return_right_mm"].map(|key| u64::from(hung.nm(key) > 0));
        need(bracket, count(&row["brackets"]["count"]), !is_lacking);
        let packers = if row["mount"] == "outside" { 0 } else { count(&row["brackets"]["count"]) };
        need("packer", packers, false);
        need("valance clip", count(&row["brackets"]["count"]), true);
        for item in ["carrier", "hanger", "bottom weight"] {
            need(item, louvers, true);
        }
        need("spacer link", 2 * (louvers - if is_split { 2 } else { 1 }), true);
        need("end cap", 2, true);
        need("corner piece", returns.iter().sum(), true);
        if let Some(length) = known_nm(&row["wand_mm"]) {
            let length = Length::from_nm(length).show(project.units);
            need(&format!("wand {length}"), if is_split { 2 } else { 1 }, true);
        }
        // A motor is in no blind's price.
        need("motor", u64::from(row["control"] == "motor"), false);
        let fixings = &row["fixings"];
        need(fixings["item"].as_str().unwrap_or("not chosen"), count(&fixings["count"]), false);
    }
    let spare_louvers = spare_louvers(run);
    let mut faults = Vec::new();
    for item in run.rows("hardware") {
        let name = text(&item["item"]);
        let Some(need) = needs.remove(name) else {
            faults.push(format!("{name}: no blind needs it, or it is listed twice"));
            continue;
        };
        let is_fixing =
            name == "not chosen" || run.input.rules.fixings.iter().any(|fixing| *fixing.item == *name);
        // Spares are rounded up once for the project: ceil(percent x to make / 100).
        let hangs_a_louver = ["carrier", "hanger", "bottom weight"].contains(&name);
        let has_spares =
            hangs_a_louver || name.contains("bracket") || ["valance clip", "packer"].contains(&name);
        let percent = match (is_fixing, has_spares) {
            (true, _) => project.spare_fixings,
            (false, true) => project.spare_parts,
            (false, false) => 0.into(),
        };
        let share = (percent * Decimal::from(need.to_make) / Decimal::from(100)).ceil();
        let spare = if hangs_a_louver { share.max(spare_louvers.into()) } else { share };
        let bought = need.all + count(&item["spare"]) - need.with_blinds;
        // Where blinds are bought, their parts are bought by the piece.
        let by_the_piece =
            project.cost_basis == CostBasis::Buy && !is_fixing && !["packer", "motor"].contains(&name);
        let (pieces, packs) = match (by_the_piece, bought) {
            (true, bought) => (bought, Some(0)),
            (false, 0) => (0, Some(0)),
            (false, bought) => (0, item["pack_of"].as_u64().map(|pack| bought.div_ceil(pack))),
        };
        if count(&item["pieces"]) != pieces {
            faults.push(format!("{name}: {} single pieces, not {pieces}", item["pieces"]));
        }
        if count(&item["needed"]) != need.all {
            faults.push(format!("{name}: {} needed, not {}", item["needed"], need.all));
        }
        if decimal(&item["spare"]) != Some(spare) {
            faults.push(format!("{name}: {} spare, not {spare}", item["spare"]));
        }
        if item["packs"].as_u64() != packs {
            faults.push(format!("{name}: {} packs, not {packs:?}", item["packs"]));
        }
    }
    faults.extend(needs.keys().map(|name| format!("{name}: needed, but not listed")));
    faults
}

/// Spare louvers of all that is made and may be made now: for each color of each louver material
/// ceil(percent x louvers / 100), at least the product's least.
fn spare_louvers(run: &Run<'_>) -> u64 {
    let rules = &run.input.rules;
    let mut made: BTreeMap<(&str, &str), (u64, u64)> = BTreeMap::new();
    for line in run.rows("order").iter().filter(|line| line["source"] == "made" && line["release"] == "make")
    {
        let product = louver(run.input, text(&line["product"]));
        let kind = (&*product.louver_material, text(&line["color"]));
        let (louvers, least) = made.entry(kind).or_default();
        *louvers += count(&line["quantity"]) * count(&line["louver_count"]);
        *least = u64::from(*product.least_spare_louvers).max(*least);
    }
    let spare = |(louvers, least): (u64, u64)| {
        let share = (rules.project.spare_louvers * Decimal::from(louvers) / Decimal::from(100)).ceil();
        share.to_string().parse::<u64>().unwrap().max(least)
    };
    made.into_values().map(spare).sum()
}
