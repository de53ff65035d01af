//! The uncertainty of one top-up: seed, budget, address and refused draws.

use super::{sure_top_up, top_up, uncertain};
use crate::server::{get, post};
use crate::{assert_near, number, service, solve};
use serde_json::{Value, json};

/// The same document gives the same bytes; a different seed gives different ones.
#[test]
fn the_same_seed_gives_the_same_bytes() {
    let ask = |document: &Value| {
        service("top-up").answer(document.to_string().as_bytes()).expect("an answer")
    };
    let mut document = sure_top_up();
    assert_eq!(ask(&document), ask(&document));
    let first = ask(&document);
    document["uncertainty"]["seed"] = 1.into();
    assert_eq!(ask(&document), first, "the default seed is 1");
    document["uncertainty"]["seed"] = 2.into();
    assert_ne!(ask(&document), first);
}

/// "Add 11.6 L, plus or minus u; this share of the variance is due to the sump's volume."
#[test]
fn a_top_up_says_what_to_measure_better() {
    // V = 500 L (u 10) in a sump of 520 L, f = 1.25 (u 0.01), b = 4.8 (u 0.05) to 8 %:
    // concentrate A = (8·520 − f·b·V)/100 = 11.6 L, whose uncertainty by hand is the root
    // of the sum of the squares below.
    let mut question = top_up();
    question["vessel"] = "stirred_tank".into();
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

/// The flat form names an input by its pointer, and the text form gives the uncertainty in one line.
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
    assert!(include_str!("../../../README.md").contains(line), "the README says otherwise");
    assert!(!text.contains("uncertainty.numbers"), "{text}");
    assert!(text.contains("uncertainty.draws: 10000"), "{text}");
}

/// Impossible draws are counted by reason.
#[test]
fn draws_that_have_no_answer_are_counted() {
    // A sump filled to within 1 % of its brim overflows in many of the draws, and a
    // reading near 0 falls below 0.
    let mut question = top_up();
    question["sump"]["volume"] = 198.into();
    question["sump"]["reading"]["brix"] = 0.1.into();
    question["draining"] = "not_allowed".into();
    let inputs = json!({ "/sump/volume": { "u": 2 }, "/sump/reading/brix": { "u": 0.1 } });
    let record = solve("top-up", &uncertain(&question, &inputs, 10_000)).expect("an answer");
    let sure = &record["uncertainty"];
    // By the normal distribution 15.87 % of the draws lie beyond one u on one side;
    // if both are out, the range of a number is checked first.
    let beyond = 0.158655_f64;
    let spread = 4.0 * (10_000.0 * beyond * (1.0 - beyond)).sqrt();
    assert_near(number(sure, "/refused/out_of_range"), 10_000.0 * beyond, spread);
    assert_near(number(sure, "/refused/inconsistent"), 10_000.0 * beyond * (1.0 - beyond), spread);
    let answered = number(sure, "/answered");
    assert_eq!(
        answered + number(sure, "/refused/out_of_range") + number(sure, "/refused/inconsistent"),
        10_000.0
    );
    // First-order propagation ignores the brim.
    let added = &sure["numbers"]["/answer/add/0/volume"];
    assert_eq!(added["first_order"]["standing"], "disagrees");
    assert!(number(added, "/low") >= 0.0);
}

/// A number that is absent in some draws is reported for the others only.
#[test]
fn a_number_that_comes_and_goes_is_counted() {
    // Just full: whether anything is added, and so whether there is a premix, depends on
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
