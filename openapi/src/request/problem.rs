//! Problems (RFC 9457): why there is no answer.

pub use super::fault::{FaultCode, RequestFault};
pub use super::problem_kind::{ProblemKind, ProblemRow};

use super::fault::bounded;
use serde::{Deserialize, Serialize};
use serde_json::Value;
use sumpwright_engine::document::Pointer;
use sumpwright_engine::quantity::{UnitSystem, in_units};
use sumpwright_engine::text::{FAULTS_LISTED, Reachable, Refusal};
use utoipa::ToSchema;

/// Media type of a problem.
pub const MEDIA_TYPE: &str = "application/problem+json";

/// Why there is no answer.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[schema(title = "Problem")]
pub struct Problem {
    /// Address of a page, on this server, that explains this type of problem.
    #[schema(example = "/problems/inconsistent")]
    pub r#type: String,
    /// The type of problem in a few words.
    #[schema(example = "The request contradicts itself")]
    pub title: String,
    /// The HTTP status.
    #[schema(example = 422, minimum = 400, maximum = 599)]
    pub status: u16,
    /// The problem and how to correct it, for people.
    #[schema(example = "It is fuller than full: 240 L in a capacity of 200 L.")]
    pub detail: String,
    /// All faults of the request, each with its place; the first 100 if there are more.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub errors: Vec<RequestFault>,
    /// The caller's own reference, unchanged.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub reference: Option<String>,
    /// The values that can be reached instead, in the units of the request.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    #[schema(value_type = Option<Reachable>)]
    pub reachable: Option<Value>,
    /// The problem type's row of the table; absent if the problem was read from an answer.
    #[serde(skip)]
    kind: Option<ProblemKind>,
    /// Whether the sentences of the faults say themselves where they are.
    #[serde(skip)]
    places_are_told: bool,
}

impl Problem {
    /// A problem with one fault.
    #[must_use]
    pub fn new(fault: RequestFault) -> Self {
        Self::with_faults(vec![fault])
    }

    /// A problem with one fault, of the request as a whole.
    pub fn of_whole(code: FaultCode, detail: impl Into<String>) -> Self {
        Self::new(RequestFault::new(code, "", detail))
    }

    /// A problem with all the faults of a request, or the first hundred of them. A request
    /// with a malformed part is malformed, whatever else is wrong with it.
    #[must_use]
    pub fn with_faults(mut errors: Vec<RequestFault>) -> Self {
        let mut kinds = errors.iter().map(|fault| fault.code.kind());
        let first = kinds.next().unwrap_or(ProblemKind::Malformed);
        let malformed = kinds.find(|kind| *kind == ProblemKind::Malformed);
        let kind = malformed.unwrap_or(first);
        let there_are_more = errors.len() > FAULTS_LISTED;
        errors.truncate(FAULTS_LISTED);
        let detail = in_one(kind, &errors, there_are_more);
        Self::about(kind, detail, errors)
    }

    /// The problem type's row of the table; absent if the problem was read from an answer.
    #[must_use]
    pub const fn kind(&self) -> Option<ProblemKind> {
        self.kind
    }

    /// A problem without a place in a document.
    pub fn plain(kind: ProblemKind, detail: impl Into<String>) -> Self {
        Self::about(kind, bounded(detail.into()), Vec::new())
    }

    fn about(kind: ProblemKind, detail: String, errors: Vec<RequestFault>) -> Self {
        let ProblemRow { status, title, .. } = *kind.row();
        Self {
            r#type: kind.address(),
            title: title.to_owned(),
            status,
            detail,
            errors,
            reference: None,
            reachable: None,
            kind: Some(kind),
            places_are_told: false,
        }
    }

    /// A refusal of the engine, in the units of the caller.
    #[must_use]
    pub fn refused(refusal: &Refusal, units: UnitSystem) -> Self {
        let code = FaultCode::from(refusal.kind);
        let faults = refusal
            .faults
            .iter()
            .map(|f| RequestFault::new(code, f.pointer.as_str(), f.detail.show_apart(units)));
        let mut problem = Self::with_faults(faults.collect());
        let written = |reachable| in_units(units, || serde_json::to_value(reachable).ok());
        problem.reachable = refusal.reachable.and_then(written);
        problem
    }

    /// All faults in one text, each with the path of its member, for a spreadsheet
    /// cell, which shows nothing else of the problem.
    #[must_use]
    pub fn in_a_cell(&self) -> String {
        self.sentences().join(" ")
    }

    /// Every fault on a line of its own, for a terminal.
    #[must_use]
    pub fn in_lines(&self) -> String {
        self.sentences().join("\n")
    }

    /// Every fault, each with the path of its member.
    fn sentences(&self) -> Vec<String> {
        self.sentences_by(str::to_owned)
    }

    /// Every fault, each with what `name` calls the place of its member, given by its path.
    pub(crate) fn sentences_by(&self, name: impl Fn(&str) -> String) -> Vec<String> {
        if self.errors.is_empty() {
            return vec![self.detail.clone()];
        }
        let faults = self.errors.iter().map(|fault| {
            let place = name(&Pointer::from(fault.pointer.as_str()).path());
            let is_told = place.is_empty() || self.places_are_told;
            if is_told { fault.detail.clone() } else { format!("{place}: {}", fault.detail) }
        });
        faults.collect()
    }

    /// The same problem, of which each fault says in its sentence where it is: `place` calls
    /// the place of a member by its pointer.
    #[must_use]
    pub(crate) fn told_by(mut self, place: impl Fn(&str) -> Option<String>) -> Self {
        for fault in &mut self.errors {
            if let Some(place) = place(&fault.pointer) {
                fault.detail = format!("{place}: {}", fault.detail);
            }
        }
        if let (Some(kind), false) = (self.kind, self.errors.is_empty()) {
            self.detail = in_one(kind, &self.errors, self.detail.ends_with(&listed()));
        }
        self.places_are_told = true;
        self
    }
}

/// The sentence of a problem: its first fault, and how many more there are.
fn in_one(kind: ProblemKind, errors: &[RequestFault], there_are_more: bool) -> String {
    match errors {
        [] => kind.row().page.to_owned(),
        [only] => only.detail.clone(),
        [first, rest @ ..] => {
            let end = if there_are_more { listed() } else { ")".to_owned() };
            format!("{} (and {} more in errors{end}", first.detail, rest.len())
        }
    }
}

/// The end of the sentence where not all faults are listed.
fn listed() -> String {
    format!(", which lists the first {FAULTS_LISTED})")
}
