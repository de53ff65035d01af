//! A sump's log: the same fits by statsmodels, and every refusal over HTTP.

use crate::problems::assert_problem;
use crate::server::post;
use crate::{assert_near, number, service, solve};
use serde_json::{Value, json};

fn example() -> Value {
    serde_json::from_str(service("losses").example).expect("an example is JSON")
}

/// Forty logs fitted by statsmodels' WLS on exact derivatives, step by step until
/// it stands (tests/published/losses.py writes them): rates, uncertainties and
/// their correlation to 1e-9. With the strengths weighed away, what is left is the
/// volumes, and their loss is that of statsmodels' GLS on the differences of
/// neighbouring volumes with the covariance of a shared reading.
#[test]
fn fits_are_those_of_statsmodels() {
    let recorded: Value =
        serde_json::from_str(include_str!("published/losses.json")).expect("recorded fits");
    let cases = recorded["cases"].as_array().expect("cases");
    assert_eq!(cases.len(), 40);
    let (mut by_wls, mut by_gls) = (0, 0);
    for case in cases {
        let record = solve("losses", &case["question"]).expect("it is answered");
        if record["answer"]["findings"] == json!([]) {
            by_wls += 1;
            let wls = |member: &str| number(case, &format!("/wls/{member}"));
            for rate in ["evaporation", "carry_off"] {
                let found = |member: &str| number(&record, &format!("/answer/{rate}/{member}"));
                assert_near(found("value") / wls(rate), 1.0, 1e-9);
                assert_near(found("u") / wls(&format!("u_{rate}")), 1.0, 1e-9);
            }
            let found = number(&record, "/answer/correlation/evaporation_carry_off");
            assert_near(found, wls("correlation"), 1e-9);
        }
        let mut volumes = case["question"].clone();
        volumes["reading_uncertainty"]["concentration"] = 100.into();
        let record = solve("losses", &volumes).expect("it is answered");
        if record["answer"]["findings"] == json!([]) {
            by_gls += 1;
            let u = number(case, "/gls/u_loss");
            let found = |member: &str| number(&record, &format!("/answer/make_up/daily/{member}"));
            assert_near(found("value"), number(case, "/gls/loss"), 1e-3 * u);
            assert_near(found("u") / u, 1.0, 1e-3);
        }
    }
    assert!(by_wls >= 36 && by_gls >= 36, "only {by_wls} and {by_gls} of 40 without findings");
}

/// The example's log has 20 L of water that nobody wrote down.
#[test]
fn the_example_finds_what_was_planted() {
    let record = solve("losses", &example()).expect("it is answered");
    let findings = record["answer"]["findings"].as_array().expect("findings");
    assert_eq!(findings.len(), 1, "{findings:#?}");
    assert_eq!(findings[0]["kind"], "unrecorded_addition");
    let near = |pointer: &str, truth: f64| {
        let found = number(&record, &format!("{pointer}/value"));
        let u = number(&record, &format!("{pointer}/u"));
        assert_near(found, truth, 3.0 * u);
    };
    near("/answer/findings/0/size", 20.0);
    near("/answer/evaporation", 9.0);
    near("/answer/carry_off", 6.0);
    near("/answer/make_up", 3.2);
}

/// A machine that rests every other week: the same losses for each running hour,
/// and days of rest do not thin the rate.
#[test]
fn weeks_at_rest_do_not_mislead() {
    let mut log = Vec::new();
    let (mut volume, mut concentrate, mut hours) = (200.0_f64, 16.0_f64, 1000.0);
    for day in 0..29 {
        let strength = 100.0 * concentrate / volume;
        let mut entry = json!({
            "day": day, "volume": volume, "concentration": strength, "running_hours": hours,
        });
        if volume < 150.0 {
            entry["added"] = json!({ "volume": 50.0, "concentration": 3.2 });
            volume += 50.0;
            concentrate += 1.6;
        }
        log.push(entry);
        if (day / 7) % 2 == 0 {
            // 8 hours at 0.9 L/h into the air and 0.6 L/h on chips.
            let after = volume - 12.0;
            concentrate *= (after / volume).powf(0.4);
            volume = after;
            hours += 8.0;
        }
    }
    let question = json!({
        "units": "metric", "sump": { "capacity": 200 }, "log": log,
        "reading_uncertainty": { "volume": 1, "concentration": 0.05 },
    });
    let record = solve("losses", &question).expect("it is answered");
    let hourly = |rate: &str| number(&record, &format!("/answer/per_running_hour/{rate}/value"));
    assert_near(hourly("evaporation"), 0.9, 1e-9);
    assert_near(hourly("carry_off"), 0.6, 1e-9);
    // Half of the days it ran 8 hours.
    assert_near(number(&record, "/answer/per_running_hour/mean_daily_hours"), 4.0, 1e-12);
    assert_near(number(&record, "/answer/evaporation/value"), 3.6, 1e-8);
    assert_eq!(record["answer"]["findings"], json!([]));
}

/// Asserts how the example is refused after a change.
#[track_caller]
fn refused(slug: &str, pointers: &[&str], change: impl FnOnce(&mut Value)) -> Value {
    let mut question = example();
    change(&mut question);
    assert_problem(post("/v1/losses", &question), 422, slug, pointers)
}

#[test]
fn a_log_in_disorder_is_refused() {
    refused("inconsistent", &["/log/3/day", "/log/5", "/log/7/day"], |q| {
        q["log"][3]["day"] = 3.into();
        q["log"][5].as_object_mut().unwrap().remove("at");
        q["log"][7].as_object_mut().unwrap().remove("at");
        q["log"][7]["day"] = 7.into();
    });
    refused("out-of-range", &["/log/2/at"], |q| q["log"][2]["at"] = "4 March, morning".into());
    refused("inconsistent", &["/log/4"], |q| q["log"][4]["at"] = q["log"][1]["at"].clone());
    // A log of days goes on with days.
    refused("inconsistent", &["/log/1/at", "/log/2/at"], |q| {
        let entries = q["log"].as_array().expect("entries")[..3].to_vec();
        q["log"] = entries.into();
        q["log"][0].as_object_mut().unwrap().remove("at");
        q["log"][0]["day"] = 0.into();
    });
}

#[test]
fn readings_that_contradict_are_refused() {
    refused("inconsistent", &["/log/2/volume", "/log/3/volume", "/log/4/reading"], |q| {
        q["log"][2]["volume"] = 260.into();
        q["log"][3]["volume"] = 0.into();
        q["log"][4]["concentration"] = 8.into();
    });
    refused("inconsistent", &["/log/6/reading"], |q| {
        q["log"][6]["reading"]["water_brix"] = 12.into();
    });
    refused("inconsistent", &["/log/1/removed/volume"], |q| {
        q["log"][1]["removed"] = json!({ "volume": 500 });
    });
    refused("inconsistent", &["/reading_uncertainty/concentration", "/known/carry_off/u"], |q| {
        q["reading_uncertainty"]["concentration"] = 0.into();
        q["known"] = json!({ "carry_off": { "value": 6, "u": 0 } });
    });
    let hours = ["/log/1/running_hours", "/log/3/running_hours"];
    refused("inconsistent", &hours, |q| {
        let entries = q["log"].as_array().expect("entries")[..4].to_vec();
        q["log"] = entries.into();
        for (i, hours) in [(0, 100), (2, 120), (3, 110)] {
            q["log"][i]["running_hours"] = hours.into();
        }
    });
    // Twenty litres were there, and twenty-five were taken out on the next day.
    let dry = json!([
        { "day": 0, "volume": 20, "concentration": 8 },
        { "day": 1, "removed": { "volume": 25 }, "added": { "volume": 30, "concentration": 5 } },
        { "day": 2, "volume": 10, "concentration": 8 },
    ]);
    let problem = refused("inconsistent", &["/log/1"], |q| q["log"] = dry);
    assert!(problem["detail"].as_str().unwrap().contains("dry by day 1."), "{problem}");
}

#[test]
fn a_depletion_ratio_of_nothing_or_given_twice_is_refused() {
    refused("inconsistent", &["/known/depletion_ratio"], |q| {
        q["known"] = json!({ "depletion_ratio": 0 });
    });
    refused("inconsistent", &["/known/depletion_ratio"], |q| {
        q["estimate"] = json!(["depletion_ratio"]);
        q["known"] = json!({ "depletion_ratio": 1.2, "carry_off": { "value": 6, "u": 1 } });
    });
}

/// Too little data says what to measure next.
#[test]
fn what_a_log_cannot_tell_is_refused_with_what_to_measure() {
    let problem = refused("not-identifiable", &["/log", "/log"], |q| {
        q["log"].as_array_mut().expect("entries").truncate(1);
    });
    assert!(problem["detail"].as_str().unwrap().contains("again"), "{problem}");
    refused("not-identifiable", &["/log"], |q| {
        for entry in q["log"].as_array_mut().expect("entries") {
            entry.as_object_mut().expect("an entry").remove("reading");
        }
    });
    let problem = refused("not-identifiable", &["/known/carry_off"], |q| {
        q["estimate"] = json!(["depletion_ratio"]);
    });
    assert!(problem["detail"].as_str().unwrap().contains("weighing"), "{problem}");
    refused("not-identifiable", &["/log"], |q| {
        for entry in q["log"].as_array_mut().expect("entries") {
            entry["running_hours"] = 500.into();
        }
    });
    // Two entries hold four readings, and five are wanted for the volume.
    refused("not-identifiable", &["/log"], |q| {
        q["estimate"] = json!(["volume"]);
        q["log"].as_array_mut().expect("entries").truncate(2);
    });
    // Nothing was added, so nothing tells the volume.
    refused("not-identifiable", &["/log"], |q| {
        q["estimate"] = json!(["volume"]);
        q["log"].as_array_mut().expect("entries").truncate(3);
        for entry in q["log"].as_array_mut().expect("entries") {
            entry.as_object_mut().expect("an entry").remove("added");
        }
    });
    let problem = refused("not-identifiable", &["/estimate"], |q| {
        q["estimate"] = json!(["volume"]);
        q["reading_uncertainty"] = json!({ "volume": 30, "concentration": 2 });
    });
    assert!(problem["detail"].as_str().unwrap().contains("tenth"), "{problem}");
    refused("not-identifiable", &["/estimate"], |q| {
        q["estimate"] = json!(["depletion_ratio"]);
        q["known"] = json!({ "carry_off": { "value": 6, "u": 5 } });
    });
}

/// Concentrate that comes from nowhere is no loss.
#[test]
fn a_sump_that_gains_concentrate_is_refused() {
    let entries = (0..12).map(|day| {
        let day = f64::from(day);
        json!({ "day": day, "volume": 200.0 - 2.0 * day, "concentration": 6.0 + 0.3 * day })
    });
    let question = json!({
        "units": "metric", "sump": { "capacity": 200 }, "log": entries.collect::<Vec<_>>(),
        "reading_uncertainty": { "volume": 1, "concentration": 0.1 },
    });
    assert_problem(post("/v1/losses", &question), 422, "inconsistent", &["/log"]);
}

/// More water comes in than goes: an ingress from the first entry on.
#[test]
fn a_sump_that_gains_water_has_a_leak() {
    let entries = (0..15).map(|day| {
        let volume = 150.0 + 3.0 * f64::from(day);
        let noise = 0.01 * f64::from(day % 3 - 1);
        let strength = 8.0 * (150.0 / volume) * (1.0 - 0.005 * f64::from(day)) + noise;
        json!({ "day": day, "volume": volume, "concentration": strength })
    });
    let question = json!({
        "units": "metric", "sump": { "capacity": 200 }, "log": entries.collect::<Vec<_>>(),
        "reading_uncertainty": { "volume": 1, "concentration": 0.1 },
    });
    let record = solve("losses", &question).expect("it is answered");
    assert_eq!(record["answer"]["evaporation"]["value"], 0.0);
    let finding = &record["answer"]["findings"][0];
    assert_eq!((&finding["kind"], &finding["from"]), (&json!("water_ingress"), &json!(0.0)));
    let carried = number(&record, "/answer/carry_off/value");
    let size = number(&record, "/answer/findings/0/size/value");
    assert_near(size - carried, 3.0, 0.1);
}
