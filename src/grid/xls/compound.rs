//! The file system within a compound file ([MS-CFB]): sectors, chained by a table, to streams.

use crate::grid::binary::{Bytes, wide};
use crate::grid::error::{Damage, Problem};

/// The name that messages give to the file system itself.
const FILE_SYSTEM: &str = "file system";

/// From this number on, a sector number is a mark: the end of a chain, or a sector in no chain.
const FIRST_MARK: u32 = 0xFFFF_FFFA;

/// Bytes of an entry in the directory.
const ENTRY_BYTES: usize = 128;

/// Kinds of entries.
const STREAM: u8 = 2;
const ROOT: u8 = 5;

/// The contents of the stream that holds a workbook, with its name.
pub(super) fn workbook(file: &[u8]) -> Result<(Vec<u8>, &'static str), Problem> {
    let compound = Compound::open(file).map_err(|damage| damage.in_part(FILE_SYSTEM))?;
    if compound.entry("EncryptedPackage").is_some() {
        return Err(Problem::Locked);
    }
    for name in ["Workbook", "Book"] {
        if let Some(entry) = compound.entry(name) {
            let stream = compound.contents(entry).map_err(|damage| damage.in_part(name))?;
            return Ok((stream, name));
        }
    }
    Err(Problem::NotAWorkbook)
}

/// A compound file whose tables have been read.
struct Compound<'f> {
    /// All after the header.
    sectors: Sectors<'f>,
    entries: Vec<Entry>,
    /// Streams shorter than this stand in the small sectors.
    small_below: u64,
    /// The small sectors, one after the other.
    small: Vec<u8>,
    small_next: Vec<u32>,
    small_sector: usize,
}

/// Sectors of a file, and which one follows each.
struct Sectors<'f> {
    bytes: &'f [u8],
    size: usize,
    next: Vec<u32>,
}

/// An entry in the directory.
struct Entry {
    name: String,
    kind: u8,
    start: u32,
    length: u64,
}

impl<'f> Compound<'f> {
    fn open(file: &'f [u8]) -> Result<Compound<'f>, Damage> {
        let mut header = Bytes(file);
        header.take(30)?;
        let (sector, small_sector) = (sector_size(header.u16()?)?, sector_size(header.u16()?)?);
        header.take(14)?;
        let directory = header.u32()?;
        header.take(4)?;
        let small_below = header.u32()?.into();
        let small_table = header.u32()?;
        header.take(4)?;
        let next_table = header.u32()?;
        header.take(4)?;
        let first_tables = header.take(109 * 4)?;

        let mut sectors =
            Sectors { bytes: file.get(sector..).unwrap_or_default(), size: sector, next: Vec::new() };
        for table in sectors.tables(first_tables, next_table)? {
            let table = numbers(sectors.sector(table)?);
            sectors.next.extend(table);
        }
        let entries = sectors
            .chain(directory)?
            .chunks_exact(ENTRY_BYTES)
            .map(Entry::of)
            .collect::<Result<Vec<_>, _>>()?;
        let small = match entries.iter().find(|entry| entry.kind == ROOT) {
            Some(root) => sectors.chain(root.start)?,
            None => Vec::new(),
        };
        let small_next = numbers(&sectors.chain(small_table)?).collect();
        Ok(Compound { sectors, entries, small_below, small, small_next, small_sector })
    }

    fn entry(&self, name: &str) -> Option<&Entry> {
        self.entries.iter().find(|entry| entry.kind == STREAM && entry.name.eq_ignore_ascii_case(name))
    }

    fn contents(&self, entry: &Entry) -> Result<Vec<u8>, Damage> {
        let mut contents = if entry.length < self.small_below {
            chain(&self.small, self.small_sector, &self.small_next, entry.start)?
        } else {
            self.sectors.chain(entry.start)?
        };
        let length = usize::try_from(entry.length).unwrap_or(usize::MAX);
        if contents.len() < length {
            return Err(Damage::breaks_off());
        }
        contents.truncate(length);
        Ok(contents)
    }
}

impl<'f> Sectors<'f> {
    /// The sectors that hold the table of what follows what: some named in the header, the others
    /// in sectors of their own, each of which ends in the number of the next.
    fn tables(&self, first: &[u8], mut following: u32) -> Result<Vec<u32>, Damage> {
        let mut tables: Vec<u32> = numbers(first).collect();
        let most = self.bytes.len() / self.size + 1;
        while following < FIRST_MARK {
            let mut listed: Vec<u32> = numbers(self.sector(following)?).collect();
            following = listed.pop().unwrap_or(FIRST_MARK);
            tables.append(&mut listed);
            if tables.len() > most + self.size {
                return Err(circle());
            }
        }
        tables.retain(|table| *table < FIRST_MARK);
        if tables.len() > most { Err(circle()) } else { Ok(tables) }
    }

    fn sector(&self, number: u32) -> Result<&'f [u8], Damage> {
        sector(self.bytes, self.size, number)
    }

    fn chain(&self, start: u32) -> Result<Vec<u8>, Damage> {
        chain(self.bytes, self.size, &self.next, start)
    }
}

impl Entry {
    fn of(bytes: &[u8]) -> Result<Entry, Damage> {
        let mut bytes = Bytes(bytes);
        let name = bytes.take(64)?;
        let name_bytes = usize::from(bytes.u16()?).saturating_sub(2).min(name.len());
        let kind = bytes.u8()?;
        bytes.take(49)?;
        let start = bytes.u32()?;
        // The upper half may hold anything in files of small sectors.
        let length = bytes.u32()?.into();
        Ok(Entry { name: wide(&name[..name_bytes]), kind, start, length })
    }
}

/// A size given as a power of two: 512 or 4,096 for sectors, 64 for small ones.
fn sector_size(power: u16) -> Result<usize, Damage> {
    match power {
        6..=12 => Ok(1 << power),
        _ => Err(Damage::Broken(format!("its sectors are of 2^{power} bytes"))),
    }
}

/// A sector's bytes; the last one may be cut short.
fn sector(bytes: &[u8], size: usize, number: u32) -> Result<&[u8], Damage> {
    let start = (number as usize).saturating_mul(size);
    match bytes.get(start..) {
        Some(rest) if !rest.is_empty() => Ok(rest.get(..size).unwrap_or(rest)),
        _ => Err(Damage::breaks_off()),
    }
}

/// The bytes of a chain of sectors, of which none comes twice.
fn chain(bytes: &[u8], size: usize, next: &[u32], start: u32) -> Result<Vec<u8>, Damage> {
    let mut contents = Vec::new();
    let mut at = start;
    while at < FIRST_MARK {
        if contents.len() > bytes.len() {
            return Err(circle());
        }
        contents.extend_from_slice(sector(bytes, size, at)?);
        at = next.get(at as usize).copied().ok_or_else(Damage::breaks_off)?;
    }
    Ok(contents)
}

fn circle() -> Damage {
    Damage::Broken("its sectors follow each other in a circle".into())
}

fn numbers(bytes: &[u8]) -> impl Iterator<Item = u32> {
    bytes.chunks_exact(4).map(|number| u32::from_le_bytes([number[0], number[1], number[2], number[3]]))
}
