//! Disposal: properties of every projection of waste.

mod any_shop;
mod by_forecast;
mod calendar;
mod limits;
mod picture;
mod published;
mod refusals;
mod statement;
mod sumps;

use crate::{assert_near, number, service, solve};
use serde_json::{Value, json};

fn example() -> Value {
    serde_json::from_str(service("disposal").example).expect("an example is JSON")
}

fn solved(question: &Value) -> Value {
    solve("disposal", question).unwrap_or_else(|problem| panic!("{problem:?}\n{question}"))
}

/// The sums over the months are the total streams, and these are rows of the balance.
fn assert_traceable(record: &Value) {
    let months = record["answer"]["months"].as_array().expect("months");
    let rows = record["balance"]["streams"].as_array().expect("a balance");
    let row = |name: &str, column: &str| -> f64 {
        let rows = rows.iter().filter(|row| row["name"] == name);
        rows.map(|row| number(row, column)).sum()
    };
    for overall in record["answer"]["streams"].as_array().expect("streams") {
        let name = overall["stream"].as_str().expect("a name");
        for column in ["/volume", "/mass"] {
            let of_month = |month: &Value| -> f64 {
                let streams = month["streams"].as_array().expect("streams");
                let own = streams.iter().filter(|own| own["stream"] == name);
                own.map(|own| number(own, column)).sum()
            };
            let summed: f64 = months.iter().map(of_month).sum();
            let all = number(overall, column);
            assert_near(summed, all, 1e-9 * all.max(1.0));
            let words = name.replace('_', " ");
            let booked = row(&format!("{words}, taken away"), column)
                + row(&format!("{words}, on site"), column);
            assert_near(booked, all, 1e-9 * all.max(1.0));
        }
    }
    let sum = |member: &str| -> f64 { months.iter().map(|month| number(month, member)).sum() };
    for (member, name) in [("/water", "water bought"), ("/concentrate", "concentrate bought")] {
        let (summed, booked) = (sum(member), row(name, "/volume"));
        assert_near(summed, booked, 1e-9 * booked.max(1.0));
    }
    if record["answer"]["cost"].is_object() {
        assert_near(sum("/cost"), number(record, "/answer/cost/total"), 1e-6);
    }
}

/// The limits for the waste of a month: those of its category, or the shop's own.
fn limits_of<'a>(record: &'a Value, month: &Value) -> &'a Value {
    let limits = record["answer"]["storage"]["limits"].as_array().expect("limits");
    let rank = |category: &Value| {
        ["very_small", "small", "large"].iter().position(|name| category == name)
    };
    // A month below the requested category keeps the limits of that category.
    let own = rank(&month["category"]);
    limits.iter().find(|limit| rank(&limit["category"]) >= own).unwrap_or(&limits[0])
}

/// The waste on site never exceeds its limit, and none of it stays too long;
/// recalculated from the masses of the months.
fn assert_pickups_keep_the_limits(record: &Value) {
    const MONTH: f64 = 365.0 / 12.0;
    let months = record["answer"]["months"].as_array().expect("months");
    let mass = |limits: &Value| limits["mass"].as_f64().unwrap_or(f64::INFINITY) * (1.0 + 1e-9);
    let mut from = 0.0;
    let end = f64::from(u32::try_from(months.len()).expect("a few")) * MONTH;
    let above = record["answer"]["storage"]["days_above"].as_array().expect("days");
    let pickups = record["answer"]["pickups"].as_array().expect("pickups");
    let held = pickups.iter().map(|pickup| (number(pickup, "/day"), number(pickup, "/mass")));
    let last = months.last().map(|month| (end, number(month, "/on_site")));
    for (day, on_site) in held.chain(last) {
        for (month, i) in months.iter().zip(0_u32..) {
            let (begins, ends) = (f64::from(i) * MONTH, f64::from(i + 1) * MONTH);
            let first = begins.max(from);
            if first >= day.min(ends) - 1.0 || number(month, "/counted") == 0.0 {
                continue;
            }
            let limits = limits_of(record, month);
            let stays = day - first.floor();
            let days = limits["days"].as_f64().unwrap_or(f64::INFINITY);
            // Waste of changes on the last day is not there from the first.
            let lumped = number(month, "/changes") > 0.0;
            assert!(stays <= days + 1.0 || lumped, "{stays} days from {first}: {limits}");
            let said = above.iter().any(|above| above.as_f64() == Some(day));
            assert!(on_site <= mass(limits) || said, "{on_site} kg on day {day}: {limits}");
        }
        from = day;
    }
}

/// The demo shop's year in three ways of working, in both systems of units.
#[test]
fn the_demo_shop_in_three_ways_of_working() {
    let recycling = example();
    let mut by_calendar = example();
    by_calendar.as_object_mut().expect("an object").remove("recycler");
    let mut treating = by_calendar.clone();
    treating["treatment"] = json!({ "method": "ultrafiltration", "volume_reduction": 8 });
    let service = service("disposal");
    let mut counted = Vec::new();
    for question in [&by_calendar, &recycling, &treating] {
        let record = solved(question);
        assert_traceable(&record);
        assert_pickups_keep_the_limits(&record);
        let us = solved(&crate::support::units::in_us_units(service, question));
        crate::support::units::assert_same_in_us_units(service, &record, &us);
        let codes: Vec<&Value> =
            record["cautions"].as_array().expect("cautions").iter().map(|c| &c["code"]).collect();
        for code in ["waste-determination", "permit-before-the-sewer", "storage-and-transport"] {
            assert!(codes.contains(&&json!(code)), "{codes:?}");
        }
        let months = record["answer"]["months"].as_array().expect("months");
        counted.push(months.iter().map(|month| number(month, "/counted")).sum::<f64>());
    }
    assert!(counted[1] < 0.7 * counted[0] && counted[2] < 0.7 * counted[0], "{counted:?}");
}

/// The same seed gives the same bytes, another seed other bands, and the plain
/// answer lies among the draws.
#[test]
fn bands_come_from_the_seed_and_lie_around_the_answer() {
    let service = service("disposal");
    let mut question = example();
    // By forecast a draw can have a change in another month.
    question["groups"][1]["change"] = json!({ "habit": "calendar", "every_months": 5 });
    let bytes = || service.answer(question.to_string().as_bytes()).expect("an answer");
    assert_eq!(bytes(), bytes());
    let record = solved(&question);
    let mut other = question.clone();
    other["sampling"]["seed"] = 8.into();
    let bands = record["answer"]["bands"]["months"].as_array().expect("bands");
    assert_ne!(record["answer"]["bands"], solved(&other)["answer"]["bands"]);
    for (band, month) in bands.iter().zip(record["answer"]["months"].as_array().expect("months")) {
        let ([low, middle, high], plain) = (
            ["p10", "p50", "p90"].map(|p| number(&band["mass"], &format!("/{p}"))),
            number(month, "/mass"),
        );
        assert!(low <= middle && middle <= high);
        assert!((plain / middle - 1.0).abs() < 0.2, "{plain} beside {low}, {middle}, {high}");
        let shares = band["categories"].as_object().expect("shares").values();
        assert_near(shares.filter_map(Value::as_f64).sum(), 100.0, 1e-9);
    }
}

/// Changes that all fall on the last day of their month are there on that day.
#[test]
fn changes_on_the_last_day_are_picked_up_no_later_than_their_limit() {
    let mut question = example();
    question["storage"] = json!({ "days": 30, "mass": 4000, "changes_fall": "on_the_last_day" });
    let record = solved(&question);
    assert_pickups_keep_the_limits(&record);
    assert_traceable(&record);
}

/// Five thousand sumps, each with its own figures, get an answer by month and
/// stream and not by sump.
#[test]
fn many_sumps_have_a_short_answer() {
    let groups = (0..5000_u64).map(|i| {
        json!({
            "name": format!("sump {i}"),
            "volume": 80 + i % 500,
            "concentration": 5,
            "losses": { "evaporation": 4, "carry_off": 2 },
            "change": { "habit": "calendar", "every_months": 6 + i % 7, "first_month": 1 + i % 6 },
            "properties": { "chloride": 60 },
        })
    });
    let question = json!({ "units": "metric", "months": 120, "groups": groups.collect::<Value>() });
    let answer = service("disposal").answer(question.to_string().as_bytes()).expect("an answer");
    assert!(answer.len() < 100_000, "{} bytes", answer.len());
    assert_traceable(&serde_json::from_slice(&answer).expect("JSON"));
}
