//! Live formulas: how they print, and that they work out what a spreadsheet would.

use std::collections::BTreeMap;
use std::str::FromStr;
use std::sync::Arc;

use proptest::prelude::*;
use rust_decimal::Decimal;
use sillbook::cost::AmountFormula;
use sillbook::report::expr::{Address, Expr, Formula, Outcome, Range, Term};

fn at(sheet: &str, row: u32, column: u16) -> Address {
    Address { sheet: Arc::from(sheet), row, column }
}

fn cost(row: u32, column: u16) -> Address {
    at("Cost", row, column)
}

fn number(written: &str) -> Decimal {
    Decimal::from_str(written).unwrap()
}

fn column_of(rows: u32) -> Range {
    Range::new(cost(3, 5), rows, 1).unwrap()
}

#[test]
fn formulas_print_as_a_spreadsheet_reads_them() {
    let d17 = || Expr::cell(cost(16, 3));
    let e17 = || Expr::cell(cost(16, 4));
    let constant = |written| Expr::constant(number(written));
    let cases = [
        (d17().times(e17()).rounded(2), "ROUND(D17*E17,2)"),
        (d17().times(e17()).divided_by(constant("60")).rounded(2), "ROUND((D17*E17)/60,2)"),
        (
            Expr::sum(vec![Term::Range(column_of(16))]),
            "IF(COUNT(F4:F19)=COUNTA(F4:F19),SUM(F4:F19),\"unknown\")",
        ),
        (
            Expr::sum(vec![Term::Cell(cost(16, 3)), Term::Cell(cost(16, 4))]),
            "IF(COUNT(D17,E17)=2,SUM(D17,E17),\"unknown\")",
        ),
        (Expr::known_sum(vec![Term::Range(column_of(1))]), "SUM(F4:F4)"),
        (Expr::known_sum(vec![Term::Cell(cost(16, 3)), Term::Range(column_of(2))]), "SUM(D17,F4:F5)"),
        (Expr::sum(Vec::new()), "0"),
        (
            Expr::amount(AmountFormula::Product, cost(16, 3), cost(16, 4), 2),
            "IF(COUNT(D17,E17)=2,ROUND(D17*E17,2),\"unknown\")",
        ),
        (
            Expr::amount(AmountFormula::MinutesAtHourlyRate, cost(16, 3), cost(16, 4), 0),
            "IF(COUNT(D17,E17)=2,ROUND((D17*E17)/60,0),\"unknown\")",
        ),
        (Expr::known_cell(cost(16, 3)), "IF(COUNT(D17)=1,D17,\"unknown\")"),
        (
            Expr::word("all of it")
                .if_numbers_else(vec![Term::Range(column_of(2))], Expr::word("a \"part\"")),
            "IF(COUNT(F4:F5)=COUNTA(F4:F5),\"all of it\",\"a \"\"part\"\"\")",
        ),
        (Expr::sum_of_products(column_of(2), column_of(2)).unwrap(), "SUMPRODUCT(F4:F5,F4:F5)"),
        (d17().times(constant("8.250")).divided_by(constant("100")), "(D17*8.25)/100"),
        (constant("-3").times(d17()), "(-3)*D17"),
        (d17().divided_by(constant("-2")), "D17/(-2)"),
        (d17().plus(e17()).less(d17().less(e17())), "D17+E17-(D17-E17)"),
        (d17().plus(constant("-1")).times(e17()), "(D17+(-1))*E17"),
        (d17().plus(e17().divided_by(d17())), "D17+E17/D17"),
        (Expr::cell(at("Order", 0, 26)), "Order!AA1"),
        (Expr::cell(at("Cost summary", 9, 0)), "'Cost summary'!A10"),
        (Expr::cell(at("Bob's 1", 0, 0)), "'Bob''s 1'!A1"),
        // Names that could be taken for a cell, a row and column, a number or a truth value.
        (Expr::cell(at("AB12", 0, 0)), "'AB12'!A1"),
        (Expr::cell(at("RC", 0, 0)), "'RC'!A1"),
        (Expr::cell(at("0304", 0, 0)), "'0304'!A1"),
        (Expr::cell(at("True", 0, 0)), "'True'!A1"),
        (
            Expr::known_sum(vec![Term::Range(Range::new(at("Bars used", 1, 1), 3, 2).unwrap())]),
            "SUM('Bars used'!B2:C4)",
        ),
    ];
    for (expr, text) in cases {
        assert_eq!(expr.on("Cost").to_string(), text);
    }
}

#[test]
fn more_terms_than_a_function_takes_are_added_up_in_parts() {
    let terms = |count| vec![Term::Cell(cost(0, 0)); count];
    let ones = |_: &Address| Some(Decimal::ONE);
    for count in [255, 256, 600] {
        let sum = Expr::sum(terms(count));
        assert_eq!(sum.evaluate(&ones), Some(Outcome::Number(Decimal::from(count))));
        let text = sum.clone().times(Expr::constant(Decimal::TWO)).on("Cost").to_string();
        let parts = count.div_ceil(255);
        assert_eq!((text.matches("SUM(").count(), text.matches("COUNT(").count()), (parts, parts), "{count}");
        // A sum in parts is in brackets where it is multiplied.
        let known = Expr::known_sum(terms(count)).times(Expr::constant(Decimal::TWO));
        assert_eq!(known.on("Cost").to_string().starts_with("(SUM("), parts > 1, "{count}");
    }
}

#[test]
fn results_round_half_away_from_zero_and_unknown_values_spread() {
    let cells = BTreeMap::from([
        (cost(3, 5), number("1.5")),
        (cost(5, 5), number("2.25")),
        (cost(0, 0), number("0.125")),
        (cost(0, 1), number("-0.125")),
    ]);
    let values = |cell: &Address| cells.get(cell).copied();
    let cases = [
        ("half", Expr::cell(cost(0, 0)).rounded(2), Some("0.13")),
        ("negative half", Expr::cell(cost(0, 1)).rounded(2), Some("-0.13")),
        ("known sum", Expr::known_sum(vec![Term::Range(column_of(3))]), Some("3.75")),
        ("an amount", Expr::amount(AmountFormula::Product, cost(3, 5), cost(5, 5), 1), Some("3.4")),
        (
            "products, a pair with an unknown left out",
            Expr::sum_of_products(column_of(3), column_of(3)).unwrap(),
            Some("7.3125"), // 1.5 x 1.5 + 2.25 x 2.25
        ),
        (
            "another where a cell holds no number",
            Expr::cell(cost(3, 5)).if_numbers_else(vec![Term::Cell(cost(4, 5))], Expr::cell(cost(5, 5))),
            Some("2.25"),
        ),
        ("a cell that may be blank", Expr::known_cell(cost(3, 5)), Some("1.5")),
        // The word, as a spreadsheet shows it.
        ("a blank cell", Expr::known_cell(cost(4, 5)), None),
        ("unknown cell", Expr::cell(cost(4, 5)), None),
        ("sum over an unknown", Expr::sum(vec![Term::Range(column_of(3))]), None),
        ("sum of cells, one unknown", Expr::sum(vec![Term::Cell(cost(3, 5)), Term::Cell(cost(4, 5))]), None),
        ("an unknown rate", Expr::amount(AmountFormula::Product, cost(3, 5), cost(4, 5), 2), None),
    ];
    for (what, expr, expected) in cases {
        let expected = expected.map_or(Outcome::UNKNOWN, |expected| Outcome::Number(number(expected)));
        assert_eq!(expr.evaluate(&values).as_ref(), Some(&expected), "{what}");
        let formula = Formula::new(&expr, "Cost", &values);
        assert_eq!(formula.as_ref().map(Formula::outcome), Some(&expected));
    }
    // What a spreadsheet gives an error for has no formula.
    for (what, expr) in [
        ("product with the word", Expr::cell(cost(4, 5)).times(Expr::constant(Decimal::ZERO))),
        ("division by nothing", Expr::cell(cost(0, 0)).divided_by(Expr::constant(Decimal::ZERO))),
        ("more than a decimal holds", Expr::constant(Decimal::MAX).times(Expr::constant(Decimal::TWO))),
    ] {
        assert_eq!(Formula::new(&expr, "Cost", &values), None, "{what}");
    }
    assert_eq!(Expr::sum_of_products(column_of(3), column_of(2)), None);
}

#[test]
fn ranges_are_whole_rectangles() {
    assert_eq!(Range::down(cost(3, 5), &cost(18, 5)), Range::new(cost(3, 5), 16, 1));
    for other in [cost(2, 5), cost(9, 6), at("Order", 9, 5)] {
        assert_eq!(Range::down(cost(3, 5), &other), None);
    }
    assert_eq!(Range::new(cost(0, 0), 0, 1), None);
    assert_eq!(Range::new(cost(u32::MAX, 0), 1, 1), None);
}

/// Reads a printed formula back and works it out in fractions of whole numbers: nothing is shared
/// with the type under test but the rows of `VALUES`.
struct Reader<'t> {
    rest: &'t str,
}

/// The only sheet's column A, in hundredths.
const VALUES: [i128; 6] = [125, -350, 5, 10_050, 0, -1];

/// Top and bottom; the bottom is above zero.
type Fraction = (i128, i128);

fn plus((a, b): Fraction, (c, d): Fraction) -> Fraction {
    reduced((a * d + c * b, b * d))
}

fn reduced((top, bottom): Fraction) -> Fraction {
    let (mut a, mut b) = (top.abs(), bottom.abs());
    while b != 0 {
        (a, b) = (b, a % b);
    }
    let sign = if bottom < 0 { -1 } else { 1 };
    (sign * top / a.max(1), sign * bottom / a.max(1))
}

impl Reader<'_> {
    fn sum(&mut self) -> Fraction {
        let mut value = self.product();
        loop {
            if self.eats("+") {
                value = plus(value, self.product());
            } else if self.eats("-") {
                let (top, bottom) = self.product();
                value = plus(value, (-top, bottom));
            } else {
                return value;
            }
        }
    }

    fn eats(&mut self, token: &str) -> bool {
        self.rest.strip_prefix(token).map(|rest| self.rest = rest).is_some()
    }

    fn product(&mut self) -> Fraction {
        let mut value = self.atom();
        loop {
            if self.eats("*") {
                let (top, bottom) = self.atom();
                value = reduced((value.0 * top, value.1 * bottom));
            } else if self.eats("/") {
                let (top, bottom) = self.atom();
                value = reduced((value.0 * bottom, value.1 * top));
            } else {
                return value;
            }
        }
    }

    fn atom(&mut self) -> Fraction {
        if self.eats("-") {
            let (top, bottom) = self.atom();
            return (-top, bottom);
        }
        if self.eats("ROUND(") {
            let (top, bottom) = self.sum();
            assert!(self.eats(","));
            let scale = 10i128.pow(u32::try_from(self.digits()).unwrap());
            assert!(self.eats(")"));
            let magnitude = (2 * top.abs() * scale + bottom) / (2 * bottom);
            return reduced((magnitude * top.signum(), scale));
        }
        if self.eats("SUMPRODUCT(") {
            let left = self.cells();
            assert!(self.eats(","));
            let right = self.cells();
            assert!(self.eats(")"));
            let products = left.into_iter().zip(right).map(|(left, right)| reduced((left * right, 10_000)));
            return products.fold((0, 1), plus);
        }
        if self.eats("SUM(") {
            return self.arguments().into_iter().fold((0, 1), |sum, cell| plus(sum, (cell, 100)));
        }
        // Every cell holds a number, so both counts are the number of cells.
        if self.eats("COUNT(") || self.eats("COUNTA(") {
            return (i128::try_from(self.arguments().len()).unwrap(), 1);
        }
        if self.eats("IF(") {
            let (counted, wanted) = (self.sum(), self.eats("=").then(|| self.sum()));
            assert_eq!(Some(counted), wanted);
            assert!(self.eats(","));
            let value = self.sum();
            assert!(self.eats(",\"unknown\")"));
            return value;
        }
        if self.eats("(") {
            let value = self.sum();
            assert!(self.eats(")"));
            return value;
        }
        if self.eats("A") {
            return reduced((VALUES[usize::try_from(self.digits()).unwrap() - 1], 100));
        }
        let whole = self.digits();
        if !self.eats(".") {
            return (whole, 1);
        }
        let before = self.rest.len();
        let decimals = self.digits();
        let scale = 10i128.pow(u32::try_from(before - self.rest.len()).unwrap());
        reduced((whole * scale + decimals, scale))
    }

    /// The cells of a function's arguments, to its closing bracket.
    fn arguments(&mut self) -> Vec<i128> {
        let mut cells = self.cells();
        while self.eats(",") {
            cells.extend(self.cells());
        }
        assert!(self.eats(")"));
        cells
    }

    /// One cell, or those from one to another, in hundredths.
    fn cells(&mut self) -> Vec<i128> {
        assert!(self.eats("A"));
        let first = self.digits();
        let last = if self.eats(":A") { self.digits() } else { first };
        (first..=last).map(|row| VALUES[usize::try_from(row).unwrap() - 1]).collect()
    }

    fn digits(&mut self) -> i128 {
        let length = self.rest.bytes().take_while(u8::is_ascii_digit).count();
        let (digits, rest) = self.rest.split_at(length);
        self.rest = rest;
        digits.parse().unwrap()
    }
}

fn any_expr() -> impl Strategy<Value = Expr> {
    let cell = (0u32..6).prop_map(|row| Expr::cell(cost(row, 0)));
    let constant = (-500i64..500).prop_map(|hundredths| Expr::constant(Decimal::new(hundredths, 2)));
    prop_oneof![cell, constant].prop_recursive(3, 12, 3, |inner| {
        let range = || {
            let rows = (0u32..6).prop_flat_map(|row| (Just(row), 1..=6 - row));
            rows.prop_map(|(row, rows)| Range::new(cost(row, 0), rows, 1).unwrap())
        };
        let cell = (0u32..6).prop_map(|row| Term::Cell(cost(row, 0)));
        let terms = || prop::collection::vec(prop_oneof![cell.clone(), range().prop_map(Term::Range)], 1..4);
        let divisor = prop_oneof![Just(4i64), Just(100), Just(-8)];
        let divisor = divisor.prop_map(|divisor| Expr::constant(divisor.into()));
        prop_oneof![
            (inner.clone(), inner.clone()).prop_map(|(left, right)| left.times(right)),
            (inner.clone(), inner.clone()).prop_map(|(left, right)| left.plus(right)),
            (inner.clone(), inner.clone()).prop_map(|(left, right)| left.less(right)),
            (inner.clone(), divisor).prop_map(|(top, divisor)| top.divided_by(divisor)),
            (inner.clone(), 0u32..4).prop_map(|(expr, decimals)| expr.rounded(decimals)),
            terms().prop_map(Expr::sum),
            terms().prop_map(Expr::known_sum),
            range().prop_map(|range| Expr::sum_of_products(range.clone(), range).unwrap()),
            (inner, terms()).prop_map(|(expr, cells)| expr.if_numbers(cells)),
        ]
    })
}

proptest! {
    /// The divisors leave finite decimals, so both ways are exact and must agree to the last digit.
    #[test]
    fn a_formula_s_result_is_what_its_own_text_says(expr in any_expr()) {
        let text = expr.on("Cost").to_string();
        let mut reader = Reader { rest: &text };
        let (top, bottom) = reader.sum();
        prop_assert_eq!(reader.rest, "");
        let values = |cell: &Address| {
            i64::try_from(VALUES[usize::try_from(cell.row).unwrap()]).ok().map(|value| Decimal::new(value, 2))
        };
        let result = expr.evaluate(&values).as_ref().and_then(Outcome::number).unwrap();
        prop_assert_eq!(result * Decimal::from_i128_with_scale(bottom, 0), Decimal::from_i128_with_scale(top, 0), "{}", text);
    }
}
