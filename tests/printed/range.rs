//! `What the total may come to` on `Summary`: each figure in its row, under its heading.

use rust_decimal::Decimal;
use serde_json::Value;

use super::{RUNS, Run};

/// The cells of a row, from the first column on: what, low, high, reason.
const COLUMNS: [u32; 4] = [0, 2, 3, 4];

fn cells(run: &Run, row: u32) -> [&str; 4] {
    let cells = &run.package.sheets["Summary"].cells;
    COLUMNS.map(|column| cells.get(&(row, column)).map_or("", |cell| &*cell.text))
}

fn is_money(shown: &str, wanted: &Value) -> bool {
    match wanted.as_str() {
        Some(wanted) => shown.parse::<Decimal>().is_ok_and(|shown| shown == wanted.parse().unwrap()),
        None => shown == "unknown",
    }
}

#[test]
fn each_figure_of_the_range_stands_in_its_row() {
    let mut causes = 0;
    for run in RUNS.iter() {
        let range = &run.document["range"];
        let summary = &run.package.sheets["Summary"].cells;
        let (&(top, _), _) =
            summary.iter().find(|(_, cell)| cell.text == "What the total may come to").unwrap();
        let [_, lowest, highest, _] = cells(run, top + 1);
        assert!(lowest.starts_with("Lowest (") && highest.starts_with("Highest ("), "{lowest}, {highest}");
        let mut rows = vec![("Total".to_owned(), "what is known, with all of these", range)];
        for part in range["parts"].as_array().unwrap() {
            let names = part["openings"].as_array().unwrap();
            let quantity: u64 =
                names.iter().map(|name| run.opening(name)["quantity"].as_u64().unwrap()).sum();
            let openings = if quantity == 1 { "opening" } else { "openings" };
            let what = format!("{}, {quantity} {openings}", part["what"].as_str().unwrap());
            rows.push((what, part["reason"].as_str().unwrap(), part));
            causes += 1;
        }
        for (row, (what, reason, figures)) in (top + 2..).zip(&rows) {
            let [shown, low, high, why] = cells(run, row);
            assert_eq!((shown, why), (&**what, *reason), "{}", run.name);
            assert!(is_money(low, &figures["low"]), "{}: {what}: {low}, not {}", run.name, figures["low"]);
            assert!(
                is_money(high, &figures["high"]),
                "{}: {what}: {high}, not {}",
                run.name,
                figures["high"]
            );
        }
        let class: String = (0..3).map(|line| cells(run, top + 2 + rows.len() as u32 + line)[0]).collect();
        let bare = |text: &str| text.replace(' ', "");
        assert!(bare(&class).starts_with(&bare(range["class"].as_str().unwrap())), "{}: {class}", run.name);
    }
    assert!(causes > 3, "{causes} causes in all");
}
