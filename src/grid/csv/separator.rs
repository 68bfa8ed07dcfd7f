//! What stands between the fields of a table of text.
//!
//! The separator is the one that divides the most records; if two divide as many, the one that
//! makes the most records of one length, and of those tab before semicolon before comma, since
//! commas stand within cells far more often than tabs. A comma between two digits divides nothing
//! here, as it may be a decimal one; where no other separator divides a record, it does.
//!
//! A first line `sep=;` decides.

use std::collections::BTreeMap;

use super::records::{Quoting, Records};

/// The separators that are looked for, the least likely to stand within a cell first.
const SEPARATORS: [char; 3] = ['\t', ';', ','];

/// Records and fields from which the separator is judged.
const JUDGED_RECORDS: u32 = 500;
const JUDGED_FIELDS: usize = 100_000;

/// The separator that a first line `sep=;` names, and the text after that line.
pub(super) fn declared(text: &str) -> Option<(char, &str)> {
    let rest = text.trim_start_matches('"').strip_prefix("sep=")?;
    let separator = rest.chars().next()?;
    if separator == '"' || !(separator.is_ascii_punctuation() || separator == '\t') {
        return None;
    }
    let rest = rest[1..].trim_start_matches('"');
    let rest = rest.strip_prefix("\r\n").or_else(|| rest.strip_prefix(['\n', '\r']))?;
    Some((separator, rest))
}

/// The separator that a text shows.
pub(super) fn found(text: &str) -> char {
    let mut best = ((0, 0), ',');
    for separator in SEPARATORS {
        let Division { divided, alike, .. } = Division::of(text, separator);
        if (divided, alike) > best.0 {
            best = ((divided, alike), separator);
        }
    }
    best.1
}

/// Whether a text is a table beyond doubt: two records or more, all divided into as many fields.
pub(super) fn is_evident(text: &str) -> bool {
    let division = Division::of(text, found(text));
    division.records > 1 && division.alike == division.records
}

/// How a separator divides a text's records.
struct Division {
    /// Records of two fields or more.
    divided: usize,
    /// Of these, the records of the number of fields that most have.
    alike: usize,
    /// Records that are not blank, divided or not.
    records: usize,
}

impl Division {
    fn of(text: &str, separator: char) -> Division {
        // Fields of each record that is not blank.
        let mut counts: BTreeMap<u32, u32> = BTreeMap::new();
        let mut ends_in_digit = false;
        let fields = Records::of(text, separator).take(JUDGED_FIELDS);
        for field in fields.take_while(|field| field.record < JUDGED_RECORDS) {
            let bare = field.quoting == Quoting::Bare;
            let joins = bare && separator == ',' && field.text.starts_with(|c: char| c.is_ascii_digit());
            let decimal_comma = field.column > 0 && ends_in_digit && joins;
            ends_in_digit = bare && field.text.ends_with(|c: char| c.is_ascii_digit());
            let is_blank_line = field.column == 0 && bare && field.text.trim().is_empty();
            if !decimal_comma && (field.column > 0 || !is_blank_line) {
                *counts.entry(field.record).or_insert(u32::from(field.column > 0)) += 1;
            }
        }
        let mut lengths: BTreeMap<u32, usize> = BTreeMap::new();
        for length in counts.values().filter(|fields| **fields > 1) {
            *lengths.entry(*length).or_default() += 1;
        }
        Division {
            divided: lengths.values().sum(),
            alike: lengths.values().copied().max().unwrap_or_default(),
            records: counts.len(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{declared, found, is_evident};

    #[test]
    fn the_separator_is_what_divides_the_most_records() {
        let cases = [
            ("Opening,Width,Height\nW1,36,48\nW2,42,48\n", ','),
            ("Opening;Width;Height\nW1;36,5;48,25\nW2;42,5;48,5\n", ';'),
            ("Opening\tWidth, in\nW1\t36,5\n", '\t'),
            ("1,5;2,5\n3,5;4,5\n", ';'),
            ("36,48\n42,48\n", ','),
            // Titles above and notes beside.
            ("Survey of Block B, 2026\n\nOpening;Width\nW1;36,5\n;\n", ';'),
            ("Opening,Note\nW1,wall; wood\nW2,stud; tiled\nW3,sound\n", ','),
            ("Opening,Note\nW1,\"a;b;c\"\nW2,\"a;b;c\"\n", ','),
            // Rows that leave their last cells out.
            ("A;B;C;D\nW1;1,5\nW2;1,5;2\nW3;1,5;2;3\n", ';'),
            ("\"36\",\"48\"\n\"42\",\"48\"\n", ','),
            ("only one column\n", ','),
            ("", ','),
        ];
        for (text, separator) in cases {
            assert_eq!(found(text), separator, "{text:?}");
        }
    }

    #[test]
    fn a_first_line_may_name_the_separator() {
        assert_eq!(declared("sep=;\r\na;b"), Some((';', "a;b")));
        assert_eq!(declared("\"sep=|\"\na|b"), Some(('|', "a|b")));
        assert_eq!(declared("sep=\t\na"), Some(('\t', "a")));
        for text in ["sep=", "sep=;", "sep=;a\nb", "separator;x\n", "sep=\"\"\na", "sep=é\na"] {
            assert_eq!(declared(text), None, "{text:?}");
        }
    }

    #[test]
    fn a_table_is_evident_if_every_record_is_as_long() {
        for (text, expected) in [
            ("a\tb\n1\t2\n", true),
            ("a,b\nc,d\n", true),
            ("a,b\n", false),
            ("a title\na,b\nc,d\n", false),
            ("not a table\n", false),
        ] {
            assert_eq!(is_evident(text), expected, "{text:?}");
        }
    }
}
