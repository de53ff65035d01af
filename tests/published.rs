//! Figures from outside the project, each with its source.

mod mixing;
mod refraction;

use crate::{assert_near, number, solve};
use mixing::{square, volumes};
use refraction::corrected;
use serde_json::json;

/// GUM-style worked figures in this trade's terms are for the uncertainty of an
/// answer; the values themselves are plain arithmetic: factor 1.50 × reading 5.0
/// is 7.50, and V(c_t − c_a)/(100 − c_t) with 500 L, 6 % and 8 % is 10.87 L.
#[test]
fn plain_arithmetic_of_the_trade() {
    let reading = json!({ "method": "refractometer", "brix": 5.0, "factor": 1.5 });
    let record = solve("concentration", &json!({ "units": "metric", "reading": reading }));
    assert_near(number(&record.expect("a reading"), "/answer/concentration"), 7.5, 1e-12);

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

/// Arithmetic of the trade's notation: one to twenty is one part in twenty-one,
/// 4.7619 %, and not 5 %.
#[test]
fn one_to_twenty() {
    let record = square(100.0, 0.0, 100.0 / 21.0, 21.0);
    assert_near(number(&record, "/answer/mix/parts_of_water"), 20.0, 1e-12);
    let (concentrate, water) = volumes(&record);
    assert_near(concentrate, 1.0, 1e-12);
    assert_near(water, 20.0, 1e-12);
    assert_near(number(&record, "/answer/mix/concentration"), 4.7619, 5e-5);
}

/// NIST SP 811: a US gallon is 3.785411784 L, a pound 0.45359237 kg; the density
/// of water at 20 °C by IAPWS-95 is 998.2072 kg/m³.
#[test]
fn a_us_answer_is_in_gallons_and_pounds() {
    let ask = |units: &str, volume: f64| {
        let question = json!({
            "units": units,
            "target": { "volume": volume, "concentration": 0 },
            "stocks": [{ "name": "water", "concentration": 0 }],
        });
        number(&solve("blend", &question).expect("water"), "/answer/take/0/mass")
    };
    assert_near(ask("metric", 1000.0), 998.2072, 1e-9);
    assert_near(ask("us", 1000.0), 3785.411784 * 0.9982072 / 0.45359237, 1e-9);
}

/// Common practice, no source: a factor of 1.0 makes the scale read % by volume,
/// and a sump topped up with what it already holds keeps its strength.
#[test]
fn facts_of_the_trade() {
    assert_near(corrected(6.2, 20.0), 6.2, 1e-12);
    let question = json!({
        "units": "us",
        "sump": { "capacity": 120, "volume": 90, "concentration": 7.5 },
        "target": { "concentration": 7.5 },
    });
    let record = solve("top-up", &question).expect("it can be done");
    assert_near(number(&record, "/answer/premix/concentration"), 7.5, 1e-12);
    assert_near(number(&record, "/answer/premix/volume"), 30.0, 1e-12);
}
