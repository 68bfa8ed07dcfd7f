//! Shorthand of the trade for a width and a height. It is never taken for a size, only offered as
//! what was likely meant: the same digits mean other lengths elsewhere.
//!
//! `6068`, `9x21` in modules of 1 dm, and `2(3'-0")` for a pair of leaves are a stop with the likely
//! reading.

use std::ops::RangeInclusive;

use super::read::readings_of_plain;
use super::spelling::{plain, unquoted};
use super::{Length, Unit};

/// Widths and heights of doors and windows, both included; what lies outside is hardly one
/// (common practice, no source).
pub const PLAUSIBLE: RangeInclusive<Length> =
    RangeInclusive::new(Length::from_mm(300), Length::from_mm(6_000));

/// A module of building, 1 dm (ISO 1006; from memory).
const MODULE: Length = Length::from_mm(100);

/// `6068`, `6/0 x 6/8` or `6-0 x 6-8`: feet and inches of a width and a height run together.
pub fn run_together(text: &str) -> Option<[Length; 2]> {
    let text = squeezed(text);
    let sizes = match text.split_once('x') {
        Some((width, height)) => [width, height]
            .map(|size| feet_and_inches(size.split_once('/').or_else(|| size.split_once('-'))?)),
        None if text.len() == 4 && text.is_ascii() => {
            [&text[..2], &text[2..]].map(|size| feet_and_inches(size.split_at(1)))
        }
        None => return None,
    };
    both_plausible(sizes)
}

/// `M9x21`, `9M x 21M` or `9x21`: a width and a height in modules of 1 dm, as ISO 2848 (from
/// memory) has it; in a survey in millimeters also `0921`. Bare numbers, and those that `m`
/// follows, are modules only where they are no lengths of doors and windows in `unit`, or in meters.
pub fn modules(text: &str, unit: Unit) -> Option<[Length; 2]> {
    let text = squeezed(text);
    let in_modules = |size: &str| Some(MODULE * whole(size)?);
    let Some((width, height)) = text.split_once('x') else {
        let run_together = unit == Unit::Millimeter && text.len() == 4 && text.is_ascii();
        return run_together.then(|| [&text[..2], &text[2..]].map(in_modules)).and_then(both_plausible);
    };
    let sizes = [width, height];
    let taken_as_written = || {
        let lengths = sizes.map(|size| match readings_of_plain(size).as_slice() {
            [reading] => Length::of(reading.value, reading.unit.unwrap_or(unit)),
            _ => None,
        });
        both_plausible(lengths).is_some()
    };
    let bare = sizes.map(|size| size.strip_prefix('m').or_else(|| size.strip_suffix('m')).unwrap_or(size));
    both_plausible(bare.map(in_modules)).filter(|_| !taken_as_written())
}

/// `2(3'-0")`, `(2)3068` or `PR 3-0 x 6-8`: a pair of leaves by the width of one, and their height
/// if it is told. The width is that of both.
pub fn pair_of_leaves(text: &str, unit: Unit) -> Option<(Length, Option<Length>)> {
    let text = squeezed(text);
    let (leaf, height) = match text.strip_prefix("2(").and_then(|rest| rest.split_once(')')) {
        Some((leaf, "")) => (leaf, None),
        Some((leaf, rest)) => (leaf, Some(rest.strip_prefix('x')?)),
        None => {
            let rest =
                ["(2)", "pr.", "pr", "pairof", "pair"].iter().find_map(|pair| text.strip_prefix(pair))?;
            if let Some([width, height]) = run_together(rest) {
                return both_plausible([Some(width * 2), Some(height)])
                    .map(|[width, height]| (width, Some(height)));
            }
            rest.split_once('x').map_or((rest, None), |(leaf, height)| (leaf, Some(height)))
        }
    };
    let length = |size: &str| match readings_of_plain(size).as_slice() {
        [reading] => Length::of(reading.value, reading.unit.unwrap_or(unit)),
        _ => feet_and_inches(size.split_once('/').or_else(|| size.split_once('-'))?),
    };
    let width = length(leaf)? * 2;
    let height = match height {
        Some(height) => Some(length(height)?),
        None => None,
    };
    [Some(width), height]
        .into_iter()
        .flatten()
        .all(|size| PLAUSIBLE.contains(&size))
        .then_some((width, height))
}

/// `3` and `0` of `3-0`.
fn feet_and_inches((feet, inches): (&str, &str)) -> Option<Length> {
    let (feet, inches) = (whole(feet)?, whole(inches)?);
    (inches < 12).then(|| Length::inches(feet * 12 + inches))
}

/// The plain text without its spaces, with `x` for the sign between lengths.
fn squeezed(text: &str) -> String {
    unquoted(&plain(text)).replace(['×', '*'], "x").replace(' ', "")
}

/// One or two digits.
fn whole(text: &str) -> Option<i64> {
    let digits = (1..=2).contains(&text.len()) && text.bytes().all(|byte| byte.is_ascii_digit());
    text.parse().ok().filter(|_| digits)
}

fn both_plausible(sizes: [Option<Length>; 2]) -> Option<[Length; 2]> {
    let [Some(width), Some(height)] = sizes else { return None };
    [width, height].iter().all(|size| PLAUSIBLE.contains(size)).then_some([width, height])
}
