//! Recirculation through a stage, and division by ultrafiltration, against published figures.

use super::{assert_relative, recorded};
use crate::{assert_near, number, solve};
use serde_json::{Value, json};

/// Recirculated tanks with incoming solids, by scipy.integrate.solve_ivp.
#[test]
fn recirculated_tanks_end_where_scipy_says() {
    for case in recorded("recirculated") {
        let record = solve("separation", &case["question"]).expect("it is answered");
        let content = number(&record, "/answer/cleaned/properties/solids");
        assert_relative(content, number(&case, "/content"), 1e-8);
        let settled = number(&record, "/answer/separated/0/settles_at/content");
        assert_relative(settled, number(&case, "/settles_at"), 1e-12);
    }
}

fn filter(efficiency: f64, throughput: f64, volume: f64, hours: f64) -> Value {
    json!({
        "units": "metric",
        "throughput": throughput,
        "separator": {
            "stage": { "kind": "filter", "efficiency": efficiency },
            "particles": [{ "property": "solids" }],
        },
        "feed": { "volume": volume, "properties": { "solids": 100 } },
        "recirculation": { "hours": hours },
    })
}

/// Gage and Bidwell, as given in J. Water Health 16:449: after 1, 2 and 3
/// turnovers 63, 86 and 95 % have been treated; with an efficiency η it is
/// 1 − exp(−η·n).
#[test]
fn gage_and_bidwells_turnovers() {
    for (turnovers, share) in [(1.0, 63.0), (2.0, 86.0), (3.0, 95.0)] {
        let record = solve("separation", &filter(100.0, 500.0, 1000.0, 2.0 * turnovers));
        let record = record.expect("it is answered");
        assert_near(number(&record, "/answer/turnovers"), turnovers, 1e-12);
        assert_near(number(&record, "/answer/separated/0/removed_in_the_end"), share, 0.5);
        let record = solve("separation", &filter(40.0, 500.0, 1000.0, 2.0 * turnovers));
        let end = number(&record.expect("answered"), "/answer/separated/0/removed_in_the_end");
        assert_near(end, 100.0 * (1.0 - (-0.4 * turnovers).exp()), 1e-12);
    }
}

/// A source in a filtered tank, recomputed from the balance: 20 g/h, 60 L/h,
/// efficiency 0.8: settles at 416.667 mg/L, time constant 8.3333 h for 400 L.
#[test]
fn a_source_settles_where_the_filter_holds_it() {
    let mut asked = filter(80.0, 60.0, 400.0, 5.0);
    asked["recirculation"]["inflows"] = json!([{ "property": "solids", "rate": 0.02 }]);
    let record = solve("separation", &asked).expect("it is answered");
    let settles = |name: &str| number(&record, &format!("/answer/separated/0/settles_at/{name}"));
    assert_near(settles("content"), 416.667, 0.0005);
    assert_near(settles("time_constant_hours"), 8.3333, 0.00005);
    let expected = 1250.0 / 3.0 + (100.0 - 1250.0 / 3.0) * (-5.0 / (25.0_f64 / 3.0)).exp();
    assert_near(number(&record, "/answer/cleaned/properties/solids"), expected, 1e-9);
}

/// Ultrafiltration by volume: 1000 L at 2 % oil down to 50 L: VCF 20, 40 % oil,
/// 950 L of permeate (full retention: c_r = c_f·VCF).
#[test]
fn ultrafiltration_by_volume() {
    let asked = json!({
        "units": "metric",
        "throughput": 100,
        "separator": {
            "stage": { "kind": "ultrafiltration", "volume_concentration_factor": 20 },
            "particles": [{ "property": "tramp_oil" }],
        },
        "feed": { "volume": 1000, "properties": { "tramp_oil": 2, "chloride": 80 } },
    });
    let record = solve("separation", &asked).expect("it is answered");
    assert_near(number(&record, "/answer/retentate/volume"), 50.0, 1e-12);
    assert_near(number(&record, "/answer/retentate/properties/tramp_oil"), 40.0, 1e-12);
    assert_near(number(&record, "/answer/cleaned/volume"), 950.0, 1e-9);
    assert_eq!(number(&record, "/answer/cleaned/properties/tramp_oil"), 0.0);
    // Dissolved matter stays with the water.
    assert_near(number(&record, "/answer/cleaned/properties/chloride"), 80.0, 1e-9);
    assert_near(number(&record, "/answer/retentate/properties/chloride"), 80.0, 1e-9);
}
