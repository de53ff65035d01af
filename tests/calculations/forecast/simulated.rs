//! Sumps over time against scipy's solve_ivp.

use crate::{number, solve};
use serde_json::Value;

fn near(found: f64, expected: f64, what: &str) {
    let tolerance = 1e-8 * expected.abs().max(1e-3);
    assert!((found - expected).abs() <= tolerance, "{what}: {found} is not {expected}");
}

/// 120 sumps through random events, integrated by scipy.integrate.solve_ivp at
/// rtol 1e-11 (courses.py records them): volumes, contents, the
/// days of feedings and of every crossing agree to 1e-8.
#[test]
fn courses_go_as_solve_ivp_says() {
    let recorded: Value =
        serde_json::from_str(include_str!("courses.json")).expect("recorded courses");
    let cases = recorded.as_array().expect("a list");
    assert!(cases.len() >= 100);
    let (mut crossings, mut dry) = (0, 0);
    for (i, case) in cases.iter().enumerate() {
        let (question, expected) = (&case["question"], &case["expected"]);
        let record = solve("forecast", question).expect("a course");
        let answer = &record["answer"];
        let place = format!("course {i}");
        for row in expected["series"].as_array().expect("rows") {
            let day = row[0].as_u64().expect("a whole day");
            same_sump(&answer["series"][usize::try_from(day).unwrap()], row, &place);
        }
        same_sump(&answer["after"], &expected["after"], &place);
        let (found, wanted) =
            (answer["crossings"].as_array().unwrap(), expected["crossings"].as_array().unwrap());
        assert_eq!(found.len(), wanted.len(), "{place}: {found:#?} {wanted:#?}");
        crossings += found.len();
        for (found, wanted) in found.iter().zip(wanted) {
            assert_eq!(found["what"], wanted["what"], "{place}");
            assert_eq!(found["side"], wanted["side"], "{place}");
            near(number(found, "/day"), number(wanted, "/day"), &place);
            assert_eq!(found.get("back_day").is_some(), wanted.get("back_day").is_some());
            if let Some(back) = wanted.get("back_day").and_then(Value::as_f64) {
                near(number(found, "/back_day"), back, &place);
            }
        }
        let fed = answer["feedings"].as_array().unwrap();
        assert_eq!(fed.len() as u64, expected["feedings"].as_u64().unwrap(), "{place}");
        if let Some(last) = expected["last_feeding"].as_array() {
            let found = fed.last().expect("a feeding");
            near(number(found, "/day"), last[0].as_f64().unwrap(), &place);
            near(number(found, "/volume"), last[1].as_f64().unwrap(), &place);
            near(number(found, "/concentrate"), last[2].as_f64().unwrap(), &place);
        }
        assert_eq!(answer.get("runs_dry_day").is_some(), expected["dry"].is_number(), "{place}");
        if let Some(day) = expected["dry"].as_f64() {
            dry += 1;
            near(number(answer, "/runs_dry_day"), day, &place);
        }
    }
    assert!(crossings > 500 && dry > 0, "{crossings} crossings, {dry} dry");
}

fn same_sump(found: &Value, expected: &Value, place: &str) {
    let expected: Vec<f64> =
        expected.as_array().unwrap().iter().filter_map(Value::as_f64).collect();
    let pointers = [
        "/day",
        "/volume",
        "/concentration",
        "/properties/tramp_oil",
        "/properties/chloride",
        "/properties/hardness",
    ];
    for (pointer, expected) in pointers.into_iter().zip(expected) {
        near(number(found, pointer), expected, &format!("{place}, {pointer}"));
    }
}
