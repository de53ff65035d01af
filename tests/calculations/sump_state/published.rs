//! Logs followed by statsmodels' Kalman smoother, and fitted by dense least squares.

use crate::{assert_near, number, solve};
use serde_json::Value;

/// Twelve logs with gaps, clean-outs and fillings of which nobody wrote down the litres
/// (filtered.py writes them): what is in the sump now, the losses, and each entry smoothed, values
/// and standard uncertainties to 1e-8.
#[test]
fn states_are_those_of_statsmodels() {
    let recorded: Value = serde_json::from_str(include_str!("filtered.json")).expect("recorded");
    let cases = recorded["cases"].as_array().expect("cases");
    assert_eq!(cases.len(), 12);
    for case in cases {
        let record = solve("sump-state", &case["question"]).expect("it is answered");
        let near = |found: &str, recorded: &str| {
            let (found, recorded) = (number(&record, found), number(case, recorded));
            assert_near(found / recorded, 1.0, 1e-8);
        };
        let entries = case["found"]["entries"].as_array().expect("entries").len();
        let places =
            (0..entries).map(|i| (format!("/answer/entries/{i}"), format!("/found/entries/{i}")));
        for (found, recorded) in places.chain([("/answer/now".to_owned(), "/found/now".to_owned())])
        {
            near(&format!("{found}/volume/value"), &format!("{recorded}/volume"));
            near(&format!("{found}/volume/u"), &format!("{recorded}/u_volume"));
            near(&format!("{found}/concentration/value"), &format!("{recorded}/strength"));
            near(&format!("{found}/concentration/u"), &format!("{recorded}/u_strength"));
        }
        for rate in ["evaporation", "carry_off"] {
            near(&format!("/answer/losses/{rate}/value"), &format!("/found/{rate}/0"));
            near(&format!("/answer/losses/{rate}/u"), &format!("/found/{rate}/1"));
        }
    }
}

/// Six logs of levels alone, with fillings, removals, clean-outs and days at rest, whose losses do
/// not wander: the balance is then linear in all that is not known, so filter and smoother equal one
/// weighted least squares of the whole log (dense.py fits it by QR, without going from entry to
/// entry): levels at each entry, now, the losses, their uncertainties and correlations, to 1e-8.
#[test]
fn a_linear_log_is_its_least_squares() {
    let recorded: Value = serde_json::from_str(include_str!("dense.json")).expect("recorded");
    let cases = recorded["cases"].as_array().expect("cases");
    assert_eq!(cases.len(), 6);
    for case in cases {
        let record = solve("sump-state", &case["question"]).expect("it is answered");
        let near = |found: &str, recorded: &str| {
            let (found, recorded) = (number(&record, found), number(case, recorded));
            assert_near(found / recorded, 1.0, 1e-8);
        };
        let entries = case["found"]["entries"].as_array().expect("entries").len();
        assert_eq!(entries, 30);
        let places =
            (0..entries).map(|i| (format!("/answer/entries/{i}"), format!("/found/entries/{i}")));
        for (found, recorded) in places.chain([("/answer/now".to_owned(), "/found/now".to_owned())])
        {
            near(&format!("{found}/volume/value"), &format!("{recorded}/volume"));
            near(&format!("{found}/volume/u"), &format!("{recorded}/u"));
        }
        for rate in ["evaporation", "carry_off", "standing"] {
            near(&format!("/answer/state/{rate}/value"), &format!("/found/{rate}/0"));
            near(&format!("/answer/state/{rate}/u"), &format!("/found/{rate}/1"));
        }
        // Of the level, evaporation, carry-off and evaporation at rest.
        for i in 0..6 {
            let pointer = |of: &str| format!("{of}/correlations/{i}");
            let found = number(&record, &pointer("/answer/state"));
            assert_near(found, number(case, &pointer("/found")), 1e-8);
        }
    }
}
