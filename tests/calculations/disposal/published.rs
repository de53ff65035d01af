//! Waste against published figures, each with its source.

mod simulated;
mod streams;

use crate::{assert_near, number, service, solve};
use serde_json::{Value, json};

/// Days in the months of a projection.
const MONTH: f64 = 365.0 / 12.0;

/// A shop whose only waste is a given mass of filter media each month.
fn so_much_a_month(mass: f64) -> Value {
    json!({
        "units": "metric",
        "groups": [{
            "name": "a press",
            "volume": 100,
            "concentration": 5,
            "losses": { "evaporation": 0, "carry_off": 0 },
            "filter": { "dry_mass": mass, "every_months": 1 },
        }],
    })
}

fn solved(question: &Value) -> Value {
    solve("disposal", question).unwrap_or_else(|problem| panic!("{problem:?}"))
}

/// 40 CFR 262.13: very small to 100 kg a month, small above 100 and below 1000,
/// large from 1000; at the boundaries exactly, in either system of units.
#[test]
fn generator_categories_at_their_boundaries() {
    for (mass, category) in [
        (99.9, "very_small"),
        (100.0, "very_small"),
        (100.1, "small"),
        (999.9, "small"),
        (1000.0, "large"),
        (1000.1, "large"),
    ] {
        let question = so_much_a_month(mass);
        let us = crate::support::units::in_us_units(service("disposal"), &question);
        for record in [solved(&question), solved(&us)] {
            for month in record["answer"]["months"].as_array().expect("months") {
                assert_eq!(month["category"], category, "{mass} kg: {month:#}");
            }
        }
        let record = solved(&question);
        let entered = record.pointer("/answer/months/2/entered_on_day").and_then(Value::as_f64);
        let entry = match category {
            "very_small" => None,
            "small" => Some(100.0),
            _ => Some(1000.0),
        };
        // Evenly over the third month, from its beginning.
        let expected = entry.map(|entry| MONTH * (2.0 + entry / mass));
        assert_eq!(entered.is_some(), expected.is_some());
        assert_near(entered.unwrap_or(0.0), expected.unwrap_or(0.0), 1e-9);
    }
}

/// 40 CFR 262.14, 262.16 and 262.17: less than 1000 kg on site; 180 days, or 270
/// where the facility is 200 miles or more away, and never more than 6000 kg; 90 days.
/// A month above the category asked for keeps its own as well.
#[test]
fn storage_rules_of_the_generator_categories() {
    let (small, far) = ((Some(6000.0), Some(180.0)), (Some(6000.0), Some(270.0)));
    for (rules, far_away, section, (mass, days)) in [
        ("very_small", false, "40 CFR 262.14", (Some(1000.0), None)),
        ("small", false, "40 CFR 262.16", small),
        ("small", true, "40 CFR 262.16", far),
        ("large", false, "40 CFR 262.17", (None, Some(90.0))),
    ] {
        // 3 kg, 10 kg and 29.6 kg a day: limited by days or by mass, whichever comes first.
        for daily in [3.0, 10.0, 29.6] {
            let is_above = rules == "very_small" && daily > 3.0;
            let (section, days) =
                if is_above { ("40 CFR 262.16", Some(180.0)) } else { (section, days) };
            let mut question = so_much_a_month(daily * MONTH);
            question["months"] = 36.into();
            question["storage"] = json!({ "rules": rules, "facility_far_away": far_away });
            let record = solved(&question);
            let storage = &record["answer"]["storage"]["limits"][0];
            assert_eq!(storage["section"], section);
            assert_eq!(storage["mass"].as_f64(), mass);
            assert_eq!(storage["days"].as_f64(), days);
            // Less than 1000 kg, and to 6000 kg.
            let rounding = if rules == "very_small" { -1e-6 } else { 1e-9 };
            let by_mass = mass.map_or(f64::INFINITY, |most| (most / daily + rounding).floor());
            let every = by_mass.min(days.unwrap_or(f64::INFINITY));
            let pickups = record["answer"]["pickups"].as_array().expect("pickups");
            for (pickup, i) in pickups.iter().zip(1..) {
                assert_eq!(number(pickup, "/day"), every * f64::from(i), "{rules}, {daily} a day");
                assert_near(number(pickup, "/mass"), daily * every, 1e-6);
            }
            let expected = ((36.0 * MONTH - 1e-6) / every).floor();
            let found = u32::try_from(pickups.len()).expect("a few");
            assert_eq!(f64::from(found), expected, "{rules}, {daily} a day");
        }
    }
}

/// 40 CFR 262.16: 270 days of 29.6 kg would be 7992 kg, so that the 6000 kg hold
/// first, on day 202.
#[test]
fn the_6000_kilograms_hold_before_the_270_days() {
    let mut question = so_much_a_month(29.6 * MONTH);
    question["storage"] = json!({ "rules": "small", "facility_far_away": true });
    let record = solved(&question);
    assert_eq!(number(&record, "/answer/pickups/0/day"), 202.0);
    assert_near(number(&record, "/answer/pickups/0/mass"), 202.0 * 29.6, 1e-9);
}

/// 40 CFR 279.10: used oil managed under part 279 is not counted, but with more
/// than 1000 ppm of total halogens it is presumed to be hazardous.
#[test]
fn used_oil_is_left_out_up_to_1000_ppm_of_halogens() {
    let asked = |counts: bool, halogens: f64| {
        let mut question = so_much_a_month(50.0);
        question["groups"][0]["oil_leak"] = json!({ "rate": 2, "skimmed": 100 });
        question["streams"] = json!([{ "stream": "oil_phase", "counts": counts }]);
        question["facts"] = json!({ "oil_halogens_ppm": halogens });
        question
    };
    let counted = |record: &Value| number(record, "/answer/months/0/counted");
    assert_near(counted(&solved(&asked(false, 1000.0))), 50.0, 1e-9);
    let oil = 2.0 * MONTH * 0.9982072;
    assert_near(counted(&solved(&asked(true, 1001.0))), 50.0 + oil, 1e-9);
    let problem = solve("disposal", &asked(false, 1001.0)).expect_err("it is presumed hazardous");
    assert!(problem.r#type.ends_with("inconsistent"), "{problem:?}");
    // 279.10(b)(1)(ii): the presumption can be rebutted, and the figure stays on record.
    let mut rebutted = asked(false, 1001.0);
    rebutted["facts"]["presumption_rebutted"] = true.into();
    assert_near(counted(&solved(&rebutted)), 50.0, 1e-9);
}
