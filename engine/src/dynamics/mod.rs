//! The course of a sump over time: what is in it, what comes and goes, and what
//! a person does about it.
//!
//! A sump holds W litres of water-mix fluid, of which C are concentrate, with O
//! litres of tramp oil in or on it and M of whatever else is followed (mg): its
//! volume is V = W + O, its concentration C/V. Between two events everything
//! comes and goes at steady rates:
//!
//! 1. fluid: dW/dt = m − e − d − b, with m what is fed all the time, e what
//!    evaporates, d what is carried off and b what is discharged (L/day)
//! 2. concentrate: dC/dt = m·c_m − (k·d + b)·C/W, with k the depletion ratio
//! 3. matter: dM/dt = m·s_m − (d + b)·M/W
//! 4. tramp oil: dO/dt = ℓ + m·o_m − (d + b + q)·O/W, with ℓ the leak (L/day) and
//!    q the litres a day that a skimmer frees of oil
//!
//! With a [working calendar](working_calendar) the rates are those of days of work and of days of
//! rest in turn, each steady from one turn to the next.
//!
//! [`pace`] has their closed form. An event (a feeding, a visit, an addition, a
//! level or the end of a band reached) lies where a closed form says, or where a
//! bracketed root of one does; nothing is stepped through or sampled.
//!
//! Assumes that the sump is well mixed and that volumes add. The carry-off d is
//! counted in litres of water-mix fluid, and tramp oil goes along in proportion.
//! Valid until the water is gone or the sump runs dry, and the course ends there.
//!
//! # Decisions
//!
//! - **One formula for a sump between two events.** In the time τ = ∫ dt/W (W the litres of water-mix
//!   fluid) every content relaxes exponentially, whether the level falls, stands or rises
//!   (`dynamics/pace.rs`), so that nothing is stepped through and no limit is a special case. Each watched
//!   value has at most one turn in a segment, and where it lies is known: a value that goes out and comes
//!   back between two events is found. For that, carry-off is counted in litres of water-mix fluid with
//!   the oil going along in proportion, and a skimmer frees so many litres a day of their oil.
//! - **A course ends where its equations do**: when the water is gone, or at a hundredth of the first
//!   fill, where every pump draws air.

mod amounts;
mod edge;
mod feeding;
pub mod log;
pub mod pace;
mod run;
mod segment;
pub mod stretch;
mod tally;
pub mod working_calendar;

pub use amounts::{Amounts, MaterialDensities};
pub use edge::{BandSide, Edge, EdgeCrossing, Watched};
pub use feeding::{FeedingHabit, Portion, SumpFeed};
pub use run::{Course, CourseAddition, CoursePlan, CourseStop, FEEDINGS_MOST, Fed, Leg, RestDays};
pub use segment::{Segment, SteadyFlow};
pub use tally::Tally;
