//! The examples in the OpenAPI document: requests, answers and problems are as shown.

use crate::server::get;
use crate::{SERVICES, spec};
use serde_json::{Value, json};
use sumpwright_openapi::flat;

/// Media types whose content is too long for an example.
const PAGES: [&str; 2] = ["text/html", "image/svg+xml"];

fn follow<'a>(spec: &'a Value, value: &'a Value) -> &'a Value {
    match value["$ref"].as_str() {
        Some(reference) => spec.pointer(&reference[1..]).expect("what is referred to"),
        None => value,
    }
}

/// Every operation, by its id.
fn operations(spec: &Value) -> Vec<(&str, &Value)> {
    let items = spec["paths"].as_object().expect("paths").values();
    let all = items.flat_map(|item| item.as_object().expect("operations").values());
    all.map(|operation| (operation["operationId"].as_str().expect("a name"), operation)).collect()
}

fn examples(content: &Value) -> Vec<&Value> {
    let several = content["examples"].as_object().into_iter().flatten();
    content
        .get("example")
        .into_iter()
        .chain(several.map(|(_, example)| &example["value"]))
        .collect()
}

#[test]
fn every_request_answer_and_problem_is_shown_by_an_example_that_fits() {
    let spec = spec();
    let mut shown = 0;
    let fits = |schema: &Value, example: &Value, place: &str| {
        let mut schema = schema.clone();
        schema["components"] = spec["components"].clone();
        let validator = jsonschema::validator_for(&schema).expect("a schema");
        let faults: Vec<String> = validator.iter_errors(example).map(|e| e.to_string()).collect();
        assert!(faults.is_empty(), "{place}: {faults:?}");
    };
    let mut check = |place: &str, content: &Value| {
        for (media_type, content) in content.as_object().into_iter().flatten() {
            let place = format!("{place} {media_type}");
            let examples = examples(content);
            let is_long = PAGES.contains(&media_type.as_str()) || place.starts_with("measure 200");
            assert!(is_long || !examples.is_empty(), "{place} has no example");
            examples.iter().for_each(|example| fits(&content["schema"], example, &place));
            shown += examples.len();
        }
    };
    for (name, operation) in operations(&spec) {
        check(name, &operation["requestBody"]["content"]);
        check(&format!("{name} 200"), &operation["responses"]["200"]["content"]);
    }
    for (name, response) in spec["components"]["responses"].as_object().expect("problems") {
        check(name, &response["content"]);
    }
    assert!(shown > 5 * SERVICES.iter().count());
}

/// The examples of the answers to a GET are what the server answers.
#[test]
fn the_text_of_an_answer_is_as_it_is_shown() {
    let spec = spec();
    for name in ["concentration", "top-up", "blend", "make-up", "sump-volume"] {
        let content = &spec["paths"][format!("/v1/{name}")]["get"]["responses"]["200"]["content"];
        let example: Value =
            serde_json::from_str(SERVICES.get(name).expect("it").example).expect("JSON");
        let mut query = form_urlencoded::Serializer::new(String::new());
        for (path, leaf) in flat::flatten(&example) {
            query.append_pair(&path, &flat::leaf_text(leaf));
        }
        let address = format!("/v1/{name}?{}", query.finish());
        let table = get(&format!("{address}&format=csv")).text().expect("a table");
        assert_eq!(content["text/csv"]["example"], table, "{name}");
        let picked = &content["text/plain"]["examples"]["picked"];
        let path = picked["summary"].as_str().and_then(|said| said.split(['`', '=']).nth(2));
        let value = get(&format!("{address}&pick={}", path.expect("a path"))).text();
        assert_eq!(picked["value"], value.expect("a value"), "{name}");
    }
}

#[test]
fn the_index_is_as_it_is_shown() {
    let shown = &spec()["paths"]["/v1"]["get"]["responses"]["200"]["content"]["application/json"];
    assert_eq!(get("/v1").json::<Value>().expect("JSON"), shown["example"]);
}

/// Every request and every answer can have a request id and a trace; every answer can have
/// a rate limit, and the two that ask to retry have the time.
#[test]
fn headers_are_told_wherever_they_go() {
    let spec = spec();
    for (name, operation) in operations(&spec) {
        let parameters = operation["parameters"].as_array().expect("parameters");
        let sent =
            parameters.iter().map(|one| follow(&spec, one)).filter(|one| one["in"] == "header");
        let names: Vec<&str> = sent.filter_map(|one| one["name"].as_str()).collect();
        assert_eq!(names, ["X-Request-Id", "traceparent"], "{name}");
        for (status, response) in operation["responses"].as_object().expect("responses") {
            let headers = follow(&spec, response)["headers"].as_object().expect("headers");
            let place = format!("{name} {status}");
            for always in ["X-Request-Id", "traceparent", "RateLimit", "RateLimit-Policy"] {
                assert!(headers.contains_key(always), "{place} without {always}");
            }
            let has = |header: &str| headers.contains_key(header);
            assert_eq!(has("Retry-After"), ["429", "503"].contains(&status.as_str()), "{place}");
            assert_eq!(has("WWW-Authenticate"), status == "401", "{place}");
            assert_eq!(has("Allow"), status == "405", "{place}");
            for (header, told) in headers {
                let told = follow(&spec, told);
                let described = told["description"].as_str().is_some_and(|text| text.len() > 10);
                assert!(described && !told["example"].is_null(), "{header}");
            }
        }
    }
}

#[test]
fn operations_have_tags_and_a_summary_and_may_be_asked_with_a_key_or_without() {
    let spec = spec();
    let tags = spec["tags"].as_array().expect("tags");
    for (name, operation) in operations(&spec) {
        let own = operation["tags"].as_array().expect("tags");
        assert!(own.len() == 1 && tags.iter().any(|tag| tag["name"] == own[0]), "{name}");
        assert!(operation["summary"].as_str().is_some_and(|text| text.len() > 4), "{name}");
        assert!(name.chars().all(char::is_alphanumeric), "{name}");
        assert!(operation.get("security").is_none(), "{name}");
    }
    assert_eq!(spec["security"], json!([{}, { "key": [] }]));
    let key = &spec["components"]["securitySchemes"]["key"];
    assert_eq!((&key["type"], &key["scheme"]), (&json!("http"), &json!("bearer")));
}
