//! Fixings: screws and anchors, each for one substrate.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::columns::fixings::{COLUMNS as f, Fixing};
use super::queries::{Findings, RuleQuery};
use super::raw::RawRow;
use crate::length::Length;
use crate::name::same_name;
use crate::schema::Column;

/// Which of a run's fixings; they are ordered as they are tried.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FixingId(usize);

/// Where a fixing's capacity comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Capacity {
    /// Withdrawal of a wood screw by the NDS formula.
    WoodWithdrawal,
    /// Pull-out of a screw in a steel stud of this thickness, by AISI.
    SteelPullOut {
        /// Thickness of the steel in thousandths of an inch (mil).
        mil: u32,
    },
    /// A working load in newtons.
    WorkingLoad(Decimal),
    /// Not known.
    Unknown,
}

/// Newtons in a pound-force, exactly: 0.453 592 37 kg x 9.806 65 m/s2 (NIST SP 811, B.8).
const NEWTONS_PER_LBF: Decimal = Decimal::from_parts(3_534_835_229, 10_356, 0, false, 13);

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
        let Ok(fixing) = Fixing::read(&row, id, capacity(&row, findings)) else { continue };
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
        Capacity::WoodWithdrawal => &[&f.diameter, &f.thread],
        Capacity::SteelPullOut { .. } => &[&f.diameter],
        Capacity::WorkingLoad(_) | Capacity::Unknown => &[],
    };
    match needs.iter().find(|column| row.value::<Length>(column).is_none()) {
        Some(lacking) => {
            let query = RuleQuery::CapacityNeeds { rule: lacking.name };
            findings.raise(query, row.at(&f.capacity), row.item.clone());
            Capacity::Unknown
        }
        None => capacity,
    }
}

/// `NDS`; `AISI, 33 mil`; `30 lbf`, `133 N`, `0.13 kN`. `None` for anything else, and for a load of 0:
/// an unknown capacity is left blank.
fn read_capacity(text: &str) -> Option<Capacity> {
    let text = text.trim().to_ascii_lowercase();
    if text == "nds" {
        return Some(Capacity::WoodWithdrawal);
    }
    if let Some(stud) = text.strip_prefix("aisi") {
        let mil = stud.trim_start_matches([',', ';', ' ']).strip_suffix("mil")?.trim().parse().ok()?;
        return (1..=1_000).contains(&mil).then_some(Capacity::SteelPullOut { mil });
    }
    let digits = text.find(|letter: char| letter.is_ascii_alphabetic())?;
    let (number, unit) = text.split_at(digits);
    let number: Decimal = number.trim().parse().ok()?;
    let newtons = match unit.trim() {
        "lbf" | "lb" | "lbs" => NEWTONS_PER_LBF,
        "n" => Decimal::ONE,
        "kn" => Decimal::ONE_THOUSAND,
        _ => return None,
    };
    let load = number.checked_mul(newtons)?;
    (load > Decimal::ZERO).then(|| Capacity::WorkingLoad(load.normalize()))
}

#[cfg(test)]
mod tests {
    use super::{Capacity, NEWTONS_PER_LBF, read_capacity};

    #[test]
    fn a_capacity_is_a_standard_or_a_load_with_its_unit() {
        // 0.453 592 37 kg x 9.806 65 m/s2 = 4.448 221 615 260 5 N.
        assert_eq!(NEWTONS_PER_LBF.to_string(), "4.4482216152605");
        let load = |newtons: &str| newtons.parse().ok().map(Capacity::WorkingLoad);
        let cases = [
            ("NDS", Some(Capacity::WoodWithdrawal)),
            (" nds ", Some(Capacity::WoodWithdrawal)),
            ("AISI, 33 mil", Some(Capacity::SteelPullOut { mil: 33 })),
            ("aisi 54mil", Some(Capacity::SteelPullOut { mil: 54 })),
            // 30 x 4.448 221 615 260 5.
            ("30 lbf", load("133.446648457815")),
            ("30lb", load("133.446648457815")),
            ("133 N", load("133")),
            ("0.5 kN", load("500")),
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
