//! The product families: what a blind of a given size is made of.

pub mod louver;
