//! Files with something wrong in them, by chance.

use std::io::{Cursor, Read};

use zip::ZipArchive;

use super::chance::Chance;
use super::formats::packed;

/// The parts of an archive, each with its name; `None` where it is none, or spoilt already.
pub fn parts(bytes: &[u8]) -> Option<Vec<(String, Vec<u8>)>> {
    let mut archive = ZipArchive::new(Cursor::new(bytes)).ok()?;
    let count = archive.len();
    let part = |position| {
        let mut entry = archive.by_index(position).ok()?;
        let mut content = Vec::new();
        entry.read_to_end(&mut content).ok()?;
        Some((entry.name().ok()?.into_owned(), content))
    };
    (0..count).map(part).collect()
}

/// A file with something wrong in it: in its bytes, or, in an archive, within a part that is packed
/// again as if nothing were, or in what its parts are.
pub fn corrupted(sound: &[u8], chance: &mut Chance) -> Vec<u8> {
    let parts = parts(sound).filter(|parts| !parts.is_empty() && chance.of(4) > 0);
    let Some(mut parts) = parts else { return spoilt(sound, chance) };
    let at = chance.of(parts.len());
    match chance.of(8) {
        0 => {
            parts.remove(at);
        }
        1 => {
            let other = chance.of(parts.len());
            let content = parts[other].1.clone();
            parts[other].1 = std::mem::replace(&mut parts[at].1, content);
        }
        _ => parts[at].1 = spoilt(&parts[at].1, chance),
    }
    packed(&parts)
}

/// Bytes of which some are wrong.
pub fn spoilt(sound: &[u8], chance: &mut Chance) -> Vec<u8> {
    const NUMBERS: [&[u8]; 8] =
        [b"99999999999999999999", b"-1", b"1e999", b"4294967295", b"NaN", b"0", b"1048577", b"&#0;"];
    const WORDS: [[u8; 4]; 4] = [[0xFF; 4], [0xFF, 0xFF, 0xFF, 0x7F], [0, 0, 0, 0x80], [0; 4]];
    let mut bytes = sound.to_vec();
    let at = chance.of(bytes.len());
    let run = chance.of(64).min(bytes.len() - at);
    match chance.of(9) {
        0 => bytes.truncate(at),
        1 => drop(bytes.drain(at..at + run)),
        2 => drop(bytes.splice(at..at, (0..run).map(|_| chance.of(256) as u8).collect::<Vec<u8>>())),
        3 => bytes[at..at + run].fill(0),
        4 => {
            let again = bytes[at..at + run].to_vec();
            drop(bytes.splice(at..at, again));
        }
        5 => {
            // A number that is written out becomes another.
            let digits = (at..bytes.len()).find(|digit| bytes[*digit].is_ascii_digit());
            if let Some(first) = digits {
                let count = bytes[first..].iter().take_while(|byte| byte.is_ascii_digit()).count();
                drop(bytes.splice(first..first + count, NUMBERS[chance.of(NUMBERS.len())].to_vec()));
            }
        }
        6 => {
            let word = WORDS[chance.of(WORDS.len())];
            let end = (at + 4).min(bytes.len());
            bytes[at..end].copy_from_slice(&word[..end - at]);
        }
        _ if !bytes.is_empty() => bytes[at] ^= 1 << chance.of(8),
        _ => {}
    }
    bytes
}
