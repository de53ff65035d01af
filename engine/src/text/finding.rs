//! Findings: what to look at first before an answer is followed.

use crate::text::Sentence;
use serde::{Deserialize, Serialize};
use std::borrow::Cow;
use utoipa::ToSchema;

/// Something about the fluid, the reading or the request that somebody has to know
/// before following the answer.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[schema(as = RecordFinding)]
pub struct Finding {
    /// # Urgency
    ///
    /// How urgent it is.
    pub severity: Severity,
    /// # Code
    ///
    /// A code for programs.
    #[schema(example = "strength-unusual")]
    pub code: Cow<'static, str>,
    /// # Finding
    ///
    /// What was found and what to do about it.
    #[schema(value_type = String)]
    pub text: Sentence,
    /// # About
    ///
    /// JSON pointer to the member of the request that it is about; empty for the
    /// request as a whole.
    #[schema(example = "/sump/reading/brix")]
    pub pointer: Cow<'static, str>,
}

/// How urgent a finding is, the most urgent first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
#[schema(as = FindingSeverity)]
pub enum Severity {
    /// Do something about it before the answer is followed.
    Act,
    /// Keep an eye on it, or check it soon.
    Watch,
    /// Worth knowing.
    Note,
}

impl Finding {
    /// The code of a finding that doubts an entry: nothing is to be poured or drained by an
    /// answer to it before the entry is looked at.
    pub const DOUBT: &'static str = "strength-unusual";

    /// Whether it doubts an entry.
    #[must_use]
    pub fn is_doubt(&self) -> bool {
        self.code == Self::DOUBT
    }

    /// A finding of one severity.
    pub fn new(
        severity: Severity,
        code: &'static str,
        pointer: impl Into<Cow<'static, str>>,
        text: impl Into<Sentence>,
    ) -> Self {
        Self { severity, code: code.into(), text: text.into(), pointer: pointer.into() }
    }

    /// Something to act on.
    pub fn act(
        code: &'static str,
        pointer: impl Into<Cow<'static, str>>,
        text: impl Into<Sentence>,
    ) -> Self {
        Self::new(Severity::Act, code, pointer, text)
    }

    /// Something to watch.
    pub fn watch(
        code: &'static str,
        pointer: impl Into<Cow<'static, str>>,
        text: impl Into<Sentence>,
    ) -> Self {
        Self::new(Severity::Watch, code, pointer, text)
    }

    /// Something to know.
    pub fn note(
        code: &'static str,
        pointer: impl Into<Cow<'static, str>>,
        text: impl Into<Sentence>,
    ) -> Self {
        Self::new(Severity::Note, code, pointer, text)
    }
}
