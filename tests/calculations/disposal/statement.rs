//! The statement of a projection.

use super::example;
use serde_json::{Value, json};
use sumpwright_engine::calculation::Calculation;
use sumpwright_engine::calculations::shop::disposal::Disposal;
use sumpwright_engine::quantity::UnitSystem;

/// The statement of the answer to a question in metric units.
fn told(question: &Value) -> String {
    let mut members = question.as_object().expect("an object").clone();
    members.retain(|name, _| name != "units" && name != "reference");
    let question: Disposal = serde_json::from_value(members.into()).expect("a question");
    let answer = question.calculate().expect("an answer").answer;
    question.statement(&answer).show(UnitSystem::Metric)
}

/// 1 L/day carried off and 100 L of wash water a month, all of it plain water.
fn shop() -> Value {
    json!({
        "units": "metric",
        "groups": [{
            "name": "mills", "volume": 100, "concentration": 0,
            "losses": { "evaporation": 2, "carry_off": 1 },
        }],
        "wash_water_per_month": 100,
    })
}

#[test]
fn the_waste_of_a_year_is_told_with_what_counts() {
    // 365 L carried off, 1,200 L of wash water, at 0.9982 kg/L.
    assert_eq!(told(&shop()), "1560 kg of waste in a year, 1200 kg of it counted.");
}

#[test]
fn the_cost_the_category_and_the_first_pickup_are_told() {
    let mut question = shop();
    question["months"] = 1.into();
    question["water"] = json!({ "price": 0.01 });
    question["streams"] = json!([{ "stream": "wash_water", "price_per_volume": 0.5 }]);
    question["storage"] = json!({ "rules": "by_month" });
    question["currency"] = "EUR".into();
    // 100 L at 0.5, and 100 + 91.25 L of water at 0.01.
    assert_eq!(
        told(&question),
        "130 kg of waste in one month, 99.8 kg of it counted, costing 51.9 EUR with what is \
         bought. Every month is that of a very small quantity generator. No pickup is needed in \
         that time."
    );
    question["storage"] = json!({ "mass": 50 });
    question["streams"][0]["price_per_volume"] = (-0.5).into();
    question["water"]["price"] = 0.into();
    // 99.8 kg over 30.4 days are 3.28 kg a day.
    assert_eq!(
        told(&question),
        "130 kg of waste in one month, 99.8 kg of it counted, earning 50 EUR. Have the waste \
         picked up by the end of day 15: 49.2 kg will be there."
    );
}

#[test]
fn nothing_and_too_much_at_once_are_told() {
    let mut question = shop();
    question.as_object_mut().expect("an object").remove("wash_water_per_month");
    question["groups"][0]["losses"]["carry_off"] = 0.into();
    question["months"] = 5.into();
    assert_eq!(told(&question), "No waste in 5 months.");
    let mut question = shop();
    question["groups"][0]["change"] = json!({ "habit": "calendar", "every_months": 12 });
    question["storage"] = json!({ "mass": 50, "changes_fall": "on_the_last_day" });
    let statement = told(&question);
    assert!(statement.ends_with("more waste arises than may be on site."), "{statement}");
    assert!(statement.contains("Share out the changes first: on day 365 "), "{statement}");
}

#[test]
fn the_demo_shop_is_told_its_highest_category() {
    let statement = told(&example());
    assert!(statement.contains(" quantity generator. Have the waste picked up by "), "{statement}");
}
