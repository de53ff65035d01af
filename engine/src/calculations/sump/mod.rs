//! A sump from day to day: how strong it is, what goes in, what it loses and when it is due.

pub mod concentration;
pub mod forecast;
pub mod losses;
pub mod make_up;
pub mod refractometer_factor;
pub mod sump_volume;
pub mod top_up;
