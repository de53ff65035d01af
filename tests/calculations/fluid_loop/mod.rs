//! Fluid loop: properties that hold for any shop.

mod limits;
mod published;
mod refusals;
mod remedies;
mod statement;

use crate::{number, solve};
use proptest::prelude::*;
use serde_json::{Value, json};
use sumpwright_engine::picture::{Layer, Shows};

/// A shop of up to four groups, with one salt that no treatment removes.
fn any_shop() -> impl Strategy<Value = Value> {
    let losses = (0.0..0.08_f64, 0.003..0.05_f64);
    let uses = prop::sample::select(vec!["nothing", "refills", "refills_and_make_up"]);
    let group =
        (50.0..1000.0_f64, 2.0..12.0_f64, losses, 2_u32..300, 0.0..0.3_f64, uses, 0.0..2000.0);
    let recycler = (0.0..100.0_f64, 0.0..20.0_f64, 0.0..100.0_f64, 0.0..80.0_f64);
    (prop::collection::vec(group, 1..5), recycler, 0.0..300.0_f64).prop_map(
        |(groups, (share, lost, oil, purge), salt)| {
            let groups = groups.into_iter().enumerate().map(|(i, group)| {
                let (volume, concentration, (e, d), days, residue, uses, gain) = group;
                json!({
                    "name": format!("group {i}"),
                    "count": i + 1,
                    "volume": volume,
                    "concentration": concentration,
                    "losses": { "evaporation": volume * e, "carry_off": volume * d },
                    "clean_out": { "every_days": days, "residue": volume * residue },
                    "gains": { "tramp_oil": { "amount": volume * 1e-4 }, "salt": { "amount": gain } },
                    "takes_recycled": uses,
                })
            });
            json!({
                "units": "metric",
                "groups": groups.collect::<Vec<_>>(),
                "recycler": { "share": share, "lost": lost, "removes": { "tramp_oil": oil } },
                "purge": purge,
                "water": { "properties": { "salt": salt } },
                "days": 0,
            })
        },
    )
}

fn highest(record: &Value) -> f64 {
    number(record, "/answer/settles_at/salt/highest")
}

fn with_share(question: &Value, share: f64) -> Value {
    let mut question = question.clone();
    question["recycler"]["share"] = share.into();
    solve("fluid-loop", &question).expect("it settles")
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 150, failure_persistence: None, ..Default::default() })]

    /// With or without recycling, no more water is disposed of than is bought, and the
    /// water bought equals the water that leaves.
    #[test]
    fn no_more_is_disposed_of_than_is_bought(question in any_shop()) {
        let record = solve("fluid-loop", &question).expect("it settles");
        let yearly = |member: &str| number(&record, &format!("/answer/per_year/{member}"));
        let bought = yearly("water") + yearly("deionised_water") + yearly("concentrate");
        let leaves = yearly("evaporated") + yearly("carried_off") + yearly("disposed");
        prop_assert!((bought + yearly("oil_leaked") - leaves).abs() <= 1e-9 * leaves);
        let water = |way: &str| -> f64 {
            let streams = record["balance"]["streams"].as_array().unwrap().iter();
            let own = streams.filter(|stream| stream["way"] == way);
            let own = own.filter(|stream| !["evaporated", "carried off"].iter().any(|n| stream["name"] == *n));
            own.map(|stream| stream["water"].as_f64().unwrap()).sum()
        };
        prop_assert!(water("out") <= water("in") * (1.0 + 1e-12));
        prop_assert!(yearly("recycled") <= yearly("drained") * (1.0 + 1e-12));
    }

    /// Recycling nothing and draining nothing settles at the cycles of make-up.
    #[test]
    fn without_clean_outs_make_up_alone_decides(question in any_shop()) {
        let mut question = question;
        for group in question["groups"].as_array_mut().unwrap() {
            group.as_object_mut().unwrap().remove("clean_out");
            group["gains"] = json!({});
            group["concentration"] = 0.into();
        }
        let record = solve("fluid-loop", &question).expect("it settles");
        for (g, group) in question["groups"].as_array().unwrap().iter().enumerate() {
            let (e, d) = (number(group, "/losses/evaporation"), number(group, "/losses/carry_off"));
            let cycles = number(&record, &format!("/answer/groups/{g}/cycles"));
            prop_assert!((cycles / ((e + d) / d) - 1.0).abs() < 1e-12);
            let salt = number(&question, "/water/properties/salt") * (e + d) / d;
            let settled = number(&record, &format!("/answer/groups/{g}/oldest/salt"));
            prop_assert!((settled - salt).abs() <= 1e-12 * salt);
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 20, failure_persistence: None, ..Default::default() })]

    /// The path to steady state ends at the steady state of the loop.
    #[test]
    fn the_way_there_leads_to_where_it_settles(question in any_shop()) {
        let mut question = question;
        question["days"] = 3650.into();
        question["tanks"] = json!({
            "dirty": { "capacity": 1e5, "holds": 2 },
            "clean": { "capacity": 1e5, "holds": 2 },
        });
        // Ten years are long enough if fluid is drained each month.
        for group in question["groups"].as_array_mut().unwrap() {
            let days = number(group, "/clean_out/every_days");
            group["clean_out"]["every_days"] = (2.0 + days / 10.0).round().into();
        }
        let record = solve("fluid-loop", &question).expect("it settles");
        let last = record["answer"]["series"].as_array().unwrap().last().unwrap();
        for (property, settles) in record["answer"]["settles_at"].as_object().unwrap() {
            let (found, settled) = (number(&last["highest"], &format!("/{property}")), number(settles, "/highest"));
            prop_assert!((found - settled).abs() <= 1e-4 * settled + 1e-9, "{property}: {found} to {settled}");
        }
    }
}

/// The picture has a panel for each limit, with the limit and the worst sump's way to where it
/// settles.
#[test]
fn the_picture_shows_the_way_of_the_worst_sump() {
    let service = crate::service("fluid-loop");
    let drawn = service.pictures(service.example.as_bytes()).expect("pictures").pictures;
    let panels = drawn.iter().find_map(|picture| match &picture.shows {
        Shows::Panels(panels) => Some(panels),
        _ => None,
    });
    let chart = panels.expect("the way to steady state");
    let question: Value = serde_json::from_str(service.example).expect("JSON");
    let record = solve("fluid-loop", &question).expect("an answer");
    let days = record["answer"]["series"].as_array().expect("days").len();
    assert_eq!(chart.panels.len(), question["limits"].as_object().expect("limits").len());
    for panel in &chart.panels {
        let has_limit = panel.layers.iter().any(|layer| matches!(layer, Layer::Limit { .. }));
        let worst = panel.layers.iter().find_map(|layer| match layer {
            Layer::Line { label, points } if label == "worst sump" => Some(points.len()),
            _ => None,
        });
        assert!(has_limit && worst == Some(days), "{}: {worst:?} of {days}", panel.label);
    }
}
