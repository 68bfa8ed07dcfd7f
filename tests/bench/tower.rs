//! As many blocks like Harrier Wharf, without its mistakes, as make up a number of openings.

use sillbook::schema::openings::BUILDING;

use crate::surveys::block;
use crate::surveys::harrier::project_sheet;
use crate::surveys::row::RowSheet;
use crate::surveys::workbook::Survey;

/// A survey of exactly so many openings.
pub fn survey(openings: usize) -> Survey {
    let blocks = (1..).flat_map(|number| {
        let mut rows = block::rows(number);
        for row in &mut rows {
            row.set(&BUILDING, format!("Block {number:03}"));
        }
        rows
    });
    let openings = RowSheet::of(blocks.take(openings).collect());
    let openings = openings.into_sheet(|column| column.name.to_owned());
    Survey { sheets: vec![project_sheet("Many blocks"), openings] }
}
