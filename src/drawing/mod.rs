//! Pictures, from data to dots. An [`elevation`] is an opening with its blind as exact positions;
//! [`layout`] lays it out as [`marks`] in dots, to one [`scale`]; [`canvas`] has the shapes and the
//! bundled font's [`letters`], and [`picture`] makes a file's bytes of it. [`pictures`] does so
//! for a whole report.
//!
//! A picture is the same to the byte on every machine and with any number of threads: straight
//! strokes lie on whole dots, slanted ones and letters are drawn in portable arithmetic and kept
//! in four grays.

pub mod bar;
pub mod canvas;
pub mod code;
pub mod elevation;
pub mod figures;
mod front;
pub mod layout;
pub mod letters;
pub mod marks;
pub mod picture;
pub mod pictures;
pub mod scale;
mod section;

pub use elevation::Elevation;
pub use picture::Picture;
pub use pictures::Pictures;

use thiserror::Error;

/// Why there is no picture.
#[derive(Debug, Error)]
pub enum DrawingError {
    /// The bundled font could not be read.
    #[error("the font of the drawings could not be read: {0}")]
    Font(#[from] ab_glyph::InvalidFont),
    /// The dots could not be put into a file.
    #[error("a drawing could not be written: {0}")]
    Encoding(#[from] png::EncodingError),
}
