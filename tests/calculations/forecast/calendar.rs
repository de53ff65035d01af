//! Forecasts by the working calendar.

use crate::server::post;
use crate::{assert_near, assert_problem, number, solve};
use serde_json::{Value, json};

/// 2026-03-05 was a Thursday: of seven days five are worked.
fn question(change: impl FnOnce(&mut Value)) -> Value {
    let mut question = json!({
        "units": "metric", "days": 7,
        "sump": { "capacity": 200, "volume": 200, "concentration": 8 },
        "losses": { "evaporation": 9, "carry_off": 6 },
        "calendar": { "day_zero": "2026-03-05" },
    });
    change(&mut question);
    question
}

/// By hand: five days of 15 L and two of 2 L; concentrate leaves on days of work alone, by
/// C₁ = C₀·(V₁/V₀)^(d/(e + d)).
#[test]
fn a_week_has_five_days_of_work() {
    let record = solve("forecast", &question(|q| q["standing"] = 2.into())).expect("an answer");
    assert_near(number(&record, "/answer/after/volume"), 200.0 - 75.0 - 4.0, 1e-9);
    let mut concentrate = 16.0;
    for (from, to) in [(200.0, 170.0), (166.0, 121.0)] {
        concentrate *= f64::powf(to / from, 0.4);
    }
    let strength = 100.0 * concentrate / 121.0;
    assert_near(number(&record, "/answer/after/concentration"), strength, 1e-9);
    let saturday = number(&record, "/answer/series/3/volume");
    assert_near(saturday, 168.0, 1e-9);
    // Without the calendar all seven are days of work.
    let plain = question(|q| {
        q.as_object_mut().expect("an object").remove("calendar");
    });
    let record = solve("forecast", &plain).expect("an answer");
    assert_near(number(&record, "/answer/after/volume"), 95.0, 1e-9);
}

/// What is fed to hold the level makes up for what evaporates at the weekend too, with water.
#[test]
fn what_holds_the_level_is_fed_at_weekends_too() {
    let with = json!({ "kind": "water_and_concentrate", "target": 8 });
    let asked = question(|q| {
        q["standing"] = 2.into();
        q["feeding"] = json!({ "when": "always", "with": with });
    });
    let record = solve("forecast", &asked).expect("an answer");
    assert_near(number(&record, "/answer/after/volume"), 200.0, 1e-9);
    assert_near(number(&record, "/answer/after/concentration"), 8.0, 1e-9);
    assert_near(number(&record, "/answer/total/volume"), 79.0, 1e-9);
    assert_near(number(&record, "/answer/total/concentrate"), 5.0 * 6.0 * 0.08, 1e-9);
}

#[test]
fn a_calendar_without_a_date_is_refused() {
    let refused = |question: &Value, pointer: &str| {
        assert_problem(post("/v1/forecast", question), 422, "inconsistent", &[pointer]);
    };
    refused(&question(|q| q["calendar"] = json!({})), "/calendar/day_zero");
    refused(
        &question(|q| {
            q.as_object_mut().expect("an object").remove("calendar");
            q["standing"] = 2.into();
        }),
        "/standing",
    );
    let shut = question(|q| {
        q["calendar"]["shutdowns"] = json!([{ "from": "2026-03-09", "to": "2026-03-06" }]);
    });
    let pointers = &["/calendar/shutdowns/0/to"];
    assert_problem(post("/v1/forecast", &shut), 422, "out-of-range", pointers);
}
