//! How wide a sheet's columns are: as wide as the widest text that each holds.

use super::measure::{COUNTED, DIGIT};

/// Text wraps at this many digits' width unless a column says otherwise.
pub(super) const WIDEST: usize = 34;
/// Every column holds at least this many.
pub(super) const NARROWEST: usize = 5;
/// What a column takes beside its text, in pixels of which 96 are an inch: padding and indent.
const BESIDE_TEXT: u32 = 18;
/// Pixels that the sheets' font is high.
const FONT: u32 = 12;

/// Room for so many digits, in thousandths of the font's height.
pub(super) fn digits(count: usize) -> u32 {
    u32::try_from(count).unwrap_or(u32::MAX).saturating_mul(DIGIT)
}

/// What each column holds, in thousandths of the font's height.
#[derive(Debug, Default)]
pub(super) struct Widths(Vec<u32>);

impl Widths {
    /// Makes a column hold at least so much text; gives how much it holds.
    pub(super) fn hold(&mut self, column: u16, text: u32) -> u32 {
        let place = usize::from(column);
        if self.0.len() <= place {
            self.0.resize(place + 1, digits(NARROWEST));
        }
        self.0[place] = self.0[place].max(text);
        self.0[place]
    }

    /// Makes the last column so wide that all together hold at least so much.
    pub(super) fn reach(&mut self, text: u32) {
        let together: u32 = self.0.iter().sum();
        if let Some(last) = self.0.last_mut() {
            *last += text.saturating_sub(together);
        }
    }

    /// The columns' widths in pixels of which 96 are an inch, so that their texts have room everywhere.
    pub(super) fn pixels(&self) -> impl Iterator<Item = u32> + '_ {
        self.0.iter().map(|&text| (text * FONT).div_ceil(10 * COUNTED) + BESIDE_TEXT)
    }
}
