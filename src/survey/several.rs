//! Marks that name several openings in one cell: `W7/W8`, `W1, W2 & W3`, `D1-D4`.

/// Marks that one cell may be taken to list; a longer run is some other number.
const MOST_NAMED: u32 = 200;

/// How many openings a mark names; `None` where it is the mark of one.
pub(super) fn named(mark: &str) -> Option<u32> {
    range(mark).or_else(|| list(mark))
}

/// Marks apart by a comma, a slash, `&`, `+` or `and`, all of the same letters and no two alike.
fn list(mark: &str) -> Option<u32> {
    let spaced = mark.replace(" and ", "&");
    let parts: Vec<&str> = spaced.split(['/', ',', ';', '&', '+']).map(str::trim).collect();
    let (letters, first) = parted(parts.first()?)?;
    let mut numbers = vec![first];
    for part in &parts[1..] {
        let (own, number) = parted(part)?;
        if !own.eq_ignore_ascii_case(letters) || numbers.contains(&number) {
            return None;
        }
        numbers.push(number);
    }
    u32::try_from(numbers.len()).ok().filter(|&count| count > 1)
}

/// From one mark up to a later one of the same letters.
fn range(mark: &str) -> Option<u32> {
    let spaced = mark.replace(" to ", "-").replace('\u{2013}', "-");
    let (from, to) = spaced.split_once('-')?;
    let ((letters, first), (own, last)) = (parted(from.trim())?, parted(to.trim())?);
    let count = last.checked_sub(first)?.checked_add(1)?;
    (own.eq_ignore_ascii_case(letters) && (2..=MOST_NAMED).contains(&count)).then_some(count)
}

/// A mark's letters and its number.
fn parted(mark: &str) -> Option<(&str, u32)> {
    let digits = mark.find(|letter: char| letter.is_ascii_digit())?;
    let (letters, number) = mark.split_at(digits);
    let is_word = !letters.is_empty() && letters.chars().all(char::is_alphabetic);
    Some((letters, number.parse().ok().filter(|_| is_word)?))
}
