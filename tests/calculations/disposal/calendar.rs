//! Waste by the working calendar.

use super::solved;
use crate::server::post;
use crate::{assert_near, assert_problem, number};
use serde_json::{Value, json};

/// 2026-03-02 was a Monday. A month is 365/12 days, so the first of them ends on 1 April, a
/// Wednesday, with 5/12 of it: of its days 22 5/12 are worked, one less with the holiday.
fn question(change: impl FnOnce(&mut Value)) -> Value {
    let mut question = json!({
        "units": "metric", "months": 1,
        "groups": [{
            "name": "lathes", "count": 2, "volume": 200, "concentration": 8,
            "losses": { "evaporation": 9, "carry_off": 6 }, "standing": 2,
            "oil_leak": { "rate": 0.1, "skimmed": 100 },
        }],
        "calendar": { "day_zero": "2026-03-02", "holidays": ["2026-03-18"] },
    });
    change(&mut question);
    question
}

fn plain(question: &mut Value) {
    question.as_object_mut().expect("an object").remove("calendar");
    question["groups"][0].as_object_mut().expect("a group").remove("standing");
}

fn stream(record: &Value, name: &str) -> f64 {
    let rows = record["balance"]["streams"].as_array().expect("a balance");
    let row = rows.iter().find(|row| row["name"] == name);
    number(row.unwrap_or_else(|| panic!("no {name} in {rows:#?}")), "/volume")
}

#[test]
fn a_month_has_the_losses_of_its_days_of_work() {
    const MONTH: f64 = 365.0 / 12.0;
    let worked = 21.0 + 5.0 / 12.0;
    let record = solved(&question(|_| {}));
    let evaporated = 2.0 * (9.0 * worked + 2.0 * (MONTH - worked));
    assert_near(stream(&record, "evaporated"), evaporated, 1e-9);
    assert_near(stream(&record, "tramp oil leaked in"), 2.0 * 0.1 * worked, 1e-9);
    let concentrate = 2.0 * 6.0 * 0.08 * worked;
    assert_near(stream(&record, "concentrate bought"), concentrate, 1e-9);
    let mut streams = record["answer"]["months"][0]["streams"].as_array().expect("streams").iter();
    let carried = streams.find(|row| row["stream"] == "carried_off").expect("carried off");
    assert_near(number(carried, "/volume"), 2.0 * 6.0 * worked, 1e-9);
    // A month without the calendar has all its days.
    let record = solved(&question(plain));
    assert_near(stream(&record, "evaporated"), 2.0 * 9.0 * MONTH, 1e-9);
}

/// In the month of the shutdown there is less waste, and the limit is reached later.
#[test]
fn a_shutdown_puts_changes_off() {
    let changed = |calendar: Value| {
        let record = solved(&question(|q| {
            q["months"] = 12.into();
            q["calendar"] = calendar;
            let group = &mut q["groups"][0];
            group["oil_leak"] = json!({ "rate": 0.2 });
            group["losses"]["carry_off"] = 0.5.into();
            group["change"] =
                json!({ "habit": "forecast", "limits": { "tramp_oil": { "max": 5 } } });
        }));
        let months = record["answer"]["months"].as_array().expect("months");
        let carried: Vec<f64> = months
            .iter()
            .map(|month| {
                let mut streams = month["streams"].as_array().expect("streams").iter();
                let row = streams.find(|row| row["stream"] == "carried_off");
                row.map_or(0.0, |row| number(row, "/mass"))
            })
            .collect();
        (months.iter().position(|month| month["changes"] != 0), carried)
    };
    let (first, _) = changed(json!({ "day_zero": "2026-03-02" }));
    // The second month runs from 1 April to 1 May.
    let shut = json!([{ "from": "2026-04-02", "to": "2026-04-30" }]);
    let (later, carried) = changed(json!({ "day_zero": "2026-03-02", "shutdowns": shut }));
    assert!(first < later, "{first:?}, {later:?}");
    assert!(carried[1] < 0.1 * carried[0], "{carried:?}");
}

/// A calendar in which every day is one of work answers as none.
#[test]
fn a_shop_that_never_rests_needs_no_calendar() {
    let week = ["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"];
    let year = |change: fn(&mut Value)| {
        question(|q| {
            q["months"] = 12.into();
            q["groups"][0]["change"] = json!({ "habit": "calendar", "every_months": 5 });
            change(q);
        })
    };
    let mut always = year(|_| {});
    always["calendar"] = json!({ "day_zero": "2026-03-02", "weekdays": week });
    let (always, none) = (solved(&always), solved(&year(plain)));
    for (path, leaf) in sumpwright_openapi::flat::flatten(&none["answer"]) {
        let found =
            sumpwright_openapi::flat::pick(&always["answer"], &path).expect("the same leaf");
        match (found.as_f64(), leaf.as_f64()) {
            (Some(found), Some(leaf)) => assert_near(found, leaf, 1e-12 * leaf.abs()),
            _ => assert_eq!(found, leaf, "{path}"),
        }
    }
}

#[test]
fn a_calendar_without_a_date_is_refused() {
    let refused = |pointer: &str, question: Value| {
        assert_problem(post("/v1/disposal", &question), 422, "inconsistent", &[pointer]);
    };
    refused("/calendar/day_zero", question(|q| q["calendar"] = json!({})));
    refused(
        "/groups/0/standing",
        question(|q| {
            q.as_object_mut().expect("an object").remove("calendar");
        }),
    );
}
