//! Small steps through the XML of a workbook's part.

use std::borrow::Cow;

use quick_xml::escape::resolve_predefined_entity;
use quick_xml::events::{BytesStart, Event};

use super::error::Damage;
use super::guard::Part;
use crate::place::LONGEST_TEXT;

/// An element's attributes, by local name.
pub(super) struct Attributes<'e>(Vec<(&'e str, Cow<'e, str>)>);

impl<'e> Attributes<'e> {
    pub(super) fn of(element: &'e BytesStart<'_>) -> Result<Attributes<'e>, Damage> {
        let mut attributes = Vec::new();
        for attribute in element.attributes().with_checks(false) {
            let attribute = attribute?;
            attributes.push((attribute.key.local_name().into_inner(), attribute.value));
        }
        Ok(Attributes(attributes))
    }

    /// An attribute's text with its entities resolved; empty if it is absent.
    pub(super) fn text(&self, name: &str) -> Result<String, Damage> {
        Ok(self.all(name).next().transpose()?.unwrap_or_default())
    }

    /// The texts of all attributes of that name: it may come in several namespaces.
    pub(super) fn all(&self, name: &str) -> impl Iterator<Item = Result<String, Damage>> {
        self.0.iter().filter(move |(key, _)| *key == name).map(|(_, raw)| {
            let text = quick_xml::escape::unescape(raw).map_err(quick_xml::Error::from)?;
            Ok(text.into_owned())
        })
    }
}

/// More bytes than a cell's longest text can have, in any characters.
const ENOUGH_BYTES: usize = 4 * LONGEST_TEXT;

/// Appends a piece of a cell's text. What makes it too long for any cell is left out: such a text is
/// refused in its cell, however long it is.
pub(super) fn push(text: &mut String, piece: &str) {
    let mut room = (ENOUGH_BYTES + 1).saturating_sub(text.len()).min(piece.len());
    while !piece.is_char_boundary(room) {
        room -= 1;
    }
    text.push_str(&piece[..room]);
}

/// Appends an element's own text, up to its end, which must come next at this depth.
pub(super) fn text_into(part: &mut Part<'_>, buffer: &mut Vec<u8>, text: &mut String) -> Result<(), Damage> {
    let mut depth = 0_u32;
    loop {
        buffer.clear();
        match part.read_event_into(buffer)? {
            Event::Text(piece) if depth == 0 => push(text, &piece.xml10_content()),
            Event::CData(piece) if depth == 0 => push(text, &piece.xml10_content()),
            Event::GeneralRef(entity) if depth == 0 => match entity.resolve_char_ref()? {
                Some(character) => text.push(character),
                None => text.push_str(resolve_predefined_entity(&entity).unwrap_or("\u{fffd}")),
            },
            Event::Start(_) => depth += 1,
            Event::End(_) if depth == 0 => return Ok(()),
            Event::End(_) => depth -= 1,
            Event::Eof => return Err(Damage::breaks_off()),
            _ => {}
        }
    }
}

/// Passes over the rest of an element.
pub(super) fn skip(part: &mut Part<'_>, buffer: &mut Vec<u8>) -> Result<(), Damage> {
    let mut depth = 0_u32;
    loop {
        buffer.clear();
        match part.read_event_into(buffer)? {
            Event::Start(_) => depth += 1,
            Event::End(_) if depth == 0 => return Ok(()),
            Event::End(_) => depth -= 1,
            Event::Eof => return Err(Damage::breaks_off()),
            _ => {}
        }
    }
}
