//! The columns of the rule sheets.
