//! The JSON Schema (2020-12) of the document, written from the definitions of its rows.

use crate::report::figure::{Figure, Key, Kind, Value};
use crate::report::rows::DocumentRow;

/// The schema as text, with a line end.
///
/// # Errors
/// None that is known: everything that is written is text and whole numbers.
pub fn text() -> serde_json::Result<String> {
    let mut schema = vec![
        ("$schema", "https://json-schema.org/draft/2020-12/schema".value()),
        ("$id", "urn:sillbook:result:1".value()),
        ("title", "Sillbook result".value()),
    ];
    schema.extend(facts("", DocumentRow::kind()));
    Ok(serde_json::to_string_pretty(&Value::Object(schema))? + "\n")
}

/// What a schema says of a figure.
fn facts(note: &'static str, kind: Kind) -> Vec<(&'static str, Value<'static>)> {
    let note = if note.is_empty() { kind.note } else { note };
    let null = kind.nullable.then_some(Value::Null);
    let mut facts = Vec::new();
    if !note.is_empty() {
        facts.push(("description", note.value()));
    }
    if !kind.words.is_empty() {
        facts.push(("enum", Value::List(kind.words.into_iter().map(Figure::value).chain(null).collect())));
    } else {
        let types: Vec<&str> = kind.types.into_iter().chain(null.map(|_| "null")).collect();
        facts.push(("type", if let [only] = types[..] { only.value() } else { types.value() }));
    }
    facts.extend(kind.pattern.map(|pattern| ("pattern", pattern.value())));
    facts.extend(kind.least.map(|least| ("minimum", least.value())));
    facts.extend(kind.above.map(|above| ("exclusiveMinimum", above.value())));
    facts.extend(kind.most.map(|most| ("maximum", most.value())));
    facts.extend(kind.each.map(|each| ("items", Value::Object(self::facts("", *each)))));
    facts.extend(kind.fewest.map(|fewest| ("minItems", fewest.value())));
    if !kind.keys.is_empty() {
        let required: Vec<&str> = kind.keys.iter().map(|key| key.name).collect();
        let of_key = |Key { name, note, kind }| (name, Value::Object(self::facts(note, kind)));
        facts.push(("properties", Value::Object(kind.keys.into_iter().map(of_key).collect())));
        facts.push(("required", required.value()));
        facts.push(("additionalProperties", false.value()));
    }
    facts
}
