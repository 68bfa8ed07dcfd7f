//! Money that adds up, and prices that are not known.

use std::collections::BTreeSet;

use rust_decimal::Decimal;
use serde_json::{Value, json};
use sillbook::rules::TaxOn;
use sillbook::survey::SizeSource;

use super::check::{Check, first};
use super::document::{Run, decimal, names, rows, text};

pub const CHECKS: &[Check] = &[
    Check {
        name: "an amount is its quantity times its rate, rounded once",
        faults: amounts_are_products,
        plants: &[
            ("a cent too much", |document| cent_more(&mut known_line(document)["amount"])),
            ("an amount forgotten", |document| known_line(document)["amount"] = Value::Null),
            ("a rate changed", |document| known_line(document)["rate"] = json!("1234.56")),
            ("an amount of nothing known", |document| {
                unknown_line(document)["amount"] = json!("0.00");
            }),
        ],
    },
    Check {
        name: "subtotal is the sum of the known amounts, total is subtotal and tax, or unknown with any of them",
        faults: totals_are_sums,
        plants: &[
            ("a cent lost", |document| cent_more(&mut document["cost"]["subtotal"])),
            ("a total of what is not known", |document| {
                document["cost"]["total"] = document["cost"]["subtotal"].clone();
            }),
            ("a line counted twice", |document| {
                let line = known_line(document).clone();
                document["cost"]["lines"].as_array_mut().unwrap().push(line);
            }),
        ],
    },
    Check {
        name: "a share is taken of the sum of the lines before it",
        faults: shares_are_of_their_base,
        plants: &[("another base", |document| {
            let line = first(document, "/cost/lines", |line| line["section"] == "profit");
            cent_more(&mut line["quantity"]);
        })],
    },
    Check {
        name: "the shares of each breakdown add up to what is known, and each to its whole",
        faults: shares_add_up,
        plants: &[
            ("a cent lost by a place", |document| {
                cent_more(&mut first(document, "/cost/shares", |_| true)["direct"]);
            }),
            ("a tax that is nobody's", |document| {
                cent_more(&mut first(document, "/cost/shares", |row| row["name"] == "whole project")["tax"]);
            }),
            ("a place forgotten", |document| {
                document["cost"]["shares"]
                    .as_array_mut()
                    .unwrap()
                    .retain(|row| row["name"] != "whole project");
            }),
        ],
    },
    Check {
        name: "the phases and the whole project add up to what is known, and each is its parts",
        faults: phases_add_up,
        plants: &[
            ("a cent lost by a phase", |document| {
                cent_more(&mut first(document, "/phases", |_| true)["whole"]);
            }),
            ("money committed that is not", |document| {
                cent_more(&mut first(document, "/phases", |_| true)["committed"]);
            }),
            ("a phase forgotten", |document| {
                document["phases"].as_array_mut().unwrap().remove(0);
            }),
            ("an opening counted twice", |document| {
                let row = first(document, "/phases", |_| true);
                row["openings"] = json!(row["openings"].as_u64().unwrap() + 1);
            }),
        ],
    },
    Check {
        name: "what has no price is unknown and listed, never 0",
        faults: unpriced_is_unknown,
        plants: &[
            ("a missing price of 0", |document| {
                let line = unknown_line(document);
                line["rate"] = json!("0.00");
                line["amount"] = json!("0.00");
            }),
            ("a plan of unpriced bars with a cost", |document| {
                let plan = first(document, "/cuts", |plan| plan["cost"].is_null());
                plan["cost"] = json!("0.00");
            }),
            ("not listed", |document| {
                let listed = document["cost"]["not_in_total"].as_array_mut().unwrap();
                listed.retain(|entry| text(&entry["what"]) == "held openings");
            }),
            ("held openings not listed", |document| {
                let listed = document["cost"]["not_in_total"].as_array_mut().unwrap();
                listed.retain(|entry| text(&entry["what"]) != "held openings");
            }),
            ("nobody asked for the price", |document| {
                let queries = document["queries"].as_array_mut().unwrap();
                queries.retain(|query| !text(&query["message"]).contains("has no price"));
            }),
        ],
    },
    Check {
        name: "the range is what is known with the low and the high of each cause, and each cause is one",
        faults: range_adds_up,
        plants: &[
            ("a cent off the lowest", |document| cent_more(&mut document["range"]["low"])),
            ("a highest of what nobody knows", |document| {
                document["range"]["high"] = document["range"]["low"].clone();
            }),
            ("a cause that takes off what it should put on", |document| {
                let part = first(document, "/range/parts", |part| part["what"] == "held openings");
                part["low"] = json!("-1.00");
            }),
            ("held openings that are no cause", |document| {
                let parts = document["range"]["parts"].as_array_mut().unwrap();
                parts.retain(|part| part["what"] != "held openings");
            }),
            ("a low above its high", |document| {
                let part = first(document, "/range/parts", |part| !part["high"].is_null());
                part["low"] = json!("99999999.00");
            }),
            ("an opening from a drawing that is sure", |document| {
                let parts = document["range"]["parts"].as_array_mut().unwrap();
                parts.retain(|part| !is_size(part));
            }),
            ("no class", |document| document["range"]["class"] = json!("")),
        ],
    },
];

/// Whether a part of the range is of a size that is not sure.
fn is_size(part: &Value) -> bool {
    ["sizes ", "floor "].iter().any(|words| text(&part["what"]).starts_with(words))
}

fn is_share(line: &Value) -> bool {
    ["discount", "overhead", "profit", "contingency"].iter().any(|section| line["section"] == *section)
}

fn known_line(document: &mut Value) -> &mut Value {
    first(document, "/cost/lines", |line| !line["amount"].is_null() && !is_share(line))
}

fn unknown_line(document: &mut Value) -> &mut Value {
    first(document, "/cost/lines", |line| line["rate"].is_null())
}

fn cent_more(money: &mut Value) {
    *money = json!((decimal(money).unwrap() + Decimal::new(1, 2)).to_string());
}

fn lines<'a>(run: &Run<'a>) -> &'a [Value] {
    rows(&run.document["cost"]["lines"])
}

/// How far a written figure may be from the exact one: a quantity has six decimals and a share
/// four, so one that fills them may have been rounded.
fn fineness(written: Decimal, decimals: u32) -> Decimal {
    if written.scale() < decimals { Decimal::ZERO } else { Decimal::new(5, decimals + 1) }
}

fn amounts_are_products(run: &Run<'_>) -> Vec<String> {
    let currency = run.input.rules.project.currency;
    let mut faults = Vec::new();
    for line in lines(run) {
        let item = text(&line["item"]);
        let (quantity, rate, amount) =
            (decimal(&line["quantity"]), decimal(&line["rate"]), decimal(&line["amount"]));
        let Some((quantity, rate)) = quantity.zip(rate) else {
            if amount.is_some() {
                faults.push(format!("{item}: an amount of {amount:?} though its rate is not known"));
            }
            continue;
        };
        let Some(amount) = amount else {
            faults.push(format!("{item}: no amount, though quantity and rate are known"));
            continue;
        };
        let hours = if line["unit"] == "min" { Decimal::from(60) } else { Decimal::ONE };
        let (quantity_off, rate_off) = match is_share(line) {
            true => (Decimal::ZERO, fineness(rate, 4)),
            false => (fineness(quantity, 6), Decimal::ZERO),
        };
        let (low, high) = (quantity - quantity_off, quantity + quantity_off);
        let ends = [
            low * (rate - rate_off),
            high * (rate + rate_off),
            low * (rate + rate_off),
            high * (rate - rate_off),
        ]
        .map(|end| currency.round(end / hours));
        let least = ends.into_iter().min().unwrap();
        let most = ends.into_iter().max().unwrap();
        if amount < least || amount > most {
            faults.push(format!("{item}: {quantity} at {rate} is {least}, not {amount}"));
        }
    }
    faults
}

fn totals_are_sums(run: &Run<'_>) -> Vec<String> {
    let project = &run.input.rules.project;
    let cost = &run.document["cost"];
    let (subtotal, tax, total) = (decimal(&cost["subtotal"]), decimal(&cost["tax"]), decimal(&cost["total"]));
    let known: Decimal = lines(run).iter().filter_map(|line| decimal(&line["amount"])).sum();
    let all_known = lines(run).iter().all(|line| !line["amount"].is_null());
    let taxable = |line: &&Value| {
        let materials = ["blinds", "discount", "parts"];
        project.tax_on == TaxOn::All || materials.iter().any(|section| line["section"] == *section)
    };
    let base: Option<Decimal> = lines(run).iter().filter(taxable).map(|line| decimal(&line["amount"])).sum();
    // One rounding of the tax, on the sum of the lines that bear it.
    let wanted_tax = base.map(|base| project.currency.round(base * project.tax / Decimal::from(100)));
    // The same on what is known, which is all of it where nothing is unknown.
    let known_base: Decimal =
        lines(run).iter().filter(taxable).filter_map(|line| decimal(&line["amount"])).sum();
    let known_tax = project.currency.round(known_base * project.tax / Decimal::from(100));
    let wanted_total = wanted_tax.filter(|_| all_known).map(|tax| known + tax);
    let mut faults = Vec::new();
    for (what, wanted, found) in [
        ("subtotal", Some(known), subtotal),
        ("tax", wanted_tax, tax),
        ("total", wanted_total, total),
        ("known tax", Some(known_tax), decimal(&cost["known_tax"])),
        ("known total", Some(known + known_tax), decimal(&cost["known_total"])),
    ] {
        if wanted != found {
            faults.push(format!("{what}: {found:?}, not {wanted:?}"));
        }
    }
    faults
}

fn shares_are_of_their_base(run: &Run<'_>) -> Vec<String> {
    let order = ["overhead", "profit", "contingency"];
    let mut faults = Vec::new();
    for (position, section) in order.iter().enumerate() {
        for line in lines(run).iter().filter(|line| line["section"] == *section) {
            let below = |other: &&Value| !order[position..].iter().any(|later| other["section"] == *later);
            let base: Decimal =
                lines(run).iter().filter(below).filter_map(|line| decimal(&line["amount"])).sum();
            if decimal(&line["quantity"]) != Some(base) {
                faults.push(format!("{section}: of {}, not of {base}", line["quantity"]));
            }
        }
    }
    faults
}

fn shares_add_up(run: &Run<'_>) -> Vec<String> {
    let cost = &run.document["cost"];
    let mut sums: std::collections::BTreeMap<&str, [Decimal; 2]> = std::collections::BTreeMap::new();
    let mut faults = Vec::new();
    for row in rows(&cost["shares"]) {
        let [direct, overheads, tax, whole] =
            ["direct", "overheads", "tax", "whole"].map(|key| decimal(&row[key]).unwrap());
        if direct + overheads + tax != whole {
            faults.push(format!("{}: {direct} + {overheads} + {tax} is not {whole}", row["name"]));
        }
        let sum = sums.entry(text(&row["by"])).or_default();
        *sum = [sum[0] + whole, sum[1] + tax];
    }
    let known = ["known_total", "known_tax"].map(|key| decimal(&cost[key]).unwrap());
    faults.extend(
        sums.iter()
            .filter(|(_, sum)| **sum != known)
            .map(|(by, sum)| format!("by {by}: {sum:?}, not {known:?}")),
    );
    if sums.len() != 4 {
        faults.push(format!("shared out {} times, not by phase, floor, unit and product", sums.len()));
    }
    faults
}

fn phases_add_up(run: &Run<'_>) -> Vec<String> {
    let phases = rows(&run.document["phases"]);
    let has_phases = run.rows("openings").iter().any(|opening| opening["phase"] != "");
    if phases.is_empty() {
        return if has_phases {
            vec!["the openings have phases, and none is listed".to_owned()]
        } else {
            Vec::new()
        };
    }
    let mut faults = Vec::new();
    let sum = |key: &str| -> Decimal { phases.iter().map(|row| decimal(&row[key]).unwrap()).sum() };
    let cost = &run.document["cost"];
    for (of_phase, of_cost) in
        [("whole", "known_total"), ("committed", "committed"), ("open", "open"), ("remade", "remade")]
    {
        let (found, known) = (sum(of_phase), decimal(&cost[of_cost]).unwrap());
        if found != known {
            faults.push(format!("{of_phase}: {found}, not {known}"));
        }
    }
    for row in phases {
        let [direct, overheads, tax, whole, committed, open, remade] =
            ["direct", "overheads", "tax", "whole", "committed", "open", "remade"]
                .map(|key| decimal(&row[key]).unwrap());
        if direct + overheads + tax != whole || committed + open + remade != whole {
            faults.push(format!("{} is not the sum of its parts", row["name"]));
        }
    }
    let counted: u64 = phases.iter().filter_map(|row| row["openings"].as_u64()).sum();
    if run.document["counts"]["openings"] != json!(counted) {
        faults.push(format!("{counted} openings in all phases, not {}", run.document["counts"]["openings"]));
    }
    faults
}

fn unpriced_is_unknown(run: &Run<'_>) -> Vec<String> {
    let rules = &run.input.rules;
    let mut faults = Vec::new();
    // What the rules give no price for, as the cost names it.
    let mut unpriced: BTreeSet<String> = BTreeSet::new();
    unpriced.extend(
        rules.fixings.iter().filter(|fixing| fixing.price.is_none()).map(|fixing| fixing.item.to_string()),
    );
    unpriced.extend(
        rules.prices.parts.iter().filter(|part| part.each.is_none()).map(|part| part.item.to_string()),
    );
    unpriced.insert("fixings not chosen".to_owned());
    for line in lines(run).iter().filter(|line| !line["rate"].is_null()) {
        let item = text(&line["item"]);
        if unpriced.contains(item) {
            faults.push(format!("{item}: {} each, though the rules give no price", line["rate"]));
        }
    }
    for bar in rules.bars.iter().filter(|bar| bar.price.is_none()) {
        let priced = run
            .rows("cuts")
            .iter()
            .filter(|plan| plan["material"] == *bar.material && !plan["cost"].is_null());
        faults.extend(
            priced
                .map(|plan| format!("{}: a cost of {}, though it has no price", bar.material, plan["cost"])),
        );
        // `valance white, 228.3 in long, phase 1`: each length stands for itself.
        let long = format!(", {} long", bar.length.as_bought(rules.project.units));
        let is_it = |item: &str| {
            let color_or_length = item.strip_prefix(&*bar.material);
            color_or_length.is_some_and(|rest| rest.starts_with([' ', ','])) && item.contains(&long)
        };
        let lines = lines(run).iter().filter(|line| is_it(text(&line["item"])) && !line["rate"].is_null());
        faults
            .extend(lines.map(|line| format!("{}: {}, though it has no price", line["item"], line["rate"])));
    }

    let listed = rows(&run.document["cost"]["not_in_total"]);
    let is_known = lines(run).iter().all(|line| !line["rate"].is_null());
    let lacking: Vec<&str> =
        listed.iter().map(|entry| text(&entry["what"])).filter(|what| *what != "held openings").collect();
    if is_known != lacking.is_empty() {
        faults.push(format!("not in the total are {lacking:?}, but every rate known is {is_known}"));
    }
    for what in lacking {
        if !run.rows("queries").iter().any(|query| text(&query["message"]).starts_with(what)) {
            faults.push(format!("{what}: not in the total, and no query asks"));
        }
    }
    let held = run.rows("openings").iter().filter(|row| row["state"] == "held").map(|row| text(&row["name"]));
    let told = listed.iter().filter(|entry| entry["what"] == "held openings").flat_map(names);
    if held.collect::<Vec<_>>() != told.collect::<Vec<_>>() {
        faults.push("the held openings are not those that the total leaves out".to_owned());
    }
    faults
}

fn range_adds_up(run: &Run<'_>) -> Vec<String> {
    let (cost, range) = (&run.document["cost"], &run.document["range"]);
    let known = decimal(&cost["known_total"]).unwrap();
    let parts = rows(&range["parts"]);
    let mut faults = Vec::new();
    let low: Decimal = parts.iter().map(|part| decimal(&part["low"]).unwrap()).sum();
    let high: Option<Decimal> = parts.iter().map(|part| decimal(&part["high"])).sum();
    if decimal(&range["low"]) != Some(known + low) || decimal(&range["high"]) != high.map(|high| known + high)
    {
        faults.push(format!("{} to {}, not {known} with {low} to {high:?}", range["low"], range["high"]));
    }
    for part in parts {
        let (low, high) = (decimal(&part["low"]).unwrap(), decimal(&part["high"]));
        let is_off = if is_size(part) { low > Decimal::ZERO } else { low < Decimal::ZERO };
        if is_off || high.is_some_and(|high| high < low.max(Decimal::ZERO)) {
            faults.push(format!("{}: {low} to {high:?}", part["what"]));
        }
    }
    // What the total lacks, and what of it is not sure, are causes; where there are none it is the total.
    let missing: Vec<(&str, Vec<&str>)> = rows(&cost["not_in_total"])
        .iter()
        .map(|entry| (text(&entry["what"]), names(entry).collect()))
        .collect();
    let told = parts.iter().filter(|part| !is_size(part)).map(|part| text(&part["what"]));
    if !told.eq(missing.iter().map(|(what, _)| *what)) {
        faults.push("its causes are not what the total lacks".to_owned());
    }
    for (row, opening) in run.openings() {
        let taped = opening.facts.as_ref().is_none_or(|facts| facts.source == SizeSource::Tape);
        let is_unsure = row["state"] == "provisional" || row["state"] == "sized" && !taped;
        let name = text(&row["name"]);
        let is_told = parts.iter().any(|part| names(part).any(|of_part| of_part == name));
        if is_unsure && !is_told {
            faults.push(format!("{name}: not sure, and no cause"));
        }
    }
    if !text(&range["class"]).starts_with("Class ") {
        faults.push("no class".to_owned());
    }
    faults
}
