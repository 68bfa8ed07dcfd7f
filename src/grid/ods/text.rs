//! The text that a cell shows.

use quick_xml::escape::resolve_predefined_entity;
use quick_xml::events::Event;

use crate::grid::error::Damage;
use crate::grid::guard::Part;
use crate::grid::xml::{Attributes, push, skip};
use crate::place::LONGEST_TEXT;

/// Reads the paragraphs of a cell to its end, a line break between two of them. Notes pinned to the
/// cell, pictures and tables within it are no part of its text.
pub(super) fn read(part: &mut Part<'_>) -> Result<String, Damage> {
    let mut text = String::new();
    let mut buffer = Vec::new();
    let mut paragraphs = 0_u32;
    loop {
        buffer.clear();
        match part.read_event_into(&mut buffer)? {
            Event::Start(element) if element.local_name().as_ref() == "p" => {
                if paragraphs > 0 {
                    push(&mut text, "\n");
                }
                paragraphs += 1;
                paragraph(part, &mut buffer, &mut text)?;
            }
            Event::Start(_) => skip(part, &mut buffer)?,
            Event::End(_) => return Ok(text),
            Event::Eof => return Err(Damage::breaks_off()),
            _ => {}
        }
    }
}

/// Appends a paragraph's text, up to its end. Blanks, line breaks and tabs in its XML are one blank;
/// those that count are elements of their own (ISO/IEC 26300, 6.1.2).
fn paragraph(part: &mut Part<'_>, buffer: &mut Vec<u8>, text: &mut String) -> Result<(), Damage> {
    let mut depth = 0_u32;
    loop {
        buffer.clear();
        match part.read_event_into(buffer)? {
            Event::Text(piece) => push_collapsed(text, &piece.xml10_content()),
            Event::CData(piece) => push_collapsed(text, &piece.xml10_content()),
            Event::GeneralRef(entity) => match entity.resolve_char_ref()? {
                Some(character) => push(text, character.encode_utf8(&mut [0; 4])),
                None => push(text, resolve_predefined_entity(&entity).unwrap_or("\u{fffd}")),
            },
            Event::Start(element) => match element.local_name().as_ref() {
                "s" => {
                    let count = Attributes::of(&element)?.text("c")?.parse().unwrap_or(1);
                    push(text, &" ".repeat(count.min(LONGEST_TEXT)));
                    depth += 1;
                }
                "tab" => {
                    push(text, "\t");
                    depth += 1;
                }
                "line-break" => {
                    push(text, "\n");
                    depth += 1;
                }
                "annotation" | "note" | "ruby-text" => skip(part, buffer)?,
                _ => depth += 1,
            },
            Event::End(_) if depth == 0 => return Ok(()),
            Event::End(_) => depth -= 1,
            Event::Eof => return Err(Damage::breaks_off()),
            _ => {}
        }
    }
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
