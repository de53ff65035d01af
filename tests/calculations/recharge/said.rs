//! What is said of a round: each sentence exactly when its cause is there.

use super::{answer, vessels};
use serde_json::{Value, json};
use sumpwright_engine::quantity::UnitSystem;

/// Chips are said to come along evenly where some are fetched, and nowhere else.
#[test]
fn chips_are_assumed_to_come_along_where_there_are_some() {
    let is_said = |round: Value| {
        let assumptions = answer(round).expect("an answer").assumptions;
        let mut texts = assumptions.iter().map(|said| said.text.show(UnitSystem::Metric));
        texts.any(|text| text.starts_with("Chips were assumed to come along evenly"))
    };
    let mut round = vessels::round();
    assert!(is_said(round.clone()));
    for sump in round["sumps"].as_array_mut().expect("sumps") {
        sump["chips"] = json!(0);
    }
    assert!(!is_said(round.clone()));
    for sump in round["sumps"].as_array_mut().expect("sumps") {
        sump.as_object_mut().expect("a sump").remove("chips");
    }
    assert!(!is_said(round));
}

/// A sump runs over by its cleaner alone: one that is full and gets none never does, though
/// what is taken out of it and what stays may come to a hair more than its level by
/// rounding; with a dose of cleaner it does.
#[test]
fn a_full_sump_runs_over_with_cleaner_alone() {
    let overfills = |volume: f64, residue: f64, cleaner: Value| {
        let mut round = vessels::round();
        round["sumps"][0]["volume"] = json!(volume);
        round["sumps"][0]["residue"] = json!(residue);
        round["sumps"][0]["cleaner"] = cleaner;
        let findings = answer(round).expect("an answer").findings;
        findings.iter().any(|finding| finding.code == "cleaner-overfills")
    };
    for (volume, residue) in [(944.6, 179.2), (902.4, 208.2), (743.1, 205.2)] {
        assert!((volume - residue) + residue > volume, "no rounding to try");
        assert!(!overfills(volume, residue, Value::Null), "{volume} L");
        assert!(overfills(volume, residue, json!({ "dose": 2, "hours": 8 })), "{volume} L");
    }
}
