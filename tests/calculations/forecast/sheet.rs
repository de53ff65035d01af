//! A forecast held against the limits of the fluid's sheet, as `condition` judges by them.

use crate::server::post;
use crate::support::{assert_problem, changed};
use crate::{SERVICES, number, solve};
use serde_json::{Value, json};

fn asked(change: impl Fn(&mut Value)) -> Value {
    solve("forecast", &changed("forecast", change)).expect("an answer")
}

fn first_day(record: &Value, what: &str) -> Option<f64> {
    let crossings = record["answer"]["crossings"].as_array().expect("a list");
    crossings.iter().find(|crossing| crossing["what"] == what)?["day"].as_f64()
}

/// A limit of the sheet is passed on the day on which the same limit of the question is.
#[test]
fn a_sheet_says_the_day_as_a_limit_does() {
    let by_limit =
        asked(|q| q["limits"] = json!({ "chloride": { "max": 105 }, "hardness": { "max": 360 } }));
    let by_sheet = asked(|q| {
        q["limits"] = json!({});
        q["sheet"] = json!({ "chloride": 105, "hardness_high": 360 });
    });
    for what in ["chloride", "hardness"] {
        let day = first_day(&by_limit, what).expect("it is passed");
        assert_eq!(first_day(&by_sheet, what), Some(day), "{what}");
    }
    // The stricter of both holds, and what the sheet does not speak of is the question's own.
    let both = asked(|q| q["sheet"] = json!({ "chloride": 105, "hardness_high": 900 }));
    assert_eq!(first_day(&both, "chloride"), first_day(&by_limit, "chloride"));
    let plain = asked(|_| ());
    assert_eq!(first_day(&both, "hardness"), first_day(&plain, "hardness"));
}

/// On the day on which the forecast passes a boundary of the sheet `condition` begins to act on it:
/// chloride of the sheet, and nitrite by TRGS 611, which no laxer sheet lifts.
#[test]
fn condition_acts_from_that_day_on() {
    let sheet = json!({ "chloride": 105, "nitrite": 60 });
    let record = asked(|q| {
        q["limits"] = json!({});
        q["sheet"] = sheet.clone();
        q["changes"] = Value::Null;
        q["sump"]["properties"]["nitrite"] = 17.into();
        q["feeding"]["with"]["properties"]["nitrite"] = 9.into();
    });
    let judged = |member: &str, day: usize| {
        let content = number(&record, &format!("/answer/series/{day}/properties/{member}"));
        let question = json!({
            "units": "metric", (member): { "content": content }, "sheet": sheet,
        });
        let record = solve("condition", &question).expect("an answer");
        record["answer"]["observations"][0]["verdict"].as_str().expect("a verdict").to_owned()
    };
    let series = record["answer"]["series"].as_array().expect("days");
    for member in ["chloride", "nitrite"] {
        let day = first_day(&record, member).expect("it is passed");
        let place = |from: f64| {
            series.iter().position(|one| one["day"].as_f64().is_some_and(|day| day >= from))
        };
        let after = place(day).expect("a day after it");
        assert_eq!(judged(member, after), "act", "{member} on day {day}");
        assert_eq!(judged(member, after - 1), "watch", "{member} on day {day}");
    }
    let findings = record["findings"].as_array().expect("findings");
    let laxer = findings.iter().find(|finding| finding["code"] == "laxer-limit").expect("said");
    assert_eq!(laxer["pointer"], "/sheet/nitrite");
}

/// What of a sheet cannot be followed is said, and none of it is a limit of what nobody follows.
#[test]
fn what_is_not_followed_is_said() {
    let record = asked(|q| {
        q["sheet"] = json!({ "ph_low": 8.8, "conductivity": 4000, "nitrite": 10, "days": 180 });
    });
    let assumptions = record["assumptions"].as_array().expect("assumptions");
    let said = assumptions.iter().filter(|one| one["pointer"] == "/sheet");
    let said: String = said.filter_map(|one| one["text"].as_str()).collect();
    assert!(said.contains("tramp oil at most 3 % by volume (common practice"), "{said}");
    assert!(said.contains("pH, conductivity, nitrite and days between clean-outs"), "{said}");
    assert_eq!(first_day(&record, "nitrite"), None);
}

/// One sheet serves the three questions that take it.
#[test]
fn one_sheet_serves_all() {
    let sheet = json!({ "chloride": 500, "hardness_high": 900, "tramp_oil": 2, "ph_low": 8.7 });
    for name in ["condition", "forecast", "fluid-loop"] {
        let question = changed(name, |q| q["sheet"] = sheet.clone());
        assert!(solve(name, &question).is_ok(), "{name}");
        let crossed = changed(name, |q| q["sheet"] = json!({ "ph_low": 9.4, "ph_high": 8.9 }));
        let response = post(&format!("/v1/{name}"), &crossed);
        assert_problem(response, 422, "inconsistent", &["/sheet/ph_low"]);
        let service = SERVICES.get(name).expect("there");
        assert!(service.question.member("sheet").is_some(), "{name}");
    }
}

/// A loop that keeps to the sheet recycles as far as one that keeps to the same limit.
#[test]
fn a_loop_keeps_to_the_sheet() {
    let limited = solve(
        "fluid-loop",
        &changed("fluid-loop", |q| {
            q["limits"] = json!({ "chloride": { "max": 185 }, "tramp_oil": { "max": 3 } });
        }),
    );
    let by_sheet = solve(
        "fluid-loop",
        &changed("fluid-loop", |q| {
            q["limits"] = json!({});
            q["sheet"] = json!({ "chloride": 185 });
        }),
    );
    let (limited, by_sheet) = (limited.expect("an answer"), by_sheet.expect("an answer"));
    let limit = |record: &Value| record["answer"]["recycling_limit"].clone();
    assert_eq!(limit(&limited), limit(&by_sheet));
    let at = |record: &Value| -> Vec<String> {
        let findings = record["findings"].as_array().cloned().unwrap_or_default();
        findings.iter().map(|one| one["pointer"].as_str().unwrap_or_default().to_owned()).collect()
    };
    assert!(
        at(&by_sheet).iter().all(|pointer| !pointer.starts_with("/limits")),
        "{:?}",
        at(&by_sheet)
    );
}
