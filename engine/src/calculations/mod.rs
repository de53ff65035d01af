//! What the service answers, one file each.

pub mod blend;
pub mod concentration;
pub mod cost_comparison;
pub mod forecast;
pub mod losses;
pub mod make_up;
pub mod recharge;
pub mod recycler;
pub mod separation;
pub mod top_up;
