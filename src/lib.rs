//! Sillbook reads a survey of door and window openings and works out everything that stands
//! between it and blinds that hang straight.
//!
//! Data goes one way. A file becomes addressed cells ([`grid`]), cells are read against one
//! [`schema`] ([`tables`]) into [`rules`] and a [`survey`] of checked openings; [`sizing`] finds
//! each mount, size and window of sizes, [`sourcing`] the final size, [`fitting`] what follows
//! from it; [`order`] groups identical blinds, [`spares`] counts what is made besides, [`cutting`] turns their parts into bars,
//! [`hardware`] totals the rest, [`cost`] prices all of it and [`phases`] adds up each phase; [`report`] lends the rows that the
//! [`workbook`] and the [`exchange`] formats lay out, once the [`invariants`] hold of it, and [`drawing`] shows
//! each opening.
//! [`intake`] tells surveys from what lies beside them, and [`pipeline`] calls the stages in this
//! order:
//!
//! ```
//! use sillbook::pipeline::{self, Silent};
//!
//! let input = pipeline::read(&["demo/larch-terrace.xlsx".into()], None, &Silent)?;
//! let report = pipeline::work(&input, &Silent)?;
//! let units = report.rules.project.units;
//! let lines = report.order.lines.iter().map(|line| {
//!     let (width, drop) = (line.key.size.width.show(units), line.key.size.drop.show(units));
//!     format!("{} of {} in {}: {width} x {drop}", line.quantity, line.key.product, line.key.color)
//! });
//! let lines: Vec<String> = lines.collect();
//! assert_eq!(lines[1], "17 of louver-89 in white: 1161 mm x 1222 mm");
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

pub mod name;
pub mod date;
pub mod rounding;
pub mod length;
mod force;
mod weight;
pub mod angle;
pub mod money;
pub mod place;
pub mod schema;
pub mod assumptions;
pub mod query;
pub mod worked;
pub mod grid;
pub mod tables;
pub mod rules;
pub mod survey;
pub mod earlier;
pub mod frozen;
pub mod sizing;
pub mod sourcing;
pub mod blinds;
pub mod fitting;
pub mod order;
pub mod days;
pub mod spares;
pub mod cutting;
pub mod hardware;
pub mod cost;
pub mod phases;
pub mod report;
pub mod invariants;
pub mod drawing;
mod breaking;
pub mod workbook;
pub mod exchange;
pub mod intake;
pub mod pipeline;
pub mod explain;
pub mod output;
