//! What the service answers, one file each.

pub mod blend;
pub mod concentration;
pub mod recharge;
pub mod recycler;
pub mod separation;
pub mod top_up;
