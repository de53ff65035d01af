//! Logs that do not say how full the sump was, or how much it took.

use crate::support::findings;
use crate::{assert_near, assert_problem, number, server::post, solve};
use serde_json::{Value, json};

const FULL: f64 = 300.0;

/// A sump that loses 8 L to the air and 4 L on chips in a day, is read every second day, with
/// errors of a tenth of a point, and gets back what it lost at 4 %: exact, in closed form.
fn log(readings: usize, write: impl Fn(&mut Value)) -> Vec<Value> {
    let mut c = 0.06 * FULL;
    let mut entries = vec![json!({ "day": 0, "concentration": 6.0 })];
    for i in 1..=readings {
        c *= ((FULL - 24.0) / FULL).cbrt();
        let error = [0.1, -0.1, 0.2, -0.2, 0.0][3 * i % 5];
        let mut entry = json!({
            "day": 2 * i, "concentration": 100.0 * c / (FULL - 24.0) + error,
            "added": { "concentration": 4.0, "volume": 24.0 },
        });
        write(&mut entry);
        c += 24.0 * 0.04;
        entries.push(entry);
    }
    entries
}

fn asked(log: &[Value]) -> Value {
    json!({ "units": "metric", "sump": { "capacity": FULL }, "log": log })
}

fn known(mut question: Value) -> Value {
    let rate = |value: f64| json!({ "value": value, "u": 1.0 });
    question["losses"] = json!({ "evaporation": rate(8.0), "carry_off": rate(4.0) });
    question
}

/// Strengths and additions do not say how full it is, however long they go on, though its level was
/// seen at first; who filled it up has only to say so.
#[test]
fn a_level_that_nobody_saw_is_not_made_up() {
    for readings in [3, 14, 45] {
        let question = asked(&log(readings, |_| {}));
        let answer = post("/v1/sump-state", &question);
        let problem = assert_problem(answer, 422, "not-identifiable", &["/log"]);
        let detail = problem["detail"].as_str().expect("a detail");
        assert!(detail.contains("filled_to: full"), "{detail}");
        let mut once = question.clone();
        once["log"][0]["volume"] = FULL.into();
        assert_problem(post("/v1/sump-state", &once), 422, "not-identifiable", &["/log"]);
        let mut filled = question.clone();
        for i in (1..=readings).rev().step_by(2) {
            filled["log"][i]["filled_to"] = "full".into();
        }
        let record = solve("sump-state", &filled).expect("it is answered");
        let (volume, u) =
            (number(&record, "/answer/now/volume/value"), number(&record, "/answer/now/volume/u"));
        assert!((volume - FULL).abs() < 2.0 * u && u < 0.05 * FULL, "{volume} ± {u}");
    }
}

/// With losses that are known from elsewhere the level follows from what was poured in.
#[test]
fn known_losses_carry_a_level_for_a_month() {
    let record = solve("sump-state", &known(asked(&log(14, |_| {})))).expect("it is answered");
    let (volume, u) =
        (number(&record, "/answer/now/volume/value"), number(&record, "/answer/now/volume/u"));
    assert!((volume - FULL).abs() < 2.0 * u && u < 0.2 * FULL, "{volume} ± {u}");
    // And not for a year.
    let year = known(asked(&log(180, |_| {})));
    assert_problem(post("/v1/sump-state", &year), 422, "not-identifiable", &["/log"]);
}

/// One strength, on the first day, is answered with the level that is taken.
#[test]
fn a_first_strength_is_answered() {
    let record = solve("sump-state", &asked(&log(0, |_| {}))).expect("it is answered");
    assert_near(number(&record, "/answer/now/concentration/value"), 6.0, 1e-9);
    assert_near(number(&record, "/answer/now/volume/value"), 0.9 * FULL, 1e-9);
    assert!(record["assumptions"].to_string().contains("nearly full"), "{record}");
}

/// Whoever fills up time and again is told what one figure more would tell.
#[test]
fn fillings_that_leave_the_loss_open_are_said() {
    let blind = log(14, |entry| {
        entry["filled_to"] = "full".into();
        entry["added"].as_object_mut().expect("an addition").remove("volume");
    });
    let said = findings("sump-state", &asked(&blind), "fillings-unmeasured");
    assert_eq!(said.len(), 1, "{said:?}");
    assert_eq!(said[0]["pointer"], "/log/14/added");
    let measured = log(14, |entry| entry["filled_to"] = "full".into());
    let said = findings("sump-state", &asked(&measured), "fillings-unmeasured");
    assert!(said.is_empty(), "{said:?}");
    let record = solve("sump-state", &asked(&measured)).expect("it is answered");
    let (loss, u) = (
        number(&record, "/answer/losses/evaporation/value"),
        number(&record, "/answer/losses/evaporation/u"),
    );
    assert!((loss - 8.0).abs() < 2.0 * u, "{loss} ± {u}");
}
