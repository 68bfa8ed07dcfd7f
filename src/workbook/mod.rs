//! The workbooks that are written: the blank survey, and the fit-out.

mod blank;

pub use blank::{BlankError, blank};
