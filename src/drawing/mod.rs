//! Pictures, from data to dots. [`canvas`] lays grey shapes and text of the bundled font
//! ([`letters`]) on a sheet of dots, and [`picture`] turns the sheet into a file's bytes.
//!
//! A picture is the same to the byte on every machine and with any number of threads: straight
//! strokes lie on whole dots, slanted ones and letters are drawn in portable arithmetic and kept
//! in sixteen greys.

pub mod bar;
pub mod canvas;
pub mod code;
pub mod letters;
pub mod picture;

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
    /// A text could not be put into a code.
    #[error("a code could not be made: {0}")]
    Code(#[from] qrcode::types::QrError),
}
