//! The intervals of published guidance, and the list of the day.

use crate::server::request;
use crate::support::{changed, example};
use crate::{number, solve};
use reqwest::blocking::Response;
use serde_json::{Value, json};

/// A plan for one machine on 30 November 2026.
fn plan(machine: Value) -> Value {
    let mut machine = machine;
    machine["name"] = "lathe 1".into();
    let question = json!({
        "units": "metric", "today": "2026-11-30", "machines": [machine], "days_ahead": 40,
    });
    solve("test-plan", &question).expect("an answer")["answer"].take()
}

/// On which day a test is due, whether it is overdue or comes.
#[track_caller]
fn due_on(answer: &Value, test: &str) -> String {
    let both = ["due", "coming"].map(|list| answer[list].as_array().expect("a list").iter());
    let mut found = both.into_iter().flatten().filter(|one| one["test"] == test);
    let one = found.next().unwrap_or_else(|| panic!("no {test} in {answer:#}"));
    one["due_on"].as_str().expect("a day").to_owned()
}

/// UK HSE and DGUV Regel 109-003: appearance and odour daily; strength, pH and dip slide weekly.
/// TRGS 611: nitrite weekly. DGUV Regel 109-003, Annex 5: cleaned out at least yearly.
#[test]
fn intervals_as_published() {
    let answer = plan(json!({
        "looked_at": "2026-11-30", "strength_on": "2026-11-30", "ph_on": "2026-11-29",
        "nitrite_on": "2026-11-28", "slide_on": "2026-11-27", "cleaned_on": "2026-01-05",
    }));
    assert_eq!(due_on(&answer, "look"), "2026-12-01");
    assert_eq!(due_on(&answer, "strength"), "2026-12-07");
    assert_eq!(due_on(&answer, "ph"), "2026-12-06");
    assert_eq!(due_on(&answer, "nitrite"), "2026-12-05");
    assert_eq!(due_on(&answer, "dip_slide"), "2026-12-04");
    assert_eq!(due_on(&answer, "clean_out"), "2027-01-05");
}

/// TRGS 611 (2007): after three results below 10 mg/L nitrite may wait for up to four weeks.
#[test]
fn nitrite_waits_after_three_low_results() {
    let due = |results: Value| {
        due_on(&plan(json!({ "nitrite_on": "2026-11-23", "nitrite": results })), "nitrite")
    };
    assert_eq!(due(json!([9.9, 0, 5])), "2026-12-21");
    assert_eq!(due(json!([9.9, 0])), "2026-11-30");
    assert_eq!(due(json!([9.9, 10, 5, 5])), "2026-11-30");
}

/// The shop's own interval holds where it is shorter; where it is longer that is said.
#[test]
fn the_shop_may_test_more_often_and_not_less() {
    let record = solve("test-plan", &example("test-plan")).expect("an answer");
    let due = record["answer"]["due"].as_array().expect("a list").clone();
    let strength = due.iter().find(|one| one["test"] == "strength" && one["machine"] == "lathe 1");
    assert_eq!(strength.expect("due")["due_on"], "2026-11-29");
    let lax = changed("test-plan", |q| q["intervals"]["ph_days"] = 14.into());
    let record = solve("test-plan", &lax).expect("an answer");
    let codes: Vec<_> = record["findings"].as_array().expect("findings").iter().collect();
    assert!(codes.iter().any(|one| one["code"] == "laxer-interval"), "{codes:?}");
}

#[test]
fn the_statement_says_how_much_and_where_to_begin() {
    let record = solve("test-plan", &example("test-plan")).expect("an answer");
    let said = record["statement"].as_str().expect("a statement");
    let due = number(&record, "/answer/due_today");
    assert!(said.starts_with(&format!("{due} tests are due on Monday 2026-11-30, ")), "{said}");
    assert!(said.contains(" Begin with lathe 2: clean-out, overdue by 94 days."), "{said}");
    let never = changed("test-plan", |q| {
        q["machines"][0].as_object_mut().expect("members").remove("ph_on");
    });
    let record = solve("test-plan", &never).expect("an answer");
    let said = record["statement"].as_str().expect("a statement");
    assert!(said.contains("Begin with lathe 1: pH, never written down."), "{said}");
    let done = json!({
        "units": "metric", "today": "2026-11-30",
        "machines": [{ "name": "saw", "works": "stands", "looked_at": "2026-11-30",
                       "slide_on": "2026-11-30", "cleaned_on": "2026-11-30" }],
    });
    let record = solve("test-plan", &done).expect("an answer");
    let said = record["statement"].as_str().expect("a statement");
    let then =
        "Nothing is due on Monday 2026-11-30. Next: saw, look and smell on Tuesday 2026-12-01.";
    assert_eq!(said, then);
}

/// A row a machine, with the day in the address.
#[test]
fn a_table_of_machines_is_a_plan() {
    let table =
        "name,works,looked_at,ph_on\nlathe 1,every_day,2026-11-30,2026-11-01\nsaw,stands,,\n";
    let answered = request("POST", "/v1/test-plan?units=metric&today=2026-11-30")
        .header("content-type", "text/csv")
        .body(table)
        .send()
        .and_then(Response::text)
        .expect("a table");
    assert!(answered.contains("answer.due_today,"), "{answered}");
    let wrong = table.replace("2026-11-01", "01.11.2026");
    let answered = request("POST", "/v1/test-plan?units=metric&today=2026-11-30")
        .header("content-type", "text/csv")
        .body(wrong)
        .send()
        .and_then(Response::text)
        .expect("a problem");
    assert!(answered.contains("such as 2026-11-30"), "{answered}");
}
