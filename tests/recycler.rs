//! The recycler: what it answers, its laws, and its picture.

use crate::{assert_near, number, service, solve};
use proptest::collection::vec;
use proptest::prelude::*;
use serde_json::{Value, json};
use sumpwright_engine::calculation::Calculation;
use sumpwright_engine::calculations::recycler::{Recycler, RecyclerAnswer};
use sumpwright_engine::chart::Layer;
use sumpwright_openapi::envelope::{Record, Request};

pub(crate) fn example() -> Value {
    serde_json::from_str(service("recycler").example).expect("an example is JSON")
}

pub(crate) fn batch(change: impl FnOnce(&mut Value)) -> Value {
    let mut question = json!({
        "units": "metric",
        "feed": {
            "volume": 900,
            "concentration": 6,
            "properties": { "tramp_oil": 3, "solids": 600, "chloride": 100 },
            "emulsified_share": 10,
        },
        "stages": [
            { "name": "skimmer", "throughput": 150, "removes": { "tramp_oil": 70 } },
            { "name": "filter", "throughput": 120, "removes": { "solids": 60 } },
        ],
        "mode": "single_pass",
        "hours_per_day": 10,
        "target": { "concentration": 8, "limits": { "solids": { "max": 50 } } },
    });
    change(&mut question);
    question
}

/// By hand: three passes at 60 % leave 600·0.4³ = 38.4 mg/L of what was solids,
/// a little more for the oil that has left; two leave 96. The filter holds the
/// rest back on each pass, on the first with 900 − 900·0.03·0.9·0.7 L.
#[test]
fn passes_and_hours_are_those_of_the_slowest_stage() {
    let record = solve("recycler", &batch(|_| ())).expect("it is answered");
    assert_eq!(number(&record, "/answer/passes"), 3.0);
    assert_eq!(record["answer"]["limited_by"], "filter");
    let oil: f64 = 900.0 * 0.03 * 0.9;
    let after = |n: i32| 900.0 - oil + oil * 0.3_f64.powi(n);
    let hours = (after(1) + after(2) + after(3)) / 120.0;
    assert_near(number(&record, "/answer/hours"), hours, 1e-12);
    assert_near(number(&record, "/answer/recovered/volume"), after(3), 1e-9);
    let solids = 600.0 * 0.4_f64.powi(3) * 900.0 / after(3);
    assert_near(number(&record, "/answer/recovered/properties/solids"), solids, 1e-9);
    assert_near(number(&record, "/answer/capacity_per_day"), 900.0 / hours * 10.0, 1e-9);
}

/// A stage told by its separator removes what a separation at the flow of the
/// slowest stage says.
#[test]
fn a_separator_removes_what_a_separation_says() {
    let question = example();
    let separator = &question["stages"][0]["separator"];
    let asked = json!({ "units": "metric", "throughput": 90, "separator": separator });
    let removed = solve("separation", &asked).expect("it is answered");
    let mut given = question.clone();
    given["stages"][0].as_object_mut().unwrap().remove("separator");
    given["stages"][0]["removes"] = removed["answer"]["removed"].clone();
    let [by_size, by_share] = [&question, &given].map(|q| solve("recycler", q).expect("answered"));
    assert_eq!(by_size["answer"], by_share["answer"]);
}

/// A batch that is emulsified beyond its limit says so, and is thinned.
#[test]
fn emulsified_oil_is_named_and_thinned() {
    let question = batch(|question| {
        question["feed"]["emulsified_share"] = 60.into();
        question["target"]["limits"]["tramp_oil"] = json!({ "max": 1 });
    });
    let record = solve("recycler", &question).expect("it is answered");
    let listed = &record["answer"]["not_recyclable"][0];
    assert_eq!((&listed["property"], &listed["why"]), (&json!("tramp_oil"), &json!("emulsified")));
    assert_near(number(&record, "/answer/correction/batch/properties/tramp_oil"), 1.0, 1e-6);
    let share = number(&record, "/answer/correction/take/0/share");
    assert_near(share, 100.0 / number(listed, "/left/tramp_oil"), 1e-4);
}

/// The tank levels to the moment. By hand: 600 L run into an empty tank in 6 h
/// from six o'clock while 50 L/h are worked from eight: 200 L at eight, then
/// 50 L/h more, so that 300 L are full at ten. Clean: 100 L, 50 L/h from eight,
/// fetched at 200 L/h from nine: 150 L at nine, gone an hour later.
#[test]
fn overflow_and_shortage_are_found_within_the_day() {
    let question = json!({
        "units": "metric",
        "feed": { "arrivals": [{ "day": 0.25, "volume": 600, "hours": 6 }], "concentration": 6 },
        "stages": [{ "name": "filter", "throughput": 50 }],
        "mode": "single_pass",
        "hours_per_day": 8,
        "starts_at_hour": 8,
        "tanks": {
            "dirty": { "capacity": 300 },
            "clean": { "capacity": 1000, "level": 100 },
        },
        "demand": [{ "day": 0.375, "volume": 400, "hours": 2 }],
        "target": { "concentration": 6 },
    });
    let record = solve("recycler", &question).expect("it is answered");
    assert_near(number(&record, "/answer/first_overflow/day"), 10.0 / 24.0, 1e-12);
    assert_near(number(&record, "/answer/first_overflow/volume"), 100.0, 1e-9);
    assert_near(number(&record, "/answer/first_shortage/day"), 10.0 / 24.0, 1e-12);
    assert_near(number(&record, "/answer/first_shortage/volume"), 150.0, 1e-9);
    assert_near(number(&record, "/answer/smallest/dirty"), 400.0, 1e-9);
    assert!(record["answer"]["smallest"]["clean"].is_null());
}

/// The demo shop's week can be drawn: both tanks under their capacities, with
/// the deliveries and what is fetched.
#[test]
fn the_week_is_drawn() {
    let service = service("recycler");
    let request: Request<Recycler> = serde_json::from_str(service.example).expect("a question");
    let answer = service.answer(service.example.as_bytes()).expect("it is answered");
    let record: Record<RecyclerAnswer> = serde_json::from_slice(&answer).expect("an answer");
    let question = request.question;
    let chart = question.chart(&record.answer).expect("a picture");
    assert!(Recycler::HAS_CHART && chart.panels.len() == 2);
    for (panel, events) in chart.panels.iter().zip([3, 4]) {
        let mut seen = 0;
        let mut limit = f64::NAN;
        for layer in &panel.layers {
            match layer {
                Layer::Limit { at, .. } => limit = *at,
                Layer::Line { points, .. } => {
                    assert!(points.is_sorted_by(|a, b| a.0 <= b.0));
                    assert!(points.iter().all(|(_, level)| (0.0..=limit).contains(level)));
                }
                Layer::Event { .. } => seen += 1,
                other => panic!("{other:?}"),
            }
        }
        assert_eq!(seen, events);
    }
}

/// A plan drawn at random: deliveries, demand, tanks, and a filter.
fn any_plan() -> impl Strategy<Value = Value> {
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

/// A level on a day, on the straight line between the points beside it; where it
/// jumps, the one after the jump.
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

    /// Nothing is created in the tanks: what was in the dirty tank and what came,
    /// less what ran over and what is left, was worked; so much, corrected, came
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

    /// The smallest dirty tank just holds, and one smaller by a thousandth does
    /// not; the same for the clean tank and for the throughput.
    #[test]
    fn the_smallest_holds_and_a_smaller_one_does_not(plan in any_plan()) {
        let record = solve("recycler", &plan).expect("it is answered");
        let ask = |pointer: &str, value: f64| {
            let mut changed = plan.clone();
            *changed.pointer_mut(pointer).expect("it is there") = value.into();
            changed
        };
        let fails = |question: &Value, what: &str| {
            let record = solve("recycler", question).expect("it is answered");
            record["answer"][what].is_object()
        };
        let smallest = |what: &str| record["answer"]["smallest"][what].as_f64();
        let level = number(&plan, "/tanks/dirty/level");
        let dirty = smallest("dirty").expect("there always is one");
        let tank = "/tanks/dirty/capacity";
        prop_assert!(!fails(&ask(tank, dirty * (1.0 + 1e-9)), "first_overflow"));
        if dirty * 0.999 > level {
            prop_assert!(fails(&ask(tank, dirty * 0.999), "first_overflow"));
        }
        let roomy = |mut question: Value| {
            question["tanks"]["dirty"]["capacity"] = 1e6.into();
            question
        };
        let tank = "/tanks/clean/capacity";
        if let Some(clean) = smallest("clean") {
            prop_assert!(!fails(&roomy(ask(tank, clean * (1.0 + 1e-9))), "first_shortage"));
            if clean * 0.999 > number(&plan, "/tanks/clean/level") {
                prop_assert!(fails(&roomy(ask(tank, clean * 0.999)), "first_shortage"));
            }
        } else {
            prop_assert!(fails(&roomy(ask(tank, 1e6)), "first_shortage"));
        }
        if let Some(throughput) = smallest("throughput").filter(|q| *q > 0.0) {
            let stage = "/stages/0/throughput";
            let enough = ask(stage, throughput * (1.0 + 1e-9));
            let less = ask(stage, throughput * 0.999);
            let either = |q: &Value| fails(q, "first_overflow") || fails(q, "first_shortage");
            prop_assert!(!either(&enough) && either(&less), "{throughput}");
        }
    }

    /// A tighter limit asks for more passes, and nothing that is followed comes
    /// to more by them.
    #[test]
    fn passes_never_make_it_dirtier(
        oil in 0.0..95.0_f64, solids in 5.0..95.0_f64, lost in 0.0..5.0_f64,
        emulsified in 0.0..100.0_f64, recirculate in any::<bool>(), limits in vec(1.0..600.0_f64, 2),
    ) {
        let ask = |most: f64| batch(|question| {
            question["feed"]["emulsified_share"] = emulsified.into();
            question["stages"][0]["removes"]["tramp_oil"] = oil.into();
            question["stages"][1]["removes"]["solids"] = solids.into();
            question["stages"][1]["good_fluid_lost"] = lost.into();
            question["target"]["limits"]["solids"]["max"] = most.into();
            if recirculate {
                question["mode"] = "recirculate".into();
            }
        });
        let (loose, tight) = (limits[0].max(limits[1]), limits[0].min(limits[1]));
        let solved = [ask(loose), ask(tight)].map(|q| solve("recycler", &q).expect("answered"));
        let amounts = |record: &Value| {
            let volume = number(record, "/answer/recovered/volume");
            let carried = |name: &str| {
                volume * number(record, &format!("/answer/recovered/properties/{name}"))
            };
            let concentrate = volume * number(record, "/answer/recovered/concentration");
            [volume, concentrate, carried("tramp_oil"), carried("solids"), carried("chloride")]
        };
        let [few, many] = &solved;
        prop_assert!(number(few, "/answer/passes") <= number(many, "/answer/passes"));
        let fed = [900.0, 5400.0, 2700.0, 540_000.0, 90_000.0];
        for ((many, few), fed) in amounts(many).into_iter().zip(amounts(few)).zip(fed) {
            prop_assert!(many <= few * (1.0 + 1e-12) && few <= fed * (1.0 + 1e-12));
        }
        let left = number(many, "/answer/recovered/properties/solids");
        prop_assert!(left <= tight * (1.0 + 1e-9), "{left} and {tight}");
    }
}
