//! The drawings as a workbook takes them: each distinct one once, however many openings it is of.
//!
//! A drawing is in one column, from its cell's own corner: a program that has to take another font
//! for the sheets' makes columns wider, and must not stretch it.

use rust_xlsxwriter::{Image, ObjectMovement};

use super::super::WorkbookError;
use crate::drawing::Pictures;
use crate::query::OpeningIndex;
use crate::report::Report;

/// Dots of a drawing on a sheet, across and down: 81 x 54 mm at the print scale.
const WIDTH: u16 = 342;
const HEIGHT: u16 = 228;

/// Every drawing, and which of them each opening has.
#[derive(Default)]
pub(super) struct Images {
    images: Vec<Image>,
    of_opening: Vec<Option<usize>>,
}

impl Images {
    /// Draws every opening that has a blind.
    pub(super) fn of(report: &Report<'_>) -> Result<Images, WorkbookError> {
        let drawn = Pictures::of(report)?;
        let image = |png: &[u8]| -> Result<Image, WorkbookError> {
            let image = Image::new_from_buffer(png)?.set_scale_to_size(WIDTH, HEIGHT, true);
            Ok(image.set_object_movement(ObjectMovement::MoveButDontSizeWithCells))
        };
        let images: Result<Vec<Image>, WorkbookError> =
            drawn.distinct.iter().map(|picture| image(&picture.png)).collect();
        Ok(Images { images: images?, of_opening: drawn.of_opening })
    }

    /// An opening's drawing.
    pub(super) fn get(&self, opening: OpeningIndex) -> Option<&Image> {
        self.images.get((*self.of_opening.get(opening)?)?)
    }
}
