//! Three months of the log of the demo shop, machine by machine, as tables over HTTP.

use crate::server::request;
use serde_json::{Value, json};

/// An invented log with weekends, a holiday, gaps and two faults (examples/shop_log.py writes it).
const LOG: &str = include_str!("../../../examples/shop-log.csv");

/// The machines in their order, each with its rows and its headings above them.
fn machines() -> Vec<(&'static str, f64, String)> {
    let mut lines = LOG.lines();
    let headings = lines.next().expect("headings");
    let mut machines: Vec<(&str, f64, String)> = Vec::new();
    for line in lines {
        let mut cells = line.split(',');
        let name = cells.next().expect("a machine");
        let capacity = cells.next().and_then(|cell| cell.parse().ok()).expect("a capacity");
        if machines.last().is_none_or(|(last, ..)| *last != name) {
            machines.push((name, capacity, format!("{headings}\n")));
        }
        if let Some((_, _, table)) = machines.last_mut() {
            *table += line;
            *table += "\n";
        }
    }
    machines
}

#[track_caller]
fn asked(calculation: &str, capacity: f64, table: &str) -> Value {
    let known = format!("units=metric&sump.capacity={capacity}&calendar.holidays.0=2026-01-06");
    let answer = request("POST", &format!("/v1/{calculation}?{known}"))
        .header("content-type", "text/csv")
        .header("accept", "application/json")
        .body(table.to_owned())
        .send()
        .expect("the server answers");
    assert_eq!(answer.status(), 200, "{table}");
    answer.json().expect("JSON")
}

/// Every row is followed; the two machines that have a fault are told, each with its cause first and
/// begun about when it began, and the sixteen others are not accused.
#[test]
fn the_demo_shop_is_told_its_two_faults_and_no_other() {
    let machines = machines();
    assert_eq!(machines.len(), 18);
    let mut accused = Vec::new();
    for (name, capacity, table) in &machines {
        let record = asked("sump-state", *capacity, table);
        let entries = record["answer"]["entries"].as_array().expect("entries").len();
        assert_eq!(entries + 1, table.lines().count(), "{name}");
        let alarms = record["answer"]["alarms"].as_array().expect("alarms").iter();
        accused.extend(alarms.map(|alarm| (*name, alarm.clone())));
    }
    let told: Vec<(&str, &str, &Value)> = accused
        .iter()
        .map(|(name, alarm)| (*name, alarm["what"].as_str().expect("what"), &alarm["causes"][0]))
        .collect();
    assert_eq!(
        told,
        [
            ("machining centre 2", "volume", &json!("unwritten_additions")),
            ("machining centre 2", "strength", &json!("water_runs_in")),
            ("deep-hole drill", "strength", &json!("instrument_drifts")),
        ]
    );
    // Counted from 5 January: 2 March is day 56, and 9 February day 35.
    for ((_, alarm), began) in accused.iter().zip([56.0, 56.0, 35.0]) {
        let found = alarm["began"].as_f64().expect("a day");
        assert!((found - began).abs() <= 5.0, "{found} for {began}");
    }
}

/// The two logs by `losses`: what each fault is, how large, and since when.
#[test]
fn the_two_faults_are_named_by_the_whole_log() {
    let faults =
        [("machining centre 2", "water_ingress", 56.0), ("deep-hole drill", "factor_off", 35.0)];
    for (name, kind, began) in faults {
        let machines = machines();
        let of = machines.iter().find(|(machine, ..)| *machine == name);
        let (_, capacity, table) = of.expect("the machine");
        let record = asked("losses", *capacity, table);
        let suspects = record["answer"]["suspects"].as_array().expect("suspects");
        assert_eq!(suspects.len(), 1, "{suspects:#?}");
        assert_eq!(suspects[0]["kind"], kind);
        let from = suspects[0]["from"].as_f64().expect("a day");
        assert!((from - began).abs() <= 3.0, "{from} for {began}");
    }
    // 12 L of water ran in on each day.
    let machines = machines();
    let (_, capacity, table) = &machines[6];
    let record = asked("losses", *capacity, table);
    let size = &record["answer"]["suspects"][0]["size"];
    let (value, u) = (size["value"].as_f64().expect("litres"), size["u"].as_f64().expect("u"));
    assert!((value - 12.0).abs() < 3.0 * u, "{value} ± {u}");
}
