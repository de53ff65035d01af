//! What each calculation takes by itself, on its own example.

use criterion::Criterion;
use serde_json::Value;
use std::hint::black_box;
use sumpwright_engine::calculation::{Calculation, Visitor, catalogue};

struct Bench(Criterion);

impl Visitor for Bench {
    fn visit<C: Calculation>(&mut self) {
        let question: C = question();
        assert!(question.calculate().is_ok(), "the example of {} has no answer", C::NAME);
        self.0.bench_function(C::NAME, |bench| {
            bench.iter(|| black_box(&question).calculate());
        });
    }
}

/// The question of the example, without what stands around it on the wire.
fn question<C: Calculation>() -> C {
    let mut document: Value = serde_json::from_str(C::EXAMPLE).expect("an example is JSON");
    let members = document.as_object_mut().expect("an example is an object");
    members.retain(|name, _| name != "units" && name != "reference");
    serde_json::from_value(document).expect("an example is a question")
}

fn main() {
    let mut bench = Bench(Criterion::default().configure_from_args());
    catalogue(&mut bench);
    bench.0.final_summary();
}
