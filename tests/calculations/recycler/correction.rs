//! The correction that brings recovered fluid to its target, and how to pour it.

use super::{batch, example};
use crate::assert_problem;
use crate::server::post;
use crate::support::units::in_us_units;
use crate::{assert_near, number, service, solve};
use serde_json::{Value, json};

/// Lean fluid with a target.
fn lean(change: impl FnOnce(&mut Value)) -> Value {
    batch(|question| {
        question["target"] = json!({ "concentration": 8 });
        change(question);
    })
}

fn finding<'a>(record: &'a Value, code: &str) -> Option<&'a Value> {
    record["findings"].as_array()?.iter().find(|finding| finding["code"] == code)
}

/// A still tank takes concentrate as a premix of at most 20 %, and therefore a larger
/// volume. By hand, for R litres at c: A = R·(8 − c)/(20 − 8).
#[test]
fn a_still_tank_is_corrected_with_a_premix() {
    let still = lean(|question| question["target"]["mixing"] = "still_tank".into());
    let record = solve("recycler", &still).expect("it is answered");
    let (r, c) = (
        number(&record, "/answer/recovered/volume"),
        number(&record, "/answer/recovered/concentration"),
    );
    let premix = &record["answer"]["correction"]["premix"];
    assert_near(number(premix, "/concentration"), 20.0, 1e-6);
    assert_near(number(premix, "/volume"), r * (8.0 - c) / 12.0, 1e-6 * r);
    assert_near(
        number(&record, "/answer/correction/batch/volume"),
        r + number(premix, "/volume"),
        1e-6 * r,
    );
    assert_near(number(&record, "/answer/correction/batch/concentration"), 8.0, 1e-9);

    // A stirred tank takes it neat, A = R·(8 − c)/(100 − 8), and names no premix.
    let stirred = lean(|question| question["target"]["mixing"] = "stirred_tank".into());
    let record = solve("recycler", &stirred).expect("it is answered");
    assert!(record["answer"]["correction"].get("premix").is_none());
    assert_near(
        number(&record, "/answer/correction/batch/volume"),
        r + r * (8.0 - c) / 92.0,
        1e-6 * r,
    );

    // By default a batch that passes through once is in a still tank.
    let unsaid = solve("recycler", &lean(|_| {})).expect("it is answered");
    assert_near(number(&unsaid, "/answer/correction/premix/concentration"), 20.0, 1e-6);
    assert!(unsaid["assumptions"].to_string().contains("stand still"));
}

/// Without water no premix can be made, and the refusal says what would do.
#[test]
fn a_still_tank_without_water_has_no_correction() {
    let question = lean(|question| {
        question["stocks"] = json!([{ "name": "concentrate", "concentration": 100 }]);
    });
    let problem =
        assert_problem(post("/v1/recycler", &question), 422, "unreachable", &["/target/mixing"]);
    let detail = problem["errors"][0]["detail"].as_str().expect("a detail");
    assert!(detail.contains("Add water") && !detail.contains("strength of the premix"), "{detail}");
}

/// A batch that grows by more than a tenth names both volumes, in the caller's units,
/// and outgrows a clean tank that is too small.
#[test]
fn a_batch_that_grows_says_so() {
    let thinned = batch(|question| {
        question["feed"]["emulsified_share"] = 60.into();
        question["target"]["limits"]["tramp_oil"] = json!({ "max": 0.8 });
    });
    for question in [in_us_units(service("recycler"), &thinned), thinned] {
        let record = solve("recycler", &question).expect("it is answered");
        let grows = finding(&record, "batch-grows").expect("a finding");
        let text = grows["text"].as_str().expect("a text");
        for pointer in ["/answer/recovered/volume", "/answer/correction/batch/volume"] {
            let volume = number(&record, pointer);
            let shown = format!("{volume:.0}");
            assert!(text.contains(&shown[..2]), "{shown} in {text}");
        }
    }
    let mut small = example();
    small["target"]["limits"]["tramp_oil"]["max"] = 0.2.into();
    let record = solve("recycler", &small).expect("it is answered");
    assert_eq!(finding(&record, "batch-outgrows-its-tank").expect("one")["severity"], "act");

    let on_target = solve(
        "recycler",
        &batch(|question| {
            question["target"] = json!({ "concentration": 6 });
        }),
    );
    let record = on_target.expect("it is answered");
    assert_eq!(finding(&record, "batch-grows"), None);
}
