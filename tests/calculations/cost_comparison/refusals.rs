//! Cost comparisons that are refused, over HTTP.

use super::{ADDRESS, example};
use crate::assert_problem;
use crate::server::post;
use serde_json::{Value, json};

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
        ("/working_days_per_year", json!(400)),
        ("/vary_by", json!(0)),
        ("/ways/0/purchases/0/life_years", json!(0)),
        ("/ways/2/purchases/2/running/hours_per_year", json!(9000)),
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
