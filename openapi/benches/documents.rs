//! The whole way of a document, from the bytes that came to the bytes that go, in both
//! systems of units. The numbers are the same in both, so that the same work is done; where
//! they are out of bounds as US units, the document is asked in metric ones alone.

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
            let answered = service.answer(document).is_ok();
            assert!(answered || units == "us", "{name} has no answer");
            if !answered {
                continue;
            }
            criterion.bench_function(&name, |bench| {
                bench.iter(|| service.answer(black_box(document)));
            });
        }
    }
    criterion.final_summary();
}
