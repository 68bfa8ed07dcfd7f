//! Values taken because a cell was blank: counted, never silent.

use crate::schema::Column;
use crate::schema::openings::OPENINGS;

/// A value taken because a cell was blank.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Assumption {
    /// The column or project item.
    pub column: &'static Column,
    /// What was taken.
    pub value: String,
    /// For how many openings (a project item: 0).
    pub openings: u64,
}

/// Counts what was taken for blanks in the columns of `Openings`, of the openings that got a blind. The
/// survey knows what a blank means by itself; what it means only beside a product, the project or a
/// fixing, a later stage counts with an `Assumptions` of its own.
#[derive(Clone, Debug, Default)]
pub struct Assumptions {
    /// For each column, by its slot, the values taken in the order in which they were first met.
    taken: Vec<Vec<(String, u64)>>,
}

impl Assumptions {
    /// Counts `value`, taken for a blank in a column of `Openings`, for so many openings.
    /// Called in survey order, so that the list does not depend on threads.
    pub fn count(&mut self, column: &'static Column, value: &str, openings: u64) {
        if self.taken.len() <= column.slot {
            self.taken.resize_with(column.slot + 1, Vec::new);
        }
        let taken = &mut self.taken[column.slot];
        match taken.iter_mut().find(|(known, _)| known == value) {
            Some((_, count)) => *count += openings,
            None => taken.push((value.to_owned(), openings)),
        }
    }

    /// The list, by column in the order of a blank workbook.
    pub fn into_list(self) -> Vec<Assumption> {
        let columns = OPENINGS.columns.iter().zip(self.taken);
        columns
            .flat_map(|(column, taken)| {
                taken.into_iter().map(|(value, openings)| Assumption { column, value, openings })
            })
            .collect()
    }
}
