//! Calendars against an exact solver.
//!
//! Expected values: scipy.optimize.milp (HiGHS) by calendars.py, which writes the programme from the
//! question in another shape than the engine's.

use super::{planned, total};
use crate::number;
use serde_json::Value;

/// By this share of its cost a plan may be dearer than the exact solver's.
const WITHIN: f64 = 0.02;

fn calendars() -> Vec<Value> {
    let text = include_str!("calendars.json");
    serde_json::from_str(text).expect("a list of calendars")
}

/// The bound is below the exact solver's plan, the plan is not below the exact solver's bound, and
/// both are near.
#[test]
fn plans_are_as_cheap_as_the_exact_solver_finds_them() {
    let mut optimal = 0;
    for calendar in calendars() {
        let name = calendar["name"].as_str().expect("a name");
        let record = planned(&calendar["question"]);
        let (cost, at_least) = (total(&record), number(&record, "/answer/at_least"));
        let exact = number(&calendar, "/highs/cost");
        let exact_at_least = number(&calendar, "/highs/at_least");
        assert!(at_least <= exact * (1.0 + 1e-6), "{name}: {at_least} {exact}");
        assert!(cost >= exact_at_least * (1.0 - 1e-6), "{name}: {cost} {exact_at_least}");
        assert!(cost <= exact * (1.0 + WITHIN), "{name}: {cost} {exact}");
        let gap = number(&record, "/answer/gap");
        assert!((100.0 * (cost - at_least) / cost - gap).abs() < 1e-6, "{name}: {gap}");
        optimal += usize::from(cost <= exact * (1.0 + 1e-6));
        assert!(record["answer"]["proven"] != true || cost <= exact * (1.0 + 1e-6), "{name}");
    }
    assert!(optimal >= 8, "only {optimal} plans are as cheap as the exact solver's");
}

/// Where shops are as large as that and nothing is charged by steps, the bound is within two per
/// cent.
#[test]
fn twenty_sumps_over_half_a_year_are_proven_to_two_per_cent() {
    let twenty = |own: &Value| {
        let name = own["name"].as_str().expect("a name");
        name.starts_with("twenty sumps ") && name.ends_with(char::is_numeric)
    };
    let mut proven = 0;
    for calendar in calendars().iter().filter(|own| twenty(own)) {
        let gap = number(&planned(&calendar["question"]), "/answer/gap");
        assert!(gap <= 2.0, "{}: {gap} %", calendar["name"]);
        proven += 1;
    }
    assert_eq!(proven, 3);
}

/// DGUV Regel 109-003, example in Annex 5: cleaned out at least yearly. A sump that says nothing is
/// due a year after its last clean-out.
#[test]
fn a_sump_that_says_nothing_is_cleaned_out_within_a_year() {
    let question = super::small(|q| {
        let sump = q["sumps"][1].as_object_mut().expect("a sump");
        sump.remove("longest_days");
        sump["cleaned_on"] = "2026-02-05".into();
    });
    let record = planned(&question);
    let mill = record["answer"]["clean_outs"].as_array().expect("a list").iter();
    let mill: Vec<&Value> = mill.filter(|own| own["sump"] == "mill").collect();
    assert_eq!(mill[0]["due_by"], "2027-02-05");
}
