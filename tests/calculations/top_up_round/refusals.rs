//! Every kind of refusal of a round of top-ups.

use super::{answer, round, sump};
use serde_json::{Value, json};
use sumpwright_engine::text::{Kind, Refusal};

/// The refusal of a round of two sumps after `changes` to the values at the pointers.
fn refused(changes: &[(&str, Value)]) -> Refusal {
    let mut round = round(vec![sump("lathe 1", 150.0, 5.0), sump("lathe 2", 190.0, 8.0)]);
    for (pointer, value) in changes {
        let (parent, member) = pointer.rsplit_once('/').expect("a pointer");
        let parent = round.pointer_mut(parent).expect("a place in the round");
        parent[member] = value.clone();
    }
    answer(round).expect_err("a refusal")
}

fn pointers(refusal: &Refusal) -> Vec<&str> {
    refusal.faults.iter().map(|fault| fault.pointer.as_str()).collect()
}

#[test]
fn all_contradictions_are_told_at_once() {
    let refusal = refused(&[
        ("/sumps/1/name", json!("lathe 1")),
        ("/sumps/0/sump/volume", json!(210)),
        ("/sumps/0/band/low", json!(6.5)),
        ("/sumps/0/fill_to", json!(201)),
        ("/premix_at_most", json!(50)),
        ("/premix_at_least", json!(60)),
        ("/margin", json!(50)),
        ("/mixing", json!({ "by": "bucket", "settings": [5, 60] })),
        (
            "/vessels",
            json!([{ "name": "tank", "capacity": 20 }, { "name": "tank", "capacity": 30 }]),
        ),
    ]);
    assert_eq!(refusal.kind, Kind::Inconsistent);
    let expected = [
        "/sumps/1/name",
        "/vessels/1/name",
        "/sumps/0/sump/volume",
        "/sumps/0/band/low",
        "/sumps/0/fill_to",
        "/premix_at_most",
        "/premix_at_least",
        "/margin",
        "/mixing/settings",
        "/mixing/settings/1",
    ];
    assert_eq!(pointers(&refusal), expected);
}

#[test]
fn what_is_missing_is_named() {
    let refusal = refused(&[
        ("/sumps/0/sump", json!({ "capacity": 200, "volume": 150 })),
        ("/sumps/1/product", json!("product B")),
        ("/stocks/0/product", Value::Null),
        ("/vessels", json!([{ "name": "tank", "capacity": 20, "product": "product A" }])),
    ]);
    assert_eq!(refusal.kind, Kind::NotIdentifiable);
    let expected = ["/sumps/0/sump/concentration", "/stocks/0/product", "/sumps/1/product"];
    assert_eq!(pointers(&refusal), expected);
    let refusal = refused(&[("/sumps/1/product", json!("product B"))]);
    assert_eq!(
        (refusal.kind, pointers(&refusal)),
        (Kind::NotIdentifiable, vec!["/sumps/1/product"])
    );
    // A proportioner draws neat concentrate.
    let refusal = refused(&[
        ("/stocks/0/concentration", json!(30)),
        ("/mixing", json!({ "by": "proportioner" })),
    ]);
    assert_eq!(pointers(&refusal), ["/sumps/0/product"]);
}

#[test]
fn what_no_premix_can_be_made_of_is_refused() {
    let refusal = refused(&[("/stocks/1/concentration", json!(40))]);
    assert_eq!((refusal.kind, pointers(&refusal)), (Kind::Unreachable, vec!["/stocks"]));
    let refusal = refused(&[("/mixing", json!({ "by": "proportioner", "settings": [25, 30] }))]);
    assert_eq!((refusal.kind, pointers(&refusal)), (Kind::Unreachable, vec!["/mixing/settings"]));
    // Too little is on hand.
    let refusal = refused(&[("/stocks/0/volume", json!(0.5))]);
    assert_eq!((refusal.kind, pointers(&refusal)), (Kind::Unreachable, vec!["/stocks"]));
}

#[test]
fn a_reading_that_cannot_be_is_refused_at_its_place() {
    let reading = json!({ "method": "refractometer", "brix": 1, "factor": 1.2, "water_brix": 2 });
    let refusal =
        refused(&[("/sumps/1/sump", json!({ "capacity": 200, "volume": 9, "reading": reading }))]);
    assert_eq!(refusal.kind, Kind::Inconsistent);
    assert_eq!(pointers(&refusal), ["/sumps/1/sump/reading"]);
    let hot = json!({ "method": "refractometer", "brix": 4, "factor": 1.2, "temperature": 60 });
    let refusal =
        refused(&[("/sumps/0/sump", json!({ "capacity": 200, "volume": 9, "reading": hot }))]);
    assert_eq!(refusal.kind, Kind::OutOfRange);
    assert_eq!(pointers(&refusal), ["/sumps/0/sump/reading/temperature"]);
}

#[test]
fn a_round_that_nobody_would_do_is_refused() {
    let refusal = refused(&[("/vessels", json!([{ "name": "thimble", "capacity": 0.001 }]))]);
    assert_eq!((refusal.kind, pointers(&refusal)), (Kind::Inconsistent, vec!["/vessels"]));
}
