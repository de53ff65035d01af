//! Separations that contradict themselves, over HTTP.

use super::{refused, with_stage};
use serde_json::json;

#[test]
fn what_contradicts_itself_is_refused_all_at_once() {
    refused(|q| q["throughput"] = 0.into(), "inconsistent", &["/throughput"]);
    refused(
        |q| {
            q["separator"]["stage"]["turbulence_factor"] = 1.3.into();
            q["separator"]["particles"][1]["property"] = "tramp_oil".into();
            q["separator"]["particles"][1]["sizes"]["classes"][0]["share"] = 40.into();
            q["separator"]["particles"][0]["sizes"]["span"] = 2.into();
            q["feed"]["properties"]["tramp_oil"] = 99.into();
        },
        "inconsistent",
        &[
            "/separator/stage/turbulence_factor",
            "/separator/particles/1/property",
            "/separator/particles/1/sizes/classes",
            "/separator/particles/0/sizes/span",
            "/feed/properties/tramp_oil",
        ],
    );
    let bowl = json!({
        "kind": "tubular_centrifuge", "speed": 9000, "bowl_radius": 50, "surface_radius": 50,
        "bowl_length": 300,
    });
    let at = "/separator/stage/surface_radius";
    refused(|q| with_stage(q, bowl), "inconsistent", &[at]);
    let discs = json!({
        "kind": "disc_centrifuge", "speed": 9000, "gaps": 0, "outer_radius": 50,
        "inner_radius": 60, "half_angle": 40,
    });
    let at = ["/separator/stage/inner_radius", "/separator/stage/gaps"];
    refused(|q| with_stage(q, discs), "inconsistent", &at);
    let grades = json!([
        { "size": 10, "share": 60 }, { "size": 10, "share": 50 }, { "size": 20, "share": 90 },
    ]);
    let filter = json!({ "kind": "filter", "efficiency": 50, "grades": grades });
    let at = [
        "/separator/stage/grades",
        "/separator/stage/grades/1/size",
        "/separator/stage/grades/1/share",
    ];
    refused(|q| with_stage(q, filter), "inconsistent", &at);
}

#[test]
fn what_goes_round_must_be_something_that_can() {
    let recirculation = json!({
        "hours": 8,
        "inflows": [
            { "property": "solids", "rate": 0.01 }, { "property": "solids", "rate": 0.01 },
            { "property": "soldis", "rate": 0.01 },
        ],
    });
    let at = ["/recirculation/inflows/1/property", "/recirculation/inflows/2/property"];
    let problem = refused(|q| q["recirculation"] = recirculation.clone(), "inconsistent", &at);
    assert!(problem.to_string().contains("Did you mean \\\"solids\\\"?"), "{problem}");
    let membrane = json!({
        "kind": "ultrafiltration", "volume_concentration_factor": 10,
        "rejections": [
            { "property": "concentrate", "share": 90 }, { "property": "concentrate", "share": 90 },
            { "property": "nitrite", "share": 0 },
        ],
    });
    let at = [
        "/recirculation",
        "/separator/stage/rejections/1/property",
        "/separator/stage/rejections/2/property",
    ];
    refused(
        |q| {
            with_stage(q, membrane);
            q["recirculation"] = json!({ "hours": 8 });
        },
        "inconsistent",
        &at,
    );
    refused(
        |q| {
            q.as_object_mut().unwrap().remove("feed");
            q["recirculation"] = json!({ "hours": 8 });
        },
        "not-identifiable",
        &["/feed"],
    );
}
