//! Top-ups against arithmetic of the trade.

use crate::{assert_near, number, solve};
use serde_json::json;

/// Plain arithmetic: V(c_t − c_a)/(100 − c_t) with 500 L, 6 % and 8 % is 10.87 L.
#[test]
fn plain_arithmetic_of_the_trade() {
    let volume = 500.0 + 500.0 * (8.0 - 6.0) / (100.0 - 8.0);
    let question = json!({
        "units": "metric",
        "sump": { "capacity": volume, "volume": 500, "concentration": 6 },
        "target": { "concentration": 8 },
        "vessel": "stirred_tank",
    });
    let record = solve("top-up", &question).expect("it can be done");
    assert_near(number(&record, "/answer/add/0/volume"), 10.87, 0.005);
    assert_near(number(&record, "/answer/add/1/volume"), 0.0, 1e-10);
}

/// Common practice, no source: a sump topped up with the fluid it already holds keeps its
/// concentration.
#[test]
fn topping_up_with_what_it_holds_keeps_its_strength() {
    let question = json!({
        "units": "us",
        "sump": { "capacity": 120, "volume": 90, "concentration": 7.5 },
        "target": { "concentration": 7.5 },
    });
    let record = solve("top-up", &question).expect("it can be done");
    assert_near(number(&record, "/answer/premix/concentration"), 7.5, 1e-12);
    assert_near(number(&record, "/answer/premix/volume"), 30.0, 1e-12);
}
