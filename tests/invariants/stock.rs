//! Boxes from stock: no more than there are, where they gain the most, and what less cover would save.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use serde_json::{Value, json};

use super::check::{Check, add, first};
use super::document::{Run, count, decimal, nm, rows, text};

pub const CHECKS: &[Check] = &[
    Check {
        name: "no more of a stock size is used than is on hand, and its use is that of the blinds",
        faults: shelf_suffices,
        plants: &[
            ("one box too many", |document| add(&mut document["stock_use"][0]["used"], 1.0)),
            ("a box more than is on hand", |document| {
                let size = document["stock_use"][0].clone();
                let is_of_it = |blind: &Value| blind["stock_width_mm"] == size["nominal_width_mm"];
                let blinds = document["blinds"].as_array_mut().unwrap();
                let twin = blinds.iter().find(|blind| is_of_it(blind)).unwrap().clone();
                blinds.push(twin);
            }),
            ("a box that is not on hand", |document| add(&mut document["stock_use"][0]["on_hand"], -1.0)),
            ("a size that is not listed", |document| {
                drop(document["stock_use"].as_array_mut().unwrap().remove(0))
            }),
        ],
    },
    Check {
        name: "no two openings of as many blinds would save by changing places at a box",
        faults: no_swap_saves,
        plants: &[("the box to the one that saves less", |document| {
            let row =
                first(document, "/openings", |row| taken(row)["source"] == "stock" && !is_passed_over(row));
            for candidate in row["candidates"].as_array_mut().unwrap() {
                if candidate["source"] == "made" {
                    candidate["price"] = json!("1.00");
                }
            }
        })],
    },
    Check {
        name: "each stock size that covers less is listed with what it saves, and no other",
        faults: less_cover_is_listed,
        plants: &[
            ("one that is not listed", |document| {
                drop(document["less_cover"].as_array_mut().unwrap().remove(0))
            }),
            ("a saving of one blind for all of its row", |document| {
                let row = first(document, "/less_cover", |row| count(&row["quantity"]) > 1);
                row["saves"] = json!("1.00");
            }),
            ("an overlap that is none", |document| {
                add(&mut document["less_cover"][0]["overlap_left_mm"], 50.0)
            }),
            ("taken, and why not", |document| {
                first(document, "/less_cover", |row| row["taken"] == false)["taken"] = json!(true);
            }),
            ("days that nobody counted", |document| add(&mut document["less_cover"][0]["days_sooner"], 1.0)),
        ],
    },
];

type Size<'a> = (&'a str, i64, i64);

fn shelf_suffices(run: &Run<'_>) -> Vec<String> {
    let mut uses: BTreeMap<Size<'_>, [u64; 2]> = BTreeMap::new();
    let mut faults = Vec::new();
    for row in run.rows("stock_use") {
        let size = (text(&row["product"]), nm(&row["nominal_width_mm"]), nm(&row["nominal_drop_mm"]));
        let used = count(&row["ordered"]) + count(&row["used"]);
        if used + count(&row["left"]) != count(&row["on_hand"]) {
            faults.push(format!("{size:?}: {row}"));
        }
        let of_size = uses.entry(size).or_default();
        (of_size[0], of_size[1]) = (of_size[0] + used, of_size[1] + count(&row["on_hand"]));
    }
    let mut blinds: BTreeMap<Size<'_>, u64> = BTreeMap::new();
    for blind in run.rows("blinds").iter().filter(|blind| !blind["stock_width_mm"].is_null()) {
        let size = (text(&blind["product"]), nm(&blind["stock_width_mm"]), nm(&blind["stock_drop_mm"]));
        *blinds.entry(size).or_default() += 1;
    }
    // One that is held later had its box as well.
    let none_held = run.rows("openings").iter().all(|row| row["state"] != "held");
    for size in uses.keys().chain(blinds.keys()) {
        let [used, on_hand] = uses.get(size).copied().unwrap_or_default();
        let hang = blinds.get(size).copied().unwrap_or_default();
        if used > on_hand || hang > used || none_held && hang != used {
            faults.push(format!("{size:?}: {hang} blinds, {used} used, {on_hand} on hand"));
        }
    }
    faults
}

fn taken(row: &Value) -> &Value {
    let nothing = &Value::Null;
    rows(&row["candidates"]).iter().find(|candidate| candidate["taken"] == true).unwrap_or(nothing)
}

/// What the opening could have had, had others not had it.
fn passed_over(row: &Value) -> impl Iterator<Item = &Value> {
    rows(&row["candidates"]).iter().filter(|candidate| candidate["why"] == "used for other openings")
}

fn is_passed_over(row: &Value) -> bool {
    passed_over(row).next().is_some()
}

fn no_swap_saves(run: &Run<'_>) -> Vec<String> {
    if run.input.rules.project.need_by.is_some() {
        return Vec::new();
    }
    let mut faults = Vec::new();
    for wanting in run.rows("openings") {
        for wanted in passed_over(wanting) {
            for having in run.rows("openings").iter().filter(|row| row["quantity"] == wanting["quantity"]) {
                let (has, own) = (taken(having), taken(wanting));
                if has["source"] != "stock"
                    || has["what"] != wanted["what"]
                    || has["besides"] != wanted["besides"]
                {
                    continue;
                }
                let made = rows(&having["candidates"]).iter().find(|candidate| candidate["source"] == "made");
                let price = |candidate: &Value| decimal(&candidate["price"]);
                let prices = [made.and_then(price), price(wanted), price(has), price(own)];
                if let [Some(made), Some(wanted), Some(has), Some(own)] = prices
                    && made + wanted < has + own
                {
                    let name = |row: &Value| text(&row["name"]).to_owned();
                    faults.push(format!("{} would save more than {}", name(wanting), name(having)));
                }
            }
        }
    }
    faults
}

fn less_cover_is_listed(run: &Run<'_>) -> Vec<String> {
    let mut expected: Vec<Value> = Vec::new();
    for row in run.rows("openings") {
        let candidates = rows(&row["candidates"]);
        let Some(made) = candidates.iter().find(|candidate| candidate["source"] == "made") else { continue };
        for stock in candidates.iter().filter(|candidate| !candidate["overlap_left_mm"].is_null()) {
            let money = decimal(&made["price"]).zip(decimal(&stock["price"]));
            let blinds = Decimal::from(count(&row["quantity"]));
            let saves = money.map(|(made, stock)| ((made - stock) * blinds).to_string());
            let days = made["lead_days"].as_i64().zip(stock["lead_days"].as_i64());
            expected.push(json!({
                "opening": row["name"], "building": row["building"], "unit": row["unit"], "room": row["room"],
                "quantity": row["quantity"], "what": stock["what"],
                "overlap_left_mm": stock["overlap_left_mm"], "overlap_right_mm": stock["overlap_right_mm"],
                "see_past_deg": stock["see_past_deg"], "price": stock["price"], "made_price": made["price"],
                "saves": saves, "days_sooner": days.map(|(made, stock)| made - stock),
                "taken": stock["taken"], "why": stock["why"],
            }));
        }
    }
    let key = |row: &Value| (row["opening"].to_string(), row["what"].to_string());
    let mut listed = run.rows("less_cover").to_vec();
    expected.sort_by_key(key);
    listed.sort_by_key(key);
    if listed == expected { Vec::new() } else { vec![format!("{listed:#?} for {expected:#?}")] }
}
