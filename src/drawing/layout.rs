//! The page of one drawing: the elevation with its dimensions, the section beside it, and what
//! the reader must know of both.

use super::DrawingError;
use super::canvas::{Area, BLACK, PAPER, Turn, dot};
use super::elevation::Elevation;
use super::figures::{Wanted, figure, spread};
use super::front::{self, Front, STRIP};
use super::letters::{Letters, Style};
use super::marks::{Mark, Marks, Text};
use super::picture::Picture;
use super::section;
use crate::length::{Length, Units};

/// Dots of a drawing: 90 mm by 60 mm at its own resolution.
pub const WIDTH: u16 = 720;
/// Dots down.
pub const HEIGHT: u16 = 480;

/// Where the elevation is drawn, beside a section and alone.
const FRONT: Area = Area { left: 128, top: 74, right: 506, bottom: 398 };
const FRONT_ALONE: Area = Area { right: 690, ..FRONT };
/// Where the section is drawn.
const SECTION: Area = Area { left: 526, top: 76, right: 716, bottom: 388 };
/// Rows of the bracket figures, of their dimension line, and of the words at the bottom.
const FIRST_ROW: i32 = 21;
const SECOND_ROW: i32 = 44;
const CHAIN: i32 = 66;
const CAPTION: i32 = 474;
/// Dots between two figures in a row: so many more than a space that none reads as one.
const BETWEEN: i32 = 22;
/// Dots by which lines run on past a lane, and by which its figures stand beside it.
const LANE_END: i32 = 4;
const BESIDE_LANE: i32 = 11;
/// Dots between two figures in a lane.
const IN_A_LANE: i32 = 10;
/// Rotated figures stay between these rows.
const LANES: (i32, i32) = (CHAIN, CAPTION - 18);

/// Lays an elevation out.
pub fn lay_out(elevation: &Elevation, units: Units, letters: &Letters) -> Marks {
    let mut marks = Marks::new(WIDTH, HEIGHT);
    let room = if elevation.section.is_some() { FRONT } else { FRONT_ALONE };
    let front = front::draw(&mut marks, elevation, room, letters);
    let page = Page { elevation, units, letters, front: &front };
    page.brackets(&mut marks);
    page.heights(&mut marks);
    page.widths(&mut marks);
    if let Some(section) = &elevation.section {
        section::draw(&mut marks, elevation, section, SECTION, units, letters);
    }
    let unit = match units {
        Units::Inches => "inches",
        Units::Millimeters => "millimeters",
    };
    let caption = format!("seen from inside the room; sizes in {unit}");
    marks.text(Text::new(letters, caption, Style::Small, dot(6, CAPTION), Turn::Across));
    marks
}

/// Draws an elevation.
///
/// # Errors
/// If the dots cannot be put into a file.
pub fn picture(elevation: &Elevation, units: Units, letters: &Letters) -> Result<Picture, DrawingError> {
    lay_out(elevation, units, letters).picture(letters)
}

struct Page<'d> {
    elevation: &'d Elevation,
    units: Units,
    letters: &'d Letters,
    front: &'d Front,
}

impl Page<'_> {
    fn figure(&self, length: Length) -> String {
        figure(length, self.units)
    }

    /// Bracket centers over the rail, each from the opening's edge and from the rail's end, joined
    /// to its bracket. Figures that have no room become numbers, which the page explains.
    fn brackets(&self, marks: &mut Marks) {
        let view = self.front.view;
        let elevation = self.elevation;
        let from_rail = &elevation.brackets;
        let from_opening = elevation.brackets_from_opening.as_deref();
        let first = from_opening.unwrap_or(from_rail);
        let rows = [Style::Main, Style::Side, Style::Small].into_iter().find_map(|style| {
            let second = from_opening.map(|_| from_rail.as_slice());
            self.row(first, second, style)
        });
        let (columns, names) = match rows {
            Some(columns) => {
                let names = match from_opening {
                    Some(_) => vec![("from opening", FIRST_ROW), ("from rail end", SECOND_ROW)],
                    None => vec![("from rail end", FIRST_ROW)],
                };
                (columns, names)
            }
            None => (self.numbers(), vec![("bracket", FIRST_ROW)]),
        };
        let left = columns.iter().map(|column| column.left).min().unwrap_or(0);
        for (name, baseline) in names {
            let width = self.letters.width(name, Style::Small);
            let at =
                dot((left - BETWEEN - width).min(self.front.view.x(Length::ZERO) - width).max(4), baseline);
            marks.text(Text::new(self.letters, name, Style::Small, at, Turn::Across));
        }
        let start =
            elevation.opening.map_or(0, |hole| view.scale.dots(hole.across.from)).min(0) + view.origin.x;
        let end = from_rail.iter().map(|&center| view.x(center)).max().unwrap_or(start);
        marks.thin(dot(start, CHAIN), dot(end + 5, CHAIN));
        for (center, column) in from_rail.iter().zip(columns) {
            let x = view.x(*center);
            marks.thin(dot(x, CHAIN - 4), dot(x, view.y(elevation.bracket_top) - 2));
            marks.tick(dot(x, CHAIN));
            let foot = column.texts.iter().map(|text| text.area.bottom).max().unwrap_or(CHAIN) + 1;
            marks.thin(dot(x, CHAIN - 4), dot(column.middle, foot));
            for text in column.texts {
                marks.text(text);
            }
        }
        if let Some(hole) = elevation.opening {
            let x = view.x(hole.across.from);
            marks.thin(dot(x, CHAIN - 6), dot(x, view.y(hole.down.from)));
            marks.add(Mark::Fill(Area::sized(dot(x - 3, CHAIN - 3), 7, 7), BLACK));
        }
        let x = view.x(Length::ZERO);
        marks.thin(dot(x, CHAIN - 6), dot(x, view.y(elevation.bracket_top)));
    }

    /// The figures in columns, spread over the picture's width; `None` if there is no room.
    fn row(&self, first: &[Length], second: Option<&[Length]>, style: Style) -> Option<Vec<Column>> {
        let under = if style == Style::Small { Style::Small } else { Style::Side };
        let texts: Vec<(String, Option<String>)> = (0..first.len())
            .map(|place| {
                let below = second.and_then(|second| second.get(place));
                (self.figure(first[place]), below.map(|&below| self.figure(below)))
            })
            .collect();
        self.columns(&texts, style, under)
    }

    /// The brackets' numbers instead.
    fn numbers(&self) -> Vec<Column> {
        let numbers: Vec<(String, Option<String>)> =
            (1..=self.elevation.brackets.len()).map(|number| (number.to_string(), None)).collect();
        self.columns(&numbers, Style::Small, Style::Small).unwrap_or_default()
    }

    fn columns(&self, texts: &[(String, Option<String>)], style: Style, under: Style) -> Option<Vec<Column>> {
        let width = |(first, second): &(String, Option<String>)| {
            let second = second.as_ref().map_or(0, |second| self.letters.width(second, under));
            self.letters.width(first, style).max(second)
        };
        let wanted: Vec<Wanted> = texts
            .iter()
            .zip(&self.elevation.brackets)
            .map(|(text, &center)| Wanted { middle: self.front.view.x(center), width: width(text) })
            .collect();
        let names = self.letters.width("from rail end", Style::Small) + 4 + BETWEEN;
        let lefts = spread(&wanted, BETWEEN, names, i32::from(WIDTH) - 4)?;
        let column = |((left, wanted), (first, second)): ((i32, &Wanted), &(String, Option<String>))| {
            let middle = left + wanted.width / 2;
            let centered = |words: &String, style: Style, baseline: i32| {
                let at = dot(middle - self.letters.width(words, style) / 2, baseline);
                Text::new(self.letters, words.as_str(), style, at, Turn::Across)
            };
            let mut texts = vec![centered(first, style, FIRST_ROW)];
            texts.extend(second.as_ref().map(|second| centered(second, under, SECOND_ROW)));
            Column { left, middle, texts }
        };
        Some(lefts.into_iter().zip(&wanted).zip(texts).map(column).collect())
    }

    /// Drop and gap to the floor in one lane at the left, the bracket's height above the floor in the next.
    fn heights(&self, marks: &mut Marks) {
        let (view, elevation) = (self.front.view, self.elevation);
        let lanes @ [near, far] = [self.front.area.left - 14, self.front.area.left - 52];
        let (top, bottom) = (view.y(Length::ZERO), view.y(elevation.drop));
        for y in [top, bottom] {
            marks.thin(dot(near - LANE_END, y), dot(view.x(Length::ZERO), y));
        }
        marks.dimension(dot(near, top), dot(near, bottom));
        let gap = elevation.gap_below().filter(|&gap| gap > Length::ZERO);
        let drop: &[&str] = if gap.is_some() { &[" drop", ""] } else { &[" drop"] };
        let mut texts = [vec![self.beside(elevation.drop, drop, Style::Main, (top, bottom))], Vec::new()];
        if let Some((above, floor)) = elevation.bracket_above_floor().zip(elevation.floor) {
            let (top, floor) = (view.y(elevation.bracket_top), view.y(floor));
            marks.thin(dot(far - LANE_END, top), dot(view.x(Length::ZERO), top));
            marks.thin(dot(far - LANE_END, floor), dot(self.front.area.left, floor));
            marks.dimension(dot(far, top), dot(far, floor));
            let words = &[" bracket top above floor", " above floor"];
            texts[1].push(self.beside(above, words, Style::Main, (top, floor)));
            if let Some(gap) = gap {
                marks.dimension(dot(near, bottom), dot(near, floor));
                texts[0].push(self.beside(gap, &[" to floor"], Style::Side, (bottom, floor)));
            }
        }
        for (lane, texts) in lanes.into_iter().zip(texts) {
            self.upright(marks, lane - BESIDE_LANE, texts);
        }
    }

    /// A figure for a span of rows, with the first of the words that fits beside it, else the last.
    fn beside(&self, length: Length, words: &[&str], style: Style, span: (i32, i32)) -> Upright {
        let figure = self.figure(length);
        let room = span.1 - span.0 - 12;
        let fits = |word: &&&str| self.letters.width(&format!("{figure}{word}"), style) <= room;
        let word = words.iter().find(fits).or(words.last()).copied().unwrap_or_default();
        Upright { words: format!("{figure}{word}"), style, middle: (span.0 + span.1) / 2 }
    }

    /// Figures that run up along one lane, from the top one down, each beside its span as far as
    /// the others allow.
    fn upright(&self, marks: &mut Marks, column: i32, texts: Vec<Upright>) {
        let wanted: Vec<Wanted> = texts
            .iter()
            .map(|text| Wanted { middle: text.middle, width: self.letters.width(&text.words, text.style) })
            .collect();
        // A lane is longer than any two figures.
        let tops = spread(&wanted, IN_A_LANE, LANES.0, LANES.1).unwrap_or_default();
        for ((text, wanted), top) in texts.into_iter().zip(wanted).zip(tops) {
            let at = dot(column, top + wanted.width);
            let text = Text::new(self.letters, text.words, text.style, at, Turn::Up);
            // Lines to the next lane stop short of it.
            marks.add(Mark::Fill(text.area.grown(1), PAPER));
            marks.text(text);
        }
    }

    /// Overlaps or gaps in a row under the elevation, the finished width in the next.
    fn widths(&self, marks: &mut Marks) {
        let (view, elevation) = (self.front.view, self.elevation);
        let (left, right) = (view.x(Length::ZERO), view.x(elevation.width));
        let bottom = view.y(elevation.drop);
        let base = self.front.area.bottom + if elevation.floor.is_some() { STRIP } else { 0 };
        let (first, second) = (base + 15, base + 41);
        for x in [left, right] {
            marks.thin(dot(x, bottom), dot(x, second + 6));
        }
        marks.dimension(dot(left, second), dot(right, second));
        let words = format!("{} wide", self.figure(elevation.width));
        let width = self.letters.width(&words, Style::Main);
        let at = if width + 30 < right - left { (left + right - width) / 2 } else { right + 12 };
        let text = Text::new(self.letters, words, Style::Main, dot(at, second + 9), Turn::Across);
        marks.add(Mark::Fill(text.area.grown(3), PAPER));
        marks.text(text);

        let Some((overlaps, hole)) = elevation.overlaps().zip(elevation.opening) else { return };
        let edges = [view.x(hole.across.from), view.x(hole.across.to)];
        for x in edges {
            marks.thin(dot(x, view.y(hole.down.to).max(bottom)), dot(x, first + 6));
        }
        for (end, edge) in [left, right].into_iter().zip(edges) {
            marks.dimension(dot(end.min(edge), first), dot(end.max(edge), first));
        }
        self.overlaps(marks, overlaps, [left.max(edges[0]), right.min(edges[1])], first + 8);
    }

    /// Overlaps or gaps between the ends of the row, in words where there is room, else as bare
    /// figures; both at its right where there is none.
    fn overlaps(&self, marks: &mut Marks, overlaps: [Length; 2], ends: [i32; 2], baseline: i32) {
        let figures = overlaps.map(|overlap| self.figure(overlap.abs()));
        let words = overlaps.map(|overlap| if overlap < Length::ZERO { "gap" } else { "overlap" });
        let in_words = [0, 1].map(|side| format!("{} {}", words[side], figures[side]));
        let text =
            |words: &str, x: i32| Text::new(self.letters, words, Style::Side, dot(x, baseline), Turn::Across);
        let [from, to] = [ends[0] + 10, ends[1] - 10];
        for pair in [&in_words, &figures] {
            let [one, other] = [text(&pair[0], from), text(&pair[1], to)];
            let start = to - other.area.width();
            if one.area.right + BETWEEN <= start {
                marks.text(one);
                return marks.text(text(&pair[1], start));
            }
        }
        let [left, right] = figures;
        let both = match words {
            _ if overlaps[0] == overlaps[1] => format!("{} each side", in_words[0]),
            [one, other] if one == other => format!("{one} {left} left, {right} right"),
            _ => format!("{} left, {} right", in_words[0], in_words[1]),
        };
        let past = self.front.view.x(self.elevation.width).max(ends[1]).max(self.front.area.right - STRIP);
        marks.text(text(&both, past + 12));
    }
}

/// A figure that runs up, and the row that its middle would best be on.
struct Upright {
    words: String,
    style: Style,
    middle: i32,
}

/// The figures of one bracket, one over the other.
struct Column {
    left: i32,
    middle: i32,
    texts: Vec<Text>,
}
