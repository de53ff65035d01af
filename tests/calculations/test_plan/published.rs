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

/// A row a machine with the day in the address, dates as a spreadsheet writes them: the answer is the
/// list of the day, a row a test, as somebody prints it.
#[test]
fn a_table_of_machines_is_answered_by_the_list_of_the_day() {
    let sent = |table: &str, accept: &str| {
        request("POST", "/v1/test-plan?units=metric&today=2026-11-30")
            .header("content-type", "text/csv")
            .header("accept", accept.to_owned())
            .body(table.to_owned())
            .send()
            .and_then(Response::text)
            .expect("a table")
    };
    let table = "name,works,looked_at,slide_on,cleaned_on\n\
                 saw,stands,30.11.2026,11/20/2026,2026-03-02 00:00:00\n\
                 mill,stands,2026-11-28,2026-11-29,\n";
    let answered = sent(table, "text/csv");
    let lines: Vec<&str> = answered.lines().collect();
    assert_eq!(lines[0], "machine,test,due_on,overdue_days,minutes [min],text,source");
    assert!(lines[1].starts_with("mill,clean_out,,,,"), "{answered}");
    assert!(lines[2].starts_with("saw,dip_slide,2026-11-27,3,3.0,"), "{answered}");
    assert!(lines[3].starts_with("mill,look,2026-11-29,1,1.0,"), "{answered}");
    assert_eq!(lines.len(), 4, "{answered}");
    let record: Value = serde_json::from_str(&sent(table, "application/json")).expect("a record");
    assert_eq!(record["answer"]["due"].as_array().map(Vec::len), Some(3));
    // Which day it is cannot be guessed, and what is no day is told with its row.
    let asked = sent(&table.replace("11/20/2026", "3/2/2026"), "text/csv");
    assert!(asked.contains("2026-03-02 or 2026-02-03"), "{asked}");
    let wrong = sent(&table.replace("30.11.2026", "Monday"), "text/csv");
    assert!(wrong.contains("Row 2, looked_at") && wrong.contains("such as 2026-11-30"), "{wrong}");
}
