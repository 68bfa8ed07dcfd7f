//! The reading of a survey, part by part.

use std::path::Path;
use std::time::Instant;

use sillbook::place::Sheets;
use sillbook::{grid, rules, survey};

use crate::{Outcome, Timing, memory};

/// The part that makes cells of a file, which is held against the bare reading of them.
pub const CELLS: &str = "cells";

/// Reads `path` as a run does: cells, then rules, then openings.
pub fn run(path: &Path) -> Outcome<Timing> {
    let mut parts = Vec::new();
    let mut started = Instant::now();
    let mut part = |name: &str| {
        parts.push((name.to_owned(), started.elapsed().as_secs_f64()));
        started = Instant::now();
    };
    let mut sheets = Sheets::default();
    let grids = [grid::read(path, &mut sheets)?];
    part(CELLS);
    let layouts = survey::lay_out(&grids)?;
    let bare = survey::settle_units(&layouts, &sheets, None)?;
    rules::build(&grids, bare.unit)?;
    part("rules");
    survey::read(&layouts, &sheets, bare)?;
    part("openings");
    Ok(Timing { parts, peak: memory::peak() })
}
