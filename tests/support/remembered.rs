//! A sheet `Blinds` as text, made from the document of a run: what a later run reads back, with what
//! people typed in it.

use serde_json::Value;
use sillbook::schema::blinds::BLINDS;

/// Every blind and every spare louver of a document. `typed` gives what stands under which key in
/// place of what was printed there.
pub fn blinds(document: &Value, typed: impl Fn(&Value) -> Vec<(&'static str, String)>) -> String {
    let heading = |key: &str, name: &str| match key.ends_with("_mm") {
        true => format!("{name} (mm)"),
        false => name.to_owned(),
    };
    let headings: Vec<String> =
        BLINDS.columns.iter().map(|column| heading(column.key, column.name)).collect();
    let mut text = format!("[{}]\n{}\n", BLINDS.sheet, headings.join(" | "));
    for row in document["blinds"].as_array().unwrap() {
        let typed = typed(row);
        let cell = |key: &str| match typed.iter().find(|(of, _)| *of == key) {
            Some((_, written)) => written.clone(),
            None => printed(key, &row[key]),
        };
        let cells: Vec<String> = BLINDS.columns.iter().map(|column| cell(column.key)).collect();
        text.push_str(&format!("{}\n", cells.join(" | ")));
    }
    text
}

/// A value as it stands in a cell.
fn printed(key: &str, value: &Value) -> String {
    match value {
        Value::Null => String::new(),
        Value::String(text) if text.is_empty() || key == "price_each" => text.clone(),
        Value::String(text) => format!("'{text}"),
        other => other.to_string(),
    }
}
