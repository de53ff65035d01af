//! The statement of a top-up: what to pour, in amounts as they are measured out, or why
//! there is nothing to pour. All numbers by hand.

use crate::{service, solve};
use serde_json::{Value, json};

fn statement(question: &Value) -> String {
    let record = solve("top-up", question).unwrap_or_else(|problem| panic!("{problem:?}"));
    record["statement"].as_str().expect("a statement").to_owned()
}

fn sump(volume: f64, concentration: f64) -> Value {
    json!({
        "units": "metric",
        "sump": { "capacity": 200, "volume": volume, "concentration": concentration },
        "target": { "concentration": 8 },
    })
}

#[test]
fn what_to_pour_is_said_with_the_reading_it_must_come_to() {
    let mut example: Value = serde_json::from_str(service("top-up").example).expect("JSON");
    assert_eq!(
        statement(&example),
        "Pour 6.2 L of concentrate into 53.8 L of water and pour that in; the refractometer must \
         then read 6.4 °Brix."
    );
    // 5 L and 55 L bring 980 + 500 litre-percent into 200 L: 7.4 %, 5.92 °Brix.
    example["measures_to"] = 5.into();
    assert_eq!(
        statement(&example),
        "Pour 5 L of concentrate into 55 L of water and pour that in; the refractometer must then \
         read 5.9 °Brix."
    );
    example["units"] = "us".into();
    assert!(statement(&example).starts_with("Pour 5 US gal of concentrate into 55 US gal of"));
}

#[test]
fn what_is_drained_first_is_said_first() {
    assert_eq!(
        statement(&sump(200.0, 5.0)),
        "Drain 40 L of fluid first. Pour 8 L of concentrate into 32 L of water and pour that in; \
         it is then at 8 % by volume."
    );
}

#[test]
fn where_there_is_nothing_to_pour_it_says_why() {
    let mut right = sump(200.0, 7.4);
    right["band"] = json!({ "low": 7, "high": 9 });
    assert_eq!(
        statement(&right),
        "Nothing to pour: it is as full as it should be, and its strength of 7.4 % by volume is \
         right."
    );
    right["target"]["volume"] = 190.into();
    assert_eq!(
        statement(&right),
        "Nothing to pour or drain: it holds 200 L, more than the 190 L asked for, and its strength \
         of 7.4 % by volume is in its band."
    );
    let mut lean = sump(200.0, 7.0);
    lean["draining"] = "not_allowed".into();
    // 200·(8 − 7)/(20 − 7) litres.
    assert_eq!(
        statement(&lean),
        "Nothing can be poured in: it is full. It stays at 7 % by volume, weaker than the 8 % by \
         volume asked for. Reaching that takes draining 15.4 L first."
    );
    assert_eq!(
        statement(&sump(200.0, 9.66)),
        "Nothing to pour: it is full, and too strong at 9.66 % by volume. Make up what it loses \
         with plain water until it is back."
    );
}
