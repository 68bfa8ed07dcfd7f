//! The lines that a page is made of, each of a height that is known before it is written.

use std::borrow::Cow;

use super::super::cell::Cell;
use super::super::look::Tone;
use super::super::measure::{self, Weight};
use crate::length::Length;
use crate::query::OpeningIndex;

/// One line of a page. There may be a million of them, so what few have much of is in a box.
pub(super) enum Line<'p> {
    /// The unit's whole name.
    Title(String),
    /// A sentence over the whole width, as tall as it needs.
    Words(Cow<'p, str>, Tone),
    /// Two sentences side by side, each as tall as it needs.
    Halves([Cow<'p, str>; 2], Tone),
    /// A text, and up to three figures beside their names.
    Facts(Cow<'p, str>, Vec<(&'static str, Cell<'p>)>),
    /// Links to other sheets.
    Links(Vec<Cell<'p>>),
    /// The name of a block.
    Band(String, Tone),
    /// An opening, its name, and its finished width and drop, to be seen first. Its drawing hangs
    /// from here.
    Size(OpeningIndex, &'p str, [Length; 2]),
    /// What the columns below it are: brackets, numbered from the left.
    Numbers(usize, usize),
    /// Centers along the rail, beside what they are measured from.
    Centers(&'static str, Vec<Length>),
    /// Two figures with longer names.
    Pair(Box<[(&'static str, Cell<'p>); 2]>),
    /// Three figures with short names.
    Figures(Box<[(&'static str, Cell<'p>); 3]>),
    /// A text beside the drawing, with its name.
    Beside(&'static str, String),
    /// Boxes to fill in by hand.
    Boxes,
    /// Lines of two openings' blocks, side by side.
    Abreast(Box<[Line<'p>; 2]>),
    /// Room, in points.
    Gap(u32),
}

/// Points of a line of text: spreadsheet programs set 9-point letters in 12.
pub(super) const TEXT: u32 = 12;
/// The same of the title's letters.
const TITLE: u32 = 21;

/// How wide the places of texts are, in dots of 96 to the inch.
#[derive(Clone, Copy)]
pub(super) struct Room {
    /// The whole page.
    pub across: u32,
    /// An opening's block.
    pub block: u32,
    /// One of its halves.
    pub half: u32,
    /// Above the drawings.
    pub above: u32,
    /// Beside a drawing, right of a name.
    pub beside: u32,
    /// Beside the blocks; 0 where there is no such room.
    pub side: u32,
}

impl Room {
    /// The same within a block.
    const fn of_a_block(self) -> Room {
        Room { across: self.block, ..self }
    }
}

impl Line<'_> {
    /// Points from the top of the line to the next.
    pub(super) fn height(&self, room: Room) -> u32 {
        match self {
            Line::Title(title) => TITLE * lines(title, room.across, Letters::LARGE),
            Line::Words(words, tone) => TEXT * lines(words, room.across, Letters::of(*tone)),
            Line::Halves(words, tone) => {
                let tallest = words.iter().map(|words| lines(words, room.half, Letters::of(*tone))).max();
                TEXT * tallest.unwrap_or(1)
            }
            Line::Band(name, _) => 3 + TEXT * lines(name, room.across, Letters::BOLD),
            Line::Facts(words, _) => 3 + TEXT * lines(words, room.above, Letters::BOLD),
            Line::Beside(_, words) => TEXT * lines(words, room.beside, Letters::PLAIN),
            Line::Size(..) => 21,
            Line::Numbers(..) | Line::Links(_) => TEXT,
            Line::Centers(..) | Line::Pair(_) | Line::Figures(_) => 15,
            Line::Boxes => 18,
            Line::Abreast(lines) => {
                lines.iter().map(|line| line.height(room.of_a_block())).max().unwrap_or(0)
            }
            Line::Gap(points) => *points,
        }
    }
}

/// Points that a text takes in a place of so many dots.
pub(super) fn text_height(text: &str, dots: u32, tone: Tone) -> u32 {
    TEXT * lines(text, dots, Letters::of(tone))
}

/// How letters are set.
#[derive(Clone, Copy)]
struct Letters {
    /// Their height in quarters of a point.
    quarters: u32,
    weight: Weight,
}

impl Letters {
    const PLAIN: Letters = Letters { quarters: 36, weight: Weight::Regular };
    const BOLD: Letters = Letters { quarters: 36, weight: Weight::Bold };
    const LARGE: Letters = Letters { quarters: 64, weight: Weight::Bold };

    const fn of(tone: Tone) -> Letters {
        Letters { weight: tone.weight(), ..Letters::PLAIN }
    }
}

/// Dots at the sides of a cell that text keeps clear of, its indent among them.
const CLEAR: u32 = 18;

/// Lines that a text takes in a place of so many dots.
fn lines(text: &str, dots: u32, letters: Letters) -> u32 {
    // Three dots are as wide as nine quarters of a point.
    let thousandths = dots.saturating_sub(CLEAR) * measure::COUNTED / 100 * 3 * 1_000 / letters.quarters;
    u32::try_from(measure::wrapped(text, thousandths, letters.weight).len()).unwrap_or(u32::MAX)
}
