//! Why a sound question has no answer: physics, not HTTP.
//!
//! A calculation refuses with data: the kind of refusal, the members at fault
//! as JSON pointers (RFC 6901), a sentence whose numbers carry their units,
//! and, where it can be said, what could be reached instead. Turning it into a
//! status is the border's affair.

use crate::quantity::{Concentration, Measure, OutOfRange, Quantity, Volume};
use crate::sentence;
use crate::text::Sentence;
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// The kinds of refusal.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// A number that cannot be, or that a published table does not cover.
    OutOfRange,
    /// Members that contradict each other.
    Inconsistent,
    /// No batch does it.
    Unreachable,
    /// What was asked cannot be worked out from what was given.
    NotIdentifiable,
    /// Something was found but could not be proven.
    Unproven,
}

/// One fault of a question: where it is, what is wrong and how to put it right.
#[derive(Debug, Clone, PartialEq)]
pub struct Fault {
    /// JSON pointer to the member at fault.
    pub pointer: String,
    /// What is wrong and how to put it right, in a sentence.
    pub detail: Sentence,
}

/// What could be reached instead, for a caller that wants to ask again.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, ToSchema)]
#[schema(as = ReachableRanges)]
pub struct Reachable {
    /// # Strengths within reach
    ///
    /// The strengths that can be reached with the volume asked for.
    pub concentration: Option<ConcentrationRange>,
    /// # Volumes within reach
    ///
    /// The volumes that can be made at the strength asked for.
    pub volume: Option<VolumeRange>,
}

/// The weakest and the strongest that can be reached.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct ConcentrationRange {
    /// # Weakest
    ///
    /// The weakest.
    pub low: Concentration,
    /// # Strongest
    ///
    /// The strongest.
    pub high: Concentration,
}

/// The smallest and the largest that can be made.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct VolumeRange {
    /// # Smallest
    ///
    /// The smallest.
    pub low: Volume,
    /// # Largest
    ///
    /// The largest.
    pub high: Volume,
}

/// A sound question that has no answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Refusal {
    /// What kind of refusal it is.
    pub kind: Kind,
    /// Every fault found, each at its place.
    pub faults: Vec<Fault>,
    /// What could be reached instead, where that can be said.
    pub reachable: Option<Reachable>,
}

impl Refusal {
    /// A refusal with one fault.
    pub fn new(kind: Kind, pointer: impl Into<String>, detail: Sentence) -> Self {
        Self { kind, faults: vec![Fault { pointer: pointer.into(), detail }], reachable: None }
    }

    /// Adds what could be reached instead.
    #[must_use]
    pub fn reachable(mut self, reachable: Reachable) -> Self {
        self.reachable = Some(reachable);
        self
    }
}

/// A computed number that is not possible: the numbers of the question are too far
/// apart for arithmetic to be trusted.
impl From<OutOfRange> for Refusal {
    fn from(OutOfRange { row, metric }: OutOfRange) -> Self {
        let detail = sentence!(
            "The calculation arrived at {} for a result of the kind {}, which cannot be. The \
             numbers of the request are too far apart to compute with; check their units.",
            Measure::of(row, metric),
            row.name
        );
        Self::new(Kind::Unproven, "", detail)
    }
}

/// So many faults of a document are listed; whoever gathers them keeps one more, which
/// says that there are more.
pub const FAULTS_LISTED: usize = 100;

/// Collects the faults of a question, so that all are reported at once.
#[derive(Debug, Default)]
pub struct Faults(Vec<Fault>);

impl Faults {
    /// Notes a fault at `pointer`.
    pub fn add(&mut self, pointer: impl Into<String>, detail: Sentence) {
        if self.0.len() <= FAULTS_LISTED {
            self.0.push(Fault { pointer: pointer.into(), detail });
        }
    }

    /// Whether a fault at `pointer` is noted already.
    #[must_use]
    pub fn has(&self, pointer: &str) -> bool {
        self.0.iter().any(|fault| fault.pointer == pointer)
    }

    /// Goes on when there are none, else refuses with all of them.
    pub fn or_refuse(self, kind: Kind) -> Result<(), Refusal> {
        if self.0.is_empty() {
            Ok(())
        } else {
            Err(Refusal { kind, faults: self.0, reachable: None })
        }
    }
}

/// A range of concentrations for [`Reachable`], clamped to what can be.
pub(crate) fn concentration_range(low: f64, high: f64) -> Result<ConcentrationRange, Refusal> {
    let share = |c: f64| Concentration::of(c.clamp(0.0, 100.0));
    Ok(ConcentrationRange { low: share(low)?, high: share(high)? })
}
