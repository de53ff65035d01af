//! How long it takes to say how sure an answer is, from the bytes that came to
//! the tree that goes: 10,000 draws of a top-up are to take less than 20 ms on
//! two cores. Beside it the same document without uncertainty, and one more draw
//! of it by the quick way 10,000 times over, for the ratio.

use criterion::Criterion;
use serde_json::{Value, json};
use std::hint::black_box;
use sumpwright_openapi::service::Services;

fn main() {
    let mut criterion = Criterion::default().configure_from_args();
    let services = Services::new();
    let service = services.get("top-up").expect("it is served");
    let plain: Value = serde_json::from_str(service.example).expect("an example is JSON");
    let mut uncertain = plain.clone();
    uncertain["uncertainty"] = json!({ "inputs": {
        "/sump/volume": { "u": 4 },
        "/sump/reading/brix": { "half_width": 0.25 },
        "/sump/reading/factor": { "u": 0.03 },
    }});
    let (plain, uncertain) = (plain.to_string(), uncertain.to_string());
    assert!(service.answer(uncertain.as_bytes()).is_ok(), "it has no answer");
    let mut group = criterion.benchmark_group("uncertainty");
    group.sample_size(40);
    group.bench_function("top-up, 10,000 draws", |bench| {
        bench.iter(|| service.answer(black_box(uncertain.as_bytes())));
    });
    group.bench_function("top-up, 10,000 plain documents", |bench| {
        bench.iter(|| {
            for _ in 0..10_000 {
                let _ = black_box(service.answer(black_box(plain.as_bytes())));
            }
        });
    });
    group.finish();
    criterion.final_summary();
}
