//! The bundled font, DejaVu Sans Condensed, set by the height of its digits. Its license is in
//! `font-license.txt`.

use std::borrow::Cow;
use std::sync::{Arc, OnceLock};

use ab_glyph::{Font, FontRef, PxScale};

use super::DrawingError;
use super::canvas::{Area, BLACK, Canvas, Coverage, Dot, Ink, Turn, dot};

/// How a text is set.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Style {
    /// Figures to measure by: bold, digits 18 dots high.
    Main,
    /// Figures beside them: digits 16 dots high.
    Side,
    /// Names and remarks: digits 13 dots high.
    Small,
}

impl Style {
    /// Every style.
    const ALL: [Style; 3] = [Style::Main, Style::Side, Style::Small];

    /// Height of its digits in dots; letters without a tail stand as high.
    pub const fn height(self) -> i32 {
        match self {
            Style::Main => 18,
            Style::Side => 16,
            Style::Small => 13,
        }
    }

    /// Dots that tails and commas reach below the line.
    pub const fn below(self) -> i32 {
        self.height() / 3
    }
}

/// Height of the font's digits in its own units.
const DIGIT_UNITS: i32 = 1493;

/// Characters that are kept once drawn; others are drawn each time.
const KEPT: std::ops::RangeInclusive<char> = ' '..='~';

/// The font, and what has been drawn of it.
pub struct Letters {
    faces: [Face; Style::ALL.len()],
}

/// The font in one style.
struct Face {
    font: FontRef<'static>,
    style: Style,
    kept: Vec<OnceLock<Letter>>,
}

/// One character in one style: its dots about the start of its line, and its width in the
/// font's units.
#[derive(Clone)]
struct Letter {
    shape: Arc<Coverage>,
    advance: i32,
}

impl Letters {
    /// Reads the bundled font.
    ///
    /// # Errors
    /// If the bundled font is no font.
    pub fn new() -> Result<Letters, DrawingError> {
        let face = |style: Style| {
            let file = match style {
                Style::Main => dejavu::sans_condensed::bold(),
                Style::Side | Style::Small => dejavu::sans_condensed::regular(),
            };
            let font = FontRef::try_from_slice(file)?;
            Ok::<Face, DrawingError>(Face { font, style, kept: KEPT.map(|_| OnceLock::new()).collect() })
        };
        let [main, side, small] = Style::ALL.map(face);
        Ok(Letters { faces: [main?, side?, small?] })
    }

    /// Dots that a text takes along its line.
    pub fn width(&self, text: &str, style: Style) -> i32 {
        let face = self.face(style);
        face.dots(text.chars().map(|character| face.letter(character).advance).sum())
    }

    /// Lays a text on a canvas, its digits on the row of `at` (turned: on its column), beginning there.
    pub fn lay(&self, canvas: &mut Canvas, text: &str, style: Style, at: Dot, turn: Turn, ink: Ink) {
        for (glyph, along) in self.set(text, style) {
            match turn {
                Turn::Across => canvas.stamp(&glyph, dot(at.x + along, at.y), ink),
                Turn::Up => canvas.stamp(&glyph.turned(), dot(at.x, at.y - along), ink),
            }
        }
    }

    /// Each character's dots, and where along the line they start.
    fn set(&self, text: &str, style: Style) -> impl Iterator<Item = (Arc<Coverage>, i32)> {
        let face = self.face(style);
        text.chars().scan(0, |along, character| {
            let letter = face.letter(character);
            let start = face.dots(*along);
            *along += letter.advance;
            Some((Arc::clone(&letter.shape), start))
        })
    }

    fn face(&self, style: Style) -> &Face {
        let [main, side, small] = &self.faces;
        match style {
            Style::Main => main,
            Style::Side => side,
            Style::Small => small,
        }
    }
}

impl Face {
    fn letter(&self, character: char) -> Cow<'_, Letter> {
        let place = u32::from(character).checked_sub(u32::from(*KEPT.start()));
        let kept = place.and_then(|place| self.kept.get(usize::try_from(place).ok()?));
        match kept {
            Some(kept) => Cow::Borrowed(kept.get_or_init(|| self.draw(character))),
            None => Cow::Owned(self.draw(character)),
        }
    }

    fn draw(&self, character: char) -> Letter {
        let id = self.font.glyph_id(character);
        let advance = self.font.h_advance_unscaled(id).round() as i32;
        let scale = self.font.height_unscaled() * self.style.height() as f32 / DIGIT_UNITS as f32;
        let outline = self.font.outline_glyph(id.with_scale(PxScale::from(scale)));
        let shape = outline.map_or(Coverage::NONE, |outline| {
            let bounds = outline.px_bounds();
            let (width, height) = (bounds.width() as usize, bounds.height() as usize);
            let mut parts = vec![0; width * height];
            outline.draw(|x, y, part| {
                if let Some(place) = parts.get_mut(y as usize * width + x as usize) {
                    *place = (part.clamp(0.0, 1.0) * f32::from(BLACK)).round() as u8;
                }
            });
            let corner = dot(bounds.min.x as i32, bounds.min.y as i32);
            Coverage { area: Area::sized(corner, width as i32, height as i32), parts }
        });
        Letter { shape: Arc::new(shape), advance }
    }

    /// Units of the font as dots, to the nearest.
    fn dots(&self, units: i32) -> i32 {
        (units * self.style.height() * 2 + DIGIT_UNITS) / (2 * DIGIT_UNITS)
    }
}
