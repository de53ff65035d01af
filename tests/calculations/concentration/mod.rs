//! What a reading stands for.

mod published;
