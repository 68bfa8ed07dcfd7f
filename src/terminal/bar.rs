//! Progress, on a terminal only.

use indicatif::{ProgressBar, ProgressStyle};
use sillbook::pipeline::{Progress, Stage};

/// A bar on standard error; no sign of it where that is not a terminal.
pub struct Bar(ProgressBar);

impl Bar {
    /// A bar over all stages of a run.
    pub fn new() -> Bar {
        let bar = ProgressBar::new(Stage::COUNT as u64);
        if let Ok(style) = ProgressStyle::with_template("{bar:24} {msg}") {
            bar.set_style(style);
        }
        Bar(bar)
    }
}

/// The bar goes before anything else is said.
impl Drop for Bar {
    fn drop(&mut self) {
        self.0.finish_and_clear();
    }
}

impl Progress for Bar {
    fn begin(&self, stage: Stage) {
        self.0.set_position(stage.before() as u64);
        self.0.set_message(stage.to_string());
    }
}
