//! A folder a calculation, under its name: figures from outside with the script that made them,
//! laws, and every refusal.

mod blend;
mod concentration;
mod cost_comparison;
mod disposal;
mod fluid_loop;
mod forecast;
mod losses;
mod make_up;
mod recharge;
mod recycler;
mod refractometer_factor;
mod separation;
mod sump_volume;
mod top_up;
