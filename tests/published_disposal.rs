//! Figures for waste from outside the project, each with its source.

use crate::{assert_near, number, service, solve};
use serde_json::{Value, json};

/// Days in the months of a projection.
const MONTH: f64 = 365.0 / 12.0;

/// A shop whose only waste is so much mass each month, as filter media.
fn so_much_a_month(mass: f64) -> Value {
    json!({
        "units": "metric",
        "groups": [{
            "name": "a press",
            "volume": 100,
            "concentration": 5,
            "losses": { "evaporation": 0, "carry_off": 0 },
            "filter": { "dry_mass": mass, "every_months": 1 },
        }],
    })
}

fn solved(question: &Value) -> Value {
    solve("disposal", question).unwrap_or_else(|problem| panic!("{problem:?}"))
}

/// 40 CFR 262.13: very small to 100 kg a month, small above 100 and below 1000,
/// large from 1000; at the boundaries exactly, in either system of units.
#[test]
fn generator_categories_at_their_boundaries() {
    for (mass, category) in [
        (99.9, "very_small"),
        (100.0, "very_small"),
        (100.1, "small"),
        (999.9, "small"),
        (1000.0, "large"),
        (1000.1, "large"),
    ] {
        let question = so_much_a_month(mass);
        let us = crate::catalogue::in_us_units(service("disposal"), &question);
        for record in [solved(&question), solved(&us)] {
            for month in record["answer"]["months"].as_array().expect("months") {
                assert_eq!(month["category"], category, "{mass} kg: {month:#}");
            }
        }
        let record = solved(&question);
        let entered = record.pointer("/answer/months/2/entered_on_day").and_then(Value::as_f64);
        let entry = match category {
            "very_small" => None,
            "small" => Some(100.0),
            _ => Some(1000.0),
        };
        // Evenly over the third month, from its beginning.
        let expected = entry.map(|entry| MONTH * (2.0 + entry / mass));
        assert_eq!(entered.is_some(), expected.is_some());
        assert_near(entered.unwrap_or(0.0), expected.unwrap_or(0.0), 1e-9);
    }
}

/// 40 CFR 262.14, 262.16 and 262.17: to 1000 kg on site; 180 days, or 270 where
/// the facility is 200 miles or more away, and never more than 6000 kg; 90 days.
#[test]
fn storage_rules_of_the_generator_categories() {
    for (rules, section, mass, days) in [
        ("very_small", "40 CFR 262.14", Some(1000.0), None),
        ("small", "40 CFR 262.16", Some(6000.0), Some(180.0)),
        ("small_far_away", "40 CFR 262.16", Some(6000.0), Some(270.0)),
        ("large", "40 CFR 262.17", None, Some(90.0)),
    ] {
        // 10 kg and 29.6 kg a day: held by days or by mass, as it falls.
        for daily in [3.0, 10.0, 29.6] {
            let mut question = so_much_a_month(daily * MONTH);
            question["months"] = 36.into();
            question["storage"] = json!({ "rules": rules });
            let record = solved(&question);
            let storage = &record["answer"]["storage"];
            assert_eq!(storage["section"], section);
            assert_eq!(storage["mass"].as_f64(), mass);
            assert_eq!(storage["days"].as_f64(), days);
            let by_mass = mass.map_or(f64::INFINITY, |most| (most / daily + 1e-9).floor());
            let every = by_mass.min(days.unwrap_or(f64::INFINITY));
            let pickups = record["answer"]["pickups"].as_array().expect("pickups");
            for (pickup, i) in pickups.iter().zip(1..) {
                assert_eq!(number(pickup, "/day"), every * f64::from(i), "{rules}, {daily} a day");
                assert_near(number(pickup, "/mass"), daily * every, 1e-6);
            }
            let expected = ((36.0 * MONTH - 1e-6) / every).floor();
            let found = u32::try_from(pickups.len()).expect("a few");
            assert_eq!(f64::from(found), expected, "{rules}, {daily} a day");
        }
    }
}

/// 40 CFR 262.16: 270 days of 29.6 kg would be 7992 kg, so that the 6000 kg hold
/// first, on day 202.
#[test]
fn the_6000_kilograms_hold_before_the_270_days() {
    let mut question = so_much_a_month(29.6 * MONTH);
    question["storage"] = json!({ "rules": "small_far_away" });
    let record = solved(&question);
    assert_eq!(number(&record, "/answer/pickups/0/day"), 202.0);
    assert_near(number(&record, "/answer/pickups/0/mass"), 202.0 * 29.6, 1e-9);
}

/// 40 CFR 279.10: used oil managed under part 279 is not counted, but with more
/// than 1000 ppm of total halogens it is presumed to be hazardous.
#[test]
fn used_oil_is_left_out_up_to_1000_ppm_of_halogens() {
    let asked = |counts: bool, halogens: f64| {
        let mut question = so_much_a_month(50.0);
        question["groups"][0]["oil_leak"] = json!({ "rate": 2, "skimmed": 100 });
        question["streams"] = json!([{ "stream": "oil_phase", "counts": counts }]);
        question["facts"] = json!({ "oil_halogens_ppm": halogens });
        question
    };
    let counted = |record: &Value| number(record, "/answer/months/0/counted");
    assert_near(counted(&solved(&asked(false, 1000.0))), 50.0, 1e-9);
    let oil = 2.0 * MONTH * 0.9982072;
    assert_near(counted(&solved(&asked(true, 1001.0))), 50.0 + oil, 1e-9);
    let problem = solve("disposal", &asked(false, 1001.0)).expect_err("it is presumed hazardous");
    assert!(problem.r#type.ends_with("inconsistent"), "{problem:?}");
}

/// Full retention by ultrafiltration: 1000 L at 2 % oil to 50 L is a volume
/// reduction of 20, 40 % oil and 950 L of permeate. (c_r = c_f·VCF, recomputed.)
#[test]
fn ultrafiltration_by_volume_reduction() {
    let question = json!({
        "units": "metric",
        "months": 1,
        "groups": [{
            "name": "a sump of 1000 L with its oil",
            "volume": 980,
            "concentration": 0,
            "losses": { "evaporation": 0, "carry_off": 0 },
            "change": { "habit": "calendar", "every_months": 1 },
            "properties": { "tramp_oil": 2, "chloride": 300 },
        }],
        "treatment": { "method": "ultrafiltration", "volume_reduction": 20 },
    });
    let record = solved(&question);
    assert_near(number(&record, "/answer/treated/feed"), 1000.0, 1e-9);
    assert_near(number(&record, "/answer/treated/retentate"), 50.0, 1e-9);
    assert_near(number(&record, "/answer/treated/permeate"), 950.0, 1e-9);
    assert_near(number(&record, "/answer/treated/retentate_oil"), 40.0, 1e-9);
    // Salts pass with the water: 950 of the 980 L of it.
    let salt = |name: &str| stream(&record, name, "/carried/chloride");
    assert_near(salt("permeate, taken away"), 0.3 * 950.0 / 980.0, 1e-9);

    // An evaporator holds them back.
    let mut evaporated = question;
    evaporated["treatment"]["method"] = "evaporation".into();
    let record = solved(&evaporated);
    let salt = |name: &str| stream(&record, name, "/carried/chloride");
    assert_near(salt("retentate, taken away"), 0.3, 1e-9);
    assert_near(salt("permeate, taken away"), 0.0, 1e-12);
}

/// A figure of a row of the balance.
fn stream(record: &Value, name: &str, column: &str) -> f64 {
    let rows = record["balance"]["streams"].as_array().expect("a balance");
    let row = rows.iter().find(|row| row["name"] == name);
    number(row.unwrap_or_else(|| panic!("no row {name} in {record:#}")), column)
}

/// Build-up by evaporation at constant volume: V 500 L, E 15 and W 5 L a day,
/// water of 200 mg/L settle at 800 mg/L (closed form and scipy's `solve_ivp`).
#[test]
fn salts_settle_where_the_cooling_tower_balance_says() {
    let question = json!({
        "units": "metric",
        "months": 240,
        "groups": [{
            "name": "a sump",
            "volume": 500,
            "concentration": 0,
            "losses": { "evaporation": 15, "carry_off": 5 },
            "properties": { "chloride": 200 },
        }],
        "water": { "properties": { "chloride": 200 } },
    });
    let settled = stream(&solved(&question), "sumps at the end", "/carried/chloride");
    assert_near(settled * 1e6 / 500.0, 800.0, 1e-6);
}

/// Filter sleeves last 6 weeks to 9 months by the kind of chip, and tanks are
/// cleaned monthly (common practice, no source).
#[test]
fn sleeves_and_monthly_cleaning_of_the_trade() {
    for (lasts, sets) in [(42.0 / MONTH, 8.0), (9.0, 1.0)] {
        let mut question = so_much_a_month(1.0);
        question["groups"][0]["filter"]["every_months"] = lasts.into();
        question["groups"][0]["fines"] =
            json!({ "monthly": 3, "dry_share": 60, "every_months": 1 });
        let record = solved(&question);
        let media = &record["answer"]["streams"];
        let media = media.as_array().expect("streams");
        let media = media.iter().find(|stream| stream["stream"] == "filter_media");
        assert_near(number(media.expect("media"), "/mass"), sets, 1e-9);
        for month in record["answer"]["months"].as_array().expect("months") {
            let sludge = month["streams"].as_array().expect("streams");
            let sludge = sludge.iter().find(|stream| stream["stream"] == "sludge");
            assert_near(number(sludge.expect("sludge"), "/mass"), 5.0, 1e-9);
        }
    }
}

/// Commission Decision 2000/532/EC as amended by 2014/955/EU.
#[test]
fn codes_of_the_european_list_of_waste_are_candidates() {
    let codes = |facts: Value| -> Vec<(String, Vec<String>)> {
        let mut question: Value = serde_json::from_str(service("disposal").example).expect("JSON");
        question["facts"] = facts;
        let record = solved(&question);
        let codes = record["answer"]["codes"].as_array().expect("codes").clone();
        let texts = |entry: &Value| {
            let candidates = entry["candidates"].as_array().expect("candidates");
            candidates.iter().map(|c| c["code"].as_str().expect("a code").to_owned()).collect()
        };
        codes.iter().map(|c| (c["stream"].as_str().unwrap().to_owned(), texts(c))).collect()
    };
    let of = |facts: Value, stream: &str| {
        let all = codes(facts);
        all.into_iter().find(|(own, _)| own == stream).map(|(_, codes)| codes).expect("codes")
    };
    let nothing = || json!({ "halogens": null, "metal": null });
    assert_eq!(of(json!({ "halogens": true }), "spent_fluid"), ["12 01 08*"]);
    assert_eq!(of(json!({ "halogens": false }), "spent_fluid"), ["12 01 09*"]);
    assert_eq!(of(nothing(), "spent_fluid"), ["12 01 08*", "12 01 09*"]);
    let synthetic = json!({ "halogens": false, "synthetic_oil": true });
    assert_eq!(of(synthetic, "spent_fluid"), ["12 01 09*", "12 01 10*"]);
    assert_eq!(of(nothing(), "wash_water"), ["12 03 01*"]);
    assert_eq!(of(nothing(), "oil_phase"), ["13 05 06*", "13 05 07*"]);
    assert_eq!(of(nothing(), "sludge"), ["12 01 14*", "12 01 15", "12 01 18*", "13 05 02*"]);
    let harmless = json!({ "hazardous_substances": false });
    assert_eq!(of(harmless.clone(), "sludge"), ["12 01 15", "12 01 18*", "13 05 02*"]);
    assert_eq!(of(harmless, "filter_media"), ["15 02 03"]);
    assert_eq!(of(json!({ "hazardous_substances": true }), "filter_media"), ["15 02 02*"]);
    assert_eq!(of(json!({ "metal": "ferrous" }), "carried_off"), ["12 01 01"]);
    assert_eq!(of(json!({ "metal": "non_ferrous" }), "carried_off"), ["12 01 03"]);
}

/// Forty shops simulated by scipy's `solve_ivp` and by pouring from vessel to
/// vessel (`published/disposal.py`).
#[test]
fn projections_agree_with_a_simulation_by_another_way() {
    let recorded: Value =
        serde_json::from_str(include_str!("published/disposal.json")).expect("JSON");
    let shops = recorded["shops"].as_array().expect("shops");
    assert_eq!(shops.len(), 40);
    for shop in shops {
        let record = solved(&shop["request"]);
        let months = shop["expected"]["months"].as_array().expect("months");
        let answered = record["answer"]["months"].as_array().expect("months");
        assert_eq!(months.len(), answered.len());
        let near = |found: f64, expected: f64| {
            assert_near(found, expected, 1e-8 * expected.abs().max(1.0));
        };
        for (expected, found) in months.iter().zip(answered) {
            near(number(found, "/concentrate"), number(expected, "/concentrate"));
            near(number(found, "/water"), number(expected, "/water"));
            for stream in found["streams"].as_array().expect("streams") {
                let name = stream["stream"].as_str().expect("a name");
                let own = &expected["streams"][name];
                near(number(stream, "/volume"), number(own, "/0"));
                near(number(stream, "/mass"), number(own, "/1"));
            }
        }
        let end = &shop["expected"];
        near(
            stream(&record, "sumps at the end", "/carried/tramp_oil"),
            number(end, "/oil_at_the_end"),
        );
        near(
            stream(&record, "sumps at the end", "/carried/chloride"),
            number(end, "/salt_at_the_end"),
        );
    }
}

/// Forty plans whose fewest pickups were found by dynamic programming over all
/// days (`published/disposal.py`).
#[test]
fn no_plan_has_fewer_pickups() {
    let recorded: Value =
        serde_json::from_str(include_str!("published/disposal.json")).expect("JSON");
    let plans = recorded["plans"].as_array().expect("plans");
    assert_eq!(plans.len(), 40);
    for plan in plans {
        // A sump for each month that is changed in that month and never again.
        let monthly = plan["monthly"].as_array().expect("months");
        let mut question = so_much_a_month(1.0);
        let groups = monthly.iter().zip(1..).map(|(mass, month)| {
            json!({
                "name": format!("month {month}"),
                "volume": mass.as_f64().expect("a mass") / 0.9982072,
                "concentration": 0,
                "losses": { "evaporation": 0, "carry_off": 0 },
                "change": { "habit": "calendar", "every_months": 240, "first_month": month },
            })
        });
        question["groups"] = groups.collect();
        question["months"] = monthly.len().into();
        question["storage"] = json!({ "mass": plan["mass"], "days": plan["days"] });
        let record = solved(&question);
        let pickups = record["answer"]["pickups"].as_array().expect("pickups");
        assert_eq!(pickups.len() as u64, plan["pickups"].as_u64().expect("a number"), "{plan}");
    }
}
