//! Cells to checked openings. Knows nothing of blinds.
//!
//! [`settle_units`] finds what a bare number is in. [`read()`] finds the tables of each file
//! (`sheets`, `file`), puts answers to an earlier run's queries in their place (`answers`) and each
//! row's type behind it (`types`, `joined`), decides which rows are openings (`standing`), names
//! them (`names`), reads what was measured (`cells`) and asks about sizes unlike those of their
//! peers (`peers`, `slips`).

mod answers;
mod assumptions;
mod blanks;
mod carried;
mod cells;
mod choices;
mod error;
mod facts;
mod file;
mod joined;
mod measured;
mod names;
mod opening;
mod peers;
mod queries;
mod read;
mod sheets;
mod slips;
mod standing;
mod texts;
mod types;
mod units;
mod unread;

pub use answers::every_one_of;
pub use assumptions::{Assumption, Assumptions};
pub use choices::{Control, DepthTo, Draw, EndsAt, Floor, Kind, Leaf, MountWanted, Opens, Source, Substrate};
pub use error::{MOST_BLINDS, SurveyError};
pub use facts::Facts;
pub use measured::{Given, Measured};
pub use opening::{Identity, NO_UNIT, Opening, shown_unit};
pub use queries::SurveyQuery;
pub use read::{Survey, read};
pub use sheets::require_openings;
pub use units::{UnitsError, settle_units};
