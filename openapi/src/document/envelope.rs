//! The schemas of what stands around a question and around an answer.

use super::components::refer;
use crate::request::envelope::{REFERENCE, REFERENCE_MOST, UNCERTAINTY, UNITS};
use serde_json::{Map, Value, json};

/// The question's schema with the members of the envelope before its own.
pub(super) fn with_envelope(mut question: Value) -> Value {
    let mut members = Map::new();
    let units = "Governs every number of the request and of its answer.";
    members.insert(UNITS.to_owned(), json!({ "$ref": refer("UnitSystem"), "description": units }));
    let reference = json!({
        "type": ["string", "null"],
        "maxLength": REFERENCE_MOST,
        "description": "A text of the caller's own (order, batch, machine), handed back untouched.",
    });
    members.insert(REFERENCE.to_owned(), reference);
    let uncertainty = json!({
        "oneOf": [{ "$ref": refer("Uncertainty") }, { "type": "null" }],
        "description": "How uncertain numbers of this request are. The answer then says how \
                        uncertain its own are.",
    });
    members.insert(UNCERTAINTY.to_owned(), uncertainty);
    if let Some(own) = question["properties"].as_object_mut() {
        for name in members.keys() {
            assert!(!own.contains_key(name), "a question has a member {name} of the envelope's");
        }
        members.append(own);
    }
    question["properties"] = members.into();
    let mut required = vec![json!(UNITS)];
    required.extend(question["required"].as_array().into_iter().flatten().cloned());
    question["required"] = required.into();
    question["additionalProperties"] = false.into();
    question
}

/// The schema of an answer with all that makes it a record.
pub(super) fn record_of(summary: &str, answer: &str) -> Value {
    json!({
        "type": "object",
        "description": format!("{summary}: the answer, with all that makes it a record."),
        "required": [
            "units", "calculation", "version", "statement", "answer", "assumptions", "cautions",
        ],
        "properties": {
            "reference": {
                "type": "string",
                "description": "The caller's own text, as it came.",
            },
            "units": {
                "$ref": refer("UnitSystem"),
                "description": "The system of units of every number in it.",
            },
            "calculation": { "type": "string", "description": "Which calculation was asked." },
            "version": { "type": "string", "description": "Which release answered." },
            "statement": {
                "type": "string",
                "description": "The answer in one or two sentences, with amounts rounded to what \
                                they are measured with. The words may change at any time.",
            },
            "findings": {
                "type": "array",
                "items": { "$ref": refer("Finding") },
                "description": "What to look at first, the worst first; absent when there is \
                                nothing.",
            },
            "answer": { "$ref": refer(answer), "description": "The calculation's own result." },
            "balance": {
                "$ref": refer("Balance"),
                "description": "The material balance behind it; absent where no material moves.",
            },
            "uncertainty": {
                "$ref": refer("AnswerUncertainty"),
                "description": "How sure the answer's numbers are; absent where the request did \
                                not say how sure its own are.",
            },
            "assumptions": {
                "type": "array",
                "items": { "$ref": refer("Assumption") },
                "description": "What was taken for granted because the request did not say.",
            },
            "cautions": {
                "type": "array",
                "items": { "$ref": refer("Caution") },
                "description":
                    "What can hurt a person, a machine or the environment in doing it.",
            },
        },
    })
}
