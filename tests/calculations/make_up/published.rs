//! Make-up against cooling-tower handbooks and arithmetic of the trade.

use crate::{assert_near, number, solve};
use serde_json::{Value, json};

/// A sump held at its level, in the unit of volume of the handbook's rates.
fn make_up(e: f64, d: f64, water: f64, limit: Option<f64>) -> Value {
    let mut question = json!({
        "units": "metric",
        "sump": { "volume": 500, "concentration": 0 },
        "losses": { "evaporation": e, "carry_off": d },
        "water": { "properties": { "salts": water } },
    });
    if let Some(limit) = limit {
        question["limits"] = json!({ "salts": { "max": limit } });
    }
    solve("make-up", &question).expect("it can be held")
}

/// UFC 3-240-13FN (2005), blow-down of a cooling tower without windage: 5000
/// against 250 µmho is 20 cycles; at E = 5.0 kg/s B = 0.263158 kg/s and the
/// make-up 5.263158; at E = 40,000 lb/h B = 2105 and the make-up 42,105.
#[test]
fn blow_down_of_the_handbook() {
    for (e, b, tolerance) in [(5.0, 0.263158, 5e-7), (40_000.0, 2105.0, 0.5)] {
        let record = make_up(e, 0.0, 250.0, Some(5000.0));
        assert_near(number(&record, "/answer/remedies/discharge"), b, tolerance);
        let volume = number(&record, "/answer/remedies/daily_with_discharge/volume");
        assert_near(volume, e + b, tolerance);
        // Conversely, with that discharge it settles at 5000.
        let discharged = json!({
            "units": "metric",
            "sump": { "volume": 500, "concentration": 0 },
            "losses": { "evaporation": e, "carry_off": 0 },
            "discharge": e / 19.0,
            "water": { "properties": { "salts": 250 } },
        });
        let record = solve("make-up", &discharged).expect("it can be held");
        assert_near(number(&record, "/answer/cycles"), 20.0, 1e-12);
        assert_near(number(&record, "/answer/properties/salts/settles_at"), 5000.0, 1e-9);
    }
}

/// UFC 3-240-13FN (2005): 800 against 300 is 2.6667 cycles, so that E = 10 wants
/// to lose 10/1.6667 otherwise.
#[test]
fn cycles_of_the_handbook() {
    let record = make_up(10.0, 6.0, 300.0, None);
    assert_near(number(&record, "/answer/cycles"), 2.6667, 5e-5);
    assert_near(number(&record, "/answer/properties/salts/settles_at"), 800.0, 1e-10);
}

/// UFC 3-240-13FN (2005), with windage: E 120, D 2 and 5 cycles want a blow-down
/// of 28 gpm and a make-up of 150 (the handbook prints 152, a slip).
#[test]
fn blow_down_with_windage() {
    let record = make_up(120.0, 2.0, 100.0, Some(500.0));
    assert_near(number(&record, "/answer/remedies/discharge"), 28.0, 1e-12);
    let volume = number(&record, "/answer/remedies/daily_with_discharge/volume");
    assert_near(volume, 150.0, 1e-12);
}

/// From 3 to 6 cycles the make-up falls from 1.5 E to 1.2 E and the blow-down from
/// 0.5 E to 0.2 E (recomputed from C = (E + B)/B).
#[test]
fn more_cycles_want_less_water() {
    for (cycles, make_up_share, blow_down_share) in [(3.0, 1.5, 0.5), (6.0, 1.2, 0.2)] {
        let record = make_up(10.0, 0.0, 100.0, Some(100.0 * cycles));
        let daily = number(&record, "/answer/remedies/daily_with_discharge/volume");
        assert_near(daily, 10.0 * make_up_share, 1e-12);
        let discharge = number(&record, "/answer/remedies/discharge");
        assert_near(discharge, 10.0 * blow_down_share, 1e-12);
    }
}

/// The transient at constant volume, V 500 L, E 15 and W 5 L/d, 200 mg/L in the
/// make-up and at first (scipy solve_ivp and closed form), in the days to a limit.
#[test]
fn a_limit_is_passed_on_the_day_that_the_transient_says() {
    let transient = [(30.0, 355.50906759), (100.0, 579.27233530), (300.0, 770.12775898)];
    for concentration in [0.0, 8.0] {
        for (day, content) in transient {
            let question = json!({
                "units": "metric",
                "sump": { "volume": 500, "concentration": concentration },
                "losses": { "evaporation": 15, "carry_off": 5 },
                "water": { "properties": { "hardness": 200 } },
                "limits": { "hardness": { "max": content } },
            });
            let record = solve("make-up", &question).expect("it can be held");
            let hardness = &record["answer"]["properties"]["hardness"];
            assert_near(number(hardness, "/settles_at"), 800.0, 1e-10);
            // The days that correspond to one digit of the content.
            let days_per_digit = 1e-8 / ((800.0 - content) * 5.0 / 500.0);
            assert_near(number(hardness, "/passes_limit_day"), day, days_per_digit);
        }
    }
}

/// Arithmetic of the trade: common practice, no source. As much by air as by chips wants
/// half strength.
#[test]
fn half_lost_by_air_wants_half_strength() {
    let question = json!({
        "units": "metric",
        "sump": { "volume": 200, "concentration": 8 },
        "losses": { "evaporation": 6, "carry_off": 6 },
    });
    let record = solve("make-up", &question).expect("it can be held");
    assert_eq!(number(&record, "/answer/concentration"), 4.0);
    assert_near(number(&record, "/answer/parts_of_water"), 24.0, 1e-12);
}
