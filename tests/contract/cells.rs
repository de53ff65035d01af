//! What a cell of a spreadsheet asks for by an address: several values at once, and a sentence
//! where there is none.

use crate::server::{get, header, post, request};
use serde_json::{Value, json};

const TOP_UP: &str = "/v1/top-up?units=metric&sump.capacity=200&sump.volume=140\
                      &sump.concentration=5&target.concentration=8";

fn text(address: &str) -> String {
    let response = get(address);
    assert_eq!(response.status(), 200, "{address}");
    assert!(header(&response, "content-type").starts_with("text/plain"), "{address}");
    response.text().expect("text")
}

/// A line a value, in the order of the paths; so many lines as paths.
#[test]
fn several_values_are_picked_a_line_each() {
    let several = "answer.drain,answer.add.0.volume,answer.add.0.name,answer.after.mark,statement";
    let told = text(&format!("{TOP_UP}&pick={several}"));
    let lines: Vec<&str> = told.split('\n').collect();
    let one = |path: &str| text(&format!("{TOP_UP}&pick={path}"));
    assert_eq!(lines.len(), 5);
    for (line, path) in lines.iter().zip(several.split(',')) {
        assert_eq!(*line, one(path), "{path}");
    }
    assert_eq!(lines[3], "", "the answer has no reading to expect");
    let rounded = text(&format!(
        "{TOP_UP}&pick=answer.after.mark, answer.premix.concentration,answer.after.mark&digits=3&decimal=comma&format=text"
    ));
    assert_eq!(rounded, "\n15,0\n");
    // In the other formats the same values in the same order.
    let in_json: Value =
        get(&format!("{TOP_UP}&pick=answer.drain,answer.after.volume&format=json"))
            .json()
            .expect("JSON");
    assert_eq!(in_json, json!([0.0, 200.0]));
    let in_csv = get(&format!("{TOP_UP}&pick=answer.drain,answer.after.volume&format=csv"));
    assert_eq!(
        in_csv.text().expect("text"),
        "name,value\nanswer.drain,0.0\nanswer.after.volume,200.0\n"
    );
}

/// A text of several lines stays one line among others; what holds several values is no value.
#[test]
fn each_of_several_values_is_one_line() {
    let sheet: Value = get("/v1/top-up/example").json().expect("JSON");
    let whole: Value = post("/v1/top-up", &sheet).json().expect("JSON");
    let told = post("/v1/top-up?pick=reference,answer.steps.0.text,units", &sheet);
    let lines: Vec<String> = told.text().expect("text").split('\n').map(str::to_owned).collect();
    let wanted = [&whole["reference"], &whole["answer"]["steps"][0]["text"], &whole["units"]];
    assert_eq!(lines, wanted.map(|text| text.as_str().expect("a text")));
    let broken = text(&format!("{TOP_UP}&reference=one%0Atwo&pick=reference,answer.drain"));
    assert_eq!(broken, "one two\n0.0");
    let refused = get(&format!("{TOP_UP}&pick=answer.drn,answer.add,answer.drain"));
    assert_eq!(refused.status(), 422);
    let problem: Value = refused.json().expect("a problem");
    let details: Vec<&str> = problem["errors"]
        .as_array()
        .expect("errors")
        .iter()
        .filter_map(|e| e["detail"].as_str())
        .collect();
    assert_eq!(details.len(), 2, "{problem}");
    assert!(details[0].contains("no member \"answer.drn\". Did you mean \"answer.drain\"?"));
    assert!(details[1].contains("\"answer.add\" contains several values"));
}

/// Whatever is wrong is a sentence alone with status 200: in the question, in the options, with
/// the name of the calculation, and by POST.
#[test]
fn every_problem_is_a_sentence_where_it_is_asked_for_as_text() {
    let as_text = "problems=as_text";
    for (address, sentence) in [
        (
            format!("{TOP_UP}&{as_text}&pick=answer.drn,answer.drain"),
            "pick: the answer has no member",
        ),
        (format!("{TOP_UP}&{as_text}&format=txt"), "format is \"txt\"; it must be one of"),
        (format!("{TOP_UP}&{as_text}&digits=0"), "digits is \"0\"; it must be a whole number"),
        (
            format!("{TOP_UP}&{as_text}&pick=statement&pick=units"),
            "pick is given twice in the query.",
        ),
        (
            format!("{TOP_UP}&{as_text}&format=text&sump.volume=9"),
            "sump.volume: This is given twice.",
        ),
        (
            format!("/v1/topup?{as_text}"),
            "There is no calculation \"topup\". Did you mean \"top-up\"?",
        ),
        (format!("/v1/top-up?{as_text}"), "units: units is missing"),
    ] {
        let told = text(&address);
        assert!(told.starts_with(sentence) && !told.ends_with('\n'), "{address}: {told}");
        let plain = get(&address.replace(as_text, "problems=as_problem"));
        assert!(plain.status().is_client_error(), "{address}");
        assert_eq!(header(&plain, "content-type"), "application/problem+json", "{address}");
        let head = request("HEAD", &address).send().expect("an answer");
        assert_eq!(head.status(), 200, "{address}");
    }
    let posted = post("/v1/top-up?problems=as_text", &json!({ "units": "us" }));
    assert_eq!(posted.status(), 200);
    assert!(posted.text().expect("text").starts_with("sump: \"sump\" is missing."));
    assert_eq!(get(&format!("{TOP_UP}&problems=text")).status(), 400);
    // An answer is not changed by it.
    assert_eq!(text(&format!("{TOP_UP}&{as_text}&pick=answer.drain")), "0.0");
}
