//! The schemas of what stands around a question and around an answer.

use super::components::{Components, refer};
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
            "unit_codes": {
                "$ref": refer("UnitCodesByPointer"),
                "description": "Codes of the units, on request.",
            },
            "digests": { "$ref": refer("RecordDigests"), "description": "Digests, on request." },
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

/// Numbers of a record that have a unit: of an answer of 16 MiB there cannot be more.
const UNIT_CODES_MOST: usize = 4_000_000;

/// What the members of a record refer to that are only there on request.
pub(super) fn on_request() -> Components {
    let text = |description: &str, example: &str| json!({ "type": "string", "description": description, "examples": [example] });
    let codes = json!({
        "type": "object",
        "description": "The codes of a number's unit, and its kind.",
        "properties": {
            "ucum": text("Code of UCUM, if it has one.", "L"),
            "rec20": text("Code of UN/ECE Recommendation 20, if it has one.", "LTR"),
            "quantity": text("Kind of quantity, as in `x-quantities`.", "Volume"),
        },
    });
    let by_pointer = json!({
        "type": "object",
        "description": "Only where the query has `include=units`: the units of the record's numbers, by their \
                        JSON pointers.",
        "additionalProperties": { "$ref": refer("UnitCodes") },
        "maxProperties": UNIT_CODES_MOST,
    });
    let digests = json!({
        "type": "object",
        "description": "Only where the query has `include=digests`: what a record is filed by, beside the digest of its bytes in Content-Digest (RFC 9530).",
        "required": ["question", "service"],
        "properties": {
            "question": text(
                "SHA-256 of the question's canonical form (RFC 8785), as RFC 9530 writes a digest.",
                "sha-256=:RK/0qy18MlBSVnWgjwz6lZEWjP/lF5HF9bvEF8FabDg=:",
            ),
            "service": text(
                "Version of the service that answered, with the commit it was built from where that is known.",
                "0.2.0+c7b8e5b",
            ),
        },
    });
    Components::from_iter([
        ("UnitCodes".to_owned(), codes),
        ("UnitCodesByPointer".to_owned(), by_pointer),
        ("RecordDigests".to_owned(), digests),
    ])
}
