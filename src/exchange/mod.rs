//! The fit-out for programs: one JSON document with its schema, or a folder of CSV files. All are
//! made from the report's [`rows`](crate::report::rows), so that a CSV column is always a JSON key.
//! Every key is always present, and empty where a value is unknown or the opening is held.

pub mod csv;
pub mod json;
pub mod schema;
