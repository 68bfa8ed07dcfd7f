//! How a cell shows its number: plainly, as a percentage or as a date.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::Value;
use super::cells::unreadable;
use super::number::{Epoch, date, decimal, nearest};

/// How a number is shown.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum Shown {
    /// As a number.
    #[default]
    Plain,
    /// Times a hundred, with a percent sign.
    Percent,
    /// As a date or a time.
    Date,
}

impl Shown {
    /// What the first section of a format's code shows. Quoted text, the character after `\`, `_`
    /// or `*`, and brackets such as `[Red]` show nothing of the number, but `[h]` counts hours.
    pub(super) fn by_code(code: &str) -> Shown {
        let mut characters = code.chars();
        while let Some(character) = characters.next() {
            match character.to_ascii_lowercase() {
                ';' => break,
                '\\' | '_' | '*' => {
                    characters.next();
                }
                '"' => {
                    characters.by_ref().find(|quoted| *quoted == '"');
                }
                '[' => {
                    let inside: String = characters.by_ref().take_while(|inside| *inside != ']').collect();
                    let elapsed = |letter: char| "hms".contains(letter.to_ascii_lowercase());
                    if !inside.is_empty() && inside.chars().all(elapsed) {
                        return Shown::Date;
                    }
                }
                '%' => return Shown::Percent,
                'd' | 'm' | 'y' | 'h' | 's' => return Shown::Date,
                _ => {}
            }
        }
        Shown::Plain
    }

    /// A number that a file holds as text.
    pub(super) fn written(self, text: &str, epoch: Epoch) -> Value {
        match self {
            Shown::Date => text.trim().parse().ok().and_then(|serial| date(serial, epoch)),
            Shown::Plain => decimal(text).map(Value::Number),
            Shown::Percent => decimal(text).and_then(percent),
        }
        .unwrap_or_else(|| self.unreadable(text))
    }

    /// A number that a file holds in binary.
    pub(super) fn stored(self, number: f64, epoch: Epoch) -> Value {
        match self {
            Shown::Date => date(number, epoch),
            Shown::Plain => nearest(number).map(Value::Number),
            Shown::Percent => nearest(number).and_then(percent),
        }
        .unwrap_or_else(|| self.unreadable(&format!("{number:e}")))
    }

    fn unreadable(self, text: &str) -> Value {
        match self {
            Shown::Date => unreadable(&format!("{text} as a date")),
            Shown::Plain | Shown::Percent => unreadable(text),
        }
    }
}

/// The number formats of a workbook, by their numbers.
#[derive(Default)]
pub(super) struct Formats(BTreeMap<u32, Shown>);

impl Formats {
    /// Enters a format of the workbook's own.
    pub(super) fn add(&mut self, number: u32, code: &str) {
        self.0.insert(number, Shown::by_code(code));
    }

    /// What a format shows; one that is not the workbook's own is one that every workbook has
    /// (ECMA-376, 18.8.30, with the dates of East Asian editions).
    pub(super) fn shown(&self, number: u32) -> Shown {
        self.0.get(&number).copied().unwrap_or(match number {
            9 | 10 => Shown::Percent,
            14..=22 | 27..=36 | 45..=47 | 50..=58 => Shown::Date,
            _ => Shown::Plain,
        })
    }
}

/// A share as the percentage that a cell shows.
pub(super) fn percent(share: Decimal) -> Option<Value> {
    let percent = share.checked_mul(Decimal::ONE_HUNDRED)?;
    Some(Value::Percent(percent.normalize()))
}

#[cfg(test)]
mod tests {
    use super::{Formats, Shown};

    #[test]
    fn a_format_shows_numbers_percentages_or_dates() {
        let cases = [
            ("General", Shown::Plain),
            ("0.00", Shown::Plain),
            ("# ??/64\\\"", Shown::Plain),
            ("#,##0\\ \"mm\"", Shown::Plain),
            ("0.0_m;[Red]-0.0", Shown::Plain),
            ("[$-409]#,##0.00", Shown::Plain),
            ("0.00 %", Shown::Percent),
            ("0\\%", Shown::Plain),
            ("yyyy-mm-dd", Shown::Date),
            ("[$-409]d mmm yyyy", Shown::Date),
            ("[h]:mm", Shown::Date),
            ("H:MM AM/PM", Shown::Date),
        ];
        for (code, expected) in cases {
            assert_eq!(Shown::by_code(code), expected, "{code}");
        }
        let mut formats = Formats::default();
        formats.add(14, "0.0");
        assert_eq!(
            [0, 10, 14, 15].map(|number| formats.shown(number)),
            [Shown::Plain, Shown::Percent, Shown::Plain, Shown::Date]
        );
    }
}
