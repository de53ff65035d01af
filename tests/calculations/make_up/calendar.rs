//! Make-up by the working calendar.

use crate::server::post;
use crate::{assert_near, assert_problem, number, solve};
use serde_json::{Value, json};

/// 2026-03-02 was a Monday, and so is the last of the 365 days from it: with a holiday on a
/// Wednesday 260 of them are worked, and the machine stands on 105.
fn question(change: impl FnOnce(&mut Value)) -> Value {
    let mut question = json!({
        "units": "metric",
        "sump": { "volume": 200, "concentration": 8, "properties": { "hardness": 100 } },
        "losses": { "evaporation": 9, "carry_off": 6 },
        "standing": 2,
        "calendar": { "day_zero": "2026-03-02", "holidays": ["2026-05-20"] },
        "water": { "properties": { "hardness": 100 } },
        "limits": { "hardness": { "max": 200 } },
    });
    change(&mut question);
    question
}

/// By hand: a day of work loses its own 9 + 6 L, and 105/260 of the 2 L of a day at rest come to it.
/// Hardness settles at m·s_w/d, and is at its limit as in days of work, 365/260 times as far off.
#[test]
fn a_day_of_work_makes_up_for_the_days_at_rest() {
    let record = solve("make-up", &question(|_| {})).expect("an answer");
    let m = 15.0 + 2.0 * 105.0 / 260.0;
    assert_near(number(&record, "/answer/daily/volume"), m, 1e-9);
    assert_near(number(&record, "/answer/daily/concentrate"), 0.48, 1e-9);
    assert_near(number(&record, "/answer/concentration"), 48.0 / m, 1e-9);
    let end = m * 100.0 / 6.0;
    assert_near(number(&record, "/answer/properties/hardness/settles_at"), end, 1e-9);
    let of_work = -200.0 / 6.0 * f64::ln((200.0 - end) / (100.0 - end));
    let day = number(&record, "/answer/properties/hardness/passes_limit_day");
    assert_near(day, of_work * 365.0 / 260.0, 1e-9);
    let statement = record["statement"].as_str().expect("a statement");
    assert!(statement.contains("on each day of work"), "{statement}");
    let assumed = record["assumptions"].to_string();
    assert!(assumed.contains("one in 1.4 days"), "{assumed}");
}

/// What a year of days of work is fed is what a forecast of that year feeds to hold the level.
#[test]
fn a_year_of_make_up_is_that_of_a_forecast() {
    let record = solve("make-up", &question(|_| {})).expect("an answer");
    let year = question(|q| {
        let members = q.as_object_mut().expect("an object");
        members.remove("water");
        members.remove("limits");
        members.insert("days".into(), 365.into());
        q["sump"] = json!({ "capacity": 200, "volume": 200, "concentration": 8 });
        let with = json!({ "kind": "water_and_concentrate", "target": 8 });
        q["feeding"] = json!({ "when": "always", "with": with });
    });
    let year = solve("forecast", &year).expect("an answer");
    for part in ["volume", "concentrate"] {
        let a_day = number(&record, &format!("/answer/daily/{part}"));
        let total = number(&year, &format!("/answer/total/{part}"));
        assert_near(total, 260.0 * a_day, 1e-6);
    }
}

/// A calendar in which every day is one of work answers as none.
#[test]
fn a_shop_that_never_rests_needs_no_calendar() {
    let week = ["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"];
    let always = question(|q| {
        q["calendar"] = json!({ "day_zero": "2026-03-02", "weekdays": week });
    });
    let plain = question(|q| {
        q.as_object_mut()
            .expect("an object")
            .retain(|name, _| name != "calendar" && name != "standing");
    });
    let answers = [always, plain].map(|asked| solve("make-up", &asked).expect("an answer"));
    assert_eq!(answers[0]["answer"], answers[1]["answer"]);
    assert_eq!(answers[0]["balance"], answers[1]["balance"]);
}

#[test]
fn a_calendar_that_says_nothing_is_refused() {
    let refused = |pointer: &str, question: Value| {
        assert_problem(post("/v1/make-up", &question), 422, "inconsistent", &[pointer]);
    };
    refused("/calendar/day_zero", question(|q| q["calendar"] = json!({})));
    let year = json!([{ "from": "2026-03-01", "to": "2027-04-01" }]);
    refused("/calendar", question(|q| q["calendar"]["shutdowns"] = year));
    refused(
        "/standing",
        question(|q| {
            q.as_object_mut().expect("an object").remove("calendar");
        }),
    );
    let shut = question(|q| q["calendar"]["holidays"] = json!(["2026-02-30"]));
    let pointers = &["/calendar/holidays/0"];
    assert_problem(post("/v1/make-up", &shut), 422, "out-of-range", pointers);
}
