//! What a check is, and the ways of planting a fault.

use serde_json::{Value, json};

use super::document::Run;

/// One invariant of every run.
pub struct Check {
    /// What holds.
    pub name: &'static str,
    /// Where it does not, a line each.
    pub faults: fn(&Run<'_>) -> Vec<String>,
    /// Faults that it must report, each with its name. One that finds nothing to spoil leaves the
    /// document as it is.
    pub plants: &'static [(&'static str, Plant)],
}

/// Plants a fault in a document.
pub type Plant = fn(&mut Value);

/// The first row of a list for which something holds.
pub fn first<'a>(document: &'a mut Value, list: &str, is: impl Fn(&Value) -> bool) -> &'a mut Value {
    let rows = document.pointer_mut(list).unwrap().as_array_mut().unwrap();
    rows.iter_mut().find(|row| is(row)).unwrap_or_else(|| panic!("no such row in {list}"))
}

/// The first opening with this value under a key.
pub fn opening<'a>(document: &'a mut Value, key: &str, value: &str) -> &'a mut Value {
    first(document, "/openings", |row| row[key] == value)
}

/// Adds to a number.
pub fn add(value: &mut Value, more: f64) {
    *value = match value.as_u64() {
        Some(whole) if more.fract() == 0.0 => json!(whole as f64 as i64 + more as i64),
        _ => json!(value.as_f64().unwrap() + more),
    };
}

/// Takes the last of a list.
pub fn drop_last(list: &mut Value) {
    list.as_array_mut().unwrap().pop().unwrap();
}
