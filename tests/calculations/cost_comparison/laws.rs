//! Properties of a cost comparison that hold for any shop.

use crate::draws::held;
use crate::{number, solve};
use proptest::prelude::*;
use serde_json::{Value, json};
use std::cell::Cell;

prop_compose! {
    /// An option with every kind of expense.
    fn any_way()(
        ratio in 0.1..1.5_f64,
        recovered in 0.0..95.0_f64,
        wash in 0.0..60.0_f64,
        price in 100.0..40_000.0_f64,
        life in 1..12_u32,
        after in 0..2_u32,
        running in (0.1..3.0_f64, 0.0..900.0_f64, 0.5..9.0_f64, 0.1..5.0_f64, 2.0..40.0_f64),
        work in (0.2..6.0_f64, 0.1..30.0_f64),
        fee in 1.0..400.0_f64,
    ) -> Value {
        json!({
            "name": "one",
            "clean_out_ratio": ratio,
            "recovered": recovered,
            "wash_water": wash,
            "idle_hours": work.0,
            "purchases": [{
                "name": "unit", "price": price, "serves": "each_machine", "life_years": life,
                "residual": price * 0.1, "bought_after_years": after,
                "running": {
                    "hours_per_clean_out": running.0, "hours_per_year": running.1,
                    "power": running.2, "fuel": running.3, "upkeep": running.3,
                    "media": [
                        { "name": "bag", "price": 30, "life_weeks": running.4 },
                        { "name": "cartridge", "price": 50, "count": 2, "life_hours": 25.5 },
                    ],
                },
            }],
            "labour": [
                { "name": "clean out", "hours": work.0, "per": "clean_out" },
                { "name": "tend", "hours": work.1, "per": "machine_year" },
            ],
            "fees": [{ "name": "tests", "amount": fee, "per": "machine_year" }],
        })
    }
}

prop_compose! {
    /// Two options for a shop in which every expense is per machine.
    fn any_shop()(
        machines in proptest::collection::vec((1..9_u32, 20.0..900.0_f64, 2.0..12.0_f64, 0.5..12.0_f64), 1..4),
        prices in proptest::collection::vec(0.01..50.0_f64, 7),
        ways in (any_way(), any_way()),
        years in 2..20_u32,
        rate in 0.0..20.0_f64,
    ) -> Value {
        let groups = machines.iter().enumerate().map(|(i, (count, volume, strength, times))| json!({
            "name": format!("group {i}"), "count": count, "volume": volume,
            "concentration": strength, "clean_outs_per_year": times,
            "losses": { "evaporation": volume * 0.02, "carry_off": volume * 0.01,
                        "depletion_ratio": 1.1 },
        }));
        let names =
            ["concentrate", "water", "disposal", "labour", "idle_machine", "electricity", "fuel"];
        let prices: serde_json::Map<String, Value> =
            names.iter().zip(&prices).map(|(name, price)| ((*name).to_owned(), json!(price))).collect();
        let mut other = ways.1;
        other["name"] = json!("other");
        json!({
            "units": "metric", "machines": groups.collect::<Vec<_>>(), "prices": prices,
            "ways": [ways.0, other], "horizon_years": years, "discount_rate": rate,
        })
    }
}

fn compared(question: &Value) -> Value {
    solve("cost-comparison", question).expect("it can be compared")
}

/// The number in an amount.
fn bare(amount: &Value) -> f64 {
    let members = amount.as_object().expect("an amount");
    assert_eq!(members.len(), 1);
    members.values().next().and_then(Value::as_f64).expect("a number")
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 100, failure_persistence: None, ..Default::default() })]

    #[test]
    fn costs_grow_with_the_machines_where_all_is_for_each(question in any_shop(), times in 2..5_u32) {
        let before = compared(&question);
        let mut more = question;
        for group in more["machines"].as_array_mut().expect("groups") {
            group["count"] = json!(group["count"].as_u64().expect("a count") * u64::from(times));
        }
        let after = compared(&more);
        for way in 0..2 {
            let cost = |record| number(record, &format!("/answer/ways/{way}/cost_per_year"));
            let (before, after) = (cost(&before), cost(&after));
            prop_assert!((after - before * f64::from(times)).abs() <= 1e-9 * after.abs());
        }
    }

    #[test]
    fn the_same_numbers_cost_the_same(question in any_shop()) {
        let mut question = question;
        question["ways"][1] = question["ways"][0].clone();
        question["ways"][1]["name"] = json!("twin");
        question["break_even"] = json!([{ "inputs": ["/prices/disposal"], "way": "twin" }]);
        let record = compared(&question);
        let twin = &record["answer"]["ways"][1]["against_baseline"];
        prop_assert_eq!(number(twin, "/npv"), 0.0);
        prop_assert_eq!(&twin["payback"]["verdict"], "nothing_to_pay_back");
        prop_assert_eq!(twin["internal_rate"]["rates"].as_array().map(Vec::len), Some(0));
        prop_assert_eq!(&record["answer"]["break_even"][0]["verdict"], "always_equal");
        prop_assert_eq!(&record["answer"]["cheapest"], "one");
    }

    #[test]
    fn without_interest_a_present_cost_is_the_plain_sum(question in any_shop()) {
        let mut question = question;
        question["discount_rate"] = json!(0);
        let record = compared(&question);
        for way in record["answer"]["ways"].as_array().expect("ways") {
            let years = way["years"].as_array().expect("years");
            let sum: f64 =
                years.iter().map(|y| number(y, "/purchases") + number(y, "/running")).sum();
            let cost = number(way, "/present_cost");
            prop_assert!((sum - cost).abs() <= 1e-9 * cost.abs());
            let level = number(way, "/cost_per_year") * number(&question, "/horizon_years");
            prop_assert!((level - cost).abs() <= 1e-9 * cost.abs());
        }
    }

    /// The cost of a year is the sum of its headings, for any comparison.
    #[test]
    fn headings_add_up(question in any_shop()) {
        let record = compared(&question);
        for way in record["answer"]["ways"].as_array().expect("ways") {
            let headings = way["cost_per_year_by_heading"].as_object().expect("headings");
            let sum: f64 = headings.values().filter_map(Value::as_f64).sum();
            let cost = number(way, "/cost_per_year");
            prop_assert!((sum - cost).abs() <= 1e-9 * cost.abs());
        }
    }

    #[test]
    fn recycling_buys_no_more_water_and_disposes_of_no_more(question in any_shop()) {
        let mut question = question;
        let mut calendar = question["ways"][0].clone();
        calendar["name"] = json!("calendar");
        calendar.as_object_mut().expect("a way").remove("recovered");
        question["ways"][1] = calendar;
        let record = compared(&question);
        for figure in ["water", "concentrate", "disposed"] {
            let litres = |way| number(&record, &format!("/answer/ways/{way}/fluid/{figure}"));
            prop_assert!(litres(0) <= litres(1) * (1.0 + 1e-12), "{}", figure);
        }
        let fluid = |figure| number(&record, &format!("/answer/ways/0/fluid/{figure}"));
        prop_assert!(fluid("disposed") <= fluid("water") + fluid("concentrate"));
    }
}

/// With a break-even value put back into the request, both options cost the same.
#[test]
fn a_break_even_put_back_makes_two_ways_even() {
    let put_back = Cell::new(0);
    let result = held(25, any_shop(), |question| {
        let mut question = question;
        let inputs = [
            "/prices/labour",
            "/prices/disposal",
            "/ways/1/purchases/0/price",
            "/ways/1/purchases/0/running/media/0/life_weeks",
            "/ways/1/clean_out_ratio",
            "/ways/1/recovered",
            "/discount_rate",
            "/machines/0/volume",
        ];
        let asked = inputs.iter().map(|input| json!({ "inputs": [input], "way": "other" }));
        let inputs = ["/ways/1/idle_hours", "/prices/idle_machine"];
        let together = json!({ "inputs": inputs, "way": "other" });
        question["break_even"] = asked.chain([together]).collect();
        let record = compared(&question);
        for even in record["answer"]["break_even"].as_array().expect("a list") {
            let points = even["at"].as_array().expect("points");
            prop_assert!(even["verdict"] != "one" || points.len() == 1);
            for point in points {
                let record = compared(&put_back_into(&question, even, point));
                let cost = |way| number(&record, &format!("/answer/ways/{way}/present_cost"));
                let (one, other) = (cost(0), cost(1));
                prop_assert!((one - other).abs() <= 1e-9 * one.abs(), "{one} {other} {even}");
                put_back.set(put_back.get() + 1);
            }
        }
        Ok(())
    });
    result.expect("every break-even makes the two ways even");
    assert!(put_back.get() > 50, "only {} were put back", put_back.get());
}

/// The question with its inputs set to the values at which two options should cost the same.
fn put_back_into(question: &Value, even: &Value, point: &Value) -> Value {
    let mut changed = question.clone();
    changed["break_even"].take();
    for (i, input) in even["inputs"].as_array().expect("inputs").iter().enumerate() {
        let place = changed.pointer_mut(input.as_str().expect("a pointer")).expect("a number");
        *place = match i {
            0 => json!(bare(&point["value"])),
            _ => json!(place.as_f64().expect("a number") * number(point, "/factor")),
        };
    }
    changed
}
