//! What keeps a sump as it is.

mod published;
