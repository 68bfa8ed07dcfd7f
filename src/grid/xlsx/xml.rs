//! Small steps through a part's XML.

use std::borrow::Cow;

use quick_xml::escape::resolve_predefined_entity;
use quick_xml::events::{BytesStart, Event};

use crate::grid::error::Problem;
use crate::grid::guard::Part;

/// Why a part cannot be read on.
#[derive(Debug)]
pub(super) enum Damage {
    /// It is not well-formed, or breaks off.
    Xml(String),
    /// It is past a limit that names its own place.
    Limit(Problem),
}

impl Damage {
    pub(super) fn in_part(self, part: &str) -> Problem {
        match self {
            Damage::Xml(reason) => Problem::Damaged { part: part.to_owned(), reason },
            Damage::Limit(problem) => problem,
        }
    }
}

impl From<quick_xml::Error> for Damage {
    fn from(error: quick_xml::Error) -> Damage {
        Damage::Xml(error.to_string())
    }
}

impl From<quick_xml::events::attributes::AttrError> for Damage {
    fn from(error: quick_xml::events::attributes::AttrError) -> Damage {
        Damage::Xml(error.to_string())
    }
}

impl From<Problem> for Damage {
    fn from(problem: Problem) -> Damage {
        Damage::Limit(problem)
    }
}

/// A part that ends before its root element does.
pub(super) fn breaks_off() -> Damage {
    Damage::Xml("it breaks off".into())
}

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
        let Some((_, raw)) = self.0.iter().find(|(key, _)| *key == name) else { return Ok(String::new()) };
        let text = quick_xml::escape::unescape(raw).map_err(quick_xml::Error::from)?;
        Ok(text.into_owned())
    }
}

/// Appends an element's own text, up to its end, which must come next at this depth.
pub(super) fn text_into(part: &mut Part<'_>, buffer: &mut Vec<u8>, text: &mut String) -> Result<(), Damage> {
    let mut depth = 0_u32;
    loop {
        buffer.clear();
        match part.read_event_into(buffer)? {
            Event::Text(piece) if depth == 0 => text.push_str(&piece.xml10_content()),
            Event::CData(piece) if depth == 0 => text.push_str(&piece.xml10_content()),
            Event::GeneralRef(entity) if depth == 0 => match entity.resolve_char_ref()? {
                Some(character) => text.push(character),
                None => text.push_str(resolve_predefined_entity(&entity).unwrap_or("\u{fffd}")),
            },
            Event::Start(_) => depth += 1,
            Event::End(_) if depth == 0 => return Ok(()),
            Event::End(_) => depth -= 1,
            Event::Eof => return Err(breaks_off()),
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
            Event::Eof => return Err(breaks_off()),
            _ => {}
        }
    }
}
