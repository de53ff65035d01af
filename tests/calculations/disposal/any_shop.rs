//! Properties of the waste of any shop, on shops drawn at random.

use super::{assert_pickups_keep_the_limits, assert_traceable, solved};
use crate::number;
use proptest::prelude::*;
use serde_json::{Value, json};

/// A plausible shop with one to four groups.
fn a_shop() -> impl Strategy<Value = Value> {
    let group = (1..9_u64, 60.0..900.0_f64, 0.0..15.0_f64, 0.0..15.0_f64, 0.0..10.0_f64)
        .prop_flat_map(|(count, volume, strength, evaporation, carry_off)| {
            let change = prop_oneof![
                (1..9_u64, 1..9_u64).prop_map(
                    |(every, first)| json!({ "habit": "calendar", "every_months": every, "first_month": first })
                ),
                (200.0..3000.0_f64).prop_map(
                    |hours| json!({ "habit": "running_hours", "hours": hours, "hours_per_month": 300 })
                ),
                (100.0..400.0_f64).prop_map(
                    |most| json!({ "habit": "forecast", "limits": { "chloride": { "max": most } } })
                ),
            ];
            (change, 0.0..0.2_f64, 0.0..30.0_f64, 0.0..0.5_f64, 0.0..5.0_f64).prop_map(
                move |(change, residue, rinse, leak, fines)| {
                    json!({
                        "name": "sumps",
                        "count": count,
                        "volume": volume,
                        "concentration": strength,
                        "losses": { "evaporation": evaporation, "carry_off": carry_off },
                        "change": change,
                        "residue": residue * volume,
                        "rinse": { "volume": rinse },
                        "oil_leak": { "rate": leak, "skimmed": 50 },
                        "fines": { "mass_per_month": fines, "dry_share": 60, "every_months": 2 },
                    })
                },
            )
        });
    proptest::collection::vec(group, 1..5).prop_map(|mut groups| {
        for (i, group) in groups.iter_mut().enumerate() {
            group["name"] = format!("sumps {i}").into();
        }
        json!({
            "units": "metric",
            "months": 12,
            "groups": groups,
            "concentrate": { "price": 4, "drum": { "volume": 200, "empty_mass": 9 } },
            "water": { "price": 0.004, "properties": { "chloride": 45 } },
            "streams": [
                { "stream": "spent_fluid", "container": { "name": "IBC", "volume": 1000 }, "price_per_volume": 0.3 },
                { "stream": "sludge", "container": { "name": "drum", "mass": 250 }, "price_per_container": 80 },
            ],
            "storage": { "rules": "by_month" },
            "pickup_price": 150,
        })
    })
}

/// Water that leaves as waste: everything that leaves except by evaporation.
fn water_disposed(record: &Value) -> f64 {
    let rows = record["balance"]["streams"].as_array().expect("a balance");
    let waste = rows.iter().filter(|row| {
        let name = row["name"].as_str().expect("a name");
        name.ends_with(", taken away") || name.ends_with(", on site")
    });
    waste.map(|row| number(row, "/water")).sum()
}

fn of_stream(record: &Value, name: &str) -> f64 {
    let streams = record["answer"]["streams"].as_array().expect("streams");
    let own = streams.iter().filter(|own| own["stream"] == name);
    own.map(|own| number(own, "/volume")).sum()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, failure_persistence: None, ..Default::default() })]

    /// A shop that recycles disposes of no more water than it buys, and of no more
    /// than it would without.
    #[test]
    fn recycling_never_disposes_of_more_water_than_is_bought(
        question in a_shop(),
        recovered in 0.0..95.0_f64,
    ) {
        let mut recycling = question.clone();
        recycling["recycler"] = json!({ "recovered": recovered, "lost_with_sludge": 2 });
        let (plain, recycling) = (solved(&question), solved(&recycling));
        let bought = number(&recycling, "/answer/bought/water");
        let disposed = water_disposed(&recycling);
        prop_assert!(disposed <= bought * (1.0 + 1e-9) + 1e-9, "{disposed} of {bought}");
        assert_traceable(&plain);
        assert_traceable(&recycling);
        assert_pickups_keep_the_limits(&plain);
        let by_calendar = question["groups"].as_array().expect("groups").iter()
            .all(|group| group["change"]["habit"] != "forecast");
        if by_calendar {
            prop_assert!(disposed <= water_disposed(&plain) * (1.0 + 1e-9));
        }
    }

    /// Half the time gives half of every steady stream: the carry-off without its tramp oil,
    /// which builds up.
    #[test]
    fn half_the_horizon_halves_steady_streams(question in a_shop()) {
        let mut question = question;
        question["wash_water_per_month"] = 100.into();
        for group in question["groups"].as_array_mut().expect("groups") {
            for member in ["oil_leak", "change", "rinse"] {
                group.as_object_mut().expect("a group").remove(member);
            }
            group["fines"]["every_months"] = 1.into();
        }
        let year = solved(&question);
        question["months"] = 6.into();
        let half = solved(&question);
        for stream in ["carried_off", "wash_water", "sludge"] {
            let (half, year) = (of_stream(&half, stream), of_stream(&year, stream));
            prop_assert!((2.0 * half - year).abs() <= 1e-9 * year.max(1.0), "{stream}: {half}, {year}");
        }
    }

    /// Two groups of one sump equal one group of two.
    #[test]
    fn a_group_is_the_sum_of_its_sumps(question in a_shop()) {
        let mut apart = question.clone();
        let groups = question["groups"].as_array().expect("groups");
        apart["groups"] = groups.iter().enumerate().flat_map(|(g, group)| {
            let mut one = group.clone();
            one["count"] = 1.into();
            let count = group["count"].as_u64().expect("a count");
            (0..count).map(move |i| {
                one["name"] = format!("sump {i} of {g}").into();
                one.clone()
            })
        }).collect();
        let (together, apart) = (solved(&question), solved(&apart));
        for (together, apart) in together["answer"]["months"].as_array().expect("months").iter()
            .zip(apart["answer"]["months"].as_array().expect("months"))
        {
            let (together, apart) = (number(together, "/mass"), number(apart, "/mass"));
            prop_assert!((together - apart).abs() <= 1e-9 * together.max(1.0));
        }
    }
}
