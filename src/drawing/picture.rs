//! A drawing as the bytes of a PNG file.
//!
//! 720 x 480 dots for 90 mm of paper, in four grays: 9.5 kB and 0.5 ms of one core each; sixteen
//! grays took half as much again. tiny-skia stands without its `simd` feature, whose approximate reciprocals
//! differ between processors; what is left is plain arithmetic, so that the bytes do not.

use png::{BitDepth, ColorType, DeflateCompression, Encoder, Filter, PixelDimensions, Unit};

use super::DrawingError;
use super::canvas::{BLACK, Canvas, Ink};

/// A finished drawing: a PNG file (ISO/IEC 15948) in four grays.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Picture {
    /// The file's bytes.
    pub png: Vec<u8>,
    /// Dots across.
    pub width: u32,
    /// Dots down.
    pub height: u32,
}

/// Dots to a meter of paper: 720 dots are 90 mm. The file says so.
pub const DOTS_A_METER: u32 = 8_000;

/// Effort of the compression, of 9: more takes much longer and saves little.
const EFFORT: u8 = 2;

impl Picture {
    /// Makes a file of a canvas.
    ///
    /// # Errors
    /// If the canvas has no dots.
    pub fn of(canvas: &Canvas) -> Result<Picture, DrawingError> {
        let width = canvas.area().width().unsigned_abs();
        let height = canvas.area().height().unsigned_abs();
        let mut png = Vec::with_capacity(8 * 1024);
        let mut encoder = Encoder::new(&mut png, width, height);
        encoder.set_color(ColorType::Grayscale);
        encoder.set_depth(BitDepth::Two);
        // Rows alike are found by the compression itself; a filter would only blur them.
        encoder.set_filter(Filter::NoFilter);
        encoder.set_deflate_compression(DeflateCompression::Level(EFFORT));
        encoder.set_pixel_dims(Some(PixelDimensions {
            xppu: DOTS_A_METER,
            yppu: DOTS_A_METER,
            unit: Unit::Meter,
        }));
        let mut packed = Vec::with_capacity(width.div_ceil(DOTS_A_BYTE as u32) as usize * height as usize);
        canvas.rows().for_each(|row| pack(row, &mut packed));
        let mut writer = encoder.write_header()?;
        writer.write_image_data(&packed)?;
        writer.finish()?;
        Ok(Picture { png, width, height })
    }
}

const DOTS_A_BYTE: usize = 4;

/// Adds a row with four dots to a byte, the leftmost in its uppermost bits; in the file 0 is black.
fn pack(row: &[Ink], to: &mut Vec<u8>) {
    // Each dot is moved to its two bits of the lowest byte; what is above that falls off.
    let byte = |dots: &[Ink; DOTS_A_BYTE]| {
        let light = u32::from_le_bytes(dots.map(|dot| BLACK - dot.min(BLACK)));
        (light << 6 | light >> 4 | light >> 14 | light >> 24) as u8
    };
    let (whole, rest) = row.as_chunks();
    to.extend(whole.iter().map(byte));
    if !rest.is_empty() {
        let mut last = [0; DOTS_A_BYTE];
        last[..rest.len()].copy_from_slice(rest);
        to.push(byte(&last));
    }
}
