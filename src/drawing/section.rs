//! The blind from the side at a bracket, beside the elevation and at a scale of its own: the wall
//! on the left, the room on the right.

use super::canvas::{Area, BLACK, Turn, dot};
use super::elevation::{Elevation, Section, Span};
use super::figures::figure;
use super::letters::{Letters, Style};
use super::marks::{Mark, Marks, THIN, Text};
use super::scale::{Scale, View};
use crate::length::{Length, Units};
use crate::sizing::Mount;

/// Wall shown above what it must hold, and louver below the head.
const MARGIN: Length = Length::inches(1);
/// How far below the head, or the rail if that is lower, the figure ends.
const BELOW: Length = Length::inches(3);
/// Thickness at which a wall of unknown depth is broken off.
const BROKEN_WALL: Length = Length::inches(2);
/// Timber further above the bracket is out of the figure.
const TIMBER_ABOVE: Length = Length::inches(4);
/// A section is drawn at 20 dots to the inch at most.
const LEAST_NM_A_DOT: i64 = 1_270_000;
/// Dots for the dimension on the right, and for those below.
const RIGHT_LANE: i32 = 34;
const LOWER_LANE: i32 = 28;

/// Draws the section into an area.
pub(super) fn draw(
    marks: &mut Marks,
    elevation: &Elevation,
    section: &Section,
    room: Area,
    units: Units,
    letters: &Letters,
) {
    let title = Text::new(
        letters,
        "section at a bracket",
        Style::Small,
        dot(room.left, room.top + Style::Small.height()),
        Turn::Across,
    );
    let top = title.area.bottom + 6;
    marks.text(title);

    let head = elevation.opening.map_or(Length::ZERO, |opening| opening.down.from);
    let thickness = section.recess.unwrap_or(BROKEN_WALL);
    let out = section.rail + section.half_louver.max(section.half_rail);
    let across = Span { from: -thickness, to: section.valance.unwrap_or(out).max(out).max(Length::ZERO) };
    let timber = elevation.header.filter(|_| elevation.mount == Mount::Outside);
    let highest =
        timber.map_or(elevation.bracket_top, |timber| timber.from.max(elevation.bracket_top - TIMBER_ABOVE));
    let down =
        Span { from: highest.min(elevation.bracket_top) - MARGIN, to: head.max(elevation.rail.to) + BELOW };
    let figure_room = Area { top, right: room.right - RIGHT_LANE, bottom: room.bottom - LOWER_LANE, ..room };
    let scale = Scale::to_fit(
        (across.length(), figure_room.width()),
        (down.length(), figure_room.height()),
        LEAST_NM_A_DOT,
    );
    let origin = dot(figure_room.left - scale.dots(across.from), figure_room.top - scale.dots(down.from));
    let view = View { scale, origin };

    wall(marks, view, across.from, down.from, head, section, down.to);
    if let Some(timber) = timber {
        let shown = Span { from: timber.from.max(down.from), to: timber.to };
        wood(marks, view.area(Span { from: across.from, to: Length::ZERO }, shown));
    }
    blind(marks, view, elevation, section, down.to);
    dimensions(marks, view, elevation, section, down.to, units, letters);
}

/// The wall above the opening, cut through, and what the recess ends at.
fn wall(
    marks: &mut Marks,
    view: View,
    back: Length,
    top: Length,
    head: Length,
    section: &Section,
    bottom: Length,
) {
    let cut = view.area(Span { from: back, to: Length::ZERO }, Span { from: top, to: head });
    marks.add(Mark::Hatch(cut));
    marks.add(Mark::Line(dot(cut.right, cut.top), dot(cut.right, cut.bottom), 2, BLACK));
    marks.add(Mark::Line(dot(cut.left, cut.bottom), dot(cut.right + 1, cut.bottom), 2, BLACK));
    if section.recess.is_some() {
        let glass = dot(cut.left, cut.bottom);
        marks.add(Mark::Line(glass, dot(glass.x, view.y(bottom)), 3, BLACK));
    }
}

/// Timber in section: a frame with both diagonals.
fn wood(marks: &mut Marks, area: Area) {
    marks.add(Mark::Fill(area, 0));
    marks.add(Mark::Frame(area, 1, BLACK));
    marks.add(Mark::Line(dot(area.left, area.top), dot(area.right - 1, area.bottom - 1), 1, THIN));
    marks.add(Mark::Line(dot(area.left, area.bottom - 1), dot(area.right - 1, area.top), 1, THIN));
}

/// Bracket, rail, louver closed and turned, and the valance.
fn blind(marks: &mut Marks, view: View, elevation: &Elevation, section: &Section, bottom: Length) {
    let rail = Span { from: section.rail - section.half_rail, to: section.rail + section.half_rail };
    let louver = view.at(section.rail, elevation.rail.to);
    for side in [-section.half_louver, section.half_louver] {
        let turned = view.at(section.rail + side, elevation.rail.to);
        marks.add(Mark::Dashed(turned, dot(turned.x, view.y(bottom)), 1, THIN));
    }
    marks.add(Mark::Line(louver, dot(louver.x, view.y(bottom)), 2, BLACK));
    let rail_area = view.area(rail, elevation.rail);
    marks.add(Mark::Fill(rail_area, 4));
    marks.add(Mark::Frame(rail_area, 2, BLACK));
    let arm = view.y(elevation.bracket_top) + 1;
    if let Some(screws) = section.screws {
        let face = view.x(Length::ZERO);
        let lowest = screws.iter().copied().max().unwrap_or_default() + MARGIN.half_down();
        marks.add(Mark::Line(dot(face + 2, arm - 1), dot(face + 2, view.y(lowest)), 3, BLACK));
        marks.add(Mark::Line(dot(face, arm), dot(rail_area.right, arm), 3, BLACK));
        for screw in screws {
            let row = view.y(screw);
            marks.add(Mark::Line(dot(face - view.scale.dots(MARGIN), row), dot(face + 6, row), 2, BLACK));
        }
    } else {
        marks.add(Mark::Line(dot(rail_area.left, arm + 1), dot(rail_area.right, arm + 1), 3, BLACK));
    }
    if let Some(valance) = section.valance {
        let front = view.at(valance, elevation.bracket_top);
        marks.add(Mark::Line(front, dot(front.x, rail_area.bottom), 2, BLACK));
    }
}

/// Reach or setback below, the bracket's height over the head at the right.
fn dimensions(
    marks: &mut Marks,
    view: View,
    elevation: &Elevation,
    section: &Section,
    bottom: Length,
    units: Units,
    letters: &Letters,
) {
    let (face, line) = (view.x(Length::ZERO), view.x(section.rail));
    let row = view.y(bottom) + 8;
    let word = match elevation.mount {
        Mount::Outside => "reach",
        Mount::Inside => "setback",
    };
    for column in [face, line] {
        marks.thin(dot(column, view.y(bottom) - 8), dot(column, row + 6));
    }
    marks.dimension(dot(face.min(line), row), dot(face.max(line), row));
    let words = format!("{word} {}", figure(section.rail.abs(), units));
    let width = letters.width(&words, Style::Main);
    let left = ((face + line) / 2 - width / 2).max(0);
    let baseline = row + 8 + Style::Main.height();
    marks.text(Text::new(letters, words, Style::Main, dot(left, baseline), Turn::Across));

    let Some((above, opening)) = elevation.bracket_above_head().zip(elevation.opening) else { return };
    if above <= Length::ZERO {
        return;
    }
    let (top, head) = (view.y(elevation.bracket_top), view.y(opening.down.from));
    let furthest = section.valance.unwrap_or(section.rail).max(section.rail + section.half_louver);
    let column = view.x(furthest) + 12;
    marks.thin(dot(face, head), dot(column + 6, head));
    marks.thin(dot(view.x(section.rail + section.half_rail), top), dot(column + 6, top));
    marks.dimension(dot(column, top), dot(column, head));
    let shown = figure(above, units);
    let long = format!("{shown} above head");
    let fits = |words: &String| letters.width(words, Style::Main) <= view.y(bottom) - top;
    let words = if fits(&long) { long } else { shown };
    let lower = (top + head) / 2 + letters.width(&words, Style::Main) / 2;
    let lower = lower.min(view.y(bottom)).max(top + letters.width(&words, Style::Main));
    marks.text(Text::new(
        letters,
        words,
        Style::Main,
        dot(column + 8 + Style::Main.height(), lower),
        Turn::Up,
    ));
}
