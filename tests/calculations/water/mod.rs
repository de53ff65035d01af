//! Waters: hardness, blends and what conducts.

mod elsewhere;
mod published;
mod refusals;
