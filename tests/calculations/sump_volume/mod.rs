//! How much is in a sump.

mod published;
