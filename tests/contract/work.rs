//! How much work a document is, known before it is answered.

use crate::support::example;
use crate::{SERVICES, service};
use serde_json::{Value, json};
use sumpwright_openapi::flat;
use sumpwright_openapi::work::Work;

fn work(name: &str, document: &Value) -> Work {
    service(name).work(document.to_string().as_bytes())
}

/// The example with so many draws of one of its numbers.
fn drawn(name: &str, pointer: &str, draws: usize) -> Value {
    let mut question = example(name);
    question["uncertainty"] = json!({ "inputs": { pointer: { "u": 0.1 } }, "draws": draws });
    question
}

#[test]
fn no_example_is_large() {
    for service in SERVICES.iter() {
        let document: Value = serde_json::from_str(service.example).expect("JSON");
        assert_ne!(work(service.name, &document), Work::Large, "{}", service.name);
    }
    assert_eq!(work("top-up", &example("top-up")), Work::Quick);
    assert_eq!(work("recharge", &example("recharge")), Work::Small);
}

#[test]
fn what_is_drawn_often_is_large_and_what_is_drawn_seldom_is_not() {
    for (name, pointer, few, many) in [
        ("top-up", "/sump/volume", Some(100), 1_000_000),
        ("cost-comparison", "/prices/disposal", None, 2_000),
        ("forecast", "/losses/evaporation", Some(100), 7_000),
        ("fluid-loop", "/groups/0/volume", None, 900),
    ] {
        let large = work(name, &drawn(name, pointer, many));
        assert_eq!(large, Work::Large, "{name}");
        if let Some(few) = few {
            assert_eq!(work(name, &drawn(name, pointer, few)), Work::Small, "{name}");
        }
    }
}

/// More days, more machines, more entries: the same question becomes a large one.
#[test]
fn it_grows_with_the_sizes_of_the_question() {
    let mut long = drawn("forecast", "/losses/evaporation", 100);
    long["days"] = 3660.into();
    assert_eq!(work("forecast", &long), Work::Large);
    // What a calculation draws by itself counts as well.
    let mut drawing = example("recycler");
    drawing["feed"]["spread"]["draws"] = 100_000.into();
    assert_eq!(work("recycler", &drawing), Work::Large);
    let mut far = example("disposal");
    far["sampling"] = json!({ "draws": 100 });
    far["months"] = 1.into();
    assert_eq!(work("disposal", &far), Work::Small);
    far["months"] = 240.into();
    far["groups"][0]["count"] = 500.into();
    far["sampling"]["draws"] = 10_000.into();
    assert_eq!(work("disposal", &far), Work::Large);
}

#[test]
fn a_document_in_an_address_is_as_much_work_as_the_same_document() {
    for name in ["top-up", "recharge", "forecast", "recycler"] {
        let document = example(name);
        let leaves: Vec<(String, String)> = flat::flatten(&document)
            .into_iter()
            .map(|(path, leaf)| (path, flat::leaf_text(leaf)))
            .collect();
        let members = leaves.iter().map(|(path, text)| (path.as_str(), text.as_str()));
        assert_eq!(service(name).work_of_members(members), work(name, &document), "{name}");
    }
}

/// What is wrong is refused soon, whatever sizes it speaks of.
#[test]
fn a_document_that_is_refused_is_small() {
    let mut wrong = drawn("cost-comparison", "/prices/disposal", 2_000);
    wrong["horizon_years"] = "eight".into();
    assert_eq!(work("cost-comparison", &wrong), Work::Small);
    assert_eq!(service("forecast").work(b"{"), Work::Small);
    let long = vec![b' '; 100_000];
    assert_eq!(service("forecast").work(&long), Work::Large);
}
