//! The fluid of a whole shop: its refusals over HTTP, and what holds of any shop.

use crate::problems::assert_problem;
use crate::server::post;
use crate::{number, service, solve};
use proptest::prelude::*;
use serde_json::{Value, json};

fn example() -> Value {
    serde_json::from_str(service("fluid-loop").example).expect("an example is JSON")
}

fn changed(change: impl FnOnce(&mut Value)) -> Value {
    let mut question = example();
    change(&mut question);
    question
}

#[track_caller]
fn refused(kind: &str, pointers: &[&str], change: impl FnOnce(&mut Value)) -> Value {
    assert_problem(post("/v1/fluid-loop", &changed(change)), 422, kind, pointers)
}

#[test]
fn what_contradicts_itself_is_refused_at_its_place() {
    refused("inconsistent", &["/groups/1/name"], |q| q["groups"][1]["name"] = "lathes".into());
    refused("inconsistent", &["/groups/0/count"], |q| q["groups"][0]["count"] = 0.into());
    refused("inconsistent", &["/groups/0/clean_out/every_months"], |q| {
        q["groups"][0]["clean_out"]["every_months"] = 3.into();
    });
    refused("inconsistent", &["/groups/0/clean_out/every_days"], |q| {
        q["groups"][0]["clean_out"]["every_days"] = 0.5.into();
    });
    refused("inconsistent", &["/groups/0/clean_out/residue"], |q| {
        q["groups"][0]["clean_out"]["residue"] = 180.into();
    });
    refused("inconsistent", &["/groups/0/losses/depletion_ratio"], |q| {
        q["groups"][0]["losses"]["depletion_ratio"] = 17.into();
    });
    refused("inconsistent", &["/groups/2/gains/tramp_oil"], |q| {
        q["groups"][2]["gains"]["tramp_oil"] = 19.5.into();
    });
    refused("inconsistent", &["/groups/0/gains/fines/rise"], |q| {
        q["groups"][0]["gains"]["fines"]["rise"] = 3.into();
    });
    refused("inconsistent", &["/groups/0/carries_now/tramp_oil"], |q| {
        q["groups"][0]["carries_now"] = json!({ "tramp_oil": 95 });
    });
    refused("inconsistent", &["/water/properties/tramp_oil"], |q| {
        q["water"]["properties"]["tramp_oil"] = 1.into();
    });
    refused("inconsistent", &["/concentrate/properties"], |q| {
        q["concentrate"]["properties"]["chloride"] = 980_000.into();
    });
    refused("inconsistent", &["/limits/chloride/min"], |q| {
        q["limits"]["chloride"]["min"] = 300.into();
    });
    refused("inconsistent", &["/limits/tramp_oil/min"], |q| {
        q["limits"]["tramp_oil"]["min"] = 3.into();
    });
    // All of it at once.
    refused("inconsistent", &["/groups/0/count", "/limits/chloride/min"], |q| {
        q["groups"][0]["count"] = 0.into();
        q["limits"]["chloride"]["min"] = 300.into();
    });
}

#[test]
fn tanks_have_to_take_a_day_s_work() {
    let fuller = refused("inconsistent", &["/tanks/dirty/holds"], |q| {
        q["tanks"]["dirty"]["holds"] = 1501.into();
    });
    let detail = fuller["errors"][0]["detail"].as_str().unwrap();
    assert!(detail.contains("1501 L in a capacity of 1500 L"), "{detail}");
    refused("inconsistent", &["/tanks/dirty/capacity", "/tanks/clean/capacity"], |q| {
        q["tanks"]["dirty"]["capacity"] = 650.into();
        q["tanks"]["clean"]["capacity"] = 510.into();
    });
}

#[test]
fn what_is_missing_is_named() {
    refused("not-identifiable", &["/groups/3/clean_out/every_days"], |q| {
        q["groups"][3]["clean_out"] = json!({ "residue": 45 });
    });
    refused("not-identifiable", &["/groups/0/gains/chloride/amount"], |q| {
        q["groups"][0]["gains"]["chloride"] = json!({ "rise": null });
    });
    refused("not-identifiable", &["/limits/nitrite"], |q| {
        q["limits"]["nitrite"] = json!({ "max": 20 });
    });
    refused("not-identifiable", &["/groups/0/losses/carry_off"], |q| {
        let group = &mut q["groups"][0];
        group.as_object_mut().unwrap().remove("clean_out");
        group["losses"]["carry_off"] = 0.into();
    });
}

/// A loop that nothing leaves never settles, and a sump that is all oil is none.
#[test]
fn what_never_settles_is_refused() {
    refused("unreachable", &["/recycler/lost"], |q| {
        for group in q["groups"].as_array_mut().unwrap() {
            group["losses"]["carry_off"] = 0.into();
            group["takes_recycled"] = "refills_and_make_up".into();
            group["gains"] = json!({});
            group["concentration"] = 6.into();
        }
        q["recycler"] = json!({ "lost": 0 });
        q["limits"] = json!({});
    });
    refused("unreachable", &["/groups/3/gains/tramp_oil"], |q| {
        q["groups"][3]["gains"]["tramp_oil"] = 19.9.into();
        q["groups"][3]["losses"]["evaporation"] = 60.into();
    });
}

#[test]
fn a_way_too_long_for_the_shop_is_refused() {
    let long = refused("out-of-range", &["/days"], |q| q["days"] = 4000.into());
    assert!(long["detail"].as_str().unwrap().contains("3650"), "{long}");
}

/// A shop of up to four groups, with one salt that nothing takes out.
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
                    "gains": { "tramp_oil": volume * 1e-4, "salt": { "amount": gain } },
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

    /// Nothing that is not taken out is ever less for recycling more of it.
    #[test]
    fn more_recycling_never_lowers_a_settled_content(
        question in any_shop(), a in 0.0..100.0_f64, b in 0.0..100.0_f64,
    ) {
        let (less, more) = (with_share(&question, a.min(b)), with_share(&question, a.max(b)));
        for (g, _) in question["groups"].as_array().unwrap().iter().enumerate() {
            for member in ["oldest", "refilled"] {
                let path = format!("/answer/groups/{g}/{member}/salt");
                let (less, more) = (number(&less, &path), number(&more, &path));
                prop_assert!(more >= less * (1.0 - 1e-12), "{path}: {less} falls to {more}");
            }
        }
    }

    /// At the limit every property is within it; a hair beyond it one is not.
    #[test]
    fn the_recycling_limit_is_the_last_share_that_keeps_it(
        question in any_shop(), part in 0.0..1.0_f64,
    ) {
        let mut question = question;
        question["purge"] = 0.into();
        let (none, all) = (highest(&with_share(&question, 0.0)), highest(&with_share(&question, 100.0)));
        prop_assume!(all > none * (1.0 + 1e-3));
        let limit = none + part * (all - none);
        question["limits"] = json!({ "salt": { "max": limit } });
        let record = solve("fluid-loop", &question).expect("it settles");
        prop_assert_eq!(&record["answer"]["recycling_limit"]["verdict"], "held");
        prop_assert_eq!(&record["answer"]["held_by"]["property"], "salt");
        let share = number(&record, "/answer/recycling_limit/share");
        let at_limit = number(&record, "/answer/recycling_limit/at_limit/salt");
        prop_assert!(at_limit <= limit && at_limit > limit * (1.0 - 1e-9), "{at_limit} of {limit}");
        prop_assert!(highest(&with_share(&question, share)) <= limit * (1.0 + 1e-13));
        let hair = 1e-6;
        if share + hair < 100.0 {
            prop_assert!(highest(&with_share(&question, share + hair)) > limit);
        }
        // The purge that the answer asks for does what it promises.
        let needed = number(&record, "/answer/purge/needed");
        question["purge"] = needed.into();
        let purged = solve("fluid-loop", &question).expect("it settles");
        prop_assert!(highest(&purged) <= limit * (1.0 + 1e-12));
        let asked = number(&question, "/recycler/share");
        prop_assert_eq!(needed == 0.0, asked <= share * (1.0 + 1e-15));
    }

    /// The share of deionised water that the answer asks for keeps the limit, and a
    /// little less does not.
    #[test]
    fn deionised_water_does_what_it_promises(question in any_shop(), part in 0.5..1.5_f64) {
        let mut question = question;
        let settled = highest(&solve("fluid-loop", &question).expect("it settles"));
        question["limits"] = json!({ "salt": { "max": part * settled } });
        let record = solve("fluid-loop", &question).expect("it settles");
        let with_deionised = |share: f64| {
            let mut question = question.clone();
            question["water"]["deionised"] = json!({ "share": share });
            highest(&solve("fluid-loop", &question).expect("it settles"))
        };
        let limit = part * settled;
        match record["answer"]["purge"]["deionised_needed"].as_f64() {
            Some(needed) => {
                prop_assert!(with_deionised(needed) <= limit * (1.0 + 1e-12));
                if needed > 1e-4 {
                    prop_assert!(with_deionised(needed - 1e-4) > limit);
                }
            }
            None => prop_assert!(with_deionised(100.0) > limit),
        }
    }

    /// Recycling or not, no more water is disposed of than is bought; what is
    /// bought is what leaves.
    #[test]
    fn no_more_is_disposed_of_than_is_bought(question in any_shop()) {
        let record = solve("fluid-loop", &question).expect("it settles");
        let yearly = |member: &str| number(&record, &format!("/answer/yearly/{member}"));
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

    /// The way there ends where the settled loop says.
    #[test]
    fn the_way_there_leads_to_where_it_settles(question in any_shop()) {
        let mut question = question;
        question["days"] = 3650.into();
        question["tanks"] = json!({
            "dirty": { "capacity": 1e5, "holds": 2 },
            "clean": { "capacity": 1e5, "holds": 2 },
        });
        // Ten years are long enough where fluid is drained each month.
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
