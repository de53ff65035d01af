//! Bounds of the trade: unusual concentrations, nitrite and nitrate, oil in a sample, and the basis
//! of hardness.

use crate::support::{changed, findings, found};
use crate::{number, solve};
use serde_json::{Value, json};

/// Each calculation with the concentration of a working sump, and its pointer.
const STRENGTHS: [(&str, &str); 11] = [
    ("concentration", "/band/target"),
    ("make-up", "/sump/concentration"),
    ("forecast", "/sump/concentration"),
    ("forecast", "/band/low"),
    ("losses", "/sump/concentration"),
    ("recycler", "/target/concentration"),
    ("fluid-loop", "/groups/2/concentration"),
    ("sump-volume", "/dilution/before"),
    ("concentration", "/reading"),
    ("recycler", "/feed/reading"),
    ("losses", "/log/1/concentration"),
];

/// 0.06 for 6 %, or 51 % for 5.1 %: a finding asks about it if the place can hold it without
/// contradicting its neighbours; otherwise there is none.
#[test]
fn a_strength_that_no_sump_has_is_asked_back() {
    for (name, place) in STRENGTHS {
        let usual = changed(name, |_| {});
        assert!(found(name, &usual, "strength-unusual").is_empty(), "{name}");
        let odd = changed(name, |question| match place {
            "/reading" | "/feed/reading" => {
                question.as_object_mut().expect("an object").remove("band");
                question.pointer_mut(place).expect("a reading")["factor"] = 0.02.into();
            }
            "/band/target" => {
                question["band"] = json!({ "low": 5, "target": 51, "high": 60 });
            }
            "/band/low" => question["band"]["low"] = 0.065.into(),
            "/dilution/before" => {
                question["dilution"] =
                    json!({ "before": 51, "added": 25, "after": 46, "strength_u": 0.5 });
                question.as_object_mut().expect("an object").remove("shape");
            }
            "/log/1/concentration" => {
                // The whole log in fractions instead of percent.
                let entries = question["log"].as_array_mut().expect("a log");
                for entry in entries {
                    if let Some(reading) =
                        entry.as_object_mut().expect("an entry").remove("reading")
                    {
                        let (brix, factor) =
                            (number(&reading, "/brix"), number(&reading, "/factor"));
                        entry["concentration"] = (brix * factor / 100.0).into();
                    }
                    let added = entry.get_mut("added").map(|added| &mut added["concentration"]);
                    if let Some(added) = added {
                        *added = (added.as_f64().expect("a strength") / 100.0).into();
                    }
                }
                question["reading_uncertainty"]["concentration"] = 0.0012.into();
            }
            _ => *question.pointer_mut(place).expect("a strength") = 0.06.into(),
        });
        let told = found(name, &odd, "strength-unusual");
        let expected = if place.starts_with("/log") { "/log/0/concentration" } else { place };
        assert!(told.iter().any(|pointer| pointer == expected), "{name} {place}: {told:?}");
        assert!(told.len() <= 4, "{name}: {told:?}");
    }
}

/// TRGS 611 (2007): nitrite above 20 mg/L calls for action, in any spelling of its name
/// and even if the request sets a laxer limit.
#[test]
fn nitrite_is_judged_wherever_it_is_carried() {
    for spelling in ["nitrite", "Nitrite", "NO2", "no2", "nitrit"] {
        let make_up = json!({
            "units": "metric",
            "sump": { "volume": 200, "concentration": 8, "properties": { spelling: 60 } },
            "losses": { "evaporation": 8, "carry_off": 4 },
            "limits": { spelling: { "max": 100 } },
        });
        let pointer = format!("/sump/properties/{spelling}");
        assert_eq!(found("make-up", &make_up, "nitrite-high"), [pointer.as_str()]);
        let forecast = changed("forecast", |question| {
            question["sump"]["properties"][spelling] = 60.into();
            question["limits"][spelling] = json!({ "max": 100 });
        });
        assert_eq!(found("forecast", &forecast, "nitrite-high"), [pointer.as_str()]);
        let recycler = changed("recycler", |question| {
            question["feed"]["properties"][spelling] = 60.into();
            question["target"]["limits"][spelling] = json!({ "max": 100 });
        });
        let pointer = format!("/feed/properties/{spelling}");
        assert_eq!(found("recycler", &recycler, "nitrite-high"), [pointer.as_str()]);
        assert_eq!(found("recycler", &recycler, "nitrite-stays"), [pointer]);
        let in_loop = changed("fluid-loop", |question| {
            question["water"]["properties"][spelling] = 30.into();
        });
        assert_eq!(found("fluid-loop", &in_loop, "nitrite-high").len(), 1);
        let blend = json!({
            "units": "metric",
            "target": { "volume": 100, "concentration": 6 },
            "stocks": [
                { "name": "recycled", "concentration": 4, "properties": { spelling: 60 } },
                { "name": "concentrate", "concentration": 100 },
            ],
        });
        assert_eq!(
            found("blend", &blend, "nitrite-high"),
            [format!("/stocks/0/properties/{spelling}")]
        );
    }
    let closed = json!({
        "units": "metric",
        "sump": { "volume": 200, "concentration": 8, "properties": { "nitrite": 2 } },
        "losses": { "evaporation": 8, "carry_off": 0 },
        "water": { "properties": { "nitrite": 1 } },
    });
    let told = findings("make-up", &closed, "nitrite-high");
    assert!(told[0]["text"].as_str().expect("a text").contains("without an end"), "{told:?}");
    let low = changed("forecast", |question| {
        question["sump"]["properties"]["nitrite"] = 12.into();
    });
    assert!(found("forecast", &low, "nitrite-high").is_empty());
}

/// TRGS 611 (2007): the water a fluid is mixed with carries 50 mg/L of nitrate at most.
#[test]
fn nitrate_of_the_water_is_judged() {
    for (spelling, content, told) in
        [("nitrate", 51, 1), ("NO3", 51, 1), ("nitrat", 80, 1), ("nitrate", 50, 0)]
    {
        let make_up = changed("make-up", |question| {
            question["water"]["properties"][spelling] = content.into();
        });
        assert_eq!(found("make-up", &make_up, "nitrate-of-water-high").len(), told);
        let in_loop = changed("fluid-loop", |question| {
            question["water"]["properties"][spelling] = content.into();
        });
        assert_eq!(found("fluid-loop", &in_loop, "nitrate-of-water-high").len(), told);
        let stock = |concentration: f64| {
            json!({
                "units": "metric",
                "target": { "volume": 100, "concentration": 6 },
                "stocks": [
                    { "name": "weak", "concentration": concentration,
                      "properties": { spelling: content } },
                    { "name": "concentrate", "concentration": 100 },
                ],
            })
        };
        assert_eq!(found("blend", &stock(0.0), "nitrate-of-water-high").len(), told);
        assert!(found("blend", &stock(4.0), "nitrate-of-water-high").is_empty(), "no water");
    }
}

fn recycler(change: impl FnOnce(&mut Value)) -> Value {
    changed("recycler", change)
}

/// Each method of reading, with a fluid that contains oil, and its findings: according to
/// DGUV Regel 109-003 tramp oil biases a refractometer.
#[test]
fn oil_in_a_sample_is_said_to_falsify_it() {
    let readings = [
        (json!({ "method": "refractometer", "brix": 6, "factor": 1.2 }), true, "/brix"),
        (json!({ "method": "refractive_index", "index": 1.341, "factor": 1.2 }), true, "/index"),
        (
            json!({ "method": "acid_split", "sample_ml": 100, "split_ml": 4, "oil_share": 60 }),
            true,
            "/split_ml",
        ),
        (json!({ "method": "titration", "titrant_ml": 7, "factor": 0.9 }), false, ""),
    ];
    for (reading, falsified, member) in readings {
        let question = json!({ "units": "metric", "reading": reading });
        let record = solve("concentration", &question).expect("an answer");
        let assumptions = record["assumptions"].as_array().expect("assumptions");
        let about = assumptions.iter().any(|told| {
            told["pointer"] == format!("/reading{member}")
                && told["text"]
                    .as_str()
                    .is_some_and(|text| text.to_lowercase().contains("tramp oil"))
        });
        assert_eq!(about, falsified, "{assumptions:#?}");
        let cautions = record["cautions"].to_string();
        assert_eq!(
            cautions.contains("split test"),
            reading["method"] == "acid_split",
            "{cautions}"
        );
        assert_eq!(cautions.contains("titrant"), reading["method"] == "titration", "{cautions}");

        for (oil, told) in [(4.0, falsified), (0.9, false)] {
            let forecast = changed("forecast", |question| {
                let sump = question["sump"].as_object_mut().expect("a sump");
                sump.remove("concentration");
                sump.insert("reading".to_owned(), reading.clone());
                sump["properties"]["tramp_oil"] = oil.into();
            });
            let found = found("forecast", &forecast, "tramp-oil-in-reading");
            assert_eq!(found, if told { vec!["/sump/reading"] } else { vec![] }, "{oil} {reading}");
            let recycler = recycler(|question| {
                question["feed"]["reading"] = reading.clone();
                question["feed"]["properties"]["tramp_oil"] = oil.into();
            });
            let found = crate::support::found("recycler", &recycler, "tramp-oil-in-reading");
            assert_eq!(found, if told { vec!["/feed/reading"] } else { vec![] }, "{oil} {reading}");
        }
    }
}

/// If an answer follows hardness, it says in which basis, and that some of it does not
/// stay in solution.
#[test]
fn hardness_says_its_basis() {
    for name in ["make-up", "forecast", "fluid-loop", "blend"] {
        let question = changed(name, |_| {});
        assert!(question.to_string().contains("hardness"), "{name}");
        let record = solve(name, &question).expect("an answer");
        let told = record["assumptions"].as_array().expect("assumptions");
        let told = told.iter().filter_map(|told| told["text"].as_str());
        let basis: Vec<&str> = told.filter(|text| text.contains("CaCO3")).collect();
        assert_eq!(basis.len(), 1, "{name}: {basis:?}");
        // From the definitions: 1 °dH is 17.848 mg/L, 1 grain per US gallon 17.118.
        for part in ["17.848", "17.118", "precipitates", "Chloride"] {
            assert!(basis[0].contains(part), "{}", basis[0]);
        }
    }
}
