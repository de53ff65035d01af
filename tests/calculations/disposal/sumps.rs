//! What is in the sumps of a projection, and what a change gives back to them.

use super::{example, solved};
use crate::{assert_near, number};
use serde_json::{Value, json};

fn row<'a>(record: &'a Value, name: &str) -> &'a Value {
    let rows = record["balance"]["streams"].as_array().expect("a balance");
    rows.iter().find(|row| row["name"] == name).unwrap_or_else(|| panic!("no {name} in {rows:#?}"))
}

/// A sump holds its volume times its strength of concentrate and water for the rest, at the
/// start and, since it is topped up and refilled to both, at the end.
#[test]
fn the_sumps_hold_volume_times_strength() {
    let question = example();
    let record = solved(&question);
    let groups = question["groups"].as_array().expect("groups");
    let in_all = |of: fn(f64) -> f64| -> f64 {
        let held = |group| {
            let share = number(group, "/concentration") / 100.0;
            number(group, "/count") * number(group, "/volume") * of(share)
        };
        groups.iter().map(held).sum()
    };
    let (concentrate, water) = (in_all(|share| share), in_all(|share| 1.0 - share));
    for name in ["sumps at the start", "sumps at the end"] {
        let row = row(&record, name);
        assert_near(number(row, "/concentrate"), concentrate, 1e-9 * concentrate);
        assert_near(number(row, "/water"), water, 1e-9 * water);
    }
}

/// A fresh sump carries what its water brought, so that one that does not say what it
/// carries goes the way of one that says just that.
#[test]
fn a_sump_that_does_not_say_carries_what_its_water_brought() {
    let unsaid = json!({
        "units": "metric",
        "months": 24,
        "groups": [{
            "name": "sumps", "count": 3, "volume": 300, "concentration": 8,
            "losses": { "evaporation": 9, "carry_off": 1.5 },
            "change": { "habit": "forecast", "limits": { "chloride": { "max": 180 } } },
        }],
        "water": { "properties": { "chloride": 60 } },
    });
    let mut said = unsaid.clone();
    // Of a litre 0.92 are water, with 60 mg to the litre.
    said["groups"][0]["properties"] = json!({ "chloride": 0.92 * 60.0 });
    let (unsaid, said) = (solved(&unsaid), solved(&said));
    let changes = |record: &Value| -> Vec<f64> {
        let months = record["answer"]["months"].as_array().expect("months");
        months.iter().map(|month| number(month, "/changes")).collect()
    };
    assert_eq!(changes(&unsaid), changes(&said));
    // It is changed when its own water has filled it up, and not at once.
    let first = changes(&unsaid).iter().position(|changes| *changes > 0.0);
    assert!(first.is_some_and(|month| month > 0), "{:?}", changes(&unsaid));
    // 3 sumps of 300 L with 55.2 mg/L.
    for record in [&unsaid, &said] {
        let start = row(record, "sumps at the start");
        assert_near(number(start, "/carried/chloride"), 900.0 * 0.92 * 60.0 * 1e-6, 1e-12);
    }
}

/// A rinse takes concentrate with it, which the refill has to bring besides what is
/// recovered. More is not put back than leaves room for it.
/// By hand: 100 L at 50 %, of which 20 L stay and are rinsed with 20 L: half of their 10 L
/// of concentrate is left. Of the 80 L drained y come back with half of them concentrate,
/// and 50 L are wanted: 5 + 80·y/2 + (80 − 80·y) = 50 where no water goes in, y = 7/8.
#[test]
fn no_more_is_put_back_than_leaves_room_for_the_concentrate() {
    let change = |recovered: f64| {
        let record = solved(&json!({
            "units": "metric",
            "months": 1,
            "groups": [{
                "name": "a sump", "volume": 100, "concentration": 50,
                "losses": { "evaporation": 0, "carry_off": 0 },
                "change": { "habit": "calendar", "every_months": 1 },
                "residue": 20, "rinse": { "volume": 20 },
            }],
            "recycler": { "recovered": recovered },
        }));
        assert_eq!(number(&record, "/answer/months/0/changes"), 1.0);
        ["water", "concentrate"].map(|bought| number(&record, &format!("/answer/bought/{bought}")))
    };
    // Three quarters: 60 L come back, and 15 L of concentrate in 20 L of refill.
    for (recovered, water, concentrate) in [(75.0, 5.0, 15.0), (87.5, 0.0, 10.0), (95.0, 0.0, 10.0)]
    {
        let [all_water, all_concentrate] = change(recovered);
        assert_near(all_water, 20.0 + water, 1e-9);
        assert_near(all_concentrate, concentrate, 1e-9);
    }
}
