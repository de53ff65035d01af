//! Hardness by its definitions, classes as published, and blends by hand.

use crate::support::{changed, example, found};
use crate::{assert_near, number, solve};
use serde_json::{Value, json};

fn hardness(value: f64, unit: &str) -> Value {
    let question = json!({
        "units": "metric",
        "waters": [{ "name": "water", "hardness": { "value": value, "unit": unit } }],
    });
    solve("water", &question).expect("an answer")["answer"]["waters"][0].take()
}

const UNITS: [(&str, f64); 6] = [
    ("mg_per_litre", 1.0),
    ("german_degrees", 17.847_992),
    ("french_degrees", 10.0),
    ("english_degrees", 14.253_768),
    ("grains_per_us_gallon", 17.118_061),
    ("millimoles_per_litre", 100.0869),
];

/// mg/L of CaCO₃ in each unit, recomputed from its definition (molar masses of CaCO₃ 100.0869 and
/// CaO 56.0774; grain and gallons of NIST SP 811), from each unit to each.
#[test]
fn every_unit_goes_to_every_other() {
    for (from, of) in UNITS {
        let water = hardness(12.0, from);
        for (to, per) in UNITS {
            let is = number(&water, &format!("/hardness/{to}"));
            assert_near(is, 12.0 * of / per, 1e-6 * is);
        }
    }
}

/// Calcium and magnesium in mg/L make hardness by 2.497303 and 4.117955 (molar masses 40.078 and
/// 24.305).
#[test]
fn calcium_and_magnesium_are_hardness() {
    let question = json!({
        "units": "metric",
        "waters": [{ "name": "water", "calcium": 80, "magnesium": 10 }],
    });
    let record = solve("water", &question).expect("an answer");
    let is = number(&record, "/answer/waters/0/hardness/mg_per_litre");
    assert_near(is, 80.0 * 2.497_303 + 10.0 * 4.117_955, 1e-4);
}

/// USGS, as restated by the WQA: soft to 60 mg/L, moderately hard to 120, hard to 180, then very
/// hard.
#[test]
fn classes_as_published() {
    for (value, class) in [
        (60.0, "soft"),
        (60.5, "moderately_hard"),
        (120.0, "moderately_hard"),
        (180.0, "hard"),
        (180.5, "very_hard"),
    ] {
        assert_eq!(hardness(value, "mg_per_litre")["class"], class, "{value}");
    }
}

/// By hand: town water of 14 °dH and 48 mg/L of chloride and deionised water of 0.1 and 0.5; at
/// most 30 mg/L of chloride wants (30 − 0.5)/(48 − 0.5) = 62.105 % of town water, which has then
/// 8.7326 °dH; town water is the cheaper.
#[test]
fn a_blend_by_hand() {
    let record = solve("water", &example("water")).expect("an answer");
    let share = 29.5 / 47.5;
    assert_near(number(&record, "/answer/blend/take/0/volume"), 600.0 * share, 1e-6);
    let degrees = share * 14.0 + (1.0 - share) * 0.1;
    assert_near(number(&record, "/answer/blend/hardness/german_degrees"), degrees, 1e-6);
    assert_near(number(&record, "/answer/made_per_day"), 220.0 * (1.0 - share), 1e-6);
    let cost = 600.0 * (share * 0.004 + (1.0 - share) * 0.031);
    assert_near(number(&record, "/answer/blend/cost"), cost, 1e-9);
    let said = record["statement"].as_str().expect("a statement");
    assert!(
        said.starts_with("Mix 372 L of town water and 228 L of deionised water: 600 L in all."),
        "{said}"
    );
    assert!(said.contains(" That has a hardness of 8.73 °dH, 156 mg/L"), "{said}");
    assert!(said.ends_with("has to make 83.4 L a day."), "{said}");
}

/// The same blend asked of `blend`, with the hardness converted by hand.
#[test]
fn it_is_the_programme_of_blend() {
    let german = 17.847_992;
    let stock = |name: &str, hardness: f64, chloride: f64, cost: f64| {
        json!({ "name": name, "concentration": 0, "unit_cost": cost,
                "properties": { "hardness": hardness, "chloride": chloride } })
    };
    let question = json!({
        "units": "metric",
        "target": { "volume": 600, "concentration": 0 },
        "stocks": [
            stock("town water", 14.0 * german, 48.0, 0.004),
            stock("deionised water", 0.1 * german, 0.5, 0.031),
        ],
        "limits": { "hardness": { "min": 6.0 * german, "max": 10.0 * german },
                    "chloride": { "max": 30 } },
    });
    let blend = solve("blend", &question).expect("an answer");
    let water = solve("water", &example("water")).expect("an answer");
    for i in 0..2 {
        let ours = number(&water, &format!("/answer/blend/take/{i}/volume"));
        assert_near(ours, number(&blend, &format!("/answer/take/{i}/volume")), 1e-6);
    }
    assert_eq!(water["answer"]["blend"]["binding"][0]["what"], "/limits/chloride/max");
}

/// By hand: 48 mg/L of chloride are 48/35.453 milliequivalents of 76.35 µS/cm, 103.4 of the 620
/// measured (limiting conductivity from memory).
#[test]
fn what_conducts() {
    let record = solve("water", &example("water")).expect("an answer");
    let salts = record["answer"]["waters"][0]["conducts"].as_array().expect("a list").clone();
    let chloride = salts.iter().find(|salt| salt["name"] == "chloride").expect("chloride");
    assert_near(number(chloride, "/conductivity"), 48.0 / 35.453 * 76.35, 1e-9);
    assert_near(number(chloride, "/share"), 16.67, 0.01);
    let conducts: Vec<f64> = salts.iter().map(|salt| number(salt, "/conductivity")).collect();
    assert!(conducts.windows(2).all(|pair| pair[0] >= pair[1]), "{conducts:?}");
}

/// A softened water, a German degree taken for a grain, nitrate above TRGS 611 (50 mg/L), and a
/// water so soft that it foams (common practice, no source) are findings.
#[test]
fn what_to_know_first_is_a_finding() {
    let raised = |code: &str, change: fn(&mut Value)| {
        assert_eq!(found("water", &changed("water", change), code).len(), 1, "{code}");
        assert_eq!(found("water", &example("water"), code).len(), 0, "{code} without a reason");
    };
    raised("softened-water", |q| q["waters"][0]["softened"] = true.into());
    raised("hardness-disagrees", |q| {
        q["waters"][0]["hardness"]["value"] = 20.into();
    });
    raised("nitrate-of-water-high", |q| q["waters"][0]["properties"]["nitrate"] = 60.into());
    raised("soft-water-foams", |q| {
        q["hardness"] = json!({ "max": 3, "unit": "german_degrees" });
    });
}
