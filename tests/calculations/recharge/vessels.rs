//! Any number and kind of vessels: their contents, and rounds without vessels.

use super::{answer, question, walk};
use serde_json::{Value, json};
use sumpwright_engine::calculations::shop::recharge::{RechargeAnswer, SheetAction};
use sumpwright_engine::quantity::{Quantity, UnitSystem};

/// Three machines of two products; 90 L come out of each and go into it.
pub(super) fn round() -> Value {
    let sump = |name: &str, product: &str| {
        json!({
            "name": name, "product": product, "volume": 100, "target": 6, "residue": 10,
            "residue_concentration": 6, "chips": 30
        })
    };
    json!({
        "sumps": [
            sump("lathe 1", "product A"), sump("lathe 2", "product A"), sump("mill", "product B")
        ],
        "stocks": [
            { "name": "concentrate A", "product": "product A", "concentration": 100 },
            { "name": "concentrate B", "product": "product B", "concentration": 100 },
            { "name": "water", "concentration": 0 }
        ]
    })
}

pub(super) fn planned(round: Value) -> RechargeAnswer {
    let asked = question(round.clone());
    let found = answer(round).expect("an answer").answer;
    walk::holds(&asked, &found);
    found
}

fn trips(found: &RechargeAnswer) -> usize {
    found.trips.as_ref().expect("trips").len()
}

#[test]
fn without_vessels_there_are_batches_quantities_and_steps() {
    let found = planned(round());
    assert_eq!((found.trips, found.crew_hours, found.proven), (None, None, None));
    assert_eq!(found.batches.len(), 2);
    assert_eq!(found.sumps[0].removed.get(), 90.0);
    assert_eq!(found.sumps[0].refill.volume.get(), 90.0);
    assert_eq!(found.sumps[0].out_of_service_minutes, None);
    assert!(found.sheet.iter().all(|step| step.trip.is_none() && step.minutes.is_none()));
    assert!(!found.sheet.iter().any(|step| step.action == SheetAction::DriveBack));
}

/// A sump of which only the size, the fluid and the target are known.
#[test]
fn a_shop_that_knows_only_sizes_and_targets_gets_its_batches() {
    let found = planned(json!({
        "sumps": [{ "name": "saw", "product": "product A", "volume": 60, "target": 8 }],
        "stocks": [
            { "name": "concentrate", "concentration": 100 },
            { "name": "water", "concentration": 0 }
        ]
    }));
    assert_eq!(found.batches[0].volume.get(), 60.0);
    assert!((found.batches[0].take[0].volume.get() - 4.8).abs() < 1e-12);
}

/// By hand: two lathes are 180 L each way. Two drums of 100 L filled to 90 hold one
/// batch of both; with one drum each machine is a trip.
#[test]
fn drums_together_make_one_trip() {
    let drum = |name: &str, holds: &str| json!({ "name": name, "holds": holds, "capacity": 100, "usable_share": 90 });
    let mut two = round();
    two["vessels"] = json!([
        drum("drum 1", "clean"),
        drum("drum 2", "clean"),
        drum("drum 3", "dirty"),
        drum("drum 4", "dirty")
    ]);
    let found = planned(two.clone());
    assert_eq!(trips(&found), 2);
    let loaded = found.sheet.iter().filter(|step| step.action == SheetAction::Load);
    let loaded: Vec<_> = loaded.map(|step| step.vessel.clone().expect("a drum")).collect();
    assert_eq!(loaded, ["drum 1", "drum 2", "drum 1"]);
    two["vessels"] = json!([drum("drum 1", "clean"), drum("drum 3", "dirty")]);
    assert_eq!(trips(&planned(two)), 3);
}

/// A tanker takes all the dirty fluid and brings none: one trip for each product.
#[test]
fn a_vessel_for_dirty_fluid_alone_is_enough_for_trips() {
    let mut tanker = round();
    tanker["vessels"] = json!([{ "name": "tanker", "holds": "dirty", "capacity": 4000 }]);
    let found = planned(tanker);
    assert_eq!(trips(&found), 2);
    assert!(!found.sheet.iter().any(|step| step.action == SheetAction::Load));
}

/// By hand: a bin of 50 L is full of chips of 0.4 kg/L with 20 kg, long before its
/// rated 100 kg; 30 kg of each machine take two emptyings of it.
#[test]
fn a_vessel_for_chips_is_full_by_volume_before_its_rating() {
    let mut bins = round();
    let bin = json!({
        "name": "bin", "holds": "chips", "capacity": 50, "rated_load": 100,
        "emptied_on_the_way": true
    });
    bins["vessels"] = json!([bin]);
    let emptyings = |found: &RechargeAnswer| {
        found.trips.iter().flatten().map(|trip| trip.chip_emptyings.get()).sum::<f64>()
    };
    // By mass alone 60 kg of the lathes are one bin, 30 kg of the mill another.
    assert_eq!(emptyings(&planned(bins.clone())), 2.0);
    bins["chip_density"] = json!(0.4);
    // 60 kg are three fills of 20 kg, 30 kg two.
    assert_eq!(emptyings(&planned(bins.clone())), 5.0);
    let lifted = answer(bins).expect("an answer").cautions;
    let lifted = lifted.iter().find(|caution| caution.code == "heavy-load").expect("a caution");
    assert!(lifted.text.show(UnitSystem::Metric).contains("20 kg"), "{lifted:?}");
}

/// By hand: a wash of 12 minutes between two products, and none after the last.
#[test]
fn hoses_and_vessels_are_washed_between_products() {
    let mut apart = round();
    apart["vessels"] = json!([
        { "name": "clean tank", "holds": "clean", "capacity": 200 },
        { "name": "dirty tank", "holds": "dirty", "capacity": 200 }
    ]);
    apart["times"] = json!({ "setup_minutes": 8, "drive_minutes": 3 });
    let before = planned(apart.clone()).crew_hours.expect("hours").get();
    apart["times"]["washing_minutes"] = json!(12);
    let found = planned(apart);
    assert!((found.crew_hours.expect("hours").get() - before - 0.2).abs() < 1e-12);
    let washes = found.sheet.iter().filter(|step| step.action == SheetAction::Wash);
    assert_eq!(washes.count(), 1);
    assert_eq!(found.crew_hours, found.crew_hours_at_least);
    let washed: Vec<bool> = found.trips.iter().flatten().map(|trip| trip.washed_before).collect();
    assert_eq!(washed, [false, true]);
}

/// By hand: 3 sumps of 60 minutes, and 90 L out and 90 L in of each at 20 L/min.
#[test]
fn another_way_is_compared_in_hours_of_the_crew() {
    let mut asked = round();
    assert_eq!(planned(asked.clone()).another_way, None);
    asked["another_way"] = json!({ "name": "buckets", "minutes_a_sump": 60, "rate": 20 });
    let other = planned(asked).another_way.expect("a comparison");
    assert_eq!(other.name, "buckets");
    assert!((other.crew_hours.get() - (3.0 + 3.0 * 9.0 / 60.0)).abs() < 1e-12);
}

/// A batch of 180 L in a vessel of 100 L is two mixes of 90 L.
#[test]
fn a_batch_larger_than_its_vessel_is_made_in_equal_mixes() {
    let mut asked = round();
    asked["batch_at_most"] = json!(100);
    let found = planned(asked);
    let mixes: Vec<f64> = found.batches.iter().map(|batch| batch.mixes.get()).collect();
    assert_eq!(mixes, [2.0, 1.0]);
    let checked = found.sheet.iter().find(|step| step.action == SheetAction::CheckBatch);
    let checked = checked.expect("a step");
    assert_eq!(checked.volume.map(Quantity::get), Some(90.0));
    assert_eq!(checked.times.map(Quantity::get), Some(2.0));
}
