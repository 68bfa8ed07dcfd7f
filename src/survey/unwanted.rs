//! Notes that say that an opening wants no blind.

/// What such a note says, in lower case.
const UNWANTED: [&str; 11] = [
    "omit",
    "omitted",
    "deleted",
    "cancelled",
    "canceled",
    "excluded",
    "by others",
    "not required",
    "not needed",
    "no blind",
    "no blinds",
];

/// Whether a note may mean that no blind is wanted.
pub(super) fn may_be_unwanted(note: &str) -> bool {
    let words: Vec<String> = note
        .split(|letter: char| !letter.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .map(str::to_lowercase)
        .collect();
    let spaced = format!(" {} ", words.join(" "));
    UNWANTED.iter().any(|phrase| spaced.contains(&format!(" {phrase} ")))
}
