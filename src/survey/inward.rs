//! Texts of a type, a category or a note that say that a leaf comes into the room.

/// Whether a text says that a leaf comes into the room: words of the trade in the languages of the
/// headings (common practice, no source).
pub(super) fn opens_inward(text: &str) -> bool {
    const WORDS: [&str; 12] = [
        "tilt",
        "hopper",
        "inswing",
        "in-swing",
        "opens in",
        "opening in",
        "inward",
        "kipp",
        "oscillo",
        "uchyln",
        "内开",
        "内倒",
    ];
    let text = text.to_lowercase();
    WORDS.iter().any(|word| text.contains(word))
}
