//! Requests for an uncertainty that are refused.

use super::{sure_top_up, top_up, uncertain};
use crate::assert_problem;
use crate::server::{get, post};
use crate::support::example;
use crate::{service, solve};
use serde_json::{Map, Value, json};

fn with(uncertainty: Value) -> Value {
    let mut question = top_up();
    question["uncertainty"] = uncertainty;
    question
}

#[test]
fn what_cannot_be_uncertain_is_refused_at_its_place() {
    let refused = |inputs: Value, slug: &str, pointers: &[&str]| {
        let question = with(json!({ "inputs": inputs }));
        assert_problem(post("/v1/top-up", &question), 422, slug, pointers)
    };
    let near = refused(
        json!({ "/sump/volum": { "u": 1 } }),
        "inconsistent",
        &["/uncertainty/inputs/~1sump~1volum"],
    );
    assert!(near["detail"].as_str().unwrap().contains("Did you mean \"/sump/volume\"?"), "{near}");
    let dotted = refused(
        json!({ "sump.volume": { "u": 1 } }),
        "inconsistent",
        &["/uncertainty/inputs/sump.volume"],
    );
    assert!(dotted["detail"].as_str().unwrap().contains("\"/sump/volume\""), "{dotted}");
    let both = json!({ "/sump/reading/method": { "u": 1 }, "/sump": { "u": 1 } });
    let pointers = ["/uncertainty/inputs/~1sump", "/uncertainty/inputs/~1sump~1reading~1method"];
    refused(both, "inconsistent", &pointers);
    // An uncertainty has no uncertainty.
    let own = "/uncertainty/inputs/~1uncertainty~1draws";
    refused(json!({ "/uncertainty/draws": { "u": 1 } }), "inconsistent", &[own]);

    let volume = "/uncertainty/inputs/~1sump~1volume";
    refused(json!({ "/sump/volume": {} }), "not-identifiable", &[volume]);
    let twice = json!({ "/sump/volume": { "u": 1, "half_width": 2 } });
    refused(twice, "inconsistent", &[volume]);
    let below = format!("{volume}/u");
    refused(json!({ "/sump/volume": { "u": -1 } }), "out-of-range", &[&below]);
    refused(json!({}), "not-identifiable", &["/uncertainty/inputs"]);
    let many = |i: usize| (format!("/sump/volume{i}"), json!({ "u": 1 }));
    let many: Map<String, Value> = (0..3).map(many).collect();
    let question = with(json!({ "inputs": many }));
    assert_eq!(post("/v1/top-up", &question).status(), 422);
}

#[test]
fn a_count_has_no_uncertainty() {
    let mut question: Value =
        serde_json::from_str(service("refractometer-factor").example).expect("JSON");
    question["repeats"] = 3.into();
    question["uncertainty"] = json!({ "inputs": { "/repeats": { "u": 1 } } });
    let asked = post("/v1/refractometer-factor", &question);
    let pointers = ["/uncertainty/inputs/~1repeats"];
    let problem = assert_problem(asked, 422, "inconsistent", &pointers);
    assert!(problem["detail"].as_str().unwrap().contains("a count has no"), "{problem}");
}

/// A refusal of nested members in place of a pointer says how to write a pointer.
#[test]
fn a_pointer_with_dots_is_told_how_it_is_written() {
    let address = "/v1/concentration?units=metric&reading.method=refractometer&reading.brix=5\
                   &reading.factor=1.25&uncertainty.inputs.reading.brix.u=0.1";
    let pointers = ["/uncertainty/inputs/reading/brix"];
    let problem = assert_problem(get(address), 400, "malformed", &pointers);
    assert!(problem["detail"].as_str().unwrap().contains("with slashes"), "{problem}");
}

#[test]
fn draws_are_neither_too_few_nor_too_many() {
    let volume = json!({ "/sump/volume": { "u": 1 } });
    for draws in [0, 99, 1_000_001] {
        let question = with(json!({ "inputs": volume, "draws": draws }));
        assert_problem(post("/v1/top-up", &question), 422, "out-of-range", &["/uncertainty/draws"]);
    }
    // The refusal of a long document gives its smaller maximum of draws.
    let round: Value = serde_json::from_str(service("recharge").example).expect("JSON");
    let inputs = json!({ "/sumps/0/volume": { "u": 1 } });
    let problem = solve("recharge", &uncertain(&round, &inputs, 1_000_000));
    let problem = problem.expect_err("a million rounds are too many");
    assert_eq!((problem.status, problem.errors[0].pointer.as_str()), (422, "/uncertainty/draws"));
    let mut large = round.clone();
    let sumps = round["sumps"].as_array().expect("sumps").iter().cycle().take(320).zip(1..);
    let sumps = sumps.map(|(sump, number)| {
        let mut sump = sump.clone();
        sump["name"] = format!("machine {number}").into();
        sump
    });
    large["sumps"] = sumps.collect();
    for stock in large["stocks"].as_array_mut().expect("stocks") {
        stock.as_object_mut().expect("a stock").remove("volume");
    }
    large["uncertainty"] = json!({ "inputs": inputs });
    let problem = solve("recharge", &large).expect_err("too long to draw");
    assert_eq!((problem.status, problem.errors[0].pointer.as_str()), (422, "/uncertainty"));
}

#[test]
fn numbers_cannot_go_together_just_anyhow() {
    let inputs = json!({
        "/sump/volume": { "u": 1 },
        "/sump/reading/brix": { "u": 0.1 },
        "/sump/reading/factor": { "u": 0.02 },
    });
    let refused = |correlations: Value, slug: &str, pointers: &[&str]| {
        let question = with(json!({ "inputs": inputs, "correlations": correlations }));
        assert_problem(post("/v1/top-up", &question), 422, slug, pointers);
    };
    let pair = |first: &str, second: &str, coefficient: f64| json!({ "first": first, "second": second, "coefficient": coefficient });
    let (v, b, f) = ("/sump/volume", "/sump/reading/brix", "/sump/reading/factor");
    let all = "/uncertainty/correlations";
    refused(json!([pair(v, b, 0.9), pair(v, f, 0.9), pair(b, f, -0.9)]), "inconsistent", &[all]);
    refused(json!([pair(v, "/sump/capacity", 0.5)]), "inconsistent", &[&format!("{all}/0/second")]);
    refused(json!([pair(v, v, 0.5)]), "inconsistent", &[&format!("{all}/0")]);
    refused(json!([pair(v, b, 0.5), pair(b, v, 0.5)]), "inconsistent", &[&format!("{all}/1")]);
    refused(json!([pair(v, b, 1.5)]), "out-of-range", &[&format!("{all}/0/coefficient")]);
}

/// A question that has no answer is refused as it is without uncertainty.
#[test]
fn a_question_without_an_answer_stays_without() {
    let mut question = sure_top_up();
    question["sump"]["volume"] = 240.into();
    let problem =
        assert_problem(post("/v1/top-up", &question), 422, "inconsistent", &["/sump/volume"]);
    assert_eq!(problem["reference"], question["reference"]);
}

/// Each uncertain input has a share in each number of the answer: how many that makes is known
/// before anything is drawn.
#[test]
fn more_shares_than_an_answer_has_room_for_are_refused_with_their_number() {
    let mut question = example("fluid-loop");
    question["days"] = 3650.into();
    let groups = question["groups"].as_array().expect("groups").len();
    let inputs = (0..groups).flat_map(|group| {
        ["volume", "concentration", "losses/evaporation", "losses/carry_off"]
            .map(|member| (format!("/groups/{group}/{member}"), json!({ "u": 0.01 })))
    });
    let inputs: serde_json::Map<String, Value> = inputs.collect();
    let number = inputs.len();
    question["uncertainty"] = json!({ "inputs": inputs });
    let problem = assert_problem(
        post("/v1/fluid-loop", &question),
        422,
        "out-of-range",
        &["/uncertainty/inputs"],
    );
    let detail = problem["detail"].as_str().expect("a sentence");
    assert!(detail.contains(&format!("each of {number} uncertain inputs")), "{detail}");
    let numbers: Vec<usize> =
        detail.split(|c: char| !c.is_ascii_digit()).filter_map(|word| word.parse().ok()).collect();
    assert_eq!(numbers[0] * number, numbers[2], "{detail}");
    assert!(numbers[2] > 200_000 && numbers[4] * numbers[0] <= 200_000, "{detail}");
}
