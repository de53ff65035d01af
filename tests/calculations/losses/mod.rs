//! Losses: what is found in the log of a sump.

mod kept_logs;
mod known_logs;
mod published;
mod refusals;
mod unmeasured;

use crate::support::findings;
use crate::{assert_near, number, service, solve};
use serde_json::{Value, json};

fn example() -> Value {
    serde_json::from_str(service("losses").example).expect("an example is JSON")
}

/// The example's log has 20 L of water that nobody wrote down.
#[test]
fn the_example_finds_what_was_planted() {
    let record = solve("losses", &example()).expect("it is answered");
    let findings = record["answer"]["suspects"].as_array().expect("findings");
    assert_eq!(findings.len(), 1, "{findings:#?}");
    assert_eq!(findings[0]["kind"], "unrecorded_addition");
    assert_eq!(record["findings"][0]["code"], "unrecorded-addition");
    let near = |pointer: &str, truth: f64| {
        let found = number(&record, &format!("{pointer}/value"));
        let u = number(&record, &format!("{pointer}/u"));
        assert_near(found, truth, 3.0 * u);
    };
    near("/answer/suspects/0/size", 20.0);
    // The rates are of a mean day: 21 of the 29 days are worked, at weekends it rests.
    near("/answer/evaporation", 9.0 * 21.0 / 29.0);
    near("/answer/carry_off", 6.0 * 21.0 / 29.0);
    near("/answer/make_up", 3.2);
}

/// A machine that rests every other week has the same losses per running hour; days of
/// rest do not dilute the rate.
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
    assert_near(number(&record, "/answer/per_running_hour/mean_hours_per_day"), 4.0, 1e-12);
    assert_near(number(&record, "/answer/evaporation/value"), 3.6, 1e-8);
    assert_eq!(record["answer"]["suspects"], json!([]));
}

/// More water comes in than leaves: an ingress from the first entry on.
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
    let finding = &record["answer"]["suspects"][0];
    assert_eq!((&finding["kind"], &finding["from"]), (&json!("water_ingress"), &json!(0.0)));
    let carried = number(&record, "/answer/carry_off/value");
    let size = number(&record, "/answer/suspects/0/size/value");
    assert_near(size - carried, 3.0, 0.1);
}

/// Water that runs in later begins at a moment that is named; from the first entry on only
/// its difference from the evaporation shows, and no moment is named.
#[test]
fn a_leak_is_said_to_begin_where_it_begins() {
    let said = |since: i32| {
        let entries = (0..22).map(|day| {
            // 5 L a day evaporate, and 8 L run in from a day on.
            let volume = 100.0 - 5.0 * f64::from(day) + 8.0 * f64::from((day - since).max(0));
            json!({ "day": day, "volume": volume, "concentration": 800.0 / volume })
        });
        let question = json!({
            "units": "metric", "sump": { "capacity": 200 }, "log": entries.collect::<Vec<_>>(),
            "reading_uncertainty": { "volume": 1, "concentration": 0.1 },
        });
        let told = findings("losses", &question, "water-ingress");
        assert_eq!(told.len(), 1, "{told:#?}");
        told[0]["text"].as_str().expect("a text").to_owned()
    };
    let later = said(9);
    assert!(later.starts_with("From about day 9 (entry 10) on, 8 L/day"), "{later}");
    assert!(later.ends_with("The losses do not include it."), "{later}");
    let always = said(0);
    assert!(always.starts_with("From the first entry on, 3 L/day"), "{always}");
    assert!(always.contains("more water comes in than evaporates"), "{always}");
}

/// A strength that is read off by a point is off by a hundredth of the volume in
/// concentrate: what is left over of an interval is as uncertain as both its ends together,
/// each by the volume that it was read in.
#[test]
fn what_is_left_over_is_as_uncertain_as_the_readings_at_both_ends() {
    let (u_volume, u_strength) = (1.0_f64, 0.1_f64);
    // Evaporation alone: no concentrate leaves.
    let volume = |day: f64| 200.0 - 6.0 * day;
    let entries = (0..12).map(f64::from).map(
        |day| json!({ "day": day, "volume": volume(day), "concentration": 1600.0 / volume(day) }),
    );
    let question = json!({
        "units": "metric", "sump": { "capacity": 200 }, "log": entries.collect::<Vec<_>>(),
        "reading_uncertainty": { "volume": u_volume, "concentration": u_strength },
    });
    let record = solve("losses", &question).expect("it is answered");
    let intervals = record["answer"]["intervals"].as_array().expect("intervals");
    assert_eq!(intervals.len(), 11);
    for interval in intervals {
        let (from, to) = (volume(number(interval, "/from")), volume(number(interval, "/to")));
        assert_near(number(interval, "/residual/volume/value"), 0.0, 1e-6);
        assert_near(number(interval, "/residual/concentrate/value"), 0.0, 1e-6);
        assert_near(number(interval, "/residual/volume/u"), u_volume.hypot(u_volume), 1e-9);
        let u = (from * u_strength / 100.0).hypot(to * u_strength / 100.0);
        assert_near(number(interval, "/residual/concentrate/u"), u, 1e-6);
    }
}

/// Six litres a day on the chips, which take concentrate twice as fast as its share,
/// so that the concentration falls with the volume. The make-up then has twice the
/// concentration of the sump, which is impossible above 50 %; nor is there a make-up if
/// nothing is lost.
/// By hand: (C₁/C₀) = (V₁/V₀)² in the log, and c_m = k·d·c/(e + d) with e = 0.
#[test]
fn what_neat_concentrate_cannot_hold_has_no_make_up() {
    let make_up = |daily: f64, holds: f64| {
        let entries = (0..15).map(|day| {
            let volume = 200.0 - daily * f64::from(day);
            json!({ "day": day, "volume": volume, "concentration": 8.0 * volume / 200.0 })
        });
        let question = json!({
            "units": "metric", "sump": { "capacity": 200, "concentration": holds },
            "log": entries.collect::<Vec<_>>(), "known": { "depletion_ratio": 2 },
            "reading_uncertainty": { "volume": 1, "concentration": 0.1 },
        });
        let record = solve("losses", &question).expect("it is answered");
        assert_near(number(&record, "/answer/carry_off/value"), daily, 1e-9);
        record["answer"].get("make_up").cloned()
    };
    for holds in [8.0, 49.0] {
        let found = make_up(6.0, holds).expect("concentrate is strong enough");
        assert_near(number(&found, "/value"), 2.0 * holds, 1e-6);
        assert_near(number(&found, "/daily/value"), 6.0, 1e-9);
    }
    assert_eq!(make_up(6.0, 51.0), None);
    assert_eq!(make_up(0.0, 8.0), None);
}
