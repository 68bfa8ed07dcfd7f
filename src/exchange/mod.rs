//! The fit-out for programs: one JSON document, or a folder of CSV files. Both are made from the
//! same [`rows`], so that a CSV column is always a JSON key. Every key is always present, and
//! empty where a value is unknown or the opening is held.

pub mod amounts;
pub mod columns;
pub mod csv;
pub mod json;
pub mod rows;
