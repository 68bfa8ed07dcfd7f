//! How wide a text is in the sheets' font and where it wraps, so that nothing is cut off in a cell.
//!
//! Widths come from the published widths of the sheets' font; `tests/sheets.rs` looks at every cell
//! with a rule of its own.

/// Width of a digit in thousandths of the font's height; the same in bold.
pub(super) const DIGIT: u32 = 556;

/// Widths from space to tilde in thousandths of the font's height: the metrics published for
/// Helvetica (Adobe font metrics, 1990), which the sheets' font shares.
const WIDTHS: [u16; 95] = [
    278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556, 556, 556,
    556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556, 1015, 667, 667, 722, 722, 667, 611, 778, 722, 278,
    500, 667, 556, 833, 722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469,
    556, 333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556, 556, 556, 333, 500,
    278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584,
];
/// A letter beyond them is no wider, unless it is of a script of whole squares.
const BEYOND: u32 = 800;
const SQUARE: u32 = 1_000;
/// Where such scripts begin.
const SQUARES: char = '\u{1100}';
/// What bold adds to a letter at the most.
const BOLD: u32 = 56;

/// Hundredths of a place that text is counted to take. A column's width is stored in digits, which
/// one program takes to be 7 dots and another 6.67, so its columns are a twentieth narrower; and a
/// font in the place of the sheets' own is wider by more than its columns are.
pub(super) const COUNTED: u32 = 95;

/// How a text is set.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Weight {
    Regular,
    Bold,
}

/// Width of one letter.
fn letter(letter: char, weight: Weight) -> u32 {
    let place = u32::from(letter).wrapping_sub(u32::from(' '));
    let width = match usize::try_from(place).ok().and_then(|place| WIDTHS.get(place)) {
        Some(&width) => u32::from(width),
        None if letter >= SQUARES => SQUARE,
        None => BEYOND,
    };
    let is_bolder = weight == Weight::Bold && !letter.is_ascii_digit() && letter != ' ';
    width + if is_bolder { BOLD } else { 0 }
}

/// Width of a text on one line, in thousandths of the font's height.
pub(super) fn width(text: &str, weight: Weight) -> u32 {
    text.chars().map(|one| letter(one, weight)).sum()
}

/// Width of the longest word.
pub(super) fn longest_word(text: &str, weight: Weight) -> u32 {
    text.split_whitespace().map(|word| width(word, weight)).max().unwrap_or(0)
}

/// The lines of a text where each may be `room` wide: words stay whole unless one alone is wider.
pub(super) fn wrapped(text: &str, room: u32, weight: Weight) -> Vec<&str> {
    let mut lines = Vec::new();
    text.split('\n').for_each(|line| wrap(line, room, weight, &mut lines));
    lines
}

fn wrap<'t>(line: &'t str, room: u32, weight: Weight, lines: &mut Vec<&'t str>) {
    let (mut start, mut used, mut last_space) = (0, 0, None);
    for (place, one) in line.char_indices() {
        let wide = letter(one, weight);
        if one == ' ' {
            last_space = Some((place, used + wide));
        } else if used + wide > room && place > start {
            let (end, next, taken) = match last_space.take() {
                Some((space, taken)) => (space, space + 1, taken),
                None => (place, place, used),
            };
            lines.push(&line[start..end]);
            start = next;
            used -= taken;
        }
        used += wide;
    }
    lines.push(&line[start..]);
}

/// A text on at most so many lines; one that needs more ends with `…`.
pub(super) fn fitted(text: &str, room: u32, most: usize, weight: Weight) -> String {
    let lines = wrapped(text, room, weight);
    if lines.len() <= most {
        return text.to_owned();
    }
    let mut kept = lines[..most].join(" ");
    let last = lines[..most].last().map_or(0, |line| line.len());
    let start = kept.len() - last;
    while width(&kept[start..], weight) + letter('…', weight) > room && kept.len() > start {
        kept.pop();
    }
    kept.push('…');
    kept
}

#[cfg(test)]
mod tests {
    use super::{DIGIT, Weight, fitted, width, wrapped};

    #[test]
    fn words_stay_whole_and_only_a_word_alone_is_broken() {
        let room = 10 * DIGIT;
        assert_eq!(wrapped("11111 22222 33333", room, Weight::Regular), ["11111", "22222", "33333"]);
        assert_eq!(wrapped("1111 2222 3333", room, Weight::Regular), ["1111 2222", "3333"]);
        assert_eq!(wrapped("111111111111", room, Weight::Regular), ["1111111111", "11"]);
        assert_eq!(wrapped("11 111111111111 1", room, Weight::Regular), ["11", "1111111111", "11 1"]);
        assert_eq!(wrapped("1\n\n2", room, Weight::Regular), ["1", "", "2"]);
        assert_eq!(wrapped("", room, Weight::Regular), [""]);
    }

    #[test]
    fn what_is_cut_says_so_and_fits() {
        let room = 10 * DIGIT;
        assert_eq!(fitted("1111 2222 3333", room, 2, Weight::Regular), "1111 2222 3333");
        let cut = fitted("1111 2222 3333 4444 5555 6666", room, 2, Weight::Regular);
        assert_eq!(cut, "1111 2222 3333 444…");
        assert!(width("3333 444…", Weight::Regular) <= room);
    }
}
