//! Every kind of refusal of a plan of supplies.

use super::{answer, plan};
use serde_json::{Value, json};
use sumpwright_engine::text::{Kind, Refusal};

#[track_caller]
fn refused(question: Value) -> Refusal {
    answer(question).expect_err("a refusal")
}

fn pointers(refusal: &Refusal) -> Vec<&str> {
    refusal.faults.iter().map(|fault| fault.pointer.as_str()).collect()
}

#[test]
fn days_that_are_none_are_out_of_range() {
    let mut question = plan(&[
        ("use_by", json!("soon")),
        ("planned", json!([{ "on": "2026-02-30", "volume": 5 }])),
        ("on_order", json!([{ "arrives_on": "4.12.2026", "volume": 5 }])),
    ]);
    question["today"] = "1 December".into();
    let refusal = refused(question);
    assert_eq!(refusal.kind, Kind::OutOfRange);
    let expected = [
        "/today",
        "/supplies/0/use_by",
        "/supplies/0/planned/0/on",
        "/supplies/0/on_order/0/arrives_on",
    ];
    assert_eq!(pointers(&refusal), expected);
}

#[test]
fn all_contradictions_are_told_at_once() {
    let mut question = plan(&[
        ("use_by", json!("2026-11-30")),
        ("on_order", json!([{ "arrives_on": "2026-11-20", "volume": 5 }])),
        ("used_per_week", json!([40, 41])),
        ("lead_days", json!(731)),
        ("containers_at_least", json!(0)),
        ("shelf_life_days", json!(0)),
        ("container", json!({ "kind": "drum", "volume": 0.01 })),
    ]);
    question["service_level"] = json!(100);
    question["days_ahead"] = json!(731);
    let again = question["supplies"][0].clone();
    question["supplies"].as_array_mut().expect("a list").push(again);
    let refusal = refused(question);
    assert_eq!(refusal.kind, Kind::Inconsistent);
    let own = [
        "lead_days",
        "shelf_life_days",
        "used_per_week",
        "containers_at_least",
        "container/volume",
    ];
    let mut expected = vec![
        "/supplies/1/name".to_owned(),
        "/supplies/0/use_by".to_owned(),
        "/supplies/0/on_order/0/arrives_on".to_owned(),
        "/supplies/1/use_by".to_owned(),
        "/supplies/1/on_order/0/arrives_on".to_owned(),
        "/service_level".to_owned(),
        "/days_ahead".to_owned(),
    ];
    for i in 0..2 {
        expected.extend(own.iter().map(|member| format!("/supplies/{i}/{member}")));
    }
    assert_eq!(pointers(&refusal), expected);
}

#[test]
fn a_use_that_nobody_knows_is_asked_for() {
    let refusal = refused(plan(&[("use_per_day", Value::Null)]));
    assert_eq!(
        (refusal.kind, pointers(&refusal)),
        (Kind::NotIdentifiable, vec!["/supplies/0/use_per_day"])
    );
}
