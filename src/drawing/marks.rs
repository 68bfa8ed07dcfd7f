//! What a drawing is made of, in dots: a list of marks, the later over the earlier. It can be
//! looked at before it is laid on a canvas.

use std::sync::LazyLock;

use super::DrawingError;
use super::canvas::{Area, BLACK, Canvas, Coverage, DARK, Dot, Ink, Turn, dot};
use super::letters::{Letters, Style};
use super::picture::Picture;

/// Strokes of dimension and extension lines.
pub const THIN: Ink = DARK;
/// Half the size of a dimension's oblique tick (ISO 129-1), in dots.
const TICK: i32 = 4;
/// The tick about its middle: every drawing has dozens, and smoothing one takes longer than all else of it.
static TICK_SHAPE: LazyLock<Coverage> =
    LazyLock::new(|| Coverage::of_line(dot(-TICK, TICK), dot(TICK, -TICK), 2, AROUND_TICK));
const AROUND_TICK: Area = Area::sized(dot(0, 0), 0, 0).grown(2 * TICK);

/// One mark.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Mark {
    /// A filled area.
    Fill(Area, Ink),
    /// An area's frame and its thickness.
    Frame(Area, i32, Ink),
    /// An area cut through: hatched.
    Hatch(Area),
    /// A line and its thickness.
    Line(Dot, Dot, i32, Ink),
    /// A dashed line and its thickness.
    Dashed(Dot, Dot, i32, Ink),
    /// A filled shape.
    Shape(Vec<Dot>, Ink),
    /// The oblique tick at an end of a dimension, by its middle.
    Tick(Dot),
    /// A text.
    Text(Text),
}

/// A text and the dots that it takes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Text {
    /// What it says.
    pub words: String,
    /// How it is set.
    pub style: Style,
    /// Which way it runs.
    pub turn: Turn,
    /// From the top of its digits to its tails, from its beginning to its end.
    pub area: Area,
}

impl Text {
    /// A text that begins at `at`: its left end (turned: its lower end), on the line that its
    /// digits stand on.
    pub fn new(letters: &Letters, words: impl Into<String>, style: Style, at: Dot, turn: Turn) -> Text {
        let words = words.into();
        let width = letters.width(&words, style);
        let (above, below) = (style.height(), style.below());
        let area = match turn {
            Turn::Across => Area { left: at.x, top: at.y - above, right: at.x + width, bottom: at.y + below },
            Turn::Up => Area { left: at.x - above, top: at.y - width, right: at.x + below, bottom: at.y },
        };
        Text { words, style, turn, area }
    }

    fn start(&self) -> Dot {
        match self.turn {
            Turn::Across => dot(self.area.left, self.area.top + self.style.height()),
            Turn::Up => dot(self.area.left + self.style.height(), self.area.bottom),
        }
    }
}

/// A drawing before it is on a canvas.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Marks {
    /// Dots across.
    pub width: u16,
    /// Dots down.
    pub height: u16,
    /// The marks, the later over the earlier.
    pub all: Vec<Mark>,
}

impl Marks {
    /// A blank drawing.
    pub fn new(width: u16, height: u16) -> Marks {
        Marks { width, height, all: Vec::new() }
    }

    /// Every text.
    pub fn texts(&self) -> impl Iterator<Item = &Text> {
        self.all.iter().filter_map(|mark| match mark {
            Mark::Text(text) => Some(text),
            _ => None,
        })
    }

    /// Adds a mark.
    pub fn add(&mut self, mark: Mark) {
        self.all.push(mark);
    }

    /// Adds a thin line.
    pub fn thin(&mut self, from: Dot, to: Dot) {
        self.add(Mark::Line(from, to, 1, THIN));
    }

    /// Adds a dashed frame.
    pub fn dashed_frame(&mut self, area: Area, thickness: i32, ink: Ink) {
        let Area { left, top, right, bottom } = area;
        for (from, to) in [
            (dot(left, top), dot(right, top)),
            (dot(left, bottom), dot(right, bottom)),
            (dot(left, top), dot(left, bottom)),
            (dot(right, top), dot(right, bottom)),
        ] {
            self.add(Mark::Dashed(from, to, thickness, ink));
        }
    }

    /// Adds the oblique tick at an end of a dimension.
    pub fn tick(&mut self, at: Dot) {
        self.add(Mark::Tick(at));
    }

    /// Adds a dimension line between two dots on a row or on a column, with its ticks.
    pub fn dimension(&mut self, from: Dot, to: Dot) {
        let past = |a: i32, b: i32| if a == b { 0 } else { TICK };
        let (across, down) = (past(from.x, to.x), past(from.y, to.y));
        self.thin(dot(from.x - across, from.y - down), dot(to.x + across, to.y + down));
        self.tick(from);
        self.tick(to);
    }

    /// Adds a filled arrow head whose tip is at `tip`, pointing left or right.
    pub fn arrow_head(&mut self, tip: Dot, size: i32) {
        let back = tip.x - size;
        let half = size.abs() / 2;
        self.add(Mark::Shape(vec![tip, dot(back, tip.y - half), dot(back, tip.y + half)], BLACK));
    }

    /// Adds a text.
    pub fn text(&mut self, text: Text) {
        self.add(Mark::Text(text));
    }

    /// Draws the marks.
    ///
    /// # Errors
    /// If the drawing has no dots.
    pub fn picture(&self, letters: &Letters) -> Result<Picture, DrawingError> {
        let mut canvas = Canvas::new(self.width, self.height);
        for mark in &self.all {
            match mark {
                Mark::Fill(area, ink) => canvas.fill(*area, *ink),
                Mark::Frame(area, thickness, ink) => canvas.frame(*area, *thickness, *ink),
                Mark::Hatch(area) => canvas.hatch(*area, 6, 1, THIN),
                Mark::Line(from, to, thickness, ink) => canvas.line(*from, *to, *thickness, *ink),
                Mark::Dashed(from, to, thickness, ink) => {
                    canvas.dashed(*from, *to, (8, 5), *thickness, *ink);
                }
                Mark::Shape(corners, ink) => canvas.shape(corners, *ink),
                Mark::Tick(at) => canvas.stamp(&TICK_SHAPE, *at, BLACK),
                Mark::Text(text) => {
                    letters.lay(&mut canvas, &text.words, text.style, text.start(), text.turn, BLACK);
                }
            }
        }
        Picture::of(&canvas)
    }
}
