//! Facts of materials that older surveys write on other sheets: how one is sawn on `Bars`, hem and
//! mass on `Products`. They are taken as the material's own, where its row on `Materials` is blank.
//!
//! On `Products` every product of a blank survey had the hem and the mass of fabric printed beside
//! it, whatever its louvers were cut from, so PVC louvers came out with a hem and too light. What was
//! printed there is therefore nobody's word: it is not taken, and a check names it where the
//! material says otherwise. Any other value is someone's own, and is taken.

use rust_decimal::Decimal;

use super::columns::bars::COLUMNS as b;
use super::columns::materials::COLUMNS as m;
use super::columns::products::COLUMNS as p;
use super::queries::{Findings, RuleQuery};
use super::raw::{RawCell, RawRow, by_item};
use crate::length::Length;
use crate::name::ByName;
use crate::schema::Column;
use crate::tables::Datum;

/// A fact of a material that is said on another sheet.
pub(super) struct Said {
    /// The material, as that sheet names it.
    pub(super) material: String,
    /// The fact's column on `Materials`.
    pub(super) fact: &'static Column,
    /// The cell.
    pub(super) cell: RawCell,
}

/// A fact that a product was once told of its material.
struct Former {
    column: &'static Column,
    /// The column of the product that names the material.
    of: &'static Column,
    fact: &'static Column,
    /// What a blank survey had printed there.
    printed: fn() -> Datum,
}

const ON_BARS: [(&Column, &Column); 4] =
    [(&b.kerf, &m.kerf), (&b.trim, &m.trim), (&b.least_useful, &m.least_useful), (&b.colored, &m.colored)];

const ON_PRODUCTS: [Former; 4] = [
    Former {
        column: &p.hem,
        of: &p.louver_material,
        fact: &m.hem,
        printed: || Datum::Length(Length::inches(2)),
    },
    Former {
        column: &p.fabric_mass,
        of: &p.louver_material,
        fact: &m.mass,
        printed: || Datum::Number(Decimal::new(28, 2)),
    },
    Former {
        column: &p.rail_mass,
        of: &p.rail_material,
        fact: &m.mass,
        printed: || Datum::Number(Decimal::new(75, 2)),
    },
    Former {
        column: &p.valance_mass,
        of: &p.valance_material,
        fact: &m.mass,
        printed: || Datum::Number(Decimal::new(35, 2)),
    },
];

/// Takes what `Bars` says of its materials out of the rows; a stop where two bars of one differ.
pub(super) fn from_bars(rows: &mut [RawRow], findings: &mut Findings) -> Vec<Said> {
    let mut said: Vec<Said> = Vec::new();
    let mut places: ByName<usize> = ByName::default();
    for row in rows {
        for (column, fact) in ON_BARS {
            let Some(cell) = row.take(column) else { continue };
            if let Err(unread) = &cell.datum {
                findings.unreadable(row.table.sheet, cell.at(), unread);
                continue;
            }
            let mut above = places.all(&row.item).iter().filter_map(|place| said.get(*place));
            match above.find(|above| above.fact.slot == fact.slot) {
                None => {
                    places.enter(&row.item, said.len());
                    said.push(Said { material: row.item.clone(), fact, cell });
                }
                Some(above) if above.cell.datum == cell.datum => {}
                Some(above) => {
                    for cell in [&above.cell, &cell] {
                        let detail = format!("{}: {}", row.item, cell.written);
                        findings.raise(RuleQuery::BarsDiffer { rule: column.name }, cell.at(), detail);
                    }
                }
            }
        }
    }
    said
}

/// What was printed on `Products` beside a product, and is not taken.
pub(super) struct Printed {
    product: String,
    material: String,
    former: &'static Former,
    cell: RawCell,
}

/// What the products' own rows, as `written`, say of their materials. The former columns are taken out of
/// `products`, the rows with their blanks filled, so that none inherits what another was told.
pub(super) fn from_products(
    written: &[RawRow],
    products: &mut [RawRow],
    findings: &mut Findings,
) -> (Vec<Said>, Vec<Printed>) {
    let (mut said, mut printed) = (Vec::new(), Vec::new());
    let written = by_item(written);
    for row in products.iter_mut() {
        let own = written.first(&row.item).copied();
        for former in &ON_PRODUCTS {
            row.forget(former.column);
            let Some(cell) = own.and_then(|own| own.cell(former.column)).cloned() else { continue };
            let material = row.written(former.of).to_owned();
            match &cell.datum {
                Err(unread) => findings.unreadable(row.table.sheet, cell.at(), unread),
                Ok(datum) if *datum == (former.printed)() => {
                    printed.push(Printed { product: row.item.clone(), material, former, cell });
                }
                Ok(_) => said.push(Said { material, fact: former.fact, cell }),
            }
        }
    }
    (said, printed)
}

/// A check for each printed value that is not the material's.
pub(super) fn name_not_taken(printed: &[Printed], materials: &[RawRow], findings: &mut Findings) {
    let materials = by_item(materials);
    for Printed { product, material, former, cell } in printed {
        let Some(used) = materials.first(material).and_then(|row| row.cell(former.fact)) else { continue };
        if used.datum != cell.datum {
            let asked = RuleQuery::NotTaken { rule: former.column.name, fact: former.fact.name };
            let detail = format!("{product}: {}; {material}: {}", cell.written, used.written);
            findings.raise(asked, cell.at(), detail);
        }
    }
}
