//! The limits of any loop: the recycling share that keeps them, and the effect of deionised water.

use super::{any_shop, highest, with_share};
use crate::{number, service, solve};
use proptest::prelude::*;
use serde_json::{Value, json};

proptest! {
    #![proptest_config(ProptestConfig { cases: 150, failure_persistence: None, ..Default::default() })]

    /// More recycling never lowers a property that no treatment removes.
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

    /// At the limiting share every property is within its limit; just beyond it one is not.
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
        // The purge that the answer asks for keeps the limit.
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
}

/// The sump that limits recycling need not be the worst without recycling, nor
/// the worst when everything is recycled.
#[test]
fn a_limit_can_be_held_by_a_sump_that_is_worst_at_neither_end() {
    let group = |name, days, evaporation, carry_off, uses, gain| {
        json!({
            "name": name,
            "volume": 300,
            "concentration": 6,
            "losses": { "evaporation": evaporation, "carry_off": carry_off },
            "clean_out": { "every_days": days },
            "gains": { "salt": { "amount": gain } },
            "takes_recycled": uses,
        })
    };
    let question = json!({
        "units": "metric",
        "groups": [
            group("own salt", 60, 1, 10, "nothing", 2600),
            group("between", 60, 8, 6, "refills", 900),
            group("steep", 20, 6, 4, "refills_and_make_up", 100),
        ],
        "recycler": { "share": 100, "lost": 2, "removes": {} },
        "water": { "properties": { "salt": 100 } },
        "days": 0,
    });
    let worst_in = |share: f64| {
        with_share(&question, share).pointer("/answer/settles_at/salt/highest_in").cloned()
    };
    assert_eq!((worst_in(0.0), worst_in(100.0)), (Some("own salt".into()), Some("steep".into())));

    let middle = with_share(&question, 75.0);
    assert_eq!(middle["answer"]["settles_at"]["salt"]["highest_in"], "between");
    let mut limited = question.clone();
    limited["limits"] = json!({ "salt": { "max": highest(&middle) } });
    let record = solve("fluid-loop", &limited).expect("it settles");
    assert_eq!(record["answer"]["held_by"]["group"], "between");
    let share = number(&record, "/answer/recycling_limit/share");
    assert!((share - 75.0).abs() < 1e-9, "{share}");
}

/// Sumps listed one by one give the same result as groups, and so do the searches of a
/// shop so large that they run in parallel.
#[test]
fn a_group_is_as_many_sumps_as_it_counts() {
    let example = service("fluid-loop").example;
    let mut grouped: Value = serde_json::from_str(example).expect("an example is JSON");
    grouped["days"] = 0.into();
    grouped.as_object_mut().unwrap().remove("tanks");
    grouped["water"]["deionised"] = json!({ "share": 0 });
    let mut listed = grouped.clone();
    let groups = grouped["groups"].as_array_mut().unwrap();
    groups.iter_mut().for_each(|group| group["count"] = 300.into());
    let sumps = (0..300).flat_map(|number| groups.iter().map(move |group| (number, group)));
    listed["groups"] = sumps
        .map(|(number, group)| {
            let mut sump = group.clone();
            sump["name"] = format!("{} {number}", group["name"].as_str().unwrap()).into();
            sump["count"] = 1.into();
            sump
        })
        .collect();
    let [grouped, listed] =
        [grouped, listed].map(|question| solve("fluid-loop", &question).expect("it settles"));
    for path in [
        "/recycling_limit/share",
        "/recycling_limit/at_limit/chloride",
        "/recycling_limit/longest_life",
        "/purge/needed",
        "/purge/deionised_needed",
        "/settles_at/fines/mean",
        "/per_year/disposed",
    ] {
        let path = format!("/answer{path}");
        let (one, other) = (number(&grouped, &path), number(&listed, &path));
        assert!((one / other - 1.0).abs() < 1e-9, "{path}: {one} and {other}");
    }
}

/// A limit that is met exactly without recycling allows no recycling.
#[test]
fn a_limit_that_is_met_without_recycling_is_kept() {
    let mut question: Value =
        serde_json::from_str(service("fluid-loop").example).expect("an example is JSON");
    question["days"] = 0.into();
    let bare = with_share(&question, 0.0);
    let most = &bare["answer"]["settles_at"]["chloride"]["highest"];
    question["limits"] = json!({ "chloride": { "max": most } });
    let record = solve("fluid-loop", &question).expect("it settles");
    let limit = &record["answer"]["recycling_limit"];
    assert_eq!(limit["verdict"], "held", "{limit}");
    assert!(limit["share"].as_f64().expect("a share") < 1e-9, "{limit}");
}
