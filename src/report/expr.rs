//! Live formulas: one type that works out its result in exact decimals and prints itself as a
//! spreadsheet reads it, so that a stored result cannot differ from its formula.
//!
//! Cells are typed addresses that a layout pass hands out; a formula is never written as text. It
//! uses cells, numbers, the four operations, `SUM`, `SUMPRODUCT`, `ROUND`, `IF`, `COUNT` and `COUNTA`
//! alone, which every spreadsheet program reads alike.

mod print;

use std::borrow::Cow;
use std::fmt;
use std::sync::Arc;

use rust_decimal::Decimal;

use crate::cost::{AmountFormula, MINUTES_AN_HOUR};
use crate::rounding::half_away;

/// What a cell says in place of a number that is not known.
pub const UNKNOWN: &str = "unknown";

/// A cell of the workbook that is written.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Address {
    /// The sheet's name.
    pub sheet: Arc<str>,
    /// Row, from 0.
    pub row: u32,
    /// Column, from 0.
    pub column: u16,
}

/// A formula's working.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Expr(Node);

#[derive(Clone, Debug, PartialEq, Eq)]
enum Node {
    Cell(Address),
    Constant(Decimal),
    Sum(Vec<Term>),
    SumOfProducts(Range, Range),
    Plus(Box<Expr>, Box<Expr>),
    Minus(Box<Expr>, Box<Expr>),
    Product(Box<Expr>, Box<Expr>),
    Quotient(Box<Expr>, Box<Expr>),
    Round(Box<Expr>, u32),
    Word(Cow<'static, str>),
    IfNumbers(Vec<Term>, Box<Expr>, Box<Expr>),
}

/// Cells that a sum adds up, or that must hold numbers.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Term {
    /// One cell.
    Cell(Address),
    /// Every cell of a rectangle.
    Range(Range),
}

/// A rectangle of cells of one sheet, both corners in it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Range {
    from: Address,
    rows: u32,
    columns: u16,
}

/// What a formula comes to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// A number.
    Number(Decimal),
    /// A word: [`UNKNOWN`] where a number that it needs is not there.
    Word(Cow<'static, str>),
}

/// A formula with its result: there is no other way to hand a formula to a writer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Formula {
    text: String,
    outcome: Outcome,
}

impl Outcome {
    /// What stands where a number is not known.
    pub const UNKNOWN: Outcome = Outcome::Word(Cow::Borrowed(UNKNOWN));

    /// The number; `None` for a word.
    pub fn number(&self) -> Option<Decimal> {
        match self {
            Outcome::Number(number) => Some(*number),
            Outcome::Word(_) => None,
        }
    }
}

/// As a spreadsheet stores it.
impl fmt::Display for Outcome {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Outcome::Number(number) => number.normalize().fmt(f),
            Outcome::Word(word) => f.write_str(word),
        }
    }
}

impl Formula {
    /// The formula of a cell on the sheet `home`, worked out from the values that the workbook shows;
    /// `None` where a spreadsheet would give an error.
    pub fn new(expr: &Expr, home: &str, values: &impl Fn(&Address) -> Option<Decimal>) -> Option<Formula> {
        expr.evaluate(values).map(|outcome| Formula { text: expr.on(home).to_string(), outcome })
    }

    /// The formula as a spreadsheet reads it, without the equals sign.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// What it comes to, to be stored beside it.
    pub fn outcome(&self) -> &Outcome {
        &self.outcome
    }

    /// The number that it comes to; `None` if that is not known.
    pub fn number(&self) -> Option<Decimal> {
        self.outcome.number()
    }
}

impl Range {
    /// Rows and columns from the first cell on; `None` for none of either.
    pub fn new(from: Address, rows: u32, columns: u16) -> Option<Range> {
        let fits = from.row.checked_add(rows).is_some() && from.column.checked_add(columns).is_some();
        (rows > 0 && columns > 0 && fits).then_some(Range { from, rows, columns })
    }

    /// The cells from one down to another of the same column; `None` if they are no column.
    pub fn down(from: Address, to: &Address) -> Option<Range> {
        let same = from.sheet == to.sheet && from.column == to.column;
        let rows = to.row.checked_sub(from.row)?.checked_add(1)?;
        Range::new(from, rows, 1).filter(|_| same)
    }

    /// Its cells, row by row.
    fn cells(&self) -> impl Iterator<Item = Address> + '_ {
        (0..self.rows).flat_map(move |down| {
            (0..self.columns).map(move |right| Address {
                sheet: self.from.sheet.clone(),
                row: self.from.row + down,
                column: self.from.column + right,
            })
        })
    }
}

impl Term {
    /// Whether every cell holds a number.
    fn holds_numbers(&self, values: &impl Fn(&Address) -> Option<Decimal>) -> bool {
        match self {
            Term::Cell(cell) => values(cell).is_some(),
            Term::Range(range) => range.cells().all(|cell| values(&cell).is_some()),
        }
    }
}

impl Expr {
    /// The value of a cell that holds a number or a word; a blank one would be 0.
    pub fn cell(address: Address) -> Expr {
        Expr(Node::Cell(address))
    }

    /// A number.
    pub fn constant(value: Decimal) -> Expr {
        Expr(Node::Constant(value))
    }

    /// The number in a cell that may be blank; unknown if there is none.
    pub fn known_cell(address: Address) -> Expr {
        Expr::cell(address.clone()).if_numbers(vec![Term::Cell(address)])
    }

    /// A word.
    pub fn word(word: impl Into<Cow<'static, str>>) -> Expr {
        Expr(Node::Word(word.into()))
    }

    /// The sum of all cells, 0 for none; unknown if one of them is.
    pub fn sum(terms: Vec<Term>) -> Expr {
        let sum = Expr::known_sum(terms.clone());
        if terms.is_empty() { sum } else { sum.if_numbers(terms) }
    }

    /// The sum of the cells that hold numbers, 0 for none: a subtotal beside an unknown total.
    pub fn known_sum(terms: Vec<Term>) -> Expr {
        if terms.is_empty() { Expr::constant(Decimal::ZERO) } else { Expr(Node::Sum(terms)) }
    }

    /// The products of the cells of two rectangles, added up; a pair with a cell that holds no number
    /// is left out. `None` unless both are as high and as wide.
    pub fn sum_of_products(left: Range, right: Range) -> Option<Expr> {
        let alike = (left.rows, left.columns) == (right.rows, right.columns);
        alike.then_some(Expr(Node::SumOfProducts(left, right)))
    }

    /// This if all cells hold numbers, else the word [`UNKNOWN`].
    pub fn if_numbers(self, cells: Vec<Term>) -> Expr {
        self.if_numbers_else(cells, Expr::word(UNKNOWN))
    }

    /// This if all cells hold numbers, else another.
    pub fn if_numbers_else(self, cells: Vec<Term>, otherwise: Expr) -> Expr {
        Expr(Node::IfNumbers(cells, Box::new(self), Box::new(otherwise)))
    }

    /// This and another.
    pub fn plus(self, other: Expr) -> Expr {
        Expr(Node::Plus(Box::new(self), Box::new(other)))
    }

    /// This less another.
    pub fn less(self, other: Expr) -> Expr {
        Expr(Node::Minus(Box::new(self), Box::new(other)))
    }

    /// This times another.
    pub fn times(self, other: Expr) -> Expr {
        Expr(Node::Product(Box::new(self), Box::new(other)))
    }

    /// This divided by another; a divisor of 0 is an error.
    pub fn divided_by(self, divisor: Expr) -> Expr {
        Expr(Node::Quotient(Box::new(self), Box::new(divisor)))
    }

    /// Rounded to so many decimals, half away from zero, as a spreadsheet's `ROUND` does.
    pub fn rounded(self, decimals: u32) -> Expr {
        Expr(Node::Round(Box::new(self), decimals))
    }

    /// The amount of a cost line from the cells of its quantity and its rate, rounded once; unknown
    /// unless both are known.
    pub fn amount(formula: AmountFormula, quantity: Address, rate: Address, decimals: u32) -> Expr {
        let product = Expr::cell(quantity.clone()).times(Expr::cell(rate.clone()));
        let amount = match formula {
            AmountFormula::Product | AmountFormula::ShareOf(_) => product,
            AmountFormula::MinutesAtHourlyRate => product.divided_by(Expr::constant(MINUTES_AN_HOUR)),
        };
        amount.rounded(decimals).if_numbers(vec![Term::Cell(quantity), Term::Cell(rate)])
    }

    /// The result from the numbers that cells hold, `None` standing for the word. The result is
    /// `None` where a spreadsheet would give an error: the word in a product, a division by 0, or a
    /// number past what a decimal holds.
    pub fn evaluate(&self, values: &impl Fn(&Address) -> Option<Decimal>) -> Option<Outcome> {
        let number = |expr: &Expr| expr.evaluate(values)?.number();
        let result = match &self.0 {
            Node::Cell(address) => return Some(values(address).map_or(Outcome::UNKNOWN, Outcome::Number)),
            Node::Word(word) => return Some(Outcome::Word(word.clone())),
            Node::IfNumbers(cells, inner, otherwise) => {
                let all = cells.iter().all(|term| term.holds_numbers(values));
                return if all { inner.evaluate(values) } else { otherwise.evaluate(values) };
            }
            Node::Constant(value) => Some(*value),
            Node::Sum(terms) => sum(terms, values),
            Node::SumOfProducts(left, right) => {
                let pairs = left.cells().zip(right.cells());
                let mut known = pairs.filter_map(|(left, right)| Some((values(&left)?, values(&right)?)));
                known.try_fold(Decimal::ZERO, |sum, (left, right)| sum.checked_add(left.checked_mul(right)?))
            }
            Node::Plus(left, right) => number(left)?.checked_add(number(right)?),
            Node::Minus(left, right) => number(left)?.checked_sub(number(right)?),
            Node::Product(left, right) => number(left)?.checked_mul(number(right)?),
            Node::Quotient(top, divisor) => number(top)?.checked_div(number(divisor)?),
            Node::Round(inner, decimals) => number(inner).map(|exact| half_away(exact, *decimals)),
        };
        result.map(Outcome::Number)
    }
}

fn sum(terms: &[Term], values: &impl Fn(&Address) -> Option<Decimal>) -> Option<Decimal> {
    terms.iter().try_fold(Decimal::ZERO, |total, term| match term {
        Term::Cell(cell) => total.checked_add(values(cell).unwrap_or_default()),
        Term::Range(range) => {
            let mut known = range.cells().filter_map(|cell| values(&cell));
            known.try_fold(total, |total, value| total.checked_add(value))
        }
    })
}
