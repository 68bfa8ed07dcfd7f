//! How much of a file is read: what is past any of these is refused. They keep the cells under 1 GiB
//! of memory; a part counts each time it is read.

/// Most parts of a workbook.
pub(super) const MOST_PARTS: usize = 20_000;
/// Most bytes of one part, unpacked.
pub(super) const MOST_PART_BYTES: u64 = 512 * 1024 * 1024;
/// Most bytes of all parts, unpacked.
pub(super) const MOST_BYTES: u64 = 1024 * 1024 * 1024;
/// Most that a part over [`RATIO_COUNTS_FROM`] may shrink in the archive. Sheets of real cells
/// shrink by 5 to 20 times.
pub(super) const MOST_RATIO: u64 = 200;
/// Bytes of a part, unpacked, from which its ratio counts.
pub(super) const RATIO_COUNTS_FROM: u64 = 50 * 1024 * 1024;
/// Most cells of a workbook that hold something.
pub(super) const MOST_CELLS: usize = 10_000_000;
/// Most bytes of text in all cells, each counted as often as it is shown.
pub(super) const MOST_TEXT_BYTES: usize = 256 * 1024 * 1024;
/// Most bytes of an archive, which may hold pictures. It is read in one piece, as every file is.
pub(super) const MOST_PACKED_BYTES: u64 = 512 * 1024 * 1024;
/// Most bytes of a file that is not packed.
pub(super) const MOST_FILE_BYTES: u64 = 128 * 1024 * 1024;
