//! Waters: hardness, blends and what conducts.

mod published;
mod refusals;
