//! Live formulas: one type that works out its result in exact decimals and prints itself as a
//! spreadsheet reads it, so that a stored result cannot differ from its formula.
//!
//! Cells are typed addresses that a layout pass hands out; a formula is never written as text. It
//! uses cells, numbers, `SUM`, `*`, `/` and `ROUND` alone, which every
//! spreadsheet program reads alike.

use std::fmt::{self, Write};
use std::sync::Arc;

use rust_decimal::Decimal;

use crate::cost::{AmountFormula, MINUTES_AN_HOUR};
use crate::place::column_letters;
use crate::rounding::half_away;

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

/// A formula's working. Every part that is unknown makes the whole unknown, but for
/// [`Expr::known_sum`].
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Expr(Node);

#[derive(Clone, Debug, PartialEq, Eq)]
enum Node {
    Cell(Address),
    Constant(Decimal),
    Sum(Vec<Term>, Unknown),
    Product(Box<Expr>, Box<Expr>),
    Quotient(Box<Expr>, Decimal),
    Round(Box<Expr>, u32),
}

/// What a sum adds up.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Term {
    /// One value.
    One(Expr),
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

/// Arguments that a spreadsheet's function takes.
const MOST_ARGUMENTS: usize = 255;

/// What a sum makes of a part that is not known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Unknown {
    /// The sum is unknown too.
    Spreads,
    /// It is left out, as a spreadsheet leaves out a text.
    LeftOut,
}

/// A formula with its result: there is no other way to hand a formula to a writer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Formula {
    text: String,
    result: Decimal,
}

impl Formula {
    /// The formula of a cell on the sheet `home`, worked out from the values that the workbook
    /// shows; `None` if the result is unknown, for then the cell shows a text.
    pub fn new(expr: &Expr, home: &str, values: &impl Fn(&Address) -> Option<Decimal>) -> Option<Formula> {
        expr.evaluate(values).map(|result| Formula { text: expr.on(home).to_string(), result })
    }

    /// The formula as a spreadsheet reads it, without the equals sign.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Its result, to be stored beside it.
    pub fn result(&self) -> Decimal {
        self.result
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

impl Expr {
    /// The value of a cell.
    pub fn cell(address: Address) -> Expr {
        Expr(Node::Cell(address))
    }

    /// A number.
    pub fn constant(value: Decimal) -> Expr {
        Expr(Node::Constant(value))
    }

    /// The sum of all terms, 0 for none; unknown if one of them is.
    pub fn sum(mut terms: Vec<Term>) -> Expr {
        while terms.len() > MOST_ARGUMENTS {
            let rest = terms.split_off(MOST_ARGUMENTS);
            let first = Term::One(Expr(Node::Sum(terms, Unknown::Spreads)));
            terms = std::iter::once(first).chain(rest).collect();
        }
        if terms.is_empty() {
            Expr::constant(Decimal::ZERO)
        } else {
            Expr(Node::Sum(terms, Unknown::Spreads))
        }
    }

    /// The sum of the terms that are known: a subtotal beside an unknown total. It prints as any sum
    /// does, for a spreadsheet leaves out a cell that holds a text.
    pub fn known_sum(range: Range) -> Expr {
        Expr(Node::Sum(vec![Term::Range(range)], Unknown::LeftOut))
    }

    /// This times another.
    pub fn times(self, other: Expr) -> Expr {
        Expr(Node::Product(Box::new(self), Box::new(other)))
    }

    /// This divided by a number; a divisor of 0 makes it unknown.
    pub fn divided_by(self, divisor: Decimal) -> Expr {
        Expr(Node::Quotient(Box::new(self), divisor))
    }

    /// So many per cent of this, where the per cent are a value of their own.
    pub fn percent(self, percent: Expr) -> Expr {
        self.times(percent).divided_by(Decimal::ONE_HUNDRED)
    }

    /// Rounded to so many decimals, half away from zero, as a spreadsheet's `ROUND` does.
    pub fn rounded(self, decimals: u32) -> Expr {
        Expr(Node::Round(Box::new(self), decimals))
    }

    /// The amount of a cost line from its quantity and its rate, rounded once.
    pub fn amount(formula: AmountFormula, quantity: Expr, rate: Expr, decimals: u32) -> Expr {
        let product = quantity.times(rate);
        match formula {
            AmountFormula::Product | AmountFormula::ShareOf(_) => product.rounded(decimals),
            AmountFormula::MinutesAtHourlyRate => product.divided_by(MINUTES_AN_HOUR).rounded(decimals),
        }
    }

    /// The result; `None` if a value that it needs is unknown, or past what a decimal holds.
    pub fn evaluate(&self, values: &impl Fn(&Address) -> Option<Decimal>) -> Option<Decimal> {
        match &self.0 {
            Node::Cell(address) => values(address),
            Node::Constant(value) => Some(*value),
            Node::Sum(terms, unknown) => sum(terms, *unknown, values),
            Node::Product(left, right) => left.evaluate(values)?.checked_mul(right.evaluate(values)?),
            Node::Quotient(top, divisor) => top.evaluate(values)?.checked_div(*divisor),
            Node::Round(inner, decimals) => inner.evaluate(values).map(|exact| half_away(exact, *decimals)),
        }
    }

    /// The formula as the sheet `home` writes it: cells of other sheets carry their sheet's name.
    pub fn on<'e>(&'e self, home: &'e str) -> impl fmt::Display + 'e {
        OnSheet { expr: self, home }
    }
}

fn sum(terms: &[Term], unknown: Unknown, values: &impl Fn(&Address) -> Option<Decimal>) -> Option<Decimal> {
    let mut total = Decimal::ZERO;
    let mut add = |value: Option<Decimal>| {
        total = match (value, unknown) {
            (Some(value), _) => total.checked_add(value)?,
            (None, Unknown::LeftOut) => total,
            (None, Unknown::Spreads) => return None,
        };
        Some(())
    };
    for term in terms {
        match term {
            Term::One(expr) => add(expr.evaluate(values))?,
            Term::Range(range) => range.cells().try_for_each(|cell| add(values(&cell)))?,
        }
    }
    Some(total)
}

struct OnSheet<'e> {
    expr: &'e Expr,
    home: &'e str,
}

impl fmt::Display for OnSheet<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let home = self.home;
        match &self.expr.0 {
            Node::Cell(address) => {
                qualify(f, &address.sheet, home)?;
                write_cell(f, address.row, address.column)
            }
            Node::Constant(value) => write!(f, "{}", value.normalize()),
            Node::Sum(terms, _) => {
                f.write_str("SUM(")?;
                for (place, term) in terms.iter().enumerate() {
                    if place > 0 {
                        f.write_char(',')?;
                    }
                    term.write(f, home)?;
                }
                f.write_char(')')
            }
            Node::Product(left, right) => {
                left.write_factor(f, home)?;
                f.write_char('*')?;
                right.write_factor(f, home)
            }
            Node::Quotient(top, divisor) => {
                top.write_factor(f, home)?;
                f.write_char('/')?;
                Expr::constant(*divisor).write_factor(f, home)
            }
            Node::Round(inner, decimals) => write!(f, "ROUND({},{decimals})", inner.on(home)),
        }
    }
}

impl Expr {
    /// A part of a product or a quotient, in brackets if it is either itself or negative.
    fn write_factor(&self, f: &mut fmt::Formatter<'_>, home: &str) -> fmt::Result {
        match &self.0 {
            Node::Cell(_) | Node::Sum(..) | Node::Round(..) => write!(f, "{}", self.on(home)),
            Node::Constant(value) if !value.is_sign_negative() => write!(f, "{}", self.on(home)),
            Node::Constant(_) | Node::Product(..) | Node::Quotient(..) => write!(f, "({})", self.on(home)),
        }
    }
}

impl Term {
    fn write(&self, f: &mut fmt::Formatter<'_>, home: &str) -> fmt::Result {
        match self {
            Term::One(expr) => write!(f, "{}", expr.on(home)),
            Term::Range(Range { from, rows, columns }) => {
                qualify(f, &from.sheet, home)?;
                write_cell(f, from.row, from.column)?;
                f.write_char(':')?;
                write_cell(f, from.row + rows - 1, from.column + columns - 1)
            }
        }
    }
}

fn write_cell(f: &mut fmt::Formatter<'_>, row: u32, column: u16) -> fmt::Result {
    write!(f, "{}{}", column_letters(column), u64::from(row) + 1)
}

/// The most letters that a column may have; a longer word cannot be taken for a cell.
const COLUMN_LETTERS: usize = 3;

/// Writes the sheet's name before a cell of another sheet. Quotes are always allowed, and needed
/// unless the name is a plain word that cannot be a cell, a row, a column or a truth value.
fn qualify(f: &mut fmt::Formatter<'_>, sheet: &str, home: &str) -> fmt::Result {
    if sheet == home {
        return Ok(());
    }
    let is_word = sheet.len() > COLUMN_LETTERS && sheet.bytes().all(|letter| letter.is_ascii_alphabetic());
    let is_truth = ["TRUE", "FALSE"].iter().any(|word| sheet.eq_ignore_ascii_case(word));
    if is_word && !is_truth { write!(f, "{sheet}!") } else { write!(f, "'{}'!", sheet.replace('\'', "''")) }
}
