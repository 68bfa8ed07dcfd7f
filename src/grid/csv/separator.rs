//! What stands between the fields of a table of text.
//!
//! The separator is the one that divides the most records; if two divide as many, the one that
//! makes the most records of one length, and of those tab before semicolon before comma, since
//! commas stand within cells far more often than tabs. A comma between two digits divides nothing
//! here, as it may be a decimal one; where no other separator divides a record, it does. What stands
//! in quotation marks divides nothing either, whichever separator stands before and behind them: a
//! note may hold semicolons and line breaks.
//!
//! A first line `sep=;` decides.

use std::collections::BTreeMap;

/// The separators that are looked for, the least likely to stand within a cell first.
const SEPARATORS: [char; 3] = ['\t', ';', ','];

/// Records and separators from which the separator is judged.
const JUDGED_RECORDS: usize = 500;
const JUDGED_SEPARATORS: usize = 100_000;

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
    best(text).0
}

/// Whether a text is a table beyond doubt: two records or more, all divided into as many fields.
pub(super) fn is_evident(text: &str) -> bool {
    let (_, division) = best(text);
    division.records > 1 && division.alike == division.records
}

/// The separator that divides a text best, and how it does.
fn best(text: &str) -> (char, Division) {
    let mut best = (',', Division::default());
    for (separator, division) in SEPARATORS.into_iter().zip(divisions(text)) {
        if (division.divided, division.alike) > (best.1.divided, best.1.alike) {
            best = (separator, division);
        }
    }
    best
}

/// How a separator divides a text's records.
#[derive(Clone, Copy, Default)]
struct Division {
    /// Records of two fields or more.
    divided: usize,
    /// Of these, the records of the number of fields that most have.
    alike: usize,
    /// Records that are not blank, divided or not.
    records: usize,
}

/// How each of the separators divides a text's records.
fn divisions(text: &str) -> [Division; SEPARATORS.len()] {
    let text = text.as_bytes();
    let mut tally = Tally::default();
    // The first byte of a field, whichever the separator is.
    let mut begins = true;
    let mut at = 0;
    while at < text.len() && tally.records < JUDGED_RECORDS && tally.separators < JUDGED_SEPARATORS {
        let quoted = if begins { quoted_field(&text[at..]) } else { None };
        if let Some(length) = quoted {
            tally.blank = false;
            begins = false;
            at += length;
            continue;
        }
        let byte = text[at];
        let is_digit = |at: Option<usize>| at.and_then(|at| text.get(at)).is_some_and(u8::is_ascii_digit);
        let decimal_comma = byte == b',' && is_digit(at.checked_sub(1)) && is_digit(Some(at + 1));
        begins = tally.take(byte, decimal_comma);
        at += 1;
    }
    tally.end_record();
    tally.lengths.map(|lengths| Division {
        divided: lengths.values().sum(),
        alike: lengths.values().copied().max().unwrap_or_default(),
        records: tally.records,
    })
}

/// How many bytes a field in quotation marks has, if the text begins with one that ends at a separator
/// or at the end of its record.
fn quoted_field(text: &[u8]) -> Option<usize> {
    let mut inside = text.strip_prefix(b"\"")?;
    loop {
        let mark = inside.iter().position(|byte| *byte == b'"')?;
        inside = &inside[mark + 1..];
        match inside.first() {
            // Two of them stand for one.
            Some(b'"') => inside = &inside[1..],
            Some(b'\t' | b';' | b',' | b'\n' | b'\r') | None => return Some(text.len() - inside.len()),
            Some(_) => return None,
        }
    }
}

/// What has been counted of a text outside quotation marks.
struct Tally {
    /// Separators of each kind in the record that is being counted.
    here: [u32; SEPARATORS.len()],
    /// Whether that record holds nothing so far.
    blank: bool,
    /// How many records have how many separators, of those that have any.
    lengths: [BTreeMap<u32, usize>; SEPARATORS.len()],
    records: usize,
    separators: usize,
}

impl Default for Tally {
    fn default() -> Tally {
        Tally { here: [0; 3], blank: true, lengths: Default::default(), records: 0, separators: 0 }
    }
}

impl Tally {
    /// Counts a byte; whether a field begins behind it.
    fn take(&mut self, byte: u8, decimal_comma: bool) -> bool {
        if matches!(byte, b'\n' | b'\r') {
            self.end_record();
            return true;
        }
        self.blank &= byte.is_ascii_whitespace() && byte != b'\t';
        let Some(kind) = SEPARATORS.iter().position(|separator| *separator == char::from(byte)) else {
            return false;
        };
        self.separators += 1;
        self.here[kind] += u32::from(!decimal_comma);
        true
    }

    fn end_record(&mut self) {
        if !std::mem::replace(&mut self.blank, true) {
            self.records += 1;
        }
        for (lengths, here) in self.lengths.iter_mut().zip(&mut self.here) {
            match std::mem::take(here) {
                0 => {}
                separators => *lengths.entry(separators).or_default() += 1,
            }
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
            ("Opening,Note\nW1,\"a; b\nc; d\n; e\"\nW2,\"a; b\nc; \"\"d\"\"\"\n", ','),
            ("Opening;Note\nW1;\"a, b\nc, d\n, e\"\nW2;\"a, b\nc, d\"\n", ';'),
            // A mark that nothing ends, or that something stands behind, hides nothing.
            ("Opening;Note\nW1;\"a, b\nW2;c\n", ';'),
            ("Size;Note\n\"30\" x 75;a, b\n\"30\" x 80;c\n", ';'),
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
