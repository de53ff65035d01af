//! Tank levels of any plan: their course, and conservation of fluid.

use super::plans::any_plan;
use crate::{number, solve};
use proptest::prelude::*;
use serde_json::Value;

/// The level on a day, interpolated between the neighbouring points; at a jump, the
/// level after it.
fn level(record: &Value, tank: &str, day: f64) -> f64 {
    let levels = record["answer"]["levels"].as_array().expect("levels");
    let after = levels.partition_point(|point| point["day"].as_f64().unwrap() <= day);
    let at = |i: usize| (number(&levels[i], "/day"), number(&levels[i], &format!("/{tank}")));
    let (day_0, level_0) = at(after - 1);
    if after == levels.len() || day_0 == day {
        return level_0;
    }
    let (day_1, level_1) = at(after);
    level_0 + (level_1 - level_0) * (day - day_0) / (day_1 - day_0)
}

fn first(record: &Value, what: &str) -> f64 {
    record["answer"][what]["day"].as_f64().unwrap_or(f64::INFINITY)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..Default::default() })]

    /// Until the slower recycler fails, the faster one has no more in the dirty
    /// tank and no less in the clean one; it fails no sooner and needs no
    /// larger tanks.
    #[test]
    fn more_throughput_never_makes_the_levels_worse(plan in any_plan(), times in 1.0..5.0_f64) {
        let mut faster = plan.clone();
        faster["stages"][0]["throughput"] =
            (number(&plan, "/stages/0/throughput") * times).into();
        let (slow, fast) = (solve("recycler", &plan), solve("recycler", &faster));
        let (slow, fast) = (slow.expect("it is answered"), fast.expect("it is answered"));
        let fails = first(&slow, "first_overflow").min(first(&slow, "first_shortage"));
        let days = slow["answer"]["levels"].as_array().unwrap().iter();
        for day in days.map(|point| number(point, "/day")).filter(|day| *day < fails) {
            prop_assert!(level(&fast, "dirty", day) <= level(&slow, "dirty", day) + 1e-6, "{day}");
            prop_assert!(level(&fast, "clean", day) >= level(&slow, "clean", day) - 1e-6, "{day}");
        }
        let fast_fails = first(&fast, "first_overflow").min(first(&fast, "first_shortage"));
        prop_assert!(fast_fails >= fails - 1e-9);
        let dirty = |record: &Value| number(record, "/answer/smallest/dirty");
        prop_assert!(dirty(&fast) <= dirty(&slow) + 1e-6);
        let clean = |record: &Value| record["answer"]["smallest"]["clean"].as_f64();
        if let Some(slow) = clean(&slow) {
            prop_assert!(clean(&fast).is_some_and(|fast| fast <= slow + 1e-6));
        }
    }

    /// Nothing is created in the tanks: the contents of the dirty tank plus the deliveries,
    /// minus the overflow and the remainder, were processed; that volume, corrected, came
    /// to the clean tank and was fetched or is left.
    #[test]
    fn what_comes_is_worked_or_left(plan in any_plan()) {
        let record = solve("recycler", &plan).expect("it is answered");
        let sum = |pointer: &str| -> f64 {
            let entries = plan.pointer(pointer).and_then(Value::as_array).expect("a list");
            entries.iter().map(|entry| number(entry, "/volume")).sum()
        };
        let missed = |what: &str| record["answer"][what]["volume"].as_f64().unwrap_or(0.0);
        let levels = record["answer"]["levels"].as_array().expect("levels");
        let (first, last) = (&levels[0], &levels[levels.len() - 1]);
        let came = number(first, "/dirty") + sum("/feed/arrivals");
        let worked = came - missed("first_overflow") - number(last, "/dirty");
        let gain = number(&record, "/answer/correction/batch/volume") / came;
        let clean = number(first, "/clean") + gain * worked;
        let fetched = sum("/demand") - missed("first_shortage");
        let left = number(last, "/clean");
        prop_assert!((clean - fetched - left).abs() < 1e-6, "{clean} − {fetched} − {left}");
        let most = number(&plan, "/stages/0/throughput") * number(&plan, "/hours_per_day") * 7.0;
        prop_assert!(worked >= -1e-6 && worked <= most * (1.0 + 1e-9));
    }
}
