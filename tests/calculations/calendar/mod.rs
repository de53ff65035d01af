//! Which sump is cleaned out when.

mod events;
mod laws;
mod picture;
mod published;
mod refusals;
mod said;
mod walk;

use crate::{number, solve};
use serde_json::{Value, json};
use sumpwright_engine::text::CalendarDate;

/// A shop of three sumps and one crew on Fridays, for eight weeks.
pub(crate) fn small(change: impl FnOnce(&mut Value)) -> Value {
    let sump = |name: &str, volume: f64, cleaned: &str, days: f64| {
        json!({
            "name": name, "volume": volume, "product": "product A", "hours": 2,
            "cleaned_on": cleaned, "longest_days": days, "downtime_price": 100,
        })
    };
    let mut question = json!({
        "units": "metric",
        "from": "2027-01-04",
        "weeks": 8,
        "sumps": [
            sump("lathe", 200.0, "2026-12-01", 60.0),
            sump("mill", 300.0, "2026-11-20", 90.0),
            sump("saw", 80.0, "2026-12-20", 45.0),
        ],
        "crews": [{ "name": "crew", "works_on": ["friday"], "hours_a_day": 4, "price": 40 }],
        "products": [{ "name": "product A", "price": 0.3 }],
    });
    change(&mut question);
    question
}

/// The answer to a question that has one.
#[track_caller]
pub(crate) fn planned(question: &Value) -> Value {
    let record = solve("calendar", question).unwrap_or_else(|problem| panic!("{problem:?}"));
    walk::holds(question, &record["answer"]);
    record
}

/// A date as it is written.
fn date(text: &Value) -> CalendarDate {
    serde_json::from_value(text.clone()).unwrap_or_else(|_| panic!("{text} is no day"))
}

/// Days since 1970 of an ISO date.
pub(crate) fn day_of(text: &Value) -> i64 {
    date(text).days_since(date(&json!("1970-01-01")))
}

pub(crate) fn total(record: &Value) -> f64 {
    number(record, "/answer/cost/total")
}
