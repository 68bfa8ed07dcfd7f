//! Runs of headings on one line: one table with a blank column in it, or tables side by side.

use super::lines::{Lines, Piece, text};
use crate::grid::Value;
use crate::schema::{Column, Kind};

/// Rows in which two tables side by side may differ in length and still be taken as one with a
/// blank column between: totals may stand below the one or the other.
const ROWS_OF_TOTALS: usize = 2;

/// Rows over which two halves of a band are compared.
const ROWS_COMPARED: usize = 10_000;

/// Whether two runs on a line, with a blank column between, are tables of their own: each begins
/// with a name of its rows, and they repeat that or do not end together.
pub(super) fn is_apart(lines: &Lines<'_, '_>, line: usize, left: &Piece, right: &Piece) -> bool {
    if !begins_with_text(left) || !begins_with_text(right) || right.cells < 2 {
        return false;
    }
    let names = |piece: &Piece, wanted: &Column| piece.named.iter().any(|(_, own)| own.slot == wanted.slot);
    let mut texts = right.named.iter().filter(|(_, column)| column.kind == Kind::Text);
    texts.any(|(_, column)| names(left, column)) || end_apart(lines, line, left, right)
}

fn begins_with_text(piece: &Piece) -> bool {
    let first = piece.named.first();
    first.is_some_and(|(at, column)| *at == piece.columns.0 && column.kind == Kind::Text)
}

fn end_apart(lines: &Lines<'_, '_>, line: usize, left: &Piece, right: &Piece) -> bool {
    let (mut last_left, mut last_right) = (line, line);
    let between = (left.columns.1 + 1, right.columns.0 - 1);
    for below in line + 1..=line + ROWS_COMPARED {
        if !lines.follows(below) {
            break;
        }
        if !lines.cells(below, between).is_empty() {
            return false;
        }
        for (piece, last) in [(left, &mut last_left), (right, &mut last_right)] {
            // A name in its first column makes a row of it.
            if !lines.cells(below, (piece.columns.0, piece.columns.0)).is_empty() {
                *last = below;
            }
        }
    }
    last_left.abs_diff(last_right) > ROWS_OF_TOTALS
}

/// A run whose headings come again in the same order, as where a long list is folded onto one
/// page, is as many tables that touch; each begins with a name of its rows.
pub(super) fn unfolded(lines: &mut Lines<'_, '_>, line: usize, run: Piece) -> Vec<Piece> {
    let cells = lines.cells(line, run.columns);
    let named_by_text = begins_with_text(&run);
    let touching = cells.windows(2).all(|pair| pair[0].0 + 1 == pair[1].0);
    let alike = |one: &Value, other: &Value| match (text(one), text(other)) {
        (Some(one), Some(other)) => one.trim().eq_ignore_ascii_case(other.trim()),
        _ => false,
    };
    let comes_again = |width: &usize| {
        cells.len().is_multiple_of(*width)
            && cells.iter().zip(&cells[*width..]).all(|(one, other)| alike(&one.1, &other.1))
    };
    match (2..=cells.len() / 2).find(comes_again).filter(|_| named_by_text && touching) {
        Some(width) => cells.chunks(width).map(|cells| lines.piece(cells)).collect(),
        None => vec![run],
    }
}
