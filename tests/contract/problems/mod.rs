//! Problems that every calculation shares, over HTTP: the exact status, type and pointers of
//! each.

mod malformed;
mod numbers;
mod over_http;

use crate::server::request;
use reqwest::blocking::Response;
use serde_json::{Value, json};

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
