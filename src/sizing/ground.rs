//! What the screws of a blind could go into, as far as the survey says before it has a place.
//!
//! Where the substrate is unknown any listed fixing may be what is used at last, so the one that needs
//! the most room decides: it leaves room for all. Drywall with a known header, studs or blocking is
//! taken as a stud wall is: an anchor never goes where wood is known.

use super::Mount;
use super::header::is_over_recess;
use super::queries::SizingQuery;
use crate::length::Length;
use crate::rules::{CoverRules, Rules};
use crate::survey::{Facts, Substrate};
use crate::worked::Record;

/// The substrates whose fixings could be used here; empty where any could.
fn possible(facts: &Facts, cover: &CoverRules, mount: Mount) -> &'static [Substrate] {
    let header = if mount == Mount::Inside { is_over_recess(facts, cover) } else { facts.has_header() };
    let wood_behind = header || facts.has_blocking();
    let Some(substrate) = facts.substrate.map(|substrate| substrate.value) else {
        return if mount == Mount::Outside && wood_behind { &[Substrate::Wood] } else { &[] };
    };
    match (substrate, mount) {
        (Substrate::Wood, _) | (Substrate::StudWall | Substrate::Drywall, Mount::Inside | Mount::Ceiling) => {
            &[Substrate::Wood]
        }
        (Substrate::StudWall | Substrate::Drywall, Mount::Outside) => {
            if wood_behind || facts.studs().is_some() {
                &[Substrate::Wood]
            } else {
                &[Substrate::Wood, Substrate::Drywall]
            }
        }
        (Substrate::Steel, Mount::Outside) if wood_behind => &[Substrate::Wood],
        (Substrate::Steel, Mount::Inside) if header => &[Substrate::Wood],
        (Substrate::Steel, _) => &[Substrate::Steel],
        (Substrate::Masonry, Mount::Inside | Mount::Outside) if header => &[Substrate::Concrete],
        (Substrate::Masonry, _) => &[Substrate::Masonry],
        (Substrate::Concrete, _) => &[Substrate::Concrete],
    }
}

/// Asks where the screws of a rail at this distance from the wall's face are nearer the edge than one
/// of the fixings allows.
pub(super) fn check_edge(
    facts: &Facts,
    setback: Length,
    mount: Mount,
    (cover, rules): (&CoverRules, &Rules),
    record: &mut Record<'_>,
) {
    let edge = greatest_edge(facts, mount, (cover, rules));
    if setback < edge {
        let query = SizingQuery::ScrewsNearEdge { edge: record.shown(edge) };
        let at = facts.substrate.map(|substrate| substrate.at);
        record.ask(&query, at, record.shown(setback).to_string());
    }
}

/// The greatest edge distance among the listed fixings that could be used here; 0 if none is listed.
pub(super) fn greatest_edge(facts: &Facts, mount: Mount, (cover, rules): (&CoverRules, &Rules)) -> Length {
    let possible = possible(facts, cover, mount);
    let could_be =
        rules.fixings.iter().filter(|fixing| possible.is_empty() || possible.contains(&fixing.substrate));
    could_be.map(|fixing| fixing.edge).max().unwrap_or(Length::ZERO)
}
