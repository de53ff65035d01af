//! Concentration: the concentration that a reading stands for.

mod published;
mod refusals;
mod statement;
