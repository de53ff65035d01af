//! What the service answers, one file each.

pub mod blend;
pub mod concentration;
pub mod fluid_loop;
pub mod recharge;
pub mod top_up;
