//! Sizes that fit the opening, and what follows from them: brackets and louvers.

use serde_json::{Value, json};
use sillbook::length::Length;
use sillbook::rules::{Jurisdiction, SizesGiven};
use sillbook::survey::{Given, Measured};

use super::check::{Check, add, drop_last, first, opening};
use super::document::{Hung, Run, count, each_nm, known_nm, rows, text};

pub const CHECKS: &[Check] = &[
    Check {
        name: "an inside blind is never wider than its narrowest measurement less both clearances",
        faults: inside_fits,
        plants: &[
            ("a blind wider by an inch", |document| {
                add(&mut opening(document, "mount", "inside")["width_mm"], 25.4);
            }),
            ("a blind longer than the recess", |document| {
                add(&mut opening(document, "mount", "inside")["drop_mm"], 50.8);
            }),
        ],
    },
    Check {
        name: "an outside blind laps over by the least, or a query says so, and never passes the free wall",
        faults: outside_covers,
        plants: &[
            ("a gap that nobody is told of", |document| {
                outside(document)["overlap_left_mm"] = json!(-10);
            }),
            ("a rail past the free wall", |document| {
                let row = outside(document);
                add(&mut row["overlap_right_mm"], 2000.0);
                add(&mut row["width_mm"], 2000.0);
            }),
            ("overlaps that are not what the width leaves", |document| {
                add(&mut outside(document)["overlap_right_mm"], 0.000001);
            }),
            ("a bracket past the wall above", |document| {
                add(&mut outside(document)["brackets"]["top_above_head_mm"], 2000.0);
            }),
            ("the query taken away", |document| {
                let queries = document["queries"].as_array_mut().unwrap();
                queries.retain(|query| !text(&query["message"]).contains("the overlap on the"));
            }),
        ],
    },
    Check {
        name: "brackets stand within the rail, evenly, alike from both ends, and near enough",
        faults: brackets_are_even,
        plants: &[
            ("a bracket moved by two nanometers", |document| {
                add(&mut many_brackets(document)["brackets"]["from_left_mm"][1], 0.000002);
            }),
            ("a bracket past the rail's end", |document| {
                add(&mut many_brackets(document)["brackets"]["from_left_mm"][2], 5000.0);
            }),
            ("a bracket not listed", |document| {
                drop_last(&mut many_brackets(document)["brackets"]["from_left_mm"]);
            }),
            ("a bracket too few", |document| {
                let brackets = &mut many_brackets(document)["brackets"];
                let width = each_nm(&brackets["from_left_mm"]);
                let ends = [width[0] as f64 / 1e6, width[width.len() - 1] as f64 / 1e6];
                brackets["from_left_mm"] = json!(ends);
                brackets["count"] = json!(2);
            }),
            ("brackets measured from the wrong edge", |document| {
                add(&mut many_brackets(document)["brackets"]["from_opening_left_mm"][0], 1.0);
            }),
            ("a screw too few", |document| {
                add(&mut many_brackets(document)["fixings"]["count"], -1.0);
            }),
        ],
    },
    Check {
        name: "the louvers cover the width, none too many, and hang as long as the drop allows",
        faults: louvers_cover,
        plants: &[
            ("a louver too few", |document| add(&mut many_brackets(document)["louvers"]["count"], -1.0)),
            ("two louvers too many", |document| add(&mut many_brackets(document)["louvers"]["count"], 2.0)),
            ("a longer louver", |document| add(&mut many_brackets(document)["louvers"]["length_mm"], 3.0)),
            ("an odd split", |document| {
                let split = first(document, "/openings", |row| row["draw"] == "split");
                add(&mut split["louvers"]["count"], 1.0);
            }),
        ],
    },
    Check {
        name: "no fixing works over what it holds, or of unknown hold, without a query that says so",
        faults: fixings_hold,
        plants: &[
            ("a use over 1", |document| {
                outside(document)["fixings"]["pulled"] = json!(1.01);
            }),
            ("a use that is not the worse of both", |document| {
                outside(document)["fixings"]["use"] = json!(0.0001);
            }),
            ("a hold that nobody knows", |document| {
                let fixings = &mut outside(document)["fixings"];
                for key in ["use", "hung", "pulled"] {
                    fixings[key] = Value::Null;
                }
            }),
        ],
    },
    Check {
        name: "the screws of a wall bracket and its foot are off the opening, and on the wall or on the casing",
        faults: screws_have_ground,
        plants: &[
            ("a bracket whose foot hangs over the opening", |document| {
                outside(document)["brackets"]["top_above_head_mm"] = json!(60);
            }),
            ("a bracket on the wall that is on a casing", |document| {
                outside(document)["mount_on"] = json!("casing");
            }),
        ],
    },
    Check {
        name: "a wand ends above its blind's own bottom, or a query says so",
        faults: wands_end_above,
        plants: &[
            ("a wand longer than its blind", |document| {
                let row = first(document, "/openings", |row| row["wand_mm"].is_number());
                row["wand_mm"] = row["drop_mm"].clone();
            }),
            ("a wand that ends 2 in above the bottom", |document| {
                let row = first(document, "/openings", |row| row["wand_mm"].is_number());
                row["wand_mm"] = json!(row["drop_mm"].as_f64().unwrap() - 50.8);
            }),
            ("a motor with a wand", |document| {
                first(document, "/openings", |row| row["wand_mm"].is_number())["control"] = json!("motor");
            }),
        ],
    },
    Check {
        name: "a cord hangs from a known device at a known height, if any rule is known, and a query warns of it",
        faults: cords_are_held,
        plants: &[("a cord that nobody asked about", |document| {
            first(document, "/openings", |row| row["state"] == "sized")["control"] = json!("cord");
        })],
    },
];

/// An outside blind.
fn outside(document: &mut Value) -> &mut Value {
    opening(document, "mount", "outside")
}

/// A blind with a bracket between its end ones.
fn many_brackets(document: &mut Value) -> &mut Value {
    first(document, "/openings", |row| {
        let from_opening = &row["brackets"]["from_opening_left_mm"];
        from_opening.is_array() && rows(from_opening).len() > 2
    })
}

fn fixings_hold(run: &Run<'_>) -> Vec<String> {
    let mut faults = Vec::new();
    for hung in run.hung() {
        let fixings = &hung.row["fixings"];
        let share = |key: &str| fixings[key].as_f64();
        let asked = |words: &[&str]| words.iter().any(|words| run.is_asked(hung.name(), words));
        match (share("hung"), share("pulled"), share("use")) {
            (Some(hanging), Some(pulled), Some(worse)) => {
                if (hanging.max(pulled) - worse).abs() > 1e-9 {
                    faults.push(hung.fault(format!("a use of {worse}, of {hanging} and {pulled}")));
                }
                if worse > 1.0 && !asked(&["does not hold this blind", "but not a pull on it"]) {
                    faults.push(hung.fault(format!("a use of {worse}")));
                }
            }
            (None, None, None) => {
                let unknown = [
                    "nothing says what a",
                    "substrate is unknown",
                    "no fixing is listed",
                    "every listed fixing is too short",
                    "it may only be nailed",
                ];
                if !asked(&unknown) {
                    faults.push(hung.fault("nobody knows whether it holds"));
                }
            }
            all => faults.push(hung.fault(format!("uses known in part: {all:?}"))),
        }
    }
    faults
}

fn screws_have_ground(run: &Run<'_>) -> Vec<String> {
    let mut faults = Vec::new();
    for hung in measured_openings(run, "outside") {
        let cover = hung.cover;
        let top = known_nm(&hung.row["brackets"]["top_above_head_mm"]).unwrap();
        let foot = top - cover.bracket_foot.nm();
        let casing = nm(hung.facts.casing_width).unwrap_or(0);
        if foot < 0 {
            faults.push(hung.fault("its bracket's foot hangs over the opening"));
        }
        match text(&hung.row["mount_on"]) {
            "casing" if top > casing => faults.push(hung.fault("its brackets stand out over the casing")),
            "wall" if casing > 0 && foot < casing => {
                faults.push(hung.fault("its bracket's foot is on the casing"));
            }
            _ => {}
        }
    }
    faults
}

fn wands_end_above(run: &Run<'_>) -> Vec<String> {
    let mut faults = Vec::new();
    for hung in run.hung() {
        let wand = known_nm(&hung.row["wand_mm"]);
        if wand.is_some() != (hung.row["control"] == "wand") {
            faults.push(hung.fault("a wand where there is none, or none where there is one"));
        }
        let longest = hung.nm("drop_mm") - hung.louver.wand_above_bottom.nm();
        if wand.is_some_and(|wand| wand > longest) && !run.is_asked(hung.name(), "the shortest wand ends") {
            faults
                .push(hung.fault(format!("a wand of {} mm, and {longest} nm are left", hung.row["wand_mm"])));
        }
    }
    faults
}

fn cords_are_held(run: &Run<'_>) -> Vec<String> {
    let mut faults = Vec::new();
    let none_known = run.input.rules.project.jurisdiction == Some(Jurisdiction::Unregulated);
    for hung in run.hung().filter(|hung| hung.row["control"] == "cord") {
        let facts = hung.facts;
        if !run.is_asked(hung.name(), "a child can strangle in a cord") {
            faults.push(hung.fault("a cord, and nobody is warned"));
        }
        if !none_known && (facts.cord_device.is_none() || facts.cord_height.is_none() || facts.accessible) {
            faults.push(hung.fault("a cord that its rule does not allow"));
        }
    }
    faults
}

fn nm(given: Option<Given<Length>>) -> Option<i64> {
    given.map(|given| given.value.nm())
}

fn measured_openings<'a>(run: &Run<'a>, mount: &'static str) -> impl Iterator<Item = Hung<'a>> {
    let of_openings = run.input.rules.project.sizes_given == SizesGiven::Opening;
    run.hung().filter(move |hung| of_openings && hung.row["mount"] == mount)
}

fn inside_fits(run: &Run<'_>) -> Vec<String> {
    let mut faults = Vec::new();
    for hung in measured_openings(run, "inside") {
        let least = |measured: &Measured| measured.all().map(|given| given.value.nm()).min().unwrap();
        let width = least(&hung.facts.width) - 2 * hung.cover.side_clearance.nm();
        let drop = least(&hung.facts.height) - hung.cover.inside_drop_clearance.nm();
        if hung.nm("width_mm") > width {
            faults.push(hung.fault(format!("{} mm wide where {width} nm fit", hung.row["width_mm"])));
        }
        if hung.nm("drop_mm") > drop {
            faults.push(hung.fault(format!("{} mm long where {drop} nm fit", hung.row["drop_mm"])));
        }
    }
    faults
}

fn outside_covers(run: &Run<'_>) -> Vec<String> {
    let mut faults = Vec::new();
    for hung in measured_openings(run, "outside") {
        let widest = hung.facts.width.all().map(|given| given.value.nm()).max().unwrap();
        let cover = hung.cover;
        let (left, right) = (hung.nm("overlap_left_mm"), hung.nm("overlap_right_mm"));
        if left + right != hung.nm("width_mm") - widest {
            faults.push(hung.fault("its overlaps are not its width less the opening's"));
        }
        for (side, overlap, wall) in
            [("left", left, hung.facts.wall_left), ("right", right, hung.facts.wall_right)]
        {
            let words = format!("the overlap on the {side} is less than");
            if overlap < cover.overlap_least.nm() && !run.is_asked(hung.name(), &words) {
                faults.push(
                    hung.fault(format!("laps over by {overlap} nm at the {side}, and no query says so")),
                );
            }
            // The valance stands past the rail, and a hand needs room beside it.
            let room = nm(wall).map(|wall| wall - cover.valance_past_rail.nm() - cover.hand_room.nm());
            if room.is_some_and(|room| overlap > room) {
                faults.push(hung.fault(format!("laps over by {overlap} nm at the {side}, past the wall")));
            }
        }
        // The rail's top needs room above it for the bracket and to tip it into its clips.
        let top = known_nm(&hung.row["brackets"]["top_above_head_mm"])
            .map(|top| top - cover.bracket_above_rail.nm());
        let above = nm(hung.facts.wall_above).map(|wall| wall - cover.room_above.nm());
        if top.zip(above).is_some_and(|(top, above)| top > above) {
            faults.push(hung.fault("its rail is past the wall above"));
        }
    }
    faults
}

fn brackets_are_even(run: &Run<'_>) -> Vec<String> {
    let mut faults = Vec::new();
    for hung in run.hung() {
        let (row, width) = (hung.row, hung.nm("width_mm"));
        let brackets = &row["brackets"];
        let centers = each_nm(&brackets["from_left_mm"]);
        let spans: Vec<i64> = centers.windows(2).map(|pair| pair[1] - pair[0]).collect();
        let inset = hung.cover.bracket_inset.nm().min(width / 4);
        let spacing = hung.cover.bracket_spacing.nm();
        let each = u64::from(*hung.cover.fixings_per_bracket);
        // Every center is rounded by itself, so sums and spans may be off by a nanometer.
        let alike = |one: i64, other: i64| (one - other).abs() <= 1;
        let from_edge =
            brackets["from_opening_left_mm"].as_array().map(|_| each_nm(&brackets["from_opening_left_mm"]));
        // A leaning opening's corner is up to half its lean to the side of its edge at half height.
        let aside = known_nm(&row["lean_mm"]).unwrap_or(0) / 2 + 1;
        let edge_spans = from_edge.as_ref().is_none_or(|from_edge| {
            let start = -hung.nm("overlap_left_mm");
            from_edge.len() == centers.len()
                && centers.iter().zip(from_edge).all(|(rail, edge)| (rail + start - *edge).abs() <= aside)
        });
        // As few as the spacing allows stand evenly; more are there for the load.
        let fewest = ((width - 2 * inset + spacing - 1) / spacing).max(1) + 1;
        let on_studs = hung.facts.studs().is_some();
        let is_even = centers.len() as i64 == fewest && !on_studs;
        let longest = if on_studs { hung.cover.stud_span.nm() } else { spacing };
        let held = [
            ("as many centers as brackets", count(&brackets["count"]) == centers.len() as u64),
            ("two at the least", centers.len() >= 2),
            ("all within the rail", centers.iter().all(|center| (1..width).contains(center))),
            ("one after the other", centers.is_sorted_by(|left, right| left < right)),
            ("the first at its inset", on_studs || centers.first().is_some_and(|first| alike(*first, inset))),
            (
                "alike from both ends",
                !is_even || centers.iter().zip(centers.iter().rev()).all(|(a, b)| alike(a + b, width)),
            ),
            ("even", !is_even || spans.iter().all(|span| alike(*span, spans[0]))),
            (
                "no span over the spacing",
                run.is_asked(hung.name(), "the studs are so far apart")
                    || spans.iter().all(|span| *span <= longest + 1),
            ),
            ("the same from the opening's edge", edge_spans),
            ("screws for each", count(&row["fixings"]["count"]) == each * count(&brackets["count"])),
        ];
        let wrong = held.iter().filter(|(_, holds)| !holds);
        faults.extend(wrong.map(|(what, _)| hung.fault(format!("brackets {what}: no"))));
    }
    faults
}

fn louvers_cover(run: &Run<'_>) -> Vec<String> {
    let mut faults = Vec::new();
    for hung in run.hung() {
        let (row, width, louver) = (hung.row, hung.nm("width_mm"), hung.louver);
        let louvers = count(&row["louvers"]["count"]) as i64;
        let covered = |louvers: i64| (louvers - 1) * louver.pitch.nm() + louver.louver_width.nm();
        let is_split = row["draw"] == "split";
        if covered(louvers) < width {
            faults.push(hung.fault(format!("{louvers} louvers cover {} nm of {width}", covered(louvers))));
        }
        // One louver less would not cover it; of a split pair, two.
        let fewer = louvers - if is_split { 2 } else { 1 };
        if fewer >= 1 && covered(fewer) >= width {
            faults.push(hung.fault(format!("{fewer} louvers would cover {width} nm")));
        }
        if is_split && louvers % 2 != 0 {
            faults.push(hung.fault(format!("{louvers} louvers cannot part in the middle")));
        }
        let off =
            if row["mount"] == "outside" { &louver.louver_off_outside } else { &louver.louver_off_inside };
        if known_nm(&row["louvers"]["length_mm"]) != Some(hung.nm("drop_mm") - off.nm()) {
            faults.push(hung.fault("louvers are not the drop less what the rail takes"));
        }
    }
    faults
}
