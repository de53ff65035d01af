//! Readings that are refused, over HTTP.

use crate::assert_problem;
use crate::server::post;
use serde_json::json;

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
fn a_band_that_contradicts_itself_is_inconsistent() {
    let band = json!({
        "units": "metric",
        "reading": { "method": "refractometer", "brix": 5, "factor": 1 },
        "band": { "low": 8, "target": 6, "high": 5 },
    });
    let pointers = ["/band/low", "/band/high"];
    assert_problem(post("/v1/concentration", &band), 422, "inconsistent", &pointers);
}

#[test]
fn a_split_of_oil_free_fluid_is_not_identifiable() {
    let oil_free =
        json!({ "method": "acid_split", "sample_ml": 100, "split_ml": 3, "oil_share": 0 });
    let problem = post("/v1/concentration", &json!({ "units": "metric", "reading": oil_free }));
    assert_problem(problem, 422, "not-identifiable", &["/reading/oil_share"]);
}
