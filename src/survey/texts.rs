//! Texts that recur in a survey, or in what an earlier run says of one, kept once.

use std::collections::HashSet;
use std::sync::Arc;

/// Every distinct text met so far.
#[derive(Default)]
pub(crate) struct Texts {
    known: HashSet<Arc<str>>,
}

impl Texts {
    /// The text, shared with every equal one.
    pub fn shared(&mut self, text: &str) -> Arc<str> {
        if let Some(known) = self.known.get(text) {
            return Arc::clone(known);
        }
        let new: Arc<str> = Arc::from(text);
        self.known.insert(Arc::clone(&new));
        new
    }
}
