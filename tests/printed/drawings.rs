//! The drawings: every text by where it stands about the blind, and what is drawn left or right.

use serde_json::Value;

use super::{RUNS, Run, length};
use sillbook::drawing::canvas::{Area, BLACK, LIGHT, Turn};
use sillbook::drawing::figures::figure;
use sillbook::drawing::layout::lay_out;
use sillbook::drawing::letters::Letters;
use sillbook::drawing::marks::{Mark, Text};
use sillbook::drawing::pictures::elevation;
use sillbook::length::{Length, Units};

/// One drawing: its marks, and the frame of the closed louvers, by which places are told.
struct Drawing {
    all: Vec<Mark>,
    louvers: Area,
}

/// Where a text stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Place {
    /// In a row above the blind, by its line.
    Above(i32),
    /// Running up at its left, the lane nearest to it first.
    AtTheLeft(i32),
    OnIt,
    /// In a row under it, by its line.
    Under(i32),
    /// In the section at its right, across and up.
    Section,
    SectionUp,
}

impl Drawing {
    fn of(all: Vec<Mark>) -> Drawing {
        let framed = |mark: &Mark| match mark {
            Mark::Frame(area, 1, BLACK) => Some(*area),
            _ => None,
        };
        let louvers = all.iter().find_map(framed).unwrap();
        Drawing { all, louvers }
    }

    fn place(&self, text: &Text) -> Place {
        let (louvers, line) = (self.louvers, text.area.top + text.style.height());
        let is_across = text.turn == Turn::Across;
        match is_across {
            false if text.area.right <= louvers.left => {
                Place::AtTheLeft(-(text.area.left + text.style.height()))
            }
            false => Place::SectionUp,
            true if text.area.left >= SECTION && (ROWS..CAPTION).contains(&line) => Place::Section,
            true if line < louvers.top => Place::Above(line),
            true if line <= louvers.bottom => Place::OnIt,
            true => Place::Under(line),
        }
    }

    /// Texts by place; those of one place from left to right, those that run up from the top down.
    fn texts(&self) -> Vec<(Place, &Text)> {
        let mut texts = Vec::new();
        for mark in &self.all {
            if let Mark::Text(text) = mark {
                texts.push((self.place(text), text));
            }
        }
        texts.sort_by_key(|(place, text)| {
            (*place, if text.turn == Turn::Up { text.area.top } else { text.area.left })
        });
        texts
    }

    /// Whether the middle of something lies in the blind's left half.
    fn is_left(&self, middle: i32) -> bool {
        2 * middle < self.louvers.left + self.louvers.right
    }
}

/// The section stands right of this column, between the rows of bracket figures and the line at the
/// bottom of the page.
const SECTION: i32 = 520;
const ROWS: i32 = 60;
const CAPTION: i32 = 470;

/// What the texts must be, place by place.
fn wanted(run: &Run, place: usize) -> Vec<Vec<String>> {
    let row = &run.list("openings")[place];
    let units = run.units();
    let shown = |length: Length| figure(length, units);
    let known = |value: &Value| (!value.is_null()).then(|| length(value));
    let brackets = &row["brackets"];
    let mut rows = Vec::new();
    for (name, key) in [("from opening", "from_opening_left_mm"), ("from rail end", "from_left_mm")] {
        if let Some(centers) = brackets[key].as_array() {
            rows.push(
                [name.to_owned()].into_iter().chain(centers.iter().map(|at| shown(length(at)))).collect(),
            );
        }
    }
    let floor = known(&brackets["top_above_floor_mm"]);
    let gap = run.report.blinds[place].as_ref().unwrap().fitted.gap_below;
    let gap = gap.filter(|gap| *gap > Length::ZERO && floor.is_some());
    let mut lane = vec![format!("{} drop", shown(length(&row["drop_mm"])))];
    lane.extend(gap.map(|gap| format!("{} to floor", shown(gap))));
    rows.push(lane);
    rows.extend(floor.map(|floor| vec![format!("{} above floor", shown(floor))]));
    let overlaps = [known(&row["overlap_left_mm"]), known(&row["overlap_right_mm"])];
    if let [Some(left), Some(right)] = overlaps {
        rows.push([left, right].map(|overlap| in_words(overlap, units)).to_vec());
    }
    rows.push(vec![format!("{} wide", shown(length(&row["width_mm"])))]);
    let unit = if units == Units::Inches { "inches" } else { "millimeters" };
    rows.push(vec![format!("seen from inside the room; sizes in {unit}")]);
    let depth = [("reach", "reach_mm"), ("setback", "setback_mm")];
    let depth = depth.into_iter().find_map(|(word, key)| Some((word, known(&brackets[key])?)));
    if let Some((word, depth)) = depth {
        rows.push(vec!["section at a bracket".to_owned(), format!("{word} {}", shown(depth.abs()))]);
        let head = known(&brackets["top_above_head_mm"]).filter(|head| *head > Length::ZERO);
        rows.extend(head.map(|head| vec![format!("{} to head", shown(head))]));
    }
    rows
}

/// `overlap 2`, `gap 1/4`.
fn in_words(overlap: Length, units: Units) -> String {
    let word = if overlap < Length::ZERO { "gap" } else { "overlap" };
    format!("{word} {}", figure(overlap.abs(), units))
}

/// What stands at one place as the longest words that it may have: where room is short, a drawing
/// leaves words out, or says both overlaps in one text.
fn whole(row: &[String], wanted: &[String]) -> Vec<String> {
    let mut row = row.to_vec();
    if let ([both], [left, right]) = (&row[..], wanted)
        && let Some((word, figure)) = right.split_once(' ')
    {
        let one = format!("{left} left, ");
        let shorter = [
            format!("{one}{figure} right"),
            format!("{one}{word} {figure} right"),
            format!("{left} each side"),
        ];
        let is_each = *both == shorter[2] && left == right;
        let is_parted = shorter[..2].contains(both) && (*both == shorter[1] || left.starts_with(word));
        if is_each || is_parted {
            row = wanted.to_vec();
        }
    }
    let figure_of = |words: &str| words.trim_start_matches("overlap ").trim_start_matches("gap ").to_owned();
    let is_short = |short: &String, whole: &String| {
        *short == figure_of(whole)
            || [" drop", " to head"].iter().any(|word| whole.strip_suffix(word) == Some(short))
            || short.replace(" bracket top above floor", " above floor") == *whole
            || short.replace(" above head", " to head") == *whole
    };
    if row.len() == wanted.len()
        && row.iter().zip(wanted).all(|(short, whole)| short == whole || is_short(short, whole))
    {
        return wanted.to_vec();
    }
    row
}

#[test]
fn every_text_of_a_drawing_stands_at_its_place() {
    let letters = Letters::new().unwrap();
    for run in RUNS.iter() {
        for (place, row) in run.list("openings").iter().enumerate() {
            let Some(elevation) = elevation(run.report, place) else { continue };
            let drawing = Drawing::of(lay_out(&elevation, run.units(), &letters).all);
            let texts = drawing.texts();
            let found: Vec<Vec<String>> = texts
                .chunk_by(|one, other| one.0 == other.0)
                .filter(|row| row[0].0 != Place::OnIt)
                .map(|row| row.iter().map(|(_, text)| text.words.clone()).collect())
                .collect();
            let wanted = wanted(run, place);
            let who = format!("{}, {}", run.name, row["name"]);
            assert_eq!(found.len(), wanted.len(), "{who}: {found:?} for {wanted:?}");
            for (found, wanted) in found.iter().zip(&wanted) {
                assert_eq!(whole(found, wanted), *wanted, "{who}");
            }
        }
    }
}

/// On the blind: where it stacks in words, by an arrow and as a tone; the leaf that opens; the wand.
#[test]
fn what_is_drawn_left_is_at_the_left() {
    let letters = Letters::new().unwrap();
    for run in RUNS.iter() {
        for (place, row) in run.list("openings").iter().enumerate() {
            let Some(elevation) = elevation(run.report, place) else { continue };
            let drawing = Drawing::of(lay_out(&elevation, run.units(), &letters).all);
            let who = format!("{}, {}", run.name, row["name"]);
            let sides = |side: &str| match side {
                "left" => vec![true],
                "right" => vec![false],
                _ => vec![true, false],
            };
            let draw = row["draw"].as_str().unwrap();
            check_words(run, place, &drawing, draw, &who);
            let louvers = drawing.louvers;
            let (mut arrows, mut stacks, mut wands) = (Vec::new(), Vec::new(), Vec::new());
            for mark in &drawing.all {
                match mark {
                    Mark::Shape(corners, BLACK) => arrows.push(corners[0].x < corners[1].x),
                    Mark::Fill(area, LIGHT)
                        if (area.top, area.bottom) == (louvers.top, louvers.bottom)
                            && area.width() < louvers.width() =>
                    {
                        stacks.push(area.left == louvers.left);
                    }
                    Mark::Line(from, to, 2, BLACK)
                        if from.x == to.x
                            && from.y == louvers.top
                            && (louvers.left + 1..louvers.right).contains(&from.x) =>
                    {
                        wands.push(drawing.is_left(from.x));
                    }
                    _ => {}
                }
            }
            assert!(arrows.is_empty() || arrows == sides(draw), "{who}: {arrows:?}");
            // Where one side's stack is as wide as the blind, it is no side's.
            assert!(stacks.is_empty() || stacks == sides(draw), "{who}: {stacks:?}");
            let wand = row["control_side"].as_str().filter(|_| row["control"] == "wand");
            let drawn =
                if wand == Some("middle") { wands.len() == 2 } else { wands == wand.map_or(vec![], sides) };
            assert!(drawn, "{who}: {wands:?} for {wand:?}");
        }
    }
}

fn check_words(run: &Run, place: usize, drawing: &Drawing, draw: &str, who: &str) {
    let leaf = run.report.survey.openings[place].facts.as_ref().unwrap();
    let leaf = leaf.leaf.filter(|_| leaf.kind.word() != "window").map(|leaf| leaf.value.to_string());
    let stacks = if draw == "split" { "stacks both sides".to_owned() } else { format!("stacks {draw}") };
    for (_, text) in drawing.texts().into_iter().filter(|(place, _)| *place == Place::OnIt) {
        match text.words.as_str() {
            "leaf opens" => {
                let side =
                    if drawing.is_left((text.area.left + text.area.right) / 2) { "left" } else { "right" };
                let leaf = leaf.as_deref();
                assert!(
                    leaf == Some(side) || leaf == Some("both"),
                    "{who}: the {side} leaf opens for {leaf:?}"
                );
            }
            words => assert_eq!(words, stacks, "{who}"),
        }
    }
}
