//! What the service answers, one file each.

pub mod blend;
pub mod concentration;
pub mod cost_comparison;
pub mod disposal;
pub mod fluid_loop;
pub mod forecast;
pub mod losses;
pub mod make_up;
pub mod recharge;
pub mod recycler;
pub mod refractometer_factor;
pub mod separation;
pub mod sump_volume;
pub mod top_up;
