//! Two columns of a sheet that claim one column of the schema: the better one is used.

use super::headings::Heading;
use super::queries::SheetQuery;
use crate::grid::Sheet;
use crate::length::Unit;
use crate::query::Query;
use crate::schema::groups::Whose;
use crate::schema::{Column, Kind};

/// What became of a heading that another one is better than, or as good as.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Loser {
    /// Its texts are carried through beside the opening.
    Carried,
    /// A second size is asked about and left out.
    LeftOut,
    /// `Width ft` beside `Width in`: the two together are the length of the column given.
    PartOf(u16),
}

/// How good a claim is: the least is the best. A column with data comes before an empty one, the
/// opening's own group before none, the column's own name before another, then an earlier name
/// before a later one.
type Claim = (bool, bool, usize);

/// Settles every column that several headings claim. Given are the headings, whether a column of
/// the sheet holds anything, and the sheet that they stand on; back come the losers by their position.
pub(super) fn settle(
    headings: &[Heading],
    holds_data: impl Fn(u16) -> bool,
    sheet: &Sheet,
    queries: &mut Vec<Query>,
) -> Vec<(usize, Loser)> {
    let slot = |heading: &Heading| heading.known.map(|known| known.column.slot);
    let mut losers = Vec::new();
    for (first, heading) in headings.iter().enumerate() {
        let Some(known) = heading.known else { continue };
        let same = || headings.iter().enumerate().filter(|(_, other)| slot(other) == Some(known.column.slot));
        if same().next().is_none_or(|(at, _)| at != first) || same().nth(1).is_none() {
            continue;
        }
        let claim = |heading: &Heading| -> Claim {
            let rank = heading.known.map_or(usize::MAX, |known| known.rank);
            (!holds_data(heading.column), heading.whose != Whose::Opening, rank)
        };
        let Some((winner, used)) = same().min_by_key(|(at, heading)| (claim(heading), *at)) else { continue };
        for (at, other) in same().filter(|(at, _)| *at != winner) {
            if same().count() == 2 && are_feet_and_inches(used, other) {
                losers.push((at, Loser::PartOf(used.column)));
                continue;
            }
            let evident = claim(used) != claim(other);
            let is_empty = !holds_data(other.column) && holds_data(used.column);
            // What a person says must not take the place of another heading without a word.
            let is_said = [used, other].iter().any(|heading| heading.said.is_some());
            if !(is_empty || (evident && !is_said && known.column.kind == Kind::Text)) {
                let (first, second, name) = (used.text.clone(), other.text.clone(), known.column.name);
                let said = if used.said.is_some() { used } else { other };
                let (asked, at) = match is_said && known.column.decides {
                    true => (SheetQuery::SaidTwice { first, second, name }, said),
                    false => (SheetQuery::Doubled { first, second, name }, other),
                };
                let place = at.row.map(|row| sheet.at(row, at.column));
                queries.push(Query::new(&asked, place).reading(at.text.as_str()));
            }
            losers.push((at, lost(known.column)));
        }
    }
    losers
}

/// Whether one heading is of feet and the other of inches.
fn are_feet_and_inches(one: &Heading, other: &Heading) -> bool {
    let unit = |heading: &Heading| heading.known.and_then(|known| known.unit);
    matches!(
        (unit(one), unit(other)),
        (Some(Unit::Foot), Some(Unit::Inch)) | (Some(Unit::Inch), Some(Unit::Foot))
    )
}

fn lost(column: &Column) -> Loser {
    if column.holds_lengths() { Loser::LeftOut } else { Loser::Carried }
}
