//! Cells to checked openings. Knows nothing of blinds.
//!
//! [`lay_out`] finds the tables of each file and what each of them is (`layout`, `subject`, `roles`,
//! `cobie`),
//! [`settle_units`] what a bare number is in. [`read()`] puts answers to an earlier run's queries in
//! their place (`answers`), takes out what says nothing (`said_blank`), doubts the unit of a whole
//! file (`other_unit`) and puts each row's type behind it (`file`, `types`, `joined`), decides which
//! rows are openings (`standing`), names them (`names`), reads what was measured (`cells`) and asks
//! about sizes unlike those of their peers (`peers`, `slips`) and about the survey as a whole
//! (`patterns`, `missing`, `copied`).

mod answers;
mod as_read;
mod blanks;
mod carried;
mod category;
mod cells;
mod cobie;
mod copied;
mod error;
mod facts;
mod file;
mod floors;
mod inward;
mod joined;
mod layout;
mod meanings;
mod measured;
mod missing;
mod named_sizes;
mod names;
mod opening;
mod other_unit;
mod patterns;
mod peers;
mod queries;
mod read;
mod roles;
mod said_blank;
mod several;
mod slips;
mod standing;
mod subject;
mod table;
mod texts;
mod things;
mod totals;
mod types;
mod units;
mod unwanted;

pub use crate::place::Given;
pub use crate::schema::choices::{
    Control, CordDevice, DepthTo, Draw, EndsAt, Floor, Kind, Leaf, MotorSide, MountWanted, Opens, SizeSource,
    Slab, Species, Substrate,
};
pub use answers::every_one_of;
pub use as_read::AsRead;
pub use blanks::{Blanks, assumed};
pub use error::{LookedAt, MOST_BLINDS, MOST_UNREAD, SurveyError, UnknownHeading};
pub use facts::{Facts, Studs};
use layout::Layout;
pub use layout::{Files, lay_out, lay_out_after};
pub use measured::{Measured, Reading, Spot};
pub use opening::{Identity, NO_UNIT, Opening, shown_floor, shown_unit};
pub(crate) use queries::QUERIES;
pub use read::{Survey, read, read_with};
pub use roles::Why;
pub(crate) use texts::Texts;
pub use units::{BareUnit, UnitFrom, UnitsError, settle_units};
