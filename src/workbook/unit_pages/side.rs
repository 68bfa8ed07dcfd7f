//! Notes beside the blocks of the first page, on the rows that the blocks make: what to watch for, then
//! the order of work. Rows are added below the blocks as far as the page holds them; what still finds no
//! room stands below, over the whole width.

use std::ops::RangeInclusive;

use super::super::look::Tone;
use super::foot::{self, Note};
use super::line::{Line, Room, TEXT, text_height};
use super::paper::Laid;

/// A text beside the blocks.
pub(super) struct Beside {
    /// Positions of the lines that it stands beside.
    pub lines: RangeInclusive<usize>,
    /// What it says.
    pub words: String,
    /// How it is set.
    pub tone: Tone,
}

/// Puts notes beside the lines from `first` on, as many as leave room below for the others, which are
/// handed back.
pub(super) fn place(
    laid: &mut Laid<'_>,
    first: usize,
    room: Room,
    capacity: u32,
    notes: &[Note],
) -> Vec<Note> {
    let blocks = laid.lines.len();
    let height = |lines: &[Line<'_>]| lines.iter().map(|line| line.height(room)).sum::<u32>();
    let least = height(&laid.lines);
    let mut most = capacity;
    loop {
        laid.lines.truncate(blocks);
        laid.side.clear();
        let left = Column { laid, next: first, room, most }.fill(notes);
        let below: u32 = left.iter().map(|note| height(&foot::below(note))).sum();
        let over = (height(&laid.lines) + below).saturating_sub(capacity);
        if over == 0 || most <= least || !laid.breaks.is_empty() {
            return left;
        }
        most = most.saturating_sub(over).max(least);
    }
}

/// The column beside the blocks, from its first free line on.
struct Column<'l, 'p> {
    laid: &'l mut Laid<'p>,
    next: usize,
    room: Room,
    /// Points of the page down to which lines may be added.
    most: u32,
}

impl Column<'_, '_> {
    /// As many texts of each note as there is room for; hands back the others.
    fn fill(mut self, notes: &[Note]) -> Vec<Note> {
        let mut left = Vec::new();
        for Note { heading, texts } in notes {
            let fits = if left.is_empty() { self.how_many(heading, texts) } else { 0 };
            if fits > 0 {
                self.take(heading.clone(), Tone::PageHeading);
                self.take(texts[..fits].join("\n"), Tone::PageWords);
            }
            if fits < texts.len() {
                let heading = if fits > 0 { format!("{heading}, continued") } else { heading.clone() };
                left.push(Note { heading, texts: texts[fits..].to_vec() });
            }
        }
        left
    }

    /// How many of a note's texts there is room for below its heading.
    fn how_many(&self, heading: &str, texts: &[String]) -> usize {
        let heights = |texts: &[String]| -> u32 {
            texts.iter().map(|text| text_height(text, self.room.side, Tone::PageWords)).sum()
        };
        // A heading takes whole lines, and is not parted from its first text.
        let heading = text_height(heading, self.room.side, Tone::PageHeading) + TEXT;
        let room = self.left().saturating_sub(heading);
        (0..=texts.len()).rev().find(|&count| heights(&texts[..count]) <= room).unwrap_or(0)
    }

    /// Points that are left.
    fn left(&self) -> u32 {
        let end = self.laid.breaks.first().copied().unwrap_or(self.laid.lines.len());
        let free = self.laid.lines.get(self.next..end).unwrap_or_default();
        let free: u32 = free.iter().map(|line| line.height(self.room)).sum();
        let to_add = if self.laid.breaks.is_empty() { self.most.saturating_sub(self.used()) } else { 0 };
        free + to_add / TEXT * TEXT
    }

    fn used(&self) -> u32 {
        self.laid.lines.iter().map(|line| line.height(self.room)).sum()
    }

    /// Takes the lines beside which a text fits, and adds those that are missing.
    fn take(&mut self, words: String, tone: Tone) {
        let first = self.next;
        let mut missing: u32 = words.lines().map(|line| text_height(line, self.room.side, tone)).sum();
        while missing > 0 {
            if self.next == self.laid.lines.len() {
                self.laid.lines.push(Line::Gap(TEXT));
            }
            missing = missing.saturating_sub(self.laid.lines[self.next].height(self.room));
            self.next += 1;
        }
        let lines = first..=self.next.saturating_sub(1).max(first);
        self.laid.side.push(Beside { lines, words, tone });
    }
}
