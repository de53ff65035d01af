//! Separations that lack an input, or lie outside a published table, over HTTP.

use super::{refused, with_stage};
use serde_json::json;

#[test]
fn what_is_missing_is_named() {
    refused(
        |q| {
            q["separator"]["stage"].as_object_mut().unwrap().remove("depth");
            q["separator"]["particles"][0].as_object_mut().unwrap().remove("density");
            q["separator"]["particles"][1].as_object_mut().unwrap().remove("sizes");
            q["separator"]["particles"][0]["sizes"] = json!({ "by": "log_normal", "median": 60 });
        },
        "not-identifiable",
        &[
            "/separator/stage/depth",
            "/separator/particles/0/density",
            "/separator/particles/1/sizes",
            "/separator/particles/0/sizes/geometric_standard_deviation",
        ],
    );
    let at = ["/separator/stage/efficiency"];
    refused(|q| with_stage(q, json!({ "kind": "filter" })), "not-identifiable", &at);
    refused(
        |q| {
            with_stage(q, json!({ "kind": "coalescer", "efficiency": 80 }));
            q["separator"]["particles"][0].as_object_mut().unwrap().remove("density");
            let inflows = json!([{ "property": "tramp_oil", "rate": 0.1 }]);
            q["recirculation"] = json!({ "hours": 8, "inflows": inflows });
        },
        "not-identifiable",
        &["/separator/particles/0/density"],
    );
}

#[test]
fn what_no_published_table_covers_is_out_of_range() {
    let at = ["/separator/fluid/temperature"];
    refused(|q| q["separator"]["fluid"]["temperature"] = 120.into(), "out-of-range", &at);
    refused(|q| q["throughput"] = 60_000.into(), "out-of-range", &["/separator/stage/turbulence"]);
    refused(
        |q| {
            q["separator"]["stage"] = json!({ "kind": "settling", "length": 1, "width": 1 });
            q["throughput"] = 1e6.into();
        },
        "out-of-range",
        &["/separator/particles/0/density"],
    );
}

#[test]
fn a_retentate_cannot_be_fuller_than_full() {
    let membrane = json!({ "kind": "ultrafiltration", "volume_concentration_factor": 20 });
    let at = ["/separator/stage/volume_concentration_factor"];
    let problem = refused(|q| with_stage(q, membrane), "unreachable", &at);
    assert!(problem["detail"].as_str().unwrap().contains("150 % by volume"), "{problem}");
    refused(
        |q| {
            with_stage(q, json!({ "kind": "ultrafiltration", "volume_concentration_factor": 9e3 }));
            q["feed"] = json!({ "volume": 100, "properties": { "solids": 300 } });
        },
        "unreachable",
        &at,
    );
}
