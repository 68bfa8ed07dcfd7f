//! The text that a cell shows.

use crate::grid::error::Damage;
use crate::grid::xml::{Step, Xml, push};
use crate::place::LONGEST_TEXT;

/// Reads the paragraphs of a cell to its end, also those in lists, a line break between two of them.
/// Notes pinned to the cell, pictures and tables within it are no part of its text.
pub(super) fn read(xml: &mut Xml<'_>) -> Result<String, Damage> {
    let mut text = String::new();
    let mut paragraphs = 0_u32;
    let cell = xml.open();
    while let Some(step) = xml.step(cell)? {
        let Step::Element(element) = step else { continue };
        match element.name() {
            "p" | "h" => {
                if paragraphs > 0 {
                    push(&mut text, "\n");
                }
                paragraphs += 1;
                paragraph(xml, &mut text)?;
            }
            "list" | "list-header" | "list-item" | "section" => {}
            _ => xml.skip()?,
        }
    }
    Ok(text)
}

/// Appends a paragraph's text, up to its end. Blanks, line breaks and tabs in its XML are one blank;
/// those that count are elements of their own (ISO/IEC 26300, 6.1.2).
fn paragraph(xml: &mut Xml<'_>, text: &mut String) -> Result<(), Damage> {
    let paragraph = xml.open();
    while let Some(step) = xml.step(paragraph)? {
        match step {
            Step::Text(piece) => push_collapsed(text, &piece.content()?),
            Step::Element(element) => match element.name() {
                "s" => {
                    let count = element.attribute("c")?.parse().unwrap_or(1);
                    push(text, &" ".repeat(count.min(LONGEST_TEXT)));
                }
                "tab" => push(text, "\t"),
                "line-break" => push(text, "\n"),
                "annotation" | "note" | "ruby-text" | "frame" | "custom-shape" => xml.skip()?,
                _ => {}
            },
            Step::Nothing => {}
        }
    }
    Ok(())
}

fn push_collapsed(text: &mut String, piece: &str) {
    let is_blank = |c: char| matches!(c, ' ' | '\t' | '\r' | '\n');
    for (position, word) in piece.split(is_blank).enumerate() {
        if position > 0 && !text.ends_with([' ', '\n']) && !text.is_empty() {
            push(text, " ");
        }
        push(text, word);
    }
}
