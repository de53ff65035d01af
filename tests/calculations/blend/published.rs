//! Batches of two stocks and of many, against published figures and scipy.

use crate::{assert_near, number, solve};
use serde_json::{Value, json};

/// A batch of two stocks by the Pearson square.
fn square(high: f64, low: f64, target: f64, volume: f64) -> Value {
    let question = json!({
        "units": "metric",
        "target": { "volume": volume, "concentration": target },
        "stocks": [
            { "name": "high", "concentration": high },
            { "name": "low", "concentration": low },
        ],
    });
    solve("blend", &question).expect("the target lies between the two")
}

fn volumes(record: &Value) -> (f64, f64) {
    (number(record, "/answer/take/0/volume"), number(record, "/answer/take/1/volume"))
}

fn parts(record: &Value) -> (f64, f64) {
    (number(record, "/answer/take/0/parts"), number(record, "/answer/take/1/parts"))
}

/// Dairy laboratory manual and note book (public domain): 22 % and 3 % to 4 %,
/// 95 lb: 1 to 18, 5 lb and 90 lb.
#[test]
fn pearson_square_of_the_dairy_laboratory_manual() {
    let record = square(22.0, 3.0, 4.0, 95.0);
    assert_eq!(parts(&record), (1.0, 18.0));
    let (high, low) = volumes(&record);
    assert_near(high, 5.0, 1e-12);
    assert_near(low, 90.0, 1e-12);
}

/// Dairy Fundamentals (public domain): 30 % cream into 500 lb of 3 % milk to
/// 5 %: 2 parts to 25, so 40 lb of cream.
#[test]
fn pearson_square_of_dairy_fundamentals() {
    let record = square(30.0, 3.0, 5.0, 540.0);
    assert_eq!(parts(&record), (2.0, 25.0));
    assert_near(volumes(&record).0, 40.0, 1e-12);
}

/// Montana State University Extension: 12.25 % and 10.8 % to 11 %, printed as
/// 13.8 and 86.2 %; 40 % and 8.95 % to 9.8 %, printed as 2.7 and 97.3 %. The
/// printed figures are rounded: the exact ones are expected.
#[test]
fn pearson_squares_of_montana_state_university() {
    for (high, low, target, share) in [(12.25, 10.8, 11.0, 13.793103), (40.0, 8.95, 9.8, 2.737520)]
    {
        let record = square(high, low, target, 1000.0);
        assert_near(number(&record, "/answer/take/0/share"), share, 5e-7);
        assert_near(number(&record, "/answer/take/1/share"), 100.0 - share, 5e-7);
    }
    assert_eq!(parts(&square(12.25, 10.8, 11.0, 1.0)), (0.2, 1.25));
}

/// A university tutor's worked answer: 100 % and 50 % to 70 %, 20 mL: 8 and 12.
#[test]
fn alligation_of_a_tutors_answer() {
    let (high, low) = volumes(&square(100.0, 50.0, 70.0, 20.0));
    assert_near(high, 8.0, 1e-12);
    assert_near(low, 12.0, 1e-12);
}

/// A pharmacy technician text: 70 % and water to 25 %, 1000 mL. The text prints
/// 360 and 640 from a fraction that it rounded early; the exact 2500/7 and
/// 4500/7 are expected.
#[test]
fn alligation_of_a_pharmacy_text_without_its_rounding() {
    let (high, low) = volumes(&square(70.0, 0.0, 25.0, 1000.0));
    assert_near(high, 2500.0 / 7.0, 1e-10);
    assert_near(low, 4500.0 / 7.0, 1e-10);
}

/// Montana State University Extension: the target must lie between the two.
#[test]
fn a_target_outside_the_two_strengths_is_refused() {
    let question = json!({
        "units": "metric",
        "target": { "volume": 10, "concentration": 41 },
        "stocks": [
            { "name": "high", "concentration": 40 },
            { "name": "low", "concentration": 8.95 },
        ],
    });
    let problem = solve("blend", &question).expect_err("41 % is out of reach");
    assert_eq!(problem.r#type, "/problems/unreachable");
    let reachable = problem.reachable.expect("what can be reached");
    assert_near(number(&reachable, "/concentration/low"), 8.95, 1e-12);
    assert_near(number(&reachable, "/concentration/high"), 40.0, 1e-12);
}

/// 200 blends with limits and stocks on hand, solved by scipy.optimize.linprog
/// with HiGHS (blends.py writes them). HiGHS meets its rows to
/// 1e-7, which is the tolerance here.
#[test]
fn blends_cost_what_scipy_says_and_are_refused_where_it_finds_none() {
    let recorded: Value =
        serde_json::from_str(include_str!("blends.json")).expect("recorded blends");
    let cases = recorded["cases"].as_array().expect("cases");
    assert_eq!(cases.len(), 200);
    for case in cases {
        let question = &case["question"];
        match solve("blend", question) {
            Ok(record) => {
                assert_eq!(case["feasible"], true, "scipy finds no such batch: {question}");
                let found = match question["goal"]["most_of"].as_str() {
                    None => number(&record, "/answer/cost"),
                    Some(name) => {
                        let takes = record["answer"]["take"].as_array().expect("takes");
                        let favourite = takes.iter().find(|take| take["name"] == name);
                        number(favourite.expect("it is there"), "/volume")
                    }
                };
                let expected = number(case, "/objective");
                assert_near(found, expected, 1e-7 * expected.abs().max(1.0));
            }
            Err(problem) => {
                assert_eq!(problem.r#type, "/problems/unreachable", "{question}");
                assert_eq!(case["feasible"], false, "scipy finds a batch: {question}");
            }
        }
    }
}

/// The shadow price of a binding limit or stock: the change of scipy's minimum cost
/// when it is relaxed, here by solving the relaxed question itself.
#[test]
fn what_a_limit_is_worth_is_what_relaxing_it_saves() {
    let question: Value =
        serde_json::from_str(include_str!("../../../examples/blend.json")).expect("JSON");
    let record = solve("blend", &question).expect("it can be made");
    let cost = number(&record, "/answer/cost");
    let binding = record["answer"]["binding"].as_array().expect("what binds");
    assert!(binding.len() >= 2, "{binding:?}");
    for bound in binding {
        let pointer = bound["what"].as_str().expect("a pointer");
        let mut relaxed = question.clone();
        let step = 0.01;
        let limit = relaxed.pointer_mut(pointer).expect("it points into the question");
        *limit = (limit.as_f64().expect("a number") + step).into();
        let saved = cost - number(&solve("blend", &relaxed).expect("still"), "/answer/cost");
        assert_near(saved / step, number(bound, "/worth"), 1e-8);
    }
}

/// Arithmetic of the trade's notation: one to twenty is one part in twenty-one,
/// 4.7619 %, and not 5 %.
#[test]
fn one_to_twenty() {
    let record = square(100.0, 0.0, 100.0 / 21.0, 21.0);
    assert_near(number(&record, "/answer/mix/parts_of_water"), 20.0, 1e-12);
    let (concentrate, water) = volumes(&record);
    assert_near(concentrate, 1.0, 1e-12);
    assert_near(water, 20.0, 1e-12);
    assert_near(number(&record, "/answer/mix/concentration"), 4.7619, 5e-5);
}

/// NIST SP 811: a US gallon is 3.785411784 L, a pound 0.45359237 kg; the density
/// of water at 20 °C by IAPWS-95 is 998.2072 kg/m³.
#[test]
fn a_us_answer_is_in_gallons_and_pounds() {
    let ask = |units: &str, volume: f64| {
        let question = json!({
            "units": units,
            "target": { "volume": volume, "concentration": 0 },
            "stocks": [{ "name": "water", "concentration": 0 }],
        });
        number(&solve("blend", &question).expect("water"), "/answer/take/0/mass")
    };
    assert_near(ask("metric", 1000.0), 998.2072, 1e-9);
    assert_near(ask("us", 1000.0), 3785.411784 * 0.9982072 / 0.45359237, 1e-9);
}
