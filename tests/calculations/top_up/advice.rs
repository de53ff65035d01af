//! Advice of a top-up: nothing too strong is poured in, and no good fluid is thrown away.

use crate::draws::{any_document, held, near};
use crate::{assert_near, number, service, solve};
use proptest::prelude::*;
use serde_json::{Value, json};
use std::cell::Cell;
use sumpwright_openapi::document::question_name;

fn asked(question: &Value) -> Value {
    solve("top-up", question).unwrap_or_else(|problem| panic!("{problem:?}: {question}"))
}

fn codes(record: &Value) -> Vec<&str> {
    let findings = record["findings"].as_array().into_iter().flatten();
    findings.filter_map(|finding| finding["code"].as_str()).collect()
}

fn actions(record: &Value) -> Vec<&str> {
    let steps = record["answer"]["steps"].as_array().expect("steps");
    steps.iter().filter_map(|step| step["action"].as_str()).collect()
}

/// Common practice, no source: a premix is 20 % at most.
const PREMIX: f64 = 20.0;

#[test]
fn a_full_sump_that_is_lean_gets_a_premix_and_never_neat_concentrate() {
    let record = asked(&json!({
        "units": "metric",
        "sump": { "capacity": 200, "volume": 200, "concentration": 5 },
        "target": { "concentration": 8 },
    }));
    // By hand: 200·(8 − 5)/(20 − 5) litres leave, and as much comes in at 20 %.
    assert_near(number(&record, "/answer/drain"), 40.0, 1e-9);
    assert_near(number(&record, "/answer/premix/volume"), 40.0, 1e-9);
    assert_near(number(&record, "/answer/premix/concentration"), PREMIX, 1e-9);
    assert_near(number(&record, "/answer/premix/parts_of_water"), 4.0, 1e-9);
    assert_near(number(&record, "/answer/after/concentration"), 8.0, 1e-9);
    assert_eq!(actions(&record), ["drain", "pour", "stir_in", "add_premix", "reread"]);
}

#[test]
fn where_nothing_may_be_drained_it_says_how_near_a_premix_comes_and_what_it_would_take() {
    let record = asked(&json!({
        "units": "metric",
        "sump": { "capacity": 200, "volume": 196, "concentration": 5 },
        "target": { "concentration": 8 },
        "draining": "not_allowed",
    }));
    assert_near(number(&record, "/answer/premix/concentration"), PREMIX, 1e-9);
    // (196·5 + 4·20)/200.
    assert_near(number(&record, "/answer/after/concentration"), 5.3, 1e-9);
    assert_eq!(codes(&record), ["off-target"]);
    // 200·8 − 196·5 − 20·4 = 540 litre-percent are missing, 15 per litre drained.
    let text = record["findings"][0]["text"].as_str().expect("a text");
    assert!(text.contains("5.3 %") && text.contains("draining 36 L"), "{text}");
}

#[test]
fn a_full_sump_says_that_nothing_can_be_added() {
    let record = asked(&json!({
        "units": "metric",
        "sump": { "capacity": 200, "volume": 200, "concentration": 7 },
        "target": { "concentration": 8 },
        "draining": "not_allowed",
    }));
    assert!(actions(&record).is_empty());
    let text = record["findings"][0]["text"].as_str().expect("a text");
    assert!(text.starts_with("It is full"), "{text}");
}

#[test]
fn concentrate_without_water_is_not_poured_at_all() {
    let mut question = json!({
        "units": "metric",
        "sump": { "capacity": 200, "volume": 150, "concentration": 5 },
        "target": { "concentration": 8 },
        "stocks": [{ "name": "concentrate", "concentration": 100 }],
    });
    let problem = solve("top-up", &question).expect_err("there is no premix");
    assert_eq!((problem.status, problem.errors[0].pointer.as_str()), (422, "/stocks"));
    assert!(problem.detail.contains("Give the water too"), "{}", problem.detail);
    let stocks = question["stocks"].as_array_mut().expect("stocks");
    stocks.push(json!({ "name": "water", "concentration": 0 }));
    assert_near(number(&asked(&question), "/answer/premix/concentration"), 17.0, 1e-9);
}

#[test]
fn the_sheet_of_the_fluid_goes_first_and_a_stirred_tank_takes_concentrate() {
    let mut question = json!({
        "units": "metric",
        "sump": { "capacity": 200, "volume": 190, "concentration": 5 },
        "target": { "concentration": 8 },
        "premix_at_most": 10,
    });
    let record = asked(&question);
    // 1600 − 190·5 − 10·10 = 550, 5 a litre drained.
    assert_near(number(&record, "/answer/drain"), 110.0, 1e-9);
    question["premix_at_most"] = 50.into();
    assert_eq!(solve("top-up", &question).expect_err("no premix").status, 422);
    question.as_object_mut().expect("members").remove("premix_at_most");
    question["vessel"] = "stirred_tank".into();
    question["sump"]["volume"] = 193.0.into();
    let record = asked(&question);
    assert_eq!(number(&record, "/answer/drain"), 0.0);
    assert_eq!(actions(&record), ["pour", "stir_in", "reread"]);
    assert!(record["answer"]["steps"][1]["text"].as_str().expect("a text").contains("stirrer"));
}

#[test]
fn what_is_in_its_band_is_filled_up_and_not_drained() {
    let record = asked(&json!({
        "units": "metric",
        "sump": { "capacity": 260, "volume": 235, "concentration": 3.84 },
        "target": { "concentration": 3 },
        "band": { "low": 2.5, "high": 4 },
    }));
    assert_eq!(record["answer"]["standing"], "in_band");
    assert_eq!(number(&record, "/answer/drain"), 0.0);
    // 235·3.84/260, filled up with water.
    assert_near(number(&record, "/answer/after/concentration"), 235.0 * 3.84 / 260.0, 1e-9);
    assert_eq!(codes(&record), ["in-band-off-target"]);
    let over = asked(&json!({
        "units": "metric",
        "sump": { "capacity": 260, "volume": 255, "concentration": 3.84 },
        "target": { "concentration": 3, "volume": 240 },
        "band": { "low": 2.5, "high": 4 },
        "draining": "to_target",
    }));
    assert_eq!(number(&over, "/answer/drain"), 0.0);
    assert!(codes(&over).contains(&"level-left-alone"));
}

/// A sump that is too rich: weak make-up brings it back, on the same day as in `forecast`.
#[test]
fn what_is_too_rich_is_thinned_and_not_thrown_away() {
    let mut question = json!({
        "units": "metric",
        "sump": { "capacity": 220, "volume": 214, "concentration": 9.66 },
        "target": { "concentration": 6 },
        "band": { "low": 5, "high": 7 },
        "losses": { "evaporation": 8, "carry_off": 5 },
    });
    let record = asked(&question);
    assert_eq!(record["answer"]["standing"], "above");
    assert_eq!(number(&record, "/answer/drain"), 0.0);
    assert_eq!(codes(&record), ["too-rich"]);
    assert_near(number(&record, "/answer/weak_make_up/at_most"), 7.0 * 5.0 / 13.0, 1e-9);
    let back = number(&record, "/answer/weak_make_up/back_in_days");
    let forecast = solve(
        "forecast",
        &json!({
            "units": "metric",
            "sump": {
                "capacity": 220, "volume": 220,
                "concentration": record["answer"]["after"]["concentration"],
            },
            "losses": question["losses"],
            "feeding": { "when": "always", "with": { "kind": "premix", "concentration": 0 } },
            "days": 30,
        }),
    );
    let forecast = forecast.unwrap_or_else(|problem| panic!("{problem:?}"));
    let days = forecast["answer"]["series"].as_array().expect("days");
    let strength = |day: usize| number(&days[day], "/concentration");
    let whole = days.iter().position(|day| number(day, "/concentration") <= 7.0).expect("it comes");
    // Between two whole days it falls along an exponential.
    let fall = (strength(whole - 1) / 7.0).ln() / (strength(whole - 1) / strength(whole)).ln();
    let before = number(&days[whole - 1], "/day");
    assert_near(back, before + fall, 1e-6);

    question["draining"] = "to_target".into();
    let drained = asked(&question);
    assert!(number(&drained, "/answer/drain") > 0.0);
    assert_eq!(actions(&drained)[0], "draw_off");
}

#[test]
fn strengths_that_no_working_sump_has_are_asked_back() {
    for strength in [0.06, 51.3] {
        let record = asked(&json!({
            "units": "metric",
            "sump": { "capacity": 200, "volume": 150, "concentration": strength },
            "target": { "concentration": 8 },
        }));
        let findings = record["findings"].as_array().expect("findings");
        let found = findings.iter().find(|finding| finding["code"] == "strength-unusual");
        assert_eq!(found.expect("a finding")["severity"], "act");
        assert_eq!(findings[0]["code"], "strength-unusual");
        // Whoever sees the statement alone, in a cell, reads the doubt before any amount.
        let statement = record["statement"].as_str().expect("a statement");
        let rest = statement.strip_prefix(findings[0]["text"].as_str().expect("a text"));
        assert!(rest.expect("the doubt first").starts_with(" If it is right: "), "{statement}");
    }
}

#[test]
fn water_recycled_fluid_and_concentrate_have_texts_of_their_own() {
    let record = asked(&json!({
        "units": "metric",
        "sump": { "capacity": 200, "volume": 100, "concentration": 6 },
        "target": { "concentration": 8 },
        "stocks": [
            { "name": "concentrate", "concentration": 100 },
            { "name": "recycled", "concentration": 5, "volume": 40 },
            { "name": "deionised water", "concentration": 0 },
        ],
    }));
    for step in record["answer"]["steps"].as_array().expect("steps") {
        let of_concentrate =
            step["text"].as_str().expect("a text").contains("concentrate into water");
        assert_eq!(of_concentrate, step["name"] == "concentrate", "{step}");
    }
    let cautions = asked(&json!({
        "units": "metric",
        "sump": { "capacity": 200, "volume": 150, "concentration": 9 },
        "target": { "concentration": 6.75 },
    }));
    let cautions = cautions["cautions"].as_array().expect("cautions");
    assert!(cautions.iter().all(|caution| caution["code"] != "concentrate-on-skin"), "only water");
}

/// Over a thousand questions from the schema and as many around the example: nothing
/// above the bound is poured into a sump, and nothing in its band is drained.
#[test]
fn no_advice_leaves_the_bounds_of_the_trade() {
    let example: Value = serde_json::from_str(service("top-up").example).expect("JSON");
    let mut banded = example.clone();
    banded["band"] = json!({ "low": 6.5, "high": 9 });
    banded["losses"] = json!({ "evaporation": 5, "carry_off": 3 });
    let questions = prop_oneof![
        any_document(&question_name("top-up")),
        near(&example),
        near(&banded),
        near(&banded)
    ];
    let (answered, in_band) = (Cell::new(0), Cell::new(0));
    let result = held(4000, questions, |question| {
        let Ok(record) = solve("top-up", &question) else { return Ok(()) };
        answered.set(answered.get() + 1);
        let is_sump = question["vessel"] != "stirred_tank";
        let bound = question["premix_at_most"].as_f64().unwrap_or(PREMIX);
        for step in record["answer"]["steps"].as_array().expect("steps") {
            let poured = ["pour_in", "add_premix"].iter().any(|kind| step["action"] == *kind);
            if is_sump && poured {
                let strength = step["concentration"].as_f64().expect("a strength");
                prop_assert!(strength <= bound * (1.0 + 1e-9), "{step}");
            }
        }
        let is_in_band = record["answer"]["standing"] == "in_band";
        if is_in_band {
            in_band.set(in_band.get() + 1);
            prop_assert_eq!(number(&record, "/answer/drain"), 0.0);
            let after = number(&record, "/answer/after/concentration");
            let ends = ["low", "high"].map(|end| number(&question, &format!("/band/{end}")));
            prop_assert!(after >= ends[0] - 1e-8 && after <= ends[1] + 1e-8, "{after} {ends:?}");
        }
        Ok(())
    });
    result.unwrap_or_else(|error| panic!("{error}"));
    assert!(answered.get() > 1000, "only {} were answered", answered.get());
    assert!(in_band.get() > 100, "only {} were in their band", in_band.get());
}
