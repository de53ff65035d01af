//! A table whose answer there is no room for.

use crate::server::request;
use crate::support::example;
use serde_json::Value;
use sumpwright_openapi::flat;
use sumpwright_openapi::table::VALUES_MOST;

/// Ten years of days a row, each with its own columns, for sixty thousand rows: how many values that makes is
/// known from the first row, and nothing else is answered.
#[test]
fn a_table_whose_rows_times_columns_are_too_many_is_refused_before_it_is_answered() {
    let mut document = example("forecast");
    document["days"] = 3660.into();
    let leaves = flat::flatten(&document).into_iter();
    let around = leaves.map(|(path, leaf)| (path, flat::leaf_text(leaf)));
    let around = around.filter(|(path, _)| !["sump.volume", "reference"].contains(&path.as_str()));
    let query = form_urlencoded::Serializer::new(String::new()).extend_pairs(around).finish();
    let sent = |rows: usize| {
        let table = format!("sump.volume\n184\n{}", "x\n".repeat(rows - 1));
        let asked = request("POST", &format!("/v1/forecast?{query}"));
        asked.header("content-type", "text/csv").body(table).send().expect("the server answers")
    };
    let refused = sent(60_000);
    assert_eq!(refused.status(), 422);
    let problem: Value = refused.json().expect("a problem");
    assert_eq!(problem["type"], "/problems/out-of-range");
    assert_eq!(problem["errors"][0]["code"], "too_many");
    let detail = problem["detail"].as_str().expect("a sentence");
    let numbers: Vec<usize> =
        detail.split(|c: char| !c.is_ascii_digit()).filter_map(|word| word.parse().ok()).collect();
    let [columns, rows, values] = numbers[..] else { panic!("{detail}") };
    assert_eq!((values, rows), (VALUES_MOST, VALUES_MOST / columns), "{detail}");
    assert!(detail.contains("columns="), "{detail}");
    // A few rows of the same are a table like any other.
    assert_eq!(sent(3).status(), 200);
}
