//! Laws that any round must keep, on rounds drawn at random.

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
        chips in prop_oneof![Just(0.0), 0.0..400.0_f64],
        rinse in prop::option::of((1.0..40.0_f64, 1..4u32, prop::option::of(0.5..3.0_f64))),
        cleaner in prop::option::of((0.5..5.0_f64, 1.0..24.0_f64)),
        scraping in prop::option::of(1.0..30.0_f64),
        says_what_is_in_it in any::<bool>(),
    ) -> Value {
        let mut sump = json!({
            "product": product,
            "volume": volume, "target": strengths.0, "residue": volume * residue,
            "residue_concentration": strengths.1, "chips": chips,
            "residue_properties": { "tramp_oil": 2.0, "chloride": 180.0 }
        });
        if let Some((litres, times, strength)) = rinse.filter(|(litres, ..)| *litres < volume * 0.7) {
            sump["rinse"] = json!({ "volume": litres, "times": times });
            match strength {
                Some(strength) => sump["rinse"]["strength"] = json!(strength),
                None => sump["rinse"]["stock"] = json!("water"),
            }
        }
        if let Some((dose, hours)) = cleaner {
            sump["cleaner"] = json!({ "dose": dose, "hours": hours });
        }
        if let Some(minutes) = scraping {
            sump["scraping_minutes"] = json!(minutes);
        }
        if says_what_is_in_it {
            sump["fluid_now"] = json!({ "volume": volume * filled, "concentration": strengths.2 });
        }
        sump
    }
}

prop_compose! {
    /// Vessels of one kind that share a total capacity.
    fn vessels(holds: &'static str, all: std::ops::Range<f64>)(
        count in 1..4u32,
        all in all,
        share in 30.0..=100.0_f64,
        rate in prop::option::of(20.0..200.0_f64),
        minutes in prop::option::of(1.0..15.0_f64),
    ) -> Vec<Value> {
        let each = all / f64::from(count);
        let vessels = (1..=count).map(|number| {
            let mut vessel = json!({ "name": format!("{holds} {number}"), "holds": holds });
            if holds == "chips" {
                vessel["rated_load"] = json!(each);
            } else {
                vessel["capacity"] = json!(each);
                vessel["usable_share"] = json!(share);
            }
            if let Some(rate) = rate.filter(|_| holds != "chips") {
                vessel["pump_rate"] = json!(rate * f64::from(number));
            }
            if let Some(minutes) = minutes {
                let member = if holds == "clean" { "fill_minutes" } else { "empty_minutes" };
                vessel[member] = json!(minutes / f64::from(number));
            }
            vessel
        });
        vessels.collect()
    }
}

prop_compose! {
    fn round()(
        sumps in prop::collection::vec(sump(), 1..24),
        clean in prop::option::of(vessels("clean", 200.0..900.0)),
        dirty in prop::option::of(vessels("dirty", 200.0..900.0)),
        chips in prop::option::of(vessels("chips", 20.0..300.0)),
        tolerance in prop::option::of(0.0..3.0_f64),
        mixing_dirty in prop::option::of(any::<bool>()),
        recycled in 0.0..2000.0_f64,
        empties_on_the_way in any::<bool>(),
        batch_at_most in prop::option::of(100.0..600.0_f64),
        times in prop::option::of((0.0..20.0_f64, 0.0..6.0_f64, 0.0..20.0_f64)),
    ) -> Value {
        let mut chips = chips.unwrap_or_default();
        let load: f64 = chips.iter().filter_map(|vessel| vessel["rated_load"].as_f64()).sum();
        if empties_on_the_way {
            chips.iter_mut().for_each(|vessel| vessel["emptied_on_the_way"] = json!(true));
        }
        let bounded = !empties_on_the_way && !chips.is_empty();
        let sumps: Vec<Value> = sumps.into_iter().zip(1..).map(|(mut sump, number)| {
            sump["name"] = json!(format!("machine {number}"));
            if bounded && sump["chips"].as_f64().unwrap_or_default() > load {
                sump["chips"] = json!(load);
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
        });
        let vessels = [clean.unwrap_or_default(), dirty.unwrap_or_default(), chips].concat();
        if !vessels.is_empty() {
            round["vessels"] = json!(vessels);
        }
        if let Some((setup, drive, washing)) = times {
            round["times"] = json!({
                "setup_minutes": setup, "drive_minutes": drive, "washing_minutes": washing,
                "rinse_minutes": 2
            });
        }
        if let Some(litres) = batch_at_most {
            round["batch_at_most"] = json!(litres);
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
        // Every target can easily be reached with water and concentrate.
        let found = answer(round).expect("an answer").answer;
        walk::holds(&asked, &found);
        let trips = found.trips.as_ref().map_or(0, Vec::len);
        let at_least = found.trips_at_least.map_or(0.0, Quantity::get);
        prop_assert!(at_least <= f64::from(u32::try_from(trips)?));
        prop_assert!(found.crew_hours_at_least <= found.crew_hours);
        prop_assert_eq!(found.trips.is_some(), asked.vessels.is_some());
        prop_assert_eq!(found.crew_hours.is_some(), asked.vessels.is_some() && asked.times.is_some());
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
