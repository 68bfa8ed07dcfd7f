//! What a fitter is told before drilling, on each side of every limit, and where work starts. A case is
//! one row of a survey, in inches unless it says otherwise.

use crate::support::opening::survey_text;
use crate::support::surveys;
use serde_json::Value;
use sillbook::exchange::json;
use sillbook::pipeline::{self, Silent};

/// The document of a survey.
fn document(survey: &str) -> Value {
    let surveys = surveys(&[("survey.xlsx", survey)]);
    let input = pipeline::understand(&surveys.grids, surveys.sheets, None).unwrap();
    let mut text = Vec::new();
    json::write(&pipeline::work(&input, &Silent).unwrap(), &mut text).unwrap();
    serde_json::from_slice(&text).unwrap()
}

/// The caution of that code in the first unit.
fn caution<'d>(document: &'d Value, code: &str) -> Option<&'d Value> {
    document["units"][0]["cautions"].as_array().unwrap().iter().find(|caution| caution["code"] == code)
}

/// Facts under which a caution stands, and the nearest under which it does not.
struct Limit {
    code: &'static str,
    stands: &'static [&'static str],
    does_not: &'static [&'static str],
}

const WINDOW: &str = "Kind = window; Width = 36; Height = 48; Sill height = 30; Substrate = wood";
/// The same, inside, with its brackets at 78 in.
const INSIDE: &str =
    "Kind = window; Width = 36; Height = 48; Sill height = 30; Recess depth = 4; Substrate = wood";

#[test]
fn each_caution_has_its_fact_and_a_blank_one_keeps_it() {
    let limits = [
        Limit { code: "measure-first", stands: &[WINDOW], does_not: &["Width = 36"] },
        // 80 in and 2 in a side.
        Limit {
            code: "long-rail",
            stands: &["Width = 80; Height = 48; Sill height = 30"],
            does_not: &["Width = 79 7/8; Height = 48; Sill height = 30"],
        },
        Limit {
            code: "lift",
            // Two people by length; by weight alone over what is recommended for one.
            stands: &[
                "Width = 92; Height = 20; Sill height = 30",
                "Width = 91; Height = 104; Sill height = 6; Kind = window; Control = motor; Motor side = left",
            ],
            does_not: &[WINDOW, "Width = 91; Height = 104; Sill height = 6; Kind = window"],
        },
        // 30 + 42 and no bracket above the head: 72 in.
        Limit {
            code: "ladder",
            stands: &[
                "Kind = window; Width = 36; Height = 42 1/16; Sill height = 30; Recess depth = 4",
                "Kind = window; Width = 36; Height = 42; Recess depth = 4",
            ],
            does_not: &["Kind = window; Width = 36; Height = 42; Sill height = 30; Recess depth = 4"],
        },
        Limit {
            code: "platform",
            stands: &[
                "Kind = window; Width = 36; Height = 42; Sill height = 78; Recess depth = 4",
                "Kind = window; Width = 36; Height = 42; Recess depth = 4",
            ],
            does_not: &["Kind = window; Width = 36; Height = 42; Sill height = 77 15/16; Recess depth = 4"],
        },
        Limit {
            code: "open-sash",
            stands: &[
                "Kind = window; Width = 36; Height = 48; Sill height = 38 15/16",
                "Kind = window; Width = 36; Height = 48",
                "Kind = patio door; Width = 80; Height = 80; Opening leaf = left",
            ],
            does_not: &[
                "Kind = window; Width = 36; Height = 48; Sill height = 39",
                "Kind = window; Width = 36; Height = 48; Sill height = 30; Opening leaf = none",
            ],
        },
        Limit {
            code: "glass",
            stands: &[INSIDE, "Kind = patio door; Width = 80; Height = 80; Mount = outside"],
            does_not: &[WINDOW, "Kind = door; Width = 36; Height = 80; Mount = outside"],
        },
        Limit { code: "cables", stands: &[WINDOW], does_not: &["Width = 36"] },
        Limit {
            code: "cable-zones",
            stands: &[
                "Jurisdiction = UK; Width = 36; Height = 48; Sill height = 30",
                "Width = 36; Height = 48; Sill height = 30",
            ],
            does_not: &[
                "Jurisdiction = US; Width = 36; Height = 48; Sill height = 30",
                "Jurisdiction = UK; Width = 36; Height = 48; Sill height = 30; Recess depth = 4",
            ],
        },
        // 8 x 1 3/4 through one board of 1/2 in goes 1 3/16 in deep; 10 x 2 1/2 through two 1 7/16 in.
        Limit {
            code: "cables-in-framing",
            stands: &[
                "Width = 36; Height = 48; Sill height = 30; Substrate = stud wall; Blocking = yes; Board layers = 2; Board thickness = 1/2",
            ],
            does_not: &["Width = 36; Height = 48; Sill height = 30; Substrate = stud wall; Blocking = yes"],
        },
        Limit {
            code: "slab",
            stands: &[
                "Kind = window; Width = 36; Height = 48; Sill height = 30; Recess depth = 4; Substrate = concrete",
                "Width = 36; Height = 48; Sill height = 30; Wall above = 20; Mount = ceiling; Substrate = concrete",
            ],
            does_not: &[
                "Kind = window; Width = 36; Height = 48; Sill height = 30; Recess depth = 4; Substrate = concrete; Slab = plain",
                "Kind = window; Width = 36; Height = 48; Sill height = 30; Recess depth = 4; Substrate = concrete; Slab = cleared",
                "Width = 36; Height = 48; Sill height = 30; Substrate = concrete",
            ],
        },
        Limit {
            code: "lintel",
            stands: &["Width = 36; Height = 48; Sill height = 30; Substrate = masonry; Header height = 10"],
            does_not: &["Width = 36; Height = 48; Sill height = 30; Substrate = masonry"],
        },
        Limit {
            code: "silica",
            stands: &[
                "Width = 36; Height = 48; Sill height = 30; Substrate = masonry",
                "Width = 36; Height = 48; Sill height = 30; Substrate = concrete",
                "Width = 36; Height = 48; Sill height = 30",
            ],
            does_not: &[
                WINDOW,
                // On a wooden casing, whatever the wall is.
                "Width = 36; Height = 48; Sill height = 30; Substrate = masonry; Casing width = 5; Trim = 3/4; Wall above = 6",
            ],
        },
        Limit {
            code: "lead",
            stands: &[
                "Jurisdiction = US; Built = 1977; Width = 36; Height = 48; Sill height = 30",
                "Jurisdiction = US; Width = 36; Height = 48; Sill height = 30",
            ],
            does_not: &["Jurisdiction = US; Built = 1978; Width = 36; Height = 48; Sill height = 30"],
        },
        Limit {
            code: "old-paint",
            stands: &[
                "Jurisdiction = UK; Built = 1999; Width = 36; Height = 48; Sill height = 30",
                "Built = 1999; Width = 36; Height = 48; Sill height = 30",
                "Jurisdiction = AU; Width = 36; Height = 48; Sill height = 30",
            ],
            does_not: &[
                "Jurisdiction = UK; Built = 2000; Width = 36; Height = 48; Sill height = 30",
                "Jurisdiction = US; Built = 1960; Width = 36; Height = 48; Sill height = 30",
            ],
        },
        Limit {
            code: "asbestos",
            stands: &["Jurisdiction = US; Built = 2018; Width = 36; Height = 48; Sill height = 30"],
            does_not: &["Jurisdiction = US; Built = 2019; Width = 36; Height = 48; Sill height = 30"],
        },
        Limit {
            code: "old-coatings",
            stands: &[
                "Jurisdiction = UK; Built = 1999; Width = 36; Height = 48; Sill height = 30",
                "Jurisdiction = AU; Built = 2003; Width = 36; Height = 48; Sill height = 30",
                "Jurisdiction = EU; Built = 2005; Width = 36; Height = 48; Sill height = 30",
                "Jurisdiction = CA; Built = 2018; Width = 36; Height = 48; Sill height = 30",
                "Jurisdiction = none; Built = 2018; Width = 36; Height = 48; Sill height = 30",
                "Built = 2018; Width = 36; Height = 48; Sill height = 30",
                "Jurisdiction = CA; Width = 36; Height = 48; Sill height = 30",
            ],
            does_not: &[
                "Jurisdiction = UK; Built = 2000; Width = 36; Height = 48; Sill height = 30",
                "Jurisdiction = AU; Built = 2004; Width = 36; Height = 48; Sill height = 30",
                "Jurisdiction = EU; Built = 2006; Width = 36; Height = 48; Sill height = 30",
                "Jurisdiction = CA; Built = 2019; Width = 36; Height = 48; Sill height = 30",
                "Built = 2019; Width = 36; Height = 48; Sill height = 30",
            ],
        },
        Limit {
            code: "heater",
            stands: &[
                "Kind = window; Width = 36; Height = 48; Sill height = 30; Heater below = yes",
                "Kind = door; Width = 36; Height = 80; Heater below = yes",
                WINDOW,
            ],
            does_not: &[
                "Kind = window; Width = 36; Height = 48; Sill height = 30; Heater below = no",
                "Kind = door; Width = 36; Height = 80",
            ],
        },
        Limit { code: "ways-out", stands: &[WINDOW], does_not: &["Width = 36"] },
    ];
    for limit in &limits {
        for row in limit.stands {
            let document = document(&survey_text(row));
            let caution = caution(&document, limit.code);
            let caution =
                caution.unwrap_or_else(|| panic!("no {} of: {row}: {:#}", limit.code, document["queries"]));
            assert_eq!(caution["openings"], serde_json::json!(["W1"]), "{}: {row}", limit.code);
            let from = caution["source"].as_str().unwrap();
            let has_number = from.contains(char::is_numeric) && from.contains(", ");
            assert!(has_number || ["common practice, no source", "from memory"].contains(&from), "{from}");
        }
        for row in limit.does_not {
            assert_eq!(caution(&document(&survey_text(row)), limit.code), None, "{} of: {row}", limit.code);
        }
    }
    // Every caution is among them.
    let codes: Vec<&str> = limits.iter().map(|limit| limit.code).collect();
    let source = include_str!("../src/report/cautions/list.rs");
    let listed = source.lines().filter_map(|line| line.trim().strip_prefix("code: \"")?.strip_suffix("\","));
    assert_eq!(listed.collect::<Vec<_>>(), codes);
}

#[test]
fn a_caution_stands_once_for_all_of_a_unit_and_names_its_openings() {
    let survey = "[Project]\nUnits | in\n[Openings]\nUnit | Opening | Quantity | Kind | Width | Height | Sill height | Recess depth | Substrate\n\
        A | W1 | 1 | window | 36 | 48 | 30 | 0 | masonry\n\
        A | W2 | 3 | window | 36 | 48 | 30 | 0 | concrete\n\
        A | W3 | 1 | window | 36 | 48 | 30 | 0 | wood\n";
    let document = document(survey);
    let cautions = document["units"][0]["cautions"].as_array().unwrap();
    let dust: Vec<&Value> = cautions.iter().filter(|caution| caution["code"] == "silica").collect();
    assert_eq!(dust.len(), 1);
    assert_eq!(dust[0]["openings"], serde_json::json!(["W1", "W2"]));
    // Two brackets of two screws a blind: 4 + 3 x 4 holes, 2 + 3 x 2 brackets of 8 min.
    let words = dust[0]["words"].as_str().unwrap();
    assert!(
        words.starts_with(
            "Silica dust: 16 holes in masonry, concrete or an unknown wall (W1, W2), about 64 min."
        ),
        "{words}"
    );
}

/// 105 x 48 in, outside: 109 wide, two people. 23 x 0.625 x 0.70 x 0.865 x 0.94 x 0.90 = 7.3636 kg
/// are recommended for a lift as high as hands go (NIOSH, Publication 94-110).
#[test]
fn the_lifting_index_is_of_the_heaviest_lift() {
    let document =
        document(&survey_text("Units = mm; Width = 2700; Height = 2200; Sill height = 0; Mount = outside"));
    let weight = document["openings"][0]["weight_kg"].as_f64().unwrap();
    let index = document["units"][0]["lifting_index"].as_f64().unwrap();
    assert!((index - weight / 7.363_6).abs() < 0.0005, "{weight} kg: {index}");
    let words = caution(&document, "lift").unwrap()["words"].as_str().unwrap();
    let says = format!(
        "Two people lift W1. Heaviest lift {weight:.1} kg: lifting index {index:.1} for one, {:.1} for each",
        index / 2.0
    );
    assert!(words.starts_with(&says), "{words} for {says}");
}

/// What is told once for a unit is not told again at each of its openings.
#[test]
fn a_query_that_a_caution_tells_is_not_repeated() {
    let row =
        "Kind = window; Width = 36; Height = 48; Sill height = 30; Recess depth = 4; Substrate = concrete";
    let surveys = surveys(&[("survey.xlsx", &survey_text(row))]);
    let input = pipeline::understand(&surveys.grids, surveys.sheets, None).unwrap();
    let report = pipeline::work(&input, &Silent).unwrap();
    let doubts = sillbook::report::Doubts::of(&report);
    let told: Vec<&str> = doubts.about(0).map(|doubt| doubt.query.code).collect();
    assert!(told.contains(&"slab-unknown"), "{told:?}");
    let at = report.hanging(&doubts, 0).unwrap().cautions;
    assert!(!at.iter().any(|words| words.contains("screws go up into concrete")), "{at:?}");
    assert!(told.contains(&"capacity-unknown"), "{told:?}");
    assert!(!at.iter().any(|words| words.contains("holds here")), "the load says so: {at:?}");
}

/// Where to start, by the heights at left, middle and right, and what stands above the finished floor.
#[test]
fn work_starts_where_the_heights_say() {
    let start = |row: &str| {
        let text = survey_text(row);
        let surveys = surveys(&[("survey.xlsx", &text)]);
        let input = pipeline::understand(&surveys.grids, surveys.sheets, None).unwrap();
        let report = pipeline::work(&input, &Silent).unwrap();
        report.start(0).unwrap_or_else(|| panic!("held: {row}")).words(report.rules.project.units)
    };
    let level = "measure up, then level across";
    for (row, words) in [
        // The floor is highest where the height is least; the blind is sized for that.
        (
            "Kind = door; Height left = 80 1/4; Height right = 80",
            "highest point of the floor (right, if the head is level): LEVEL; gap to floor: left 3/4 in, right 1/2 in",
        ),
        (
            "Kind = door; Height left = 80; Height middle = 80 1/8; Height right = 80 3/8",
            "highest point of the floor (left, if the head is level): LEVEL; gap to floor: left 1/2 in, middle 5/8 in, right 7/8 in",
        ),
        (
            "Kind = door; Height left = 80; Height middle = 80; Height right = 80 3/8",
            "highest point of the floor (left and middle, if the head is level): LEVEL; gap to floor: left 1/2 in, middle 1/2 in, right 7/8 in",
        ),
        (
            "Kind = door; Height left = 80; Height right = 80",
            "highest point of the floor: LEVEL; gap to floor: left 1/2 in, right 1/2 in",
        ),
        // One place says nothing of the other, nor does a height of all of it, or one from a threshold.
        ("Kind = door; Height = 80", "highest point of the floor: LEVEL"),
        ("Kind = door; Height left = 80", "highest point of the floor: LEVEL"),
        (
            "Kind = door; Height left = 80 1/4; Height right = 80; Sill height = 1",
            "highest point of the floor: LEVEL",
        ),
        (
            "Kind = door; Height left = 80 1/4; Height right = 80; Sizes given are = finished",
            "highest point of the floor: LEVEL",
        ),
        (
            "Kind = window; Sill height = 30; Height left = 48; Height right = 48 1/4",
            "right, where the opening height is greatest (48 1/4 in); then level across",
        ),
        (
            "Kind = window; Sill height = 30; Height left = 48 1/4; Height middle = 48; Height right = 48 1/4",
            "left and right, where the opening height is greatest (48 1/4 in); then level across",
        ),
        (
            "Kind = window; Sill height = 30; Height left = 48; Height right = 48",
            "where the opening height is greatest; then level across",
        ),
        (
            "Kind = window; Sill height = 30; Height = 48",
            "where the opening height is greatest; then level across",
        ),
    ] {
        let outside = format!("Mount = outside; Width = 36; {row}");
        assert_eq!(start(&outside), words.replace("LEVEL", level), "{row}");
    }
    let inside = "Mount = inside; Recess depth = 4; Width = 36; Sill height = 30; Height left = 48; Height right = 48 1/4";
    assert_eq!(start(inside), "lowest point of the head; pack the other brackets level");
}

#[test]
fn heights_stand_above_the_floor_to_come_as_well() {
    let heights = |row: &str| {
        let document = document(&survey_text(row));
        let opening = &document["openings"][0];
        [
            "/brackets/top_above_floor_mm",
            "/gap_below_mm",
            "/brackets/top_above_finished_floor_mm",
            "/gap_below_finished_mm",
        ]
        .map(|key| opening.pointer(key).unwrap().as_f64())
    };
    let of = "Units = mm; Kind = window; Width = 900; Height = 1200; Sill height = 800";
    let [top, gap, finished_top, finished_gap] = heights(&format!("{of}; Floor to come = 15"));
    assert_eq!(finished_top, top.map(|top| top - 15.0));
    assert_eq!(finished_gap, gap.map(|gap| gap - 15.0));
    // None is to come, or nobody says how thick it will be.
    for floor in ["", "; Floor to come = 0", "; Floor surface = unfinished"] {
        assert_eq!(heights(&format!("{of}{floor}"))[2..], [None, None], "{floor}");
    }
    let at = |row: &str| {
        let surveys = surveys(&[("survey.xlsx", &survey_text(row))]);
        let input = pipeline::understand(&surveys.grids, surveys.sheets, None).unwrap();
        pipeline::work(&input, &Silent).unwrap().above_finished_floor(0)
    };
    assert!(at(of).is_none());
    assert!(
        at(&format!("{of}; Floor surface = unfinished")).is_some_and(|floor| floor.bracket_top.is_none())
    );
}
