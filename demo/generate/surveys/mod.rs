//! Invented surveys. The program that writes them, the test that holds the two files to it, and
//! the benchmark share these modules.
//!
//! A [`workbook`] is a few sheets of cells. A [`row`] of `Openings` is filled through the schema's
//! own columns, so that a heading cannot be misspelled here. A [`block`] of flats is built from
//! [`plans`], measured by a [`tape`] with a little [`chance`]; [`harrier`] is one block with its
//! [`mistakes`], and [`larch`] a metric refurbishment by a
//! [`workshop`] with rules of its own.

pub mod block;
pub mod chance;
pub mod harrier;
pub mod larch;
pub mod mistakes;
pub mod plans;
pub mod row;
pub mod tape;
pub mod workbook;
pub mod workshop;
