//! What holds for any projection of waste: its sums, its pickups, its picture.

use crate::{assert_near, number, service, solve};
use proptest::prelude::*;
use serde_json::{Value, json};
use sumpwright_engine::calculation::Calculation;
use sumpwright_engine::calculations::disposal::Disposal;
use sumpwright_engine::chart::Layer;

fn example() -> Value {
    serde_json::from_str(service("disposal").example).expect("an example is JSON")
}

fn solved(question: &Value) -> Value {
    solve("disposal", question).unwrap_or_else(|problem| panic!("{problem:?}\n{question}"))
}

/// Sums over the months are the streams overall, and those are rows of the balance.
fn assert_traceable(record: &Value) {
    let months = record["answer"]["months"].as_array().expect("months");
    let rows = record["balance"]["streams"].as_array().expect("a balance");
    let row = |name: &str, column: &str| -> f64 {
        let rows = rows.iter().filter(|row| row["name"] == name);
        rows.map(|row| number(row, column)).sum()
    };
    for overall in record["answer"]["streams"].as_array().expect("streams") {
        let name = overall["stream"].as_str().expect("a name");
        for column in ["/volume", "/mass"] {
            let of_month = |month: &Value| -> f64 {
                let streams = month["streams"].as_array().expect("streams");
                let own = streams.iter().filter(|own| own["stream"] == name);
                own.map(|own| number(own, column)).sum()
            };
            let summed: f64 = months.iter().map(of_month).sum();
            let all = number(overall, column);
            assert_near(summed, all, 1e-9 * all.max(1.0));
            let words = name.replace('_', " ");
            let booked = row(&format!("{words}, taken away"), column)
                + row(&format!("{words}, on site"), column);
            assert_near(booked, all, 1e-9 * all.max(1.0));
        }
    }
    let sum = |member: &str| -> f64 { months.iter().map(|month| number(month, member)).sum() };
    for (member, name) in [("/water", "water bought"), ("/concentrate", "concentrate bought")] {
        let (summed, booked) = (sum(member), row(name, "/volume"));
        assert_near(summed, booked, 1e-9 * booked.max(1.0));
    }
    if record["answer"]["cost"].is_object() {
        assert_near(sum("/cost"), number(record, "/answer/cost/total"), 1e-6);
    }
}

/// What is on site never passes the limit, and nothing of it stays too long.
fn assert_pickups_keep_the_limits(record: &Value) {
    let storage = &record["answer"]["storage"];
    let most = storage["mass"].as_f64().unwrap_or(f64::INFINITY) * (1.0 + 1e-9);
    let days = storage["days"].as_f64().unwrap_or(f64::INFINITY);
    let mut before = 0.0;
    for pickup in record["answer"]["pickups"].as_array().expect("pickups") {
        assert!(number(pickup, "/mass") <= most, "{pickup}");
        assert!(number(pickup, "/day") - before <= days + 1e-9 || number(pickup, "/mass") == 0.0);
        before = number(pickup, "/day");
    }
    for month in record["answer"]["months"].as_array().expect("months") {
        assert!(number(month, "/on_site") <= most, "{month}");
    }
}

/// A shop as one might be, of one to four groups.
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
                        "fines": { "monthly": fines, "dry_share": 60, "every_months": 2 },
                    })
                },
            )
        });
    proptest::collection::vec(group, 1..5).prop_map(|groups| {
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
            "storage": { "rules": "small" },
            "pickup_price": 150,
        })
    })
}

/// Water that leaves as waste: everything that leaves but into the air.
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

    /// Half as long, half as much of what is steady: what is carried off, less the
    /// tramp oil in it, which builds up.
    #[test]
    fn half_the_horizon_halves_steady_streams(question in a_shop()) {
        let mut question = question;
        question["wash_water_monthly"] = 100.into();
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

    /// Two groups of one are one group of two.
    #[test]
    fn a_group_is_the_sum_of_its_sumps(question in a_shop()) {
        let mut apart = question.clone();
        let groups = question["groups"].as_array().expect("groups");
        apart["groups"] = groups.iter().flat_map(|group| {
            let mut one = group.clone();
            one["count"] = 1.into();
            let count = group["count"].as_u64().expect("a count");
            (0..count).map(move |_| one.clone())
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

/// The demo shop's year in three ways of working, in both systems of units.
#[test]
fn the_demo_shop_in_three_ways_of_working() {
    let recycling = example();
    let mut by_calendar = example();
    by_calendar.as_object_mut().expect("an object").remove("recycler");
    let mut treating = by_calendar.clone();
    treating["treatment"] = json!({ "method": "ultrafiltration", "volume_reduction": 8 });
    let service = service("disposal");
    let mut counted = Vec::new();
    for question in [&by_calendar, &recycling, &treating] {
        let record = solved(question);
        assert_traceable(&record);
        assert_pickups_keep_the_limits(&record);
        let us = solved(&crate::catalogue::in_us_units(service, question));
        crate::catalogue::assert_same_in_us_units(service, &record, &us);
        let codes: Vec<&Value> =
            record["cautions"].as_array().expect("cautions").iter().map(|c| &c["code"]).collect();
        for code in ["waste-determination", "permit-before-the-sewer", "storage-and-transport"] {
            assert!(codes.contains(&&json!(code)), "{codes:?}");
        }
        let months = record["answer"]["months"].as_array().expect("months");
        counted.push(months.iter().map(|month| number(month, "/counted")).sum::<f64>());
    }
    assert!(counted[1] < 0.7 * counted[0] && counted[2] < 0.7 * counted[0], "{counted:?}");
}

/// The same seed gives the same bytes, another seed other bands, and the plain
/// answer lies among the draws.
#[test]
fn bands_come_from_the_seed_and_lie_around_the_answer() {
    let service = service("disposal");
    let mut question = example();
    // By forecast a draw can have a change in another month.
    question["groups"][1]["change"] = json!({ "habit": "calendar", "every_months": 5 });
    let bytes = || service.answer(question.to_string().as_bytes()).expect("an answer");
    assert_eq!(bytes(), bytes());
    let record = solved(&question);
    let mut other = question.clone();
    other["sampling"]["seed"] = 8.into();
    let bands = record["answer"]["bands"]["months"].as_array().expect("bands");
    assert_ne!(record["answer"]["bands"], solved(&other)["answer"]["bands"]);
    for (band, month) in bands.iter().zip(record["answer"]["months"].as_array().expect("months")) {
        let ([low, middle, high], plain) = (
            ["p10", "p50", "p90"].map(|p| number(&band["mass"], &format!("/{p}"))),
            number(month, "/mass"),
        );
        assert!(low <= middle && middle <= high);
        assert!((plain / middle - 1.0).abs() < 0.2, "{plain} beside {low}, {middle}, {high}");
        let shares = band["categories"].as_object().expect("shares").values();
        assert_near(shares.filter_map(Value::as_f64).sum(), 100.0, 1e-9);
    }
}

/// Changes that all fall on the last day of their month are there on that day.
#[test]
fn changes_on_the_last_day_are_picked_up_no_later_than_their_limit() {
    let mut question = example();
    question["storage"] = json!({ "days": 30, "mass": 4000, "changes_fall": "on_the_last_day" });
    let record = solved(&question);
    assert_pickups_keep_the_limits(&record);
    assert_traceable(&record);
}

/// Five thousand sumps, each with its own figures, get an answer by month and
/// stream and not by sump.
#[test]
fn many_sumps_have_a_short_answer() {
    let groups = (0..5000_u64).map(|i| {
        json!({
            "name": format!("sump {i}"),
            "volume": 80 + i % 500,
            "concentration": 5,
            "losses": { "evaporation": 4, "carry_off": 2 },
            "change": { "habit": "calendar", "every_months": 6 + i % 7, "first_month": 1 + i % 6 },
            "properties": { "chloride": 60 },
        })
    });
    let question = json!({ "units": "metric", "months": 120, "groups": groups.collect::<Value>() });
    let answer = service("disposal").answer(question.to_string().as_bytes()).expect("an answer");
    assert!(answer.len() < 100_000, "{} bytes", answer.len());
    assert_traceable(&serde_json::from_slice(&answer).expect("JSON"));
}

/// A sump changed by forecast is changed at the end of the last month before the
/// day on which `forecast` says that it leaves its limits.
#[test]
fn a_change_by_forecast_comes_when_the_forecast_says_so() {
    const MONTH: f64 = 365.0 / 12.0;
    let mut months = Vec::new();
    for (volume, evaporation, carry_off, leak, limits) in [
        (300.0, 9.0, 1.5, 0.0, json!({ "chloride": { "max": 180 } })),
        (420.0, 9.0, 2.5, 0.0, json!({ "chloride": { "max": 150 } })),
        (80.0, 2.0, 0.4, 0.0, json!({ "chloride": { "max": 190 }, "tramp_oil": { "max": 3 } })),
        (200.0, 4.0, 1.0, 0.08, json!({ "tramp_oil": { "max": 4 } })),
        (500.0, 6.0, 0.5, 0.05, json!({ "chloride": { "max": 900 }, "tramp_oil": { "max": 2.5 } })),
    ] {
        let losses = json!({ "evaporation": evaporation, "carry_off": carry_off });
        let water = json!({ "properties": { "chloride": 60 } });
        let projected = solved(&json!({
            "units": "metric",
            "months": 60,
            "groups": [{
                "name": "a sump",
                "volume": volume,
                "concentration": 0,
                "losses": losses,
                "oil_leak": { "rate": leak },
                "change": { "habit": "forecast", "limits": limits },
                "properties": { "chloride": 60 },
            }],
            "water": water,
        }));
        let asked = json!({
            "units": "metric",
            "sump": {
                "capacity": volume,
                "volume": volume,
                "concentration": 0,
                "properties": { "chloride": 60 },
            },
            "losses": losses,
            "oil_leak": leak,
            "feeding": {
                "when": "always",
                "with": { "kind": "water_and_concentrate", "target": 0, "water": water },
            },
            "limits": limits,
            "days": 1800,
        });
        let forecast = solve("forecast", &asked).expect("a forecast");
        let crossings = forecast["answer"]["crossings"].as_array().expect("crossings");
        let limit = crossings.iter().find(|crossing| crossing["what"] != "volume");
        let leaves = number(limit.expect("it leaves a limit"), "/day");
        let answered = projected["answer"]["months"].as_array().expect("months");
        let first = answered.iter().find(|month| number(month, "/changes") > 0.0);
        let first = number(first.expect("a change"), "/month");
        assert_eq!(first, (leaves / MONTH).floor(), "leaves on day {leaves}");
        months.push(first);
    }
    assert!(months.iter().all(|month| *month > 1.0), "{months:?}");
}

/// The picture stacks the very masses of the answer, marks each pickup, and draws
/// what is on site below its limit.
#[test]
fn the_picture_shows_the_answer() {
    let mut question = example();
    let members = question.as_object_mut().expect("an object");
    members.retain(|name, _| name != "units" && name != "reference");
    let question: Disposal = serde_json::from_value(question).expect("a question");
    let answer = question.calculate().expect("an answer").answer;
    let chart = question.chart(&answer).expect("a picture");
    let record = solved(&example());
    let months = record["answer"]["months"].as_array().expect("months");
    let mut stacked = vec![0.0; months.len()];
    let [streams, on_site] = &chart.panels[..] else { panic!("{} panels", chart.panels.len()) };
    for layer in &streams.layers {
        if let Layer::Bars { points, .. } = layer {
            for (sum, (_, height)) in stacked.iter_mut().zip(points) {
                *sum += height;
            }
        }
    }
    for (stacked, month) in stacked.iter().zip(months) {
        assert_near(*stacked, number(month, "/mass"), 1e-6);
    }
    let pickups = record["answer"]["pickups"].as_array().expect("pickups").len();
    for panel in [streams, on_site] {
        let events = panel.layers.iter().filter(|layer| matches!(layer, Layer::Event { .. }));
        assert_eq!(events.count(), pickups);
        assert!(panel.layers.iter().any(|layer| matches!(layer, Layer::Limit { .. })));
    }
    let lines = on_site.layers.iter().filter_map(|layer| match layer {
        Layer::Line { points, .. } => Some(points),
        _ => None,
    });
    let points: Vec<&(f64, f64)> = lines.flatten().collect();
    assert!(points.windows(2).all(|pair| pair[0].0 <= pair[1].0));
    assert!(points.iter().all(|(_, kilograms)| *kilograms <= 6000.0 * (1.0 + 1e-9)));
    assert_eq!(points.iter().filter(|(_, kilograms)| *kilograms == 0.0).count(), pickups + 1);
}
