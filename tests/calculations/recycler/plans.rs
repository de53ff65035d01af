//! Plans for a recycler, drawn at random.

use proptest::collection::vec;
use proptest::prelude::*;
use serde_json::{Value, json};

/// A plan drawn at random: deliveries, demand, tanks, and a filter.
pub(super) fn any_plan() -> impl Strategy<Value = Value> {
    let flow = || vec((0.0..5.5_f64, 50.0..700.0_f64, option_hours()), 1..6);
    let tank = || (300.0..2000.0_f64, 0.0..1.0_f64);
    (flow(), flow(), tank(), tank(), 10.0..150.0_f64, 3.0..24.0_f64, 3.0..8.0_f64).prop_map(
        |(arrivals, demand, dirty, clean, throughput, hours, strength)| {
            let flows = |flows: Vec<(f64, f64, Option<f64>)>| {
                let flows = flows.into_iter().map(|(day, volume, hours)| match hours {
                    Some(hours) => json!({ "day": day, "volume": volume, "hours": hours }),
                    None => json!({ "day": day, "volume": volume }),
                });
                flows.collect::<Vec<_>>()
            };
            let tank = |(capacity, fill): (f64, f64)| {
                json!({ "capacity": capacity, "level": capacity * fill })
            };
            json!({
                "units": "metric",
                "feed": {
                    "arrivals": flows(arrivals),
                    "concentration": strength,
                    "properties": { "tramp_oil": 3, "solids": 500 },
                },
                "stages": [{
                    "name": "filter",
                    "throughput": throughput,
                    "removes": { "tramp_oil": 70, "solids": 60 },
                    "good_fluid_lost": 1,
                }],
                "mode": "single_pass",
                "hours_per_day": hours,
                "plan_days": 7,
                "tanks": { "dirty": tank(dirty), "clean": tank(clean) },
                "demand": flows(demand),
                "target": { "concentration": 8 },
            })
        },
    )
}

fn option_hours() -> impl Strategy<Value = Option<f64>> {
    proptest::option::of(0.5..24.0_f64)
}
