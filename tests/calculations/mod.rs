//! One folder for each calculation, under its name on the wire: published values with the script
//! that recorded them, properties that always hold, and every kind of refusal.

mod blend;
mod calendar;
mod concentration;
mod condition;
mod cost_comparison;
mod disposal;
mod dose;
mod fluid_loop;
mod forecast;
mod losses;
mod make_up;
mod recharge;
mod recycler;
mod refractometer_factor;
mod separation;
mod sump_state;
mod sump_volume;
mod supplies;
mod test_plan;
mod top_up;
mod top_up_round;
mod water;
