//! Projections and pickups against an independent simulation.

use super::streams::stream;
use super::{so_much_a_month, solved};
use crate::{assert_near, number};
use serde_json::{Value, json};

/// Forty shops simulated by scipy's `solve_ivp` and by pouring from vessel to
/// vessel (`disposal.py`).
#[test]
fn projections_agree_with_a_simulation_by_another_way() {
    let recorded: Value = serde_json::from_str(include_str!("../disposal.json")).expect("JSON");
    let shops = recorded["shops"].as_array().expect("shops");
    assert_eq!(shops.len(), 40);
    for shop in shops {
        let record = solved(&shop["request"]);
        let months = shop["expected"]["months"].as_array().expect("months");
        let answered = record["answer"]["months"].as_array().expect("months");
        assert_eq!(months.len(), answered.len());
        let near = |found: f64, expected: f64| {
            assert_near(found, expected, 1e-8 * expected.abs().max(1.0));
        };
        for (expected, found) in months.iter().zip(answered) {
            near(number(found, "/concentrate"), number(expected, "/concentrate"));
            near(number(found, "/water"), number(expected, "/water"));
            for stream in found["streams"].as_array().expect("streams") {
                let name = stream["stream"].as_str().expect("a name");
                let own = &expected["streams"][name];
                near(number(stream, "/volume"), number(own, "/0"));
                near(number(stream, "/mass"), number(own, "/1"));
            }
        }
        let end = &shop["expected"];
        near(
            stream(&record, "sumps at the end", "/carried/tramp_oil"),
            number(end, "/oil_at_the_end"),
        );
        near(
            stream(&record, "sumps at the end", "/carried/chloride"),
            number(end, "/salt_at_the_end"),
        );
    }
}

/// Forty plans whose fewest pickups were found by dynamic programming over all
/// days (`disposal.py`).
#[test]
fn no_plan_has_fewer_pickups() {
    let recorded: Value = serde_json::from_str(include_str!("../disposal.json")).expect("JSON");
    let plans = recorded["plans"].as_array().expect("plans");
    assert_eq!(plans.len(), 40);
    for plan in plans {
        // A sump for each month that is changed in that month and never again.
        let monthly = plan["monthly"].as_array().expect("months");
        let mut question = so_much_a_month(1.0);
        let groups = monthly.iter().zip(1..).map(|(mass, month)| {
            json!({
                "name": format!("month {month}"),
                "volume": mass.as_f64().expect("a mass") / 0.9982072,
                "concentration": 0,
                "losses": { "evaporation": 0, "carry_off": 0 },
                "change": { "habit": "calendar", "every_months": 240, "first_month": month },
            })
        });
        question["groups"] = groups.collect();
        question["months"] = monthly.len().into();
        question["storage"] = json!({ "mass": plan["mass"], "days": plan["days"] });
        let record = solved(&question);
        let pickups = record["answer"]["pickups"].as_array().expect("pickups");
        assert_eq!(pickups.len() as u64, plan["pickups"].as_u64().expect("a number"), "{plan}");
    }
}
