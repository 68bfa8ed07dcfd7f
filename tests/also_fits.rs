//! Where else a blind would fit.
//!
//! Inside, a product takes 12.7 mm off width and height, and allows up to 25.4 mm, both rounded inward
//! to a millimeter: an opening of 1000 x 1500 mm prefers 987 x 1487, and takes 975 to 987 x 1475 to
//! 1487.

use std::io::Cursor;

use serde_json::Value;
use sillbook::exchange::{csv, json};
use sillbook::fitting::Blind;
use sillbook::length::Length;
use sillbook::order::{OrderLine, Seat};
use sillbook::pipeline::{self, Input, Silent};
use sillbook::query::OpeningIndex;
use sillbook::report::{AlsoFits, MOST_COMPARED, MOST_LISTED, Report};
use sillbook::schema::blinds::{BlindState, Reason};
use sillbook::sizing::Mount;
use sillbook::survey::Control;
use sillbook::workbook::{Limits, write};

use crate::support::package::Package;
use crate::support::remembered;

const HEAD: &str = "[Project]
Project | Quay House
Units | mm
Jurisdiction | none
[Openings]
Opening | Unit | Floor | Width | Height | Mount | Recess depth | Trim | Product | Color | Draw | Control | Motor side | Cord device | Cord height | Substrate | Phase | Measured
";

/// One row of the survey; what is not said is as the first blind's.
#[derive(Clone)]
struct Row {
    id: String,
    unit: String,
    floor: &'static str,
    width: String,
    height: String,
    mount: &'static str,
    trim: &'static str,
    product: &'static str,
    color: &'static str,
    draw: &'static str,
    control: &'static str,
    motor: &'static str,
    cord: [&'static str; 2],
    phase: &'static str,
    measured: &'static str,
}

impl Row {
    fn of(id: &str, width: u32, height: u32) -> Row {
        Row {
            id: id.to_owned(),
            unit: "A".to_owned(),
            floor: "F1",
            width: width.to_string(),
            height: height.to_string(),
            mount: "inside",
            trim: "",
            product: "louver-89",
            color: "white",
            draw: "left",
            control: "wand",
            motor: "",
            cord: ["", ""],
            phase: "",
            measured: "tape",
        }
    }

    fn text(&self) -> String {
        let Row { id, unit, floor, width, height, mount, trim, product, color, draw, control, motor, .. } =
            self;
        let ([device, cord_height], phase, measured) = (self.cord, self.phase, self.measured);
        format!(
            "{id} | {unit} | {floor} | {width} | {height} | {mount} | 100 | {trim} | {product} | {color} | {draw} | {control} | {motor} | {device} | {cord_height} | wood | {phase} | {measured}\n"
        )
    }
}

fn survey(rows: &[Row]) -> String {
    format!("{HEAD}{}", rows.iter().map(Row::text).collect::<String>())
}

fn understood(text: &str) -> Input {
    let surveys = crate::support::surveys(&[("survey.xlsx", text)]);
    pipeline::understand(&surveys.grids, surveys.sheets, None).unwrap()
}

fn document(report: &Report<'_>) -> Value {
    let mut out = Vec::new();
    json::write(report, &mut out).unwrap();
    serde_json::from_slice(&out).unwrap()
}

fn worked(text: &str) -> Value {
    let input = understood(text);
    document(&pipeline::work(&input, &Silent).unwrap())
}

/// The openings that would take a blind of the line of this opening, best first.
fn also_fits<'d>(document: &'d Value, opening: &str) -> Vec<&'d str> {
    let lines = document["order"].as_array().unwrap();
    let is_it = |line: &&Value| line["openings"].as_array().unwrap().iter().any(|name| name == opening);
    let line = lines.iter().find(is_it).unwrap_or_else(|| panic!("no line has {opening}"));
    let rows = document["also_fits"].as_array().unwrap().iter();
    rows.filter(|row| row["line"] == line["line"]).map(|row| row["opening"].as_str().unwrap()).collect()
}

/// The survey and what an earlier run of it remembers, with the state and whatever else is typed.
fn after(rows: &[Row], typed: impl Fn(&str) -> Vec<(&'static str, &'static str)>) -> String {
    let text = survey(rows);
    let first = worked(&text);
    let typed = |row: &Value| {
        let typed = row["opening"].as_str().map(&typed).unwrap_or_default();
        typed.into_iter().map(|(key, written)| (key, written.to_owned())).collect()
    };
    text + &remembered::blinds(&first, typed)
}

#[test]
fn an_opening_takes_what_is_within_its_window_and_like_its_own() {
    type Case = (&'static str, fn(&mut Row), Box<dyn Fn(&mut Row)>, bool);
    // What both are, what the other is, and whether it takes the blind of 987 x 1487 mm.
    let cases: [Case; 29] = [
        ("a little larger", |_| {}, Box::new(|_| {}), true),
        ("the widest that takes it", |_| {}, sized(1012, 1505), true),
        ("one wider", |_| {}, sized(1013, 1505), false),
        ("the narrowest that takes it", |_| {}, sized(1000, 1505), true),
        ("one narrower", |_| {}, sized(999, 1505), false),
        ("the highest that takes it", |_| {}, sized(1005, 1512), true),
        ("one higher", |_| {}, sized(1005, 1513), false),
        ("the lowest that takes it", |_| {}, sized(1005, 1500), true),
        ("one lower", |_| {}, sized(1005, 1499), false),
        ("as large: the same line", |_| {}, sized(1000, 1500), false),
        ("another color", |_| {}, Box::new(|row| row.color = "cream"), false),
        ("another product", |_| {}, Box::new(|row| row.product = "louver-127"), false),
        ("the other hand", |_| {}, Box::new(|row| row.draw = "right"), false),
        ("drawn to both sides", |_| {}, Box::new(|row| row.draw = "split"), false),
        ("a motor", |_| {}, Box::new(|row| (row.control, row.motor) = ("motor", "left")), false),
        (
            "motors at the same end",
            |row| (row.control, row.motor) = ("motor", "left"),
            Box::new(|_| {}),
            true,
        ),
        (
            "motors at different ends",
            |row| (row.control, row.motor) = ("motor", "left"),
            Box::new(|row| row.motor = "right"),
            false,
        ),
        ("motors that nobody gives an end", |row| row.control = "motor", Box::new(|_| {}), false),
        ("cords alike", |row| (row.control, row.cord) = ("cord", ["cleat", "1600"]), Box::new(|_| {}), true),
        (
            "a cord in another device",
            |row| (row.control, row.cord) = ("cord", ["cleat", "1600"]),
            Box::new(|row| row.cord = ["tension device", "1600"]),
            false,
        ),
        (
            "a lower cord",
            |row| (row.control, row.cord) = ("cord", ["cleat", "1600"]),
            Box::new(|row| row.cord = ["cleat", "1599"]),
            false,
        ),
        ("both outside", |row| row.mount = "outside", sized(1020, 1505), true),
        // 1000 + 4 in is 1101 wide; 1051 + 2 in is 1102 at the least, 1050 + 2 in is 1101.
        ("the widest that takes it outside", |row| row.mount = "outside", sized(1050, 1505), true),
        ("one wider outside", |row| row.mount = "outside", sized(1051, 1505), false),
        (
            "another reach",
            |row| row.mount = "outside",
            Box::new(|row| (row.trim, row.width) = ("40", "1020".to_owned())),
            false,
        ),
        ("the same longer reach", |row| (row.mount, row.trim) = ("outside", "40"), sized(1020, 1505), true),
        // 987 x 1487 is in its window: 900 + 2 in to + 4 in, 1300 + 2 in + 2 1/2 in to + 12 in.
        (
            "outside instead",
            |_| {},
            Box::new(|row| {
                row.mount = "outside";
                sized(900, 1300)(row);
            }),
            false,
        ),
        (
            "another phase, not measured yet",
            |_| {},
            Box::new(|row| (row.phase, row.measured) = ("2", "drawing")),
            true,
        ),
        ("held", |_| {}, Box::new(|row| row.height = String::new()), false),
    ];
    for (what, both, other, takes) in cases {
        let (mut first, mut second) = (Row::of("W1", 1000, 1500), Row::of("W2", 1005, 1505));
        both(&mut first);
        both(&mut second);
        other(&mut second);
        let document = worked(&survey(&[first, second]));
        let expected: &[&str] = if takes { &["W2"] } else { &[] };
        assert_eq!(also_fits(&document, "W1"), expected, "{what}");
    }
}

fn sized(width: u32, height: u32) -> Box<dyn Fn(&mut Row)> {
    Box::new(move |row| (row.width, row.height) = (width.to_string(), height.to_string()))
}

#[test]
fn a_row_says_how_far_the_size_is_off() {
    // 1012 x 1512 mm prefer 999 x 1499: 12 mm more each way than 987 x 1487. And 999 x 1499 is over what
    // 1000 x 1500 take.
    let document = worked(&survey(&[Row::of("W1", 1000, 1500), Row::of("W2", 1012, 1512)]));
    let rows = document["also_fits"].as_array().unwrap();
    assert_eq!(rows.len(), 1);
    let row = &rows[0];
    assert_eq!((&row["width_mm"], &row["drop_mm"]), (&987.into(), &1487.into()));
    assert_eq!((&row["wider_mm"], &row["longer_mm"]), (&(-12).into(), &(-12).into()));
    assert_eq!((&row["blind"], &row["blinds"]), (&"1 of 1".into(), &1.into()));
    assert_eq!((&row["rank"], &row["fits"], &row["compared_all"]), (&1.into(), &1.into(), &true.into()));
    assert_eq!(row["state"], Value::Null);
}

#[test]
fn the_best_comes_first() {
    let placed = |id, width, height, unit: &str, floor| Row {
        unit: unit.to_owned(),
        floor,
        ..Row::of(id, width, height)
    };
    let rows = [
        placed("W1", 1000, 1500, "A", "F1"),
        placed("W2", 1001, 1501, "B", "F2"),
        placed("W3", 1005, 1505, "B", "F1"),
        placed("W4", 1010, 1510, "A", "F1"),
        placed("W5", 1001, 1501, "C", "F2"),
        placed("W6", 1000, 1501, "C", "F2"),
    ];
    // The unit, then the floor, then the nearest size, then the survey's order.
    assert_eq!(also_fits(&worked(&survey(&rows)), "W1"), ["W4", "W3", "W6", "W2", "W5"]);
    // One whose blind is ordered comes last.
    let document = worked(&after(&rows, |opening| match opening {
        "W4" => vec![("state", "ordered")],
        _ => Vec::new(),
    }));
    assert_eq!(also_fits(&document, "W1"), ["W3", "W6", "W2", "W5", "W4"]);
    for row in document["also_fits"].as_array().unwrap() {
        assert_eq!(row["has_ordered"], row["opening"] == "W4", "{row}");
    }
}

#[test]
fn a_blind_is_offered_until_it_hangs_and_by_itself_once_it_is_for_no_opening() {
    let rows = [Row::of("W1", 1000, 1500), Row::of("W2", 1005, 1505), Row::of("W3", 1000, 1500)];
    // What is typed beside the blind of W1, and what of its line would be taken: by which blind, in which
    // state, and the openings.
    type Offered = (&'static str, Option<&'static str>, Vec<&'static str>);
    type Typed = &'static [(&'static str, &'static str)];
    let cases: [(Typed, Vec<Offered>); 10] = [
        (&[], vec![("all of the line", None, vec!["W2"])]),
        (
            &[("state", "ordered")],
            vec![("1 of 2", Some("ordered"), vec!["W2"]), ("2 of 2", None, vec!["W2"])],
        ),
        (
            &[("state", "delivered")],
            vec![("1 of 2", Some("delivered"), vec!["W2"]), ("2 of 2", None, vec!["W2"])],
        ),
        (&[("state", "fitted")], vec![("2 of 2", None, vec!["W2"])]),
        // The other blind that W1 gets then is on a line of its own.
        (&[("state", "cancelled")], vec![("2 of 2", None, vec!["W1", "W2"])]),
        // From the store it would also fit the openings of its line.
        (
            &[("state", "made"), ("do", "move"), ("goes_to", "store")],
            vec![("2 of 2", None, vec!["W1", "W2"]), ("1 of 2", Some("made"), vec!["W1", "W2", "W3"])],
        ),
        // Where another is made in its place it is not wanted.
        (
            &[("state", "remake"), ("reason", "client changed")],
            vec![("2 of 2", None, vec!["W1", "W2"]), ("1 of 2", Some("remake"), vec!["W2", "W3"])],
        ),
        (
            &[("state", "remake"), ("reason", "measured wrong")],
            vec![("2 of 2", None, vec!["W1", "W2"]), ("1 of 2", Some("remake"), vec!["W2", "W3"])],
        ),
        (&[("state", "remake"), ("reason", "damaged")], vec![("2 of 2", None, vec!["W1", "W2"])]),
        (&[("state", "remake")], vec![("2 of 2", None, vec!["W1", "W2"])]),
    ];
    for (typed, expected) in cases {
        let document = worked(&after(&rows, |opening| match opening {
            "W1" => typed.to_vec(),
            _ => Vec::new(),
        }));
        let mut found: Vec<(String, Option<String>, Vec<String>)> = Vec::new();
        let text = |value: &Value| value.as_str().map(str::to_owned);
        for row in document["also_fits"].as_array().unwrap().iter().filter(|row| row["line"] == 1) {
            let (blind, state) = (text(&row["blind"]).unwrap(), text(&row["state"]));
            let opening = text(&row["opening"]).unwrap();
            match found.last_mut() {
                Some(last) if (&last.0, &last.1) == (&blind, &state) => last.2.push(opening),
                _ => found.push((blind, state, vec![opening])),
            }
        }
        // Which openings, whatever their order: that is held elsewhere.
        found.iter_mut().for_each(|entry| entry.2.sort());
        let owned = |(blind, state, openings): Offered| {
            let openings = openings.into_iter().map(str::to_owned).collect();
            (blind.to_owned(), state.map(str::to_owned), openings)
        };
        let mut expected: Vec<(String, Option<String>, Vec<String>)> =
            expected.into_iter().map(owned).collect();
        expected.sort();
        found.sort();
        assert_eq!(found, expected, "{typed:?}");
    }
}

#[test]
fn the_sheet_shows_the_best_and_counts_all() {
    let mut rows = vec![Row::of("W1", 1000, 1500)];
    rows.extend((0..25).map(|place| Row::of(&format!("X{place}"), 1012, 1512)));
    let input = understood(&survey(&rows));
    let report = pipeline::work(&input, &Silent).unwrap();
    let listed = document(&report)["also_fits"].as_array().unwrap().clone();
    assert_eq!(listed.len(), MOST_LISTED);
    assert!(listed.iter().all(|row| row["fits"] == 25));
    let mut file = Cursor::new(Vec::new());
    write(&report, Limits::SPREADSHEET, &mut file).unwrap();
    let package = Package::of(file.into_inner());
    let place = |name: &str| package.order.iter().position(|sheet| sheet == name);
    assert!(place("Blinds") < place("Also fits") && place("Also fits") < place("Labels"));
    let sheet = &package.sheets["Also fits"];
    let shown = sheet.cells.values().filter(|cell| cell.text.starts_with('X')).count();
    assert_eq!(shown, 5);
    let text: String =
        sheet.cells.values().map(|cell| format!("{}\n", cell.text)).collect::<String>().replace('\n', " ");
    assert!(text.contains("at most 5 openings are listed here, and 20 in JSON and CSV"), "{text}");
    assert!(text.contains("At most 5000 are compared"), "{text}");
    let mut table = Vec::new();
    csv::List::AlsoFits.write(&report, &mut table).unwrap();
    assert_eq!(String::from_utf8(table).unwrap().lines().count(), 1 + MOST_LISTED);
    // The schema says the same number.
    let schema = sillbook::exchange::schema::text().unwrap();
    assert!(schema.contains(&format!("at most {MOST_LISTED} openings each")));
    // Its columns, and the row of the best.
    let (top, _) = sheet.cells.iter().find(|(at, cell)| at.1 == 0 && cell.text == "Line").unwrap();
    let cells = |row: u32| -> Vec<&str> {
        sheet.cells.range((row, 0)..(row + 1, 0)).map(|(_, cell)| cell.text.as_str()).collect()
    };
    assert_eq!(
        cells(top.0),
        [
            "Line",
            "Blind",
            "Product",
            "Color",
            "Width (mm)",
            "Drop (mm)",
            "Also fits",
            "Unit",
            "Floor",
            "Has its own ordered",
            "Wider than wanted (mm)",
            "Longer than wanted (mm)",
            "Fits in all"
        ]
    );
    let best =
        ["1", "1 of 1", "louver-89", "white", "987", "1487", "X0", "A", "F1", "no", "-12", "-12", "25"];
    assert_eq!(cells(top.0 + 1), best);
    // Nothing to say: no sheet.
    let input = understood(&survey(&[Row::of("W1", 1000, 1500), Row::of("W2", 1000, 1500)]));
    let mut file = Cursor::new(Vec::new());
    write(&pipeline::work(&input, &Silent).unwrap(), Limits::SPREADSHEET, &mut file).unwrap();
    assert!(!Package::of(file.into_inner()).order.contains(&"Also fits".to_owned()));
}

#[test]
fn where_not_all_are_compared_it_is_said() {
    let mut rows = vec![Row::of("W1", 1000, 1500)];
    rows.extend((0..=MOST_COMPARED).map(|place| Row::of(&format!("X{place}"), 1005, 1505)));
    let input = understood(&survey(&rows));
    let report = pipeline::work(&input, &Silent).unwrap();
    let entry = &report.also_fits[0];
    assert_eq!((entry.count, entry.is_all), (MOST_COMPARED as u64 + 1, false));
    rows.pop();
    let input = understood(&survey(&rows));
    let report = pipeline::work(&input, &Silent).unwrap();
    assert_eq!((report.also_fits[0].count, report.also_fits[0].is_all), (MOST_COMPARED as u64, true));
}

/// Numbers that look random and are always the same (xorshift).
struct Dice(u64);

impl Dice {
    fn below(&mut self, sides: u64) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) % sides
    }

    fn of<T: Copy>(&mut self, choices: &[T]) -> T {
        choices[self.below(choices.len() as u64) as usize]
    }
}

/// A survey of 30 openings that are much alike.
fn random_survey(dice: &mut Dice) -> Vec<Row> {
    let row = |place: usize, dice: &mut Dice| {
        let size = |dice: &mut Dice, from: u32, to: u64| from + u32::try_from(dice.below(to)).unwrap();
        let (width, height) = (size(dice, 1000, 20), size(dice, 1500, 15));
        let control = dice.of(&["wand", "wand", "wand", "motor"]);
        Row {
            unit: dice.of(&["A", "B", "C", "D"]).to_owned(),
            floor: dice.of(&["F1", "F2"]),
            mount: dice.of(&["inside", "inside", "outside"]),
            trim: dice.of(&["", "", "40"]),
            color: dice.of(&["white", "white", "white", "cream"]),
            draw: dice.of(&["left", "left", "right"]),
            control,
            motor: if control == "motor" { dice.of(&["left", "right", ""]) } else { "" },
            phase: dice.of(&["", "", "2"]),
            ..Row::of(&format!("W{place}"), width, height)
        }
    };
    (0..30).map(|place| row(place, dice)).collect()
}

/// What is typed beside a blind at random.
fn random_state(dice: &mut Dice) -> Vec<(&'static str, &'static str)> {
    dice.of(&[
        &[] as &[(&str, &str)],
        &[],
        &[("state", "ordered")],
        &[("state", "made")],
        &[("state", "delivered")],
        &[("state", "fitted")],
        &[("state", "cancelled")],
        &[("state", "delivered"), ("do", "move"), ("goes_to", "store")],
        &[("state", "remake"), ("reason", "client changed")],
        &[("state", "remake"), ("reason", "lost")],
        &[("state", "ordered"), ("do", "make again"), ("reason", "measured wrong")],
        &[("state", "ordered"), ("do", "make again")],
    ])
    .to_vec()
}

/// Whether an opening of this blind takes a blind of a line, said anew.
fn takes(line: &OrderLine, there: &Blind<'_>) -> bool {
    let (key, sizing, fitted) = (&line.key, &there.sizing, &there.fitted);
    let reach = match sizing.hung.mount() {
        Mount::Outside => sizing.hung.reach(),
        Mount::Inside | Mount::Ceiling => None,
    };
    let is_motor_known = key.control != Control::Motor
        || (key.control_side.is_some() && key.control_side == fitted.control_side);
    let window = &sizing.window;
    let within = |least: Length, length: Length, most: Length| least <= length && length <= most;
    key.product == sizing.product.name
        && key.color == sizing.color
        && key.draw == Some(sizing.operation.draw)
        && key.control == sizing.operation.control
        && is_motor_known
        && key.mount() == sizing.hung.mount()
        && key.reach() == reach
        && within(window.least().width, key.size.width, window.most().width)
        && within(window.least().drop, key.size.drop, window.most().drop)
}

/// Every entry that there must be, by comparing each blind with each opening.
fn by_comparing_all(report: &Report<'_>) -> Vec<AlsoFits> {
    let mut entries = Vec::new();
    for (place, line) in report.order.lines.iter().enumerate() {
        let hangs = |seat: &&Seat| seat.state == Some(BlindState::Fitted);
        let own: Vec<OpeningIndex> = line.openings();
        for state in [None, Some(BlindState::Ordered), Some(BlindState::Made), Some(BlindState::Delivered)] {
            let seats: Vec<&Seat> = line
                .seats
                .iter()
                .filter(|seat| seat.state == state && seat.opening.is_some() && !hangs(seat))
                .collect();
            if !seats.is_empty() {
                let near: Vec<[&str; 2]> = own.iter().map(|&opening| near(report, opening)).collect();
                entries.extend(entry(report, (place, line), &seats, &own, &near));
            }
        }
        for seat in line.seats.iter().filter(|seat| seat.opening.is_none() && !hangs(seat)) {
            let kept = seat.kept.unwrap();
            let blind = &report.frozen.blinds()[kept];
            let again = |opening: &OpeningIndex| report.frozen.again(*opening).contains(&kept);
            let home: Vec<OpeningIndex> = (0..report.blinds.len()).filter(again).collect();
            let may = matches!(blind.typed.reason, Some(Reason::ClientChanged | Reason::MeasuredWrong))
                || blind.typed.reason.is_none()
                    && &*blind.typed.goes_to == "store"
                    && seat.state != Some(BlindState::Remake);
            if may && seat.state != Some(BlindState::Cancelled) {
                entries.extend(entry(report, (place, line), &[seat], &home, &[[&blind.unit, &blind.floor]]));
            }
        }
    }
    entries
}

fn near<'r>(report: &'r Report<'_>, opening: OpeningIndex) -> [&'r str; 2] {
    let who = &report.survey.openings[opening].who;
    [&who.unit, &who.floor]
}

fn entry(
    report: &Report<'_>,
    (place, line): (usize, &OrderLine),
    seats: &[&Seat],
    own: &[OpeningIndex],
    of: &[[&str; 2]],
) -> Option<AlsoFits> {
    let mut found = Vec::new();
    for (opening, there) in report.blinds.iter().enumerate() {
        let Some(there) = there.as_ref().filter(|there| takes(line, there)) else { continue };
        if own.contains(&opening) {
            continue;
        }
        let [unit, floor] = near(report, opening);
        let ordered = !report.frozen.serving(opening).is_empty();
        let wanted = there.sizing.window.preferred();
        let (wider, longer) = (line.key.size.width - wanted.width, line.key.size.drop - wanted.drop);
        let rank = (
            ordered,
            !of.iter().any(|near| near[0] == unit),
            !of.iter().any(|near| near[1] == floor),
            wider.abs() + longer.abs(),
            opening,
        );
        let fit = sillbook::report::Fit { opening, has_ordered: ordered, wider, longer };
        found.push((rank, fit));
    }
    found.sort_by_key(|(rank, _)| *rank);
    let count = found.len() as u64;
    let mut numbers: Vec<(u64, u64)> = Vec::new();
    for seat in seats {
        match numbers.last_mut() {
            Some(last) if last.1 + 1 == seat.first => last.1 = seat.last,
            _ => numbers.push((seat.first, seat.last)),
        }
    }
    let fits = found.into_iter().map(|(_, fit)| fit).take(MOST_LISTED).collect();
    (count > 0).then_some(AlsoFits { place, numbers, state: seats[0].state, fits, count, is_all: true })
}

#[test]
fn it_finds_what_comparing_every_blind_with_every_opening_finds() {
    let mut dice = Dice(0x5eed_b11d);
    let (mut entries, mut loose) = (0, 0);
    for run in 0..40 {
        let rows = random_survey(&mut dice);
        let first = survey(&rows);
        let input = understood(&first);
        let report = pipeline::work(&input, &Silent).unwrap();
        assert_eq!(report.also_fits, by_comparing_all(&report), "first run {run}");
        let states: Vec<_> = rows.iter().map(|_| random_state(&mut dice)).collect();
        let typed = |opening: &str| {
            let place = rows.iter().position(|row| row.id == opening);
            place.map_or_else(Vec::new, |place| states[place].clone())
        };
        let input = understood(&after(&rows, typed));
        let report = pipeline::work(&input, &Silent).unwrap();
        assert_eq!(report.also_fits, by_comparing_all(&report), "second run {run}");
        entries += report.also_fits.len();
        let is_loose = |entry: &&AlsoFits| {
            let seats = &report.order.lines[entry.place].seats;
            seats.iter().any(|seat| seat.first == entry.numbers[0].0 && seat.opening.is_none())
        };
        loose += report.also_fits.iter().filter(is_loose).count();
    }
    assert!(entries > 200 && loose > 40, "{entries} entries, {loose} of blinds for no opening");
}

#[test]
fn what_a_blind_lacks_there_is_named() {
    // The wand of a blind 1487 mm long whose sill is not known is not that of one 2000 mm above the floor.
    let text = survey(&[Row::of("W1", 1000, 1500), Row::of("W2", 1005, 1505)]);
    let with_sill = |sill: &str| {
        let with = |(place, line): (usize, &str)| match place {
            0..5 => line.to_owned(),
            5 => format!("{line} | Sill height"),
            6 => format!("{line} | 300"),
            _ => format!("{line} | {sill}"),
        };
        text.lines().enumerate().map(with).collect::<Vec<_>>().join("\n")
    };
    for (sill, is_longer) in [("300", false), ("1000", true)] {
        let document = worked(&with_sill(sill));
        let wand = |place: usize| document["openings"][place]["wand_mm"].as_f64().unwrap();
        assert_eq!(wand(0) != wand(1), is_longer, "{} {}", wand(0), wand(1));
        let rows = document["also_fits"].as_array().unwrap();
        let row = rows.iter().find(|row| row["opening"] == "W2").unwrap();
        let needs: Vec<&str> =
            row["needs"].as_array().unwrap().iter().map(|need| need.as_str().unwrap()).collect();
        match is_longer {
            true => assert_eq!(needs, [format!("wand of {} mm", wand(1))]),
            false => assert_eq!(needs, Vec::<&str>::new()),
        }
    }
}
