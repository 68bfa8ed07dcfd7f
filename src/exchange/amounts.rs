//! Decimals as the exchange formats write them: money as exact text, the rest as numbers of a
//! fixed fineness. Binary numbers appear here and nowhere above, on the way out.

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;
use serde::{Serialize, Serializer};

use crate::money::Currency;
use crate::rounding::half_away;

/// Money as text with the currency's decimals, so that no reader takes it for a binary number.
/// A rate that is finer than the minor unit keeps its decimals: an amount is checked against it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Money(Decimal);

impl Money {
    /// An amount to pay, to the currency's minor unit.
    pub fn amount(amount: Decimal, currency: Currency) -> Money {
        Money(currency.round(amount))
    }

    /// A price of one: exact.
    pub fn rate(rate: Decimal, currency: Currency) -> Money {
        let rounded = currency.round(rate);
        Money(if rounded == rate { rounded } else { rate })
    }

    /// The amount as it is written.
    pub fn decimal(self) -> Decimal {
        self.0
    }
}

impl Serialize for Money {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(&self.0)
    }
}

/// A number rounded half away from zero to `DECIMALS`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rounded<const DECIMALS: u32>(Decimal);

/// Kilograms, to the gram.
pub type Kilograms = Rounded<3>;
/// A part of a whole, such as a load over a capacity: 0.08 for 8 %.
pub type Share = Rounded<4>;
/// A quantity that need not be whole, such as square metres or minutes.
pub type Quantity = Rounded<6>;

impl<const DECIMALS: u32> Rounded<DECIMALS> {
    /// The number to write.
    pub fn decimal(self) -> Decimal {
        self.0
    }
}

impl<const DECIMALS: u32> From<Decimal> for Rounded<DECIMALS> {
    fn from(exact: Decimal) -> Self {
        Rounded(half_away(exact, DECIMALS).normalize())
    }
}

impl<const DECIMALS: u32> Serialize for Rounded<DECIMALS> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match (self.0.scale(), self.0.to_i64()) {
            (0, Some(whole)) => serializer.serialize_i64(whole),
            _ => serializer.serialize_f64(self.0.to_f64().unwrap_or(f64::NAN)),
        }
    }
}

#[cfg(test)]
mod tests {
    use rust_decimal::Decimal;

    use super::{Kilograms, Money, Share};
    use crate::money::Currency;

    fn decimal(text: &str) -> Decimal {
        text.parse().unwrap()
    }

    #[test]
    fn money_is_text_with_the_decimals_of_its_currency() {
        let [yen, dollar] = ["JPY", "USD"].map(|code| Currency::from_code(code).unwrap());
        let cases = [
            (Money::amount(decimal("12"), dollar), "\"12.00\""),
            (Money::amount(decimal("0.125"), dollar), "\"0.13\""),
            (Money::amount(decimal("1234.5"), yen), "\"1235\""),
            (Money::rate(decimal("0.35"), dollar), "\"0.35\""),
            (Money::rate(decimal("0.1250"), dollar), "\"0.1250\""),
        ];
        for (money, json) in cases {
            assert_eq!(serde_json::to_string(&money).unwrap(), json);
        }
    }

    #[test]
    fn numbers_are_as_fine_as_the_contract_says() {
        let kilograms = Kilograms::from(decimal("7.0005"));
        assert_eq!(serde_json::to_string(&kilograms).unwrap(), "7.001");
        let share = Share::from(decimal("0.66665"));
        assert_eq!(serde_json::to_string(&share).unwrap(), "0.6667");
        assert_eq!(serde_json::to_string(&Share::from(decimal("1.00"))).unwrap(), "1");
    }
}
