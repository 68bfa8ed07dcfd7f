//! A bar as it is cut, to scale: the trim of its raw ends, its pieces with their lengths, what the
//! saw takes between them, and what is left over.

use super::DrawingError;
use super::canvas::{Area, BLACK, Canvas, Ink, Turn, dot};
use super::letters::{Letters, Style};
use super::picture::Picture;
use crate::length::Length;

/// A bar and how it is cut, from its raw end on.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Bar {
    /// Length of the bar.
    pub stock: Length,
    /// What comes off each raw end.
    pub trim: Length,
    /// What the saw takes at a cut.
    pub kerf: Length,
    /// The pieces in the order of cutting: how long each is, and the words for that.
    pub pieces: Vec<(Length, String)>,
    /// The words for what is left over; empty if nothing is.
    pub left: String,
}

/// What a stretch of a bar is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stretch {
    /// A raw end that is cut off.
    Trim,
    /// The piece at that place of the list.
    Piece(usize),
    /// What the saw takes.
    Kerf,
    /// What is left over.
    Left,
}

/// A stretch of a bar in dots from its raw end; `to` is the first dot after it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Mark {
    /// What it is.
    pub stretch: Stretch,
    /// Its first dot.
    pub from: i32,
    /// The dot after its last.
    pub to: i32,
}

/// Dots along a bar, however long it is.
pub const LONG: u16 = 1_440;
/// Dots from its top to its bottom.
pub const HIGH: u16 = 64;

const TRIM: Ink = 8;
const HATCHING: Ink = 6;
/// Paper on each side of a text.
const AROUND: i32 = 4;

impl Bar {
    /// Every stretch from the raw end on, each end rounded to the nearest dot by itself, so that no
    /// error adds up.
    pub fn marks(&self) -> Vec<Mark> {
        let mut marks = Vec::with_capacity(self.pieces.len() * 2 + 3);
        let mut at = Length::ZERO;
        let mut mark = |stretch, length: Length| {
            let end = (at + length).min(self.stock);
            if end > at {
                marks.push(Mark { stretch, from: self.dots(at), to: self.dots(end) });
            }
            at = at.max(end);
        };
        mark(Stretch::Trim, self.trim);
        let mut end = self.trim;
        for (place, (length, _)) in self.pieces.iter().enumerate() {
            mark(Stretch::Piece(place), *length);
            mark(Stretch::Kerf, self.kerf);
            end = end + *length + self.kerf;
        }
        // The far end is raw as well, as far as the last cut leaves it.
        let left = (self.stock - end).max(Length::ZERO);
        mark(Stretch::Left, (left - self.trim).max(Length::ZERO));
        mark(Stretch::Trim, left.min(self.trim));
        marks
    }

    fn dots(&self, along: Length) -> i32 {
        let dots =
            Length::from_ratio(i128::from(along.nm()) * i128::from(LONG), i128::from(self.stock.nm().max(1)));
        i32::try_from(dots.nm()).unwrap_or(i32::MAX)
    }

    /// The bar as a picture.
    ///
    /// # Errors
    /// If the picture's file cannot be put together.
    pub fn picture(&self, letters: &Letters) -> Result<Picture, DrawingError> {
        let mut canvas = Canvas::new(LONG, HIGH);
        let marks = self.marks();
        for mark in &marks {
            let area = across(mark.from, mark.to);
            match mark.stretch {
                Stretch::Trim => canvas.fill(area, TRIM),
                Stretch::Left => canvas.hatch(area, 9, 2, HATCHING),
                // A cut is seen however thin it is.
                Stretch::Kerf => canvas.fill(across(mark.from, mark.to.max(mark.from + 2)), BLACK),
                Stretch::Piece(_) => canvas.fill(across(mark.to - 1, mark.to + 1), BLACK),
            }
        }
        canvas.frame(canvas.area(), 2, BLACK);
        self.label(&mut canvas, letters, &marks);
        Picture::of(&canvas)
    }

    /// Writes the length on each piece, or where they are too short on each run of equal ones; and
    /// what is left over. What has no room is in the rows below the picture.
    fn label(&self, canvas: &mut Canvas, letters: &Letters, marks: &[Mark]) {
        let places: Vec<(usize, Mark)> = marks
            .iter()
            .filter_map(|mark| match mark.stretch {
                Stretch::Piece(place) => Some((place, *mark)),
                _ => None,
            })
            .collect();
        for run in places.chunk_by(|left, right| self.pieces.get(left.0) == self.pieces.get(right.0)) {
            let [(place, first), ..] = run else { continue };
            let Some((_, words)) = self.pieces.get(*place) else { continue };
            let wide = |mark: &Mark| fits(letters, words, mark.from, mark.to);
            if run.iter().all(|(_, mark)| wide(mark)) {
                for (_, mark) in run {
                    write(canvas, letters, words, mark.from, mark.to);
                }
            } else {
                let to = run.last().map_or(first.to, |(_, last)| last.to);
                write(canvas, letters, &format!("{} x {words}", run.len()), first.from, to);
            }
        }
        if let Some(left) = marks.iter().find(|mark| mark.stretch == Stretch::Left) {
            write(canvas, letters, &self.left, left.from, left.to);
        }
    }
}

/// The whole height of the bar between two dots.
const fn across(from: i32, to: i32) -> Area {
    Area { left: from, top: 0, right: to, bottom: HIGH as i32 }
}

fn fits(letters: &Letters, words: &str, from: i32, to: i32) -> bool {
    letters.width(words, Style::Side) + 2 * AROUND <= to - from
}

/// Writes words in the middle of a stretch, on paper of their own, if there is room.
fn write(canvas: &mut Canvas, letters: &Letters, words: &str, from: i32, to: i32) {
    if words.is_empty() || !fits(letters, words, from, to) {
        return;
    }
    let (width, height) = (letters.width(words, Style::Side), Style::Side.height());
    let at = dot((from + to - width) / 2, (i32::from(HIGH) + height) / 2);
    let paper = Area { left: at.x, top: at.y - height, right: at.x + width, bottom: at.y };
    canvas.fill(paper.grown(AROUND), 0);
    letters.lay(canvas, words, Style::Side, at, Turn::Across, BLACK);
}
