//! Text as XML holds it, escaped as the library that makes the rest of the file does.

/// Adds a text as a cell has it: what would be read as an escape of a letter is escaped itself
/// (ISO/IEC 29500-1, section 22.9.2.19).
pub(super) fn cell_text(to: &mut String, text: &str) {
    let mut rest = text;
    while let Some(at) = rest.find("_x") {
        let (before, from) = rest.split_at(at);
        marks(to, before);
        let is_escape = from
            .as_bytes()
            .get(..7)
            .is_some_and(|escape| escape[6] == b'_' && escape[2..6].iter().all(u8::is_ascii_hexdigit));
        to.push_str(if is_escape { "_x005F_x" } else { "_x" });
        rest = &from[2..];
    }
    marks(to, rest);
}

/// Adds a text with what XML keeps for itself escaped.
pub(super) fn marks(to: &mut String, text: &str) {
    escaped(to, text, &['&', '<', '>']);
}

/// The same of an attribute's text.
pub(super) fn attribute(to: &mut String, text: &str) {
    escaped(to, text, &['&', '<', '>', '"', '\n']);
}

fn escaped(to: &mut String, text: &str, kept: &[char]) {
    let mut rest = text;
    while let Some(at) = rest.find(kept) {
        to.push_str(&rest[..at]);
        to.push_str(match rest.as_bytes()[at] {
            b'&' => "&amp;",
            b'<' => "&lt;",
            b'>' => "&gt;",
            b'"' => "&quot;",
            _ => "&#xA;",
        });
        rest = &rest[at + 1..];
    }
    to.push_str(rest);
}
