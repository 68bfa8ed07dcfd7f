//! A whole run, stage by stage.

use std::path::Path;

use crate::{Outcome, Timing};

/// Reads `survey`, works it out and writes `fitout`.
pub fn run(survey: &Path, fitout: &Path) -> Outcome<Timing> {
    Err(format!("{} is not yet turned into {}", survey.display(), fitout.display()).into())
}
