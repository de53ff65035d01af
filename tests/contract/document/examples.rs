//! The examples in the OpenAPI document: requests, answers and problems are as shown.

use crate::server::get;
use crate::{SERVICES, spec};
use serde_json::{Value, json};
use sumpwright_openapi::flat;

/// Media types whose content is too long for an example.
const PAGES: [&str; 3] = ["text/html", "image/svg+xml", "text/calendar"];

/// The members of a long answer are shown instead of the whole.
const ANSWERS_SHOWN: [&str; 12] = [
    "supplies",
    "condition",
    "dose",
    "water",
    "test-plan",
    "concentration",
    "blend",
    "top-up",
    "make-up",
    "separation",
    "refractometer-factor",
    "sump-volume",
];

pub(super) fn follow<'a>(spec: &'a Value, value: &'a Value) -> &'a Value {
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
    let several = several.map(|(_, example)| &example["value"]);
    content.get("example").into_iter().chain(several).collect()
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
            let is_shown = !examples.is_empty();
            // Two tests of their own look at these.
            let is_told_elsewhere =
                place.ends_with("Answered application/json") || place.starts_with("exampleOf");
            // The component has the example: a heading and a row, or a line.
            let component = content["schema"]["$ref"].as_str().unwrap_or_default();
            let is_of_many = component.ends_with("OfDocuments");
            assert!(
                is_long || is_told_elsewhere || is_of_many || is_shown,
                "{place} has no example"
            );
            examples.iter().for_each(|example| fits(&content["schema"], example, &place));
            shown += examples.len();
        }
    };
    for (name, operation) in operations(&spec) {
        check(name, &operation["requestBody"]["content"]);
        check(&format!("{name} 200"), &operation["responses"]["200"]["content"]);
    }
    for (name, response) in spec["components"]["responses"].as_object().expect("responses") {
        check(name, &response["content"]);
    }
    assert!(shown > 4 * SERVICES.iter().count());
}

#[test]
fn every_short_answer_is_shown_whole_and_every_member_of_the_others() {
    let spec = spec();
    for service in SERVICES.iter() {
        let content = answers(&spec, service.name);
        let is_shown = content["application/json"].get("example").is_some();
        assert_eq!(is_shown, ANSWERS_SHOWN.contains(&service.name), "{}", service.name);
        let record = follow(&spec, &content["application/json"]["schema"]);
        let statement = &record["properties"]["statement"]["examples"];
        assert!(statement[0].is_string(), "{}: {statement}", service.name);
    }
}

/// An example that has an address is shown once, where it is asked.
#[test]
fn an_example_at_its_address_is_the_one_that_is_shown() {
    let spec = spec();
    for service in SERVICES.iter() {
        let path = format!("/v1/{}", service.name);
        let post = &spec["paths"][&path]["post"];
        let address = format!("{path}/example");
        let shown = &post["requestBody"]["content"]["application/json"];
        assert_eq!(get(&address).json::<Value>().expect("JSON"), shown["example"]);
        let told = &spec["paths"][&address]["get"]["responses"]["200"];
        assert_eq!(told["content"]["application/json"]["schema"], shown["schema"]);
        let description = told["description"].as_str().expect("a description");
        assert!(description.contains(&format!("`POST {path}`")), "{description}");
    }
}

/// What a calculation may answer, by media type.
fn answers<'a>(spec: &'a Value, name: &str) -> &'a Value {
    let item = &spec["paths"][format!("/v1/{name}")];
    assert_eq!(item["post"]["responses"]["200"], item["get"]["responses"]["200"]);
    &follow(spec, &item["get"]["responses"]["200"])["content"]
}

/// The examples of the answers to a GET are what the server answers.
#[test]
fn the_text_of_an_answer_is_as_it_is_shown() {
    let spec = spec();
    for name in ["concentration", "top-up", "blend", "make-up", "sump-volume"] {
        let content = answers(&spec, name);
        let example: Value =
            serde_json::from_str(SERVICES.get(name).expect("it").example).expect("JSON");
        let mut query = form_urlencoded::Serializer::new(String::new());
        for (path, leaf) in flat::flatten(&example) {
            query.append_pair(&path, &flat::leaf_text(leaf));
        }
        let address = format!("/v1/{name}?{}", query.finish());
        let table = get(&format!("{address}&format=csv")).text().expect("a table");
        let begins = content["text/csv"]["examples"]["start"]["value"].as_str().expect("lines");
        assert!(begins.lines().count() > 5 && table.starts_with(begins), "{name}: {table}");
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
        let is_solved = name.starts_with("solve") || name.starts_with("ask");
        let preference = is_solved.then_some("Prefer");
        let every = ["X-Request-Id", "traceparent"];
        assert!(names.into_iter().eq(preference.into_iter().chain(every)), "{name}");
        for (status, response) in operation["responses"].as_object().expect("responses") {
            let headers = follow(&spec, response)["headers"].as_object().expect("headers");
            let place = format!("{name} {status}");
            for always in ["X-Request-Id", "traceparent", "RateLimit", "RateLimit-Policy"] {
                assert!(headers.contains_key(always), "{place} without {always}");
            }
            let has = |header: &str| headers.contains_key(header);
            assert_eq!(has("Retry-After"), ["429", "503"].contains(&status.as_str()), "{place}");
            let of_keys = ["401", "403"].contains(&status.as_str());
            assert_eq!(has("WWW-Authenticate"), of_keys, "{place}");
            assert_eq!(has("Allow"), status == "405", "{place}");
            assert_eq!(has("Preference-Applied"), is_solved && status == "200", "{place}");
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
    assert_eq!(spec["security"], json!([{}, { "key": [] }, { "key_in_address": [] }]));
    let in_address = &spec["components"]["securitySchemes"]["key_in_address"];
    let said = (&in_address["type"], &in_address["in"], &in_address["name"]);
    assert_eq!(said, (&json!("apiKey"), &json!("query"), &json!("key")));
    let key = &spec["components"]["securitySchemes"]["key"];
    assert_eq!((&key["type"], &key["scheme"]), (&json!("http"), &json!("bearer")));
}
