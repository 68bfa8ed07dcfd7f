//! Drawings as data: one row of a survey in, the elevation's positions and its marks in dots out.
//!
//! Positions are inches from the rail's left end to the right and from the top of the drop down,
//! worked by hand from the rules (common practice, no source); each case says its sum.

use std::fs;
use std::path::{Path, PathBuf};

use crate::support::opening::survey_text;
use png::{Decoder, Transformations};
use rayon::ThreadPoolBuilder;
use sillbook::drawing::canvas::{Area, BLACK, PAPER, Turn};
use sillbook::drawing::elevation::{Elevation, HeldBy, Span};
use sillbook::drawing::figures::{Wanted, figure, spread};
use sillbook::drawing::layout::{self, lay_out};
use sillbook::drawing::letters::{Letters, Style};
use sillbook::drawing::marks::{Mark, Marks};
use sillbook::drawing::{Picture, Pictures, pictures};
use sillbook::length::{Length, Units};
use sillbook::pipeline::{self, Input, Silent};
use sillbook::report::Report;

/// A row of a survey, `Heading = cell; …`, and what its elevation must hold.
struct Case(&'static str, &'static [(&'static str, &'static str)]);

fn input(row: &str) -> Input {
    let surveys = crate::support::surveys(&[("survey.xlsx", &survey_text(row))]);
    pipeline::understand(&surveys.grids, surveys.sheets, None).unwrap()
}

fn elevation(row: &str) -> Option<Elevation> {
    let input = input(row);
    let report = pipeline::work(&input, &Silent).unwrap();
    pictures::elevation(&report, 0)
}

fn laid_out(row: &str) -> (Elevation, Marks) {
    let elevation = elevation(row).unwrap_or_else(|| panic!("held: {row}"));
    let marks = lay_out(&elevation, Units::Inches, &Letters::new().unwrap());
    (elevation, marks)
}

fn inches(length: Length) -> String {
    length.show(Units::Inches).trim_end_matches(" in").to_owned()
}

/// What an elevation's property of that name is, as the cases write it.
fn tell(name: &str, elevation: &Elevation) -> String {
    let known = |length: Option<Length>| length.map_or("unknown".to_owned(), inches);
    let span = |span: Option<Span>| {
        span.map_or("unknown".to_owned(), |span| format!("{} to {}", inches(span.from), inches(span.to)))
    };
    let list = |lengths: &[Length]| lengths.iter().map(|each| inches(*each)).collect::<Vec<_>>().join(", ");
    let wall = |place: usize| {
        elevation.walls[place]
            .map_or("unknown".to_owned(), |wall| format!("{} at {}", wall.ends_at, inches(wall.at)))
    };
    let section = |of: fn(&sillbook::drawing::elevation::Section) -> Option<Length>| {
        known(elevation.section.as_ref().and_then(of))
    };
    match name {
        "size" => format!("{} x {}", inches(elevation.width), inches(elevation.drop)),
        "rail" => span(Some(elevation.rail)),
        "valance" => span(elevation.valance),
        "louvers" => {
            let louvers = elevation.panel.louvers.unwrap();
            format!("{} at {}", louvers.count, inches(louvers.pitch))
        }
        "stacks" => {
            let stack = elevation.panel.stack.unwrap();
            format!("{} {}", stack.draw, inches(stack.width))
        }
        "opening across" => span(elevation.opening.map(|opening| opening.across)),
        "opening down" => span(elevation.opening.map(|opening| opening.down)),
        "bracket top" => inches(elevation.bracket_top),
        "brackets" => list(&elevation.brackets),
        "from opening" => elevation.brackets_from_opening.as_deref().map_or("unknown".to_owned(), list),
        "above floor" => known(elevation.bracket_above_floor()),
        "above head" => known(elevation.bracket_above_head()),
        "overlaps" => elevation.overlaps().map_or("unknown".to_owned(), |both| list(&both)),
        "gap below" => known(elevation.gap_below()),
        "floor" => known(elevation.floor),
        "floor to come" => known(elevation.floor_to_come),
        "ceiling" => known(elevation.ceiling),
        "wall left" => wall(0),
        "wall right" => wall(1),
        "wall above" => known(elevation.wall_above),
        "header" => span(elevation.header),
        "leaf" => elevation.leaf.map_or("unknown".to_owned(), |leaf| leaf.to_string()),
        "section rail" => section(|section| Some(section.rail)),
        "recess" => section(|section| section.recess),
        "valance stands" => section(|section| match section.held {
            HeldBy::Head => None,
            HeldBy::Wall { valance, .. } | HeldBy::Ceiling { valance } => valance,
        }),
        other => panic!("no property is called {other}"),
    }
}

#[test]
fn an_elevation_holds_every_position() {
    for Case(row, expected) in [
        // 106 + 2 + 2 = 110; the rail is 6 over the head; 84 - 1/2 = 83 1/2; the floor is 78 + 6
        // down. Brackets: 110 - 8 = 102 in 4 spans of 25 1/2. Louvers: 106 1/2 / 3 1/8 over 34,
        // so 36; their stack is 36 x 3/8 + 3 1/2 = 17. Valance 3 + 1 3/4 + 1/4 = 5 off the wall.
        Case(
            "Kind = patio door; Width = 106; Height = 78; Mount = outside; Draw = left",
            &[
                ("size", "110 x 83 1/2"),
                ("rail", "0 to 1 1/2"),
                ("valance", "-1/4 to 110 1/4"),
                ("louvers", "36 at 3 1/8"),
                ("stacks", "left 17"),
                ("opening across", "2 to 108"),
                ("opening down", "6 to 84"),
                ("bracket top", "-1/4"),
                ("brackets", "4, 29 1/2, 55, 80 1/2, 106"),
                ("from opening", "2, 27 1/2, 53, 78 1/2, 104"),
                ("above floor", "84 1/4"),
                ("above head", "6 1/4"),
                ("overlaps", "2, 2"),
                ("gap below", "1/2"),
                ("floor", "84"),
                ("floor to come", "unknown"),
                ("ceiling", "unknown"),
                ("wall left", "unknown"),
                ("header", "unknown"),
                ("section rail", "3"),
                ("recess", "unknown"),
                ("valance stands", "5"),
            ],
        ),
        // 106 - 1/2 = 105 1/2, centered: 1/4 a side. The drop begins at the head and holds the
        // bracket, 1/4. Setback: 3 - 3/8 - 1 3/4 = 7/8 into the recess. Louvers: 102 / 3 1/8 over 32,
        // so 34; 34 x 3/8 + 3 1/2 = 16 1/4.
        Case(
            "Kind = patio door; Width = 106; Height = 78; Recess depth = 3; Draw = right; Opening leaf = left",
            &[
                ("size", "105 1/2 x 77 1/2"),
                ("rail", "1/4 to 1 3/4"),
                ("valance", "0 to 105 1/2"),
                ("stacks", "right 16 1/4"),
                ("opening across", "-1/4 to 105 3/4"),
                ("opening down", "0 to 78"),
                ("bracket top", "0"),
                ("above floor", "78"),
                ("above head", "0"),
                ("overlaps", "-1/4, -1/4"),
                ("gap below", "1/2"),
                ("leaf", "left"),
                ("section rail", "-7/8"),
                ("recess", "3"),
                ("valance stands", "unknown"),
            ],
        ),
        // No sill height: no floor, no ceiling, no height above the floor. 36 + 4 = 40 wide.
        Case(
            "Kind = window; Width = 36; Height = 48; Mount = outside; Ceiling height = 96; Draw = split",
            &[
                ("opening across", "2 to 38"),
                ("opening down", "6 to 54"),
                ("floor", "unknown"),
                ("above floor", "unknown"),
                ("above head", "6 1/4"),
                ("gap below", "unknown"),
                ("ceiling", "unknown"),
                ("leaf", "unknown"),
                // 36 1/2 / 3 1/8 over 11: 13, made even: 14; a side 7 x 3/8 + 3 1/2.
                ("louvers", "14 at 3 1/8"),
                ("stacks", "split 6 1/8"),
            ],
        ),
        // With it: the floor is 54 + 36 down, the ceiling 90 - 108.
        Case(
            "Kind = window; Width = 36; Height = 48; Mount = outside; Sill height = 36; Ceiling height = 108",
            &[("floor", "90"), ("above floor", "90 1/4"), ("gap below", "34"), ("ceiling", "-18")],
        ),
        // A wall leaves 1 3/8 - 3/8 = 1 on the left; it stands 3/8 past the rail. Wood from 1/2
        // over the head (6 down) for 7 1/4: 5 1/2 up to -1 3/4. Wall above: 6 - 20.
        Case(
            "Kind = window; Width = 106; Height = 78; Mount = outside; Wall left = 1 3/8; Left ends at = wall; \
             Wall right = 9; Header height = 7 1/4; Header offset = 1/2; Wall above = 20",
            &[
                ("opening across", "1 to 107"),
                ("overlaps", "1, 2"),
                ("wall left", "wall at -3/8"),
                ("wall right", "free at 116"),
                ("header", "-1 3/4 to 5 1/2"),
                ("wall above", "-14"),
            ],
        ),
        // The floor to come lifts the bottom: 84 - 1 1/2 - 1/2 = 82.
        Case(
            "Kind = patio door; Width = 106; Height = 78; Mount = outside; Floor to come = 1 1/2",
            &[("size", "110 x 82"), ("floor", "84"), ("floor to come", "82 1/2"), ("gap below", "2")],
        ),
        // Of a finished size nobody knows the opening.
        Case(
            "Sizes given are = finished; Width = 104; Height = 80; Mount = outside; Header height = 7",
            &[
                ("size", "104 x 80"),
                ("opening across", "unknown"),
                ("from opening", "unknown"),
                ("brackets", "4, 36, 68, 100"),
                ("above floor", "unknown"),
                ("header", "unknown"),
            ],
        ),
    ] {
        let elevation = elevation(row).unwrap_or_else(|| panic!("held: {row}"));
        for (name, value) in expected {
            assert_eq!(tell(name, &elevation), *value, "{name} of: {row}");
        }
    }
}

#[test]
fn a_held_opening_has_no_drawing() {
    assert!(elevation("Width = 106; Height = 78").is_some());
    assert!(elevation("Width = 106; Height = 780").is_none());
}

/// Openings of every shape: each must be to scale, and its texts apart from one another.
const SHAPES: [&str; 14] = [
    "Kind = patio door; Width = 106; Height = 78; Mount = outside; Draw = left",
    "Kind = patio door; Width = 106; Height = 78; Recess depth = 3; Draw = split",
    "Kind = patio door; Width = 150; Height = 84; Mount = outside; Draw = split; Opening leaf = both",
    "Kind = window; Width = 150; Height = 13; Mount = outside; Sill height = 60",
    "Kind = window; Width = 150; Height = 13; Mount = outside",
    "Kind = window; Width = 13; Height = 48; Mount = outside; Sill height = 36; Draw = right",
    "Kind = window; Width = 13; Height = 132; Mount = outside; Sill height = 2; Draw = right",
    "Kind = window; Width = 13; Height = 13 1/16; Recess depth = 4; Sill height = 100",
    "Kind = window; Width = 13; Height = 13 1/16; Recess depth = 20",
    "Kind = door; Width = 35 15/16; Height = 130; Mount = outside; Recess depth = 20; Header height = 9 1/4",
    "Kind = patio door; Width = 105 15/16; Height = 78; Mount = outside; Ceiling height = 96; Wall left = 3; \
     Left ends at = wall; Wall right = 2 5/16; Right ends at = cupboard; Floor to come = 3/4; Header height = 7 1/4",
    "Kind = window; Width = 187; Height = 60; Mount = outside; Sill height = 30; Wall above = 9",
    "Sizes given are = finished; Width = 104; Height = 80; Mount = outside",
    "Units = mm; Kind = patio door; Width = 2692.4; Height = 1981; Mount = outside",
];

#[test]
fn dots_are_to_one_scale_across_and_down() {
    for row in SHAPES {
        let (elevation, marks) = laid_out(row);
        let page = Area { left: 0, top: 0, right: i32::from(marks.width), bottom: i32::from(marks.height) };
        let framed = |mark: &Mark| match mark {
            Mark::Frame(area, 1, BLACK) => Some(*area),
            _ => None,
        };
        let louvers = marks.all.iter().find_map(framed).unwrap();
        // Each end is within half a dot, so a side is within one of what the other side's scale asks.
        let (across, down) = (elevation.width, elevation.drop - elevation.rail.to);
        let off = i128::from(louvers.width()) * i128::from(down.nm())
            - i128::from(louvers.height()) * i128::from(across.nm());
        assert!(off.abs() <= i128::from(across.nm() + down.nm()), "{off} of: {row}");
        assert!(louvers.left >= page.left && louvers.right <= page.right && louvers.bottom <= page.bottom);
        // Each bracket stands where its share of the rail is.
        let black = |mark: &Mark| match mark {
            Mark::Fill(area, BLACK) if area.width() == 5 => Some(area.left + 2),
            _ => None,
        };
        let drawn: Vec<i32> = marks.all.iter().filter_map(black).collect();
        assert_eq!(drawn.len(), elevation.brackets.len(), "{row}");
        for (x, center) in drawn.iter().zip(&elevation.brackets) {
            let share = i128::from(louvers.width()) * i128::from(center.nm());
            let off = i128::from(x - louvers.left) * i128::from(elevation.width.nm()) - share;
            assert!(off.abs() <= i128::from(elevation.width.nm()), "bracket at {} of: {row}", center.nm());
        }
    }
}

/// Texts of a layout that lie over one another, past the page's edge, or with a stroke through
/// them: under a later mark, or over an earlier one that no paper covers.
fn spoilt_texts(marks: &Marks) -> Vec<String> {
    let holds = |outer: Area, inner: Area| {
        outer.left <= inner.left
            && outer.top <= inner.top
            && outer.right >= inner.right
            && outer.bottom >= inner.bottom
    };
    let (width, height) = (i32::from(marks.width), i32::from(marks.height));
    let page = Area { left: 0, top: 0, right: width, bottom: height };
    let all = &marks.all;
    let mut found = Vec::new();
    for (place, mark) in all.iter().enumerate() {
        let Mark::Text(text) = mark else { continue };
        if !holds(page, text.area) {
            found.push(format!("{:?} is past the edge at {:?}", text.words, text.area));
        }
        let is_paper = |mark: &Mark| matches!(mark, Mark::Fill(paper, PAPER) if holds(*paper, text.area));
        let cleared = all[..place].iter().rposition(is_paper).unwrap_or(0);
        for (other, mark) in all.iter().enumerate().filter(|(other, _)| *other != place) {
            match mark {
                Mark::Text(other) if other.area.meets(text.area) => {
                    found.push(format!("{:?} meets {:?}", text.words, other.words));
                }
                Mark::Text(_) => {}
                mark if other >= cleared
                    && !(other < place && is_paper(mark))
                    && area(mark).is_some_and(|area| area.meets(text.area)) =>
                {
                    found.push(format!("{:?} is spoilt by {mark:?}", text.words));
                }
                _ => {}
            }
        }
    }
    found
}

/// The dots of a mark; of a slanted line, none.
fn area(mark: &Mark) -> Option<Area> {
    match mark {
        Mark::Fill(area, _) | Mark::Hatch(area) => Some(*area),
        Mark::Line(from, to, ..) | Mark::Dashed(from, to, ..) if from.x == to.x || from.y == to.y => {
            Some(Area {
                left: from.x.min(to.x),
                top: from.y.min(to.y),
                right: from.x.max(to.x).max(from.x + 1),
                bottom: from.y.max(to.y).max(from.y + 1),
            })
        }
        _ => None,
    }
}

#[test]
fn texts_lie_apart() {
    let mut found = Vec::new();
    for row in SHAPES {
        found.extend(spoilt_texts(&laid_out(row).1).into_iter().map(|text| format!("{text} of {row}")));
    }
    let letters = Letters::new().unwrap();
    for demo in ["larch-terrace", "harrier-wharf"] {
        let input = demo_input(demo);
        let report = pipeline::work(&input, &Silent).unwrap();
        for opening in 0..report.survey.openings.len() {
            let Some(elevation) = pictures::elevation(&report, opening) else { continue };
            let marks = lay_out(&elevation, report.rules.project.units, &letters);
            let name = &report.survey.openings[opening].who.name;
            found.extend(spoilt_texts(&marks).into_iter().map(|text| format!("{text} of {demo}, {name}")));
        }
    }
    assert_eq!(found, Vec::<String>::new());
}

#[test]
fn brackets_that_have_no_room_for_figures_are_numbered() {
    let (mut elevation, _) = laid_out(SHAPES[11]);
    let many: Vec<Length> = (0..16).map(|place| Length::sixty_fourths(256 + 756 * place)).collect();
    elevation.brackets_from_opening = Some(many.clone());
    elevation.brackets = many;
    let marks = lay_out(&elevation, Units::Inches, &Letters::new().unwrap());
    let words: Vec<&str> = marks.texts().map(|text| text.words.as_str()).collect();
    assert!(words.contains(&"bracket") && words.contains(&"1") && words.contains(&"16"), "{words:?}");
    assert!(!words.contains(&"from opening"));
    assert_eq!(spoilt_texts(&marks), Vec::<String>::new());
}

fn texts(row: &str) -> Vec<String> {
    laid_out(row).1.texts().map(|text| text.words.clone()).collect()
}

#[test]
fn every_figure_is_in_words() {
    // The sums are those of the elevations above.
    let outside = texts("Kind = patio door; Width = 106; Height = 78; Mount = outside; Draw = left");
    for words in [
        "2",
        "27 1/2",
        "53",
        "78 1/2",
        "104",
        "29 1/2",
        "55",
        "80 1/2",
        "106",
        "from opening",
        "from rail end",
        "83 1/2 drop",
        "1/2 to floor",
        "84 1/4 above floor",
        "110 wide",
        "overlap 2",
        "reach 3",
        "6 1/4 to head",
        "stacks left",
        "seen from inside the room; sizes in inches",
    ] {
        assert!(outside.iter().any(|text| text == words), "no {words:?} in {outside:?}");
    }
    let inside = texts("Kind = patio door; Width = 106; Height = 78; Recess depth = 3; Draw = split");
    for words in ["gap 1/4", "setback 7/8", "stacks both sides", "105 1/2 wide"] {
        assert!(inside.iter().any(|text| text == words), "no {words:?} in {inside:?}");
    }
    let unknown = texts("Kind = window; Width = 36; Height = 48; Mount = outside");
    assert!(!unknown.iter().any(|text| text.contains("floor") || text.contains("gap")), "{unknown:?}");
}

#[test]
fn figures_to_measure_by_are_high_enough() {
    let (_, marks) = laid_out(SHAPES[0]);
    for words in ["27 1/2", "83 1/2 drop", "84 1/4 above floor", "110 wide", "reach 3"] {
        let text = marks.texts().find(|text| text.words == words).unwrap();
        assert!(text.style.height() >= 18, "{words}");
    }
    let up = marks.texts().find(|text| text.words == "83 1/2 drop").unwrap();
    assert_eq!(up.turn, Turn::Up);
}

#[test]
fn lengths_are_shown_as_the_sheets_show_them() {
    for (nm, units, shown) in [
        (25_400_000, Units::Inches, "1"),
        (25_400_000 * 3 / 8, Units::Inches, "3/8"),
        // 33/64 is nearest to 1/2; 63/64 to a whole inch.
        (396_875 * 33, Units::Inches, "1/2"),
        (396_875 * 63, Units::Inches, "1"),
        (-25_400_000 / 4, Units::Inches, "-1/4"),
        (2_692_000_000, Units::Millimeters, "2692"),
        (2_692_400_000, Units::Millimeters, "2692.4"),
        (2_692_450_000, Units::Millimeters, "2692.5"),
    ] {
        assert_eq!(figure(Length::from_nm(nm), units), shown);
    }
}

#[test]
fn a_row_of_figures_is_spread_as_little_as_need_be() {
    let row = |middles: &[i32], width: i32| {
        middles.iter().map(|&middle| Wanted { middle, width }).collect::<Vec<_>>()
    };
    // Far apart: each stays where it would be, half its width left of its middle.
    assert_eq!(spread(&row(&[50, 150], 40), 10, 0, 200), Some(vec![30, 130]));
    // 20 apart with 40 and 10 between them: 15 to each side.
    assert_eq!(spread(&row(&[90, 110], 40), 10, 0, 200), Some(vec![55, 105]));
    // Kept from the edges, in order.
    assert_eq!(spread(&row(&[0, 0, 10], 40), 10, 0, 200), Some(vec![0, 50, 100]));
    assert_eq!(spread(&row(&[200, 200], 40), 10, 0, 200), Some(vec![110, 160]));
    // 4 x 40 + 3 x 10 = 190 fit exactly.
    assert_eq!(spread(&row(&[5, 5, 5, 5], 40), 10, 0, 190), Some(vec![0, 50, 100, 150]));
    assert_eq!(spread(&row(&[5, 5, 5, 5], 40), 10, 0, 189), None);
}

/// Grays of a picture's dots, 0 to 255.
fn grays(png: &[u8]) -> (u32, u32, Vec<u8>) {
    let mut decoder = Decoder::new(std::io::Cursor::new(png));
    decoder.set_transformations(Transformations::EXPAND);
    let mut reader = decoder.read_info().unwrap();
    let mut dots = vec![0; reader.output_buffer_size().unwrap()];
    let frame = reader.next_frame(&mut dots).unwrap();
    dots.truncate(frame.buffer_size());
    (frame.width, frame.height, dots)
}

/// Of a thousand dots, those that differ by more than a third of black from a picture kept.
fn off_by(picture: &Picture, kept: &Path) -> usize {
    let (kept, drawn) = (grays(&fs::read(kept).unwrap()), grays(&picture.png));
    assert_eq!((kept.0, kept.1), (drawn.0, drawn.1));
    let off = kept.2.iter().zip(&drawn.2).filter(|(kept, drawn)| kept.abs_diff(**drawn) > 85).count();
    (1_000 * off).div_ceil(drawn.2.len())
}

fn kept(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/pictures").join(name)
}

/// With `UPDATE_PICTURES=1` the pictures are drawn anew, to be looked at before they are kept.
#[test]
fn pictures_are_as_they_were_looked_at() {
    let letters = Letters::new().unwrap();
    for (name, row) in [("outside.png", SHAPES[10]), ("inside.png", SHAPES[1]), ("narrow.png", SHAPES[5])] {
        let picture = layout::picture(&elevation(row).unwrap(), Units::Inches, &letters).unwrap();
        if std::env::var_os("UPDATE_PICTURES").is_some() {
            fs::write(kept(name), &picture.png).unwrap();
        }
        assert!(off_by(&picture, &kept(name)) <= 2, "{name} looks different");
    }
    let other = layout::picture(&elevation(SHAPES[1]).unwrap(), Units::Inches, &letters).unwrap();
    assert!(off_by(&other, &kept("narrow.png")) > 2);
}

fn demo_input(name: &str) -> Input {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo").join(name).with_extension("xlsx");
    pipeline::read(&[path], None, &Silent).unwrap()
}

#[test]
fn each_elevation_is_drawn_once_whatever_the_threads() {
    let input = demo_input("larch-terrace");
    let report = pipeline::work(&input, &Silent).unwrap();
    let on = |threads: usize| {
        let pool = ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        pool.install(|| Pictures::of(&report).unwrap())
    };
    let (one, eight) = (on(1), on(8));
    assert_eq!(one, eight);
    assert!(one.distinct.len() < report.survey.openings.len());
    drawn_once(&report, &one);
}

fn drawn_once(report: &Report<'_>, drawn: &Pictures) {
    for (opening, blind) in report.blinds.iter().enumerate() {
        assert_eq!(drawn.of_opening[opening].is_some(), blind.is_some());
        let elevation = pictures::elevation(report, opening);
        let like = (0..opening).find(|&other| pictures::elevation(report, other) == elevation);
        if let Some(like) = like {
            assert_eq!(drawn.of_opening[like], drawn.of_opening[opening]);
        }
    }
}

#[test]
fn a_picture_is_small() {
    let picture =
        layout::picture(&elevation(SHAPES[0]).unwrap(), Units::Inches, &Letters::new().unwrap()).unwrap();
    assert_eq!((picture.width, picture.height), (720, 480));
    // 500 of them are the 6 MB that a workbook of some hundred openings may take.
    assert!(picture.png.len() < 12_000, "{} bytes", picture.png.len());
}

/// A font's text of a kind from its `name` table (ISO/IEC 14496-22): copyright is 0, its full
/// name 4, its license 13.
fn font_says(font: &[u8], kind: u16) -> String {
    let short = |at: usize| u16::from_be_bytes([font[at], font[at + 1]]);
    let long = |at: usize| (usize::from(short(at)) << 16) | usize::from(short(at + 2));
    let tables = (0..usize::from(short(4))).map(|place| 12 + 16 * place);
    let table = tables.filter(|at| &font[*at..at + 4] == b"name").map(|at| long(at + 8)).next().unwrap();
    let texts = table + usize::from(short(table + 4));
    let mut records = (0..usize::from(short(table + 2))).map(|place| table + 6 + 12 * place);
    // Platform 3 writes UTF-16.
    let record = records.find(|at| short(*at) == 3 && short(at + 6) == kind).unwrap();
    let (length, start) = (usize::from(short(record + 8)), texts + usize::from(short(record + 10)));
    let letters: Vec<u16> = (start..start + length).step_by(2).map(short).collect();
    String::from_utf16(&letters).unwrap()
}

#[test]
fn the_font_is_bundled_under_its_own_license() {
    let words = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let license = words(include_str!("../src/drawing/font-license.txt"));
    for (font, name) in [
        (dejavu::sans_condensed::regular(), "DejaVu Sans Condensed"),
        (dejavu::sans_condensed::bold(), "DejaVu Sans Condensed Bold"),
    ] {
        assert_eq!(font_says(font, 4), name);
        for holder in font_says(font, 0).lines().filter(|line| line.starts_with("Copyright")) {
            assert!(license.contains(&words(holder)), "{holder}");
        }
        // The font spells one name in its first line otherwise than the license does.
        let own = words(&font_says(font, 13));
        let from = own.find("Bitstream Vera Fonts Copyright").unwrap();
        assert!(license.contains(&own[from..]));
    }
    let cargo = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("Cargo.toml")).unwrap();
    assert!(cargo.contains(r#"include = ["src","#), "the license goes with src");
}

#[test]
fn texts_take_the_dots_that_they_say() {
    let letters = Letters::new().unwrap();
    for style in [Style::Main, Style::Side, Style::Small] {
        assert!(letters.width("105 1/2", style) > 3 * letters.width("1", style));
        assert_eq!(letters.width("", style), 0);
    }
}

/// A wand is drawn to where it ends, also past its blind, and nothing of it is outside the picture.
#[test]
fn a_wand_is_drawn_as_long_as_it_is() {
    let letters = Letters::new().unwrap();
    let whole = elevation("Kind = window; Width = 36; Height = 48; Sill height = 30; Draw = left").unwrap();
    for length in [12, 36, 48, 56, 70] {
        let (side, _) = whole.wand.unwrap();
        let elevation = Elevation { wand: Some((side, Length::inches(length))), ..whole.clone() };
        let marks = lay_out(&elevation, Units::Inches, &letters);
        let blind = marks.all.iter().find_map(|mark| match mark {
            Mark::Frame(area, 1, BLACK) => Some(*area),
            _ => None,
        });
        let blind = blind.unwrap();
        let ends = marks.all.iter().filter_map(|mark| match mark {
            Mark::Line(from, to, 2, BLACK) if from.x == to.x && from.y == blind.top => Some(to.y),
            _ => None,
        });
        let ends: Vec<i32> = ends.collect();
        // The frame runs from 1 1/2 in below the top of the drop to its end at 56.
        let expected = f64::from(blind.height()) * (length as f64 - 1.5) / (56.0 - 1.5);
        let [end] = ends[..] else { panic!("{length}: {ends:?}") };
        assert!((f64::from(end - blind.top) - expected).abs() < 2.0, "{length}: {end} in {blind:?}");
        assert!(end < i32::from(layout::HEIGHT), "{length}");
    }
}
