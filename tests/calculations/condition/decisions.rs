//! What is decided of whole sumps, and in which words.

use crate::server::{get, request};
use crate::support::changed;
use crate::{solve, support};
use reqwest::blocking::Response;
use serde_json::{Value, json};

fn asked(question: &Value) -> Value {
    solve("condition", question).expect("an answer")
}

fn statement(question: Value) -> String {
    let mut question = question;
    question["units"] = "metric".into();
    asked(&question)["statement"].as_str().expect("a statement").to_owned()
}

/// Each decision there is, raised by what leads to it, in the words of the statement.
#[test]
fn every_decision_is_raised_and_said() {
    let band = json!({ "low": 5.5, "target": 6.5, "high": 7.5 });
    for (observed, words) in [
        (
            json!({ "smell": "fresh", "look": "as_new" }),
            "Carry on: what was observed is as it should be",
        ),
        (
            json!({ "nitrite": { "content": 12 } }),
            "Carry on, and keep an eye on it: 12 mg/L of nitrite",
        ),
        (json!({ "concentration": 5.1, "band": band }), "Bring it back into its band within a day"),
        (json!({ "concentration": 3.9, "band": band }), "Bring it back into its band today"),
        (
            json!({ "rust": "on_parts" }),
            "Read its strength, and bring it into its band today: parts rust",
        ),
        (
            json!({ "nitrate_of_water": 70 }),
            "Top it up within 30 days with water that brings less salt",
        ),
        (json!({ "days_standing": 4 }), "Let it circulate and take air today, then look again"),
        (
            json!({ "tramp_oil": { "share": 4 } }),
            "Skim the oil off within a day, then read the strength again",
        ),
        (json!({ "foam": "over_the_edge" }), "Dose a defoamer today, by its label"),
        (
            json!({ "ph": { "now": 8.7, "at_first_fill": 9.4 } }),
            "Dip a slide today, and do not correct the pH before it is read: pH 8.7, fallen by 0.7",
        ),
        (
            json!({ "ph": { "now": 7.8 }, "bacteria": { "count": 1000 } }),
            "Dose a pH adjuster within a day, by its label",
        ),
        (json!({ "look": "darker" }), "Bring the fluid to the recycler within 14 days"),
        (json!({ "bacteria": { "count": 5e6 } }), "Clean it out and fill it anew within a day"),
        (json!({ "look": "split" }), "Drain it to waste (not to the recycler)"),
        (json!({ "smell": "rotten_eggs" }), "Stop work at this sump now, keep people away"),
        (json!({ "skin_complaints": true }), "Stop work at this sump now, keep people away"),
    ] {
        let said = statement(observed);
        assert!(said.starts_with(words), "{said}");
    }
}

/// A pH that falls is first of all a sign of bacteria: what it leads to hangs on the slide, and one
/// of last month tells nothing.
#[test]
fn a_fallen_ph_waits_for_the_slide() {
    let decision = |bacteria: Value| {
        let mut question = json!({
            "units": "metric",
            "ph": { "now": 8.5, "at_first_fill": 9.3 },
            "rust": "on_machine",
        });
        question["bacteria"] = bacteria;
        let answer = asked(&question)["answer"].take();
        let dosed = answer["besides"].as_array().expect("a list").iter();
        let dosed = dosed.filter(|one| one["action"] == "dose").count();
        (answer["decision"].as_str().expect("a decision").to_owned(), dosed)
    };
    let is = |(decision, dosed): (String, usize), wanted: &str, doses: usize| {
        assert_eq!((decision.as_str(), dosed), (wanted, doses));
    };
    // Nothing is dosed against it, the inhibitor that the rust asks for neither.
    is(decision(Value::Null), "dip_slide", 0);
    is(decision(json!({ "count": 500, "days_ago": 8 })), "dip_slide", 0);
    is(decision(json!({ "count": 500, "days_ago": 2 })), "dose", 1);
    is(decision(json!({ "count": 50_000, "days_ago": 2 })), "clean_out", 0);
}

/// Persons come before anything that is decided of the fluid.
#[test]
fn persons_come_first() {
    let record = asked(&json!({
        "units": "metric",
        "bacteria": { "count": 3e6 },
        "smell": "musty",
        "foam": "over_the_edge",
        "skin_complaints": true,
    }));
    assert_eq!(record["answer"]["decision"], "stop_and_ask");
    // Nothing that stirs or doses the sump is told besides, and nobody is sent there to test it.
    assert_eq!(record["answer"]["besides"], json!([]));
    assert!(record["answer"]["missing"].as_array().is_some_and(|missing| missing.len() > 2));
    let said = record["statement"].as_str().expect("a statement");
    assert!(!said.contains("Not known"), "{said}");
    let codes: Vec<_> = record["cautions"]
        .as_array()
        .expect("cautions")
        .iter()
        .map(|caution| caution["code"].as_str().expect("a code"))
        .collect();
    assert!(codes.contains(&"no-dose-against-skin-complaints"), "{codes:?}");
    assert!(codes.contains(&"asthma-and-alveolitis"), "{codes:?}");
}

/// What is due before the decision is told first; what may wait comes after it.
#[test]
fn what_is_due_sooner_is_said_before_what_may_wait() {
    let said = statement(json!({
        "look": "darker", "smell": "musty", "bacteria": { "count": 1e5 }, "hardness": { "content": 60 },
        "days_standing": 5,
    }));
    assert!(said.starts_with("Bring the fluid to the recycler within 14 days: darker"), "{said}");
    assert!(said.contains(" Before that: dose a biocide within a day"), "{said}");
    assert!(!said.contains(" Also: "), "{said}");
    let said =
        statement(json!({ "smell": "musty", "bacteria": { "count": 1e5 }, "look": "oil_on_top" }));
    assert!(said.starts_with("Dose a biocide within a day"), "{said}");
    assert!(said.contains(" Also: skim within 7 days and circulate within a day."), "{said}");
}

#[test]
fn contradictions_are_findings() {
    let found = |change: fn(&mut Value)| -> Vec<String> {
        let record = asked(&changed("condition", change));
        let findings = record["findings"].as_array().cloned().unwrap_or_default();
        findings.iter().map(|one| one["code"].as_str().expect("a code").to_owned()).collect()
    };
    let has = |codes: &[String], code: &str| codes.iter().any(|one| one == code);
    // In its band under 3 % of oil: not believed.
    let oily = found(|q| q["tramp_oil"]["share"] = 3.into());
    assert!(has(&oily, "tramp-oil-in-reading"), "{oily:?}");
    let attacked = found(|q| {
        q["reading"]["brix"] = 7.into();
        q["ph"]["now"] = 8.4.into();
    });
    assert!(has(&attacked, "ph-falls-while-strength-rises"), "{attacked:?}");
    let salty = found(|q| q["conductivity"]["now"] = 6000.into());
    assert!(has(&salty, "salts-from-elsewhere"), "{salty:?}");
    let poor = found(|q| q["bacteria"]["count"] = 2_000_000.into());
    assert!(has(&poor, "microbes-act-at-once"), "{poor:?}");
    let plain = found(|_| ());
    for code in ["ph-falls-while-strength-rises", "salts-from-elsewhere", "microbes-act-at-once"] {
        assert!(!has(&plain, code), "{plain:?}");
    }
}

/// What is missing is named with the test that tells; what was measured too long ago is missing.
#[test]
fn what_is_missing_is_named() {
    let all = |question: &Value| -> Vec<String> {
        let missing = asked(question)["answer"]["missing"].as_array().expect("a list").clone();
        missing.iter().map(|one| one["observation"].as_str().expect("a name").to_owned()).collect()
    };
    let nothing = json!({ "units": "metric", "foam": "none" });
    assert_eq!(all(&nothing), ["look", "smell", "strength", "ph", "bacteria", "nitrite"]);
    let example = support::example("condition");
    assert!(all(&example).is_empty(), "{:?}", all(&example));
    let old = changed("condition", |q| q["ph"]["days_ago"] = 8.into());
    assert_eq!(all(&old), ["ph"]);
    let said = statement(json!({ "foam": "none" }));
    assert!(
        said.ends_with("Not known or too old: look, smell, strength, pH, bacteria and nitrite."),
        "{said}"
    );
}

/// The whole shop in one table: a row a sump, and the statement is the morning's list.
#[test]
fn a_row_a_sump() {
    let table = "reference,ph.now,bacteria.count,smell,skin_complaints\n\
                 lathe 1,9.1,1000,fresh,false\n\
                 lathe 2,8.9,2000000,musty,false\n\
                 mill 3,,,fresh,true\n";
    let answered = request("POST", "/v1/condition?units=metric&columns=statement,answer.decision")
        .header("content-type", "text/csv")
        .body(table)
        .send()
        .and_then(Response::text)
        .expect("a table");
    let rows: Vec<&str> = answered.lines().collect();
    assert!(rows[1].contains("carry_on") && rows[2].contains("clean_out"), "{answered}");
    assert!(rows[3].contains("stop_and_ask"), "{answered}");
    let said = get("/v1/condition?units=metric&smell=musty&pick=statement&format=text");
    let said = said.text().expect("a statement");
    assert!(said.starts_with("Let it circulate and take air within a day"), "{said}");
}
