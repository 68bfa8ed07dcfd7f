//! Money: exact decimals in one currency, rounded in one place.

use std::fmt;

use rust_decimal::Decimal;

use crate::rounding::half_away;

/// An ISO 4217 currency: its code and the decimals of its minor unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Currency {
    code: [u8; 3],
}

/// Every currency whose minor unit is not a hundredth, by its decimals (ISO 4217, list one, as
/// published on 2026-01-01). What has no minor unit there, such as gold, is no price's currency.
const NOT_IN_HUNDREDTHS: [(u32, &[&str]); 3] = [
    (
        0,
        &[
            "BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW", "PYG", "RWF", "UGX", "UYI", "VND", "VUV",
            "XAF", "XOF", "XPF",
        ],
    ),
    (3, &["BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"]),
    (4, &["CLF", "UYW"]),
];

impl Currency {
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

    /// Decimals of the minor unit; 2 for a code that ISO 4217 does not list.
    pub fn decimals(&self) -> u32 {
        let listed = NOT_IN_HUNDREDTHS.iter().find(|(_, codes)| codes.contains(&self.code()));
        listed.map_or(2, |(decimals, _)| *decimals)
    }

    /// Rounds an amount half away from zero to the minor unit: the only rounding of money.
    pub fn round(&self, amount: Decimal) -> Decimal {
        let mut rounded = half_away(amount, self.decimals());
        rounded.rescale(self.decimals());
        rounded
    }

    /// An amount in words, in whole minor units: `26.00 USD`.
    pub fn in_words(&self, amount: Decimal) -> String {
        format!("{} {self}", self.round(amount))
    }
}

impl fmt::Display for Currency {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.code())
    }
}

#[cfg(test)]
mod tests {
    use super::Currency;

    #[test]
    fn a_minor_unit_has_the_decimals_of_iso_4217() {
        let cases =
            [("USD", 2), ("eur", 2), ("JPY", 0), ("UYI", 0), ("KWD", 3), ("CLF", 4), ("UYW", 4), ("ABC", 2)];
        for (code, decimals) in cases {
            assert_eq!(
                Currency::from_code(code).map(|currency| currency.decimals()),
                Some(decimals),
                "{code}"
            );
        }
    }
}
