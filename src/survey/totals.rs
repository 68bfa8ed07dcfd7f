//! Words that begin or end a row of totals, in the ten languages of the headings and as
//! spreadsheets write them themselves.

/// Words for a total or a subtotal.
#[rustfmt::skip]
const TOTALS: &[&str] = &[
    "total", "totals", "subtotal", "subtotals", "sum", "summe", "gesamt", "gesamtsumme", "insgesamt",
    "zwischensumme", "ergebnis", "teilergebnis", "gesamtergebnis", "totaux", "totales", "subtotales", "suma",
    "totale", "totali", "subtotale", "subtotali", "totaal", "subtotaal", "tussentotaal", "eindtotaal", "summa",
    "totalt", "delsumma", "slutsumma", "totalsumma", "razem", "łącznie", "ogółem", "計", "总", "總",
];
/// The same in Chinese and Japanese, written without a space after what they total.
#[rustfmt::skip]
const JOINED: &[&str] = &["合计", "小计", "总计", "共计", "汇总", "合計", "小計", "総計", "總計", "集計"];
/// What may stand before a total.
#[rustfmt::skip]
const BEFORE: &[&str] = &["sub", "grand", "sous"];

/// Whether a text is that of a total: `Sub-total:`, `Total of floor 3`, `Zwischensumme EG`, and
/// `Floor 3 total` as spreadsheets write it themselves.
pub(super) fn is_total(text: &str) -> bool {
    let text = text.to_lowercase();
    let mut words = text.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty());
    let Some(first) = words.next() else { return false };
    let second = words.next();
    let last = words.next_back().or(second).unwrap_or(first);
    let total = |word: &str| TOTALS.contains(&word) || JOINED.iter().any(|total| word.ends_with(total));
    total(first) || total(last) || (BEFORE.contains(&first) && second.is_some_and(total))
}

#[cfg(test)]
mod tests {
    use super::is_total;

    #[test]
    fn a_total_is_known_by_its_first_or_last_word() {
        for total in [
            "Total",
            "TOTALS:",
            "Sub-total",
            "Subtotal floor 3",
            "Grand total 12",
            "12-04 Total",
            "Zwischensumme EG",
            "Gesamt",
            "101 Ergebnis",
            "Sous-total étage 2",
            "Total général",
            "Totale piano 1",
            "Subtotaal",
            "Summa",
            "Suma",
            "Razem:",
            "3层小计",
            "合計",
            "計",
            "301 集計",
        ] {
            assert!(is_total(total), "{total}");
        }
        for other in [
            "W1",
            "Totally glazed",
            "Sub floor",
            "Grand hall",
            "East total wall",
            "Summer house",
            "Gesamtschule",
            "設計室",
            "計画室",
            "Sumatra room",
            "",
        ] {
            assert!(!is_total(other), "{other}");
        }
    }
}
