//! The boundaries of published guidance, from both sides.

use crate::solve;
use serde_json::{Value, json};

/// How one observation stands when nothing else was observed.
#[track_caller]
fn verdict(observed: Value) -> String {
    let mut question = observed;
    question["units"] = "metric".into();
    let record = solve("condition", &question).expect("an answer");
    let observations = record["answer"]["observations"].as_array().expect("observations");
    assert_eq!(observations.len(), 1, "{record:#}");
    observations[0]["verdict"].as_str().expect("a verdict").to_owned()
}

fn decision(observed: Value) -> Value {
    let mut question = observed;
    question["units"] = "metric".into();
    solve("condition", &question).expect("an answer")["answer"].take()
}

/// UK HSE: dip slides below 10⁴ CFU/mL good, 10⁴ to 10⁶ reasonable (review), from 10⁶ poor (act
/// at once).
#[test]
fn dip_slides_by_the_hse() {
    for (count, stands) in
        [(9_999.0, "good"), (1e4, "watch"), (999_999.0, "watch"), (1e6, "act"), (1e9, "act")]
    {
        assert_eq!(verdict(json!({ "bacteria": { "count": count } })), stands, "{count}");
    }
    let poor = decision(json!({ "bacteria": { "count": 2e6 } }));
    assert_eq!((&poor["decision"], &poor["within_days"]), (&json!("clean_out"), &json!(1.0)));
}

/// TRGS 611 (2007): nitrite in used fluid above 20 mg/L calls for measures; below 10 mg/L it may
/// be measured every four weeks; the make-up water's nitrate is at most 50 mg/L.
#[test]
fn nitrite_and_nitrate_by_trgs_611() {
    for (content, stands) in [(9.9, "good"), (10.0, "watch"), (20.0, "watch"), (20.1, "act")] {
        assert_eq!(verdict(json!({ "nitrite": { "content": content } })), stands, "{content}");
    }
    for (content, stands) in [(50.0, "good"), (50.1, "watch")] {
        assert_eq!(verdict(json!({ "nitrate_of_water": content })), stands, "{content}");
    }
    let known = |content: f64, days: f64| {
        let answer = decision(json!({ "nitrite": { "content": content, "days_ago": days } }));
        let missing = answer["missing"].as_array().expect("a list").clone();
        !missing.iter().any(|test| test["observation"] == "nitrite")
    };
    assert!(known(9.0, 28.0) && !known(9.0, 29.0));
    assert!(known(12.0, 7.0) && !known(12.0, 8.0));
}

/// DGUV Regel 109-003: a fall of the pH by more than 0.5 from first fill calls for measures;
/// strips cover 8.5 to 9.5; a sump is cleaned and recharged at least yearly (example in Annex 5).
#[test]
fn ph_and_age_by_dguv_109_003() {
    let fall = |now: f64| verdict(json!({ "ph": { "now": now, "at_first_fill": 9.4 } }));
    assert_eq!((fall(8.9).as_str(), fall(8.89).as_str()), ("watch", "act"));
    assert_eq!(fall(9.2), "good");
    let alone = |now: f64| verdict(json!({ "ph": { "now": now } }));
    for (now, stands) in
        [(8.5, "good"), (9.5, "good"), (8.4, "watch"), (9.6, "watch"), (7.9, "act")]
    {
        assert_eq!(alone(now), stands, "{now}");
    }
    let age = |days: f64| verdict(json!({ "days_since_fill": days }));
    assert_eq!([age(334.0), age(335.0), age(365.0)], ["good", "watch", "act"]);
}

/// UKLA/HSE guide, at second hand: above 30 °C microbes are favoured.
#[test]
fn warm_fluid_is_watched() {
    assert_eq!(verdict(json!({ "temperature": 30 })), "good");
    assert_eq!(verdict(json!({ "temperature": 30.5 })), "watch");
}

/// The balance of salts by hand: water of 500 µS/cm in a mix of 1,600, of which 9 L evaporate and
/// 3 L are carried off a day, is concentrated four times: 1,100 + 4·500 = 3,100 µS/cm explained,
/// and more than twice that is not.
#[test]
fn conductivity_beyond_what_cycles_explain() {
    let salty = |now: f64| {
        verdict(json!({
            "conductivity": { "now": now, "fresh_mix": 1600, "water": 500 },
            "losses": { "evaporation": 9, "carry_off": 3 },
        }))
    };
    assert_eq!([salty(3200.0), salty(3201.0), salty(6200.0)], ["good", "watch", "watch"]);
    assert_eq!(salty(6201.0), "act");
}

/// The fluid's own limits hold where they are stricter; where they are laxer that is said.
#[test]
fn own_limits_hold_where_they_are_stricter() {
    let strict = verdict(json!({ "ph": { "now": 8.6 }, "sheet": { "ph_low": 8.8 } }));
    assert_eq!(strict, "watch");
    let question = json!({
        "units": "metric",
        "nitrite": { "content": 25 },
        "sheet": { "nitrite": 100 },
    });
    let record = solve("condition", &question).expect("an answer");
    assert_eq!(record["answer"]["decision"], "dispose");
    let findings = record["findings"].as_array().expect("findings");
    let laxer = findings.iter().find(|finding| finding["code"] == "laxer-limit").expect("said");
    assert_eq!(laxer["pointer"], "/sheet/nitrite");
}
