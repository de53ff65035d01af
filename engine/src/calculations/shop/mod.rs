//! The whole shop: rounds of clean-outs, a year of waste and what the ways of working cost.
//!
//! # Decisions
//!
//! - **Rounds are packed exactly, or say that they are not.** Up to fourteen sumps a batch the packing of
//!   `recharge` into trips is exhaustive; beyond that it is a good packing beside a lower bound, the larger
//!   of a size bound and a column linear programme solved with its proof. `proven` is true when they meet.
//!   The search is bounded by its own steps and never by a clock, so that the same document gives the
//!   same bytes. `proven` speaks of trips; how near the minutes are, `crew_hours_at_least` says (the trips
//!   are packed first, and the dirty tank's emptyings over them afterwards, so that a plan with as few
//!   trips and one emptying less can be missed).
//! - **A year of clean-outs is found and bounded.** `calendar` prices the shared limits, so that each sump is a
//!   shortest path by itself: what these cost is a number that no plan goes below, proven by weak duality without
//!   a linear programme. Plans are laid sump by sump at these prices and improved by a counted number of tries;
//!   `gap` says how near they are. What the fluid's life is worth at the end is part of the cost, so that
//!   a plan wins nothing by putting off, and the clean-outs of a year need no rounding at its ends.
//! - **A comparison is asked again, not differentiated.** Break-even and what a choice hangs on change
//!   a number of the request at its JSON pointer and calculate the whole again; the kind and range of
//!   that number come from the published schema (`cost_comparison/levers.rs`). An input that enters in a
//!   straight line has one crossing or none, found by a division and checked by putting it back; any
//!   other is searched in steps, and the answer says from where to where. Numbers that are whole cross
//!   between two neighbours; numbers of years jump and are looked at one by one.
//! - **A year in a comparison is an ordinary one.** Prices do not rise, taxes are left out, what is paid in
//!   a year counts at its end. What is not worn out at the end is worth its part on the straight line
//!   from price to residual value. One balance holds the streams of all ways, each named after its way.
//! - **Waste is booked in a ledger before it is judged.** `disposal` walks sumps that are changed together
//!   through the months in closed form (the equations of `forecast`; a test holds the two together) and
//!   books every movement as a row of materials; treatment, drums, containers, pickups, categories, prices
//!   and the balance only read that ledger. Months are twelfths of 365 days, so that steady streams are
//!   exactly proportional to the horizon. Masses are held against the boundaries of a generator category
//!   to twelve digits.
//! - **Pickups by putting off.** What arose on a day keeps the limits of its month's category, and so does all that is on
//!   site while it is there. Each pickup is put off to the last day that keeps all of them; what may lie between two
//!   pickups may as well lie between two that stand closer, so by exchange no schedule has fewer. It is tested against all
//!   schedules of short horizons with limits that change from month to month, and against a dynamic programme. A day whose
//!   own waste passes the limit gets a pickup at its end with nothing else on site, and is said.
//! - **A change by forecast falls on a month's end**, the last within its limits. Where the fluid does not
//!   hold a month, it is changed every month, and `past_limits` counts the sumps that are past all the same.

pub mod calendar;
pub mod cost_comparison;
pub mod disposal;
pub mod recharge;
pub mod supplies;
pub mod test_plan;
pub mod top_up_round;
