//! What the service answers, one file each.

pub mod blend;
pub mod concentration;
pub mod disposal;
pub mod forecast;
pub mod make_up;
pub mod recharge;
pub mod top_up;
