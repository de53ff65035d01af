//! The schemas of what stands around a question and around an answer.

use super::components::refer;
use crate::request::envelope::{REFERENCE, REFERENCE_MOST, UNCERTAINTY, UNITS};
use serde_json::{Map, Value, json};

/// The question's schema with the members of the envelope before its own.
pub(super) fn with_envelope(mut question: Value) -> Value {
    let mut members = Map::new();
    members.insert(UNITS.to_owned(), json!({ "$ref": refer("UnitSystem") }));
    let reference = json!({
        "type": ["string", "null"],
        "maxLength": REFERENCE_MOST,
        "description": "Your own reference (order, batch, machine), returned unchanged.",
    });
    members.insert(REFERENCE.to_owned(), reference);
    let uncertainty = json!({
        "oneOf": [{ "$ref": refer("RequestUncertainty") }, { "type": "null" }],
        "description": "Uncertainty of numbers in this request. The answer then has the \
                        uncertainty of its own numbers.",
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
        "description": format!("{summary}: the answer as a complete record."),
        "required": [
            "units", "calculation", "version", "statement", "answer", "assumptions", "cautions",
        ],
        "properties": {
            "reference": {
                "type": "string",
                "description": "The caller's own reference, unchanged.",
            },
            "units": { "$ref": refer("UnitSystem") },
            "calculation": { "type": "string", "description": "Name of the calculation." },
            "version": { "type": "string", "description": "Version of the service that answered." },
            "statement": {
                "type": "string",
                "description": "The answer in one or two sentences, with amounts rounded to what \
                                they are measured with. The words may change at any time.",
            },
            "findings": {
                "type": "array",
                "items": { "$ref": refer("RecordFinding") },
                "description": "What to look at first, most urgent first; absent when there is \
                                nothing.",
            },
            "answer": { "$ref": refer(answer), "description": "Result of the calculation, at \
                                                               full precision." },
            "balance": {
                "$ref": refer("MaterialBalance"),
                "description": "Material balance of the answer; absent where no material moves.",
            },
            "uncertainty": {
                "$ref": refer("AnswerUncertainty"),
                "description": "Uncertainty of the answer's numbers; absent unless the request \
                                has `uncertainty`.",
            },
            "assumptions": {
                "type": "array",
                "items": { "$ref": refer("RecordAssumption") },
                "description": "Assumptions made where the request does not say.",
            },
            "cautions": {
                "type": "array",
                "items": { "$ref": refer("RecordCaution") },
                "description":
                    "Hazards to people, machines and the environment in doing what the answer \
                     says.",
            },
        },
    })
}
