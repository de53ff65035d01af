//! Findings of a calibration, and its use in `concentration`.

use super::calibration;
use crate::{assert_near, number, service, solve};
use serde_json::{Value, json};

fn findings(question: &Value) -> Vec<String> {
    let record = solve("refractometer-factor", question).expect("a factor");
    // Findings come worst first; here they are sorted by pointer.
    let findings = record["findings"].as_array().into_iter().flatten();
    findings.filter_map(|f| f["pointer"].as_str().map(str::to_owned)).collect()
}

#[test]
fn what_to_look_into_is_said_at_its_place() {
    let four = [(0.0, 0.5), (2.0, 2.1), (4.0, 3.72), (8.0, 6.9)];
    assert!(findings(&calibration(&four)).is_empty());
    let mut two = calibration(&[(4.0, 3.0), (8.0, 6.1)]);
    assert_eq!(findings(&two), ["/samples"]);
    two["line"] = "with_offset".into();
    assert_eq!(findings(&two), ["/samples"]);
    let record = solve("refractometer-factor", &two).expect("a factor");
    assert!(record["answer"].get("factor_u").is_none());
    assert!(record["answer"]["paste"].get("uncertainty").is_none());

    let scattered = [(0.0, 0.02), (2.0, 1.55), (4.0, 3.25), (6.0, 4.75), (8.0, 6.45)];
    assert_eq!(findings(&calibration(&scattered)), ["/line"], "an offset that is not real");
    let mut offset = calibration(&[(0.0, 0.9), (2.0, 2.5), (4.0, 4.11), (6.0, 5.7), (8.0, 7.31)]);
    offset["line"] = "through_origin".into();
    offset["readings"] = json!([3.0, 9.0]);
    assert_eq!(findings(&offset), ["/line", "/readings/1"], "an offset that is real");
}

/// The interval narrows with the number of readings that are averaged.
#[test]
fn a_mean_of_readings_stands_for_less() {
    let mut question: Value =
        serde_json::from_str(service("refractometer-factor").example).expect("JSON");
    let width = |question: &Value| {
        let record = solve("refractometer-factor", question).expect("a factor");
        number(&record, "/answer/readings/0/high") - number(&record, "/answer/readings/0/low")
    };
    // Every reading has the half division of the scale, which does not average out.
    question["division"] = 0.001.into();
    let single = width(&question);
    question["repeats"] = 4.into();
    assert!(width(&question) < 0.7 * single);
}

/// The result of a calibration goes straight into `concentration`, with its uncertainty:
/// to first order that is the u of the inverse prediction, which includes the
/// correlation.
#[test]
fn the_result_goes_straight_into_concentration() {
    let service = service("refractometer-factor");
    let mut asked: Value = serde_json::from_str(service.example).expect("JSON");
    // The divisions add degrees of freedom; here there is only scatter.
    asked["division"] = 1e-9.into();
    let record = solve("refractometer-factor", &asked).expect("a factor");
    let answer = &record["answer"];
    let mut question = json!({ "units": "metric", "reading": answer["paste"]["reading"] });
    question["reading"]["method"] = "refractometer".into();
    question["reading"]["brix"] = answer["readings"][1]["brix"].clone();
    question["uncertainty"] = answer["paste"]["uncertainty"].clone();
    let found = solve("concentration", &question).expect("a concentration");
    let sure = &found["uncertainty"]["numbers"]["/answer/concentration"];
    assert_near(number(sure, "/value"), number(&answer["readings"][1], "/concentration"), 1e-9);
    // Student's t of 4 degrees of freedom at 95 % is 2.77645 (any table).
    let half = (number(answer, "/readings/1/high") - number(answer, "/readings/1/low")) / 2.0;
    assert_near(number(sure, "/first_order/u") * 2.77645, half, 0.01 * half);
    let mut alone = question.clone();
    alone["uncertainty"].as_object_mut().unwrap().remove("correlations");
    let alone = solve("concentration", &alone).expect("a concentration");
    let u = "/uncertainty/numbers/~1answer~1concentration/first_order/u";
    assert!((number(&alone, u) / number(&found, u) - 1.0).abs() > 0.05, "correlation counts");
}
