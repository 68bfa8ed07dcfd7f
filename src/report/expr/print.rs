//! Formulas as a spreadsheet reads them.

use std::fmt::{self, Write};

use rust_decimal::Decimal;

use super::{Expr, Node, Range, Term};
use crate::place::column_letters;

/// Arguments that a spreadsheet's function takes.
const MOST_ARGUMENTS: usize = 255;

impl Expr {
    /// The formula as the sheet `home` writes it: cells of other sheets carry their sheet's name.
    pub fn on<'e>(&'e self, home: &'e str) -> impl fmt::Display + 'e {
        OnSheet { expr: self, home }
    }

    /// A part of a product, a quotient or what is taken away: in brackets unless it stands alone.
    fn write_factor(&self, f: &mut fmt::Formatter<'_>, home: &str) -> fmt::Result {
        if self.stands_alone() { write!(f, "{}", self.on(home)) } else { write!(f, "({})", self.on(home)) }
    }

    /// A part of a sum: in brackets only if a sign begins it.
    fn write_addend(&self, f: &mut fmt::Formatter<'_>, home: &str) -> fmt::Result {
        match &self.0 {
            Node::Constant(value) if value.is_sign_negative() => write!(f, "({value})"),
            _ => write!(f, "{}", self.on(home)),
        }
    }

    fn stands_alone(&self) -> bool {
        match &self.0 {
            Node::Cell(_)
            | Node::Word(_)
            | Node::SumOfProducts(..)
            | Node::Round(..)
            | Node::IfNumbers(..) => true,
            Node::Sum(terms) => terms.len() <= MOST_ARGUMENTS,
            Node::Constant(value) => !value.is_sign_negative(),
            Node::Plus(..) | Node::Minus(..) | Node::Product(..) | Node::Quotient(..) => false,
        }
    }
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
            Node::Sum(terms) => write_calls(f, "SUM", terms, home),
            Node::SumOfProducts(left, right) => {
                f.write_str("SUMPRODUCT(")?;
                left.write(f, home)?;
                f.write_char(',')?;
                right.write(f, home)?;
                f.write_char(')')
            }
            Node::Plus(left, right) => {
                left.write_addend(f, home)?;
                f.write_char('+')?;
                right.write_addend(f, home)
            }
            Node::Minus(left, right) => {
                left.write_addend(f, home)?;
                f.write_char('-')?;
                right.write_factor(f, home)
            }
            Node::Product(left, right) => {
                left.write_factor(f, home)?;
                f.write_char('*')?;
                right.write_factor(f, home)
            }
            Node::Quotient(top, divisor) => {
                top.write_factor(f, home)?;
                f.write_char('/')?;
                divisor.write_factor(f, home)
            }
            Node::Round(inner, decimals) => write!(f, "ROUND({},{decimals})", inner.on(home)),
            Node::Word(word) => write!(f, "\"{}\"", word.replace('"', "\"\"")),
            Node::IfNumbers(cells, inner, otherwise) => {
                f.write_str("IF(")?;
                write_calls(f, "COUNT", cells, home)?;
                f.write_char('=')?;
                write_how_many(f, cells, home)?;
                write!(f, ",{},{})", inner.on(home), otherwise.on(home))
            }
        }
    }
}

/// A function of the cells; of more than it takes, several added up.
fn write_calls(f: &mut fmt::Formatter<'_>, function: &str, terms: &[Term], home: &str) -> fmt::Result {
    for (call, arguments) in terms.chunks(MOST_ARGUMENTS).enumerate() {
        write!(f, "{}{function}(", if call > 0 { "+" } else { "" })?;
        for (place, term) in arguments.iter().enumerate() {
            if place > 0 {
                f.write_char(',')?;
            }
            term.write(f, home)?;
        }
        f.write_char(')')?;
    }
    Ok(())
}

/// How many cells there are: counted where rectangles are among them, so that a row that someone puts
/// in is one more.
fn write_how_many(f: &mut fmt::Formatter<'_>, cells: &[Term], home: &str) -> fmt::Result {
    if cells.iter().all(|term| matches!(term, Term::Cell(_))) {
        write!(f, "{}", Decimal::from(cells.len()))
    } else {
        write_calls(f, "COUNTA", cells, home)
    }
}

impl Term {
    fn write(&self, f: &mut fmt::Formatter<'_>, home: &str) -> fmt::Result {
        match self {
            Term::Cell(cell) => {
                qualify(f, &cell.sheet, home)?;
                write_cell(f, cell.row, cell.column)
            }
            Term::Range(range) => range.write(f, home),
        }
    }
}

impl Range {
    fn write(&self, f: &mut fmt::Formatter<'_>, home: &str) -> fmt::Result {
        let Range { from, rows, columns } = self;
        qualify(f, &from.sheet, home)?;
        write_cell(f, from.row, from.column)?;
        f.write_char(':')?;
        write_cell(f, from.row + rows - 1, from.column + columns - 1)
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
