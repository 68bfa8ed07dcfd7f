//! A sheet of dots in four grays, and the shapes that are laid on it. What is past the sheet's
//! edges is left out.

use tiny_skia::{FillRule, Mask, Path, PathBuilder, Stroke, Transform};

/// How dark a dot is, from [`PAPER`] to [`BLACK`]. Four grays smooth an edge well enough at 200
/// dots to the inch, and make a file half as large as sixteen do.
pub type Ink = u8;

/// No ink.
pub const PAPER: Ink = 0;
/// A tone.
pub const LIGHT: Ink = 1;
/// A thin stroke.
pub const DARK: Ink = 2;
/// All the ink there is.
pub const BLACK: Ink = 3;

/// A place on a canvas, in whole dots from its left and its top.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Dot {
    /// From the left.
    pub x: i32,
    /// From the top.
    pub y: i32,
}

/// A place on a canvas.
pub const fn dot(x: i32, y: i32) -> Dot {
    Dot { x, y }
}

/// An upright rectangle of dots; `right` and `bottom` are the first dots outside.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Area {
    /// The first column.
    pub left: i32,
    /// The first row.
    pub top: i32,
    /// The column after the last.
    pub right: i32,
    /// The row after the last.
    pub bottom: i32,
}

impl Area {
    /// From its left top corner and its size.
    pub const fn sized(at: Dot, width: i32, height: i32) -> Area {
        Area { left: at.x, top: at.y, right: at.x + width, bottom: at.y + height }
    }

    /// Columns.
    pub const fn width(self) -> i32 {
        self.right - self.left
    }

    /// Rows.
    pub const fn height(self) -> i32 {
        self.bottom - self.top
    }

    /// This with `by` dots more on every side.
    pub const fn grown(self, by: i32) -> Area {
        Area { left: self.left - by, top: self.top - by, right: self.right + by, bottom: self.bottom + by }
    }

    /// Whether the two share a dot.
    pub const fn meets(self, other: Area) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }

    /// What the two share; may be empty.
    fn and(self, other: Area) -> Area {
        Area {
            left: self.left.max(other.left),
            top: self.top.max(other.top),
            right: self.right.min(other.right),
            bottom: self.bottom.min(other.bottom),
        }
    }
}

/// Which way a text runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Turn {
    /// From left to right.
    Across,
    /// From the bottom up, read from the right, as ISO 129-1 has it for upright dimensions.
    Up,
}

/// How many thirds of each dot of an area a shape covers, row by row.
pub(super) struct Coverage {
    pub(super) area: Area,
    pub(super) parts: Vec<u8>,
}

impl Coverage {
    /// Nothing.
    pub(super) const NONE: Coverage = Coverage { area: Area::sized(dot(0, 0), 0, 0), parts: Vec::new() };

    /// A slanted line with square ends, smoothed, as far as it lies within an area.
    pub(super) fn of_line(from: Dot, to: Dot, thickness: i32, within: Area) -> Coverage {
        let mut path = PathBuilder::new();
        // The middle of a dot is half a dot from its corner.
        path.move_to(from.x as f32 + 0.5, from.y as f32 + 0.5);
        path.line_to(to.x as f32 + 0.5, to.y as f32 + 0.5);
        let stroke = Stroke { width: thickness as f32, ..Stroke::default() };
        let outline = path.finish().and_then(|path| path.stroke(&stroke, 1.0));
        outline.map_or(Coverage::NONE, |outline| Coverage::of(&outline, within))
    }

    /// What an outline covers of an area, smoothed.
    fn of(path: &Path, within: Area) -> Coverage {
        let bounds = path.bounds();
        let around = Area {
            left: bounds.left().floor() as i32,
            top: bounds.top().floor() as i32,
            right: bounds.right().ceil() as i32,
            bottom: bounds.bottom().ceil() as i32,
        };
        let area = around.and(within);
        let size = u32::try_from(area.width()).ok().zip(u32::try_from(area.height()).ok());
        let Some(mut mask) = size.and_then(|(width, height)| Mask::new(width, height)) else {
            return Coverage::NONE;
        };
        let to_origin = Transform::from_translate(-(area.left as f32), -(area.top as f32));
        mask.fill_path(path, FillRule::Winding, true, to_origin);
        Coverage { area, parts: mask.data().iter().map(|&part| thirds(part)).collect() }
    }

    /// This turned a quarter to the left around the origin.
    pub(super) fn turned(&self) -> Coverage {
        let Area { left, top, right, bottom } = self.area;
        let (width, height) = (self.area.width(), self.area.height());
        let at = |x: i32, y: i32| {
            let place = usize::try_from(y * width + x).ok();
            place.and_then(|place| self.parts.get(place)).copied().unwrap_or(0)
        };
        let parts = (0..width).rev().flat_map(|x| (0..height).map(move |y| (x, y)));
        Coverage {
            area: Area { left: top, top: -right, right: bottom, bottom: -left },
            parts: parts.map(|(x, y)| at(x, y)).collect(),
        }
    }
}

/// A sheet of dots.
pub struct Canvas {
    width: i32,
    height: i32,
    /// Row by row from the top.
    dots: Vec<Ink>,
}

impl Canvas {
    /// A blank sheet of `width` by `height` dots.
    pub fn new(width: u16, height: u16) -> Canvas {
        Canvas {
            width: i32::from(width),
            height: i32::from(height),
            dots: vec![0; usize::from(width) * usize::from(height)],
        }
    }

    /// The whole sheet.
    pub const fn area(&self) -> Area {
        Area::sized(dot(0, 0), self.width, self.height)
    }

    /// The rows from the top, each of as many dots as the sheet is wide.
    pub(super) fn rows(&self) -> impl Iterator<Item = &[Ink]> {
        self.dots.chunks_exact(self.stride().max(1))
    }

    /// Fills an area.
    pub fn fill(&mut self, area: Area, ink: Ink) {
        let area = area.and(self.area());
        for y in area.top..area.bottom {
            if let Some(row) = self.row(y, area) {
                row.fill(ink);
            }
        }
    }

    /// A frame whose outer edge is the area's and whose sides are `thickness` dots.
    pub fn frame(&mut self, area: Area, thickness: i32, ink: Ink) {
        let Area { left, top, right, bottom } = area;
        self.fill(Area { bottom: top + thickness, ..area }, ink);
        self.fill(Area { top: bottom - thickness, ..area }, ink);
        self.fill(Area { right: left + thickness, ..area }, ink);
        self.fill(Area { left: right - thickness, ..area }, ink);
    }

    /// A line with square ends. One along a row or a column lies on whole dots, its middle on
    /// those named; a slanted one is smoothed.
    pub fn line(&mut self, from: Dot, to: Dot, thickness: i32, ink: Ink) {
        let half = thickness / 2;
        if from.y == to.y {
            let across = Area::sized(dot(from.x.min(to.x), from.y - half), (to.x - from.x).abs(), thickness);
            self.fill(across, ink);
        } else if from.x == to.x {
            let down = Area::sized(dot(from.x - half, from.y.min(to.y)), thickness, (to.y - from.y).abs());
            self.fill(down, ink);
        } else {
            self.stamp(&Coverage::of_line(from, to, thickness, self.area()), dot(0, 0), ink);
        }
    }

    /// A line along a row or a column in dashes of `dash` dots with gaps of `gap`; one that is
    /// slanted is drawn whole.
    pub fn dashed(&mut self, from: Dot, to: Dot, (dash, gap): (i32, i32), thickness: i32, ink: Ink) {
        let (across, down) = (to.x - from.x, to.y - from.y);
        if across != 0 && down != 0 {
            return self.line(from, to, thickness, ink);
        }
        let (length, step) = (across.abs() + down.abs(), (dash + gap).max(1));
        for start in (0..length).step_by(usize::try_from(step).unwrap_or(1)) {
            let end = (start + dash).min(length);
            let at = |along: i32| dot(from.x + across.signum() * along, from.y + down.signum() * along);
            self.line(at(start), at(end), thickness, ink);
        }
    }

    /// Lines of `thickness` dots that rise to the right at 45 degrees, `pitch` apart, within an
    /// area. They run on across areas, as if all of the sheet were hatched and the areas cut out.
    pub fn hatch(&mut self, area: Area, pitch: i32, thickness: i32, ink: Ink) {
        let area = area.and(self.area());
        for y in area.top..area.bottom {
            let Some(row) = self.row(y, area) else { continue };
            for (x, dot) in (area.left..).zip(row) {
                if (x + y).rem_euclid(pitch.max(1)) < thickness {
                    *dot = ink;
                }
            }
        }
    }

    /// A filled shape with these corners, its edges smoothed.
    pub fn shape(&mut self, corners: &[Dot], ink: Ink) {
        let Some((first, rest)) = corners.split_first() else { return };
        let mut path = PathBuilder::new();
        path.move_to(first.x as f32, first.y as f32);
        for corner in rest {
            path.line_to(corner.x as f32, corner.y as f32);
        }
        path.close();
        if let Some(path) = path.finish() {
            self.stamp(&Coverage::of(&path, self.area()), dot(0, 0), ink);
        }
    }

    /// Lays ink on the dots that a shape covers, the shape moved by `by`.
    pub(super) fn stamp(&mut self, shape: &Coverage, by: Dot, ink: Ink) {
        let Area { left, top, .. } = shape.area;
        let moved = Area::sized(dot(left + by.x, top + by.y), shape.area.width(), shape.area.height());
        let seen = moved.and(self.area());
        let stride = usize::try_from(moved.width()).unwrap_or(0).max(1);
        let skipped = usize::try_from(seen.left - moved.left).unwrap_or(0);
        for (y, parts) in (moved.top..).zip(shape.parts.chunks_exact(stride)) {
            if !(seen.top..seen.bottom).contains(&y) {
                continue;
            }
            let Some(row) = self.row(y, seen) else { continue };
            for (dot, &part) in row.iter_mut().zip(parts.iter().skip(skipped)) {
                *dot = mixed(*dot, ink, part);
            }
        }
    }

    fn stride(&self) -> usize {
        usize::try_from(self.width).unwrap_or(0)
    }

    /// The dots of row `y` between an area's sides; `None` outside the sheet.
    fn row(&mut self, y: i32, area: Area) -> Option<&mut [Ink]> {
        let start = usize::try_from(y).ok()? * self.stride();
        let (left, right) = (usize::try_from(area.left).ok()?, usize::try_from(area.right).ok()?);
        self.dots.get_mut(start + left..start + right)
    }
}

/// Ink over a dot of which it covers `part` thirds, rounded to a whole gray.
fn mixed(under: Ink, over: Ink, part: u8) -> Ink {
    let full = u16::from(BLACK);
    let part = u16::from(part.min(BLACK));
    let sum = u16::from(under) * (full - part) + u16::from(over) * part;
    u8::try_from((sum + full / 2) / full).unwrap_or(BLACK)
}

/// 0 to 255 as thirds, to the nearest.
fn thirds(part: u8) -> u8 {
    u8::try_from((u16::from(part) * 3 + 127) / 255).unwrap_or(BLACK)
}
