//! Every kind of refusal of a round.

use super::answer;
use serde_json::{Value, json};
use sumpwright_engine::quantity::{Quantity, UnitSystem};
use sumpwright_engine::text::{Kind, Refusal};

/// A valid round: two machines, two products.
fn round() -> Value {
    let sump = |name: &str, product: &str| {
        json!({
            "name": name, "product": product, "volume": 200, "target": 6, "residue": 20,
            "residue_concentration": 9, "chips": 40
        })
    };
    json!({
        "sumps": [sump("lathe", "product A"), sump("mill", "product B")],
        "stocks": [
            { "name": "concentrate A", "product": "product A", "concentration": 100 },
            { "name": "premix B", "product": "product B", "concentration": 12 },
            { "name": "water", "concentration": 0 }
        ],
        "vessels": [
            { "name": "clean tank", "holds": "clean", "capacity": 400 },
            { "name": "dirty tank", "holds": "dirty", "capacity": 500, "usable_share": 80 },
            { "name": "basket", "holds": "chips", "rated_load": 100 }
        ],
        "times": { "setup_minutes": 8, "drive_minutes": 3 }
    })
}

/// The refusal of the round after `changes` to the values at the pointers.
fn refused(changes: &[(&str, Value)]) -> Refusal {
    let mut round = round();
    for (pointer, value) in changes {
        let (parent, member) = pointer.rsplit_once('/').expect("a pointer");
        let parent = round.pointer_mut(parent).expect("a place in the round");
        parent[member] = value.clone();
    }
    answer(round).expect_err("a refusal")
}

fn pointers(refusal: &Refusal) -> Vec<&str> {
    refusal.faults.iter().map(|fault| fault.pointer.as_str()).collect()
}

#[test]
fn the_round_itself_is_sound() {
    assert!(answer(round()).is_ok());
}

#[test]
fn all_contradictions_are_told_at_once() {
    let refusal = refused(&[
        ("/sumps/0/name", json!("mill")),
        ("/sumps/0/residue", json!(200)),
        ("/sumps/0/fluid_now", json!({ "volume": 210, "concentration": 8 })),
        ("/sumps/1/rinse", json!({ "volume": 190, "times": 101, "stock": "concentrate A" })),
        ("/batch_at_most", json!(0.01)),
        ("/vessels/0/name", json!("basket")),
        ("/vessels/0/empty_minutes", json!(5)),
        ("/vessels/1/usable_share", json!(0)),
        ("/vessels/1/fill_minutes", json!(5)),
        ("/vessels/1/rated_load", json!(5)),
        ("/vessels/1/emptied_on_the_way", json!(true)),
        ("/vessels/2/rated_load", json!(0)),
        ("/vessels/2/pump_rate", json!(40)),
    ]);
    assert_eq!(refusal.kind, Kind::Inconsistent);
    let expected = [
        "/sumps/1/name",
        "/sumps/0/residue",
        "/sumps/0/fluid_now/volume",
        "/sumps/1/rinse/times",
        "/sumps/1/rinse/volume",
        "/sumps/1/rinse/stock",
        "/batch_at_most",
        "/vessels/2/name",
        "/vessels/0/empty_minutes",
        "/vessels/1/usable_share",
        "/vessels/1/rated_load",
        "/vessels/1/emptied_on_the_way",
        "/vessels/1/fill_minutes",
        "/vessels/2/pump_rate",
        "/vessels",
    ];
    assert_eq!(pointers(&refusal), expected);
}

#[test]
fn less_in_the_sump_than_stays_in_it_is_a_contradiction() {
    let refusal = refused(&[("/sumps/0/fluid_now", json!({ "volume": 15, "concentration": 8 }))]);
    assert_eq!(refusal.kind, Kind::Inconsistent);
    assert_eq!(pointers(&refusal), ["/sumps/0/residue"]);
}

#[test]
fn more_oil_and_concentrate_than_residue_is_a_contradiction() {
    let refusal = refused(&[("/sumps/0/residue_properties", json!({ "tramp_oil": 92 }))]);
    assert_eq!(refusal.kind, Kind::Inconsistent);
    assert_eq!(pointers(&refusal), ["/sumps/0/residue_properties/tramp_oil"]);
}

#[test]
fn a_misspelt_stock_is_met_with_the_nearest_name() {
    let rinse = json!({ "volume": 10, "times": 1, "stock": "watter" });
    let refusal = refused(&[("/sumps/0/rinse", rinse)]);
    assert_eq!(refusal.kind, Kind::Inconsistent);
    let detail = refusal.faults[0].detail.show(UnitSystem::Metric);
    assert!(detail.contains("Did you mean \"water\"?"), "{detail}");
}

#[test]
fn concentrate_of_an_unknown_product_may_go_nowhere() {
    let refusal = refused(&[("/stocks/0/product", Value::Null)]);
    assert_eq!(refusal.kind, Kind::NotIdentifiable);
    assert_eq!(pointers(&refusal), ["/stocks/0/product"]);
}

#[test]
fn a_product_without_a_stock_is_not_made_from_another() {
    let refusal = refused(&[("/sumps/0/product", json!("product AA"))]);
    assert_eq!(refusal.kind, Kind::NotIdentifiable);
    assert_eq!(pointers(&refusal), ["/sumps/0/product"]);
    let detail = refusal.faults[0].detail.show(UnitSystem::Metric);
    assert!(detail.contains("Did you mean \"product A\"?"), "{detail}");
}

#[test]
fn a_limit_on_what_no_stock_carries_cannot_be_kept() {
    let refusal = refused(&[("/limits", json!({ "chloride": { "max": 90 } }))]);
    assert_eq!(refusal.kind, Kind::NotIdentifiable);
    assert_eq!(pointers(&refusal), ["/limits/chloride"]);
}

#[test]
fn a_target_out_of_reach_says_what_can_be_reached() {
    // By hand: 180 L of premix at 12 % on 20 L at 9 % make 200 L at 11.7 %; of
    // water, at 0.9 %.
    let refusal = refused(&[("/sumps/1/target", json!(12))]);
    assert_eq!(refusal.kind, Kind::Unreachable);
    assert_eq!(pointers(&refusal), ["/sumps/1/target"]);
    let range = refusal.reachable.and_then(|found| found.concentration).expect("a range");
    assert_eq!((range.low.get(), range.high.get()), (0.9, 11.7));
    let both = refused(&[("/sumps/1/target", json!(12)), ("/sumps/0/target", json!(0.5))]);
    assert_eq!(pointers(&both), ["/sumps/0/target", "/sumps/1/target"]);
    assert_eq!(both.reachable, None);
}

#[test]
fn too_little_on_hand_says_how_much_there_is() {
    let refusal = refused(&[("/stocks/1/volume", json!(10))]);
    assert_eq!(refusal.kind, Kind::Unreachable);
    assert_eq!(pointers(&refusal), ["/sumps/1/target"]);
    let rinse = json!({ "volume": 30, "times": 2, "stock": "water" });
    let refusal = refused(&[("/sumps/1/rinse", rinse), ("/stocks/2/volume", json!(50))]);
    assert_eq!(refusal.kind, Kind::Unreachable);
    assert_eq!(pointers(&refusal), ["/stocks/2/volume"]);
}

#[test]
fn stocks_that_suffice_for_each_batch_but_not_for_all_are_told() {
    // By hand: 180 L at (200·6 − 20·9)/180 = 5.6667 % take 169.8 L of water with
    // neat concentrate and 95 L with a premix of 12 %; 200 L do for either.
    let refusal = refused(&[("/stocks/2/volume", json!(200))]);
    assert_eq!(refusal.kind, Kind::Unreachable);
    assert_eq!(pointers(&refusal), ["/stocks"]);
    let high = refusal.reachable.and_then(|found| found.volume).expect("a range").high.get();
    // The same share of both batches: 200 of 264.8 L of water, of 360 L in all.
    let water = 180.0 * (1.0 - 0.17 / 3.0) + 180.0 * (1.0 - 17.0 / 36.0);
    assert!((high - 360.0 * 200.0 / water).abs() < 1e-6, "{high}");
}

#[test]
fn limits_that_no_batch_keeps_are_told() {
    let refusal = refused(&[
        ("/stocks/2/properties", json!({ "chloride": 100 })),
        ("/limits", json!({ "chloride": { "max": 20 } })),
    ]);
    assert_eq!(refusal.kind, Kind::Unreachable);
    assert_eq!(pointers(&refusal), ["/limits/chloride/max", "/limits/chloride/max"]);
    let detail = refusal.faults[1].detail.show(UnitSystem::Metric);
    assert!(detail.starts_with("Batch of product B for mill: "), "{detail}");
}

#[test]
fn chips_beyond_their_vessels_are_refused_unless_it_is_emptied_on_the_way() {
    let refusal = refused(&[("/sumps/1/chips", json!(101))]);
    assert_eq!(refusal.kind, Kind::Unreachable);
    assert_eq!(pointers(&refusal), ["/sumps/1/chips"]);
}

#[test]
fn a_round_that_nobody_would_do_is_not_listed() {
    let refusal = refused(&[("/vessels/0/capacity", json!(0.001))]);
    assert_eq!(refusal.kind, Kind::Inconsistent);
    assert_eq!(pointers(&refusal), ["/vessels"]);
}

#[test]
fn how_much_a_vessel_takes_must_be_known() {
    let refusal = refused(&[
        ("/vessels/1/capacity", Value::Null),
        ("/vessels/2/rated_load", Value::Null),
        ("/vessels/2/capacity", json!(90)),
    ]);
    assert_eq!(refusal.kind, Kind::NotIdentifiable);
    assert_eq!(pointers(&refusal), ["/vessels/1/capacity", "/vessels/2/rated_load"]);
}

#[test]
fn a_sump_is_rinsed_with_one_thing_and_a_weak_one() {
    for (rinse, pointer) in [
        (json!({ "volume": 10 }), "/sumps/0/rinse"),
        (json!({ "volume": 10, "strength": 1, "stock": "water" }), "/sumps/0/rinse"),
        (json!({ "volume": 10, "strength": 21 }), "/sumps/0/rinse/strength"),
        (json!({ "volume": 10, "stock": "concentrate A" }), "/sumps/0/rinse/stock"),
    ] {
        let refusal = refused(&[("/sumps/0/rinse", rinse)]);
        assert_eq!(refusal.kind, Kind::Inconsistent);
        assert_eq!(pointers(&refusal), [pointer]);
    }
    // No stock of product B is weaker than a mix of it with water, but one may be
    // asked for that is stronger than any.
    let refusal = refused(&[("/sumps/1/rinse", json!({ "volume": 10, "strength": 15 }))]);
    assert_eq!(refusal.kind, Kind::Unreachable);
    assert_eq!(pointers(&refusal), ["/sumps/1/rinse/strength"]);
}

/// Nothing stronger than the bound of a premix goes into a sump, whatever the target: by hand,
/// 200 L at 21 % with 20 L of residue at 9 % need 180 L at 22.33 %.
#[test]
fn a_refill_stronger_than_a_premix_is_refused_and_says_what_can_be_reached() {
    let refusal = refused(&[("/sumps/0/target", json!(21))]);
    assert_eq!(refusal.kind, Kind::Unreachable);
    assert_eq!(pointers(&refusal), ["/sumps/0/target"]);
    let range = refusal.reachable.and_then(|found| found.concentration).expect("a range");
    // 180 L at 20 % on 20 L at 9 % make 18.9 %.
    assert_eq!(range.high.get(), 18.9);
    let detail = refusal.faults[0].detail.show(UnitSystem::Metric);
    assert!(detail.contains("20 % by volume") && detail.contains("premix_at_most"), "{detail}");
    let mut lifted = round();
    lifted["sumps"][0]["target"] = json!(21);
    lifted["premix_at_most"] = json!(30);
    assert!(answer(lifted).is_ok());
}

/// Two thousand and one batches of a hundred stocks each: each stock has a line in each batch.
#[test]
fn a_round_of_more_batches_and_stocks_than_an_answer_has_room_for_is_refused() {
    let sumps = |number: u16| {
        let sump = |place: u16| {
            json!({ "name": format!("lathe {place}"), "product": "product A", "volume": 200,
                    "target": 4.0 + 0.001 * f64::from(place) })
        };
        (0..number).map(sump).collect::<Vec<Value>>()
    };
    let stock = |place: u8| json!({ "name": format!("premix {place}"), "concentration": place });
    let round = |number: u16| {
        json!({
            "sumps": sumps(number), "strength_tolerance": 0,
            "stocks": (0..100).map(stock).collect::<Vec<Value>>(),
        })
    };
    let refusal = answer(round(2001)).expect_err("a refusal");
    assert_eq!(refusal.kind, Kind::OutOfRange);
    assert_eq!(pointers(&refusal), ["/strength_tolerance"]);
    let told = refusal.faults[0].detail.show(UnitSystem::Metric);
    assert!(told.contains("2001 batches") && told.contains("200100 lines"), "{told}");
    assert!(told.contains("200000"), "{told}");
}
