//! What a projection of waste takes for a large shop.

use criterion::Criterion;
use serde_json::{Value, json};
use std::hint::black_box;
use sumpwright_engine::calculation::Calculation;
use sumpwright_engine::calculations::shop::disposal::Disposal;

/// Five thousand sumps, each a group of its own, over 120 months.
fn large_shop() -> Disposal {
    let groups = (0..5000_u64).map(|i| {
        json!({
            "name": format!("sump {i}"),
            "volume": 80 + i % 500,
            "concentration": 5,
            "losses": { "evaporation": 4, "carry_off": 2 },
            "change": { "habit": "calendar", "every_months": 6 + i % 7, "first_month": 1 + i % 6 },
            "residue": 5,
            "rinse": { "volume": 10 },
            "oil_leak": { "rate": 0.1, "skimmed": 50 },
            "fines": { "mass_per_month": 3, "dry_share": 60 },
            "properties": { "chloride": 60 },
        })
    });
    let question = json!({
        "months": 120,
        "groups": groups.collect::<Value>(),
        "water": { "properties": { "chloride": 40, "hardness": 120 } },
        "recycler": { "recovered": 80 },
        "storage": { "rules": "large" },
    });
    serde_json::from_value(question).expect("a question")
}

fn main() {
    let mut criterion = Criterion::default().configure_from_args();
    let shop = large_shop();
    assert!(shop.calculate().is_ok(), "the large shop has no answer");
    let mut group = criterion.benchmark_group("disposal");
    group.sample_size(10).bench_function("5000 sumps, 120 months", |bench| {
        bench.iter(|| black_box(&shop).calculate());
    });
    group.finish();
    criterion.final_summary();
}
