//! What operates a blind: wands on each side of every limit, motors, and cords as their rules have
//! them. A case is one row of a survey, in inches unless it says otherwise, and what must come of it.

use crate::support::opening::{Case, check};
use crate::support::surveys;
use sillbook::exchange::json as document;
use sillbook::pipeline::{self, Silent};

/// A window of 36 x 48 in, outside: its blind hangs from 54 in above the sill to 2 in below it, so its
/// wand may be 53 in long, and ends 40 in above the floor if it is as long as the sill is high, plus 14.
/// Common practice, no source.
#[test]
fn a_wand_is_as_long_as_its_blind_and_a_hand_allow() {
    for case in [
        // Inside: 47 1/2 long, from 96 down: 48 would end at 48, but 3 in above the bottom is 44 1/2.
        Case("Kind = window; Width = 48; Height = 48; Sill height = 48; Recess depth = 4", "wand = 36"),
        // 39 - 3 = 36; a step less keeps only 24.
        Case("Kind = window; Width = 48; Height = 39 1/2; Sill height = 48; Recess depth = 4", "wand = 36"),
        Case("Kind = window; Width = 48; Height = 39 3/8; Sill height = 48; Recess depth = 4", "wand = 24"),
        // 34 + 54 - 48 = 40.
        Case("Width = 36; Height = 48; Sill height = 34", "wand = 48"),
        Case("Width = 36; Height = 48; Sill height = 33 15/16", "wand = 36"),
        // The floor as it is on the day: one still to come changes nothing.
        Case("Width = 36; Height = 48; Sill height = 34; Floor to come = 1", "wand = 48"),
        // From 52 the first step ends at 40; from less none does: 48 long less 3 leaves 36.
        Case("Kind = window; Width = 36; Height = 40; Sill height = 6", "wand = 12"),
        Case("Kind = window; Width = 36; Height = 40; Sill height = 5 15/16", "wand = 36"),
        // Unknown sill: half of 56 is 28.
        Case("Width = 36; Height = 48", "wand = 24; does not ask = finished floor"),
        // One step at the least: 12 + 3 of 15, and of 14 7/8.
        Case(
            "Width = 36; Height = 15 1/2; Recess depth = 4; Sill height = 48",
            "drop = 15; wand = 12; does not ask = the shortest wand",
        ),
        Case(
            "Width = 36; Height = 15 3/8; Recess depth = 4; Sill height = 48",
            "wand = 12; asks = check: the shortest wand ends less than 3 in above the bottom of the blind (ends \
             2 7/8 in above the blind's bottom)",
        ),
        // A counter 2 in below the sill ends the wall: the blind ends 1/2 in above it, 1 1/2 in below the sill,
        // and its wand 3 in above that.
        Case("Width = 36; Height = 48; Sill height = 40; Wall below = 2", "gap below = 38 1/2; wand = 48"),
        Case(
            "Kind = window; Width = 36; Height = 42; Sill height = 40; Wall below = 2",
            "drop = 49 1/2; wand = 36",
        ),
        // A millimeter survey has steps of 300 mm: 2252.4 - 1016 = 1236.4, and 1403 - 76.2 = 1326.8.
        Case("Units = mm; Width = 900; Height = 1200; Sill height = 900", "drop = 1403 mm; wand = 1200 mm"),
        Case("Units = mm; Width = 900; Height = 1200; Sill height = 863", "wand = 900 mm"),
    ] {
        check(case);
    }
}

/// Common practice, no source.
#[test]
fn a_wand_that_few_can_reach_is_asked_about() {
    for case in [
        // Four steps end 6 in above the sill.
        Case("Width = 36; Height = 48; Sill height = 60", "wand = 48; does not ask = the wand ends"),
        Case(
            "Width = 36; Height = 48; Sill height = 60 1/16",
            "wand = 48; asks = check: the wand ends more than 66 in above the finished floor, where many cannot \
             reach it (ends 66 1/16 in above the finished floor",
        ),
        // 60 1/16 + 54 - 66 = 48 1/16, as an eighth up; 56 - 3 = 53.
        Case("Width = 36; Height = 48; Sill height = 60 1/16", "asks = 48 1/8 in to 53 in long would do"),
        // From the finished floor: 1/16 in of floor to come brings it back.
        Case(
            "Width = 36; Height = 48; Sill height = 60 1/16; Floor to come = 1/16",
            "does not ask = the wand ends",
        ),
        Case("Width = 36; Height = 48; Sill height = 65", "asks = the wand ends"),
        Case(
            "Width = 36; Height = 48; Sill height = 65 1/16",
            "asks = no wand of this blind ends 66 in or less",
        ),
    ] {
        check(case);
    }
}

/// 2010 ADA Standards for Accessible Design, 308.2: 15 to 48 in above the floor, and 44 in at most over
/// what stands out more than 20 in, up to 25 in.
#[test]
fn a_wand_in_an_accessible_unit_ends_within_reach() {
    for case in [
        // From 84: 36 ends at 48, an inch more of sill needs another step.
        Case(
            "Width = 36; Height = 48; Sill height = 30; Accessible = yes",
            "wand = 36; does not ask = no stock wand",
        ),
        Case("Width = 36; Height = 48; Sill height = 30 1/16; Accessible = yes", "wand = 48"),
        Case(
            "Width = 36; Height = 48; Sill height = 30 1/16; Floor to come = 1/16; Accessible = yes",
            "wand = 36",
        ),
        // Over a counter: at most 44.
        Case(
            "Width = 36; Height = 48; Sill height = 26; Accessible = yes; Below stands out = 20",
            "wand = 36",
        ),
        Case(
            "Width = 36; Height = 48; Sill height = 26 1/16; Accessible = yes; Below stands out = 20",
            "wand = 36",
        ),
        Case(
            "Width = 36; Height = 48; Sill height = 26; Accessible = yes; Below stands out = 20 1/16",
            "wand = 36",
        ),
        Case(
            "Width = 36; Height = 48; Sill height = 26 1/16; Accessible = yes; Below stands out = 20 1/16",
            "wand = 48",
        ),
        // What is below may stand out further than 20 in: an end up to 44 is safe, one above is not known to be.
        Case(
            "Width = 36; Height = 48; Sill height = 26; Accessible = yes; Wall below = 10",
            "wand = 36; does not ask = Below stands out is blank",
        ),
        Case(
            "Width = 36; Height = 48; Sill height = 26 1/16; Accessible = yes; Wall below = 10",
            "wand = 36; asks = whether the wand is in reach is unknown, as Below stands out is blank",
        ),
        // The lowest: from 27 the first step ends at 15. From less, 26 15/16 - 15 = 11 15/16 is the longest.
        Case(
            "Width = 36; Height = 12 1/2; Sill height = 8 1/2; Accessible = yes",
            "wand = 12; does not ask = no stock",
        ),
        Case(
            "Width = 36; Height = 12 1/2; Sill height = 8 7/16; Accessible = yes",
            "wand = 12; asks = 1/8 in to 11 7/8 in long would do",
        ),
        // Nothing that keeps 3 in above the bottom: the ordinary length, and one made to measure if any.
        Case(
            "Width = 36; Height = 48; Sill height = 42; Accessible = yes",
            "wand = 48; does not ask = no stock wand",
        ),
        Case(
            "Width = 36; Height = 48; Sill height = 42 1/16; Accessible = yes",
            "wand = 48; asks = check: accessible unit: no stock wand ends 15 in to 48 in above the finished floor \
             (ADA 308.2) (ends 48 1/16 in above the finished floor",
        ),
        Case(
            "Width = 36; Height = 48; Sill height = 42 1/16; Accessible = yes",
            "asks = 48 1/8 in to 53 in long would do",
        ),
        Case(
            "Width = 36; Height = 48; Sill height = 47 1/16; Accessible = yes",
            "asks = no wand at all ends 15 in to 48 in above",
        ),
        // What is not known never passes.
        Case(
            "Width = 36; Height = 48; Accessible = yes",
            "wand = 24; asks = unknown, as Sill height is blank",
        ),
        // A floor of unknown thickness, of 6 in at most: an end at 21 stays in reach, one below may not.
        Case(
            "Width = 36; Height = 12 1/2; Sill height = 14 1/2; Floor surface = unfinished; Accessible = yes",
            "wand = 12; does not ask = Floor to come is blank",
        ),
        Case(
            "Width = 36; Height = 12 1/2; Sill height = 14 7/16; Floor surface = unfinished; Accessible = yes",
            "wand = 12; asks = unknown, as Floor to come is blank",
        ),
        // 48 in are 1219.2 mm, which the standard prints as 1220: compared in inches, 2119.2 - 900 is in reach and
        // 2120 - 900 is not.
        Case(
            "Units = mm; Kind = window; Width = 900; Height = 1166.8; Sill height = 800; Accessible = yes",
            "wand = 900 mm",
        ),
        Case(
            "Units = mm; Kind = window; Width = 900; Height = 1167.6; Sill height = 800; Accessible = yes",
            "wand = 1200 mm",
        ),
        // ADA 309.4: a wand that is twisted.
        Case("Width = 36; Height = 48; Sill height = 30; Accessible = yes", "asks = may not meet ADA 309.4"),
        Case("Width = 36; Height = 48; Sill height = 30", "does not ask = ADA"),
    ] {
        check(case);
    }
}

#[test]
fn a_motor_has_a_side_a_supply_a_mass_and_no_wand() {
    for case in [
        Case(
            "Width = 106; Height = 78; Mount = outside; Control = motor; Motor side = left",
            "wand = unknown; control side = left; asks = who brings the supply; does not ask = Motor side is blank",
        ),
        Case(
            "Width = 106; Height = 78; Mount = outside; Control = motor; Motor side = right; Draw = split",
            "control side = right",
        ),
        Case(
            "Width = 106; Height = 78; Mount = outside; Control = motor",
            "control side = unknown; asks = Motor side is blank",
        ),
        // The same blind with a wand weighs 7.5362670736; a motor 1.5 (from memory).
        Case("Width = 106; Height = 78; Mount = outside; Control = motor", "weight = 9.0362670736"),
    ] {
        check(case);
    }
}

const MOTORS: &str = "
[Project]
Units | in
[Openings]
Unit | Opening | Width | Height | Substrate | Mount | Control | Motor side | Quantity
101 | W1 | 36 | 48 | wood | outside | motor | left | 2
101 | W2 | 36 | 48 | wood | outside | motor | right |
";

fn run(text: &str) -> serde_json::Value {
    let surveys = surveys(&[("survey.xlsx", text)]);
    let input = pipeline::understand(&surveys.grids, surveys.sheets, None).unwrap();
    let report = pipeline::work(&input, &Silent).unwrap();
    let mut out = Vec::new();
    document::write(&report, &mut out).unwrap();
    serde_json::from_slice(&out).unwrap()
}

/// A blind's price holds no motor: it is bought besides, and until someone says what it costs, the total
/// is not known.
#[test]
fn a_motor_is_bought_beside_its_blind() {
    let result = run(MOTORS);
    let motors: Vec<_> =
        result["hardware"].as_array().unwrap().iter().filter(|item| item["item"] == "motor").collect();
    assert_eq!(motors.len(), 1);
    assert_eq!((motors[0]["needed"].as_u64(), motors[0]["packs"].as_u64()), (Some(3), Some(3)));
    assert!(result["cost"]["total"].is_null());
    let unpriced = |result: &serde_json::Value| {
        let lacking = result["cost"]["not_in_total"].as_array().unwrap().clone();
        lacking.iter().any(|lacking| lacking["what"] == "motor has no price")
    };
    assert!(unpriced(&result));
    let lines = result["order"].as_array().unwrap();
    assert_eq!(
        lines.iter().map(|line| line["control_side"].as_str().unwrap()).collect::<Vec<_>>(),
        ["left", "right"]
    );

    // 3 at 120: a line of its own.
    let prices = "[Prices]\nItem | Price | Per\nmade-to-measure blind | 30 | each\nmotor | 120 | each\n";
    let result = run(&format!("{MOTORS}{prices}"));
    let line =
        result["cost"]["lines"].as_array().unwrap().iter().find(|line| line["item"] == "motor").unwrap();
    assert_eq!((line["section"].as_str(), line["amount"].as_str()), (Some("parts"), Some("360.00")));
    assert!(!unpriced(&result));
}

/// A wand costs 1.50 each 12 in or, in a millimeter survey, each 300 mm; `Per` may say which.
#[test]
fn a_wand_is_priced_by_the_length_that_its_price_is_for() {
    let amount = |units: &str, sizes: &str, prices: &str| {
        let survey = format!(
            "[Project]\nUnits | {units}\nCost basis | make\n[Openings]\nUnit | Opening | Kind | Width | Height | Sill \
             height | Substrate | Mount\n101 | W1 | window | {sizes} | wood | outside\n{prices}"
        );
        let result = run(&survey);
        let lines = result["cost"]["lines"].as_array().unwrap();
        let line = lines.iter().find(|line| line["item"].as_str().unwrap().starts_with("wand")).unwrap();
        (line["item"].as_str().unwrap().to_owned(), line["amount"].as_str().unwrap().to_owned())
    };
    let priced = |per: &str| format!("[Prices]\nItem | Price | Per\nwand | 1.5 | {per}\n");
    for (units, sizes, prices, expected) in [
        ("in", "36 | 48 | 30", String::new(), ("wand 36 in", "4.50")),
        ("mm", "900 | 1200 | 800", String::new(), ("wand 900 mm", "4.50")),
        ("mm", "900 | 1200 | 800", priced(""), ("wand 900 mm", "4.50")),
        // 900 / 304.8 x 1.50 = 4.429.
        ("mm", "900 | 1200 | 800", priced("12 in"), ("wand 900 mm", "4.43")),
        // 36 x 25.4 / 300 x 1.50 = 4.572.
        ("in", "36 | 48 | 30", priced("300 mm"), ("wand 36 in", "4.57")),
    ] {
        let (item, amount) = amount(units, sizes, &prices);
        assert_eq!((&*item, &*amount), expected, "{units}, {prices}");
    }
}

/// The rules of each jurisdiction, by the sources that `templates/safety/cords.toml` names: 16 CFR 1120
/// for stock products and ANSI/WCMA A100.1-2022 for others (US), SOR/2019-97 (CA), EN 13120 (EU, UK), and
/// the Competition and Consumer (Corded Internal Window Coverings) Safety Standard 2014 (AU).
#[test]
fn a_cord_hangs_only_as_its_rules_allow() {
    for case in [
        // None is allowed everywhere, so none is where no jurisdiction is named.
        Case(
            "Width = 36; Height = 48; Control = cord",
            "held; asks = stop: SOR/2019-97 does not allow this cord",
        ),
        Case(
            "Width = 36; Height = 48; Control = cord; Cord device = tension device; Cord height = 70",
            "held; asks = stop: SOR/2019-97 does not allow this cord",
        ),
        Case("Jurisdiction = CA; Width = 36; Height = 48; Control = cord", "held; asks = SOR/2019-97"),
        Case(
            "Jurisdiction = CA; Width = 36; Height = 48; Control = cord; Cord device = cleat; Cord height = 80",
            "held; asks = SOR/2019-97 does not allow this cord",
        ),
        // From 84 in down to 1913.6 mm hang 220 mm, to a hundredth less more than that.
        Case(
            "Jurisdiction = CA; Width = 36; Height = 48; Sill height = 30; Control = cord; Cord device = none; \
             Cord height = 1913.6 mm",
            "control side = right; wand = unknown; asks = check: a child can strangle",
        ),
        Case(
            "Jurisdiction = CA; Width = 36; Height = 48; Sill height = 30; Control = cord; Cord device = none; \
             Cord height = 1913.59 mm",
            "held",
        ),
        // Made to measure in the US: a loop on a tension device, at any known height; or 8 in at most.
        Case("Jurisdiction = US; Width = 36; Height = 48; Control = cord", "held; asks = needs a device"),
        Case(
            "Jurisdiction = US; Width = 36; Height = 48; Control = cord; Cord device = tension device",
            "held; asks = how high the cord's device is must be known",
        ),
        Case(
            "Jurisdiction = US; Width = 36; Height = 48; Control = cord; Cord device = tension device; Cord height = 20",
            "control side = right; asks = ANSI/WCMA A100.1-2022, for products made from 2024-06-01",
        ),
        Case(
            "Jurisdiction = US; Width = 36; Height = 48; Control = cord; Cord device = breakaway; Cord height = 20",
            "held; asks = does not allow a cord with this device: breakaway",
        ),
        Case(
            "Jurisdiction = US; Width = 36; Height = 48; Sill height = 30; Control = cord; Cord device = none; Cord height = 76",
            "control side = right",
        ),
        Case(
            "Jurisdiction = US; Width = 36; Height = 48; Sill height = 30; Control = cord; Cord device = none; \
             Cord height = 75 63/64",
            "held",
        ),
        // EU and UK: 1500 mm for what holds a cord, 600 mm for what opens.
        Case(
            "Jurisdiction = EU; Width = 36; Height = 48; Control = cord; Cord device = cleat; Cord height = 1500 mm",
            "control side = right; asks = second-hand",
        ),
        Case(
            "Jurisdiction = UK; Width = 36; Height = 48; Control = cord; Cord device = tension device; Cord height = 1499.99 mm",
            "held; asks = at least 1500 mm needed",
        ),
        Case(
            "Jurisdiction = UK; Width = 36; Height = 48; Control = cord; Cord device = breakaway; Cord height = 600 mm",
            "control side = right",
        ),
        Case(
            "Jurisdiction = EU; Width = 36; Height = 48; Control = cord; Cord device = cord guide; Cord height = 2000 mm",
            "held; asks = does not allow a cord with this device: cord guide",
        ),
        // AU: more than 1600 mm above the finished floor.
        Case(
            "Jurisdiction = AU; Width = 36; Height = 48; Control = cord; Cord device = cleat; Cord height = 1600 mm",
            "held; asks = more than 1600 mm needed",
        ),
        Case(
            "Jurisdiction = AU; Width = 36; Height = 48; Control = cord; Cord device = cleat; Cord height = 1601 mm",
            "control side = right",
        ),
        Case(
            "Jurisdiction = AU; Width = 36; Height = 48; Control = cord; Cord device = cord guide; Cord height = 1601 mm; \
             Floor to come = 1 mm",
            "held; asks = the cord's device is lower",
        ),
        // No rule is known: a caution.
        Case(
            "Jurisdiction = none; Width = 36; Height = 48; Control = cord",
            "control side = right; asks = no rule for cords",
        ),
        // Where a child cannot reach, no one seated can: 1500 mm is over 48 in.
        Case(
            "Jurisdiction = AU; Width = 36; Height = 48; Control = cord; Cord device = cleat; Cord height = 1601 mm; \
             Accessible = yes",
            "held; asks = an accessible unit has no cord",
        ),
        Case("Jurisdiction = none; Width = 36; Height = 48; Control = cord; Accessible = yes", "held"),
    ] {
        check(case);
    }
}

const STOCK_CORD: &str = "
[Project]
Units | in
Stock sizes | yes
Order date | 2026-03-02
Jurisdiction | US
[Openings]
Unit | Opening | Width | Height | Substrate | Mount | Control | Cord device | Cord height
101 | D1 | 62 | 78 | wood | outside | cord | tension device | 40
[Stock sizes]
Product | Nominal width | Nominal drop | Price | Lead days | On hand | Control
louver-89 | 66 | 83 1/2 | 1 | 0 | 10 | cord
";

/// 16 CFR 1120.2: what is made before anyone asks for it is a stock product, of which 1120.3 allows no
/// operating cord over 8 in; any other is a custom one, of which no law in force sets a length.
#[test]
fn a_blind_from_stock_is_a_stock_product() {
    let from_stock = run(STOCK_CORD);
    let made = run(&STOCK_CORD.replace("Stock sizes | yes", "Stock sizes | no"));
    let stops = |result: &serde_json::Value| -> Vec<String> {
        let queries = result["queries"].as_array().unwrap().iter();
        queries
            .filter(|query| query["severity"] == "stop")
            .map(|query| query["message"].as_str().unwrap().to_owned())
            .collect()
    };
    assert_eq!(stops(&from_stock), ["16 CFR 1120.3(e) does not allow this cord"]);
    assert_eq!(stops(&made), [""; 0]);
    let line = &made["order"][0];
    assert_eq!(
        (line["cord_device"].as_str(), line["cord_height_mm"].as_f64()),
        (Some("tension device"), Some(1016.0))
    );
}
