//! What each calculation takes by itself, on its own example.
//!
//! What it came to is recorded in `tests/tools/measurements.md`.

use criterion::Criterion;
use serde_json::{Value, json};
use std::hint::black_box;
use sumpwright_engine::calculation::Calculation;
use sumpwright_engine::calculations::recycling::blend::Blend;
use sumpwright_engine::calculations::recycling::fluid_loop::FluidLoop;
use sumpwright_engine::calculations::shop::recharge::Recharge;
use sumpwright_engine::calculations::shop::top_up_round::TopUpRound;
use sumpwright_engine::calculations::sump::forecast::Forecast;
use sumpwright_engine::catalogue::{Catalogue, Everything, Visitor};
use sumpwright_engine::fluid::stock::Stock;
use sumpwright_engine::quantity::Quantity;

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

/// The demo round of top-ups with its sumps over and over, 40 of them and no two alike.
fn large_walk() -> TopUpRound {
    let mut document: Value = serde_json::from_str(TopUpRound::EXAMPLE).expect("an example");
    let sumps = document["sumps"].as_array().expect("it has sumps").clone();
    let many = sumps.iter().cycle().take(40).zip(1_u32..).map(|(sump, number)| {
        let mut sump = sump.clone();
        let volume = sump["sump"]["volume"].as_f64().expect("a volume");
        sump["name"] = format!("machine {number}").into();
        sump["sump"]["volume"] = (volume * (1.0 - 0.002 * f64::from(number % 17))).into();
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

/// A batch of eight stocks under six limits, at least cost.
fn large_blend() -> Blend {
    let stocks = (0..8).map(|i: u32| {
        let properties = json!({
            "tramp_oil": f64::from(i % 4) * 0.2, "chloride": 5 + 17 * i, "hardness": 20 + 41 * (i * 5 % 8),
            "nitrate": 3 + 7 * (i * 3 % 8), "sulphate": 10 + 13 * (i * 7 % 8), "solids": 4 + 9 * (i * i % 8),
        });
        let strength = f64::from([100, 0, 4, 6, 0, 12, 3, 8][i as usize]);
        json!({
            "name": format!("stock {i}"), "concentration": strength,
            "volume": if i < 2 { 5000 } else { 150 + 40 * i },
            "unit_cost": 0.04 + strength * 0.05 - 0.004 * f64::from(i), "properties": properties,
        })
    });
    let stocks: Vec<Value> = stocks.collect();
    let names = ["tramp_oil", "chloride", "hardness", "nitrate", "sulphate", "solids"];
    let most = [0.4, 80.0, 200.0, 35.0, 70.0, 25.0];
    let limits =
        names.iter().zip(most).map(|(name, most)| ((*name).to_owned(), json!({ "max": most })));
    let limits: serde_json::Map<String, Value> = limits.collect();
    serde_json::from_value(json!({
        "target": { "volume": 1500, "concentration": 6.5 },
        "stocks": stocks, "limits": limits, "goal": "least_cost",
    }))
    .expect("a question")
}

/// The same programme put to the solver alone, in shares of the batch; its least cost.
fn by_solver_alone(blend: &Blend) -> f64 {
    let volume = blend.target.volume.get();
    let mut problem = microlp::Problem::new(microlp::OptimizationDirection::Minimize);
    let shares: Vec<_> = blend
        .stocks
        .iter()
        .map(|stock| {
            let cost = stock.unit_cost.map_or(0.0, Quantity::get);
            problem.add_var(cost, (0.0, stock.on_hand() / volume))
        })
        .collect();
    let row = |of: &dyn Fn(&Stock) -> f64| -> Vec<_> {
        shares.iter().zip(&blend.stocks).map(|(share, stock)| (*share, of(stock))).collect()
    };
    problem.add_constraint(row(&|_| 1.0), microlp::ComparisonOp::Eq, 1.0);
    let strength = blend.target.concentration.get();
    problem.add_constraint(row(&|s| s.concentration.get()), microlp::ComparisonOp::Eq, strength);
    let oil = blend.limits.tramp_oil.as_ref().and_then(|limit| limit.max).map(Quantity::get);
    let oil_of = |s: &Stock| s.properties.tramp_oil.map_or(0.0, Quantity::get);
    problem.add_constraint(row(&oil_of), microlp::ComparisonOp::Le, oil.expect("a limit"));
    for (name, limit) in &blend.limits.matter {
        let of = |s: &Stock| s.properties.matter.get(name).map_or(0.0, |content| content.get());
        let most = limit.max.expect("a limit").get();
        problem.add_constraint(row(&of), microlp::ComparisonOp::Le, most);
    }
    match problem.solve_with(microlp::SolveOptions::default()) {
        Ok(microlp::SolveOutcome::Solution(found)) => found.objective() * volume,
        _ => f64::NAN,
    }
}

/// A year of the demo sump, fed every day with water and concentrate.
fn year_fed_daily() -> Forecast {
    let mut document: Value = serde_json::from_str(Forecast::EXAMPLE).expect("an example is JSON");
    document["days"] = 365.into();
    document["feeding"] = json!({
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
        document["tanks"][tank] = json!({ "capacity": 1e6, "holds": 1e5 });
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
    let blend = large_blend();
    let found = blend.calculate().map(|outcome| outcome.answer.cost.map(Quantity::get));
    let alone = by_solver_alone(&blend);
    let cost = found.ok().flatten().expect("the large blend has an answer");
    assert!((cost - alone).abs() < 1e-6 * cost, "{cost} and {alone}");
    let mut blends = bench.0.benchmark_group("blend");
    blends.bench_function("8 stocks, 6 limits", |bench| {
        bench.iter(|| black_box(&blend).calculate());
    });
    blends.bench_function("its programme by the solver alone", |bench| {
        bench.iter(|| by_solver_alone(black_box(&blend)));
    });
    blends.finish();
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
        bench.iter(|| Forecast::PICTURES.map(|draw| draw(black_box(&year), &answer)));
    });
    years.finish();
    let walk = large_walk();
    assert!(walk.calculate().is_ok(), "the large round of top-ups has no answer");
    let mut walks = bench.0.benchmark_group("top-up-round");
    walks.sample_size(20).bench_function("40 sumps, fluid moved", |bench| {
        bench.iter(|| black_box(&walk).calculate());
    });
    walks.finish();
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
