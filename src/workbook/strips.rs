//! The bars of the cut list as pictures to scale, each distinct one drawn once. Rolls are not drawn: each is
//! cut otherwise, and by its rows.

use std::collections::HashMap;

use rayon::prelude::*;
use rust_xlsxwriter::Image;

use super::{Press, WorkbookError};
use crate::cutting::{CutPlan, Pattern};
use crate::drawing::DrawingError;
use crate::drawing::bar::Bar;
use crate::drawing::letters::Letters;
use crate::length::{Length, Units};
use crate::rules::CutIn;

/// How large a bar is on the sheet, in pixels of which 96 are an inch: as wide as the columns, and
/// as high as leaves its letters their shape.
const SIZE: (u32, u32) = (800, 38);

/// The pictures, and which of them each pattern has.
pub(super) struct Strips {
    images: Vec<Image>,
    /// By the plan's place and the pattern's number.
    of: HashMap<(usize, usize), usize>,
    /// Distinct bars, drawn or not.
    distinct: usize,
}

impl Strips {
    /// Draws the bars, as many as the limits allow.
    pub(super) fn draw(press: &Press<'_>, plans: &[CutPlan]) -> Result<Strips, WorkbookError> {
        let mut bars: Vec<Bar> = Vec::new();
        // Looked up only, never walked.
        let mut known: HashMap<Bar, usize> = HashMap::new();
        let mut of = HashMap::new();
        let of_bars = plans.iter().enumerate().filter(|(_, plan)| plan.cut_in == CutIn::Pieces);
        let patterns = of_bars.flat_map(|(plan, cut)| cut.patterns.iter().map(move |p| (plan, cut, p)));
        for (plan, cut, pattern) in patterns {
            let bar = bar(press.length_units(), cut, pattern);
            let place = *known.entry(bar).or_insert_with_key(|bar| {
                bars.push(bar.clone());
                bars.len() - 1
            });
            of.insert((plan, pattern.number), place);
        }
        let distinct = bars.len();
        bars.truncate(press.limits.bars);
        if bars.is_empty() {
            return Ok(Strips { images: Vec::new(), of, distinct });
        }
        let letters = Letters::new()?;
        let pictures: Result<Vec<_>, DrawingError> =
            bars.par_iter().map(|bar| bar.picture(&letters)).collect();
        let mut images = Vec::with_capacity(bars.len());
        for picture in pictures? {
            let (width, height) = SIZE;
            images.push(Image::new_from_buffer(&picture.png)?.set_scale_to_size(width, height, false));
        }
        Ok(Strips { images, of, distinct })
    }

    /// The picture of a pattern of the plan at that place.
    pub(super) fn of(&self, plan: usize, pattern: &Pattern) -> Option<&Image> {
        self.images.get(*self.of.get(&(plan, pattern.number))?)
    }

    /// Why not every bar is drawn, in words for the sheet; `None` if each is.
    pub(super) fn why_not_all(&self, press: &Press<'_>) -> Option<String> {
        match press.limits.bars {
            most if self.distinct <= most => None,
            0 => Some("No drawings of bars (--no-drawings).".to_owned()),
            most => Some(format!("Only the first {most} of {} different bars are drawn.", self.distinct)),
        }
    }
}

fn bar(units: Units, plan: &CutPlan, pattern: &Pattern) -> Bar {
    Bar {
        stock: pattern.stock,
        trim: plan.trim,
        kerf: plan.kerf,
        pieces: pattern.pieces.iter().map(|piece| (piece.length, piece.length.figure(units))).collect(),
        left: if pattern.offcut > Length::ZERO { pattern.offcut.figure(units) } else { String::new() },
    }
}
