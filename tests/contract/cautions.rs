//! Each caution belongs to something the answer tells the reader to do, and is given once.

use crate::draws::{any_document, held, near, to_draw_from};
use crate::support::units::in_us_units;
use crate::{SERVICES, service, solve};
use proptest::prelude::*;
use serde_json::{Value, json};
use std::collections::BTreeSet;
use sumpwright_openapi::document::question_name;

/// Calculations whose work is done at running machines.
const AT_MACHINES: [&str; 13] = [
    "sump-state",
    "top-up",
    "top-up-round",
    "recharge",
    "make-up",
    "losses",
    "forecast",
    "fluid-loop",
    "sump-volume",
    "condition",
    "dose",
    "test-plan",
    "calendar",
];

/// Whether a name or value of the document contains one of these words.
fn speaks_of(document: &Value, words: &[&str]) -> bool {
    let text = document.to_string().to_lowercase();
    words.iter().any(|word| text.contains(word))
}

/// Whether a stock that is used is stronger than a premix.
fn takes_concentrate(question: &Value, take: &Value) -> bool {
    let stocks = question["stocks"].as_array().cloned().unwrap_or_default();
    take.as_array().into_iter().flatten().any(|take| {
        let own = stocks.iter().find(|stock| stock["name"] == take["name"]);
        // Without stocks of its own a recycler is corrected with neat concentrate.
        let neat = stocks.is_empty() && take["name"] == "concentrate";
        let strong = own.is_some_and(|own| own["concentration"].as_f64() > Some(20.0));
        take["volume"].as_f64() > Some(0.0) && (neat || strong)
    })
}

/// The condition on a request or its answer for a caution to be in the record. A code
/// that is not in the table may always be there.
fn belongs(code: &str, name: &str, question: &Value, answer: &Value) -> bool {
    let some = |pointer: &str| question.pointer(pointer).is_some_and(|member| !member.is_null());
    let method = question.pointer("/reading/method").and_then(Value::as_str);
    match code {
        "acid" => method == Some("acid_split"),
        "titrant" => method == Some("titration"),
        "concentrate-on-skin" => match name {
            "blend" => takes_concentrate(question, &answer["take"]),
            "recycler" => takes_concentrate(question, &answer["correction"]["take"]),
            "make-up" => answer["concentration"].as_f64() > Some(0.0),
            "forecast" => {
                some("/feeding")
                    && question.pointer("/feeding/with/concentration") != Some(&json!(0.0))
            }
            "condition" | "sump-state" => speaks_of(answer, &["top_up"]),
            "top-up" | "top-up-round" | "recharge" | "refractometer-factor" => true,
            _ => false,
        },
        "metal-fines" => question.pointer("/facts/metal") != Some(&json!("ferrous")),
        "metals-in-fluid" => question.pointer("/facts/metal") != Some(&json!("non_ferrous")),
        "heat-and-biocide" => speaks_of(question, &["kills", "temperature"]),
        "biocide-by-label" => {
            name == "recharge"
                || speaks_of(question, &["system_cleaner"])
                || (name == "condition" && speaks_of(answer, &["dose"]))
                || speaks_of(question, &["kills", "biocid", "biozid", "bactericid", "fungicid"])
                || speaks_of(answer, &["microbes"])
        }
        "neat-additive" => name == "dose" || speaks_of(answer, &["dose"]),
        "caustic" => question.pointer("/product/kind") == Some(&json!("ph_adjuster")),
        "no-dose-against-skin-complaints" => {
            name == "dose" || question["skin_complaints"] == json!(true)
        }
        "bad-air-from-a-dead-sump" => {
            speaks_of(answer, &["microbes", "sludge", "smells musty", "rotten eggs", "stood still"])
                || (name == "test-plan" && speaks_of(answer, &["look"]))
                || name == "calendar"
        }
        "asthma-and-alveolitis" => AT_MACHINES.contains(&name) || speaks_of(answer, &["microbes"]),
        "machine-may-start" => AT_MACHINES.contains(&name),
        "nitrosamines" => speaks_of(question, &["nitrit", "no2"]),
        "confined-space" => match name {
            "sump-volume" => ["/by_shape/volume", "/by_dilution/volume", "/at_brim"]
                .iter()
                .any(|at| answer.pointer(at).and_then(Value::as_f64) >= Some(1000.0)),
            "disposal" => question["groups"]
                .as_array()
                .into_iter()
                .flatten()
                .any(|group| group["volume"].as_f64() >= Some(1000.0)),
            "calendar" => question["sumps"]
                .as_array()
                .into_iter()
                .flatten()
                .any(|sump| sump["volume"].as_f64() >= Some(1000.0)),
            _ => name == "recharge",
        },
        "overfilling" => {
            ["recharge", "top-up-round"].contains(&name) || some("/tanks") || some("/recycler")
        }
        "heavy-load" => name == "recharge",
        "spinning-machinery" => speaks_of(question, &["centrifuge"]),
        "permit-before-the-sewer" => speaks_of(answer, &["permeate", "wash_water"]),
        "engine-exhaust" => speaks_of(question, &["fuel"]),
        "electrical-work" => speaks_of(question, &["power"]),
        _ => true,
    }
}

#[test]
fn each_caution_stands_once_and_belongs_to_what_is_told() {
    let mut failed = Vec::new();
    let mut seen: BTreeSet<String> = BTreeSet::new();
    for service in SERVICES.iter() {
        let example = to_draw_from(service);
        let questions =
            prop_oneof![any_document(&question_name(service.name)), near(&example)].boxed();
        let codes = std::cell::RefCell::new(BTreeSet::new());
        let result = held(300, questions, |mut question| {
            question["units"] = "metric".into();
            let Ok(record) = solve(service.name, &question) else { return Ok(()) };
            let mut own = BTreeSet::new();
            for caution in record["cautions"].as_array().expect("cautions") {
                let code = caution["code"].as_str().expect("a code");
                prop_assert!(own.insert(code.to_owned()), "{code} stands twice");
                prop_assert!(
                    belongs(code, service.name, &question, &record["answer"]),
                    "{code} belongs to nothing in {question}"
                );
            }
            codes.borrow_mut().extend(own);
            Ok(())
        });
        seen.extend(codes.into_inner());
        if let Err(error) = result {
            let said = error.to_string();
            failed.push(format!("{}: {}", service.name, said.lines().next().unwrap_or_default()));
        }
    }
    assert!(failed.is_empty(), "{}", failed.join("\n"));
    assert!(seen.len() > 15, "{seen:?}");
}

fn codes(name: &str, question: &Value) -> Vec<String> {
    let record = solve(name, question).unwrap_or_else(|problem| panic!("{problem:?}"));
    let cautions = record["cautions"].as_array().expect("cautions").clone();
    cautions.iter().map(|caution| caution["code"].as_str().expect("a code").to_owned()).collect()
}

fn example(name: &str) -> Value {
    serde_json::from_str(service(name).example).expect("JSON")
}

/// A titration uses no strong acid, and the split test no titrant.
#[test]
fn a_reading_warns_of_its_own_reagents() {
    let asked = |reading: Value| json!({ "units": "metric", "reading": reading });
    let titration = asked(json!({ "method": "titration", "titrant_ml": 6.2, "factor": 0.9 }));
    let split = asked(
        json!({ "method": "acid_split", "split_ml": 3.1, "sample_ml": 100, "oil_share": 62 }),
    );
    for (question, has, has_not) in [(titration, "titrant", "acid"), (split, "acid", "titrant")] {
        let found = codes("concentration", &question);
        assert!(found.iter().any(|code| code == has), "{found:?}");
        assert!(!found.iter().any(|code| code == has_not), "{found:?}");
    }
}

/// Steel alone does not burn, and a material poured as a biocide is one.
#[test]
fn metal_and_biocide_are_those_of_the_request() {
    let ferrous = example("disposal");
    assert_eq!(ferrous["facts"]["metal"], "ferrous");
    assert!(!codes("disposal", &ferrous).contains(&"metal-fines".to_owned()));
    let mut light = ferrous;
    light["facts"]["metal"] = "non_ferrous".into();
    assert!(codes("disposal", &light).contains(&"metal-fines".to_owned()));

    let mix = |name: &str| {
        json!({
            "units": "metric",
            "target": { "volume": 100, "concentration": 6 },
            "stocks": [
                { "name": name, "concentration": 6.2 },
                { "name": "water", "concentration": 0 },
            ],
        })
    };
    assert!(codes("blend", &mix("fluid with Biocide")).contains(&"biocide-by-label".to_owned()));
    let plain = codes("blend", &mix("recovered fluid"));
    assert_eq!(plain, ["skin-and-mist"]);
}

/// NIOSH 98-102 (1998): 0.4 mg/m³ of thoracic mist, the same figure in both systems.
#[test]
fn mist_is_held_to_the_exposure_limit() {
    let question = example("forecast");
    for question in [in_us_units(service("forecast"), &question), question] {
        let record = solve("forecast", &question).expect("an answer");
        let text = record["cautions"].to_string();
        assert!(text.contains("0.4 mg/m³ (thoracic") && text.contains("NIOSH"), "{text}");
    }
}

/// Nitrite by its usual names, in whatever material contains it.
#[test]
fn nitrite_in_the_request_warns_of_nitrosamines() {
    let mut question = example("forecast");
    assert!(!codes("forecast", &question).contains(&"nitrosamines".to_owned()));
    question["sump"]["properties"]["Nitrite"] = 12.into();
    assert!(codes("forecast", &question).contains(&"nitrosamines".to_owned()));
}
