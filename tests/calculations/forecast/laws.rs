//! Properties of any sump over time.

use crate::calculations::make_up::laws::{forecast_of, held};
use crate::support::{changed, found};
use crate::{number, service, solve};
use proptest::prelude::*;
use serde_json::{Value, json};

pub(super) fn example(name: &str) -> Value {
    serde_json::from_str(service(name).example).expect("an example is JSON")
}

/// The forecast gives the day on which a sump runs dry, and ends there.
#[test]
fn a_sump_that_nobody_feeds_runs_dry() {
    let mut question = example("forecast");
    for member in ["feeding", "changes", "oil", "limits"] {
        question.as_object_mut().unwrap().remove(member);
    }
    question["losses"] = json!({ "evaporation": 0, "carry_off": 4 });
    question["sump"]["properties"] = json!({ "chloride": 50 });
    let record = solve("forecast", &question).expect("a course");
    // 99 % of 184 L at 4 L a day.
    let day = 0.99 * 184.0 / 4.0;
    crate::assert_near(number(&record, "/answer/runs_dry_day"), day, 1e-9);
    let series = record["answer"]["series"].as_array().unwrap();
    crate::assert_near(number(series.last().unwrap(), "/day"), day, 1e-9);
    assert_eq!(record["answer"]["next_visit"]["reason"], "leaves_band");
    crate::assert_near(number(&record, "/answer/next_visit/day"), 44.0 / 4.0, 1e-9);
}

/// A property that leaves its band and returns before the next visit is still found:
/// oil leaks in fast at first and is skimmed faster and faster, while the level falls.
#[test]
fn what_goes_out_and_comes_back_between_two_days_is_found() {
    let question = json!({
        "units": "metric",
        "sump": { "capacity": 101, "volume": 100, "concentration": 5,
                  "properties": { "tramp_oil": 0 } },
        "losses": { "evaporation": 2, "carry_off": 2 },
        "oil": { "leak": 10, "skimmer": 1000 },
        "levels": { "max": 100.2 },
        "days": 1,
    });
    let record = solve("forecast", &question).expect("a course");
    let crossings = record["answer"]["crossings"].as_array().unwrap();
    assert_eq!(crossings.len(), 1, "{crossings:?}");
    assert_eq!(crossings[0]["what"], "volume");
    assert_eq!(crossings[0]["side"], "above");
    let (out, back) = (number(&crossings[0], "/day"), number(&crossings[0], "/back_day"));
    assert!(0.0 < out && out < back && back < 1.0, "{out} to {back}");
    let series = record["answer"]["series"].as_array().unwrap();
    assert!(series.iter().all(|row| number(row, "/volume") <= 100.2), "no day shows it");
}

/// A concentrate without a value for a property is assumed to have that of the water, and
/// the answer says so, except for properties that the water does not have.
#[test]
fn what_the_concentrate_is_taken_to_bring_is_noted() {
    let mut question = example("forecast");
    question["sump"]["properties"]["fines"] = 20.into();
    question["feeding"]["with"] = json!({
        "kind": "water_and_concentrate",
        "water": { "properties": { "chloride": 38, "hardness": 214, "fines": 0 } },
        "concentrate": { "properties": { "hardness": 5 } },
    });
    let record = solve("forecast", &question).expect("a course");
    let noted = |name: &str| {
        let pointer = format!("/feeding/with/concentrate/properties/{name}");
        let assumptions = record["assumptions"].as_array().expect("a list");
        assumptions.iter().any(|assumption| assumption["pointer"] == pointer.as_str())
    };
    assert_eq!(["chloride", "hardness", "fines"].map(noted), [true, false, false], "{record:#}");
}

/// Microbes make nitrite of nitrate, so TRGS 611 allows at most 50 mg/L of it in the water
/// that a fluid is mixed with. Water with more is named wherever water is fed, and premix
/// is not water.
#[test]
fn nitrate_is_named_in_the_water_that_is_fed() {
    let named = |with: Value| {
        let question = changed("forecast", |question| {
            question["sump"]["properties"] = json!({ "nitrate": 30 });
            question["limits"] = json!({});
            question.as_object_mut().expect("an object").remove("changes");
            question["feeding"]["with"] = with;
        });
        found("forecast", &question, "nitrate-of-water-high")
    };
    for (nitrate, is_high) in [(50.0, false), (50.1, true)] {
        let own = json!({ "nitrate": nitrate });
        let told = |pointer: &str| if is_high { vec![pointer.to_owned()] } else { Vec::new() };
        let premix =
            |c: f64| json!({ "kind": "premix", "concentration": c, "properties": own.clone() });
        assert_eq!(named(premix(0.0)), told("/feeding/with/properties/nitrate"));
        assert_eq!(named(premix(2.7)), Vec::<String>::new());
        let mixed = json!({ "kind": "water_and_concentrate", "water": { "properties": own } });
        assert_eq!(named(mixed), told("/feeding/with/water/properties/nitrate"));
    }
    let mixed = json!({
        "kind": "water_and_concentrate", "concentrate": { "properties": { "nitrate": 60 } },
    });
    assert_eq!(named(mixed), Vec::<String>::new());
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 100, failure_persistence: None, ..Default::default() })]

    /// Whatever is fed at any time, no amount is negative, and water fed minus water
    /// lost is the water that stays, calculated from the rates alone.
    #[test]
    fn water_is_neither_made_nor_lost(
        question in held(),
        every in 0.3..9.0_f64,
        strength in 0.0..15.0_f64,
        days in 0.5..200.0_f64,
    ) {
        let premix = json!({ "kind": "premix", "concentration": strength });
        let feeding = json!({ "when": "every", "days": every, "with": premix });
        let record = solve("forecast", &forecast_of(&question, feeding, days)).expect("a course");
        let answer = &record["answer"];
        for row in answer["series"].as_array().unwrap() {
            prop_assert!(number(row, "/volume") >= 0.0 && number(row, "/concentration") >= 0.0);
        }
        let end = number(answer, "/after/day");
        let lost = end * (number(&question, "/losses/evaporation")
            + number(&question, "/losses/carry_off")
            + question["discharge"].as_f64().unwrap_or(0.0));
        let (v, after) = (number(&question, "/sump/volume"), number(answer, "/after/volume"));
        let fed = number(answer, "/total/volume");
        prop_assert!((v + fed - lost - after).abs() < 1e-9 * (v + fed));
        let feedings = answer["feedings"].as_array().unwrap();
        let one_by_one: f64 = feedings.iter().map(|fed| number(fed, "/volume")).sum();
        prop_assert!((fed - one_by_one).abs() < 1e-9 * (1.0 + fed));
    }
}
