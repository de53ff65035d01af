//! Sumps that are changed by forecast, compared with the forecast itself.

use super::solved;
use crate::{number, solve};
use serde_json::json;

/// A sump changed by forecast is changed at the end of the last month before the
/// day on which `forecast` says that it leaves its limits.
#[test]
fn a_change_by_forecast_comes_when_the_forecast_says_so() {
    const MONTH: f64 = 365.0 / 12.0;
    let mut months = Vec::new();
    for (volume, evaporation, carry_off, leak, limits) in [
        (300.0, 9.0, 1.5, 0.0, json!({ "chloride": { "max": 180 } })),
        (420.0, 9.0, 2.5, 0.0, json!({ "chloride": { "max": 150 } })),
        (80.0, 2.0, 0.4, 0.0, json!({ "chloride": { "max": 190 }, "tramp_oil": { "max": 3 } })),
        (200.0, 4.0, 1.0, 0.08, json!({ "tramp_oil": { "max": 4 } })),
        (500.0, 6.0, 0.5, 0.05, json!({ "chloride": { "max": 900 }, "tramp_oil": { "max": 2.5 } })),
    ] {
        let losses = json!({ "evaporation": evaporation, "carry_off": carry_off });
        let water = json!({ "properties": { "chloride": 60 } });
        let projected = solved(&json!({
            "units": "metric",
            "months": 60,
            "groups": [{
                "name": "a sump",
                "volume": volume,
                "concentration": 0,
                "losses": losses,
                "oil_leak": { "rate": leak },
                "change": { "habit": "forecast", "limits": limits },
                "properties": { "chloride": 60 },
            }],
            "water": water,
        }));
        let asked = json!({
            "units": "metric",
            "sump": {
                "capacity": volume,
                "volume": volume,
                "concentration": 0,
                "properties": { "chloride": 60 },
            },
            "losses": losses,
            "oil": { "leak": leak },
            "feeding": {
                "when": "always",
                "with": { "kind": "water_and_concentrate", "target": 0, "water": water },
            },
            "limits": limits,
            "days": 1800,
        });
        let forecast = solve("forecast", &asked).expect("a forecast");
        let crossings = forecast["answer"]["crossings"].as_array().expect("crossings");
        let limit = crossings.iter().find(|crossing| crossing["what"] != "volume");
        let leaves = number(limit.expect("it leaves a limit"), "/day");
        let answered = projected["answer"]["months"].as_array().expect("months");
        let first = answered.iter().find(|month| number(month, "/changes") > 0.0);
        let first = number(first.expect("a change"), "/month");
        assert_eq!(first, (leaves / MONTH).floor(), "leaves on day {leaves}");
        months.push(first);
    }
    assert!(months.iter().all(|month| *month > 1.0), "{months:?}");
}
