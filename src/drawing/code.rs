//! A text as a QR code (ISO/IEC 18004), with the quiet zone that the standard asks for.

use fast_qr::{ECL, QRBuilder, QRCode};
use png::{BitDepth, ColorType, Compression, Encoder, Filter};

use super::DrawingError;
use super::picture::Picture;

/// Modules of paper on every side of a code.
pub const QUIET_ZONE: usize = 4;
/// Dots along a module's side: enough that a program which smooths pictures leaves its middle black.
pub const DOTS_A_MODULE: usize = 4;

/// The code of a text; `None` if it is longer than a code can hold (2,953 bytes at the most).
///
/// # Errors
/// If the picture's file cannot be put together.
pub fn code(text: &str) -> Result<Option<Picture>, DrawingError> {
    // A seventh of it may be soiled; a text too long for that gets a code with less to spare.
    let made = [ECL::M, ECL::L].into_iter().find_map(|level| QRBuilder::new(text).ecl(level).build().ok());
    made.map(|code| picture(&code)).transpose()
}

/// The code on white, one bit a dot.
fn picture(code: &QRCode) -> Result<Picture, DrawingError> {
    let side = (code.size + 2 * QUIET_ZONE) * DOTS_A_MODULE;
    let dots = u32::try_from(side).unwrap_or(u32::MAX);
    let mut png = Vec::new();
    let mut encoder = Encoder::new(&mut png, dots, dots);
    encoder.set_color(ColorType::Grayscale);
    encoder.set_depth(BitDepth::One);
    encoder.set_compression(Compression::Fast);
    // Rows of one module are alike, which leaves zeros.
    encoder.set_filter(Filter::Up);
    let mut writer = encoder.write_header()?;
    writer.write_image_data(&bits(code, side))?;
    writer.finish()?;
    Ok(Picture { png, width: dots, height: dots })
}

/// The rows of dots from the top, eight to a byte, the left one in the highest bit; 0 is black.
fn bits(code: &QRCode, side: usize) -> Vec<u8> {
    let stride = side.div_ceil(8);
    let mut bits = vec![u8::MAX; stride * side];
    for (row, line) in bits.chunks_exact_mut(stride).enumerate() {
        let Some(y) = (row / DOTS_A_MODULE).checked_sub(QUIET_ZONE).filter(|y| *y < code.size) else {
            continue;
        };
        for x in (0..code.size).filter(|&x| code[y][x].value()) {
            let first = (x + QUIET_ZONE) * DOTS_A_MODULE;
            for dot in first..first + DOTS_A_MODULE {
                if let Some(byte) = line.get_mut(dot / 8) {
                    *byte &= !(0x80 >> (dot % 8));
                }
            }
        }
    }
    bits
}
