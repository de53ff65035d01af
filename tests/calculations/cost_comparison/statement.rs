//! The statement and the findings of a comparison.

use super::example;
use crate::{number, solve};
use serde_json::{Value, json};
use sumpwright_engine::calculation::Calculation;
use sumpwright_engine::calculations::shop::cost_comparison::CostComparison;
use sumpwright_engine::quantity::UnitSystem;

/// The statement of the answer to a question in metric units.
fn told(question: &Value) -> String {
    let mut members = question.as_object().expect("an object").clone();
    members.retain(|name, _| name != "units" && name != "reference");
    let question: CostComparison = serde_json::from_value(members.into()).expect("a question");
    let answer = question.calculate().expect("an answer").answer;
    question.statement(&answer).show(UnitSystem::Metric)
}

/// Two options that each pay a fee.
fn fees(first: i64, second: i64) -> Value {
    let way = |name: &str, amount: i64| json!({ "name": name, "fees": [{ "name": "all in", "amount": amount, "per": "year" }] });
    json!({
        "units": "metric",
        "machines": [{
            "name": "mills", "count": 2, "volume": 50, "concentration": 5, "clean_outs_per_year": 0,
        }],
        "prices": {},
        "horizon_years": 4,
        "currency": "dollars",
        "ways": [way("by hand", first), way("by contract", second)],
    })
}

#[test]
fn the_cheapest_way_is_named_with_its_margin_and_what_would_change_it() {
    assert_eq!(
        told(&fees(5000, 4000)),
        "\"by contract\" is the cheapest at 4000 dollars a year, by 4000 dollars over 4 years \
         against \"by hand\". It stays so unless \"by hand: all in: amount\" falls by 20 %: then \
         \"by hand\" costs less."
    );
}

#[test]
fn ways_that_cost_the_same_are_said_to() {
    let expected =
        "\"by hand\" and \"by contract\" cost the same, 5000 dollars a year over 4 years.";
    assert_eq!(told(&fees(5000, 5000)), expected);
}

#[test]
fn one_way_alone_has_its_cost() {
    let mut question = fees(5000, 0);
    question["ways"].as_array_mut().expect("ways").pop();
    question["horizon_years"] = 1.into();
    question["discount_rate"] = 6.into();
    assert_eq!(
        told(&question),
        "\"by hand\" costs 5000 dollars a year over one year in money of now."
    );
}

#[test]
fn the_demo_shop_is_told_what_to_choose() {
    let record = solve("cost-comparison", &example()).expect("an answer");
    let cheapest = record["answer"]["cheapest"].as_str().expect("a way");
    let statement = told(&example());
    assert!(statement.starts_with(&format!("\"{cheapest}\" is the cheapest at ")), "{statement}");
    assert!(statement.contains(" It stays so "), "{statement}");
}

/// A comparison without exactly one internal rate of return has a finding, and so has one in
/// which the choice changes within the range of the inputs.
#[test]
fn rates_and_close_choices_are_found() {
    let codes = |record: &Value| -> Vec<String> {
        let findings = record["findings"].as_array().cloned().unwrap_or_default();
        findings.iter().map(|found| found["code"].as_str().unwrap_or_default().into()).collect()
    };
    let apart = solve("cost-comparison", &fees(5000, 4000)).expect("an answer");
    assert_eq!(codes(&apart), ["no-internal-rate"]);
    assert_eq!(apart["answer"]["sensitivity"]["choice_changes"], false);
    let close = solve("cost-comparison", &fees(5000, 4800)).expect("an answer");
    assert_eq!(codes(&close), ["choice-is-close", "no-internal-rate"]);
    assert_eq!(close["answer"]["sensitivity"]["choice_changes"], true);
    // Buying instead of paying a fee has exactly one rate, so there is no finding.
    let mut bought = fees(5000, 0);
    bought["ways"][1] = json!({ "name": "own", "purchases": [{ "name": "plant", "price": 9000 }] });
    let bought = solve("cost-comparison", &bought).expect("an answer");
    let rates = "/answer/ways/1/against_baseline/internal_rate/rates/0";
    assert!(number(&bought, rates) > 0.0);
    assert!(codes(&bought).is_empty(), "{:?}", codes(&bought));
}

#[test]
fn a_choice_that_no_input_changes_alone_is_said_to_stay() {
    let mut question = fees(5000, 4000);
    question["break_even"] = json!([]);
    let statement = told(&question);
    let expected = "It stays so where one input is off by 10 %.";
    assert!(statement.ends_with(expected), "{statement}");
    question["ways"][0]["fees"][0]["amount"] = json!(4200);
    let statement = told(&question);
    assert!(statement.contains("That is close: an input that is off by 10 %"), "{statement}");
}
