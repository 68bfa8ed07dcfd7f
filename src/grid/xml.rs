//! The XML of a workbook's part, step by step: the formats say only what their elements mean.

use std::borrow::Cow;

use quick_xml::Reader;
use quick_xml::escape::{resolve_predefined_entity, unescape};
use quick_xml::events::{BytesStart, Event};

use super::error::Damage;
use super::guard::PartBytes;
use crate::place::LONGEST_TEXT;

/// A part of a workbook, read up to some place in it.
pub(super) struct Xml<'p> {
    part: Reader<PartBytes<'p>>,
    buffer: Vec<u8>,
    /// How many elements are open.
    depth: usize,
}

/// An element that is open: how deep what is within it lies at the least.
#[derive(Clone, Copy)]
pub(super) struct Open(usize);

/// One step through an element.
pub(super) enum Step<'b> {
    /// Another one begins within it. What is not passed over comes as further steps.
    Element(Element<'b>),
    /// A piece of text.
    Text(Piece<'b>),
    /// Nothing that says anything: the end of one within, or a remark.
    Nothing,
}

impl<'p> Xml<'p> {
    pub(super) fn new(bytes: PartBytes<'p>) -> Xml<'p> {
        let mut part = Reader::from_reader(bytes);
        part.config_mut().expand_empty_elements = true;
        Xml { part, buffer: Vec::new(), depth: 0 }
    }

    /// The element that the last step began; before the first step, the outermost one.
    pub(super) fn open(&self) -> Open {
        Open(self.depth.max(1))
    }

    /// Begins the outermost element, which must have this name: another part in its place would else
    /// read as an empty one.
    pub(super) fn begin(&mut self, name: &str) -> Result<Open, Damage> {
        let whole = self.open();
        while let Some(step) = self.step(whole)? {
            match step {
                Step::Element(outermost) if outermost.name() == name => return Ok(whole),
                Step::Element(_) => break,
                Step::Text(_) | Step::Nothing => {}
            }
        }
        Err(Damage::breaks_off())
    }

    /// The next step through an element; `None` at its end.
    pub(super) fn step(&mut self, open: Open) -> Result<Option<Step<'_>>, Damage> {
        self.buffer.clear();
        Ok(match self.part.read_event_into(&mut self.buffer)? {
            Event::Start(element) => {
                self.depth += 1;
                Some(Step::Element(Element(element)))
            }
            // The reader has seen to it that as many end as began.
            Event::End(_) => {
                self.depth -= 1;
                (self.depth >= open.0).then_some(Step::Nothing)
            }
            Event::Eof => return Err(Damage::breaks_off()),
            piece @ (Event::Text(_) | Event::CData(_) | Event::GeneralRef(_)) => {
                Some(Step::Text(Piece(piece)))
            }
            _ => Some(Step::Nothing),
        })
    }

    /// Reads what is left, up to the last byte: only there the archive tells whether the part is as it
    /// was packed.
    pub(super) fn end(mut self) -> Result<(), Damage> {
        loop {
            self.buffer.clear();
            if let Event::Eof = self.part.read_event_into(&mut self.buffer)? {
                return Ok(());
            }
        }
    }

    /// Passes over the rest of the element that the last step began.
    pub(super) fn skip(&mut self) -> Result<(), Damage> {
        let open = self.open();
        while self.step(open)?.is_some() {}
        Ok(())
    }

    /// Appends the own text of the element that the last step began, and ends it.
    pub(super) fn text_into(&mut self, text: &mut String) -> Result<(), Damage> {
        let open = self.open();
        while let Some(step) = self.step(open)? {
            match step {
                Step::Text(piece) => push(text, &piece.content()?),
                Step::Element(_) => self.skip()?,
                Step::Nothing => {}
            }
        }
        Ok(())
    }
}

/// The beginning of an element.
pub(super) struct Element<'b>(BytesStart<'b>);

impl Element<'_> {
    /// Its name without a prefix.
    pub(super) fn name(&self) -> &str {
        self.0.local_name().into_inner()
    }

    /// Its attributes by their names without prefixes; entities in their values stand as written.
    pub(super) fn attributes(&self) -> impl Iterator<Item = Result<(&str, Cow<'_, str>), Damage>> {
        let mut attributes = self.0.attributes();
        attributes.with_checks(false);
        attributes.map(|attribute| {
            let attribute = attribute?;
            Ok((attribute.key.local_name().into_inner(), attribute.value))
        })
    }

    /// The value of an attribute with its entities resolved; empty if it is absent.
    pub(super) fn attribute(&self, wanted: &str) -> Result<String, Damage> {
        for attribute in self.attributes() {
            let (name, raw) = attribute?;
            if name == wanted {
                return resolved(&raw);
            }
        }
        Ok(String::new())
    }
}

/// An attribute's value with its entities resolved.
pub(super) fn resolved(raw: &str) -> Result<String, Damage> {
    Ok(unescape(raw).map_err(quick_xml::Error::from)?.into_owned())
}

/// A piece of text as it is written.
pub(super) struct Piece<'b>(Event<'b>);

impl<'b> Piece<'b> {
    /// The characters that it stands for.
    pub(super) fn content(&self) -> Result<Cow<'b, str>, Damage> {
        Ok(match &self.0 {
            Event::Text(piece) => piece.xml10_content(),
            Event::CData(piece) => piece.xml10_content(),
            Event::GeneralRef(entity) => match entity.resolve_char_ref()? {
                Some(character) => Cow::Owned(character.to_string()),
                None => Cow::Borrowed(resolve_predefined_entity(entity).unwrap_or("\u{fffd}")),
            },
            _ => Cow::Borrowed(""),
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
