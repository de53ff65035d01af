//! How much of a record is answered: all of it, or what a program needs that asks all day.

use crate::request::envelope::Record;
use serde::Serialize;
use serde_json::Value;
use sumpwright_engine::quantity::UnitSystem;
use sumpwright_engine::text::{Sentence, Telling};
use sumpwright_engine::uncertainty::AnswerUncertainty;

/// How much of a record is answered.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Extent {
    /// All of it, complete enough to file.
    #[default]
    Record,
    /// All but the balance and the assumptions, and of findings and cautions the codes.
    Minimal,
}

impl Extent {
    /// How much a calculation has to tell for it.
    pub(crate) const fn told(self) -> Telling {
        match self {
            Self::Record => Telling::Record,
            Self::Minimal => Telling::Answer,
        }
    }
}

/// The minimal extent of a record.
#[derive(Serialize)]
pub(crate) struct Brief<'a, Answer> {
    #[serde(skip_serializing_if = "Option::is_none")]
    reference: Option<&'a str>,
    units: UnitSystem,
    calculation: &'a str,
    version: &'a str,
    statement: &'a Sentence,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    findings: Vec<&'a str>,
    answer: &'a Answer,
    #[serde(skip_serializing_if = "Option::is_none")]
    uncertainty: Option<&'a AnswerUncertainty>,
    cautions: Vec<&'a str>,
}

impl<'a, Answer> Brief<'a, Answer> {
    pub(crate) fn of(record: &'a Record<Answer>) -> Self {
        Self {
            reference: record.reference.as_deref(),
            units: record.units,
            calculation: &record.calculation,
            version: &record.version,
            statement: &record.statement,
            findings: record.findings.iter().map(|finding| finding.code.as_ref()).collect(),
            answer: &record.answer,
            uncertainty: record.uncertainty.as_ref(),
            cautions: record.cautions.iter().map(|caution| caution.code.as_ref()).collect(),
        }
    }
}

/// The minimal extent of a record that is a tree.
#[must_use]
pub fn brief(mut record: Value) -> Value {
    let Some(members) = record.as_object_mut() else { return record };
    members.retain(|name, _| name != "balance" && name != "assumptions");
    for name in ["findings", "cautions"] {
        let listed = members.get_mut(name).and_then(Value::as_array_mut);
        listed.into_iter().flatten().for_each(|entry| *entry = entry["code"].take());
    }
    record
}
