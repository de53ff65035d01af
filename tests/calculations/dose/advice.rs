//! What is said of a dose: the statement, the steps, the findings and the cautions.

use crate::support::changed;
use crate::{number, solve};
use serde_json::{Value, json};

fn asked(change: impl FnOnce(&mut Value)) -> Value {
    solve("dose", &changed("dose", change)).expect("an answer")
}

fn codes<'a>(record: &'a Value, list: &str) -> Vec<&'a str> {
    let found = record[list].as_array().into_iter().flatten();
    found.map(|one| one["code"].as_str().expect("a code")).collect()
}

#[test]
fn a_ph_adjuster_is_poured_in_parts() {
    let record = asked(|q| q["product"]["kind"] = "ph_adjuster".into());
    let said = record["statement"].as_str().expect("a statement");
    assert!(
        said.contains(" Pour it in a third at a time, and measure the pH before each."),
        "{said}"
    );
}

#[test]
fn the_statement_says_what_to_measure_and_how_long_it_lasts() {
    let record = asked(|_| ());
    let said = record["statement"].as_str().expect("a statement");
    assert!(said.starts_with("Measure out "), "{said}");
    assert!(said.contains(" mL of biocide A (0."), "{said}");
    assert!(said.contains(" for the 160 L in the sump: it then holds 15"), "{said}");
    assert!(said.contains(" It falls to 600 mg/L in "), "{said}");
    assert_eq!(record["answer"]["steps"].as_array().expect("steps").len(), 5);
    assert_eq!(number(&record, "/answer/measured") % 5.0, 0.0);
}

#[test]
fn where_enough_is_in_it_nothing_is_poured() {
    let record = asked(|q| q["now"] = 1600.into());
    let said = record["statement"].as_str().expect("a statement");
    assert!(said.starts_with("No dose is needed: there are still 1600 mg/L in the sump"), "{said}");
    assert_eq!(number(&record, "/answer/mass"), 0.0);
    assert_eq!(record["answer"]["steps"], json!([]));
}

/// A label that is not given, a jug that is too coarse, a sump that runs over, a dose that thins
/// the fluid, and one that does not last until the next is allowed.
#[test]
fn what_to_look_at_first_is_a_finding() {
    let raised = |code: &str, change: fn(&mut Value)| {
        let record = asked(change);
        assert!(codes(&record, "findings").contains(&code), "{code}: {record:#}");
        assert!(!codes(&asked(|_| ()), "findings").contains(&code), "{code} without a reason");
    };
    raised("label-not-given", |q| {
        q["product"].as_object_mut().expect("members").remove("label");
    });
    raised("jug-too-coarse", |q| q["jug_division"] = 250.into());
    // A jug that has no mark for it: never "measure out 0 mL".
    let none = asked(|q| q["jug_division"] = 1000.into());
    assert!(codes(&none, "findings").contains(&"jug-too-coarse"), "{none:#}");
    assert_eq!(none["answer"]["measured"], none["answer"]["volume"]);
    raised("overfills", |q| q["sump"]["capacity"] = 160.into());
    raised("dose-thins", |q| {
        q["product"] = json!({ "name": "cleaner", "kind": "system_cleaner", "density": 1.0 });
        q["wanted"] = 20_000.into();
    });
    raised("does-not-last", |q| {
        q.as_object_mut().expect("members").remove("last_dose");
        q["product"]["label"]["days_between"] = 15.into();
    });
    raised("not-measured", |q| q["wanted"] = 700.into());
}

#[test]
fn each_product_has_its_cautions() {
    let of = |kind: &str| {
        let record = asked(|q| q["product"]["kind"] = kind.into());
        let codes = codes(&record, "cautions").into_iter().map(str::to_owned);
        codes.collect::<Vec<_>>()
    };
    for kind in ["biocide", "fungicide", "defoamer", "ph_adjuster", "system_cleaner", "other"] {
        let codes = of(kind);
        assert!(codes.iter().any(|code| code == "neat-additive"), "{kind}: {codes:?}");
        assert!(codes.iter().any(|code| code == "no-dose-against-skin-complaints"), "{kind}");
        let by_label = matches!(kind, "biocide" | "fungicide" | "system_cleaner");
        assert_eq!(codes.iter().any(|code| code == "biocide-by-label"), by_label, "{kind}");
        assert_eq!(codes.iter().any(|code| code == "caustic"), kind == "ph_adjuster", "{kind}");
    }
}
