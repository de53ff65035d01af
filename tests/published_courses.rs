//! Sumps over time against figures from outside the project.

use crate::{assert_near, number, solve};
use serde_json::{Value, json};

/// A sump held at a level, in whatever volume the handbook's rates are.
fn make_up(e: f64, d: f64, water: f64, limit: Option<f64>) -> Value {
    let mut question = json!({
        "units": "metric",
        "sump": { "volume": 500, "concentration": 0 },
        "losses": { "evaporation": e, "carry_off": d },
        "water": { "properties": { "salts": water } },
    });
    if let Some(limit) = limit {
        question["limits"] = json!({ "salts": { "max": limit } });
    }
    solve("make-up", &question).expect("it can be held")
}

/// UFC 3-240-13FN (2005), blow-down of a cooling tower without windage: 5000
/// against 250 µmho is 20 cycles; at E = 5.0 kg/s B = 0.263158 kg/s and the
/// make-up 5.263158; at E = 40,000 lb/h B = 2105 and the make-up 42,105.
#[test]
fn blow_down_of_the_handbook() {
    for (e, b, tolerance) in [(5.0, 0.263158, 5e-7), (40_000.0, 2105.0, 0.5)] {
        let record = make_up(e, 0.0, 250.0, Some(5000.0));
        assert_near(number(&record, "/answer/remedies/discharge"), b, tolerance);
        let volume = number(&record, "/answer/remedies/daily_with_discharge/volume");
        assert_near(volume, e + b, tolerance);
        // The other way about: with that discharge it settles at 5000.
        let discharged = json!({
            "units": "metric",
            "sump": { "volume": 500, "concentration": 0 },
            "losses": { "evaporation": e, "carry_off": 0 },
            "discharge": e / 19.0,
            "water": { "properties": { "salts": 250 } },
        });
        let record = solve("make-up", &discharged).expect("it can be held");
        assert_near(number(&record, "/answer/cycles"), 20.0, 1e-12);
        assert_near(number(&record, "/answer/properties/salts/settles_at"), 5000.0, 1e-9);
    }
}

/// UFC 3-240-13FN (2005): 800 against 300 is 2.6667 cycles, so that E = 10 wants
/// to lose 10/1.6667 otherwise.
#[test]
fn cycles_of_the_handbook() {
    let record = make_up(10.0, 6.0, 300.0, None);
    assert_near(number(&record, "/answer/cycles"), 2.6667, 5e-5);
    assert_near(number(&record, "/answer/properties/salts/settles_at"), 800.0, 1e-10);
}

/// UFC 3-240-13FN (2005), with windage: E 120, D 2 and 5 cycles want a blow-down
/// of 28 gpm and a make-up of 150 (the handbook prints 152, a slip).
#[test]
fn blow_down_with_windage() {
    let record = make_up(120.0, 2.0, 100.0, Some(500.0));
    assert_near(number(&record, "/answer/remedies/discharge"), 28.0, 1e-12);
    let volume = number(&record, "/answer/remedies/daily_with_discharge/volume");
    assert_near(volume, 150.0, 1e-12);
}

/// From 3 to 6 cycles the make-up falls from 1.5 E to 1.2 E and the blow-down from
/// 0.5 E to 0.2 E (recomputed from C = (E + B)/B).
#[test]
fn more_cycles_want_less_water() {
    for (cycles, make_up_share, blow_down_share) in [(3.0, 1.5, 0.5), (6.0, 1.2, 0.2)] {
        let record = make_up(10.0, 0.0, 100.0, Some(100.0 * cycles));
        let daily = number(&record, "/answer/remedies/daily_with_discharge/volume");
        assert_near(daily, 10.0 * make_up_share, 1e-12);
        let discharge = number(&record, "/answer/remedies/discharge");
        assert_near(discharge, 10.0 * blow_down_share, 1e-12);
    }
}

/// The transient at constant volume, V 500 L, E 15 and W 5 L/d, 200 mg/L in the
/// make-up and at first (scipy solve_ivp and closed form), in the days to a limit
/// and in the course of the days.
const TRANSIENT: [(f64, f64); 3] =
    [(30.0, 355.50906759), (100.0, 579.27233530), (300.0, 770.12775898)];

#[test]
fn the_transient_is_met_to_the_last_printed_digit() {
    for concentration in [0.0, 8.0] {
        for (day, content) in TRANSIENT {
            let question = json!({
                "units": "metric",
                "sump": { "volume": 500, "concentration": concentration },
                "losses": { "evaporation": 15, "carry_off": 5 },
                "water": { "properties": { "hardness": 200 } },
                "limits": { "hardness": { "max": content } },
            });
            let record = solve("make-up", &question).expect("it can be held");
            let hardness = &record["answer"]["properties"]["hardness"];
            assert_near(number(hardness, "/settles_at"), 800.0, 1e-10);
            // A digit of the content is worth so many days.
            let days_per_digit = 1e-8 / ((800.0 - content) * 5.0 / 500.0);
            assert_near(number(hardness, "/passes_limit_day"), day, days_per_digit);
        }
        let question = json!({
            "units": "metric",
            "sump": {
                "capacity": 500, "volume": 500, "concentration": concentration,
                "properties": { "hardness": 200 },
            },
            "losses": { "evaporation": 15, "carry_off": 5 },
            "feeding": {
                "when": "always",
                "with": {
                    "kind": "water_and_concentrate",
                    "target": concentration,
                    "water": { "properties": { "hardness": 200 } },
                },
            },
            "days": 3000,
        });
        let record = solve("forecast", &question).expect("a course");
        for (day, content) in TRANSIENT {
            let row = format!("/answer/series/{day}");
            assert_near(number(&record, &format!("{row}/properties/hardness")), content, 1e-8);
            assert_near(number(&record, &format!("{row}/volume")), 500.0, 1e-9);
            assert_near(number(&record, &format!("{row}/concentration")), concentration, 1e-12);
        }
        assert_near(number(&record, "/answer/after/properties/hardness"), 800.0, 1e-9);
    }
}

/// Arithmetic of the trade: common practice, no source.
#[test]
fn a_tenth_evaporated_takes_eight_percent_to_nearly_nine() {
    let question = json!({
        "units": "metric",
        "sump": { "capacity": 200, "volume": 200, "concentration": 8 },
        "losses": { "evaporation": 4, "carry_off": 0 },
        "days": 5,
    });
    let record = solve("forecast", &question).expect("a course");
    assert_near(number(&record, "/answer/after/volume"), 180.0, 1e-12);
    assert_near(number(&record, "/answer/after/concentration"), 8.89, 5e-3);
    assert_near(number(&record, "/answer/after/concentration"), 80.0 / 9.0, 1e-12);
}

/// Arithmetic of the trade: common practice, no source.
#[test]
fn feeding_at_target_strength_drives_an_evaporating_sump_up() {
    let fed_with = |concentration: f64| {
        let question = json!({
            "units": "metric",
            "sump": { "capacity": 200, "volume": 200, "concentration": 8 },
            "losses": { "evaporation": 6, "carry_off": 6 },
            "feeding": {
                "when": "every", "days": 1,
                "with": { "kind": "premix", "concentration": concentration },
            },
            "band": { "low": 7.5, "target": 8, "high": 9 },
            "days": 120,
        });
        solve("forecast", &question).expect("a course")
    };
    let at_target = fed_with(8.0);
    assert!(number(&at_target, "/answer/after/concentration") > 12.0);
    assert_eq!(at_target["answer"]["crossings"][0]["what"], "concentration");
    assert_eq!(at_target["answer"]["crossings"][0]["side"], "above");
    // As much by air as by chips wants half strength: it swings around its target
    // from feeding to feeding.
    let half = fed_with(4.0);
    let fed = number(&half, "/answer/after/concentration");
    let found = number(&half, "/answer/series/120/concentration");
    assert!(fed < 8.0 && 8.0 < found);
    assert_near(fed.midpoint(found), 8.0, 0.01);
    let question = json!({
        "units": "metric",
        "sump": { "volume": 200, "concentration": 8 },
        "losses": { "evaporation": 6, "carry_off": 6 },
    });
    let record = solve("make-up", &question).expect("it can be held");
    assert_eq!(number(&record, "/answer/concentration"), 4.0);
    assert_eq!(record["answer"]["ratio"], "1:24");
}

fn near(found: f64, expected: f64, what: &str) {
    let tolerance = 1e-8 * expected.abs().max(1e-3);
    assert!((found - expected).abs() <= tolerance, "{what}: {found} is not {expected}");
}

/// 120 sumps through random events, integrated by scipy.integrate.solve_ivp at
/// rtol 1e-11 (tests/published/courses.py records them): volumes, contents, the
/// days of feedings and of every crossing agree to 1e-8.
#[test]
fn courses_go_as_solve_ivp_says() {
    let recorded: Value =
        serde_json::from_str(include_str!("published/courses.json")).expect("recorded courses");
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
