//! A log that makes it more than the sump holds.

use crate::support::findings;
use crate::{number, solve};
use serde_json::{Value, json};

/// 170 L of 200, and 25 L the day after, written down so many times.
fn poured(times: usize) -> Value {
    let rate = |value: f64| json!({ "value": value, "u": 0.5 });
    let mut log = vec![json!({ "day": 0, "volume": 170.0, "concentration": 8.0 })];
    let pour = json!({ "day": 1, "added": { "volume": 25.0, "concentration": 6.0 } });
    log.extend(std::iter::repeat_n(pour, times));
    json!({
        "units": "metric", "sump": { "capacity": 200.0 }, "log": log,
        "losses": { "evaporation": rate(5.0), "carry_off": rate(2.0) },
        "band": { "low": 6.5, "target": 8.0, "high": 9.5 },
    })
}

/// Written once it fits; written twice it would run over, and nothing is poured by such a log.
#[test]
fn a_pour_that_is_written_twice_is_looked_into() {
    for (times, fits) in [(1, true), (2, false)] {
        let record = solve("sump-state", &poured(times)).expect("it is answered");
        let found = findings("sump-state", &poured(times), "more-than-full");
        assert_eq!(found.is_empty(), fits, "{record}");
        let looked_into = record["answer"]["to_do"] == "look_first";
        assert_eq!(looked_into, !fits, "{}", record["answer"]["to_do"]);
        // By hand: what was there, less a day of losses, and what was poured.
        let holds = 170.0 - 7.0 + 25.0 * f64::from(u8::try_from(times).expect("few"));
        assert!((number(&record, "/answer/now/volume/value") - holds).abs() < 1e-6, "{record}");
        if let [one] = &found[..] {
            assert_eq!(one["severity"], "act");
            assert_eq!(one["pointer"], "/log/2/added");
        }
    }
}
