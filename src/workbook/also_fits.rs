//! `Also fits`: where a blind can go that its own opening does not need any more.

use super::layout::fixed;
use super::look::Tone;
use super::pages::{Form, Frozen, Pages, columns_of, in_use};
use super::paper::Lie;
use super::{Press, Written};
use crate::report::rows::{AlsoFitsRow, MOST_SHOWN};
use crate::report::{MOST_COMPARED, MOST_LISTED};
use crate::schema::blinds::Reason;

/// Writes the sheet, if any blind would fit elsewhere.
pub(super) fn write(press: &Press<'_>) -> Written {
    if press.report.also_fits.is_empty() {
        return Ok(Vec::new());
    }
    let form = Form {
        name: fixed::ALSO_FITS,
        title: "Where else a blind would fit",
        remarks: vec![
            "Openings that would take the blind as it is: same product, color, draw, control, mount and reach, and a size that they allow. Best first: no blind ordered yet, same unit, same floor, nearest size.".into(),
            "Blinds of one line are identical, so the openings of a line are not listed for its own blinds. Blinds that are fitted are left out; held openings are not compared.".into(),
            format!(
                "A blind for no opening is listed by itself, one to be made again only with the reason {} or {}.",
                Reason::ClientChanged,
                Reason::MeasuredWrong,
            )
            .into(),
            format!(
                "For each blind at most {MOST_SHOWN} openings are listed here, and {MOST_LISTED} in JSON and CSV; Fits in all counts the others too. At most {MOST_COMPARED} are compared, nearest in size first."
            )
            .into(),
        ],
        lie: Lie::Landscape,
        frozen: Frozen::Headings,
    };
    let mut pages = Pages::open(press, form)?;
    pages.way_back()?;
    let rows = || AlsoFitsRow::best(press.report);
    let columns = in_use(columns_of::<AlsoFitsRow<'_>>(press, |lead| press.address(lead)), rows());
    pages.table(&columns, rows(), |_| Tone::Body)?;
    pages.finish()
}
