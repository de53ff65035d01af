//! What the engine says: refusals, assumptions, cautions and findings, made of
//! sentences whose numbers stay data until the caller's units are known.
//!
//! # Decisions
//!
//! - **Sentences, not error enums.** The engine knows best why it refuses, but not the caller's units. A
//!   `Sentence` is a template with measures; the border renders it. A calculation's words so stay in its
//!   own file, instead of an enum in one crate and its words in another.
//! - **A sentence is written down in the units around it.** Texts of steps, findings, assumptions and cautions
//!   are `Sentence`s in the answer itself; `quantity::in_units` says, for as long as a record is being written,
//!   which system they are read in. A law over drawn questions holds that no text names a unit of the other.
//! - **Said where it is asked for.** Findings and cautions are made within `said`, assumptions within `filed`: a
//!   row of numbers, a draw and a minimal record leave them out by [`telling`], and no calculation has a second,
//!   wordless way. Numbers, refusals and whether the balance closes never hang on it.

mod assumption;
mod caution;
mod date;
mod finding;
mod list;
mod moment;
pub mod names;
mod nearest;
mod refusal;
mod sentence;
mod telling;

pub use assumption::{Assumption, density_of_water};
pub use caution::Caution;
pub use date::{CalendarDate, DayText};
pub use finding::{Finding, Severity};
pub use list::listed;
pub use moment::{DateOrder, MomentText, WrittenMoment, day_in_cell};
pub use names::Name;
pub use nearest::{did_you_mean, nearest, text_with_nearest, was_meant, with_nearest};
pub(crate) use refusal::concentration_range;
pub use refusal::{
    ConcentrationRange, FAULTS_LISTED, Fault, Faults, Kind, Reachable, Refusal, VolumeRange,
};
pub use sentence::{Part, Sentence, TextPiece, places};
pub use telling::{Telling, is_filed, is_said, telling};
pub(crate) use telling::{filed, said, try_said};
