//! Ways of working side by side: refusals over HTTP, what an answer holds, and the picture.

mod laws;
mod published;

use crate::assert_problem;
use crate::server::{post, request};
use crate::{assert_near, number, service, solve};
use serde_json::{Value, json};

const ADDRESS: &str = "/v1/cost-comparison";

fn example() -> Value {
    serde_json::from_str(service("cost-comparison").example).expect("an example is JSON")
}

/// Asserts that the example, changed at each pointer, is refused there.
#[track_caller]
fn assert_refused(slug: &str, changes: &[(&str, Value)], pointers: &[&str]) -> Value {
    let mut question = example();
    for (pointer, value) in changes {
        let (parent, member) = pointer.rsplit_once('/').expect("a pointer");
        let parent = question.pointer_mut(parent).expect("a place in the example");
        match (parent, value) {
            (Value::Object(members), Value::Null) => drop(members.remove(member)),
            (parent, value) if parent.is_object() => parent[member] = value.clone(),
            (parent, value) => parent[member.parse::<usize>().expect("a place")] = value.clone(),
        }
    }
    assert_problem(post(ADDRESS, &question), 422, slug, pointers)
}

#[test]
fn numbers_that_cannot_be_are_refused_where_they_stand() {
    for years in [0, 101] {
        assert_refused("out-of-range", &[("/horizon_years", json!(years))], &["/horizon_years"]);
    }
    let changes = [
        ("/working_days_a_year", json!(400)),
        ("/vary_by", json!(0)),
        ("/ways/0/purchases/0/life_years", json!(0)),
        ("/ways/2/purchases/2/running/hours_a_year", json!(9000)),
        ("/ways/2/purchases/2/running/media/0/life_hours", json!(0)),
    ];
    let pointers = changes.each_ref().map(|(pointer, _)| *pointer);
    assert_refused("out-of-range", &changes, &pointers);
}

#[test]
fn a_comparison_that_contradicts_itself_is_refused_all_at_once() {
    let changes = [
        ("/machines/1/name", json!("lathes")),
        ("/machines/0/losses/depletion_ratio", json!(20)),
        ("/ways/3/name", json!("hired tanker")),
        ("/baseline", json!("pump and drum")),
        ("/ways/0/purchases/0/residual", json!(20000)),
        ("/ways/0/purchases/1/bought_after_years", json!(9)),
        ("/ways/0/purchases/0/running/media/0/life_hours", json!(50)),
        ("/ways/2/purchases/0/running/media/0/life_weeks", Value::Null),
        ("/break_even/0/way", json!("leave it")),
    ];
    let pointers = [
        "/machines/1/name",
        "/machines/0/losses/depletion_ratio",
        "/ways/3/name",
        "/baseline",
        "/ways/0/purchases/0/residual",
        "/ways/0/purchases/0/running/media/0/life_weeks",
        "/ways/0/purchases/1/bought_after_years",
        "/ways/2/purchases/0/running/media/0/life_weeks",
        "/break_even/0/way",
        "/break_even/1/way",
    ];
    let problem = assert_refused("inconsistent", &changes, &pointers);
    let told = problem["errors"].to_string();
    assert!(told.contains("Did you mean \\\"pump and drums\\\"?"), "{told}");
}

#[test]
fn a_shop_without_machines_has_nothing_to_look_after() {
    let none = ["/machines/0/count", "/machines/1/count", "/machines/2/count"];
    assert_refused("inconsistent", &none.map(|count| (count, json!(0))), &["/machines"]);
}

#[test]
fn what_is_used_must_have_a_price() {
    let prices =
        ["concentrate", "water", "disposal", "labour", "idle_machine", "electricity", "fuel"];
    let pointers = prices.map(|price| format!("/prices/{price}"));
    let pointers: Vec<&str> = pointers.iter().map(String::as_str).collect();
    let changes: Vec<(&str, Value)> = pointers.iter().map(|price| (*price, Value::Null)).collect();
    assert_refused("not-identifiable", &changes, &pointers);
}

#[test]
fn a_break_even_that_cannot_be_asked_is_refused() {
    let drums = "/ways/0/purchases/1/count";
    let refused = |question: Value, pointers: &[&str]| {
        assert_refused("inconsistent", &[("/break_even/0", question)], pointers)
    };
    let way = "hired tanker";
    let problem = refused(
        json!({ "inputs": ["/ways/0/purchases/1/cont"], "way": way }),
        &["/break_even/0/inputs/0"],
    );
    assert!(problem["errors"][0]["detail"].as_str().unwrap().contains(drums), "{problem}");
    refused(json!({ "inputs": [drums], "way": way, "against": way }), &["/break_even/0/way"]);
    refused(json!({ "inputs": ["/prices/water", drums], "way": way }), &["/break_even/0/inputs/1"]);
    refused(
        json!({ "inputs": ["/ways/0/purchases/2/price", "/ways/0/purchases/0/price"], "way": way }),
        &["/break_even/0/inputs/0"],
    );
    refused(
        json!({ "inputs": ["/prices/water", "/prices/water"], "way": way }),
        &["/break_even/0/inputs/1"],
    );
    // A number that the request does not hold cannot be changed either.
    refused(json!({ "inputs": ["/vary_by"], "way": way }), &["/break_even/0/inputs/0"]);
}

/// Every figure of fluid stands in a row of the balance.
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

/// With nothing asked, the five inputs that the choice hangs on are looked at,
/// and varied as far as they break even the two ways change places.
#[test]
fn what_the_choice_hangs_on_flips_it_where_it_breaks_even() {
    let mut question = example();
    question.as_object_mut().unwrap().remove("break_even");
    let record = solve("cost-comparison", &question).expect("an answer");
    let hangs_on = &record["answer"]["hangs_on"];
    let break_even = record["answer"]["break_even"].as_array().expect("a list");
    assert_eq!(break_even.len(), 5);
    for (input, even) in hangs_on["inputs"].as_array().unwrap().iter().zip(break_even) {
        assert_eq!(input["input"], even["inputs"][0]);
        let factor = number(even, "/at/0/factor");
        let flips = input.get("cheapest_low").is_some() || input.get("cheapest_high").is_some();
        assert_eq!(flips, (0.9..=1.1).contains(&factor), "{input:#} {even:#}");
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
    assert!(drawn.contains("two ways are even"));
}
