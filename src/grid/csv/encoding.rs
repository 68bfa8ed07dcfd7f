//! Bytes to text: by their mark, else by what they can be.

use encoding_rs::{Encoding, UTF_16BE, UTF_16LE, WINDOWS_1252};

/// Bytes from which it is judged whether a text is in UTF-16.
const JUDGED_BYTES: usize = 4096;

/// A text in the encoding that its mark names; without one in UTF-16 if zero bytes say so, else in
/// UTF-8 if it can be, else in Windows-1252, in which any bytes are a text. Bytes that are no
/// character of a marked encoding become U+FFFD.
pub(super) fn decode(bytes: Vec<u8>) -> String {
    if let Some((encoding, mark)) = Encoding::for_bom(&bytes) {
        return encoding.decode_without_bom_handling(&bytes[mark..]).0.into_owned();
    }
    if let Some(encoding) = unmarked_utf_16(&bytes) {
        return encoding.decode_without_bom_handling(&bytes).0.into_owned();
    }
    String::from_utf8(bytes)
        .unwrap_or_else(|error| WINDOWS_1252.decode_without_bom_handling(error.as_bytes()).0.into_owned())
}

/// UTF-16 shows itself by its digits, separators and line breaks, each with a zero byte on the same
/// side: at least half of all units, and none on the other side.
fn unmarked_utf_16(bytes: &[u8]) -> Option<&'static Encoding> {
    let judged = bytes.get(..JUDGED_BYTES).unwrap_or(bytes);
    let zeros = |side| judged.iter().skip(side).step_by(2).filter(|byte| **byte == 0).count();
    let (first, second) = (zeros(0), zeros(1));
    let many = |zeros: usize| zeros > 0 && zeros * 2 >= judged.len() / 2;
    match (first, second) {
        (0, second) if many(second) => Some(UTF_16LE),
        (first, 0) if many(first) => Some(UTF_16BE),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::decode;

    /// The text in UTF-16, a function of each unit giving its bytes.
    fn utf_16(text: &str, bytes: impl Fn(u16) -> [u8; 2]) -> Vec<u8> {
        text.encode_utf16().flat_map(bytes).collect()
    }

    #[test]
    fn a_text_is_read_in_the_encoding_that_it_is_in() {
        let text = "Höhe;½;宽\n1,5;2;3\n";
        let marked = |mark: &[u8], text: Vec<u8>| [mark, &text].concat();
        let cases = [
            ("UTF-8", text.as_bytes().to_vec()),
            ("UTF-8 with a mark", marked(&[0xEF, 0xBB, 0xBF], text.into())),
            ("UTF-16, marked, low byte first", marked(&[0xFF, 0xFE], utf_16(text, u16::to_le_bytes))),
            ("UTF-16, marked, high byte first", marked(&[0xFE, 0xFF], utf_16(text, u16::to_be_bytes))),
            ("UTF-16, low byte first", utf_16(text, u16::to_le_bytes)),
            ("UTF-16, high byte first", utf_16(text, u16::to_be_bytes)),
        ];
        for (encoding, bytes) in cases {
            assert_eq!(decode(bytes), text, "{encoding}");
        }
        assert_eq!(decode(b"H\xF6he;\xBD;\x80".to_vec()), "Höhe;½;€");
        assert_eq!(decode(b"\xEF\xBB\xBFH\xF6he".to_vec()), "H\u{fffd}he");
        // One stray zero byte in a hundred makes no UTF-16.
        assert_eq!(decode([&[b'a'; 99][..], &[0]].concat()).len(), 100);
        assert_eq!(decode(Vec::new()), "");
    }
}
