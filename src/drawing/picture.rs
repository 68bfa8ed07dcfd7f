//! A drawing as the bytes of a PNG file.

use png::{BitDepth, ColorType, Compression, Encoder, Filter, PixelDimensions, Unit};

use super::DrawingError;
use super::canvas::{BLACK, Canvas};

/// A finished drawing: a PNG file (ISO/IEC 15948) in sixteen greys.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Picture {
    /// The file's bytes.
    pub png: Vec<u8>,
    /// Dots across.
    pub width: u32,
    /// Dots down.
    pub height: u32,
}

/// Dots to a metre of paper: 720 dots are 90 mm. The file says so.
pub const DOTS_A_METRE: u32 = 8_000;

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
        encoder.set_depth(BitDepth::Four);
        // Most rows repeat the one above, which leaves zeros.
        encoder.set_filter(Filter::Up);
        encoder.set_compression(Compression::Fast);
        encoder.set_filter(Filter::Up);
        encoder.set_pixel_dims(Some(PixelDimensions {
            xppu: DOTS_A_METRE,
            yppu: DOTS_A_METRE,
            unit: Unit::Meter,
        }));
        let packed: Vec<u8> = canvas.rows().flat_map(packed).collect();
        let mut writer = encoder.write_header()?;
        writer.write_image_data(&packed)?;
        writer.finish()?;
        Ok(Picture { png, width, height })
    }
}

/// Two dots to a byte, the left one in its upper half; in the file 0 is black.
fn packed(row: &[u8]) -> impl Iterator<Item = u8> {
    row.chunks(2).map(|pair| {
        let light = |dot: Option<&u8>| BLACK - dot.copied().unwrap_or(0).min(BLACK);
        (light(pair.first()) << 4) | light(pair.get(1))
    })
}
