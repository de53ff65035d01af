//! Every way of having no answer, over HTTP: the exact status, type and
//! pointers of each.

use crate::server::{get, header, post, request};
use reqwest::blocking::Response;
use serde_json::{Value, json};
use std::collections::BTreeSet;

/// Asserts the status, type and pointers of a problem, and that its page is there.
#[track_caller]
pub(crate) fn assert_problem(
    response: Response,
    status: u16,
    slug: &str,
    pointers: &[&str],
) -> Value {
    assert_eq!(header(&response, "content-type"), "application/problem+json");
    assert_eq!(response.status().as_u16(), status);
    let problem: Value = response.json().expect("a problem is JSON");
    assert_eq!(problem["type"], format!("/problems/{slug}"), "{problem:#}");
    assert_eq!(problem["status"], status);
    let errors = problem["errors"].as_array().cloned().unwrap_or_default();
    let found = errors.iter().filter_map(|error| error["pointer"].as_str());
    let (found, expected): (BTreeSet<_>, BTreeSet<_>) =
        (found.collect(), pointers.iter().copied().collect());
    assert_eq!(found, expected, "{problem:#}");
    assert_eq!(errors.len(), pointers.len(), "{problem:#}");
    let detail = problem["detail"].as_str().unwrap_or_default();
    assert!(detail.len() > 20 && !detail.contains("  "), "{problem:#}");
    let page = get(problem["type"].as_str().expect("an address"));
    assert_eq!(page.status(), 200);
    assert!(page.text().expect("a page").contains(problem["title"].as_str().expect("a title")));
    problem
}

fn top_up(change: impl FnOnce(&mut Value)) -> Value {
    let mut question = json!({
        "units": "metric",
        "reference": "round 12",
        "sump": { "capacity": 200, "volume": 140, "concentration": 7 },
        "target": { "concentration": 8 },
    });
    change(&mut question);
    question
}

fn posted(body: &str) -> Response {
    let json = ("content-type", "application/json");
    let request = request("POST", "/v1/top-up").header(json.0, json.1);
    request.body(body.to_owned()).send().expect("the server answers")
}

#[test]
fn what_is_not_json_is_malformed() {
    for body in ["", "{", "not json", "{\"units\":\"metric\",}", "[1,2]extra"] {
        assert_problem(posted(body), 400, "malformed", &[""]);
    }
    // Not UTF-8, and nested deeper than any question.
    let deep = format!("{}{}", "[".repeat(500), "]".repeat(500));
    assert_eq!(posted(&deep).status(), 400);
    let json = request("POST", "/v1/top-up").header("content-type", "application/json");
    assert_eq!(json.body(vec![b'"', 0xff, b'"']).send().expect("an answer").status(), 400);
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
fn two_faults_come_back_as_two() {
    let two = top_up(|question| {
        question["sump"]["volume"] = (-1).into();
        question["target"]["concentration"] = 130.into();
    });
    let pointers = ["/sump/volume", "/target/concentration"];
    let problem = assert_problem(post("/v1/top-up", &two), 422, "out-of-range", &pointers);
    assert!(problem["errors"][0]["detail"].as_str().unwrap().contains("from 0 to"), "{problem}");

    let both = top_up(|question| {
        question["sump"]["volume"] = 240.into();
        question["target"]["volume"] = 300.into();
    });
    let pointers = ["/sump/volume", "/target/volume"];
    assert_problem(post("/v1/top-up", &both), 422, "inconsistent", &pointers);
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
    // The faults of the method that was meant, and of no other.
    let faulty = reading(json!({ "method": "refractometer", "brix": -1, "facto": 1, "factor": 1 }));
    let pointers = ["/reading/brix", "/reading/facto"];
    assert_problem(post("/v1/concentration", &faulty), 400, "malformed", &pointers);
}

#[test]
fn a_number_that_cannot_be_is_out_of_range() {
    let too_strong = top_up(|q| q["target"]["concentration"] = 130.into());
    let problem = post("/v1/top-up", &too_strong);
    assert_problem(problem, 422, "out-of-range", &["/target/concentration"]);
    // More than a number can be, in JSON and in an address.
    let infinite = "{\"units\":\"metric\",\"sump\":{\"capacity\":1e999}}";
    assert_problem(posted(infinite), 422, "out-of-range", &["/sump/capacity"]);
    let address = "/v1/top-up?units=us&sump.capacity=NaN&sump.volume=1&target.concentration=5";
    assert_problem(get(address), 422, "out-of-range", &["/sump/capacity"]);
    // Past the exact bound in the units of the request, though not in the others'.
    let too_big = top_up(|question| {
        question["units"] = "us".into();
        question["sump"]["capacity"] = 3e8.into();
    });
    let problem =
        assert_problem(post("/v1/top-up", &too_big), 422, "out-of-range", &["/sump/capacity"]);
    assert!(problem["detail"].as_str().unwrap().contains("US gal"), "{problem}");
}

#[test]
fn a_temperature_outside_the_table_is_out_of_range() {
    let reading = json!({ "method": "refractometer", "brix": 5, "factor": 1, "temperature": 31 });
    let hot = json!({ "units": "metric", "reading": reading });
    let problem = post("/v1/concentration", &hot);
    assert_problem(problem, 422, "out-of-range", &["/reading/temperature"]);
}

#[test]
fn a_reading_that_stands_for_more_than_everything_is_inconsistent() {
    let reading = json!({ "method": "refractometer", "brix": 60, "factor": 2 });
    let problem = post("/v1/concentration", &json!({ "units": "us", "reading": reading }));
    assert_problem(problem, 422, "inconsistent", &["/reading"]);
}

#[test]
fn members_that_contradict_each_other_are_inconsistent() {
    let overfull = top_up(|q| q["sump"]["volume"] = 240.into());
    let problem =
        assert_problem(post("/v1/top-up", &overfull), 422, "inconsistent", &["/sump/volume"]);
    assert!(problem["detail"].as_str().unwrap().contains("240 L"), "{problem}");

    let twice = top_up(|question| {
        let reading = json!({ "method": "refractometer", "brix": 5, "factor": 1 });
        question["sump"]["reading"] = reading;
    });
    assert_problem(post("/v1/top-up", &twice), 422, "inconsistent", &["/sump/reading"]);

    let band = json!({
        "units": "metric",
        "reading": { "method": "refractometer", "brix": 5, "factor": 1 },
        "band": { "low": 8, "target": 6, "high": 5 },
    });
    let pointers = ["/band/low", "/band/high"];
    assert_problem(post("/v1/concentration", &band), 422, "inconsistent", &pointers);

    let names = json!({
        "units": "metric",
        "target": { "volume": 10, "concentration": 5 },
        "stocks": [
            { "name": "water", "concentration": 0, "properties": { "tramp_oil": 101 } },
            { "name": "water", "concentration": 100 },
        ],
        "goal": { "most_of": "wter" },
    });
    assert_problem(
        post("/v1/blend", &names),
        422,
        "out-of-range",
        &["/stocks/0/properties/tramp_oil"],
    );
    let mut names = names;
    names["stocks"][0]["properties"]["tramp_oil"] = 1.into();
    names["stocks"][1]["properties"] = json!({ "tramp_oil": 0.5 });
    names["limits"] = json!({ "tramp_oil": { "min": 2, "max": 1 } });
    let pointers = [
        "/stocks/1/name",
        "/stocks/1/properties/tramp_oil",
        "/goal/most_of",
        "/limits/tramp_oil/min",
    ];
    let problem = assert_problem(post("/v1/blend", &names), 422, "inconsistent", &pointers);
    assert!(problem["errors"][2]["detail"].as_str().unwrap().contains("\"water\""), "{problem}");
}

#[test]
fn a_sump_that_may_not_be_drained_cannot_hold_less() {
    let less = top_up(|question| {
        question["target"]["volume"] = 100.into();
        question["draining"] = "not_allowed".into();
    });
    assert_problem(post("/v1/top-up", &less), 422, "inconsistent", &["/target/volume"]);
}

#[test]
fn what_no_batch_does_is_unreachable_and_says_what_can_be_reached() {
    let weak = top_up(|question| {
        question["stocks"] = json!([
            { "name": "premix", "concentration": 5 },
            { "name": "water", "concentration": 0 },
        ]);
    });
    let problem =
        assert_problem(post("/v1/top-up", &weak), 422, "unreachable", &["/target/concentration"]);
    // 140 L at 7 % and 60 L at 5 % are 200 L at 6.4 %.
    let high = problem["reachable"]["concentration"]["high"].as_f64().unwrap();
    assert!((high - 6.4).abs() < 1e-12, "{problem}");

    let short = json!({
        "units": "us",
        "target": { "volume": 100, "concentration": 6 },
        "stocks": [
            { "name": "concentrate", "concentration": 100, "volume": 3 },
            { "name": "water", "concentration": 0 },
        ],
    });
    let problem =
        assert_problem(post("/v1/blend", &short), 422, "unreachable", &["/target/concentration"]);
    // Three gallons of concentrate in a hundred, or in fifty at 6 %.
    let reachable = &problem["reachable"];
    assert!((reachable["concentration"]["high"].as_f64().unwrap() - 3.0).abs() < 1e-9, "{problem}");
    assert!((reachable["volume"]["high"].as_f64().unwrap() - 50.0).abs() < 1e-6, "{problem}");

    let empty = top_up(|question| {
        question["stocks"] = json!([{ "name": "premix", "concentration": 9, "volume": 10 }]);
    });
    let problem =
        assert_problem(post("/v1/top-up", &empty), 422, "unreachable", &["/target/volume"]);
    assert_eq!(problem["reachable"]["volume"]["high"], 150.0);
}

#[test]
fn a_limit_that_cannot_be_kept_is_named_with_what_can() {
    let hard = json!({
        "units": "metric",
        "target": { "volume": 100, "concentration": 5 },
        "stocks": [
            { "name": "concentrate", "concentration": 100 },
            { "name": "tap", "concentration": 0, "properties": { "hardness": 200 } },
            { "name": "well", "concentration": 0, "properties": { "hardness": 300 } },
        ],
        "limits": { "hardness": { "max": 100 } },
    });
    let problem =
        assert_problem(post("/v1/blend", &hard), 422, "unreachable", &["/limits/hardness/max"]);
    // 95 % of tap water at 200 mg/L.
    assert!(problem["detail"].as_str().unwrap().contains("190 mg/L"), "{problem}");
}

#[test]
fn what_the_data_cannot_tell_is_not_identifiable() {
    let unknown = top_up(|question| {
        question["sump"].as_object_mut().unwrap().remove("concentration");
    });
    let problem = post("/v1/top-up", &unknown);
    assert_problem(problem, 422, "not-identifiable", &["/sump/concentration"]);

    let limit = json!({
        "units": "metric",
        "target": { "volume": 100, "concentration": 5 },
        "stocks": [
            { "name": "concentrate", "concentration": 100 },
            { "name": "tap", "concentration": 0, "properties": { "hardness": 200 } },
        ],
        "limits": { "hardnes": { "max": 100 } },
    });
    let problem =
        assert_problem(post("/v1/blend", &limit), 422, "not-identifiable", &["/limits/hardnes"]);
    assert!(problem["detail"].as_str().unwrap().contains("\"hardness\"?"), "{problem}");

    let oil_free =
        json!({ "method": "acid_split", "sample_ml": 100, "split_ml": 3, "oil_share": 0 });
    let problem = post("/v1/concentration", &json!({ "units": "metric", "reading": oil_free }));
    assert_problem(problem, 422, "not-identifiable", &["/reading/oil_share"]);
}

/// Strengths from 3e-9 to 32 % in one batch of half a millilitre: the solver finds
/// something and cannot prove it. A doubtful batch is not given.
#[test]
fn what_cannot_be_proven_is_not_answered() {
    let scattered = json!({
        "units": "metric",
        "target": { "volume": 0.0006100439832538113, "concentration": 3.459673207621699e-8 },
        "stocks": [
            {
                "name": "s0", "concentration": 5.362847546651545e-7,
                "unit_cost": 1.301939172275613e-13,
                "properties": { "hardness": 1.5107478816125555e-10 }
            },
            {
                "name": "s1", "concentration": 2.960323840852148e-9,
                "unit_cost": 1176.6970857103042,
                "properties": { "hardness": 4.211689867150001e-5 }
            },
            {
                "name": "s2", "concentration": 31.99437766263627, "volume": 688.8986643925072,
                "unit_cost": 2.7327149302529197,
                "properties": { "hardness": 6.362616614945418e-6 }
            },
        ],
        "limits": { "hardness": { "max": 3089.737983956424 } },
    });
    assert_problem(post("/v1/blend", &scattered), 422, "unproven", &["/stocks"]);
}

#[test]
fn what_is_not_there_is_not_found() {
    let problem = assert_problem(get("/v1/topup"), 404, "not-found", &[]);
    assert!(problem["detail"].as_str().unwrap().contains("\"top-up\"?"), "{problem}");
    assert_problem(get("/v2"), 404, "not-found", &[]);
    assert_problem(get("/problems/nothing"), 404, "not-found", &[]);
    assert_problem(get("/v1/topup/example"), 404, "not-found", &[]);
}

#[test]
fn the_wrong_method_is_told_the_right_ones() {
    for (path, allowed) in
        [("/v1/top-up", "GET, HEAD, OPTIONS, POST"), ("/v1", "GET, HEAD, OPTIONS")]
    {
        let response = request("PUT", path).send().expect("an answer");
        assert_eq!(header(&response, "allow"), allowed);
        assert_problem(response, 405, "method-not-allowed", &[]);
    }
}

#[test]
fn what_cannot_be_answered_in_is_not_acceptable() {
    let question = top_up(|_| {});
    let response = request("POST", "/v1/top-up").header("accept", "image/png").json(&question);
    assert_problem(response.send().expect("an answer"), 406, "not-acceptable", &[]);
    let response = request("GET", "/v1/top-up?units=us").header("accept", "image/png");
    assert_problem(response.send().expect("an answer"), 406, "not-acceptable", &[]);
}

#[test]
fn what_is_too_large_is_refused_with_the_limit() {
    let long = format!("{{\"units\":\"metric\",\"reference\":\"{}\"}}", "x".repeat(9 << 20));
    let problem = assert_problem(posted(&long), 413, "too-large", &[]);
    assert!(problem["detail"].as_str().unwrap().contains("8 MiB"), "{problem}");
}

#[test]
fn a_list_that_is_too_long_is_refused_with_the_limit() {
    let stocks: Vec<Value> =
        (0..20_001).map(|i| json!({ "name": format!("stock {i}"), "concentration": 5 })).collect();
    let question = json!({
        "units": "metric",
        "target": { "volume": 100, "concentration": 5 },
        "stocks": stocks,
    });
    let problem = assert_problem(post("/v1/blend", &question), 422, "out-of-range", &["/stocks"]);
    assert!(problem["detail"].as_str().unwrap().contains("20000"), "{problem}");
}

#[test]
fn what_is_not_understood_is_refused() {
    let wrong = [("content-type", "application/xml"), ("content-encoding", "gzip")];
    for (name, value) in wrong {
        let mut request = request("POST", "/v1/top-up").header(name, value);
        if name == "content-encoding" {
            request = request.header("content-type", "application/json");
        }
        let response = request.body("{}").send().expect("an answer");
        assert_problem(response, 415, "unsupported-media-type", &[]);
    }
}
