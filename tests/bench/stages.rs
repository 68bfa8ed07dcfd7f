//! A whole run as the command makes it, timed by the stages that it tells of.

use std::cell::RefCell;
use std::fs::File;
use std::io::{BufWriter, Write};
use std::path::Path;
use std::time::Instant;

use sillbook::pipeline::{self, Progress, Stage};
use sillbook::workbook::{self, Limits};

use crate::{Outcome, Timing, memory};

/// Notes when each stage begins.
#[derive(Default)]
struct Clock {
    begun: RefCell<Vec<(String, Instant)>>,
}

impl Progress for Clock {
    fn begin(&self, stage: Stage) {
        self.begun.borrow_mut().push((stage.to_string(), Instant::now()));
    }
}

impl Clock {
    /// Seconds of each stage, the last of which has just ended.
    fn stop(self) -> Vec<(String, f64)> {
        let ended = Instant::now();
        let begun = self.begun.into_inner();
        let ends: Vec<Instant> = begun.iter().skip(1).map(|(_, next)| *next).chain([ended]).collect();
        begun
            .into_iter()
            .zip(ends)
            .map(|((stage, start), end)| (stage, (end - start).as_secs_f64()))
            .collect()
    }
}

/// Reads `survey`, works it out and writes `fitout`, with the working of every opening or not.
pub fn run(survey: &Path, fitout: &Path, every_working: bool) -> Outcome<Timing> {
    let clock = Clock::default();
    let input = pipeline::read(&[survey.to_owned()], None, &clock)?;
    let report = pipeline::verified(pipeline::work(&input, &clock)?, &clock)?;
    clock.begin(Stage::Writing);
    let mut out = BufWriter::new(File::create(fitout)?);
    let limits = Limits { every_working, ..Limits::SPREADSHEET };
    workbook::write(&report, limits, &mut out)?;
    out.flush()?;
    Ok(Timing { parts: clock.stop(), peak: memory::peak() })
}
