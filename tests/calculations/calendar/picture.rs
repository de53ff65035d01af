//! The picture of the year.

use crate::server::request;
use crate::support::example;
use reqwest::blocking::Response;

/// Every week has a line, every clean-out its sump's name on it.
#[test]
fn the_year_is_drawn_week_by_week() {
    let question = example("calendar");
    for width in ["360", "1200"] {
        let drawn = request("POST", &format!("/v1/calendar?format=svg&width={width}"))
            .json(&question)
            .send()
            .and_then(Response::text)
            .expect("a picture");
        for text in ["Clean-outs by day", "January 2027", "2027-01-04", "grinder 1", "nobody works"]
        {
            assert!(drawn.contains(text), "{width}: no {text}");
        }
    }
}
