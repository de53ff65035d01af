//! What a reading stands for.

mod published;
mod refusals;
