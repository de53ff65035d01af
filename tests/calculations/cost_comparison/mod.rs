//! Cost comparison: the balance, break-even points, dates and the chart.

mod laws;
mod published;
mod refusals;
mod statement;

use crate::server::request;
use crate::{assert_near, number, service, solve};
use serde_json::{Value, json};

const ADDRESS: &str = "/v1/cost-comparison";

fn example() -> Value {
    serde_json::from_str(service("cost-comparison").example).expect("an example is JSON")
}

/// Every quantity of fluid is in a row of the balance.
#[test]
fn every_litre_is_in_a_row_of_the_balance() {
    let record = solve("cost-comparison", &example()).expect("an answer");
    let row = |name: &str, column: &str| {
        let streams = record["balance"]["streams"].as_array().expect("streams");
        let found = streams.iter().find(|stream| stream["name"] == name);
        found.map_or(0.0, |stream| number(stream, column))
    };
    for way in record["answer"]["ways"].as_array().expect("ways") {
        let name = way["name"].as_str().expect("a name");
        for (figure, stream) in [
            ("concentrate", "concentrate"),
            ("water", "water"),
            ("disposed", "disposed"),
            ("recovered", "recovered, put back"),
        ] {
            let found = number(way, &format!("/fluid/{figure}"));
            assert_eq!(found, row(&format!("{name}: {stream}"), "/volume"), "{name}: {figure}");
        }
    }
}

/// By default the five inputs that the choice depends on most are examined; with one of
/// them changed beyond its break-even, the two options change places.
#[test]
fn what_the_choice_depends_on_changes_it_where_it_breaks_even() {
    let mut question = example();
    question.as_object_mut().unwrap().remove("break_even");
    let record = solve("cost-comparison", &question).expect("an answer");
    let sensitivity = &record["answer"]["sensitivity"];
    let break_even = record["answer"]["break_even"].as_array().expect("a list");
    assert_eq!(break_even.len(), 5);
    for (input, even) in sensitivity["inputs"].as_array().unwrap().iter().zip(break_even) {
        assert_eq!(input["input"], even["inputs"][0]);
        let factor = number(even, "/at/0/factor");
        let changes = input.get("cheapest_low").is_some() || input.get("cheapest_high").is_some();
        assert_eq!(changes, (0.9..=1.1).contains(&factor), "{input:#} {even:#}");
    }
}

#[test]
fn dates_are_looked_at_year_by_year() {
    let mut question = example();
    question["break_even"] = json!([
        { "inputs": ["/ways/2/purchases/2/life_years"], "way": "treatment on site" },
        { "inputs": ["/discount_rate"], "way": "treatment on site" },
    ]);
    let record = solve("cost-comparison", &question).expect("an answer");
    let life = &record["answer"]["break_even"][0];
    assert_eq!(life["verdict"], "found", "{life:#}");
    let (below, above) = (number(life, "/at/0/whole_below"), number(life, "/at/0/whole_above"));
    assert_eq!(above - below, 1.0);
    let cheaper = |years: f64| {
        let mut question = question.clone();
        question["ways"][2]["purchases"][2]["life_years"] = json!(years);
        let record = solve("cost-comparison", &question).expect("an answer");
        number(&record, "/answer/ways/2/present_cost")
            < number(&record, "/answer/ways/0/present_cost")
    };
    assert!(!cheaper(below) && cheaper(above));
    assert_eq!(life["at"][0]["cheaper_above"], "treatment on site");
    // The rate at which the two cost the same is the internal rate of the one
    // against the other.
    let rate = number(&record, "/answer/break_even/1/at/0/value/share");
    let rates = &record["answer"]["ways"][2]["against_baseline"]["internal_rate"];
    assert_eq!(rates["proven"], true);
    assert_near(rate, number(rates, "/rates/0"), 1e-9);
}

#[test]
fn the_sums_spent_can_be_drawn_with_their_crossings() {
    let drawn = request("POST", ADDRESS).header("accept", "image/svg+xml").json(&example());
    let drawn = drawn.send().expect("a picture").text().expect("SVG");
    for way in example()["ways"].as_array().expect("ways") {
        assert!(drawn.contains(way["name"].as_str().expect("a name")), "{way}");
    }
    assert!(drawn.contains(" overtakes "));
    assert!(drawn.contains("spent so far, dollars"), "the axis names the currency");
}

/// Two ways change places at the same time and in the same direction, whichever is listed first.
#[test]
fn crossings_do_not_depend_on_the_order_of_the_ways() {
    let mut question = example();
    question.as_object_mut().expect("an object").remove("break_even");
    let told = |question: &Value| {
        let record = solve("cost-comparison", question).expect("an answer");
        record["answer"]["crossings"].clone()
    };
    let crossings = told(&question);
    assert!(crossings.as_array().is_some_and(|crossings| !crossings.is_empty()), "{crossings}");
    question["ways"].as_array_mut().expect("ways").reverse();
    assert_eq!(told(&question), crossings);
}
