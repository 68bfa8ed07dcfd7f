//! Texts that recur in a survey, kept once.

use std::collections::HashSet;
use std::sync::Arc;

/// Every distinct text met so far.
#[derive(Default)]
pub(super) struct Texts {
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

/// A name as names are compared: case, and how wide the spaces are, make no difference.
pub(super) fn folded(text: &str) -> String {
    let mut folded = String::with_capacity(text.len());
    for word in text.split_whitespace() {
        if !folded.is_empty() {
            folded.push(' ');
        }
        folded.extend(word.chars().flat_map(char::to_lowercase));
    }
    folded
}
