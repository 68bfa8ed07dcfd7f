//! The days that lead times are counted from and measured against. Never today's date: the same
//! survey gives the same result on any day.

use super::queries::SourcingQuery;
use crate::assumptions::Assumption;
use crate::date::Date;
use crate::query::Query;
use crate::rules::Project;
use crate::rules::columns::project;

/// When the order goes out and when the blinds must be there.
pub(super) struct Calendar {
    ordered: Option<Date>,
    /// Whether the survey date stands in for a blank order date.
    assumed: bool,
    pub(super) need_by: Option<Date>,
}

/// How a delivery stands to the day on which the blinds are needed; what is better is less.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Standing {
    /// There in time, or nobody says when they are needed.
    InTime,
    /// Not known.
    Unknown,
    /// So many days late.
    Late(i32),
}

impl Calendar {
    pub(super) fn of(project: &Project) -> Calendar {
        Calendar {
            ordered: project.order_date.or(project.survey_date),
            assumed: project.order_date.is_none(),
            need_by: project.need_by,
        }
    }

    /// When something of so many lead days is on site.
    pub(super) fn arrives(&self, lead_days: Option<u32>) -> Option<Date> {
        self.ordered?.plus_days(lead_days?)
    }

    /// Whether an order date is known, so that unknown lead days alone leave an arrival unknown.
    pub(super) fn is_known(&self) -> bool {
        self.ordered.is_some()
    }

    pub(super) fn standing(&self, arrives: Option<Date>) -> Standing {
        match (self.need_by, arrives) {
            (None, _) => Standing::InTime,
            (Some(_), None) => Standing::Unknown,
            (Some(need_by), Some(arrives)) if arrives <= need_by => Standing::InTime,
            (Some(need_by), Some(arrives)) => Standing::Late(arrives.days_since(need_by)),
        }
    }

    /// Asked once for the project: nothing says from when to count.
    pub(super) fn query(&self) -> Option<Query> {
        let unanswerable = self.need_by.is_some() && !self.is_known();
        unanswerable.then(|| Query::new(&SourcingQuery::NoOrderDate, None))
    }

    /// The survey date in place of the order date, if it was.
    pub(super) fn assumption(&self) -> Option<Assumption> {
        let day = self.ordered.filter(|_| self.assumed)?;
        let value = format!("the survey date, {day}");
        Some(Assumption { column: &project::COLUMNS.order_date, value, openings: 0 })
    }
}
