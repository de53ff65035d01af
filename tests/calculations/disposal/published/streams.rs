//! Contents and frequency of waste, each figure with its source.

use super::{MONTH, so_much_a_month, solved};
use crate::{assert_near, number, service};
use serde_json::{Value, json};

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

    // An evaporator retains them.
    let mut evaporated = question;
    evaporated["treatment"]["method"] = "evaporation".into();
    let record = solved(&evaporated);
    let salt = |name: &str| stream(&record, name, "/carried/chloride");
    assert_near(salt("retentate, taken away"), 0.3, 1e-9);
    assert_near(salt("permeate, taken away"), 0.0, 1e-12);
}

/// A figure of a row of the balance.
pub(super) fn stream(record: &Value, name: &str, column: &str) -> f64 {
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

/// By hand: media that last 45 days are changed eight times in a year of 365, media that
/// last nine months once; 3 kg of fines at 60 % are 5 kg of sludge each month.
#[test]
fn media_and_sludge_come_as_often_as_they_are_said_to() {
    for (lasts, sets) in [(45.0 / MONTH, 8.0), (9.0, 1.0)] {
        let mut question = so_much_a_month(1.0);
        question["groups"][0]["filter"]["every_months"] = lasts.into();
        question["groups"][0]["fines"] =
            json!({ "mass_per_month": 3, "dry_share": 60, "every_months": 1 });
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
        question["storage"] = json!({ "mass": 4000 });
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
    assert_eq!(of(nothing(), "wash_water"), ["12 03 01*"]);
    let halogen_free = ["13 01 10*", "13 02 05*", "12 01 07*"];
    let others = ["13 08 02*", "13 05 06*", "13 05 07*"];
    let chlorinated = ["13 01 09*", "13 02 04*", "12 01 06*"];
    let clean = of(json!({ "oil_halogens_ppm": 0 }), "oil_phase");
    assert_eq!(clean, [halogen_free, others].concat());
    assert_eq!(of(nothing(), "oil_phase"), [halogen_free, chlorinated, others].concat());
    assert_eq!(of(nothing(), "sludge"), ["12 01 14*", "12 01 15", "12 01 18*", "13 05 02*"]);
    let harmless = json!({ "hazardous_substances": false });
    assert_eq!(of(harmless.clone(), "sludge"), ["12 01 15", "12 01 18*", "13 05 02*"]);
    assert_eq!(of(harmless, "filter_media"), ["15 02 03"]);
    assert_eq!(of(json!({ "hazardous_substances": true }), "filter_media"), ["15 02 02*"]);
    assert_eq!(of(json!({ "metal": "ferrous" }), "carried_off"), ["12 01 01"]);
    assert_eq!(of(json!({ "metal": "non_ferrous" }), "carried_off"), ["12 01 03"]);
}

/// Neat synthetic machining oil, 12 01 10*, is no candidate for fluid mixed with water,
/// and the European list none for a shop under US rules.
#[test]
fn a_shop_under_us_rules_is_given_no_european_code() {
    let question: Value = serde_json::from_str(service("disposal").example).expect("JSON");
    let record = solved(&question);
    assert_eq!(record["answer"]["codes"], json!([]));
    assert!(record["findings"].to_string().contains("40 CFR 261.24"));
    let mut european = question;
    european["storage"] = json!({ "days": 180 });
    assert!(!solved(&european)["answer"]["codes"].to_string().contains("12 01 10"));
}
