//! Notes beside the blocks of the first page, on the rows that the blocks make: what to watch for, then
//! the order of work. Rows are added below the blocks as far as the page holds them; what still finds no
//! room stands below.

use std::ops::RangeInclusive;

use super::super::look::Tone;
use super::foot::Note;
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

/// Puts as many notes as there is room for beside the lines from `first` on; hands back the others.
pub(super) fn place(
    laid: &mut Laid<'_>,
    first: usize,
    room: Room,
    capacity: u32,
    notes: Vec<Note>,
) -> Vec<Note> {
    let mut column = Column { laid, next: first, room, capacity };
    let mut notes = notes.into_iter();
    let mut left = Vec::new();
    for note in notes.by_ref() {
        let words = note.texts.join("\n");
        let placed = column.take(&note.heading, Tone::PageHeading).zip(column.take(&words, Tone::PageWords));
        match placed {
            Some((heading, text)) => column.laid.side.extend([heading, text]),
            None => {
                left.push(note);
                break;
            }
        }
    }
    left.extend(notes);
    left
}

/// The column beside the blocks, from its first free line on.
struct Column<'l, 'p> {
    laid: &'l mut Laid<'p>,
    next: usize,
    room: Room,
    capacity: u32,
}

impl Column<'_, '_> {
    /// The lines beside which a text fits; `None` where the page has no room for it.
    fn take(&mut self, words: &str, tone: Tone) -> Option<Beside> {
        let first = self.next;
        let mut missing = words.lines().map(|line| text_height(line, self.room.side, tone)).sum::<u32>();
        while missing > 0 {
            let height = match self.on_page().get(self.next) {
                Some(line) => line.height(self.room),
                None => self.lengthen()?,
            };
            missing = missing.saturating_sub(height);
            self.next += 1;
        }
        let last = self.next.checked_sub(1).filter(|last| *last >= first)?;
        Some(Beside { lines: first..=last, words: words.to_owned(), tone })
    }

    fn on_page(&self) -> &[Line<'_>] {
        let end = self.laid.breaks.first().copied().unwrap_or(self.laid.lines.len());
        self.laid.lines.get(..end).unwrap_or_default()
    }

    /// Adds a line below the blocks, if the page holds it; gives its height.
    fn lengthen(&mut self) -> Option<u32> {
        let used: u32 = self.laid.lines.iter().map(|line| line.height(self.room)).sum();
        let fits = self.laid.breaks.is_empty() && used + TEXT <= self.capacity;
        fits.then(|| self.laid.lines.push(Line::Gap(TEXT)))?;
        Some(TEXT)
    }
}
