//! The lines that a page is made of, each of a height that is known before it is written.

use std::borrow::Cow;

use super::super::cell::Cell;
use super::super::look::Tone;
use crate::length::Length;
use crate::query::OpeningIndex;

/// One line of a page.
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
    /// Centres along the rail, beside what they are measured from.
    Centres(&'static str, Vec<Length>),
    /// Two figures with longer names.
    Pair([(&'static str, Cell<'p>); 2]),
    /// Three figures with short names.
    Figures([(&'static str, Cell<'p>); 3]),
    /// A text beside the drawing, with its name.
    Beside(&'static str, String),
    /// Boxes to fill in by hand.
    Boxes,
    /// Room, in points.
    Gap(u32),
}

/// Points of a line of text: spreadsheet programs set 9-point Arial in 12.
pub(super) const TEXT: u32 = 12;

/// How many characters fit where, which depends on whether there are drawings.
#[derive(Clone, Copy)]
pub(super) struct Room {
    /// On a line beside the drawing.
    pub beside: usize,
    /// On a line of what stands above the drawings.
    pub above: usize,
}

/// Characters that fit on a line over the whole width.
pub(super) const ACROSS: usize = 128;
/// The same over half of it.
const HALF: usize = 60;
/// The same in the title.
const TITLE: usize = 56;

impl Line<'_> {
    /// Points from the top of the line to the next.
    pub(super) fn height(&self, room: Room) -> u32 {
        match self {
            Line::Title(title) => 21 * lines(title, TITLE),
            Line::Words(words, _) => TEXT * lines(words, ACROSS),
            Line::Halves(words, _) => {
                let tallest = words.iter().map(|words| lines(words, HALF)).max();
                TEXT * tallest.unwrap_or(1)
            }
            Line::Beside(_, words) => TEXT * lines(words, room.beside),
            Line::Size(..) => 21,
            Line::Numbers(..) | Line::Links(_) => TEXT,
            Line::Facts(words, _) => 3 + TEXT * lines(words, room.above),
            Line::Centres(..) | Line::Pair(_) | Line::Figures(_) | Line::Band(..) => 15,
            Line::Boxes => 21,
            Line::Gap(points) => *points,
        }
    }
}

/// Lines that a text takes where so many characters fit on one.
fn lines(text: &str, characters: usize) -> u32 {
    u32::try_from(Cell::from(text).lines(characters)).unwrap_or(u32::MAX).max(1)
}
