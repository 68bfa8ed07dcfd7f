//! Where brackets are: evenly along the rail, with one more beside the stack, or on studs. Each center
//! is rounded by itself, half away from zero.

use super::Wanted;
use crate::blinds::Stack;
use crate::fitting::queries::FittingQuery;
use crate::length::Length;
use crate::rules::CoverRules;
use crate::survey::{Draw, Studs};
use crate::worked::Record;

/// A center from the rail's left end, or how far one is moved, exactly: so many parts of a nanometer.
#[derive(Clone, Copy, Debug)]
pub(super) struct Center {
    pub(super) parts: i128,
    pub(super) in_nm: i128,
}

/// A bracket's center, and whether a stud is behind it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Placed {
    pub(super) center: Center,
    pub(super) on_stud: bool,
}

impl Center {
    /// Moved, and rounded once.
    pub(super) fn moved_by(self, other: Center) -> Length {
        let parts = self.parts * other.in_nm + other.parts * self.in_nm;
        Length::from_ratio(parts, self.in_nm * other.in_nm)
    }

    /// From the rail's left end.
    pub(super) fn to_length(self) -> Length {
        Length::from_ratio(self.parts, self.in_nm)
    }
}

/// Brackets of which no stud is known.
pub(super) fn all(centers: Vec<Center>) -> Vec<Placed> {
    centers.into_iter().map(|center| Placed { center, on_stud: false }).collect()
}

/// Two, or as many as keep every span within the spacing.
pub(super) fn count(width: Length, cover: &CoverRules) -> u32 {
    // ceil((w - 2a) / spacing) with a in quarters of a nanometer.
    let between = quarters(width) - 2 * inset_quarters(width, cover);
    let spacing = quarters(*cover.bracket_spacing);
    let spans = (between + spacing - 1).div_euclid(spacing);
    u32::try_from(spans + 1).unwrap_or(u32::MAX).max(2)
}

/// So many centers, evenly spaced between those of the two ends.
pub(super) fn even(width: Length, count: u32, cover: &CoverRules) -> Vec<Center> {
    let inset = inset_quarters(width, cover);
    let (between, spans) = (quarters(width) - 2 * inset, i128::from(count) - 1);
    (0..=spans).map(|place| Center { parts: inset * spans + between * place, in_nm: 4 * spans }).collect()
}

/// The same with one more beside each stack, an inset nearer its end than the stack is deep; `None` if
/// that is too near another.
pub(super) fn beside_stack(
    centers: &[Center],
    stack: Stack,
    width: Length,
    cover: &CoverRules,
) -> Option<Vec<Center>> {
    let from_end = quarters(stack.width) - inset_quarters(width, cover);
    let left = Center { parts: from_end, in_nm: 4 };
    let right = Center { parts: quarters(width) - from_end, in_nm: 4 };
    let added: &[Center] = match stack.draw {
        Draw::Left => &[left],
        Draw::Right => &[right],
        Draw::Split => &[left, right],
    };
    let mut all = centers.to_vec();
    for center in added {
        let is_near = |other: &Center| (other.to_length() - center.to_length()).abs() < *cover.brackets_apart;
        if all.iter().any(is_near) {
            return None;
        }
        all.push(*center);
    }
    all.sort_by_key(|center| center.to_length());
    Some(all)
}

/// End brackets on the studs nearest their places, the others each on the farthest stud that the span
/// allows, from the left. An end that no stud is near keeps its place, with a check, and so does one of
/// two that would share a stud: the one that is farther from it. On a rail so short that the left bracket
/// would not be left of the right one both keep their places. Of two studs as near the outer one is taken.
/// Where the next stud is farther away than the span allows, it is taken with a check.
pub(super) fn on_studs<'r>(wanted: &Wanted<'_, 'r>, studs: Studs, record: &mut Record<'r>) -> Vec<Placed> {
    let (cover, width) = (wanted.cover, wanted.width);
    let Some(moved) = wanted.rail_from_opening() else {
        return all(even(width, count(width, cover), cover));
    };
    // Studs from the rail's left end, in parts of a nanometer.
    let in_nm = moved.in_nm;
    let in_parts = |length: Length| in_nm * i128::from(length.nm());
    let (first, spacing) = (in_parts(studs.first) - moved.parts, in_parts(studs.spacing));
    let stud = |number: i128| Center { parts: first + number * spacing, in_nm };
    let number_at = |at: i128| (at - first).div_euclid(spacing);
    let inset = Center { parts: inset_quarters(width, cover), in_nm: 4 };
    let opposite = Center { parts: quarters(width) - inset_quarters(width, cover), in_nm: 4 };
    let near = |place: Center, from: Length, to: Length| {
        let numbers = number_at(in_parts(from))..=number_at(in_parts(to)) + 1;
        let fits = numbers.filter(move |number| (from..=to).contains(&stud(*number).to_length()));
        let off = move |number: i128| (stud(number).to_length() - place.to_length()).abs();
        let middle = width.half_down();
        fits.min_by_key(move |number| (off(*number), -(stud(*number).to_length() - middle).abs()))
    };
    let (least, most) = (*cover.stud_inset_least, *cover.stud_inset_most);
    let mut ends = [near(inset, least, most), near(opposite, width - most, width - least)];
    if let [Some(left), Some(right)] = ends
        && left >= right
    {
        let off = |number, place: Center| (stud(number).to_length() - place.to_length()).abs();
        let keeps = if off(left, inset) <= off(right, opposite) { 1 } else { 0 };
        ends[keeps] = None;
    }
    let place = |end: Option<i128>, own: Center| match end {
        Some(number) => Placed { center: stud(number), on_stud: true },
        None => Placed { center: own, on_stud: false },
    };
    let (mut left, mut right) = (place(ends[0], inset), place(ends[1], opposite));
    if left.center.to_length() >= right.center.to_length() {
        (ends, left, right) = ([None, None], place(None, inset), place(None, opposite));
    }
    let which = match (left.on_stud, right.on_stud) {
        (true, true) => None,
        (false, true) => Some("left end"),
        (true, false) => Some("right end"),
        (false, false) => Some("both ends"),
    };
    if let Some(which) = which {
        record.ask(&FittingQuery::NoStudAtEnd, wanted.facts.first_stud.map(|first| first.at), which);
    }
    let mut placed = vec![left];
    // Counted by number, for a center is rounded and may seem to stand before its own stud.
    let mut next = ends[0].unwrap_or_else(|| number_at(in_parts(left.center.to_length()))) + 1;
    let last = right.center.to_length();
    let mut from = left.center.to_length();
    while last - from > *cover.stud_span {
        let farthest = number_at(in_parts(from + *cover.stud_span)).max(next);
        let center = stud(farthest);
        if center.to_length() >= last {
            break;
        }
        placed.push(Placed { center, on_stud: true });
        (from, next) = (center.to_length(), farthest + 1);
    }
    placed.push(right);
    let spans = placed.windows(2).map(|pair| pair[1].center.to_length() - pair[0].center.to_length());
    if let Some(widest) = spans.max().filter(|widest| *widest > *cover.stud_span) {
        let query = FittingQuery::StudsFarApart { most: record.shown(*cover.stud_span) };
        record.ask(
            &query,
            wanted.facts.stud_spacing.map(|spacing| spacing.at),
            record.shown(widest).to_string(),
        );
    }
    placed
}

fn quarters(length: Length) -> i128 {
    4 * i128::from(length.nm())
}

/// From an end of the rail to its bracket: a quarter of any width is whole in quarters of a nanometer.
fn inset_quarters(width: Length, cover: &CoverRules) -> i128 {
    quarters(*cover.bracket_inset).min(i128::from(width.nm()))
}
