//! The whole way of a document, from the bytes that came to the bytes that go:
//! metric by the straight way, `us` by the tree and the published schema.

use criterion::Criterion;
use std::hint::black_box;
use sumpwright_openapi::service::Services;

fn main() {
    let mut criterion = Criterion::default().configure_from_args();
    let services = Services::new();
    for service in services.iter() {
        let us = service.example.replace(r#""units": "metric""#, r#""units": "us""#);
        for (units, document) in [("metric", service.example), ("us", &us)] {
            let document = document.as_bytes();
            let name = format!("{}/{units}", service.name);
            assert!(service.answer(document).is_ok(), "{name} has no answer");
            criterion.bench_function(&name, |bench| {
                bench.iter(|| service.answer(black_box(document)));
            });
        }
    }
    criterion.final_summary();
}
