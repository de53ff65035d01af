//! How sure an answer is: what every calculation owes, over the catalogue.

use crate::catalogue::in_us_units;
use crate::server::{get, post};
use crate::{SERVICES, assert_near, number, service, solve};
use serde_json::{Map, Value, json};
use sumpwright_engine::quantity::UnitSystem;
use sumpwright_openapi::flat;
use sumpwright_openapi::service::Service;
use sumpwright_openapi::shape::Shape;

/// Pointers of the numbers of a document that are measured and not counted.
fn measured(service: &Service, document: &Value) -> Vec<String> {
    let leaves = flat::flatten(document);
    let pointers = leaves.iter().map(|(path, _)| format!("/{}", path.replace('.', "/")));
    let is_measured = |pointer: &String| matches!(service.question.at(document, pointer), Some(Shape::Number(Some(row))) if !row.whole);
    pointers.filter(is_measured).collect()
}

/// Whether a number stays in its range when it is off by 5 %.
fn lies_within(service: &Service, document: &Value, pointer: &str) -> bool {
    let Some(Shape::Number(Some(row))) = service.question.at(document, pointer) else {
        return false;
    };
    let x = number(document, pointer);
    row.admits(0.95 * x) && row.admits(1.05 * x)
}

/// A document with `inputs` uncertain and so many draws.
pub(crate) fn uncertain(document: &Value, inputs: &Value, draws: u64) -> Value {
    let mut document = document.clone();
    document["uncertainty"] = json!({ "inputs": inputs, "draws": draws });
    document
}

pub(crate) fn top_up() -> Value {
    json!({
        "units": "metric",
        "reference": "invented example: machining centre 7",
        "sump": {
            "capacity": 200,
            "volume": 140,
            "reading": { "method": "refractometer", "brix": 5.6, "factor": 1.25 },
        },
        "target": { "concentration": 8 },
    })
}

pub(crate) fn sure_top_up() -> Value {
    let inputs = json!({
        "/sump/volume": { "u": 4 },
        "/sump/reading/brix": { "half_width": 0.25 },
        "/sump/reading/factor": { "u": 0.03 },
    });
    uncertain(&top_up(), &inputs, 10_000)
}

/// The record without what is said of uncertainty.
fn plain(mut record: Value) -> Value {
    record.as_object_mut().expect("a record").shift_remove("uncertainty");
    record
}

/// Every calculation takes an uncertainty of 1 % for every measured number of its
/// example, gives the plain answer with it, and says how sure each number of it is.
#[test]
fn every_calculation_says_how_sure_it_is() {
    for service in SERVICES.iter() {
        let example: Value = serde_json::from_str(service.example).expect("an example is JSON");
        let answer = solve(service.name, &example).expect("an example is answered");
        let pointers = measured(service, &example);
        assert!(!pointers.is_empty(), "{} has nothing to measure", service.name);
        let numbers: Vec<(String, f64)> = flat::flatten(&answer["answer"])
            .into_iter()
            .filter_map(|(path, leaf)| {
                Some((format!("/answer/{}", path.replace('.', "/")), leaf.as_f64()?))
            })
            .collect();
        let one_percent = |pointer: &String| {
            (pointer.clone(), json!({ "u": number(&example, pointer).abs() / 100.0 }))
        };
        // Of neat concentrate half the draws are more than all: such a number is asked
        // about by itself, so that the others are answered often enough.
        let (inner, edge): (Vec<String>, Vec<String>) =
            pointers.into_iter().partition(|pointer| lies_within(service, &example, pointer));
        for hundred in inner.chunks(100).chain(edge.chunks(1)) {
            let inputs: Map<String, Value> = hundred.iter().map(one_percent).collect();
            let record = solve(service.name, &uncertain(&example, &inputs.into(), 200));
            let record = record.unwrap_or_else(|problem| panic!("{}: {problem:?}", service.name));
            let sure = &record["uncertainty"];
            let answered = sure["answered"].as_u64().expect("a count");
            let refused = sure["refused"].as_object().expect("counts").values();
            let refused: u64 = refused.filter_map(Value::as_u64).sum();
            assert_eq!(answered + refused, 200, "{}", service.name);
            assert!(answered >= 40, "{}: {}", service.name, sure["refused"]);
            let said = sure["numbers"].as_object().expect("numbers");
            assert_eq!(said.len(), numbers.len(), "{}", service.name);
            let mut moved = 0;
            for ((pointer, value), (own, said)) in numbers.iter().zip(said) {
                assert_eq!(&pointer.replace("~1", "/"), &own.replace("~1", "/"));
                assert_eq!(said["value"].as_f64(), Some(*value), "{} {pointer}", service.name);
                let Some(u) = said.get("u").and_then(Value::as_f64) else { continue };
                let part = |name: &str| said[name].as_f64().expect("it is there with u");
                let rounding = 1e-9 * value.abs();
                assert!(part("mean").is_finite() && part("low") <= part("high"));
                let half_width = (part("high") - part("low")) / 2.0;
                assert!((part("half_width") - half_width).abs() <= rounding);
                // Chebyshev: no more than 2.5 % lie further than 6.3 u to either side.
                assert!(half_width <= 6.4 * u + rounding, "{} {pointer}: {said}", service.name);
                moved += usize::from(u > 0.0);
            }
            // Some inputs only say where a limit lies; all of them together move something.
            assert!(moved > 0 || hundred.len() < inner.len(), "{}", service.name);
            assert_eq!(plain(record), answer, "{}", service.name);
        }
    }
}

/// How many of the metric unit of a number make one of the unit that it has.
fn unit(shape: &Shape, document: &Value, pointer: &str, units: UnitSystem) -> f64 {
    match shape.at(document, pointer) {
        Some(Shape::Number(Some(row))) => {
            row.units.to_metric(1.0, units) - row.units.to_metric(0.0, units)
        }
        _ => panic!("no number at {pointer}"),
    }
}

/// Sensitivities have units of their own, and u has none of the offset of °F.
#[test]
fn us_units_say_the_same() {
    for service in SERVICES.iter() {
        let example: Value = serde_json::from_str(service.example).expect("an example is JSON");
        let us = in_us_units(service, &example);
        let pointers = measured(service, &example);
        let ask = |document: &Value, units: UnitSystem| {
            let one_percent = |pointer: &String| {
                let u = number(&example, pointer).abs() / 100.0;
                (
                    pointer.clone(),
                    json!({ "u": u / unit(&service.question, document, pointer, units) }),
                )
            };
            let inputs: Map<String, Value> = pointers.iter().take(6).map(one_percent).collect();
            solve(service.name, &uncertain(document, &inputs.into(), 100)).expect("it is answered")
        };
        let metric = ask(&example, UnitSystem::Metric);
        let us = ask(&us, UnitSystem::Us);
        let numbers = metric["uncertainty"]["numbers"].as_object().expect("numbers");
        let mut compared = 0;
        for (pointer, said) in numbers {
            let us_said = &us["uncertainty"]["numbers"][pointer];
            let (Some(u), Some(us_u)) = (said["u"].as_f64(), us_said["u"].as_f64()) else {
                continue;
            };
            // But for draws at which something jumps.
            if u > 0.0 && said["first_order"]["standing"] != "disagrees" {
                let in_metric = us_u * unit(&service.record, &us, pointer, UnitSystem::Us);
                assert!((in_metric / u - 1.0).abs() <= 1e-6, "{} {pointer}", service.name);
                compared += 1;
            }
        }
        assert!(compared > 0, "nothing of {} was compared", service.name);
    }
    let question = json!({
        "units": "us",
        "reading": { "method": "refractometer", "brix": 5, "factor": 1.25, "temperature": 77 },
        "uncertainty": { "inputs": { "/reading/temperature": { "u": 1.8 } }, "draws": 1000 },
    });
    let mut metric = question.clone();
    metric["units"] = "metric".into();
    metric["reading"]["temperature"] = 25.into();
    metric["uncertainty"]["inputs"]["/reading/temperature"]["u"] = 1.into();
    let u = "/uncertainty/numbers/~1answer~1concentration/u";
    let (us, metric) = (solve("concentration", &question), solve("concentration", &metric));
    let (us, metric) = (us.expect("an answer"), metric.expect("an answer"));
    assert_near(number(&us, u), number(&metric, u), 1e-9);
    let sensitivity = "/uncertainty/numbers/~1answer~1concentration/first_order/budget\
                       /~1reading~1temperature/sensitivity";
    assert_near(number(&us, sensitivity) * 1.8, number(&metric, sensitivity), 1e-9);
}

/// The same document gives the same bytes, and another seed other ones.
#[test]
fn the_same_seed_gives_the_same_bytes() {
    let ask = |document: &Value| {
        service("top-up").answer(document.to_string().as_bytes()).expect("an answer")
    };
    let mut document = sure_top_up();
    assert_eq!(ask(&document), ask(&document));
    let first = ask(&document);
    document["uncertainty"]["seed"] = 1.into();
    assert_eq!(ask(&document), first, "the seed is 1 when left out");
    document["uncertainty"]["seed"] = 2.into();
    assert_ne!(ask(&document), first);
}

/// "Add so much, give or take so much; and so much of that is the sump's volume."
#[test]
fn a_top_up_says_what_to_measure_better() {
    // V = 500 L (u 10) in a sump of 520 L, f = 1.25 (u 0.01), b = 4.8 (u 0.05) to 8 %:
    // concentrate A = (8·520 − f·b·V)/100 = 11.6 L, whose uncertainty by hand is the root
    // of the sum of the squares below.
    let mut question = top_up();
    question["sump"]["capacity"] = 560.into();
    question["sump"]["volume"] = 500.into();
    question["sump"]["reading"]["brix"] = 4.8.into();
    let inputs = json!({
        "/sump/volume": { "u": 18 },
        "/sump/reading/brix": { "u": 0.05 },
        "/sump/reading/factor": { "u": 0.012 },
    });
    let record = solve("top-up", &uncertain(&question, &inputs, 10_000)).expect("an answer");
    let parts = [0.06 * 18.0, 1.25 * 5.0 * 0.05, 4.8 * 5.0 * 0.012_f64];
    let variance: f64 = parts.iter().map(|part| part * part).sum();
    let add = &record["uncertainty"]["numbers"]["/answer/add/0/volume"];
    assert_near(number(add, "/value"), (8.0 * 560.0 - 6.0 * 500.0) / 100.0, 1e-9);
    assert_near(number(add, "/first_order/u"), variance.sqrt(), 1e-9);
    assert_near(number(add, "/half_width"), 1.96 * variance.sqrt(), 0.05 * variance.sqrt());
    assert_eq!(add["largest"]["pointer"], "/sump/volume");
    assert_near(number(add, "/largest/share"), 100.0 * parts[0] * parts[0] / variance, 1e-6);
    let budget = add["first_order"]["budget"].as_object().expect("a budget");
    let shares: f64 = budget.values().filter_map(|input| input["share"].as_f64()).sum();
    assert_near(shares, 100.0, 1e-9);
    assert_eq!(add["first_order"]["standing"], "agrees");
}

/// The flat form names an input by its pointer, and text says it in a line.
#[test]
fn uncertainty_can_be_asked_for_in_an_address() {
    let address = "/v1/top-up?units=metric&sump.capacity=200&sump.volume=140\
                   &sump.reading.method=refractometer&sump.reading.brix=5.6\
                   &sump.reading.factor=1.25&target.concentration=8\
                   &uncertainty.inputs./sump/volume.u=4\
                   &uncertainty.inputs./sump/reading/brix.half_width=0.25\
                   &uncertainty.inputs./sump/reading/factor.u=0.03&uncertainty.draws=10000";
    let flat: Value = get(address).json().expect("an answer");
    let mut posted: Value = post("/v1/top-up", &sure_top_up()).json().expect("an answer");
    posted.as_object_mut().expect("a record").shift_remove("reference");
    assert_eq!(flat, posted);
    let add = &flat["uncertainty"]["numbers"]["/answer/add/0/volume"];
    let pick = "&pick=uncertainty.numbers./answer/add/0/volume.u";
    let picked = get(&format!("{address}{pick}")).text().expect("a value");
    assert_eq!(picked.parse::<f64>().ok(), add["u"].as_f64());

    let text = get(&format!("{address}&format=text")).text().expect("lines");
    let line = text.lines().find(|line| line.starts_with("answer.add.0.volume:")).expect("a line");
    let (half_width, share) = (number(add, "/half_width"), number(add, "/largest/share"));
    let expected = format!(
        "answer.add.0.volume: 6.2 (6.20 ± {half_width:.2} L, 95 %; {share:.0} % of the variance is \
         sump.volume)"
    );
    assert_eq!(line, expected);
    assert!(include_str!("../README.md").contains(line), "the README says otherwise");
    assert!(!text.contains("uncertainty.numbers"), "{text}");
    assert!(text.contains("uncertainty.draws: 10000"), "{text}");
}

/// Draws that cannot be are counted, by the reason.
#[test]
fn draws_that_have_no_answer_are_counted() {
    // A sump filled to 1 % of its brim overflows in a good part of the draws, and a
    // reading near nothing falls below it.
    let mut question = top_up();
    question["sump"]["volume"] = 198.into();
    question["sump"]["reading"]["brix"] = 0.1.into();
    question["draining"] = "not_allowed".into();
    let inputs = json!({ "/sump/volume": { "u": 2 }, "/sump/reading/brix": { "u": 0.1 } });
    let record = solve("top-up", &uncertain(&question, &inputs, 10_000)).expect("an answer");
    let sure = &record["uncertainty"];
    // By the normal distribution 15.87 % of the draws lie beyond one u on one side;
    // where both do, the range of a number is looked at first.
    let beyond = 0.158655_f64;
    let spread = 4.0 * (10_000.0 * beyond * (1.0 - beyond)).sqrt();
    assert_near(number(sure, "/refused/out_of_range"), 10_000.0 * beyond, spread);
    assert_near(number(sure, "/refused/inconsistent"), 10_000.0 * beyond * (1.0 - beyond), spread);
    let answered = number(sure, "/answered");
    assert_eq!(
        answered + number(sure, "/refused/out_of_range") + number(sure, "/refused/inconsistent"),
        10_000.0
    );
    // First order knows nothing of the brim.
    let added = &sure["numbers"]["/answer/add/0/volume"];
    assert_eq!(added["first_order"]["standing"], "disagrees");
    assert!(number(added, "/low") >= 0.0);
}

/// A number that some draws do not have is said to be in the others alone.
#[test]
fn a_number_that_comes_and_goes_is_counted() {
    // Just full: whether anything is added, and so whether there is a premix, hangs on
    // the draw.
    let mut question = top_up();
    question["sump"]["volume"] = 195.into();
    question["target"]["volume"] = 198.into();
    question["sump"]["reading"]["brix"] = 6.4.into();
    let inputs = json!({ "/sump/volume": { "u": 3 } });
    let record = solve("top-up", &uncertain(&question, &inputs, 2_000)).expect("an answer");
    let numbers = &record["uncertainty"]["numbers"];
    let answered = number(&record, "/uncertainty/answered");
    assert_eq!(number(&numbers["/answer/drain"], "/present_in"), answered);
    let premix = number(&numbers["/answer/premix/volume"], "/present_in");
    assert!(premix > 0.5 * answered && premix < answered, "{premix} of {answered}");
}
