//! A sump from day to day: how strong it is, what goes in, what it loses and when it is due.
//!
//! # Decisions
//!
//! - **Nothing stronger than a premix is poured into a sump, and no fluid in its band is drained.** `top_up/plan.rs`
//!   holds both by construction: the premix bound is one more straight line beside the stocks', draining comes
//!   where no addition and no weak make-up does it. Laws over drawn questions hold it from outside.
//! - **`losses` fits the readings, not their differences.** The sump's state at the first entry is an unknown,
//!   everything after it follows in closed form, and every reading is one observation. That is the same as
//!   generalised least squares on the intervals, whose errors are correlated through the readings they share,
//!   and a log with gaps needs no thought. A depletion ratio cannot come out of volumes and strengths (only
//!   e + d and k·d occur in the balances), so asking for it without a known rate is refused.
//! - **A finding is one more unknown.** All faults at all entries are scored by one pass from the last entry
//!   to the first (what a push on the sump does to all later readings), the best of each kind are fitted in
//!   full, and the best is kept when chance would do as well in fewer than one log in a hundred, all trials
//!   counted. What would do nearly as well is named in `or_else`. Uncertainties that the caller does not give
//!   come from the scatter, and intervals then from Student's distribution.
//! - **Concentrate brings as much salt as the water it takes the place of**, unless its own is given, in
//!   `make-up` and `forecast`. So a property settles at the water's content times the cycles, as handbooks
//!   have it, on the safe side by the share of concentrate in the make-up (2 to 4 %).
//! - **A calibration regresses readings on strengths**, because the mixes are made up and the readings
//!   scatter, and reads the line backwards (Fieller). An offset may lie a little below nothing, so
//!   `water_brix` is a `BrixOffset` wherever a reading is taken.
//! - **Two volumes of a sump that disagree** are not averaged: there is no volume then, and a finding says both.
//! - **A scale is read in steps.** Half a division, rectangular (GUM 4.3.7), goes into the line of a calibration beside the
//!   scatter, and does not average out over readings of the same mix.

pub mod concentration;
pub mod condition;
pub mod dose;
pub mod forecast;
pub mod losses;
pub mod make_up;
pub mod refractometer_factor;
pub mod sump_state;
pub mod sump_volume;
pub mod top_up;
pub mod water;
