//! Fixings: screws and anchors, each for one substrate.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::columns::fixings::{COLUMNS as f, Fixing};
use super::queries::{Findings, RuleQuery};
use super::raw::RawRow;
use crate::force::POUND_FORCE;
use crate::length::Length;
use crate::name::same_name;
use crate::schema::Column;
use crate::schema::choices::Substrate;
use crate::tables::steel;

/// Which of a run's fixings; they are ordered as they are tried.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FixingId(usize);

/// Where a fixing's capacity comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Capacity {
    /// Withdrawal of a wood screw by the NDS formula.
    WoodWithdrawal,
    /// Withdrawal of a lag screw by the NDS formula.
    LagWithdrawal,
    /// Pull-out of a screw in a steel stud of this design thickness, by AISI.
    SteelPullOut(Length),
    /// A working load in newtons.
    WorkingLoad(Decimal),
    /// Not known.
    Unknown,
}

/// The room that a fixing needs in what it goes into, where its row does not say.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::rules) struct Room {
    /// To the nearest edge.
    pub(in crate::rules) edge: Length,
    /// To the next screw.
    pub(in crate::rules) spacing: Length,
}

impl Room {
    /// The usual room in a substrate (common practice, no source): the anchor's own approval goes
    /// before it.
    fn usual(substrate: Substrate) -> Room {
        let quarters = |edge: i64, spacing: i64| Room {
            edge: Length::sixty_fourths(16 * edge),
            spacing: Length::sixty_fourths(16 * spacing),
        };
        match substrate {
            Substrate::Wood | Substrate::StudWall => quarters(3, 0),
            Substrate::Steel => quarters(2, 2),
            Substrate::Concrete => quarters(6, 6),
            Substrate::Drywall | Substrate::Masonry => quarters(8, 8),
        }
    }
}

impl Fixing {
    /// Where its capacity comes from: its own source, else the standard or the load that its row
    /// gives; `None` if its capacity is not known.
    pub fn capacity_source(&self) -> Option<&str> {
        let usual = match self.capacity {
            Capacity::WoodWithdrawal | Capacity::LagWithdrawal => "ANSI/AWC NDS",
            Capacity::SteelPullOut(_) => "AISI S100",
            Capacity::WorkingLoad(_) => "working load as listed",
            Capacity::Unknown => return None,
        };
        Some(self.source.as_deref().unwrap_or(usual))
    }
}

/// The fixings, and the rows as used.
pub(super) fn fixings(
    rows: &[RawRow],
    built_in: &[RawRow],
    findings: &mut Findings,
) -> (Vec<Fixing>, Vec<RawRow>) {
    let mut fixings: Vec<Fixing> = Vec::with_capacity(rows.len());
    let mut used = Vec::with_capacity(rows.len());
    for row in rows {
        if !row.sift(findings) || !row.complete(&[&f.substrate], findings) {
            continue;
        }
        if fixings.iter().any(|known| same_name(&known.item, &row.item)) {
            findings.raise(RuleQuery::Twice { sheet: row.table.sheet }, row.at, row.item.clone());
            continue;
        }
        let same_item = built_in.iter().find(|known| same_name(&known.item, &row.item));
        let row = row.clone().with_example(same_item);
        let id = FixingId(fixings.len());
        let Some(substrate) = row.value(&f.substrate) else { continue };
        let capacity = capacity(&row, findings);
        let Ok(fixing) = Fixing::read(&row, id, capacity, Room::usual(substrate)) else { continue };
        fixings.push(fixing);
        used.push(row);
    }
    (fixings, used)
}

/// The row's capacity; unknown, with a check, where it cannot be read or lacks what its formula needs.
fn capacity(row: &RawRow, findings: &mut Findings) -> Capacity {
    let Some(text) = row.value::<Arc<str>>(&f.capacity) else { return Capacity::Unknown };
    let Some(capacity) = read_capacity(&text) else {
        findings.raise(RuleQuery::Capacity, row.at(&f.capacity), &*text);
        return Capacity::Unknown;
    };
    let needs: &[&'static Column] = match capacity {
        Capacity::WoodWithdrawal | Capacity::LagWithdrawal => &[&f.diameter, &f.length, &f.thread],
        Capacity::SteelPullOut(_) => &[&f.diameter],
        Capacity::WorkingLoad(_) | Capacity::Unknown => &[],
    };
    // A formula holds in what it was found for, and of a screw that can be.
    let substrate = row.value::<Substrate>(&f.substrate);
    let another = match capacity {
        Capacity::WoodWithdrawal | Capacity::LagWithdrawal => substrate != Some(Substrate::Wood),
        Capacity::SteelPullOut(_) => substrate != Some(Substrate::Steel),
        Capacity::WorkingLoad(_) | Capacity::Unknown => false,
    };
    if another {
        findings.raise(RuleQuery::CapacityElsewhere, row.at(&f.capacity), &*text);
        return Capacity::Unknown;
    }
    let of = |column: &'static Column| row.value::<Length>(column);
    let is_over = |part: &'static Column, whole: &'static Column| {
        of(part).zip(of(whole)).is_some_and(|(part, whole)| part > whole)
    };
    if matches!(capacity, Capacity::WoodWithdrawal | Capacity::LagWithdrawal)
        && (is_over(&f.thread, &f.length)
            || is_over(&f.pilot, &f.diameter)
            || is_over(&f.diameter, &f.length))
    {
        findings.raise(RuleQuery::ScrewCannotBe, row.at(&f.capacity), row.item.clone());
        return Capacity::Unknown;
    }
    match needs.iter().find(|column| row.value::<Length>(column).is_none()) {
        Some(lacking) => {
            let query = RuleQuery::CapacityNeeds { rule: lacking.name };
            findings.raise(query, row.at(&f.capacity), row.item.clone());
            Capacity::Unknown
        }
        None => capacity,
    }
}

/// `NDS`; `NDS lag`; `AISI, 33 mil`; `30 lbf`, `133 N`, `0.13 kN`; `200 lbf ultimate`, `200 lbf / 5`. `None` for anything else, and for a load of 0:
/// an unknown capacity is left blank.
fn read_capacity(text: &str) -> Option<Capacity> {
    let text = text.trim().to_ascii_lowercase();
    if text == "nds" {
        return Some(Capacity::WoodWithdrawal);
    }
    if let Some(kind) = text.strip_prefix("nds") {
        let kind = kind.trim_start_matches([',', ';', ' ']).trim_end_matches("screw").trim();
        return (kind == "lag").then_some(Capacity::LagWithdrawal);
    }
    if let Some(stud) = text.strip_prefix("aisi") {
        let mil = stud.trim_start_matches([',', ';', ' ']).strip_suffix("mil")?.trim().parse().ok()?;
        return steel::of_mil(mil).map(Capacity::SteelPullOut);
    }
    // An ultimate load is four times the working load of an anchor at the least (common practice, no
    // source), unless its own factor stands behind it.
    let (text, factor) = match text.split_once('/') {
        Some((load, factor)) => (load.trim(), factor.trim().parse().ok()?),
        None => text
            .strip_suffix("ultimate")
            .map_or((text.as_str(), Decimal::ONE), |load| (load.trim(), Decimal::from(4))),
    };
    if factor < Decimal::ONE {
        return None;
    }
    let digits = text.find(|letter: char| letter.is_ascii_alphabetic())?;
    let (number, unit) = text.split_at(digits);
    let number: Decimal = number.trim().parse().ok()?;
    let newtons = match unit.trim() {
        "lbf" | "lb" | "lbs" => POUND_FORCE,
        "n" => Decimal::ONE,
        "kn" => Decimal::ONE_THOUSAND,
        _ => return None,
    };
    let load = number.checked_mul(newtons)?.checked_div(factor)?;
    (load > Decimal::ZERO).then(|| Capacity::WorkingLoad(load.normalize()))
}

#[cfg(test)]
mod tests {
    use super::{Capacity, read_capacity};
    use crate::length::Length;

    #[test]
    fn a_capacity_is_a_standard_or_a_load_with_its_unit() {
        let load = |newtons: &str| newtons.parse().ok().map(Capacity::WorkingLoad);
        let cases = [
            ("NDS", Some(Capacity::WoodWithdrawal)),
            (" nds ", Some(Capacity::WoodWithdrawal)),
            ("NDS lag", Some(Capacity::LagWithdrawal)),
            ("NDS, lag screw", Some(Capacity::LagWithdrawal)),
            // 0.0346 in and 0.0566 in.
            ("AISI, 33 mil", Some(Capacity::SteelPullOut(Length::from_nm(878_840)))),
            ("aisi 54mil", Some(Capacity::SteelPullOut(Length::from_nm(1_437_640)))),
            ("NDS nail", None),
            // 30 x 4.448 221 615 260 5.
            ("30 lbf", load("133.446648457815")),
            ("30lb", load("133.446648457815")),
            ("133 N", load("133")),
            ("0.5 kN", load("500")),
            // 200 x 4.448 221 615 260 5 / 4, and / 5.
            ("200 lbf ultimate", load("222.411080763025")),
            ("200 lbf / 5", load("177.92886461042")),
            ("200 lbf / 0.5", None),
            ("AISI", None),
            ("30", None),
            ("30 kg", None),
            ("0 N", None),
            ("-5 N", None),
            ("strong", None),
            ("", None),
        ];
        for (text, expected) in cases {
            assert_eq!(read_capacity(text), expected, "{text}");
        }
    }
}
