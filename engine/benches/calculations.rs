//! What each calculation takes by itself, on its own example.
//!
//! What it came to is recorded in `tests/tools/measurements.md`.

use criterion::Criterion;
use serde_json::Value;
use std::hint::black_box;
use sumpwright_engine::calculation::Calculation;
use sumpwright_engine::calculations::recycling::fluid_loop::FluidLoop;
use sumpwright_engine::calculations::shop::recharge::Recharge;
use sumpwright_engine::calculations::sump::forecast::Forecast;
use sumpwright_engine::catalogue::{Catalogue, Everything, Visitor};

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

/// The demo round with its machines over and over, 200 of them.
fn large_round() -> Recharge {
    let mut document: Value = serde_json::from_str(Recharge::EXAMPLE).expect("an example is JSON");
    let sumps = document["sumps"].as_array().expect("it has sumps").clone();
    let many = sumps.iter().cycle().take(200).zip(1..).map(|(sump, number)| {
        let mut sump = sump.clone();
        sump["name"] = format!("machine {number}").into();
        sump
    });
    document["sumps"] = many.collect();
    for stock in document["stocks"].as_array_mut().expect("it has stocks") {
        stock.as_object_mut().expect("a stock").remove("volume");
    }
    let members = document.as_object_mut().expect("an example is an object");
    members.retain(|name, _| name != "units" && name != "reference");
    serde_json::from_value(document).expect("a question")
}

/// A year of the demo sump, fed every day with water and concentrate.
fn year_fed_daily() -> Forecast {
    let mut document: Value = serde_json::from_str(Forecast::EXAMPLE).expect("an example is JSON");
    document["days"] = 365.into();
    document["feeding"] = serde_json::json!({
        "when": "every",
        "days": 1,
        "with": {
            "kind": "water_and_concentrate",
            "water": { "properties": { "chloride": 38, "hardness": 214 } },
        },
    });
    let members = document.as_object_mut().expect("an example is an object");
    members.retain(|name, _| name != "units" && name != "reference");
    serde_json::from_value(document).expect("a question")
}

/// The demo loop with its groups over and over, each of a single sump, 10,000 of
/// them and no two alike.
fn large_loop(days: u32) -> FluidLoop {
    let mut document: Value = serde_json::from_str(FluidLoop::EXAMPLE).expect("an example is JSON");
    let groups = document["groups"].as_array().expect("it has groups").clone();
    let many = groups.iter().cycle().take(10_000).zip(1_u32..).map(|(group, number)| {
        let mut group = group.clone();
        let volume = group["volume"].as_f64().expect("a volume");
        group["name"] = format!("sump {number}").into();
        group["count"] = 1.into();
        group["volume"] = (volume * (1.0 + f64::from(number) / 20_000.0)).into();
        group
    });
    document["groups"] = many.collect();
    for tank in ["dirty", "clean"] {
        document["tanks"][tank] = serde_json::json!({ "capacity": 1e6, "holds": 1e5 });
    }
    document["days"] = days.into();
    let members = document.as_object_mut().expect("an example is an object");
    members.retain(|name, _| name != "units" && name != "reference");
    serde_json::from_value(document).expect("a question")
}

fn main() {
    let mut bench = Bench(Criterion::default().configure_from_args());
    Everything.show(&mut bench);
    let round = large_round();
    assert!(round.calculate().is_ok(), "the large round has no answer");
    let mut slow = bench.0.benchmark_group("recharge");
    slow.sample_size(10).bench_function("200 sumps", |bench| {
        bench.iter(|| black_box(&round).calculate());
    });
    slow.finish();
    let year = year_fed_daily();
    assert_eq!(year.calculate().map(|outcome| outcome.answer.feedings.len()), Ok(365));
    let mut years = bench.0.benchmark_group("forecast");
    years.bench_function("a year fed daily", |bench| {
        bench.iter(|| black_box(&year).calculate());
    });
    years.bench_function("its first leaving", |bench| {
        bench.iter(|| black_box(&year).first_leaving());
    });
    years.bench_function("its picture", |bench| {
        let answer = year.calculate().expect("it has an answer").answer;
        bench.iter(|| black_box(&year).chart(&answer));
    });
    years.finish();
    let mut loops = bench.0.benchmark_group("fluid-loop");
    for days in [0, 365] {
        let shop = large_loop(days);
        assert!(shop.calculate().is_ok(), "the large loop has no answer");
        loops.sample_size(20).bench_function(format!("10,000 sumps, {days} days"), |bench| {
            bench.iter(|| black_box(&shop).calculate());
        });
    }
    loops.finish();
    bench.0.final_summary();
}
