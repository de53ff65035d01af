//! What the engine says: refusals, assumptions, cautions and findings, made of
//! sentences whose numbers stay data until the caller's units are known.

mod assumption;
mod caution;
mod finding;
pub mod names;
mod nearest;
mod refusal;
mod sentence;

pub use assumption::Assumption;
pub use caution::Caution;
pub use finding::{Finding, Severity};
pub use nearest::{did_you_mean, hinted, nearest, was_meant, with_nearest};
pub(crate) use refusal::concentration_range;
pub use refusal::{
    ConcentrationRange, FAULTS_LISTED, Fault, Faults, Kind, Reachable, Refusal, VolumeRange,
};
pub use sentence::{Part, Sentence, in_units, places};
