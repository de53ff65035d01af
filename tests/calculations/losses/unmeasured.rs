//! Fillings that nobody measured, and additions to a level that nobody saw.

use crate::{assert_near, assert_problem, number, server::post, solve};
use serde_json::{Value, json};

const FULL: f64 = 300.0;
const EVAPORATION: f64 = 8.0;
const CARRY_OFF: f64 = 4.0;

/// A month of a sump that is read every second day and then filled up, by the closed form of a
/// falling volume: C = C₀·(V/V₀)^(d/(e + d)). `write` is handed each filling, in litres.
fn month(premixes: &[f64], write: impl Fn(&mut Value, f64)) -> Vec<Value> {
    let lost = 2.0 * (EVAPORATION + CARRY_OFF);
    let mut c = 0.06 * FULL;
    let mut entries = vec![json!({ "day": 0, "concentration": 6.0 })];
    let mut v = FULL;
    for i in 1..=14 {
        c *= ((v - lost) / v).powf(CARRY_OFF / (EVAPORATION + CARRY_OFF));
        v -= lost;
        let premix = premixes[i % premixes.len()];
        let mut entry = json!({
            "day": 2 * i, "concentration": 100.0 * c / v, "added": { "concentration": premix },
        });
        write(&mut entry, FULL - v);
        c += (FULL - v) * premix / 100.0;
        v = FULL;
        entries.push(entry);
    }
    entries
}

fn full(entry: &mut Value) {
    entry["filled_to"] = "full".into();
}

fn asked(log: &[Value], points: f64) -> Value {
    json!({
        "units": "metric", "sump": { "capacity": FULL }, "log": log,
        "reading_uncertainty": { "concentration": points },
    })
}

#[track_caller]
fn refused(question: &Value) -> String {
    let problem = assert_problem(post("/v1/losses", question), 422, "not-identifiable", &["/log"]);
    problem["detail"].as_str().expect("a detail").to_owned()
}

/// Water and premix in turn thin and thicken the fluid by what they are, so strengths that are read
/// well show what it takes to fill the sump up.
#[test]
fn strengths_between_fillings_of_two_kinds_show_the_losses() {
    let log = month(&[0.0, 8.0], |entry, _| full(entry));
    let record = solve("losses", &asked(&log, 0.05)).expect("it is answered");
    for (rate, truth) in [("evaporation", EVAPORATION), ("carry_off", CARRY_OFF)] {
        assert_near(number(&record, &format!("/answer/{rate}/value")), truth, 1e-6);
        let u = number(&record, &format!("/answer/{rate}/u"));
        assert!(0.1 < u && u < 1.5, "{rate}: {u}");
    }
    assert_eq!(record["answer"]["suspects"], json!([]));
    let assumed = record["assumptions"].to_string();
    assert!(assumed.contains("exactly to its mark"), "{assumed}");
}

/// The same premix every time leaves the loss open; that is said with what it costs to know it, and
/// three fillings that are measured are enough.
#[test]
fn fillings_that_leave_the_loss_open_are_refused_until_a_few_are_measured() {
    let log = month(&[4.0], |entry, _| full(entry));
    let detail = refused(&asked(&log, 0.2));
    assert!(detail.contains("how much the next few fillings take"), "{detail}");
    // Two fillings and three strengths are too few, and the same is said.
    let detail = refused(&asked(&log[..4], 0.2));
    assert!(detail.contains("how much the next few fillings take"), "{detail}");
    let mut log = month(&[4.0], |entry, litres| {
        full(entry);
        entry["added"]["volume"] = litres.into();
    });
    for entry in &mut log[1..12] {
        entry["added"].as_object_mut().expect("an addition").remove("volume");
    }
    let record = solve("losses", &asked(&log, 0.2)).expect("it is answered");
    for (rate, truth) in [("evaporation", EVAPORATION), ("carry_off", CARRY_OFF)] {
        assert_near(number(&record, &format!("/answer/{rate}/value")), truth, 1e-6);
    }
}

/// What was poured in does not say how full the sump was. Who filled it up has only to say so.
#[test]
fn additions_without_a_level_are_refused_until_two_say_filled_up() {
    let measured = |entry: &mut Value, litres: f64| entry["added"]["volume"] = litres.into();
    let mut log = month(&[4.0], measured);
    let detail = refused(&asked(&log, 0.2));
    assert!(detail.contains("filled_to: full"), "{detail}");
    full(&mut log[3]);
    full(&mut log[13]);
    let record = solve("losses", &asked(&log, 0.2)).expect("it is answered");
    assert_near(number(&record, "/answer/make_up/daily/value"), EVAPORATION + CARRY_OFF, 1e-6);
}

/// The same can each time is no measurement to the drop.
#[test]
fn figures_that_agree_to_the_last_digit_are_not_exact() {
    let log = month(&[4.0], |entry, litres| {
        full(entry);
        entry["added"]["volume"] = litres.into();
    });
    let question = json!({ "units": "metric", "sump": { "capacity": FULL }, "log": log });
    let record = solve("losses", &question).expect("it is answered");
    let u = number(&record, "/answer/make_up/daily/u");
    assert!(u > 0.001 * (EVAPORATION + CARRY_OFF), "{u}");
    // A level is at best known to a tenth of what is usual, 2 % of the capacity.
    assert_near(number(&record, "/answer/scatter/volume"), 0.1 * 0.02 * FULL, 1e-9);
}
