//! Malformed documents are refused at the exact place of the fault.

use super::{posted, top_up};
use crate::assert_problem;
use crate::server::{post, request};
use serde_json::{Value, json};

#[test]
fn what_is_not_json_is_malformed() {
    for body in ["", "{", "not json", "{\"units\":\"metric\",}", "[1,2]extra"] {
        assert_problem(posted(body), 400, "malformed", &[""]);
    }
    // Not UTF-8.
    let json = request("POST", "/v1/top-up").header("content-type", "application/json");
    assert_eq!(json.body(vec![b'"', 0xff, b'"']).send().expect("an answer").status(), 400);
}

/// It is JSON, and what is wrong with it is something else.
#[test]
fn what_lies_too_deep_is_told_so() {
    let lists = format!("{}1{}", "[".repeat(200), "]".repeat(200));
    let objects = format!("{}1{}", r#"{"a":"#.repeat(200), "}".repeat(200));
    for deep in [lists.clone(), objects, format!(r#"{{"units":"metric","sump":{lists}}}"#)] {
        let problem = assert_problem(posted(&deep), 400, "malformed", &[""]);
        assert_eq!(problem["errors"][0]["code"], "wrong_shape", "{problem}");
        let detail = problem["detail"].as_str().expect("a sentence");
        assert!(detail.contains("deeper than 128 levels"), "{detail}");
    }
}

/// As Windows editors save a file.
#[test]
fn a_byte_order_mark_before_a_document_is_taken() {
    let question = top_up(|_| {});
    let marked = format!("\u{feff}{question}");
    let answers = [posted(&marked), post("/v1/top-up", &question)].map(|response| {
        assert_eq!(response.status(), 200);
        response.text().expect("text")
    });
    assert_eq!(answers[0], answers[1]);
}

#[test]
fn a_wrong_type_is_malformed_at_its_place() {
    let text = post("/v1/top-up", &top_up(|q| q["sump"]["volume"] = "140 L".into()));
    let problem = assert_problem(text, 400, "malformed", &["/sump/volume"]);
    assert!(problem["detail"].as_str().unwrap().contains("without a unit"), "{problem}");
    assert_eq!(problem["reference"], "round 12");
    // serde reads a list in place of an object; this service does not.
    let list = post("/v1/top-up", &top_up(|q| q["target"] = json!([8])));
    assert_problem(list, 400, "malformed", &["/target"]);
    let whole = post("/v1/top-up", &json!([1]));
    assert_problem(whole, 400, "malformed", &[""]);
}

#[test]
fn a_missing_member_is_named() {
    let missing = post("/v1/top-up", &json!({ "sump": { "capacity": 200 } }));
    assert_problem(missing, 400, "malformed", &["/sump/volume", "/units", "/target"]);
}

#[test]
fn a_misspelt_member_is_refused_with_the_right_name() {
    let misspelt = top_up(|question| {
        question["sump"]["concentraton"] = 7.into();
        question["sump"].as_object_mut().unwrap().remove("concentration");
    });
    let problem =
        assert_problem(post("/v1/top-up", &misspelt), 400, "malformed", &["/sump/concentraton"]);
    assert!(problem["detail"].as_str().unwrap().contains("\"concentration\""), "{problem}");
}

#[test]
fn a_member_given_twice_is_refused() {
    let twice = "{\"units\":\"metric\",\"units\":\"us\"}";
    assert_problem(posted(twice), 400, "malformed", &["/units"]);
}

#[test]
fn an_unknown_reading_is_refused_with_the_methods_there_are() {
    let reading = |reading: Value| json!({ "units": "metric", "reading": reading });
    let unknown = reading(json!({ "method": "refractometr", "brix": 5, "factor": 1 }));
    let problem =
        assert_problem(post("/v1/concentration", &unknown), 400, "malformed", &["/reading/method"]);
    assert!(problem["detail"].as_str().unwrap().contains("\"refractometer\"?"), "{problem}");
    let unsaid = reading(json!({ "brix": 5, "factor": 1 }));
    assert_problem(post("/v1/concentration", &unsaid), 400, "malformed", &["/reading/method"]);
    // Only the faults of the intended method.
    let faulty = reading(json!({ "method": "refractometer", "brix": -1, "facto": 1, "factor": 1 }));
    let pointers = ["/reading/brix", "/reading/facto"];
    assert_problem(post("/v1/concentration", &faulty), 400, "malformed", &pointers);
}
