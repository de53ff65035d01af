//! Trips and emptyings of the vessel for chips against an exact solver.
//!
//! Expected values: scipy.optimize.milp (HiGHS) by rounds.py,
//! which works out what each sump needs by itself.

use super::{answer, question, walk};
use serde_json::Value;
use sumpwright_engine::quantity::Quantity;

/// The size of a batch up to which a plan must be optimal.
const EXACT_TO: u64 = 14;

fn rounds() -> Vec<Value> {
    let text = include_str!("rounds.json");
    serde_json::from_str(text).expect("a list of rounds")
}

#[test]
fn rounds_take_the_trips_that_the_exact_solver_finds() {
    let mut compared = 0;
    for round in rounds() {
        let name = round["question"]["reference"].as_str().unwrap_or_default().to_owned();
        let exact = round["trips"].as_f64().expect("a number of trips");
        let found = answer(round["question"].clone()).expect(&name).answer;
        #[expect(clippy::cast_precision_loss, reason = "a few trips")]
        let trips = found.trips.as_ref().expect("trips").len() as f64;
        let at_least = found.trips_at_least.expect("a bound").get();
        assert!(at_least <= exact && exact <= trips, "{name}: {at_least} {exact} {trips}");
        let proven = found.proven.expect("a verdict");
        assert_eq!(proven, at_least == trips, "{name}");
        walk::holds(&question(round["question"].clone()), &found);
        if round["largest_batch"].as_u64().expect("a size") <= EXACT_TO {
            assert!(proven && trips == exact, "{name}: {trips} for {exact}");
            compared += 1;
        }
    }
    assert!(compared >= 50, "only {compared} rounds were compared");
}

#[test]
fn with_the_fewest_trips_chips_are_emptied_as_seldom_as_can_be() {
    let mut compared = 0;
    for round in rounds() {
        let Some(exact) = round["chip_emptyings"].as_f64() else { continue };
        let found = answer(round["question"].clone()).expect("an answer").answer;
        let emptyings: f64 =
            found.trips.iter().flatten().map(|trip| trip.chip_emptyings.get()).sum();
        assert_eq!(emptyings, exact, "{}", round["question"]["reference"]);
        compared += 1;
    }
    assert!(compared >= 15, "only {compared} rounds were compared");
}
