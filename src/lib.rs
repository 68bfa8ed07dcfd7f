//! Sillbook reads a survey of door and window openings and works out everything that stands
//! between it and blinds that hang straight.
//!
//! Data goes one way. A file becomes addressed cells ([`grid`]), cells are read against one
//! [`schema`] ([`tables`]) into [`rules`] and a [`survey`] of checked openings; [`sizing`] finds
//! each mount, size and window of sizes, [`sourcing`] the final size, [`fitting`] what follows
//! from it; [`order`] groups identical blinds, [`cutting`] turns their parts into bars,
//! [`hardware`] totals the rest and [`cost`] prices all of it; [`report`] lends the rows that the
//! [`workbook`] and the [`exchange`] formats lay out, and [`drawing`] shows each opening.
//! [`intake`] tells surveys from what lies beside them, and [`pipeline`] calls the stages in this
//! order.

pub mod name;
pub mod date;
pub mod rounding;
pub mod length;
pub mod angle;
pub mod money;
pub mod place;
pub mod schema;
pub mod query;
pub mod worked;
pub mod grid;
pub mod tables;
pub mod survey;
pub mod rules;
pub mod sizing;
pub mod sourcing;
pub mod blinds;
pub mod fitting;
pub mod order;
pub mod cutting;
pub mod hardware;
pub mod cost;
pub mod report;
pub mod drawing;
pub mod workbook;
pub mod exchange;
pub mod intake;
pub mod pipeline;
pub mod explain;
pub mod output;
