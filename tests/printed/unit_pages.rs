//! The fitter's pages: every figure beside its name, in the block of its opening.

use std::collections::BTreeSet;

use rust_decimal::Decimal;
use serde_json::{Value, json};

use super::Is::{Count, Kilograms, Length as Long, Text};
use super::install_index::units;
use super::table::alike;
use super::{Figure, RUNS, Run, Shown, figure, length, mm};
use crate::support::package::{Cell, Sheet};
use sillbook::drawing::Pictures;
use sillbook::length::Units;
use sillbook::rounding::half_away;
use sillbook::rules::SizesGiven;

/// At the head of a page.
const HEAD: &[Figure] = &[
    figure("Openings", Count, "openings"),
    figure("Boxes", Count, "boxes"),
    figure("Heaviest", Kilograms, "heaviest"),
    figure("Held", Count, "held"),
    figure("Provisional", Count, "provisional"),
    figure("People", Count, "people"),
];

/// In every block.
const EITHER: &[Figure] = &[
    figure("Width", Long, "width_mm"),
    figure("Drop", Long, "drop_mm"),
    figure("Bracket top above floor", Long, "brackets.top_above_floor_mm").or("unknown"),
    figure("Bracket top above head", Long, "brackets.top_above_head_mm").or("unknown"),
    figure("Draw", Text, "draw"),
    figure("Fixing", Text, "beside.fixing"),
    figure("Louvers", Text, "beside.louvers"),
];

/// What operates the blind.
const WAND: &[Figure] =
    &[figure("Control side", Text, "control_side"), figure("Wand length", Long, "wand_mm")];
const CORD: &[Figure] =
    &[figure("Control side", Text, "control_side"), figure("Cord height", Long, "cord_height_mm")];
const MOTOR: &[Figure] =
    &[figure("Control side", Text, "control_side").or("unknown"), figure("Control", Text, "control")];
/// At an opening that must serve for escape.
const ESCAPE: Figure = figure("Escape", Text, "beside.escape");

/// Sentences over the width of a block.
const ACROSS: [Figure; 3] = [
    figure("Start at", Text, "beside.start"),
    figure("Valance", Text, "beside.valance"),
    figure("Load", Text, "beside.load"),
];
/// Where a floor is still to come.
const FINISHED: &[Figure] = &[
    figure("Top above finished floor", Long, "brackets.top_above_finished_floor_mm").or("unknown"),
    figure("Gap to finished floor", Long, "gap_below_finished_mm").or("unknown"),
];
const FINISHED_CORD: Figure = figure("Cord", Text, "beside.cord");

/// In a block of either mount besides. A blind in its recess has gaps at its ends, which are no
/// overlaps.
const OUTSIDE: &[Figure] = &[
    figure("Reach to louver center", Long, "brackets.reach_mm"),
    figure("Overlap left", Long, "overlap_left_mm").or("unknown"),
    figure("Overlap right", Long, "overlap_right_mm").or("unknown"),
];
const CEILING: &[Figure] = &[
    figure("Setback to rail's center", Long, "brackets.setback_mm"),
    figure("Overlap left", Long, "overlap_left_mm").or("unknown"),
    figure("Overlap right", Long, "overlap_right_mm").or("unknown"),
];
const INSIDE: &[Figure] = &[
    figure("Setback to rail's center", Long, "brackets.setback_mm").or("measure"),
    figure("End gaps", Long, "beside.rail_in").or("unknown"),
    figure("Past wall by", Long, "beside.stands_proud").or("unknown"),
];
/// Where the rail begins, by whether that is within the opening.
const RAIL_IN: Figure = figure("Rail inside left edge by", Long, "beside.rail_in").or("unknown");
const RAIL_PAST: Figure = figure("Rail past left edge by", Long, "beside.rail_past");

/// What is under the blind: the sill of a window that it hangs in, else the floor.
const TO_SILL: Figure = figure("Gap to sill", Long, "beside.gap_to_sill").or("unknown");
const TO_FLOOR: Figure = figure("Gap to floor", Long, "beside.gap_below").or("unknown");

/// Rows of bracket centers: from where, and their key.
const CENTERS: [(&str, &str); 2] =
    [("from opening's left edge", "from_opening_left_mm"), ("from rail's left end", "from_left_mm")];
/// Columns in which centers stand.
const CENTERS_AT: std::ops::Range<u32> = 3..7;

/// A sheet's cells of one block, from its name down to its boxes.
struct Block<'r> {
    sheet: &'r Sheet,
    /// Its name's cell.
    at: (u32, u32),
    /// The row of its boxes, or the last that it may have.
    end: u32,
}

impl<'r> Block<'r> {
    fn cells(&self) -> impl Iterator<Item = ((u32, u32), &'r Cell)> {
        let columns = self.at.1..self.at.1 + 7;
        let cells = self.sheet.cells.range(self.at..(self.end + 1, 0));
        cells
            .filter(move |(at, cell)| columns.contains(&at.1) && !cell.text.is_empty())
            .map(|(at, cell)| (*at, cell))
    }

    /// The cell beside a name: the next but those that the name is spread over.
    fn beside(&self, (row, column): (u32, u32)) -> (u32, u32) {
        (row, self.sheet.merged.get(&(row, column)).copied().unwrap_or(column) + 1)
    }
}

/// An opening of the document, and beside it what that does not hold.
fn row(run: &Run, place: usize) -> Value {
    let mut row = run.list("openings")[place].clone();
    let Some(blind) = run.report.blinds[place].as_ref() else { return row };
    let brackets = &row["brackets"];
    let first = |key: &str| brackets[key][0].as_f64().map(|_| length(&brackets[key][0]));
    let rail = first("from_opening_left_mm").zip(first("from_left_mm")).map(|(opening, rail)| opening - rail);
    let louvers = &row["louvers"];
    let louver = length(&louvers["length_mm"]).on_tape(run.units());
    row["beside"] = json!({
        "gap_below": blind.fitted.gap_below.map(mm),
        "gap_to_sill": gap_to_sill(run, place, &row),
        "stands_proud": blind.sizing.hung.in_recess().map(|rail| mm(rail.stands_proud)),
        "rail_in": rail.map(mm),
        "rail_past": rail.map(|rail| mm(rail.abs())),
        "fixing": fixing(run, &row),
        "load": load(run, place, &row),
        "start": format!("Start at: {}", start(run, &row)),
        "to_come": to_come(run, place),
        "cord": row["cord_height_finished_mm"].as_f64().map(|_| {
            format!("{} above the finished floor", length(&row["cord_height_finished_mm"]).show(run.units()))
        }),
        "escape": escape(run, &row),
        "louvers": format!(
            "{}, each {louver}; clear when open {}",
            louvers["count"],
            row["clear_open_mm"].as_f64().map_or("unknown".to_owned(), |_| length(&row["clear_open_mm"]).on_tape(run.units()))
        ),
        "valance": valance(run, place, &row),
    });
    row
}

/// `Valance: front 79 1/2 in; returns 5 1/8 in left and right; clips 2 in, 31 in from rail's left end`.
fn valance(run: &Run, place: usize, row: &Value) -> String {
    let shown = |value: &Value| length(value).on_tape(run.units());
    let present = |key: &str| row[key].as_f64().filter(|length| *length > 0.0).map(|_| shown(&row[key]));
    let returns = match (present("return_left_mm"), present("return_right_mm")) {
        (None, None) => "no returns".to_owned(),
        (Some(left), Some(right)) if left == right => format!("returns {left} left and right"),
        (Some(left), Some(right)) => format!("returns {left} left, {right} right"),
        (Some(left), None) => format!("return {left} left only"),
        (None, Some(right)) => format!("return {right} right only"),
    };
    let clips = &run.report.blinds[place].as_ref().unwrap().fitted.clips;
    let clips: Vec<String> = clips.iter().map(|clip| clip.on_tape(run.units())).collect();
    format!(
        "Valance: front {}; {returns}; clips {} from rail's left end",
        shown(&row["valance_mm"]),
        clips.join(", ")
    )
}

/// What an inside blind leaves of the height that it was sized for: its head is that far above the sill.
fn gap_to_sill(run: &Run, place: usize, row: &Value) -> Option<Value> {
    let facts = run.report.survey.openings[place].facts.as_ref().unwrap();
    let is_known = row["mount"] == "inside" && run.report.rules.project.sizes_given == SizesGiven::Opening;
    is_known.then(|| mm(facts.height.least().value - length(&row["drop_mm"])))
}

/// What is clear, and the 20 in that IRC R310 asks for.
fn escape(run: &Run, row: &Value) -> Option<String> {
    row["escape_clear_mm"].as_f64()?;
    let [clear, least] = [length(&row["escape_clear_mm"]), sillbook::length::Length::inches(20)]
        .map(|width| width.show(run.units()));
    Some(format!("{clear} clear, {least} needed; it opens by hand, without key or tool"))
}

/// Whether a floor is still to come: the survey says how thick it is, or that it is not finished.
fn to_come(run: &Run, place: usize) -> bool {
    let facts = run.report.survey.openings[place].facts.as_ref().unwrap();
    match facts.floor_to_come {
        Some(thickness) => thickness.value.nm() > 0,
        None => facts.floor.is_some_and(|floor| floor.value.word() == "unfinished"),
    }
}

fn start(run: &Run, row: &Value) -> String {
    let start = &row["start"];
    let at: Vec<&str> = start["at"].as_array().unwrap().iter().map(|spot| spot.as_str().unwrap()).collect();
    let at = at.join(" and ");
    let shown = |key: &str| length(&row[key]).show(run.units());
    match (start["from"].as_str().unwrap(), at.is_empty()) {
        ("head", _) => "lowest point of the head; pack the other brackets level".to_owned(),
        ("ceiling", _) => "lowest point of the ceiling; pack the other brackets level".to_owned(),
        ("opening height", true) => "where the opening height is greatest; then level across".to_owned(),
        ("opening height", false) => {
            let most = shown("opening_height_most_mm");
            format!("{at}, where the opening height is greatest ({most}); then level across")
        }
        ("floor", level) => {
            let there = if level { String::new() } else { format!(" ({at}, if the head is level)") };
            let gaps = ["left", "middle", "right"].into_iter().filter_map(|spot| {
                let gap = &start[format!("gap_{spot}_mm")];
                gap.as_f64().map(|_| format!("{spot} {}", length(gap).show(run.units())))
            });
            let gaps: Vec<String> = gaps.collect();
            let gaps =
                if gaps.is_empty() { String::new() } else { format!("; gap to floor: {}", gaps.join(", ")) };
            format!("highest point of the floor{there}: measure up, then level across{gaps}")
        }
        (other, _) => panic!("{other}"),
    }
}

/// `8 pcs. wood screw 8 x 1 1/2 into wood, hole 3/32 in; 4 pcs. bracket 3 in`.
fn fixing(run: &Run, row: &Value) -> String {
    let text = |value: &Value| value.as_str().unwrap().to_owned();
    let fixings = &row["fixings"];
    // A packer a bracket that is screwed up.
    let up = row["mount"] != "outside";
    let packers = if up { format!("; {} packers", row["brackets"]["count"]) } else { String::new() };
    let brackets = format!("{} pcs. {}{packers}", row["brackets"]["count"], text(&row["brackets"]["item"]));
    if fixings["item"].is_null() {
        let count = &fixings["count"];
        return format!(
            "not chosen: find out what the wall is made of before drilling; {count} needed for {brackets}"
        );
    }
    let others = fixings["also_count"].as_u64().unwrap();
    let one = |item: &Value, count: u64, hole: &Value| {
        let fixing = run.report.rules.fixings.iter().find(|fixing| *fixing.item == *item.as_str().unwrap());
        let hole = match hole.as_f64() {
            Some(_) => format!("hole {}", length(hole).on_tape(run.units())),
            None => "hole size: see its pack".to_owned(),
        };
        format!("{count} pcs. {} into {}, {hole}", text(item), fixing.unwrap().substrate)
    };
    let also = match &fixings["also"] {
        Value::Null => String::new(),
        also => format!("{} where no stud is; ", one(also, others, &fixings["also_hole_mm"])),
    };
    let most = fixings["count"].as_u64().unwrap() - others;
    format!("{}; {also}{brackets}", one(&fixings["item"], most, &fixings["hole_mm"]))
}

/// Weight, load, pull and capacity, to a tenth of pounds or of kilograms and newtons. They are worked
/// from what they were before the document rounded them, and the document's are theirs.
fn load(run: &Run, place: usize, row: &Value) -> String {
    let exact = |text: &str| text.parse::<Decimal>().unwrap();
    let (mass, force) = match run.units() {
        Units::Inches => (("lb", exact("0.45359237")), ("lbf", exact("4.4482216152605"))),
        Units::Millimeters => (("kg", Decimal::ONE), ("N", Decimal::ONE)),
    };
    let tenths = |value: Decimal| half_away(value, 1).normalize();
    let fitted = &run.report.blinds[place].as_ref().unwrap().fitted;
    let fixings = &row["fixings"];
    let weight = format!("Load: blind {} {}", tenths(fitted.weight / mass.1), mass.0);
    if fixings["reaction_n"].is_null() {
        return format!("{weight}; not known what the screws hold, as none is chosen");
    }
    let working = fitted.fixings.working.unwrap();
    let same = |key: &str, value: Decimal, decimals| {
        assert_eq!(
            exact(&fixings[key].to_string()).normalize(),
            half_away(value, decimals).normalize(),
            "{key}"
        );
        value
    };
    let newtons = |key: &str, value: Decimal| tenths(same(key, value, 3) / force.1);
    let percent = |key: &str, value: Decimal| tenths(same(key, value, 4) * Decimal::ONE_HUNDRED);
    let screw = if row["brackets"]["reach_mm"].is_null() { "screw" } else { "top screw" };
    let of = if fixings["also"].is_null() {
        String::new()
    } else {
        format!(" ({})", fixings["of"].as_str().unwrap())
    };
    let unit = force.0;
    let borne =
        format!("{weight}, worst bracket {} {unit}; {screw}{of}", newtons("reaction_n", working.reaction));
    let (hangs, pulled) = (newtons("pull_n", working.pull), newtons("pulled_n", working.pulled_pull));
    let Some([sustained, at_once]) = working.holds else {
        assert!(fixings["capacity_n"].is_null());
        let needed = newtons("needed_n", working.pull.max(working.pulled_pull));
        return format!(
            "{borne}: hanging {hangs} {unit}, pulled {pulled} {unit}; what it holds here is not known: {needed} {unit} needed"
        );
    };
    format!(
        "{borne}: hanging {hangs} of {} {unit} ({} %), pulled {pulled} of {} {unit} ({} %); {}",
        newtons("capacity_n", sustained),
        percent("hung", working.pull / sustained),
        newtons("capacity_pulled_n", at_once),
        percent("pulled", working.pulled_pull / at_once),
        fixings["capacity_source"].as_str().unwrap()
    )
}

/// `2 of 4: D1, Lounge x 2 - outside mount - order line 3 - seen from inside the room - PROVISIONAL`.
fn band(run: &Run, row: &Value, (number, of): (usize, usize)) -> String {
    let text = |key: &str| row[key].as_str().unwrap();
    let room = if text("room").is_empty() { String::new() } else { format!(", {}", text("room")) };
    let several = if row["quantity"] == 1 { String::new() } else { format!(" x {}", row["quantity"]) };
    let name = format!("{number} of {of}: {}{room}{several}", text("name"));
    if row["state"] == "held" {
        return format!("{name} - HELD");
    }
    let is_of = |line: &&Value| line["openings"].as_array().unwrap().contains(&row["name"]);
    let line = &run.list("order").iter().find(is_of).unwrap()["line"];
    let provisional = if row["state"] == "provisional" { " - PROVISIONAL" } else { "" };
    format!("{name} - {} mount - order line {line} - seen from inside the room{provisional}", text("mount"))
}

/// The unit's pages, in order: a sheet for each, between the index and the cost.
fn pages(run: &Run) -> Vec<(Value, &Sheet)> {
    let order = &run.package.order;
    let after = order.iter().position(|name| name == "Install index").unwrap() + 1;
    let units = units(run);
    let sheets = order[after..after + units.len()].iter().map(|name| &run.package.sheets[name]);
    units.into_iter().zip(sheets).collect()
}

/// What a page shows beside a name in the rows above its openings.
fn check_head(run: &Run, unit: &Value, sheet: &Sheet, seen: &mut Seen) {
    let title = unit["title"].as_str().unwrap();
    let title = if unit["name"] == "" { title.to_owned() } else { format!("Unit {title}") };
    assert_eq!(sheet.cells[&(0, 0)].text, title, "{}", run.name);
    for (place, figure) in HEAD.iter().enumerate() {
        let at = (1 + place as u32 / 3, 1 + place as u32 % 3 * 2);
        let name = figure.heading(run.units()).replace(" (", ", ").replace(')', "");
        assert_eq!(sheet.cells[&at].text, name, "{}, {title}", run.name);
        seen.hold(run, *figure, unit, sheet.cells.get(&(at.0, at.1 + 1)), &title);
    }
    let unit_of_sizes = if run.units() == Units::Inches { "inches" } else { "millimeters" };
    let says = format!("Sizes in {unit_of_sizes}.");
    assert!(sheet.cells.values().any(|cell| cell.text.ends_with(&says)), "{}, {title}: no {says}", run.name);
    let tools = figure("Tools and bits", Text, "tools");
    let cell = sheet.cells.values().find(|cell| cell.text.starts_with("Tools and bits: "));
    seen.hold(run, tools, &json!({ "tools": self::tools(run, unit) }), cell, &title);
}

/// What is drilled, of what is brought alone, is drilled with these.
fn tools(run: &Run, unit: &Value) -> String {
    let mut tools =
        vec!["tape, level, pencil, step ladder, cable and pipe detector, drill and driver".to_owned()];
    let rows = || unit["rows"].as_array().unwrap().iter();
    let place =
        |row: &Value| run.list("openings").iter().position(|other| other["name"] == row["name"]).unwrap();
    let walls = rows().filter_map(|row| run.report.survey.openings[place(row)].facts.as_ref()?.substrate);
    if walls.map(|wall| wall.value.word()).any(|wall| wall == "masonry" || wall == "concrete") {
        tools.push("hammer drill with dust shroud and vacuum".to_owned());
    }
    let fixings =
        rows().filter(|row| row["state"] == "sized").filter_map(|row| row["fixings"]["item"].as_str());
    let rules = &run.report.rules.fixings;
    let others =
        rows().filter(|row| row["state"] == "sized").filter_map(|row| row["fixings"]["also"].as_str());
    let all: Vec<_> = fixings
        .chain(others)
        .map(|item| rules.iter().find(|fixing| *fixing.item == *item).unwrap())
        .collect();
    let drills: BTreeSet<_> =
        all.iter().filter_map(|fixing| Some((fixing.pilot?, fixing.substrate))).collect();
    tools.extend(drills.iter().map(|(hole, into)| format!("{} bit for {into}", hole.on_tape(run.units()))));
    let drivers: BTreeSet<_> =
        all.iter().filter_map(|fixing| Some((fixing.driver.as_deref()?, fixing.substrate))).collect();
    tools.extend(drivers.iter().map(|(head, into)| format!("{head} driver bit for {into}")));
    format!("Tools and bits: {}.", tools.join(", "))
}

/// A page's cautions, each with its source, in the order of the document, and what stands below them.
fn check_cautions(run: &Run, place: usize, sheet: &Sheet) {
    let unit = &run.list("units")[place];
    let row_of = |is: &dyn Fn(&str) -> bool, from: u32| {
        sheet.cells.range((from, 0)..).find(|(_, cell)| is(&cell.text)).map(|(at, _)| at.0)
    };
    let found = sheet.cells.iter().find(|(_, cell)| cell.text == "Before you drill");
    let Some((&(top, column), _)) = found else {
        assert!(unit["cautions"].as_array().unwrap().is_empty(), "{}: {}", run.name, unit["unit"]);
        return;
    };
    let caution = |caution: &Value| {
        let [words, source] = ["words", "source"].map(|key| caution[key].as_str().unwrap());
        if source == "common practice, no source" { words.to_owned() } else { format!("{words} ({source})") }
    };
    let mut wanted: Vec<String> = unit["cautions"].as_array().unwrap().iter().map(caution).collect();
    wanted.push(sillbook::report::CODES_AND_TRADES.to_owned());
    // Beside the blocks they stand in one cell, below them each in its own.
    let shown: Vec<&str> = if column > 0 {
        let below = sheet.cells.range((top + 1, 0)..).find(|(at, _)| at.1 == column).unwrap().1;
        below.text.split('\n').collect()
    } else {
        let is_after = |text: &str| text.starts_with("Order of work") || text.ends_with(", continued");
        let end = row_of(&is_after, top).unwrap();
        let texts = sheet.cells.range((top + 1, 0)..(end, 0)).map(|(_, cell)| &*cell.text);
        texts.filter(|text| !text.is_empty()).collect()
    };
    assert_eq!(shown, wanted, "{}, {}", run.name, unit["unit"]);
}

/// Every figure and what the rows said of it, row by row.
#[derive(Default)]
struct Seen {
    figures: Vec<Figure>,
    shown: Vec<Vec<Shown>>,
    /// What was not so.
    wrong: Vec<String>,
    /// So many blocks were looked at.
    blocks: usize,
}

impl Seen {
    fn hold(&mut self, run: &Run, figure: Figure, row: &Value, cell: Option<&Cell>, who: &str) {
        let wanted = figure.of(row, run.units());
        let found = cell.map(|cell| &cell.text);
        if !wanted.is_in(cell) {
            self.wrong.push(format!("{}, {who}, {}: {found:?} for {wanted:?}", run.name, figure.name));
        }
        let place = self.figures.iter().position(|seen| seen.name == figure.name).unwrap_or_else(|| {
            self.figures.push(figure);
            self.shown.push(Vec::new());
            self.figures.len() - 1
        });
        self.shown[place].resize(self.blocks, Shown::Blank);
        self.shown[place].push(wanted);
    }
}

/// The figures that the block of such a row shows.
fn figures_of(row: &Value) -> Vec<Figure> {
    let of_mount = match row["mount"].as_str() {
        Some("inside") => INSIDE,
        Some("ceiling") => CEILING,
        _ => OUTSIDE,
    };
    let rail =
        if row["beside"]["rail_in"].as_f64().is_some_and(|rail| rail < 0.0) { RAIL_PAST } else { RAIL_IN };
    let below = if row["mount"] == "inside" && row["kind"] == "window" { TO_SILL } else { TO_FLOOR };
    let operated = match row["control"].as_str().unwrap() {
        "cord" => CORD,
        "motor" => MOTOR,
        _ => WAND,
    };
    let escape = row["escape_clear_mm"].as_f64().map(|_| ESCAPE);
    let finished = if row["beside"]["to_come"] == true { FINISHED } else { &[] };
    let cord = row["beside"]["cord"].as_str().map(|_| FINISHED_CORD);
    let all = EITHER.iter().chain(of_mount).chain(operated).chain(finished).copied();
    all.chain([rail, below]).chain(escape).chain(cord).collect()
}

fn check_block(run: &Run, place: usize, block: &Block<'_>, seen: &mut Seen) {
    let row = row(run, place);
    let name = row["name"].as_str().unwrap();
    if row["state"] == "held" {
        let words = &block.sheet.cells[&(block.at.0 + 1, block.at.1)].text;
        assert!(words.starts_with("Reason held: "), "{}, {name}: {words}", run.name);
        return;
    }
    let mut left = figures_of(&row);
    let mut explained = BTreeSet::from([block.at]);
    let mut across = Vec::from(ACROSS);
    for (at, cell) in block.cells() {
        if explained.contains(&at) {
            continue;
        }
        let beside = block.beside(at);
        if let Some(place) = left.iter().position(|figure| figure.name == cell.text) {
            seen.hold(run, left.remove(place), &row, block.sheet.cells.get(&beside), name);
            explained.extend([at, beside]);
        } else if cell.text == "Bracket centers" {
            explained.extend(centers(run, &row, block, at));
        } else if let Some(place) =
            across.iter().position(|figure| cell.text.starts_with(&format!("{}: ", figure.name)))
        {
            seen.hold(run, across.remove(place), &row, Some(cell), name);
        } else {
            // What is spread over the whole block is a sentence.
            let begins = ["Caution: ", "Note: ", "Measured before drilling: ", "Fitted", "Defects", "Signed"];
            let is_known = begins.iter().any(|begin| cell.text.starts_with(begin));
            assert!(is_known, "{}, {name}: {at:?} shows {:?}", run.name, cell.text);
        }
    }
    let left: Vec<&str> = left.iter().chain(&across).map(|figure| figure.name).collect();
    assert!(left.is_empty(), "{}, {name}: no {left:?}", run.name);
    seen.blocks += 1;
}

/// Rows of bracket centers under their numbers; gives the cells that they take.
fn centers(run: &Run, row: &Value, block: &Block<'_>, (top, column): (u32, u32)) -> Vec<(u32, u32)> {
    let cells = &block.sheet.cells;
    let first: usize = cells[&(top, column + 2)].text.parse().unwrap();
    let mut taken = vec![(top, column)];
    let mut line = top;
    for (name, key) in CENTERS {
        let Some(all) = row["brackets"][key].as_array() else { continue };
        line += 1;
        assert_eq!(cells[&(line, column)].text, name, "{}, {}", run.name, row["name"]);
        taken.push((line, column));
        let mut wanted = all.iter().skip(first - 1);
        for (place, at) in CENTERS_AT.map(|at| block.at.1 + at).enumerate() {
            let center = wanted.next();
            let number = center.map_or(Shown::Blank, |_| Shown::Text((first + place).to_string()));
            let center = figure("", Long, "center").of(&json!({ "center": center }), run.units());
            for (wanted, at) in [(number, (top, at)), (center, (line, at))] {
                let cell = cells.get(&at);
                assert!(
                    wanted.is_in(cell),
                    "{}, {}, bracket {}: {:?} {name}",
                    run.name,
                    row["name"],
                    first + place,
                    cell.map(|cell| &cell.text)
                );
                taken.push(at);
            }
        }
    }
    taken
}

#[test]
fn every_figure_of_a_fitters_page_stands_beside_its_name() {
    let (mut heads, mut blocks) = (Seen::default(), Seen::default());
    for run in RUNS.iter() {
        for (place, (unit, sheet)) in pages(run).into_iter().enumerate() {
            check_head(run, &unit, sheet, &mut heads);
            check_cautions(run, place, sheet);
            heads.blocks += 1;
            let rows = unit["rows"].as_array().unwrap();
            for (number, row) in rows.iter().enumerate() {
                let place =
                    run.list("openings").iter().position(|other| other["name"] == row["name"]).unwrap();
                let band = band(run, row, (number + 1, rows.len()));
                let found = sheet.cells.iter().find(|(_, cell)| cell.text == band);
                let at = *found.unwrap_or_else(|| panic!("{}: no {band:?}", run.name)).0;
                let boxes = sheet.cells.range(at..).find(|(found, cell)| {
                    found.1 == at.1 && cell.text.starts_with("Measured before drilling: ")
                });
                let end = boxes.map_or(at.0 + 1, |(found, _)| found.0);
                check_block(run, place, &Block { sheet, at, end }, &mut blocks);
            }
        }
    }
    let each = [EITHER, OUTSIDE, INSIDE, WAND, CORD, MOTOR, FINISHED].into_iter().flatten();
    let all = each.chain([&ESCAPE, &FINISHED_CORD, &RAIL_IN, &RAIL_PAST, &TO_SILL, &TO_FLOOR]);
    let unseen: Vec<&str> = all
        .map(|figure| figure.name)
        .filter(|name| blocks.figures.iter().all(|seen| seen.name != *name))
        .collect();
    assert!(unseen.is_empty(), "no page shows {unseen:?}");
    let wrong = [&*heads.wrong, &*blocks.wrong].concat();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    // Each of these is one number, printed twice.
    let twice = vec![("Rail inside left edge by", "End gaps")];
    for (seen, may_be_alike) in [(heads, vec![]), (blocks, twice)] {
        let blocks = seen.blocks;
        let mut shown = seen.shown;
        shown.iter_mut().for_each(|shown| shown.resize(blocks, Shown::Blank));
        assert_eq!(alike(&seen.figures, &shown), may_be_alike, "could change places unseen");
    }
}

#[test]
fn each_block_has_the_drawing_of_its_opening() {
    for run in RUNS.iter() {
        let pictures = Pictures::of(run.report).unwrap();
        for (unit, sheet) in pages(run) {
            let mut hung = sheet.pictures.iter();
            for row in unit["rows"].as_array().unwrap() {
                let place =
                    run.list("openings").iter().position(|other| other["name"] == row["name"]).unwrap();
                let Some(picture) = pictures.of_opening[place].map(|place| &pictures.distinct[place]) else {
                    continue;
                };
                let hung = hung.next().unwrap();
                let band = &sheet.cells[&(hung.at.0 - 1, hung.at.1)].text;
                let name = row["name"].as_str().unwrap();
                assert!(
                    band.contains(&format!(": {name}")),
                    "{}: {band} over the drawing of {name}",
                    run.name
                );
                assert_eq!(hung.words, format!("Elevation of {name} seen from inside the room"));
                assert!(hung.png == picture.png, "{}, {name}: another's drawing", run.name);
            }
            assert!(hung.next().is_none(), "{}: a drawing more", run.name);
        }
    }
}
