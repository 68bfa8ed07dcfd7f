//! `Rules used`: every rule of the run, its value, where that came from and why it is what it is.

use super::layout::fixed;
use super::look::Tone;
use super::pages::{Column, Form, Frozen, Pages};
use super::paper::Lie;
use super::{Press, Written};
use crate::rules::RuleUsed;
use crate::schema::rules_used::BUILT_IN;

pub(super) fn write(press: &Press<'_>) -> Written {
    let form = Form {
        name: fixed::RULES_USED,
        title: "Rules used",
        remarks: vec!["Built in: the default. A sheet of that name in the survey can replace it; what stands under Safety is law or a standard, with its source, and cannot be replaced.".into()],
        lie: Lie::Landscape,
        frozen: Frozen::Headings,
    };
    let columns = [
        Column::new("Table", |rule: &RuleUsed| rule.table),
        Column::new("Item", |rule: &'_ RuleUsed| rule.item.clone()).strong(),
        Column::new("Rule", |rule: &RuleUsed| rule.rule),
        Column::new("Value", |rule: &RuleUsed| rule.value.clone()).strong(),
        Column::new("Source", |rule: &RuleUsed| match rule.at {
            Some(at) => press.cell(at),
            None => BUILT_IN.to_owned(),
        }),
        Column::new("Why", |rule: &RuleUsed| rule.why.clone()).wide(60),
    ];
    let mut pages = Pages::open(press, form)?;
    pages.table(&columns, &press.report.rules.used, |_| Tone::Body)?;
    pages.finish()
}
