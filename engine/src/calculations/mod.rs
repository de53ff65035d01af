//! What the service answers, one file each.

pub mod blend;
pub mod concentration;
pub mod top_up;
