//! Every kind of break is found, at its place.

use super::edits::{at, member, parameter, remove, require, schema};
use super::schemas::Break;
use super::{breaks_after, operations};
use crate::spec;
use serde_json::{Value, json};

const TOP_UP: &str = "/paths/~1v1~1top-up/post";
const ASKED: &str = "/paths/~1v1~1top-up/get";
const ANSWERED: &str = "/components/responses/TopUpAnswered";
const SUMP: &str = "POST /v1/top-up, request application/json/sump";
const ANSWER: &str = "POST /v1/top-up, 200 application/json/answer";

/// Asserts that a change breaks the contract at `place`, and everywhere in the
/// same way.
#[track_caller]
fn assert_breaks(place: &str, what: &str, change: impl FnOnce(&mut Value)) {
    assert_found(place, what, &breaks_after(change));
}

#[track_caller]
fn assert_found(place: &str, what: &str, breaks: &[Break]) {
    let said: Vec<String> = breaks.iter().map(ToString::to_string).collect();
    let expected = format!("{place}: {what}");
    assert!(said.contains(&expected), "{expected}\nis not among\n{}", said.join("\n"));
    let others: Vec<&Break> = breaks.iter().filter(|found| found.what != what).collect();
    assert!(others.is_empty(), "{others:?} were found, too");
}

#[test]
fn an_operation_is_gone_or_called_otherwise() {
    assert_breaks("GET /v1", "the operation is gone", |spec| remove(&mut spec["paths"], "/v1"));
    assert_breaks("POST /v1/top-up", "the operation is gone", |spec| {
        remove(at(spec, "/paths/~1v1~1top-up"), "post");
    });
    assert_breaks("POST /v1/top-up", "the operationId is not what it was", |spec| {
        at(spec, TOP_UP)["operationId"] = "topUp".into();
    });
}

#[test]
fn a_parameter_is_gone_or_newly_required_or_narrower() {
    assert_breaks("GET /v1/top-up, query digits", "the parameter is gone", |spec| {
        remove(&mut at(spec, ASKED)["parameters"], "digits");
    });
    assert_breaks("GET /v1/top-up, query pick", "it is newly required", |spec| {
        parameter(spec, ASKED, "pick")["required"] = true.into();
    });
    assert_breaks("GET /v1/top-up, query digits", "maximum is narrower", |spec| {
        parameter(spec, ASKED, "digits")["schema"]["maximum"] = 9.into();
    });
    let blank = "it may no longer be blank";
    assert_breaks("GET /v1/top-up, query draining", blank, |spec| {
        remove(parameter(spec, ASKED, "draining"), "allowEmptyValue");
    });
    let kind = "x-quantity is not what it was";
    assert_breaks("GET /v1/top-up, query sump.volume", kind, |spec| {
        parameter(spec, ASKED, "sump.volume")["schema"]["x-quantity"] = "Mass".into();
    });
    assert_breaks("GET /v1/top-up, query shift", "it is newly required", |spec| {
        let shift = json!({ "name": "shift", "in": "query", "required": true, "schema": {} });
        at(spec, ASKED)["parameters"].as_array_mut().expect("parameters").push(shift);
    });
    assert_breaks("GET /v1, header X-Request-Id", "it is newly required", |spec| {
        at(spec, "/components/parameters/RequestId")["required"] = true.into();
    });
}

#[test]
fn a_member_of_a_request_is_gone_or_newly_required() {
    assert_breaks(&format!("{SUMP}/reading"), "the member is gone", |spec| {
        remove(at(spec, "/components/schemas/MachineSump/properties"), "reading");
    });
    assert_breaks(&format!("{SUMP}/reading"), "it is newly required", |spec| {
        require(schema(spec, "MachineSump"), "reading");
    });
    assert_breaks(&format!("{SUMP}/shift"), "it is newly required", |spec| {
        let sump = schema(spec, "MachineSump");
        sump["properties"]["shift"] = json!({ "type": "string" });
        require(sump, "shift");
    });
}

#[test]
fn a_request_takes_fewer_types_or_words() {
    assert_breaks(&format!("{SUMP}/volume"), "number is no longer taken", |spec| {
        member(spec, "MachineSump", "volume")["type"] = "integer".into();
    });
    assert_breaks(&format!("{SUMP}/concentration"), "null is no longer taken", |spec| {
        member(spec, "MachineSump", "concentration")["type"] = "number".into();
    });
    let us = "the word \"us\" is no longer taken";
    assert_breaks("POST /v1/top-up, request application/json/units", us, |spec| {
        remove(&mut schema(spec, "UnitSystem")["enum"], "us");
    });
    let free = "only some words are taken now";
    assert_breaks("POST /v1/top-up, request application/json/reference", free, |spec| {
        member(spec, "TopUpQuestion", "reference")["enum"] = json!(["a", "b"]);
    });
    let refractometer = "object with method \"refractometer\" is no longer taken";
    assert_breaks(&format!("{SUMP}/reading"), refractometer, |spec| {
        member(spec, "RefractometerReading", "method")["enum"] = json!(["brix"]);
    });
    assert_breaks(&format!("{SUMP}/reading"), refractometer, |spec| {
        schema(spec, "StrengthReading")["oneOf"].as_array_mut().expect("branches").remove(0);
    });
}

#[test]
fn a_request_takes_a_narrower_range_or_a_shorter_text_or_list() {
    let volume = format!("{SUMP}/volume");
    assert_breaks(&volume, "maximum is narrower", |spec| {
        member(spec, "MachineSump", "volume")["maximum"] = 1000.into();
    });
    assert_breaks(&volume, "minimum is narrower", |spec| {
        member(spec, "MachineSump", "volume")["minimum"] = 1.into();
    });
    assert_breaks(&volume, "minimum is narrower", |spec| {
        let volume = member(spec, "MachineSump", "volume");
        remove(volume, "minimum");
        volume["exclusiveMinimum"] = 0.into();
    });
    let request = "POST /v1/top-up, request application/json";
    assert_breaks(&format!("{request}/reference"), "maxLength is narrower", |spec| {
        member(spec, "TopUpQuestion", "reference")["maxLength"] = 127.into();
    });
    assert_breaks(&format!("{request}/stocks[]/name"), "minLength is narrower", |spec| {
        member(spec, "FluidStock", "name")["minLength"] = 2.into();
    });
    assert_breaks(&format!("{request}/stocks"), "maxItems is narrower", |spec| {
        member(spec, "TopUpQuestion", "stocks")["maxItems"] = 100.into();
    });
    let name = format!("{request}/stocks[]/properties/{{name}} itself");
    assert_breaks(&name, "pattern is not what it was", |spec| {
        schema(spec, "ContentByProperty")["propertyNames"]["pattern"] = "^[a-z]+$".into();
    });
}

#[test]
fn a_request_takes_no_names_of_the_callers_own_any_more() {
    let limits = "POST /v1/blend, request application/json/limits/{name}";
    assert_breaks(limits, "names of the caller's own are no longer taken", |spec| {
        schema(spec, "ContentLimitByProperty")["additionalProperties"] = false.into();
    });
    assert_breaks(limits, "object is no longer taken", |spec| {
        schema(spec, "ContentLimitByProperty")["additionalProperties"] =
            json!({ "type": ["number", "null"] });
    });
}

#[test]
fn a_unit_is_another() {
    assert_breaks("x-quantity Volume", "the unit is not what it was", |spec| {
        at(spec, "/x-quantities/Volume")["us"] = "[gal_br]".into();
    });
    assert_breaks(&format!("{SUMP}/volume"), "x-quantity is not what it was", |spec| {
        remove(member(spec, "MachineSump", "volume"), "x-quantity");
    });
    assert_breaks(&format!("{ANSWER}/drain"), "x-quantity is not what it was", |spec| {
        member(spec, "TopUpAnswer", "drain")["x-quantity"] = "Mass".into();
    });
}

#[test]
fn a_member_of_an_answer_is_gone_or_not_always_there() {
    let mark = format!("{ANSWER}/steps[]/mark");
    assert_breaks(&mark, "the member is gone", |spec| {
        remove(at(spec, "/components/schemas/TopUpStep/properties"), "mark");
    });
    assert_breaks(&format!("{ANSWER}/drain"), "it is no longer always there", |spec| {
        remove(&mut schema(spec, "TopUpAnswer")["required"], "drain");
    });
    let problem = "POST /v1/top-up, 422 application/problem+json";
    assert_breaks(&format!("{problem}/reachable"), "the member is gone", |spec| {
        remove(at(spec, "/components/schemas/Problem/properties"), "reachable");
    });
    let numbers = "POST /v1/top-up, 200 application/json/uncertainty/numbers/{name}";
    assert_breaks(numbers, "names of the caller's own are gone", |spec| {
        member(spec, "AnswerUncertainty", "numbers")["additionalProperties"] = false.into();
    });
    assert_breaks(numbers, "it may be anything now", |spec| {
        remove(member(spec, "AnswerUncertainty", "numbers"), "additionalProperties");
    });
}

#[test]
fn an_answer_holds_what_was_not_promised() {
    let step = |name: &str| format!("{ANSWER}/steps[]/{name}");
    assert_breaks(&step("text"), "integer may come now", |spec| {
        member(spec, "TopUpStep", "text")["type"] = "integer".into();
    });
    assert_breaks(&step("mark"), "null may come now", |spec| {
        member(spec, "TopUpStep", "mark")["type"] = json!(["number", "null"]);
    });
    assert_breaks(&step("action"), "the word \"shake\" may come now", |spec| {
        schema(spec, "TopUpAction")["enum"].as_array_mut().expect("words").push("shake".into());
    });
    assert_breaks(&step("action"), "any word may come now", |spec| {
        remove(schema(spec, "TopUpAction"), "enum");
    });
    assert_breaks(&format!("{ANSWER}/drain"), "maximum is wider", |spec| {
        member(spec, "TopUpAnswer", "drain")["maximum"] = 1e300.into();
    });
    let entries = format!("{ANSWER}/steps[]");
    assert_breaks(&entries, "entries may be anything now", |spec| {
        remove(member(spec, "TopUpAnswer", "steps"), "items");
    });
    let bound = "POST /v1/blend, 200 application/json/answer/binding[]";
    assert_breaks(bound, "object with worth_in \"tank\" may come now", |spec| {
        let tank = json!({ "type": "object", "properties": { "worth_in": { "enum": ["tank"] } } });
        schema(spec, "BindingConstraint")["oneOf"].as_array_mut().expect("branches").push(tank);
    });
}

#[test]
fn a_media_type_or_a_status_or_a_header_is_gone() {
    assert_breaks("POST /v1/top-up, request application/json", "the media type is gone", |spec| {
        remove(at(spec, &format!("{TOP_UP}/requestBody/content")), "application/json");
    });
    assert_breaks("GET /v1/top-up, 200 text/csv", "the media type is gone", |spec| {
        remove(&mut at(spec, ANSWERED)["content"], "text/csv");
    });
    assert_breaks("POST /v1/top-up, 429", "the status is gone", |spec| {
        remove(at(spec, &format!("{TOP_UP}/responses")), "429");
    });
    assert_breaks("POST /v1/top-up, 429, header Retry-After", "the header is gone", |spec| {
        remove(at(spec, "/components/responses/Problem429/headers"), "Retry-After");
    });
}

#[test]
fn a_key_or_a_body_is_newly_required() {
    assert_breaks("POST /v1/top-up", "a key is newly required", |spec| {
        spec["security"] = json!([{ "key": [] }, { "key_in_address": [] }]);
    });
    assert_breaks("POST /v1/top-up", "a key is newly required", |spec| {
        at(spec, TOP_UP)["security"] = json!([{ "key": [] }, { "key_in_address": [] }]);
    });
    let mut released = spec();
    released["security"] = json!([{ "key": [] }]);
    at(&mut released, TOP_UP)["requestBody"]["required"] = false.into();
    let mut now = released.clone();
    at(&mut now, TOP_UP)["requestBody"]["required"] = true.into();
    let breaks = operations::breaks(&released, &now);
    assert_found("POST /v1/top-up, request", "a body is newly required", &breaks);
    let mut now = released.clone();
    at(&mut now, "/components/securitySchemes/key")["scheme"] = "basic".into();
    let breaks = operations::breaks(&released, &now);
    assert_found("POST /v1/top-up", "the key is not what it was", &breaks);
}
