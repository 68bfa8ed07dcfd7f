//! What is asked about accepting.

use super::{Entry, queries};

/// Every query of this room.
pub(crate) const QUERIES: &[&[Entry]] = &[AcceptQuery::ENTRIES];

queries! {
    /// What is asked about an answer that accepts.
    pub(super) enum AcceptQuery {
        Stop: Check, "stop-accepted",
            "an answer accepts a stop, which needs a value or a change in the survey"
            => "do what the stop asks for";
    }
}
