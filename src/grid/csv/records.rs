//! A text cut into records and fields (RFC 4180), each record counted.
//!
//! A field that is not quoted as it should be is an error in its cell; a quotation mark that
//! nothing closes refuses the file, as it would swallow openings.

use std::borrow::Cow;

/// One field of a table of text.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Field<'t> {
    /// Its record, from 0; a blank line is one.
    pub record: u32,
    /// Its place in the record, from 0.
    pub column: u32,
    /// What it holds, its quotation marks taken off.
    pub text: Cow<'t, str>,
    /// How it is quoted.
    pub quoting: Quoting,
}

/// How a field is quoted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Quoting {
    /// Not at all.
    Bare,
    /// From its beginning to its end.
    Whole,
    /// It begins with a quotation mark, and something stands behind the one that ends it.
    Torn,
    /// It begins with a quotation mark that nothing ends.
    Open,
}

/// The fields of a text, one at a time.
pub(super) struct Records<'t> {
    rest: &'t str,
    separator: char,
    record: u32,
    column: u32,
    done: bool,
}

impl<'t> Records<'t> {
    /// Fields of a text between separators, which are of one byte.
    pub(super) fn of(text: &'t str, separator: char) -> Records<'t> {
        Records { rest: text, separator, record: 0, column: 0, done: text.is_empty() }
    }

    /// Takes the text up to the next separator or line break.
    fn take_plain(&mut self) -> &'t str {
        let ends = [self.separator, '\n', '\r'];
        let (plain, rest) = self.rest.split_at(self.rest.find(ends).unwrap_or(self.rest.len()));
        self.rest = rest;
        plain
    }

    /// Takes a field that begins with a quotation mark: within it, two of them stand for one.
    fn take_quoted(&mut self) -> (Cow<'t, str>, Quoting) {
        let begun = self.rest;
        let mut text = String::new();
        let mut inside = &begun[1..];
        loop {
            let Some(end) = inside.find('"') else {
                self.rest = "";
                return (begun.into(), Quoting::Open);
            };
            text.push_str(&inside[..end]);
            inside = &inside[end + 1..];
            if !inside.starts_with('"') {
                break;
            }
            text.push('"');
            inside = &inside[1..];
        }
        self.rest = inside;
        if self.take_plain().is_empty() {
            return (text.into(), Quoting::Whole);
        }
        (begun[..begun.len() - self.rest.len()].into(), Quoting::Torn)
    }
}

impl<'t> Iterator for Records<'t> {
    type Item = Field<'t>;

    fn next(&mut self) -> Option<Field<'t>> {
        if self.done {
            return None;
        }
        let (text, quoting) = if self.rest.starts_with('"') {
            self.take_quoted()
        } else {
            (self.take_plain().into(), Quoting::Bare)
        };
        let field = Field { record: self.record, column: self.column, text, quoting };
        if let Some(rest) = self.rest.strip_prefix(self.separator) {
            self.rest = rest;
            self.column = self.column.saturating_add(1);
        } else {
            self.rest = self.rest.strip_prefix("\r\n").or_else(|| self.rest.get(1..)).unwrap_or_default();
            self.record = self.record.saturating_add(1);
            self.column = 0;
            self.done = self.rest.is_empty();
        }
        Some(field)
    }
}

#[cfg(test)]
mod tests {
    use super::{Quoting, Records};

    /// Each record's fields between bars; torn and open ones are marked.
    fn shown(text: &str) -> Vec<String> {
        let mut records: Vec<String> = Vec::new();
        for field in Records::of(text, ',') {
            let mark = match field.quoting {
                Quoting::Bare | Quoting::Whole => "",
                Quoting::Torn => "torn ",
                Quoting::Open => "open ",
            };
            let shown = format!("{mark}{}", field.text);
            match field.column {
                0 => records.push(shown),
                _ => records[field.record as usize] += &format!("|{shown}"),
            }
        }
        records
    }

    #[test]
    fn a_text_is_cut_at_separators_and_line_breaks_outside_quotation_marks() {
        let cases: [(&str, &[&str]); 12] = [
            ("a,b\nc,d\n", &["a|b", "c|d"]),
            ("a,b\r\nc,d", &["a|b", "c|d"]),
            ("a\rb", &["a", "b"]),
            ("a,\n,b", &["a|", "|b"]),
            ("a\n\nb", &["a", "", "b"]),
            ("\"a,b\",\"c\nd\"\ne", &["a,b|c\nd", "e"]),
            ("\"5\"\" x 3\"\"\",b", &["5\" x 3\"|b"]),
            ("5\" x 3\",b", &["5\" x 3\"|b"]),
            ("\"30\" x 75\",b\nc", &["torn \"30\" x 75\"|b", "c"]),
            ("a,\"b\nc,d\n", &["a|open \"b\nc,d\n"]),
            ("\"\"", &[""]),
            ("", &[]),
        ];
        for (text, records) in cases {
            assert_eq!(shown(text), records, "{text:?}");
        }
    }
}
