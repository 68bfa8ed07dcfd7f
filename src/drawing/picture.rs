//! A drawing as the bytes of a PNG file.
//!
//! 720 x 480 dots for 90 mm of paper, in four grays: 9 kB and 0.8 ms of one core each; sixteen
//! grays took 14 kB. tiny-skia stands without its `simd` feature, whose approximate reciprocals
//! differ between processors; what is left is plain arithmetic, so that the bytes do not.

use png::{BitDepth, ColorType, DeflateCompression, Encoder, Filter, PixelDimensions, Unit};

use super::DrawingError;
use super::canvas::{BLACK, Canvas};

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
const EFFORT: u8 = 4;

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
        let packed: Vec<u8> = canvas.rows().flat_map(packed).collect();
        let mut writer = encoder.write_header()?;
        writer.write_image_data(&packed)?;
        writer.finish()?;
        Ok(Picture { png, width, height })
    }
}

/// Four dots to a byte, the leftmost in its uppermost bits; in the file 0 is black.
fn packed(row: &[u8]) -> impl Iterator<Item = u8> {
    row.chunks(4).map(|dots| {
        let light = |place: usize| BLACK - dots.get(place).copied().unwrap_or(0).min(BLACK);
        (0..4).fold(0, |byte, place| (byte << 2) | light(place))
    })
}
