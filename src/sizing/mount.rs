//! Which mount an opening gets, and whether its blind may be made now.
//!
//! Finished sizes: the mount must be given. Inside, a recess known to be too shallow, a leaf that
//! comes in and a wanted drop over the finished one still stop the opening; a floor not yet laid
//! still makes it provisional.
//!
//! Quantity over 1 with one measurement means one width or one height.

use rust_decimal::Decimal;

use super::queries::SizingQuery;
use super::{Covered, Hung, InRecess, Mount, OnWall, Release, Size, SizeWindow, floor, inside, outside};
use crate::length::Length;
use crate::query::Held;
use crate::rules::{CoverRules, Rules};
use crate::survey::{Facts, MountWanted, SizeSource};
use crate::worked::{Number, Record, Source};

/// Square nanometers in a square foot (0.09290304 m2 exactly; NIST SP 811).
const NM2_PER_SQ_FT: i128 = 92_903_040_000_000_000;

/// Covers a measured opening: inside if asked for or if it fits, else outside.
pub(super) fn cover<'r>(
    facts: &Facts,
    cover: &'r CoverRules,
    rules: &Rules,
    record: &mut Record<'r>,
) -> Result<Covered<'r>, Held> {
    let wanted = facts.mount.map_or(MountWanted::Either, |mount| mount.value);
    let lean = lean(facts, cover, record);
    let covered = match wanted {
        MountWanted::Outside => cover_outside(facts, cover, rules, record)?,
        MountWanted::Inside => cover_inside(facts, lean, cover, record)?,
        MountWanted::Either if fits_inside(facts, lean, cover, record) => {
            cover_inside(facts, lean, cover, record)?
        }
        MountWanted::Either => cover_outside(facts, cover, rules, record)?,
    };
    check_spread(facts, covered.hung.mount(), cover, record);
    Ok(covered)
}

/// Whether the recess takes the blind, so far as a silent trial of the same rules can tell.
fn fits_inside<'r>(facts: &Facts, lean: Option<Length>, cover: &'r CoverRules, record: &Record<'r>) -> bool {
    let Some(depth) = facts.recess_depth else {
        return false;
    };
    let mut trial = record.trial();
    let sized = inside::size(facts, cover, &mut trial);
    depth.value >= inside::depth_needed(facts, cover, &mut trial)
        && inside::obstacle(facts, lean, sized.window.preferred(), cover, record).is_none()
}

fn cover_inside<'r>(
    facts: &Facts,
    lean: Option<Length>,
    cover: &'r CoverRules,
    record: &mut Record<'r>,
) -> Result<Covered<'r>, Held> {
    let asked_at = facts.mount.map(|mount| mount.at);
    let needed = inside::depth_needed(facts, cover, record);
    let sized = inside::size(facts, cover, record);
    match facts.recess_depth {
        Some(depth) if depth.value < needed => {
            return Err(record.hold(
                &SizingQuery::InsideTooShallow { needed: record.shown(needed) },
                Some(depth.at),
                "",
            ));
        }
        Some(depth) => {
            record.step(Number::Mount, "recess deep enough", depth.at, Mount::Inside.word());
        }
        None => {
            let query = SizingQuery::DepthUnknown { needed: record.shown(needed) };
            record.ask(&query, asked_at, "");
        }
    }
    if let Some(obstacle) = inside::obstacle(facts, lean, sized.window.preferred(), cover, record) {
        return Err(record.hold(&obstacle, asked_at, ""));
    }
    if let Some(wanted) = facts.drop_wanted.filter(|wanted| wanted.value > sized.most_drop) {
        let query = SizingQuery::DropOverRecess { most: record.shown(sized.most_drop) };
        return Err(record.hold(&query, Some(wanted.at), ""));
    }
    let hung = InRecess { allowance: Some(sized.allowance), ..inside::hang(facts, cover, record) };
    Ok(Covered { hung: Hung::Inside(hung), window: sized.window })
}

fn cover_outside<'r>(
    facts: &Facts,
    cover: &'r CoverRules,
    rules: &Rules,
    record: &mut Record<'r>,
) -> Result<Covered<'r>, Held> {
    let source = facts.mount.map_or(Source::Above, |mount| mount.at.into());
    record.step(Number::Mount, "on the wall face", source, Mount::Outside.word());
    let hung = outside::hang(facts, cover, record)?;
    let sized = outside::size(facts, cover, &rules.project, record)?;
    if let Some(limit) = over_limits(sized.window.preferred(), cover, record) {
        return Err(record.hold(&limit, Some(facts.width.most().at), ""));
    }
    let hung = OnWall { allowance: Some(sized.allowance), ..hung };
    Ok(Covered { hung: Hung::Outside(hung), window: sized.window })
}

/// A finished size is taken as it is: nothing comes off, and what needs the opening stays unknown.
pub(super) fn take_finished<'r>(
    facts: &Facts,
    cover: &'r CoverRules,
    record: &mut Record<'r>,
) -> Result<Covered<'r>, Held> {
    let mount = match facts.mount.map(|mount| mount.value) {
        Some(MountWanted::Inside) => Mount::Inside,
        Some(MountWanted::Outside) => Mount::Outside,
        Some(MountWanted::Either) | None => {
            return Err(record.hold(
                &SizingQuery::FinishedWithoutMount,
                facts.mount.map(|mount| mount.at),
                "",
            ));
        }
    };
    if let Some(given) = facts.mount {
        record.step(Number::Mount, "as given", given.at, mount.word());
    }
    let (width, drop) = (facts.width.least(), facts.height.least());
    let size = Size {
        width: record.step(Number::Width, "finished width as given", width.at, width.value),
        drop: match facts.drop_wanted {
            Some(wanted) => record.step(Number::Drop, "drop wanted, taken as given", wanted.at, wanted.value),
            None => record.step(Number::Drop, "finished drop as given", drop.at, drop.value),
        },
    };
    if let Some(limit) = over_limits(size, cover, record) {
        return Err(record.hold(&limit, Some(width.at), ""));
    }
    let hung = match mount {
        Mount::Outside => Hung::Outside(outside::hang(facts, cover, record)?),
        Mount::Inside => {
            check_finished_inside(facts, cover, record)?;
            Hung::Inside(inside::hang(facts, cover, record))
        }
    };
    Ok(Covered { hung, window: SizeWindow::only(size) })
}

/// What stops an inside mount also where its size is finished: a recess known to be too shallow,
/// a leaf that comes in, and a wanted drop over the finished one.
fn check_finished_inside<'r>(
    facts: &Facts,
    cover: &'r CoverRules,
    record: &mut Record<'r>,
) -> Result<(), Held> {
    let needed = inside::depth_needed(facts, cover, record);
    if let Some(depth) = facts.recess_depth.filter(|depth| depth.value < needed) {
        let query = SizingQuery::InsideTooShallow { needed: record.shown(needed) };
        return Err(record.hold(&query, Some(depth.at), ""));
    }
    if let Some(query) = inside::leaf_in_the_way(facts) {
        return Err(record.hold(&query, facts.opens.map(|opens| opens.at), ""));
    }
    let most = facts.height.least().value;
    if let Some(wanted) = facts.drop_wanted.filter(|wanted| wanted.value > most) {
        let query = SizingQuery::DropOverRecess { most: record.shown(most) };
        return Err(record.hold(&query, Some(wanted.at), ""));
    }
    Ok(())
}

/// Whether the blind may be made now, with a check for every reason to measure again.
pub(super) fn release(
    facts: &Facts,
    mount: Mount,
    quantity: u32,
    rules: &Rules,
    record: &mut Record<'_>,
) -> Release {
    let mut release = Release::Make;
    if facts.source != SizeSource::Tape {
        let query = SizingQuery::NotFromTape { measured: facts.source, mount };
        record.ask(&query, facts.source_at, "");
        if mount == Mount::Inside {
            release = Release::Provisional;
        }
    }
    if floor::is_open_question(facts, &rules.project) {
        record.ask(&SizingQuery::FloorToCome, facts.floor.map(|floor| floor.at), "");
        release = Release::Provisional;
    }
    let measured_once = facts.width.count() == 1 || facts.height.count() == 1;
    if quantity > 1 && mount == Mount::Inside && measured_once {
        record.ask(&SizingQuery::MeasureEach, Some(facts.width.least().at), format!("{quantity} openings"));
    }
    release
}

/// The limit of the product that a finished size breaks, if it breaks one.
pub(super) fn over_limits(size: Size, cover: &CoverRules, record: &Record<'_>) -> Option<SizingQuery> {
    let limits = [
        ("width", size.width, *cover.least_width, *cover.most_width),
        ("drop", size.drop, *cover.least_drop, *cover.most_drop),
    ];
    limits.into_iter().find_map(|(what, length, least, most)| {
        if length < least {
            Some(SizingQuery::UnderLimit { what, least: record.shown(least) })
        } else if length > most {
            Some(SizingQuery::OverLimit { what, most: record.shown(most) })
        } else {
            None
        }
    })
}

/// How far an opening leans sideways over its height, from both diagonals: exact for a
/// parallelogram, |D1^2 - D2^2| / 4 W. A check where it is over the side clearance.
fn lean<'r>(facts: &Facts, cover: &'r CoverRules, record: &mut Record<'r>) -> Option<Length> {
    let [one, other] = facts.diagonals?;
    let square = |length: Length| i128::from(length.nm()) * i128::from(length.nm());
    let difference = (square(one.value) - square(other.value)).abs();
    let lean = Length::from_ratio(difference, 4 * i128::from(facts.width.least().value.nm()));
    record.step(Number::Lean, "from both diagonals and the smallest width", one.at, lean);
    let limit = *cover.side_clearance;
    if lean > limit {
        let query = SizingQuery::Leans { limit: record.shown(limit) };
        record.ask(&query, Some(one.at), record.shown(lean).to_string());
    }
    Some(lean)
}

/// Spread of the measurements of one opening over which someone should look again.
fn check_spread(facts: &Facts, mount: Mount, cover: &CoverRules, record: &mut Record<'_>) {
    let area = i128::from(facts.width.least().value.nm()) * i128::from(facts.height.least().value.nm());
    let small_area = *cover.small_opening_sq_ft * Decimal::from(NM2_PER_SQ_FT);
    let small = mount == Mount::Inside && Decimal::from(area) < small_area;
    let limit = if small { *cover.small_spread_limit } else { *cover.spread_limit };
    let shown = record.shown(limit);
    let sides = [
        (SizingQuery::WidthSpread { limit: shown }, &facts.width),
        (SizingQuery::HeightSpread { limit: shown }, &facts.height),
    ];
    for (query, measured) in sides {
        let spread = measured.most().value - measured.least().value;
        if spread > limit {
            let at = Some(measured.most().at);
            record.ask(&query, at, record.shown(spread).to_string());
        }
    }
}
