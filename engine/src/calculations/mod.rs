//! What the service answers, one file each.

pub mod blend;
pub mod concentration;
pub mod recharge;
pub mod refractometer_factor;
pub mod sump_volume;
pub mod top_up;
