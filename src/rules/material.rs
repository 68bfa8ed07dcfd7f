//! Materials: the facts of each, once. A survey goes over the built-in material of that name field by
//! field, or over the one that its row names under `Like`, which a built-in one may have as well. What
//! older surveys say of a material on other sheets (`moved`) stands between the two; where it differs from
//! the material's own cell the run stops, for nobody can tell which of them is right.
//!
//! A new material that says less than its products need is taken the cautious way, with one check
//! that names each value: as heavy as the heaviest louver, with a hem, for a blind that is heavier
//! than was thought comes down, and a louver that is too long can be cut again.

use std::sync::Arc;

use super::columns::materials::{COLUMNS as m, MATERIALS, Material, StockName};
use super::columns::products::COLUMNS as p;
use super::moved::Said;
use super::queries::{Findings, RuleQuery};
use super::raw::{ByItem, Missing, RawCell, RawRow};
use crate::name::{self, ByName};
use crate::place::CellRef;
use crate::schema::Column;
use crate::tables::FromDatum;
use crate::worked::Rule;

/// The columns of a product that name a material, each with the facts of it that the product needs.
pub(super) const NEEDED: [(&Column, &[&Column]); 4] = [
    (&p.rail_material, &[&m.mass]),
    (&p.rod_material, &[]),
    (&p.valance_material, &[&m.mass]),
    (&p.louver_material, &[&m.hem, &m.mass]),
];

/// Facts that any material has.
const OF_ANY: [&Column; 5] = [&m.stock_name, &m.colored, &m.kerf, &m.trim, &m.least_useful];

/// What says how the pieces are put on its stock lengths; nobody is asked about a blank.
const TAKEN_QUIETLY: [&Column; 2] = [&m.cut_in, &m.torn_costs];

/// What is known of materials before they are one list.
pub(super) struct Sources<'r> {
    /// The built-in materials.
    pub(super) built_in: &'r [RawRow],
    /// What the blanks of a new material mean.
    pub(super) blanks: &'r RawRow,
    /// The survey's sheet `Materials`.
    pub(super) written: &'r [RawRow],
    /// What older surveys say on other sheets, by material.
    pub(super) said: ByName<&'r Said>,
    /// The products, blanks filled.
    pub(super) products: &'r [RawRow],
    /// The stock lengths.
    pub(super) bars: &'r [RawRow],
    /// The same by the material that they are about.
    pub(super) of: OfItem<'r>,
}

/// Rows of several lists by material.
pub(super) struct OfItem<'r> {
    /// Of the built-in materials.
    pub(super) built_in: ByItem<'r>,
    /// Of the sheet `Materials`.
    pub(super) written: ByItem<'r>,
    /// Of the stock lengths.
    pub(super) bars: ByItem<'r>,
    /// Of the products, where they name it.
    pub(super) uses: ByName<Use>,
}

/// Where a product names a material, and the facts of it that the product needs.
pub(super) type Use = (Option<CellRef>, &'static [&'static Column]);

/// What the products use, by material.
pub(super) fn uses(products: &[RawRow]) -> ByName<Use> {
    let of_product = |product| {
        NEEDED.map(|(column, facts)| (RawRow::written(product, column), (product.at(column), facts)))
    };
    products.iter().flat_map(of_product).collect()
}

/// The materials above one that is being read.
#[derive(Default)]
struct Above {
    rows: Vec<RawRow>,
    places: ByName<usize>,
}

impl Above {
    fn named(&self, name: &str) -> Option<&RawRow> {
        self.places.first(name).and_then(|place| self.rows.get(*place))
    }

    fn push(&mut self, row: RawRow) {
        self.places.enter(&row.item, self.rows.len());
        self.rows.push(row);
    }
}

/// Every material that is built in, written, held in bars or named by a product, and its row as used.
///
/// # Errors
/// If a fact is blank that must have a built-in value.
pub(super) fn materials(
    sources: &Sources<'_>,
    findings: &mut Findings,
) -> Result<(Vec<Material>, Vec<RawRow>), Missing> {
    let mut above = Above::default();
    let mut materials = Vec::new();
    for name in sources.names() {
        let (row, usable) = sources.row(name, &above, findings);
        if usable {
            materials.push(Material::read(&row, Arc::from(name))?);
            above.push(row);
        } else {
            // The run stops at what cannot be read; until then the products have something to go on.
            above.push(sources.without_its_own(name));
        }
    }
    Ok((materials, above.rows))
}

/// Spells the materials of products as the list of materials does.
pub(super) fn spell(products: &mut [RawRow], materials: &[Material]) {
    let by_name: ByName<&Material> = materials.iter().map(|known| (&*known.name, known)).collect();
    for product in products {
        for (column, _) in NEEDED {
            if let Some(known) = by_name.first(product.written(column)) {
                product.spell(column, &known.name);
            }
        }
    }
}

/// A fact of the material that a product names in a column; it carries the material's name.
pub(super) fn fact_of<T: FromDatum>(
    materials: &ByItem<'_>,
    product: &RawRow,
    names_it: &'static Column,
    fact: &'static Column,
) -> Result<Rule<T>, Missing> {
    let wanted = product.written(names_it);
    let row = materials.first(wanted).ok_or(Missing(names_it))?;
    row.needed(fact).map(|value| row.named(fact, value))
}

impl<'r> Sources<'r> {
    /// The name of every material, each once, as it is spelled first.
    fn names(&self) -> Vec<&'r str> {
        let of_product = |row: &'r RawRow| NEEDED.map(|(column, _)| row.written(column));
        let lists = [self.built_in, self.written, self.bars].into_iter().flatten();
        let listed = lists.map(|row| row.item.as_str());
        let all = listed.chain(self.products.iter().flat_map(of_product));
        let mut known: ByName<()> = ByName::default();
        all.filter(|name| !name.is_empty() && known.enter(name, ())).collect()
    }

    /// One material, and whether all of it could be read: its own cells, what other sheets say of
    /// it, the material that it starts from, and what a blank then means. `above` are those that
    /// stand before it.
    fn row(&self, name: &str, above: &Above, findings: &mut Findings) -> (RawRow, bool) {
        let written = self.of.written.first(name).copied();
        let own = written.cloned().unwrap_or_else(|| RawRow::empty(&MATERIALS, name));
        let own = RawRow { item: name.to_owned(), ..own };
        let usable = own.sift(findings);
        let mut row = self.with_said(own, findings);
        let like = row.value::<Arc<str>>(&m.like);
        let liked = like.as_deref().and_then(|like| above.named(like).or_else(|| self.built_in(like)));
        if let (Some(like), None) = (like, liked) {
            let known = self.built_in.iter().chain(&above.rows).map(|row| row.item.as_str());
            let nearest = name::nearest(&like, known).map(str::to_owned);
            findings.raise(RuleQuery::LikeUnknown { nearest }, row.at(&m.like), &*like);
        }
        if let Some(base) = liked.or_else(|| self.built_in(name)) {
            row = row.over(base);
        }
        self.assume(&mut row, findings);
        (row, usable)
    }

    /// A material as if nobody had written of it.
    fn without_its_own(&self, name: &str) -> RawRow {
        let mut row = RawRow { item: name.to_owned(), ..RawRow::empty(&MATERIALS, name) };
        if let Some(base) = self.built_in(name) {
            row = row.over(base);
        }
        self.assume(&mut row, &mut Findings::default());
        row
    }

    /// What other sheets say, where its own row does not; a stop at both where they differ.
    fn with_said(&self, mut row: RawRow, findings: &mut Findings) -> RawRow {
        for said in self.said.all(&row.item) {
            let column = said.fact;
            match row.cell(column) {
                None => row.put(column, said.cell.clone()),
                Some(known) if said_alike(known, &said.cell) => {}
                Some(known) => {
                    for (at, cell) in [(known.at().or(row.at), known), (said.cell.at(), &said.cell)] {
                        let detail = format!("{}: {}", row.item, cell.written);
                        findings.raise(RuleQuery::SaidTwice { rule: column.name }, at, detail);
                    }
                }
            }
        }
        row
    }

    /// Fills what is still blank; a check where a product needs it.
    fn assume(&self, row: &mut RawRow, findings: &mut Findings) {
        let used = self.of.uses.all(&row.item);
        let needed = used.iter().flat_map(|(_, facts)| *facts).copied();
        let blank: Vec<&Column> =
            OF_ANY.into_iter().chain(needed).filter(|fact| row.cell(fact).is_none()).collect();
        let mut assumed: Vec<String> = Vec::new();
        for fact in blank {
            let Some(value) = self.blanks.cell(fact) else { continue };
            if row.cell(fact).is_none() {
                assumed.push(format!("{} {}", fact.name, value.written));
                row.put(fact, value.clone());
            }
        }
        // What is wound up is cut blind by blind, as the built-in fabrics are.
        let is_roll = row.value(&m.stock_name) == Some(StockName::Roll);
        let like_fabric =
            self.built_in.iter().find(|known| is_roll && known.value(&m.stock_name) == Some(StockName::Roll));
        for fact in TAKEN_QUIETLY {
            let value = like_fabric.unwrap_or(self.blanks).cell(fact);
            if let (None, Some(value)) = (row.cell(fact), value) {
                row.put(fact, value.clone());
            }
        }
        if !assumed.is_empty() && !used.is_empty() {
            let detail = format!("{}: {}", row.item, assumed.join(", "));
            findings.raise(RuleQuery::Assumed, self.place(row), detail);
        }
    }

    fn built_in(&self, name: &str) -> Option<&RawRow> {
        self.of.built_in.first(name).copied()
    }

    /// Where a material stands: its row, else what names it.
    fn place(&self, row: &RawRow) -> Option<CellRef> {
        let bar = || self.of.bars.first(&row.item)?.at;
        let uses = self.of.uses.all(&row.item);
        row.at.or_else(bar).or_else(|| uses.iter().find_map(|(at, _)| *at))
    }
}

/// Whether two cells say the same value. What cannot be read has its stop already.
fn said_alike(one: &RawCell, other: &RawCell) -> bool {
    match (&one.datum, &other.datum) {
        (Ok(one), Ok(other)) => one == other,
        _ => true,
    }
}

/// A new material that no product is cut from is a likely slip, as is a bar of one; each is named once.
pub(super) fn check_use(sources: &Sources<'_>, findings: &mut Findings) {
    let wanted: Vec<&str> = {
        let of_product = |row| NEEDED.map(|(column, _)| RawRow::written(row, column));
        let of_products = sources.products.iter().flat_map(of_product);
        of_products.chain(sources.built_in.iter().map(|row| row.item.as_str())).collect()
    };
    let mut known: ByName<()> = wanted.iter().map(|name| (*name, ())).collect();
    for row in sources.written.iter().chain(sources.bars).filter(|row| row.at.is_some()) {
        if known.enter(&row.item, ()) {
            let nearest = name::nearest(&row.item, wanted.iter().copied()).map(str::to_owned);
            let asked = RuleQuery::UnusedMaterial { sheet: row.table.sheet, nearest };
            findings.raise(asked, row.at, row.item.clone());
        }
    }
    for product in sources.products {
        for (column, _) in NEEDED {
            let material = product.written(column);
            if sources.of.bars.first(material).is_none() {
                let names = sources.bars.iter().map(|row| row.item.as_str());
                let nearest = name::nearest(material, names).map(str::to_owned);
                let detail = format!("{}: {material}", product.item);
                findings.raise(RuleQuery::Material { nearest }, product.at(column), detail);
            }
        }
    }
}
