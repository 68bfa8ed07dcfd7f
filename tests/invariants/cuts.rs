//! Every piece on one bar, and no bar with more than it gives.

use std::collections::BTreeMap;

use rust_decimal::{Decimal, RoundingStrategy};
use serde_json::{Value, json};
use sillbook::rules::CostBasis;

use super::check::{Check, add, drop_last, first};
use super::document::{Run, count, decimal, each_nm, known_nm, louver, nm, rows, text};

pub const CHECKS: &[Check] = &[
    Check {
        name: "every piece of every line to be made is on exactly one bar, and so is every spare louver that is cut",
        faults: pieces_on_bars,
        plants: &[
            ("a piece dropped", |document| {
                let pattern = &mut document["cuts"][0]["patterns"][0];
                drop_last(&mut pattern["pieces_mm"]);
                drop_last(&mut pattern["lines"]);
            }),
            ("a piece doubled", |document| {
                let pattern = &mut document["cuts"][0]["patterns"][0];
                for key in ["pieces_mm", "lines"] {
                    let last = pattern[key].as_array().unwrap().last().unwrap().clone();
                    pattern[key].as_array_mut().unwrap().push(last);
                }
            }),
            ("a piece of another line", |document| {
                document["cuts"][0]["patterns"][0]["lines"][0] = json!(9999);
            }),
            ("a piece a nanometer short", |document| {
                add(&mut document["cuts"][0]["patterns"][0]["pieces_mm"][0], -0.000001);
            }),
            ("a whole material forgotten", |document| drop_last(&mut document["cuts"])),
        ],
    },
    Check {
        name: "no bar gives more than it holds with kerf and trim, and each is one that can be had",
        faults: bars_hold_their_pieces,
        plants: &[
            ("a bar over-full", |document| {
                let pattern = &mut document["cuts"][0]["patterns"][0];
                let over = nm(&pattern["offcut_mm"]) as f64 / 1e6 + 25.0;
                add(&mut pattern["pieces_mm"][0], over);
            }),
            ("an offcut too long", |document| {
                add(&mut document["cuts"][0]["patterns"][0]["offcut_mm"], 0.001);
            }),
            ("a bar that nobody sells", |document| {
                let sold = |pattern: &Value| pattern["from"] == "bar";
                add(&mut first(document, "/cuts/0/patterns", sold)["stock_mm"], 1000.0);
            }),
            ("an offcut that is not there", |document| {
                document["cuts"][0]["patterns"][0]["from"] = json!("offcut");
            }),
            ("a blade that takes nothing", |document| {
                first(document, "/cuts", |plan| plan["kerf_mm"] != 0)["kerf_mm"] = json!(0);
            }),
        ],
    },
    Check {
        name: "a blind has its louvers from one roll or from two neighbors, and those on two are counted",
        faults: rolls_give_blinds,
        plants: &[
            ("a torn blind more than there are", |document| {
                add(&mut first(document, "/cuts", |plan| plan["cut_in"] == "blinds")["torn"], 1.0);
            }),
            ("a louver that is another blind's", |document| {
                let plan = first(document, "/cuts", |plan| plan["cut_in"] == "blinds");
                plan["patterns"][0]["blinds"][0] = json!(999);
            }),
            ("a roll that is two", |document| {
                let plan = first(document, "/cuts", |plan| plan["cut_in"] == "blinds");
                plan["patterns"][0]["bars"] = json!(2);
            }),
            ("nobody's louver", |document| {
                let plan = first(document, "/cuts", |plan| plan["cut_in"] == "blinds");
                plan["patterns"][0]["openings"][0] = json!(null);
            }),
        ],
    },
    Check {
        name: "a plan's counts, shares and bounds are those of its bars",
        faults: plans_add_up,
        plants: &[
            ("a bar too few", |document| add(&mut document["cuts"][0]["bars"], -1.0)),
            ("a piece too many", |document| add(&mut document["cuts"][0]["pieces"], 1.0)),
            ("a gap that is none", |document| {
                let plan = first(document, "/cuts", |plan| plan["gap_bars"].is_u64());
                add(&mut plan["gap_bars"], 1.0);
            }),
            ("a gap in money that is none", |document| {
                first(document, "/cuts", |plan| plan["gap_cost"].is_string())["gap_cost"] = json!("0.01");
            }),
            ("a share too high", |document| document["cuts"][0]["used_share"] = json!(0.9999)),
            ("proven without proof", |document| {
                let proven = document["cuts"][0]["proven"] == true;
                document["cuts"][0]["proven"] = json!(!proven);
            }),
            ("a bound over the plan", |document| {
                let plan = first(document, "/cuts", |plan| plan["at_least"].is_u64());
                add(&mut plan["at_least"], 1.0);
                plan["proven"] = json!(false);
            }),
        ],
    },
    Check {
        name: "what is left on hand is what was kept of the bars, and what was on hand and not cut",
        faults: offcuts_are_left,
        plants: &[
            ("an offcut forgotten", |document| drop_last(&mut document["offcuts"])),
            ("an offcut a micrometer longer", |document| {
                add(&mut document["offcuts"][0]["length_mm"], 0.001);
            }),
            ("one more than there is", |document| add(&mut document["offcuts"][0]["quantity"], 1.0)),
        ],
    },
    Check {
        name: "sawing phase by phase is told beside the whole project at once",
        faults: phases_add_up,
        plants: &[
            ("bars of a phase forgotten", |document| add(&mut document["by_phase"][0]["bars"], -1.0)),
            ("a difference that is none", |document| add(&mut document["by_phase"][0]["more_bars"], 1.0)),
            ("a phase without a plan", |document| drop_last(&mut document["cuts"])),
        ],
    },
];

/// Material, and color if it has one.
type Stuff = (String, Option<String>);
/// Length in nanometers, and the line; none for a spare.
type Piece = (i64, Option<u64>);

/// What the lines to be made need, worked out from the order and the rules alone.
fn needed(run: &Run<'_>) -> BTreeMap<Stuff, BTreeMap<Piece, u64>> {
    let rules = &run.input.rules;
    let mut needed: BTreeMap<Stuff, BTreeMap<Piece, u64>> = BTreeMap::new();
    // Spares: by material, color and louver width: how many, the longest, and the least spare.
    let mut louvers: BTreeMap<(Stuff, i64), (u64, i64, u64)> = BTreeMap::new();
    let to_make = |line: &&Value| line["source"] == "made" && line["release"] == "make";
    for line in run.rows("order").iter().filter(to_make) {
        let product = louver(run.input, text(&line["product"]));
        let stuff = |material: &str| {
            let colored = rules.material(material).is_some_and(|known| known.colored);
            (material.to_owned(), colored.then(|| text(&line["color"]).to_owned()))
        };
        let (number, blinds) = (count(&line["line"]), count(&line["quantity"]));
        let mut need = |material: &str, length: i64, each: u64| {
            *needed.entry(stuff(material)).or_default().entry((length, Some(number))).or_default() +=
                each * blinds;
        };
        let width = nm(&line["width_mm"]);
        need(&product.rail_material, width - 2 * product.end_cap.nm(), 1);
        need(&product.rod_material, width - product.rod_off.nm(), 1);
        need(&product.valance_material, nm(&line["valance_mm"]), 1);
        for side in ["return_left_mm", "return_right_mm"] {
            let length = nm(&line[side]);
            need(&product.valance_material, length, u64::from(length > 0));
        }
        let length = nm(&line["louver_length_mm"]) + product.hem.nm();
        let each = count(&line["louver_count"]);
        need(&product.louver_material, length, each);
        let group = louvers.entry((stuff(&product.louver_material), product.louver_width.nm()));
        let (so_far, longest, least) = group.or_default();
        *so_far += each * blinds;
        *longest = length.max(*longest);
        *least = u64::from(*product.least_spare_louvers).max(*least);
    }
    // Where blinds are bought, spare louvers are ordered finished.
    if rules.project.cost_basis == CostBasis::Buy {
        louvers.clear();
    }
    for ((stuff, _), (made, longest, least)) in louvers {
        // ceil(percent x louvers / 100), at least the product's least.
        let share = (rules.project.spare_louvers * Decimal::from(made) / Decimal::from(100)).ceil();
        let spare = share.to_string().parse::<u64>().unwrap().max(least);
        *needed.entry(stuff).or_default().entry((longest, None)).or_default() += spare;
    }
    for pieces in needed.values_mut() {
        pieces.retain(|_, count| *count > 0);
    }
    needed
}

fn stuff(row: &Value) -> Stuff {
    (text(&row["material"]).to_owned(), row["color"].as_str().map(str::to_owned))
}

fn pieces_on_bars(run: &Run<'_>) -> Vec<String> {
    let mut faults = Vec::new();
    let mut needed = needed(run);
    // A material sawn phase by phase has a plan for each.
    let mut cut_of: BTreeMap<Stuff, BTreeMap<Piece, u64>> = BTreeMap::new();
    for plan in run.rows("cuts") {
        let stuff = stuff(plan);
        let cut = cut_of.entry(stuff.clone()).or_default();
        for pattern in rows(&plan["patterns"]) {
            let lines = rows(&pattern["lines"]).iter().map(Value::as_u64);
            if rows(&pattern["lines"]).len() != rows(&pattern["pieces_mm"]).len() {
                faults.push(format!("{stuff:?}: a pattern whose pieces are not all for a line"));
            }
            for piece in each_nm(&pattern["pieces_mm"]).into_iter().zip(lines) {
                *cut.entry(piece).or_default() += count(&pattern["bars"]);
            }
        }
    }
    for (stuff, cut) in cut_of {
        let wanted = needed.remove(&stuff).unwrap_or_default();
        for piece in wanted.keys().chain(cut.keys().filter(|piece| !wanted.contains_key(piece))) {
            let (wanted, cut) = (wanted.get(piece).unwrap_or(&0), cut.get(piece).unwrap_or(&0));
            if wanted != cut {
                faults.push(format!("{stuff:?}: {cut} pieces of {piece:?} are cut, {wanted} are needed"));
            }
        }
    }
    faults.extend(needed.keys().map(|stuff| format!("{stuff:?}: needed, but not cut")));
    faults
}

fn bars_hold_their_pieces(run: &Run<'_>) -> Vec<String> {
    let rules = &run.input.rules;
    let mut faults = Vec::new();
    let mut offcuts: BTreeMap<(Stuff, i64), u64> = BTreeMap::new();
    for plan in run.rows("cuts") {
        let material = text(&plan["material"]);
        let mut fault = |what: String| faults.push(format!("{material} {}: {what}", plan["color"]));
        let bars: Vec<_> = rules.bars.iter().filter(|bar| *bar.material == *material).collect();
        let (kerf, trim) = (nm(&plan["kerf_mm"]), nm(&plan["trim_mm"]));
        if rules.material(material).map(|known| (known.kerf.nm(), known.trim.nm())) != Some((kerf, trim)) {
            fault(format!("kerf {kerf} nm and trim {trim} nm are not those of the rules"));
        }
        for pattern in rows(&plan["patterns"]) {
            let (stock, pieces) = (nm(&pattern["stock_mm"]), each_nm(&pattern["pieces_mm"]));
            let (sum, pieces) = (pieces.iter().sum::<i64>(), pieces.len() as i64);
            // k pieces fit if their sum and k - 1 kerfs are at most the bar less both trims.
            if sum + (pieces - 1) * kerf > stock - 2 * trim {
                fault(format!("{pieces} pieces of {sum} nm do not fit {stock} nm"));
            }
            // What is left: the bar less one trim, the pieces and a kerf for each; never under 0.
            let left = (stock - trim - sum - pieces * kerf).max(0);
            if nm(&pattern["offcut_mm"]) != left {
                fault(format!("an offcut of {} mm, not {left} nm", pattern["offcut_mm"]));
            }
            if pattern["from"] == "offcut" {
                *offcuts.entry((stuff(plan), stock)).or_default() += count(&pattern["bars"]);
            } else if !bars.iter().any(|bar| bar.length.nm() == stock) {
                fault(format!("no bar is {stock} nm long"));
            }
        }
    }
    for ((stuff, length), used) in offcuts {
        let on_hand = on_hand(run).remove(&(stuff.clone(), length)).unwrap_or(0);
        if used > on_hand {
            faults.push(format!("{stuff:?}: {used} offcuts of {length} nm are used of {on_hand}"));
        }
    }
    faults
}

/// The rolls of each blind, in a plan that is cut blind by blind.
fn rolls_give_blinds(run: &Run<'_>) -> Vec<String> {
    let mut faults = Vec::new();
    let openings: BTreeMap<&str, &Value> =
        run.rows("openings").iter().map(|opening| (text(&opening["name"]), opening)).collect();
    for plan in run.rows("cuts").iter().filter(|plan| plan["cut_in"] == "blinds") {
        let mut fault = |what: String| faults.push(format!("{} {}: {what}", plan["material"], plan["color"]));
        let louvers = text(&plan["material"]).starts_with("fabric");
        let longest = rows(&plan["patterns"]).iter().map(|roll| nm(&roll["stock_mm"])).max().unwrap_or(0);
        let mut blinds: BTreeMap<(&str, u64), (u64, i64, Vec<usize>)> = BTreeMap::new();
        // Rolls that give spares alone are passed over.
        let mut rolls = 0;
        for roll in rows(&plan["patterns"]) {
            if count(&roll["bars"]) != 1 {
                fault("a roll that is not one".to_owned());
            }
            let cells = rows(&roll["openings"]).iter().zip(rows(&roll["blinds"])).zip(rows(&roll["lines"]));
            let mut any = false;
            for (((opening, blind), line), length) in cells.zip(each_nm(&roll["pieces_mm"])) {
                let (Some(name), Some(number)) = (opening.as_str(), blind.as_u64()) else {
                    if !line.is_null() || !opening.is_null() || !blind.is_null() {
                        fault(format!("a piece of line {line} for nobody"));
                    }
                    continue;
                };
                any = true;
                let (pieces, taken, on) = blinds.entry((name, number)).or_default();
                *pieces += 1;
                *taken += length;
                if on.last() != Some(&rolls) {
                    on.push(rolls);
                }
            }
            rolls += usize::from(any);
        }
        let mut torn = 0;
        for ((name, number), (pieces, taken, on)) in blinds {
            let opening = openings.get(name).copied().unwrap_or(&Value::Null);
            let has = opening["louvers"]["count"].as_u64() == Some(pieces) || !louvers;
            if !has || opening["quantity"].as_u64().is_none_or(|all| number > all) {
                fault(format!("{name}, blind {number}: {pieces} pieces"));
            }
            torn += u64::from(on.len() > 1);
            let neighbors = on.windows(2).all(|pair| pair[1] == pair[0] + 1);
            if !neighbors || (on.len() > 2 && taken <= longest - 2 * nm(&plan["trim_mm"])) {
                fault(format!("{name}, blind {number}: from rolls {on:?}"));
            }
        }
        if plan["torn"] != torn {
            fault(format!("{torn} torn, not {}", plan["torn"]));
        }
    }
    faults
}

/// Offcuts that the survey says are on hand, by what they are and their length.
fn on_hand(run: &Run<'_>) -> BTreeMap<(Stuff, i64), u64> {
    let mut on_hand = BTreeMap::new();
    for offcut in &run.input.rules.offcuts {
        let color = (!offcut.color.is_empty()).then(|| offcut.color.to_string());
        let kind = ((offcut.material.to_string(), color), offcut.length.nm());
        *on_hand.entry(kind).or_default() += u64::from(offcut.quantity);
    }
    on_hand
}

/// What is on hand when everything is sawn, worked out from the patterns and the rules.
fn offcuts_are_left(run: &Run<'_>) -> Vec<String> {
    let mut left: BTreeMap<((Stuff, i64), &str), u64> =
        on_hand(run).into_iter().map(|(kind, count)| ((kind, "on hand"), count)).collect();
    for plan in run.rows("cuts") {
        let material = text(&plan["material"]);
        let known = run.input.rules.material(material).unwrap();
        for pattern in rows(&plan["patterns"]) {
            let bars = count(&pattern["bars"]);
            if pattern["from"] == "offcut" {
                *left.entry(((stuff(plan), nm(&pattern["stock_mm"])), "on hand")).or_default() -= bars;
            }
            let offcut = nm(&pattern["offcut_mm"]);
            // Of use, and more than the trims of both its ends.
            if offcut >= known.least_useful.nm() && offcut > 2 * known.trim.nm() {
                *left.entry(((stuff(plan), offcut), "kept")).or_default() += bars;
            }
        }
    }
    left.retain(|_, quantity| *quantity > 0);
    let mut told = BTreeMap::new();
    for row in run.rows("offcuts") {
        let kind = (stuff(row), nm(&row["length_mm"]));
        *told.entry((kind, text(&row["from"]))).or_default() += count(&row["quantity"]);
    }
    if told == left { Vec::new() } else { vec![format!("{told:?} are told, {left:?} are left")] }
}

fn plans_add_up(run: &Run<'_>) -> Vec<String> {
    let mut faults = Vec::new();
    for plan in run.rows("cuts") {
        let patterns = rows(&plan["patterns"]);
        let bars = |pattern: &Value| count(&pattern["bars"]);
        let bought: u64 = patterns.iter().filter(|pattern| pattern["from"] == "bar").map(bars).sum();
        let pieces: u64 =
            patterns.iter().map(|pattern| bars(pattern) * rows(&pattern["pieces_mm"]).len() as u64).sum();
        let total = |length: &dyn Fn(&Value) -> i64| -> Decimal {
            patterns.iter().map(|pattern| Decimal::from(bars(pattern)) * Decimal::from(length(pattern))).sum()
        };
        let used = total(&|pattern| each_nm(&pattern["pieces_mm"]).iter().sum());
        let share = (used / total(&|pattern| nm(&pattern["stock_mm"])))
            .round_dp_with_strategy(4, RoundingStrategy::MidpointAwayFromZero);
        let (cost, least_cost) = (decimal(&plan["cost"]), decimal(&plan["cost_at_least"]));
        let proven = match plan["at_least"].as_u64() {
            Some(least) => bought == least,
            None => cost.is_some() && cost == least_cost,
        };
        let held = [
            ("bars", count(&plan["bars"]) == bought),
            ("pieces", count(&plan["pieces"]) == pieces),
            ("used share", decimal(&plan["used_share"]) == Some(share)),
            ("proven", plan["proven"] == proven),
            (
                "a gap in bars",
                plan["gap_bars"].as_u64()
                    == plan["at_least"].as_u64().and_then(|least| bought.checked_sub(least)),
            ),
            (
                "a gap in money",
                decimal(&plan["gap_cost"]) == cost.zip(least_cost).map(|(cost, least)| cost - least),
            ),
            ("a bound in bars", plan["at_least"].as_u64().is_none_or(|least| least <= bought)),
            ("a bound in money", cost.zip(least_cost).is_none_or(|(cost, least)| least <= cost)),
            ("trim", known_nm(&plan["trim_mm"]).is_some()),
        ];
        let wrong = held.iter().filter(|(_, holds)| !holds);
        faults.extend(wrong.map(|(what, _)| format!("{} {}: {what}", plan["material"], plan["color"])));
    }
    faults
}

/// The plans of every phase of a material, added up, beside what its whole would take.
fn phases_add_up(run: &Run<'_>) -> Vec<String> {
    let mut faults = Vec::new();
    for row in run.rows("by_phase") {
        let plans = || run.rows("cuts").iter().filter(|plan| stuff(plan) == stuff(row));
        let bars: u64 = plans().map(|plan| count(&plan["bars"])).sum();
        let cost: Option<Decimal> = plans().map(|plan| decimal(&plan["cost"])).sum();
        let more = bars as i64 - count(&row["bars_at_once"]) as i64;
        let more_cost = cost.zip(decimal(&row["cost_at_once"])).map(|(cost, at_once)| cost - at_once);
        let held = [
            ("bars", count(&row["bars"]) == bars),
            ("cost", decimal(&row["cost"]) == cost),
            ("bars more", row["more_bars"].as_i64() == Some(more)),
            ("cost more", decimal(&row["more_cost"]) == more_cost),
            ("a phase for each plan", plans().all(|plan| plan["phase"].is_string())),
        ];
        let wrong = held.iter().filter(|(_, holds)| !holds);
        faults.extend(wrong.map(|(what, _)| format!("{} {}: {what}", row["material"], row["color"])));
    }
    let phases = !run.rows("by_phase").is_empty();
    let others = run.rows("cuts").iter().filter(|plan| plan["phase"].is_string() != phases);
    faults.extend(others.map(|plan| format!("{}: sawn by phase or not?", plan["material"])));
    faults
}
