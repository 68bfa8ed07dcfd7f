//! Plain words: every text that a user sees is read against the words that are not used any more,
//! `tests/data/words.txt`, each with its reason. Texts are read where they are written, as literals of
//! the library and the command, the built-in rules, the schema and both READMEs, so that a message
//! which no test prints is read too; and where they are printed, on the sheets of every run.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use crate::printed;
use sillbook::report::figure::{Heading, Row};
use sillbook::report::rows::{CutRow, LabelRow, LineRow, OffcutRow, OpeningRow, RollCutRow, UnitRow};

/// A phrase and why it is not used.
struct Banned {
    words: Vec<String>,
    reason: &'static str,
}

fn banned() -> Vec<Banned> {
    let lines =
        include_str!("data/words.txt").lines().filter(|line| !line.starts_with('#') && !line.is_empty());
    let banned = lines.map(|line| {
        let (phrase, reason) = line.split_once(" | ").unwrap_or_else(|| panic!("no reason: {line}"));
        Banned { words: words(phrase), reason }
    });
    banned.collect()
}

/// The words of a text, in lower case.
fn words(text: &str) -> Vec<String> {
    let words = text.split(|letter: char| !letter.is_alphanumeric() && !"'_".contains(letter));
    words.filter(|word| !word.is_empty()).map(str::to_lowercase).collect()
}

/// What of a text is not used any more.
fn complaints(text: &str, banned: &[Banned]) -> Vec<String> {
    let found = words(&without(&without(text, ['{', '}']), ['`', '`']));
    let says = |phrase: &Banned| found.windows(phrase.words.len()).any(|window| window == phrase.words);
    let complaint = |phrase: &Banned| format!("{:?} in {text:?}: {}", phrase.words.join(" "), phrase.reason);
    banned.iter().filter(|phrase| says(phrase)).map(complaint).collect()
}

/// A text without what stands between two marks: names that are filled in, words as a survey has them.
fn without(text: &str, [opens, closes]: [char; 2]) -> String {
    let mut kept = String::new();
    let mut rest = text;
    while let Some((before, inside)) = rest.split_once(opens) {
        kept.push_str(before);
        // A mark that nothing closes hides nothing.
        rest = inside.split_once(closes).map_or(inside, |(_, after)| after);
    }
    kept + rest
}

fn check(texts: impl IntoIterator<Item = (String, String)>, banned: &[Banned]) {
    let all = texts.into_iter().flat_map(|(place, text)| {
        complaints(&text, banned).into_iter().map(move |complaint| format!("{place}: {complaint}"))
    });
    let all: Vec<String> = all.collect();
    assert!(all.is_empty(), "{} texts:\n{}", all.len(), all.join("\n"));
}

fn files(folder: &str, ending: &str) -> Vec<PathBuf> {
    let mut found = Vec::new();
    let mut folders = vec![Path::new(env!("CARGO_MANIFEST_DIR")).join(folder)];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            match path.is_dir() {
                true => folders.push(path),
                false if path.to_string_lossy().ends_with(ending) => found.push(path),
                false => {}
            }
        }
    }
    found.sort();
    found
}

/// The literals of a source file up to its unit tests, and the comments from which a schema or a
/// help text is made, each with its line.
fn literals(source: &str) -> Vec<(usize, String)> {
    let source = source.split("\n#[cfg(test)]").next().unwrap_or_default();
    let mut found = Vec::new();
    let mut rest = source;
    let line = |rest: &str| source[..source.len() - rest.len()].lines().count().max(1);
    while let Some(at) = rest.find(['"', '/', '\'']) {
        let from = &rest[at..];
        if let Some(comment) = from.strip_prefix("//") {
            let end = comment.find('\n').unwrap_or(comment.len());
            rest = &comment[end..];
        } else if let Some(character) = from.strip_prefix('\'') {
            // A character in quotes, or the mark of a lifetime.
            let skipped = match character.strip_prefix('\\') {
                Some(escaped) => escaped.char_indices().nth(1).map(|(at, _)| at + 1),
                None => character.char_indices().nth(1).filter(|(_, end)| *end == '\'').map(|(at, _)| at),
            };
            rest = &character[skipped.map_or(0, |skipped| skipped + 1).min(character.len())..];
        } else if let Some(text) = from.strip_prefix('"') {
            let mut end = 0;
            let mut escaped = false;
            for (at, letter) in text.char_indices() {
                end = at;
                match letter {
                    _ if escaped => escaped = false,
                    '\\' => escaped = true,
                    '"' => break,
                    _ => {}
                }
            }
            found.push((line(from), text[..end].replace("\\n", " ").replace("\\\"", "\"")));
            rest = &text[(end + 1).min(text.len())..];
        } else {
            rest = &from[1..];
        }
    }
    found
}

#[test]
fn no_text_in_the_library_says_what_is_not_said_any_more() {
    // What is read in a survey but never written is a literal too.
    let mut banned = banned();
    banned.retain(|phrase| !phrase.reason.starts_with("read: "));
    // Headings of other people are read in their own words.
    let read_only =
        ["schema/synonyms.rs", "schema/groups.rs", "schema/cobie.rs", "length/spelling.rs", "name.rs"];
    let sources =
        files("src", ".rs").into_iter().filter(|path| !read_only.iter().any(|file| path.ends_with(file)));
    let texts = sources.flat_map(|path| {
        let place = path.strip_prefix(env!("CARGO_MANIFEST_DIR")).unwrap().display().to_string();
        let found = literals(&fs::read_to_string(&path).unwrap());
        found.into_iter().map(move |(line, text)| (format!("{place}:{line}"), text))
    });
    check(texts, &banned);
}

#[test]
fn no_rule_schema_or_page_to_read_says_what_is_not_said_any_more() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut all = files("templates", ".toml");
    all.extend(["templates/result.schema.json", "README.md", "demo/README.md"].map(|file| root.join(file)));
    let texts = all.into_iter().flat_map(|path| {
        let place = path.strip_prefix(root).unwrap().display().to_string();
        let text = fs::read_to_string(&path).unwrap();
        let lines: Vec<String> = text.lines().map(str::to_owned).collect();
        (1..).zip(lines).map(move |(line, text)| (format!("{place}:{line}"), text))
    });
    check(texts, &banned());
}

#[test]
fn no_sheet_prints_what_is_not_said_any_more() {
    check(printed::texts(), &banned());
}

/// The headings of a row's figures that have a unit, with the units that may be named.
fn with_units<'r, R: Row<'r>>() -> Vec<(&'static str, String, &'static [&'static str])> {
    const UNITS: [(&str, &[&str]); 3] =
        [("_mm", &["in", "mm"]), ("_kg", &["lb", "kg"]), ("_deg", &["degrees"])];
    let headings = R::fields().into_iter().flat_map(|field| field.headings);
    let of = |heading: Heading<'r, R>| {
        let (_, units) = UNITS.iter().find(|(ending, _)| heading.key.ends_with(ending))?;
        Some((heading.key, heading.words.into_owned(), *units))
    };
    headings.filter_map(of).collect()
}

#[test]
fn every_heading_over_a_figure_with_a_unit_names_it() {
    let printed: BTreeSet<String> = printed::texts().map(|(_, text)| text).collect();
    let all = [
        with_units::<LineRow<'_>>(),
        with_units::<LabelRow<'_>>(),
        with_units::<OpeningRow<'_>>(),
        with_units::<UnitRow<'_>>(),
        with_units::<CutRow<'_>>(),
        with_units::<RollCutRow<'_>>(),
        with_units::<OffcutRow<'_>>(),
    ];
    for (key, words, units) in all.into_iter().flatten() {
        let named = |unit: &&str| printed.contains(&format!("{words} ({unit})"));
        assert!(units.iter().any(named) || words.ends_with(')'), "{key}: {words:?} stands without its unit");
    }
}
