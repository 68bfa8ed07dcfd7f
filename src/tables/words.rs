//! The words of a heading, and its letters as other people may write them.

use crate::name::narrow;

/// Lower-case letters without the marks on them: `höhe` is `hohe`, `maß` is `mass`.
pub(super) fn without_marks(letters: &str) -> String {
    let mut plain = String::with_capacity(letters.len());
    for letter in letters.chars() {
        match letter {
            'à' | 'á' | 'â' | 'ã' | 'ä' | 'å' | 'ą' => plain.push('a'),
            'ç' | 'ć' => plain.push('c'),
            'è' | 'é' | 'ê' | 'ë' | 'ę' => plain.push('e'),
            'ì' | 'í' | 'î' | 'ï' => plain.push('i'),
            'ł' => plain.push('l'),
            'ñ' | 'ń' => plain.push('n'),
            'ò' | 'ó' | 'ô' | 'õ' | 'ö' | 'ø' => plain.push('o'),
            'ś' => plain.push('s'),
            'ù' | 'ú' | 'û' | 'ü' => plain.push('u'),
            'ź' | 'ż' => plain.push('z'),
            'ß' => plain.push_str("ss"),
            'æ' => plain.push_str("ae"),
            'œ' => plain.push_str("oe"),
            _ => plain.push(letter),
        }
    }
    plain
}

/// Lower-case letters with the marks written out as a second letter: `höhe` is `hoehe`.
pub(super) fn spelled_out(letters: &str) -> String {
    let mut spelled = String::with_capacity(letters.len());
    for letter in letters.chars() {
        match letter {
            'ä' => spelled.push_str("ae"),
            'ö' | 'ø' => spelled.push_str("oe"),
            'ü' => spelled.push_str("ue"),
            'å' => spelled.push_str("aa"),
            _ => spelled.push(letter),
        }
    }
    without_marks(&spelled)
}

/// Each word of a heading, folded and without marks; a word ends at any other character, and where
/// a capital follows a small letter.
pub(super) fn words(heading: &str) -> Vec<String> {
    let mut words = vec![String::new()];
    let mut small_before = false;
    for character in heading.chars().map(narrow) {
        if !character.is_alphanumeric() || (small_before && character.is_uppercase()) {
            words.push(String::new());
        }
        small_before = character.is_lowercase();
        if let Some(word) = words.last_mut().filter(|_| character.is_alphanumeric()) {
            word.extend(character.to_lowercase());
        }
    }
    words.retain(|word| !word.is_empty());
    words.iter().map(|word| without_marks(word)).collect()
}

/// Words that headings have in short, and what they stand for. A single letter is in short only
/// beside another word.
const IN_SHORT: [(&[&str], &str); 14] = [
    (&["ht", "hgt", "hght"], "height"),
    (&["wd", "wdth", "wth"], "width"),
    (&["dp", "dpth"], "depth"),
    (&["btm", "bot"], "bottom"),
    (&["lh", "lhs"], "left"),
    (&["rh", "rhs"], "right"),
    (&["opg", "opng"], "opening"),
    (&["wdw", "wndw"], "window"),
    (&["flr"], "floor"),
    (&["hdr"], "header"),
    (&["h"], "height"),
    (&["w"], "width"),
    (&["l"], "left"),
    (&["r"], "right"),
];

/// The words of a heading with those in short written out: `sill ht` is `sill height`.
pub(super) fn in_full(mut words: Vec<String>) -> Vec<String> {
    let several = words.len() > 1;
    for word in &mut words {
        let known = IN_SHORT.iter().find(|(short, _)| short.contains(&word.as_str()));
        if let Some((_, full)) = known.filter(|_| several || word.len() > 1) {
            (*full).clone_into(word);
        }
    }
    words
}
