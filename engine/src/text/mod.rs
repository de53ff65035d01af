//! What the engine says: refusals, assumptions, cautions and findings, made of
//! sentences whose numbers stay data until the caller's units are known.

mod assumption;
mod caution;
mod finding;
mod list;
pub mod names;
mod nearest;
mod refusal;
mod sentence;

pub use assumption::{Assumption, density_of_water};
pub use caution::Caution;
pub use finding::{Finding, Severity};
pub use list::listed;
pub use nearest::{did_you_mean, nearest, text_with_nearest, was_meant, with_nearest};
pub(crate) use refusal::concentration_range;
pub use refusal::{
    ConcentrationRange, FAULTS_LISTED, Fault, Faults, Kind, Reachable, Refusal, VolumeRange,
};
pub use sentence::{Part, Sentence, in_units, places};
