//! Rounds drawn at random keep the laws that any round must keep.

use super::{answer, question, walk};
use proptest::prelude::*;
use serde_json::{Value, json};
use sumpwright_engine::quantity::Quantity;

prop_compose! {
    fn sump()(
        product in prop::sample::select(vec!["product A", "product B", "product C"]),
        volume in 20.0..1500.0_f64,
        residue in 0.0..0.2_f64,
        filled in 0.2..=1.0_f64,
        strengths in (3.0..9.0_f64, 3.0..9.0_f64, 3.0..9.0_f64),
        solids in prop_oneof![Just(0.0), 0.0..400.0_f64],
        flush in prop::option::of((1.0..40.0_f64, 1..4u32)),
        says_what_is_in_it in any::<bool>(),
    ) -> Value {
        let mut sump = json!({
            "product": product,
            "volume": volume, "target": strengths.0, "residue": volume * residue,
            "residue_concentration": strengths.1, "solids": solids,
            "residue_properties": { "tramp_oil": 2.0, "chloride": 180.0 }
        });
        if let Some((litres, times)) = flush.filter(|(litres, _)| *litres < volume * 0.7) {
            sump["flush"] = json!({ "volume": litres, "times": times, "stock": "water" });
        }
        if says_what_is_in_it {
            sump["fluid_now"] = json!({ "volume": volume * filled, "concentration": strengths.2 });
        }
        sump
    }
}

prop_compose! {
    fn round()(
        sumps in prop::collection::vec(sump(), 1..24),
        tanks in (100.0..900.0_f64, 100.0..900.0_f64, 30.0..100.0_f64, 20.0..300.0_f64),
        tolerance in prop::option::of(0.0..3.0_f64),
        mixing_dirty in prop::option::of(any::<bool>()),
        recycled in 0.0..2000.0_f64,
        empties_on_the_way in any::<bool>(),
    ) -> Value {
        let sumps: Vec<Value> = sumps.into_iter().zip(1..).map(|(mut sump, number)| {
            sump["name"] = json!(format!("machine {number}"));
            let solids = sump["solids"].as_f64().unwrap_or_default();
            if !empties_on_the_way && solids > tanks.3 {
                sump["solids"] = json!(tanks.3);
            }
            sump
        }).collect();
        let mut round = json!({
            "sumps": sumps,
            "stocks": [
                { "name": "recycled A", "product": "product A", "concentration": 5.0,
                  "volume": recycled, "properties": { "chloride": 90.0 } },
                { "name": "concentrate A", "product": "product A", "concentration": 100 },
                { "name": "concentrate B", "product": "product B", "concentration": 100 },
                { "name": "concentrate C", "product": "product C", "concentration": 100 },
                { "name": "water", "concentration": 0 }
            ],
            "goal": { "most_of": "recycled A" },
            "carrier": {
                "clean_tank": tanks.0, "dirty_tank": tanks.1, "usable_share": tanks.2,
                "solids_basket": tanks.3, "suction_rate": 200, "discharge_rate": 100
            },
            "times": {
                "setup_minutes": 8, "travel_minutes": 3, "tank_emptying_minutes": 10
            }
        });
        if empties_on_the_way {
            round["times"]["basket_emptying_minutes"] = json!(6);
        }
        if let Some(tolerance) = tolerance {
            round["strength_tolerance"] = json!(tolerance);
        }
        if let Some(mixing_dirty) = mixing_dirty {
            round["mixing_dirty"] = json!(mixing_dirty);
        }
        round
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn nothing_is_lost_nothing_overflows_and_products_never_meet(round in round()) {
        let asked = question(round.clone());
        // Every target lies well inside what water and concentrate make of it.
        let found = answer(round).expect("an answer").answer;
        walk::holds(&asked, &found);
        prop_assert!(found.hauls_at_least.get() <= f64::from(u32::try_from(found.hauls.len())?));
        prop_assert!(found.crew_hours_at_least <= found.crew_hours);
    }

    #[test]
    fn no_sump_is_further_off_than_half_the_tolerance(round in round()) {
        let tolerance = round["strength_tolerance"].as_f64().unwrap_or(0.2);
        let found = answer(round).expect("an answer").answer;
        for sump in &found.sumps {
            let misses_by = sump.misses_by.get();
            prop_assert!(misses_by <= tolerance / 2.0 + 1e-8, "{} by {misses_by}", sump.name);
        }
    }

    #[test]
    fn the_same_round_is_planned_the_same_way(round in round()) {
        let once = serde_json::to_string(&answer(round.clone()).expect("an answer").answer)?;
        let again = serde_json::to_string(&answer(round).expect("an answer").answer)?;
        prop_assert_eq!(once, again);
    }
}
