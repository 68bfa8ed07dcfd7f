//! Money: exact decimals in one currency, rounded in one place.

use std::fmt;

use rust_decimal::Decimal;

use crate::rounding::half_away;

/// An ISO 4217 currency: its code and the decimals of its minor unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Currency {
    code: [u8; 3],
}

/// Codes whose minor unit has no decimals, and those with three (ISO 4217; from memory but for JPY and KWD).
const WITHOUT_MINOR_UNIT: [&str; 16] = [
    "BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW", "PYG", "RWF", "UGX", "VND", "VUV", "XAF", "XOF",
    "XPF",
];
const IN_THOUSANDTHS: [&str; 7] = ["BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"];

impl Currency {
    /// The currency assumed where a survey names none.
    pub const USD: Currency = Currency { code: *b"USD" };

    /// Reads a three-letter code in any case; `None` if it is not three Latin letters.
    pub fn from_code(text: &str) -> Option<Currency> {
        let code: [u8; 3] = text.trim().as_bytes().try_into().ok()?;
        code.iter()
            .all(u8::is_ascii_alphabetic)
            .then_some(Currency { code: code.map(|letter| letter.to_ascii_uppercase()) })
    }

    /// The three-letter code.
    pub fn code(&self) -> &str {
        std::str::from_utf8(&self.code).unwrap_or("XXX")
    }

    /// Decimals of the minor unit: 2 unless ISO 4217 says 0 or 3.
    pub fn decimals(&self) -> u32 {
        if WITHOUT_MINOR_UNIT.contains(&self.code()) {
            0
        } else if IN_THOUSANDTHS.contains(&self.code()) {
            3
        } else {
            2
        }
    }

    /// Rounds an amount half away from zero to the minor unit: the only rounding of money.
    pub fn round(&self, amount: Decimal) -> Decimal {
        let mut rounded = half_away(amount, self.decimals());
        rounded.rescale(self.decimals());
        rounded
    }
}

impl fmt::Display for Currency {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.code())
    }
}
