//! Every test of the library and of the command, in one binary: a file for each room or promise. `hostile.rs`
//! is a binary of its own, for it measures the memory of its process.

#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::unreachable,
    reason = "a test says what it expects by failing"
)]

#[path = "../demo/cut/problems.rs"]
mod problems;
mod support;
#[path = "../demo/generate/surveys/mod.rs"]
mod surveys;

mod also_fits;
mod cautions;
mod changes;
mod cli;
mod control;
mod cost;
mod cutting;
mod days;
mod demo;
mod drawings;
mod expr;
mod formats;
mod fuzz;
mod grid;
mod handover;
mod hardware;
mod headings;
mod holding;
mod invariants;
mod json;
mod labels;
mod lasting;
mod layers;
mod left;
mod lengths;
mod materials;
mod memory;
mod merging;
mod messes;
mod metamorphic;
mod options;
mod order;
mod output;
mod pairs;
mod phases;
mod pieces;
mod pilot;
mod printed;
mod queries;
mod questions;
mod range;
mod readback;
mod reading;
mod renamed;
mod roles;
mod rolls;
mod rules;
mod safety;
mod selection;
mod sheets;
mod sizing;
mod solver;
mod sourcing;
mod stories;
mod survey;
mod tables;
mod typed;
mod unit_pages;
mod words;
mod workbook;
mod working;
