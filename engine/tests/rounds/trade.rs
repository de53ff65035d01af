//! Facts of the trade: common practice, no source.
//!
//! A powered liquid-and-solids vacuum cleans a sump in 15 to 30 minutes, by hand
//! it takes 3 to 4 hours; it pumps about 100 gal/min through a clean filter; up
//! to 800 lb of chips go into a basket. How long setting up, driving and emptying
//! take is invented here, as a shop might measure it.

use super::{answer, question, walk};
use serde_json::{Value, json};
use sumpwright_engine::quantity::{KILOGRAMS_PER_POUND, LITRES_PER_US_GALLON, Quantity};
use sumpwright_engine::refusal::Kind;

fn gallons(number: f64) -> f64 {
    number * LITRES_PER_US_GALLON
}

fn pounds(number: f64) -> f64 {
    number * KILOGRAMS_PER_POUND
}

/// Twelve machines of common sizes.
fn round() -> Value {
    let sizes = [35.0, 50.0, 50.0, 60.0, 75.0, 75.0, 80.0, 90.0, 100.0, 100.0, 110.0, 120.0];
    let sumps = sizes.iter().zip(1..).map(|(size, number)| {
        json!({
            "name": format!("machine {number}"), "product": "product A", "volume": gallons(*size),
            "target": 6.0, "residue": gallons(size / 15.0), "residue_concentration": 7.0,
            "solids": pounds(2.0 * size),
            "flush": { "volume": gallons(5.0), "times": 1, "stock": "water" }
        })
    });
    json!({
        "sumps": sumps.collect::<Vec<_>>(),
        "stocks": [
            { "name": "concentrate", "concentration": 100 },
            { "name": "water", "concentration": 0 }
        ],
        "carrier": {
            "clean_tank": gallons(150.0), "dirty_tank": gallons(200.0), "usable_share": 85,
            "solids_basket": pounds(800.0), "suction_rate": gallons(100.0),
            "discharge_rate": gallons(30.0)
        },
        "times": {
            "setup_minutes": 7, "travel_minutes": 2, "tank_emptying_minutes": 5,
            "basket_emptying_minutes": 3, "loading_minutes": 3, "flush_minutes": 3,
            "by_hand_hours": 3.5
        }
    })
}

#[test]
fn a_sump_takes_a_quarter_to_half_an_hour() {
    let found = answer(round()).expect("an answer").answer;
    walk::holds(&question(round()), &found);
    let each = found.crew_hours.get() * 60.0 / 12.0;
    assert!((15.0..=30.0).contains(&each), "{each} min of the crew for each sump");
    for sump in &found.sumps {
        let minutes = sump.out_of_service_minutes.get();
        assert!(minutes <= 30.0, "{} stands for {minutes} min", sump.name);
    }
    let by_hand = found.by_hand_hours.expect("a comparison").get() / 12.0;
    assert!((3.0..=4.0).contains(&by_hand));
}

#[test]
fn a_basket_beyond_its_rating_is_refused() {
    let mut round = round();
    round["sumps"][3]["solids"] = json!(pounds(801.0));
    round["times"].as_object_mut().unwrap().remove("basket_emptying_minutes");
    let refusal = answer(round.clone()).expect_err("801 lb go into no basket of 800");
    assert_eq!(refusal.kind, Kind::Unreachable);
    assert_eq!(refusal.faults[0].pointer, "/sumps/3/solids");
    // Emptied on the way, no load is beyond the rating.
    round["times"]["basket_emptying_minutes"] = json!(3);
    let found = answer(round.clone()).expect("an answer").answer;
    walk::holds(&question(round), &found);
}
