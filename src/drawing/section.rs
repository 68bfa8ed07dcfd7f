//! The blind from the side at a bracket, beside the elevation and at a scale of its own: the wall
//! on the left, the room on the right.

use super::canvas::{Area, BLACK, LIGHT, PAPER, Turn, dot};
use super::elevation::{Elevation, HeldBy, Section, Span};
use super::figures::figure;
use super::letters::{Letters, Style};
use super::marks::{Mark, Marks, THIN, Text};
use super::scale::{Scale, View};
use crate::length::{Length, Units};

/// Wall shown above what it must hold; also a screw's length in it, and half of it below a screw.
const MARGIN: Length = Length::inches(1);
/// How far below the head, or the rail if that is lower, the figure ends.
const BELOW: Length = Length::inches(4);
/// A deeper recess is broken off, and what it ends at is out of the figure.
const DEEPEST: Length = Length::inches(8);
/// Where a wall of unknown or of more depth is broken off, behind its face or the rail.
const BROKEN_OFF: Length = Length::inches(2);
/// Wood further above the bracket is out of the figure.
const WOOD_ABOVE: Length = Length::inches(4);
/// A section is drawn at 25 dots to the inch at most.
const LEAST_NM_A_DOT: i64 = 1_016_000;
/// Dots for the dimension on the right, and for those below.
const RIGHT_LANE: i32 = 48;
const LOWER_LANE: i32 = 40;

/// A section on its way to dots.
struct Figure<'d> {
    elevation: &'d Elevation,
    section: &'d Section,
    view: View,
    /// What is shown, from the back of the wall into the room.
    across: Span,
    /// What is shown, from the wall above to the louvers.
    down: Span,
    /// The last column that a text may take.
    last: i32,
}

/// Draws the section into an area.
pub(super) fn draw(
    marks: &mut Marks,
    elevation: &Elevation,
    section: &Section,
    room: Area,
    units: Units,
    letters: &Letters,
) {
    let baseline = room.top + Style::Small.height();
    let title =
        Text::new(letters, "section at a bracket", Style::Small, dot(room.left, baseline), Turn::Across);
    let below_title = Area { top: title.area.bottom + 6, ..room };
    marks.text(title);
    let figure = Figure::new(elevation, section, below_title);
    figure.wall(marks);
    figure.blind(marks);
    figure.reach(marks, units, letters);
    figure.above_head(marks, units, letters);
}

impl<'d> Figure<'d> {
    fn new(elevation: &'d Elevation, section: &'d Section, room: Area) -> Figure<'d> {
        let out = section.rail + section.half_depth.max(section.half_rail);
        let back = match shown_recess(section) {
            Some(depth) => -depth,
            None => (section.rail - section.half_depth).min(Length::ZERO) - BROKEN_OFF,
        };
        let front = match section.held {
            HeldBy::Head => out,
            HeldBy::Wall { valance, .. } | HeldBy::Ceiling { valance } => {
                valance.map_or(out, |valance| out.max(valance))
            }
        };
        let across = Span { from: back, to: front.max(Length::ZERO) };
        let wood = elevation.header.map(|wood| wood.from.max(elevation.bracket_top - WOOD_ABOVE));
        let highest = wood.unwrap_or(elevation.bracket_top).min(elevation.bracket_top);
        let head = elevation.opening.map_or(Length::ZERO, |opening| opening.down.from);
        let down = Span { from: highest - MARGIN, to: head.max(elevation.rail.to) + BELOW };
        let scale = Scale::to_fit(
            (across.length(), room.width() - RIGHT_LANE),
            (down.length(), room.height() - LOWER_LANE),
            LEAST_NM_A_DOT,
        );
        let origin = dot(room.left - scale.dots(across.from), room.top - scale.dots(down.from));
        Figure { elevation, section, view: View { scale, origin }, across, down, last: room.right }
    }

    /// The wall above the opening, cut through, with its wood, and what the recess ends at.
    /// Where the opening is unknown, so is the wall over it.
    fn wall(&self, marks: &mut Marks) {
        let Some(opening) = self.elevation.opening else {
            let face = self.view.x(Length::ZERO);
            let (top, bottom) = (self.view.y(self.down.from), self.view.y(self.down.to));
            return marks.add(Mark::Line(dot(face, top), dot(face, bottom), 2, BLACK));
        };
        let behind = Span { from: self.across.from, to: Length::ZERO };
        let cut = self.view.area(behind, Span { from: self.down.from, to: opening.down.from });
        marks.add(Mark::Hatch(cut));
        if let Some(header) = self.elevation.header {
            let shown = Span { from: header.from.max(self.down.from), to: header.to };
            if shown.from < shown.to {
                wood(marks, self.view.area(behind, shown));
            }
        }
        marks.add(Mark::Line(dot(cut.right, cut.top), dot(cut.right, cut.bottom), 2, BLACK));
        marks.add(Mark::Line(dot(cut.left, cut.bottom), dot(cut.right + 1, cut.bottom), 2, BLACK));
        if shown_recess(self.section).is_some() {
            let end = dot(cut.left, self.view.y(self.down.to));
            marks.add(Mark::Line(dot(cut.left, cut.bottom), end, 3, BLACK));
        }
    }

    /// Bracket, rail, louver closed and turned, and the valance.
    fn blind(&self, marks: &mut Marks) {
        let (view, section, elevation) = (self.view, self.section, self.elevation);
        let bottom = view.y(self.down.to);
        let under_rail = view.y(elevation.rail.to);
        for side in [-section.half_depth, section.half_depth] {
            let x = view.x(section.rail + side);
            marks.add(Mark::Dashed(dot(x, under_rail), dot(x, bottom), 1, THIN));
        }
        let louver = view.x(section.rail);
        marks.add(Mark::Line(dot(louver, under_rail), dot(louver, bottom), 2, BLACK));
        let depth = Span { from: section.rail - section.half_rail, to: section.rail + section.half_rail };
        let rail = view.area(depth, elevation.rail);
        marks.add(Mark::Fill(rail, LIGHT));
        marks.add(Mark::Frame(rail, 2, BLACK));
        let arm = view.y(elevation.bracket_top) + 1;
        let valance = match section.held {
            HeldBy::Head => {
                marks.add(Mark::Line(dot(rail.left, arm + 1), dot(rail.right, arm + 1), 3, BLACK));
                None
            }
            HeldBy::Ceiling { valance } => {
                // The ceiling runs on over the rail, into the room.
                let room = view.x(self.across.to);
                marks.add(Mark::Line(dot(view.x(Length::ZERO), arm - 2), dot(room, arm - 2), 2, BLACK));
                marks.add(Mark::Line(dot(rail.left, arm + 1), dot(rail.right, arm + 1), 3, BLACK));
                valance
            }
            HeldBy::Wall { face: stands_out, screws, valance } => {
                let face = view.x(stands_out);
                let lowest = screws[0].max(screws[1]) + MARGIN.half_down();
                if stands_out > Length::ZERO {
                    let casing = Span { from: Length::ZERO, to: stands_out };
                    let head = elevation.opening.map_or(lowest, |opening| opening.down.from);
                    let down = Span { from: elevation.bracket_top, to: head };
                    marks.add(Mark::Frame(view.area(casing, down), 1, BLACK));
                }
                marks.add(Mark::Line(dot(face + 2, arm - 1), dot(face + 2, view.y(lowest)), 3, BLACK));
                marks.add(Mark::Line(dot(face, arm), dot(rail.right, arm), 3, BLACK));
                for screw in screws {
                    let (row, tip) = (view.y(screw), face - view.scale.dots(MARGIN));
                    marks.add(Mark::Line(dot(tip, row), dot(face + 6, row), 2, BLACK));
                }
                valance
            }
        };
        if let Some(valance) = valance {
            let x = view.x(valance);
            marks.add(Mark::Line(dot(x, arm - 1), dot(x, rail.bottom), 2, BLACK));
        }
    }

    /// Reach, or setback, under the figure.
    fn reach(&self, marks: &mut Marks, units: Units, letters: &Letters) {
        let (from, word) = match self.section.held {
            HeldBy::Wall { face, .. } => (face, "reach"),
            HeldBy::Head | HeldBy::Ceiling { .. } => (Length::ZERO, "setback"),
        };
        let (face, line) = (self.view.x(from), self.view.x(self.section.rail));
        let bottom = self.view.y(self.down.to);
        let row = bottom + 10;
        for column in [face, line] {
            marks.thin(dot(column, bottom - 8), dot(column, row + 6));
        }
        marks.dimension(dot(face.min(line), row), dot(face.max(line), row));
        let words = format!("{word} {}", figure((self.section.rail - from).abs(), units));
        let width = letters.width(&words, Style::Main);
        let left = ((face + line - width) / 2).max(self.view.x(self.across.from)).min(self.last - width);
        let at = dot(left, row + 8 + Style::Main.height());
        marks.text(Text::new(letters, words, Style::Main, at, Turn::Across));
    }

    /// The bracket's height over the head, at the right.
    fn above_head(&self, marks: &mut Marks, units: Units, letters: &Letters) {
        let (view, elevation) = (self.view, self.elevation);
        let Some((above, opening)) = elevation.bracket_above_head().zip(elevation.opening) else { return };
        if above <= Length::ZERO {
            return;
        }
        let (top, head) = (view.y(elevation.bracket_top), view.y(opening.down.from));
        let column = view.x(self.across.to) + 14;
        marks.thin(dot(view.x(Length::ZERO), head), dot(column + 6, head));
        marks.thin(dot(view.x(self.section.rail + self.section.half_rail), top), dot(column + 6, top));
        marks.dimension(dot(column, top), dot(column, head));
        let bottom = view.y(self.down.to);
        let shown = figure(above, units);
        let long = [" above head", " to head"].map(|word| format!("{shown}{word}"));
        let fits = |words: &String| letters.width(words, Style::Main) <= bottom - top;
        let words = long.into_iter().find(fits).unwrap_or(shown);
        let width = letters.width(&words, Style::Main);
        let lower = ((top + head + width) / 2).max(top + width).min(bottom.max(top + width));
        let at = dot(column + 8 + Style::Main.height(), lower);
        marks.text(Text::new(letters, words, Style::Main, at, Turn::Up));
    }
}

/// The depth of a recess that the figure shows to its end.
fn shown_recess(section: &Section) -> Option<Length> {
    section.recess.filter(|&depth| depth <= DEEPEST)
}

/// Wood in section: a frame with both diagonals.
fn wood(marks: &mut Marks, area: Area) {
    let (right, bottom) = (area.right - 1, area.bottom - 1);
    marks.add(Mark::Fill(area, PAPER));
    marks.add(Mark::Frame(area, 1, BLACK));
    marks.add(Mark::Line(dot(area.left, area.top), dot(right, bottom), 1, THIN));
    marks.add(Mark::Line(dot(area.left, bottom), dot(right, area.top), 1, THIN));
}
