//! The statement of a shop's loop, and the result of following it.

use super::{highest, with_share};
use crate::support::{changed, findings, found};
use crate::{number, solve};
use serde_json::{Value, json};

fn statement(question: &Value) -> String {
    let record = solve("fluid-loop", question).expect("an answer");
    record["statement"].as_str().expect("a statement").to_owned()
}

fn chloride(record: &Value) -> f64 {
    number(record, "/answer/settles_at/chloride/highest")
}

/// The share in the statement keeps the limit in the statement, and the next whole percent
/// does not.
#[test]
fn the_share_that_is_said_is_the_last_whole_one_that_keeps_the_limit() {
    let question = changed("fluid-loop", |question| question["days"] = 0.into());
    assert_eq!(
        statement(&question),
        "Recycle at most 80 % instead of 95 %: above it chloride in the machining centres passes \
         190 mg/L."
    );
    assert!(chloride(&with_share(&question, 80.0)) <= 190.0);
    assert!(chloride(&with_share(&question, 81.0)) > 190.0);
    assert_eq!(found("fluid-loop", &question, "recycles-too-much"), ["/recycler/share"]);
}

/// Clean-outs at the interval of the finding, in whole days, keep chloride within its limit.
#[test]
fn the_interval_that_is_said_keeps_the_limit() {
    let question = changed("fluid-loop", |question| question["days"] = 0.into());
    let told = findings("fluid-loop", &question, "clean-out-more-often");
    let text = told[0]["text"].as_str().expect("a text");
    let said = "To keep chloride within its limit everywhere, clean out about 6.8 times as often \
                (the machining centres every 17 days instead of every 120 days).";
    assert_eq!((text, &told[0]["severity"]), (said, &json!("act")));
    let mut often = question.clone();
    for (group, days) in often["groups"].as_array_mut().expect("groups").iter_mut().zip(
        // Each interval by 17/120 and down to whole days; six months are 182.5 days.
        [12.0, 17.0, 6.0, 25.0],
    ) {
        let residue = group["clean_out"]["residue"].clone();
        group["clean_out"] = json!({ "every_days": days, "residue": residue });
    }
    let record = solve("fluid-loop", &often).expect("an answer");
    assert!(chloride(&record) <= 190.0, "{}", chloride(&record));
    assert!(found("fluid-loop", &often, "clean-out-more-often").is_empty());
}

/// Where clean-outs may be further apart, the last whole day that keeps the limit is said,
/// and the next one does not keep it; where not even a day more does, that is said.
#[test]
fn the_longest_interval_is_the_last_whole_day_that_keeps_the_limit() {
    let shop = |days: f64, most: f64| {
        json!({
            "units": "metric",
            "groups": [{
                "name": "grinders", "volume": 300, "concentration": 5,
                "losses": { "evaporation": 6, "carry_off": 3 },
                "clean_out": { "every_days": days },
            }],
            "water": { "properties": { "salt": 100 } },
            "limits": { "salt": { "max": most } },
            "days": 0,
        })
    };
    let settled = |days: f64| {
        number(
            &solve("fluid-loop", &shop(days, 1e4)).expect("an answer"),
            "/answer/settles_at/salt/highest",
        )
    };
    let said = |days: f64, most: f64| {
        let told = findings("fluid-loop", &shop(days, most), "longest-clean-out-interval");
        assert_eq!(told.len(), 1, "{told:#?}");
        told[0]["text"].as_str().expect("a text").to_owned()
    };
    for (days, most) in [(30.0, 200.0), (30.5, 200.0), (30.0, 250.0)] {
        let text = said(days, most);
        let (_, rest) = text.split_once("the grinders every ").expect("an interval");
        let longest: f64 = rest.split(' ').next().expect("a number").parse().expect("a number");
        assert!(longest > days && text.contains("times as far apart"), "{text}");
        assert!(settled(longest) <= most && settled(longest + 1.0) > most, "{text}");
    }
    for days in [30.0, 30.5] {
        let text = said(days, settled(days) * (1.0 + 1e-6));
        assert!(text.starts_with("Clean-outs may not be further apart"), "{text}");
    }
}

/// Every verdict has a statement of its own, which never contradicts it.
#[test]
fn each_verdict_is_stated() {
    let with = |change: &dyn Fn(&mut Value)| {
        changed("fluid-loop", |question| {
            question["days"] = 0.into();
            change(question);
        })
    };
    let no_limits = with(&|question| question["limits"] = json!({}));
    assert!(statement(&no_limits).contains("no limit was given"));
    let wide = with(&|question| question["limits"] = json!({ "chloride": { "max": 5000 } }));
    assert!(statement(&wide).starts_with("All of the returned fluid may be recycled"));
    let tight = with(&|question| question["limits"] = json!({ "chloride": { "max": 1 } }));
    assert_eq!(
        statement(&tight),
        "No share recycled keeps every limit. Start with chloride in the machining centres: it has \
         to stay below 1 mg/L."
    );
    let open = with(&|question| {
        question.as_object_mut().expect("an object").remove("recycler");
        question["limits"] = json!({ "chloride": { "max": 1 } });
    });
    assert!(statement(&open).starts_with("None of the fluid is recycled, and still chloride"));
    let least = with(&|question| {
        question["limits"] = json!({ "hardness": { "min": 1 }, "chloride": { "max": 190 } });
        question["recycler"]["share"] = 10.into();
    });
    assert!(statement(&least).starts_with("Recycle at most 80 % (now 10 %):"));
    let oil = with(&|question| question["limits"] = json!({ "tramp_oil": { "max": 0.9 } }));
    assert!(statement(&oil).contains("tramp oil in the "), "{}", statement(&oil));
}

/// At the share of deionised water that the finding names every limit is kept.
#[test]
fn the_deionised_water_that_is_said_is_enough() {
    let question = changed("fluid-loop", |question| question["days"] = 0.into());
    let told = findings("fluid-loop", &question, "deionised-water-would-do");
    let text = told[0]["text"].as_str().expect("a text");
    let (_, rest) = text.split_once("at least ").expect("a share");
    let share: f64 = rest.split(' ').next().expect("a number").parse().expect("a number");
    let mut question = question;
    question["water"]["deionised"] = json!({ "share": share });
    let record = solve("fluid-loop", &question).expect("an answer");
    assert!(chloride(&record) <= 190.0);
    let needed = number(&record, "/answer/purge/deionised_needed");
    assert!(share >= needed && share - needed <= 0.1, "{share} for {needed}");
}

/// The statement of a loop without any limit still gives the steady state.
#[test]
fn a_shop_with_one_salt_is_stated_too() {
    let question = json!({
        "units": "us",
        "groups": [{
            "name": "sump",
            "volume": 100,
            "concentration": 5,
            "losses": { "evaporation": 2, "carry_off": 1 },
        }],
        "water": { "properties": { "salt": 40 } },
        "days": 0,
    });
    let said = statement(&question);
    assert!(said.starts_with("None of the fluid is recycled. A year takes"), "{said}");
    assert!(said.contains("US gal") && said.ends_with('.'), "{said}");
    assert!(highest(&solve("fluid-loop", &question).expect("an answer")) > 40.0);
}
