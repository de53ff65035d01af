//! A round over HTTP: refusals, the job sheet, and the bounds of the trade.

use crate::assert_problem;
use crate::draws::{any_document, held, near};
use crate::server::{header, post, request};
use crate::support::{changed, found};
use crate::{number, service, solve};
use proptest::prelude::*;
use serde_json::{Value, json};
use std::cell::Cell;
use sumpwright_engine::numerics::digits::round_to;
use sumpwright_openapi::document::question_name;

fn example() -> Value {
    serde_json::from_str(service("recharge").example).expect("an example is JSON")
}

/// Each fault of a round points at its sump.
#[test]
fn a_round_is_refused_at_the_sumps_at_fault() {
    let mut heavy = example();
    heavy["sumps"][0]["chips"] = 5000.into();
    heavy["vessels"][3].as_object_mut().unwrap().remove("emptied_on_the_way");
    heavy.as_object_mut().unwrap().remove("chip_density");
    assert_problem(post("/v1/recharge", &heavy), 422, "unreachable", &["/sumps/0/chips"]);

    let mut twice = example();
    for sump in [1, 4] {
        twice["sumps"][sump]["name"] = twice["sumps"][0]["name"].clone();
    }
    let pointers = ["/sumps/1/name", "/sumps/4/name"];
    assert_problem(post("/v1/recharge", &twice), 422, "inconsistent", &pointers);
}

/// The job sheet of the demo round names every machine, trip and batch, with its
/// figures in the units that were asked for.
#[test]
fn a_round_can_be_printed_as_a_job_sheet() {
    let service = service("recharge");
    let question: Value = serde_json::from_str(service.example).expect("JSON");
    for question in [question.clone(), crate::support::units::in_us_units(service, &question)] {
        let sheet = request("POST", "/v1/recharge").header("accept", "text/html").json(&question);
        let sheet = sheet.send().expect("a sheet");
        assert_eq!(header(&sheet, "content-type"), "text/html; charset=utf-8");
        let sheet = sheet.text().expect("a page");
        let record: Value = post("/v1/recharge", &question).json().expect("an answer");
        for sump in question["sumps"].as_array().expect("sumps") {
            assert!(
                sheet.contains(&format!("<strong>{}:</strong>", sump["name"].as_str().unwrap()))
            );
        }
        let trips = record["answer"]["trips"].as_array().expect("trips").len();
        assert!(
            sheet.contains(&format!("Trip <b>{trips}</b>"))
                && !sheet.contains(&format!("Trip <b>{}</b>", trips + 1))
        );
        let clean = round_to(number(&record, "/answer/trips/6/clean"), 3);
        let unit = if question["units"] == "us" { "gal" } else { "L" };
        assert!(sheet.contains(&format!("<b>{clean} {unit}</b>")), "{clean} {unit}");
        for caution in record["cautions"].as_array().expect("cautions") {
            let words = caution["text"].as_str().unwrap().split('\'').next().unwrap();
            assert!(sheet.contains(words), "{words}");
        }
    }
}

/// A shop that gives no vessels gets batches, quantities and a sheet, in either system of
/// units; a job sheet without trips has a line for each machine.
#[test]
fn a_round_without_vessels_has_a_sheet_without_trips() {
    let mut question = example();
    let members = question.as_object_mut().expect("a question");
    for member in ["vessels", "times", "chip_density"] {
        members.remove(member);
    }
    let record: Value = post("/v1/recharge", &question).json().expect("an answer");
    assert!(
        record["answer"].get("trips").is_none() && record["answer"].get("crew_hours").is_none()
    );
    let sheet = request("POST", "/v1/recharge").header("accept", "text/html").json(&question);
    let sheet = sheet.send().expect("a sheet").text().expect("a page");
    assert!(sheet.contains("Batch <b>1</b>") && !sheet.contains("Trip <b>1</b>"));
    for sump in question["sumps"].as_array().expect("sumps") {
        assert!(sheet.contains(&format!("<strong>{}:</strong>", sump["name"].as_str().unwrap())));
    }
}

#[test]
fn what_a_caller_writes_is_text_on_the_sheet_and_never_markup() {
    let mut question: Value = serde_json::from_str(service("top-up").example).expect("JSON");
    question["reference"] = "<script>alert(1)</script>".into();
    let sheet = request("POST", "/v1/top-up").header("accept", "text/html").json(&question);
    let sheet = sheet.send().expect("a sheet").text().expect("a page");
    assert!(sheet.contains("&lt;script&gt;") && !sheet.contains("<script>"), "{sheet}");
}

/// Over thousands of rounds: no batch is stronger than a premix may be, each keeps the
/// limits that the round itself gives, and only concentrate is stirred into water.
#[test]
fn no_round_leaves_the_bounds_of_the_trade_or_its_own_limits() {
    let whole = example();
    let mut plain = whole.clone();
    for member in ["vessels", "times", "chip_density"] {
        plain.as_object_mut().expect("a question").remove(member);
    }
    let questions = prop_oneof![
        any_document(&question_name("recharge")),
        near(&whole),
        near(&plain),
        near(&plain)
    ]
    .boxed();
    let (answered, limited) = (Cell::new(0), Cell::new(0));
    let result = held(4000, questions, |question| {
        let Ok(record) = solve("recharge", &question) else { return Ok(()) };
        answered.set(answered.get() + 1);
        let bound = question["premix_at_most"].as_f64().unwrap_or(20.0);
        let batches = record["answer"]["batches"].as_array().expect("batches");
        let rinses = record["answer"]["rinse_mixes"].as_array().into_iter().flatten();
        for mixed in batches.iter().chain(rinses) {
            let strength = number(mixed, "/concentration");
            prop_assert!(strength <= bound * (1.0 + 1e-9), "{mixed}");
        }
        for (name, limit) in question["limits"].as_object().into_iter().flatten() {
            for batch in batches {
                let carried = batch["properties"][name].as_f64().unwrap_or(0.0);
                let most = limit["max"].as_f64().unwrap_or(f64::INFINITY);
                let least = limit["min"].as_f64().unwrap_or(0.0);
                let slack = 1e-6 * carried.max(1.0);
                prop_assert!(carried <= most + slack && carried >= least - slack, "{name} {batch}");
                limited.set(limited.get() + 1);
            }
        }
        for step in record["answer"]["sheet"].as_array().expect("a sheet") {
            let stock = question["stocks"].as_array().into_iter().flatten();
            let stock = stock.filter(|stock| stock["name"] == step["stock"]);
            let neat = stock.filter_map(|stock| stock["concentration"].as_f64()).any(|c| c > 20.0);
            let said = step["text"].as_str().expect("a text").contains("concentrate into water");
            prop_assert!(neat || !said, "{step}");
        }
        Ok(())
    });
    result.unwrap_or_else(|error| panic!("{error}"));
    assert!(answered.get() > 200, "only {} were answered", answered.get());
    assert!(limited.get() > 200, "only {} had limits", limited.get());
}

/// TRGS 611 also applies to the fluid left in a sump that is cleaned out.
#[test]
fn nitrite_in_a_round_is_named_at_its_sump() {
    let round = changed("recharge", |question| {
        question["sumps"][2]["residue_properties"] = json!({ "NO2": 35 });
    });
    assert_eq!(found("recharge", &round, "nitrite-high"), ["/sumps/2"]);
}

/// A round with the maximum number of stocks, each with a quantity on hand, would be a
/// linear programme of gigabytes: it is refused before it is built.
#[test]
fn a_round_from_too_many_stocks_is_refused_before_it_is_planned() {
    let mut round = example();
    let stocks = round["stocks"].as_array_mut().expect("stocks");
    let own = stocks.clone();
    for i in own.len()..20_000 {
        let mut stock = own[i % own.len()].clone();
        stock["name"] = format!("stock {i}").into();
        stocks.push(stock);
    }
    let problem = solve("recharge", &round).expect_err("it is too much");
    assert_eq!((problem.status, problem.r#type.as_str()), (422, "/problems/out-of-range"));
    assert_eq!(problem.errors[0].pointer, "/stocks");
    assert!(problem.detail.contains("20000 stocks"), "{}", problem.detail);
}
