//! What a calendar says.

use super::{planned, small};
use crate::number;
use crate::server::request;
use crate::support::found;
use reqwest::blocking::Response;
use serde_json::json;

#[test]
fn the_statement_says_where_to_begin_and_what_it_costs() {
    let record = planned(&small(|q| q["currency"] = "EUR".into()));
    let said = record["statement"].as_str().expect("a statement");
    assert!(
        said.starts_with(
            "Begin on Friday 2027-01-29 with lathe and saw: 3 clean-outs in 8 weeks. "
        ),
        "{said}"
    );
    assert!(said.contains(" EUR, "), "{said}");
    assert!(said.ends_with("No plan is cheaper."), "{said}");
    let calm = planned(&small(|q| q["weeks"] = 1.into()));
    let said = calm["statement"].as_str().expect("a statement");
    assert!(said.starts_with("No clean-out is due in a week."), "{said}");
}

#[test]
fn what_is_overdue_or_moved_is_found() {
    let late = small(|q| q["sumps"][0]["cleaned_on"] = "2026-10-01".into());
    assert_eq!(found("calendar", &late, "overdue").len(), 1);
    let first = planned(&late)["answer"]["clean_outs"][0].clone();
    assert_eq!(
        (first["sump"].as_str(), first["day"].as_str()),
        (Some("lathe"), Some("2027-01-15"))
    );
    let moved = small(|q| {
        q["agreed"] = json!([{ "sump": "lathe", "day": "2027-01-29" }]);
        q["sumps"][0]["due_by"] = "2027-01-20".into();
    });
    assert_eq!(found("calendar", &moved, "agreed-moved").len(), 1);
    let record = planned(&moved);
    assert_eq!(record["answer"]["moved"][0]["now"], "2027-01-15");
    assert_eq!(number(&record, "/answer/moved/0/days"), 14.0);
    let outside = small(|q| q["agreed"] = json!([{ "sump": "saw", "day": "2026-12-25" }]));
    assert_eq!(found("calendar", &outside, "agreed-outside").len(), 1);
}

/// A row a sump, with what stands outside the list in the address.
#[test]
fn a_table_of_sumps_is_a_calendar() {
    let table = "name,volume,hours,cleaned_on,longest_days\nlathe,200,2,2026-12-01,60\nsaw,80,1,2026-12-20,45\n";
    let address = "/v1/calendar?units=metric&from=2027-01-04&weeks=8&crews.0.name=crew\
                   &crews.0.hours_a_day=4";
    let answered = request("POST", address)
        .header("content-type", "text/csv")
        .body(table)
        .send()
        .and_then(Response::text)
        .expect("a table");
    assert!(answered.contains("answer.clean_outs.0.sump,"), "{answered}");
}
