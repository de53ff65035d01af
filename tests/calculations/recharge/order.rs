//! The order of the work at a sump, and its texts on the job sheet.
//!
//! Source of the order: DGUV Regel 109-003, clean-out of machines: system cleaner
//! circulated, drained, cleaned out, rinsed, filled.

use super::answer;
use super::vessels::{planned, round};
use serde_json::{Value, json};
use sumpwright_engine::calculations::shop::recharge::SheetAction;
use sumpwright_engine::quantity::{Quantity, UnitSystem};

/// One lathe cleaned according to the rule.
fn thorough() -> Value {
    let mut asked = round();
    asked["sumps"] = json!([{
        "name": "lathe", "product": "product A", "volume": 200, "target": 6, "residue": 20,
        "chips": 30, "factor": 1.25,
        "fluid_now": { "volume": 180, "concentration": 7 },
        "cleaner": { "dose": 2, "hours": 8 },
        "scraping_minutes": 25,
        "rinse": { "volume": 30, "strength": 1.5 }
    }]);
    asked["stocks"].as_array_mut().expect("stocks").remove(1);
    asked["vessels"] = json!([
        { "name": "clean tank", "holds": "clean", "capacity": 400, "pump_rate": 60 },
        { "name": "dirty tank", "holds": "dirty", "capacity": 400, "pump_rate": 60 }
    ]);
    asked["times"] = json!({ "setup_minutes": 8, "drive_minutes": 3, "rinse_minutes": 10 });
    asked
}

#[test]
fn cleaner_drain_scrape_rinse_fill() {
    let found = planned(thorough());
    let at_the_machine: Vec<SheetAction> =
        found.sheet.iter().filter(|step| step.sump.is_some()).map(|step| step.action).collect();
    let expected = [
        SheetAction::CirculateCleaner,
        SheetAction::SetUp,
        SheetAction::TakeOut,
        SheetAction::Scrape,
        SheetAction::Rinse,
        SheetAction::TakeOut,
        SheetAction::Refill,
    ];
    assert_eq!(at_the_machine, expected);
    assert_eq!(found.begins_hours_before.map(Quantity::get), Some(8.0));
}

/// By hand: 3.6 L of cleaner in 180 L; 163.6 L come out, then 30 L of rinse; 180 L go
/// in. 20 L stay after each.
#[test]
fn its_hours_are_those_of_every_step() {
    let found = planned(thorough());
    let minutes = 3.0 + 8.0 + 163.6 / 60.0 + 25.0 + 10.0 + 30.0 / 60.0 + 180.0 / 60.0 + 3.0;
    assert!((found.crew_hours.expect("hours").get() * 60.0 - minutes).abs() < 1e-9);
    assert_eq!(found.sumps[0].removed.get(), 163.6);
    assert_eq!(found.sumps[0].rinsed.get(), 30.0);
}

/// By hand: of 183.6 L at 7·180/183.6 = 6.8627 % stay 20 L, which 30 L at 1.5 % bring to
/// (20·6.8627 + 30·1.5)/50 = 3.6451 %; 180 L at (1200 − 20·3.6451)/180 make 200 L at 6 %.
/// Of the cleaner 20/183.6 · 20/50 stay.
#[test]
fn what_cleaner_and_rinse_leave_behind_counts() {
    let found = planned(thorough());
    let sump = &found.sumps[0];
    let stays = (20.0 * (7.0 * 180.0 / 183.6) + 30.0 * 1.5) / 50.0;
    let refill = (1200.0 - 20.0 * stays) / 180.0;
    assert!((sump.refill.concentration.get() - refill).abs() < 1e-9);
    assert_eq!(sump.after.concentration.get(), 6.0);
    let share = 20.0 / 183.6 * 20.0 / 50.0;
    assert!((sump.old_fluid_left.get() - share * 100.0).abs() < 1e-9);
    let cleaner = sump.cleaner_left.expect("cleaner").get();
    assert!((cleaner - 3.6 * share / 200.0 * 100.0).abs() < 1e-12);
    // The mix to rinse with is made of the same product: 30 L at 1.5 %.
    let mix = &found.rinse_mixes[0];
    assert_eq!((mix.volume.get(), mix.product.as_str()), (30.0, "product A"));
    assert!((mix.take[0].volume.get() - 0.45).abs() < 1e-12);
}

#[test]
fn the_balance_has_cleaner_and_rinse_in_it() {
    let balance = answer(thorough()).expect("an answer").balance.expect("a balance");
    let row = |name: &str| balance.streams.iter().find(|stream| stream.name == name);
    assert_eq!(row("system cleaner").expect("cleaner").volume.get(), 3.6);
    let dirty = row("dirty, product A").expect("dirty").volume.get();
    assert!((dirty - 193.6).abs() < 1e-9);
}

/// By hand: a factor of 1.25 makes 6 % read 4.8 °Brix, and the refill c_b/1.25.
#[test]
fn a_factor_gives_the_sheet_its_readings() {
    let found = planned(thorough());
    let check = found.sheet.iter().find(|step| step.action == SheetAction::CheckBatch);
    let check = check.expect("a step");
    let strength = check.concentration.expect("a strength").get();
    assert_eq!(check.mark.expect("a reading").get(), strength / 1.25);
    assert_eq!(found.batches[0].mark, check.mark);
    assert_eq!(found.sumps[0].after.mark.expect("a mark").get(), 4.8);
    let mut without = thorough();
    without["sumps"][0].as_object_mut().expect("a sump").remove("factor");
    assert!(planned(without).sheet.iter().all(|step| step.mark.is_none()));
}

/// A fluid has one factor: a different one for the same product gets a finding, not a refusal.
#[test]
fn two_factors_of_one_product_are_asked_back() {
    let mut asked = round();
    asked["sumps"][0]["factor"] = json!(1.2);
    asked["sumps"][2]["factor"] = json!(1.4);
    let differ = |asked: &Value| {
        let found = answer(asked.clone()).expect("an answer").findings;
        found.into_iter().find(|finding| finding.code == "factors-differ")
    };
    assert_eq!(differ(&asked), None, "two products each have their own");
    asked["sumps"][1]["factor"] = json!(1.4);
    assert_eq!(differ(&asked).expect("a finding").pointer, "/sumps/1/factor");
}

/// No text mentions equipment that the request does not have, and only concentrate is
/// stirred into water.
#[test]
fn a_sheet_speaks_of_what_there_is() {
    let mut asked = thorough();
    let stocks = asked["stocks"].as_array_mut().expect("stocks");
    stocks.push(json!({ "name": "deionised water", "concentration": 0, "volume": 40 }));
    stocks.push(json!({
        "name": "recycled", "product": "product A", "concentration": 5, "volume": 50
    }));
    asked["goal"] = json!({ "most_of": "recycled" });
    asked["limits"] = json!({ "chloride": { "max": 45 } });
    asked["stocks"][1]["properties"] = json!({ "chloride": 60 });
    for step in planned(asked).sheet {
        let text = step.text.show(UnitSystem::Metric);
        let concentrate = step.stock.as_deref() == Some("concentrate A");
        assert_eq!(text.contains("concentrate into water"), concentrate, "{step:?}");
        for word in ["suck", "vacuum", "suction", "hose"] {
            assert!(!text.to_lowercase().contains(word), "{text}");
        }
    }
}

fn codes<'a>(codes: impl Iterator<Item = &'a str>) -> Vec<&'a str> {
    codes.collect()
}

/// A round has no cautions about materials that it does not contain.
#[test]
fn cautions_are_of_what_is_done() {
    let plain = answer(json!({
        "sumps": [{ "name": "saw", "product": "product A", "volume": 60, "target": 8 }],
        "stocks": [{ "name": "premix", "concentration": 8 }]
    }));
    let plain = plain.expect("an answer");
    let found = codes(plain.cautions.iter().map(|caution| caution.code.as_ref()));
    let expected = ["machine-may-start", "overfilling", "skin-and-mist", "drained-fluid-is-waste"];
    assert_eq!(found, expected);
    let full = answer(thorough()).expect("an answer");
    let found = codes(full.cautions.iter().map(|caution| caution.code.as_ref()));
    for code in ["sharp-chips", "biocide-by-label", "concentrate-on-skin"] {
        assert!(found.contains(&code), "{found:?}");
    }
    assert!(!found.contains(&"confined-space"), "for 200 L: {found:?}");
}

/// The answer gives the share of old fluid left, and a finding asks about rinsing with plain water.
#[test]
fn what_spoils_the_new_charge_is_found_first() {
    let found = answer(thorough()).expect("an answer").findings;
    let old = found.iter().find(|finding| finding.code == "old-fluid-stays").expect("a finding");
    // By hand: 20/183.6 · 20/50 is 4.357 %.
    assert!(old.text.show(UnitSystem::Metric).starts_with("4.4 % of its old fluid stays in lathe"));
    let mut asked = thorough();
    asked["sumps"][0]["rinse"] = json!({ "volume": 30, "stock": "water" });
    let watered = answer(asked.clone()).expect("an answer").findings;
    assert!(watered.iter().any(|finding| finding.code == "rinsed-with-water"), "{watered:?}");
    asked["sumps"][0].as_object_mut().expect("a sump").remove("rinse");
    let stays = answer(asked.clone()).expect("an answer").findings;
    assert!(stays.iter().any(|finding| finding.code == "cleaner-stays"), "{stays:?}");
    asked["sumps"][0]["fluid_now"]["volume"] = json!(200);
    asked["sumps"][0]["target"] = json!(0.06);
    asked["sumps"][0]["residue"] = json!(0);
    let odd = answer(asked).expect("an answer").findings;
    let odd = codes(odd.iter().map(|finding| finding.code.as_ref()));
    assert!(odd.contains(&"strength-unusual") && odd.contains(&"cleaner-overfills"), "{odd:?}");
}
