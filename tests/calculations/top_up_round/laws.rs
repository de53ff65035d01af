//! Laws that every round keeps, on rounds drawn at random.

use super::{answer, question, walk};
use crate::draws::held;
use proptest::prelude::*;
use serde_json::{Value, json};
use std::cell::Cell;
use sumpwright_engine::calculations::shop::top_up_round::RoundOutcome;
use sumpwright_engine::quantity::Quantity;

prop_compose! {
    fn found()(
        product in prop::sample::select(vec!["product A", "product B"]),
        cap in 40.0..600.0_f64,
        filled in 0.4..=1.0_f64,
        full in prop::bool::weighted(0.3),
        strength in 2.0..11.0_f64,
        low in 4.5..6.0_f64,
        wide in 0.8..2.5_f64,
        fill_to in prop::option::weighted(0.4, 0.5..=1.0_f64),
        against in prop::bool::weighted(0.1),
    ) -> Value {
        let volume = if full { cap } else { cap * filled };
        let mut sump = json!({
            "product": product,
            "sump": { "capacity": cap, "volume": volume, "concentration": strength },
            "band": { "low": low, "target": low + wide / 2.0, "high": low + wide },
        });
        if let Some(share) = fill_to {
            sump["fill_to"] = json!(cap * share);
        }
        if against {
            sump["against"] = json!("smells");
        }
        sump
    }
}

prop_compose! {
    fn any_round()(
        sumps in prop::collection::vec(found(), 1..14),
        vessel in prop::option::of(20.0..200.0_f64),
        settings in prop::option::weighted(0.3, prop::collection::vec(0.5..15.0_f64, 1..9)),
        weakest in prop::option::of(0.0..2.0_f64),
        margin in prop::option::of(0.0..30.0_f64),
        at_least in 2.0..20.0_f64,
    ) -> Value {
        let sumps = sumps.into_iter().enumerate().map(|(i, mut sump)| {
            sump["name"] = json!(format!("machine {i}"));
            sump
        });
        let mut round = json!({
            "sumps": sumps.collect::<Vec<_>>(),
            "stocks": [
                { "name": "concentrate A", "product": "product A", "concentration": 100 },
                { "name": "concentrate B", "product": "product B", "concentration": 100 },
                { "name": "water", "concentration": 0 },
            ],
            "moving": { "at_least": at_least },
            "premix_at_least": weakest, "margin": margin,
        });
        if let Some(capacity) = vessel {
            round["vessels"] = json!([{ "name": "tank", "capacity": capacity }]);
        }
        if let Some(settings) = settings {
            let settings: Vec<f64> = settings.iter().map(|s| (s * 10.0).round() / 10.0).collect();
            round["mixing"] = json!({ "by": "proportioner", "settings": settings });
            round["premix_at_least"] = Value::Null;
        }
        for member in ["premix_at_least", "margin"] {
            if round[member].is_null() {
                round.as_object_mut().expect("an object").remove(member);
            }
        }
        round
    }
}

/// Every answer is what its question allows, and moving never raises what is bought and never
/// serves fewer sumps.
#[test]
fn moving_never_raises_what_is_bought() {
    let (moved, helped) = (Cell::new(0), Cell::new(0));
    let result = held(150, any_round(), |round| {
        let with = answer(round.clone()).expect("an answer").answer;
        walk::holds(&question(round.clone()), &with);
        let mut apart = round;
        apart.as_object_mut().expect("an object").remove("moving");
        let without = answer(apart.clone()).expect("an answer").answer;
        walk::holds(&question(apart), &without);
        prop_assert!(with.concentrate.get() <= without.concentrate.get() + 1e-6);
        prop_assert!(with.out_of_reach <= without.out_of_reach);
        prop_assert!(with.strengths_at_least <= with.strengths);
        prop_assert!(without.proven);
        prop_assert!(!with.proven || with.strengths_at_least == with.strengths);
        prop_assert!(with.concentrate_at_least <= with.concentrate);
        moved.set(moved.get() + usize::from(!with.moves.is_empty()));
        helped.set(helped.get() + usize::from(with.out_of_reach < without.out_of_reach));
        Ok(())
    });
    result.unwrap_or_else(|error| panic!("{error}"));
    assert!(moved.get() > 20 && helped.get() > 8, "{} moved, {} helped", moved.get(), helped.get());
}

/// What is in its band and at its level gets nothing, whoever stands beside it.
#[test]
fn a_sump_in_order_gets_nothing() {
    let seen = Cell::new(0);
    let result = held(120, any_round(), |round| {
        let found = answer(round.clone()).expect("an answer").answer;
        for (sump, own) in found.sumps.iter().zip(round["sumps"].as_array().expect("sumps")) {
            let at =
                |pointer: &str| own.pointer(pointer).and_then(Value::as_f64).unwrap_or(f64::NAN);
            let (v, c) = (at("/sump/volume"), at("/sump/concentration"));
            let in_band = c >= at("/band/low") && c <= at("/band/high");
            let full = v >= at("/fill_to") || v == at("/sump/capacity");
            if in_band && full {
                seen.set(seen.get() + 1);
                prop_assert_eq!(sump.outcome, RoundOutcome::InOrder);
                prop_assert_eq!(sump.add.get() + sump.takes.get() + sump.gives.get(), 0.0);
            }
        }
        Ok(())
    });
    result.unwrap_or_else(|error| panic!("{error}"));
    assert!(seen.get() > 40, "{}", seen.get());
}

/// A vessel twice as large takes no more trips; a premix that may be stronger leaves no more
/// sumps out.
#[test]
fn what_allows_more_never_does_less() {
    let result = held(60, any_round(), |round| {
        let found = answer(round.clone()).expect("an answer").answer;
        let mut larger = round.clone();
        if let Some(capacity) = round.pointer("/vessels/0/capacity").and_then(Value::as_f64) {
            larger["vessels"][0]["capacity"] = json!(2.0 * capacity);
            let with = answer(larger).expect("an answer").answer;
            let trips = |own: &Option<Vec<_>>| own.as_ref().map_or(0, Vec::len);
            prop_assert!(trips(&with.trips) <= trips(&found.trips));
        }
        let mut weaker = round;
        weaker["premix_at_most"] = json!(12);
        if let Ok(weaker) = answer(weaker) {
            prop_assert!(weaker.answer.out_of_reach >= found.out_of_reach);
        }
        Ok(())
    });
    result.unwrap_or_else(|error| panic!("{error}"));
}
