//! Two fit-outs compared: no survey is read, and nothing is worked out again.

use std::path::Path;

use super::RunError;
use crate::earlier::{self, Earlier, EarlierError};
use crate::grid;
use crate::money::Currency;
use crate::place::Sheets;
use crate::report::{Change, Memory, changes_between};

/// How two fit-outs differ.
#[derive(Clone, Debug)]
pub struct Compared {
    /// What is different in the later one, and what is still to be done there.
    pub changes: Vec<Change>,
    /// The currency of the later one's prices; `None` if it names none.
    pub currency: Option<Currency>,
}

/// Compares two fit-outs.
///
/// # Errors
/// [`RunError`] for a file that cannot be read, or that is no fit-out.
pub fn compare(earlier: &Path, later: &Path) -> Result<Compared, RunError> {
    let mut sheets = Sheets::default();
    let then = remembered(earlier, &mut sheets)?;
    let now = remembered(later, &mut sheets)?;
    let (before, after) = (then.currency(), now.currency());
    if !before.is_empty() && !after.is_empty() && before != after {
        let (file, earlier, now) = (then.file.clone(), before.to_owned(), after.to_owned());
        return Err(EarlierError::OtherCurrency { file, earlier, now }.into());
    }
    let (then, now) = (Memory::of_earlier(&then), Memory::of_earlier(&now));
    Ok(Compared { changes: changes_between(&then, &now), currency: now.currency })
}

fn remembered(path: &Path, sheets: &mut Sheets) -> Result<Earlier, RunError> {
    let grid = grid::read_earlier(path, sheets, &earlier::is_read)?;
    Ok(earlier::read_alone(&grid, sheets)?)
}
