//! Whether a fluid is still good, and what to do with it.

mod decisions;
mod published;
mod refusals;
