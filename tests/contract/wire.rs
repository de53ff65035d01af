//! Formats, methods and addresses, over HTTP.

use crate::server::{get, header, post, request};
use crate::{SERVICES, number};
use serde_json::{Value, json};

const TOP_UP: &str = "/v1/top-up?units=us&sump.capacity=50&sump.volume=40&sump.concentration=5\
                      &target.concentration=8";

/// Both systems of units over HTTP: a top-up, a blend of three stocks with a
/// limit on hardness, and a concentration from a reading.
#[test]
fn the_main_job_is_done_in_both_systems_of_units() {
    let litres = 3.785411784;
    let sump = |volume: f64| json!({ "capacity": 50.0 * volume, "volume": 40.0 * volume, "concentration": 5 });
    let ask = |units: &str, volume: f64| -> Value {
        let question =
            json!({ "units": units, "sump": sump(volume), "target": { "concentration": 8 } });
        post("/v1/top-up", &question).json().expect("an answer")
    };
    let (us, metric) = (ask("us", 1.0), ask("metric", litres));
    // 50·8 % − 40·5 % = 2 gallons of concentrate, and 8 of water.
    assert!((number(&us, "/answer/add/0/volume") - 2.0).abs() < 1e-12);
    assert!((number(&us, "/answer/add/1/volume") - 8.0).abs() < 1e-12);
    assert!((number(&metric, "/answer/add/1/volume") - 8.0 * litres).abs() < 1e-11);

    let question = json!({
        "units": "us",
        "target": { "volume": 100, "concentration": 5 },
        "stocks": [
            { "name": "concentrate", "concentration": 100 },
            { "name": "tap", "concentration": 0, "properties": { "hardness": 200 } },
            { "name": "deionised", "concentration": 0, "properties": { "hardness": 0 } },
        ],
        "limits": { "hardness": { "max": 100 } },
    });
    let blend: Value = post("/v1/blend", &question).json().expect("an answer");
    // Tap water is listed first and so preferred, as far as hardness allows: 50.
    for (take, volume) in [5.0, 50.0, 45.0].into_iter().enumerate() {
        assert!((number(&blend, &format!("/answer/take/{take}/volume")) - volume).abs() < 1e-9);
    }
    assert!(number(&blend, "/balance/residual/carried/hardness").abs() < 1e-9);

    let reading = json!({ "method": "refractometer", "brix": 5.0, "factor": 1.25 });
    let band = json!({ "low": 5.5, "target": 6.25, "high": 7.0 });
    let question = json!({ "units": "us", "reading": reading, "band": band });
    let read: Value = post("/v1/concentration", &question).json().expect("an answer");
    assert_eq!(read["answer"]["concentration"], 6.25);
    assert_eq!(read["answer"]["standing"], "in_band");
    assert!((number(&read, "/answer/marks/low") - 4.4).abs() < 1e-12);
    assert!((number(&read, "/answer/marks/high") - 5.6).abs() < 1e-12);
}

#[test]
fn every_example_of_the_server_is_answered_by_it() {
    for service in SERVICES.iter() {
        let example = get(&format!("/v1/{}/example", service.name));
        assert_eq!(header(&example, "content-type"), "application/json");
        let example: Value = example.json().expect("JSON");
        let answer = post(&format!("/v1/{}", service.name), &example);
        assert_eq!(answer.status(), 200);
        let record: Value = answer.json().expect("JSON");
        assert_eq!(record["reference"], example["reference"]);
        assert_eq!(record["calculation"], service.name);
    }
}

#[test]
fn the_index_links_to_what_is_there() {
    let index: Value = get("/v1").json().expect("JSON");
    let lines = index["calculations"].as_array().expect("lines");
    assert_eq!(lines.len(), SERVICES.iter().count());
    for link in lines.iter().map(|line| &line["example"]).chain([&index["openapi"], &index["docs"]])
    {
        assert_eq!(get(link.as_str().expect("a link")).status(), 200, "{link}");
    }
}

#[test]
fn the_spec_is_served_as_it_is_shipped() {
    let served = get("/openapi.json").text().expect("a document");
    assert_eq!(served, include_str!("../../openapi/openapi.json"));
}

#[test]
fn one_value_comes_alone_and_without_a_line_end() {
    let response = get(&format!("{TOP_UP}&pick=answer.add.0.volume&digits=6"));
    assert_eq!(header(&response, "content-type"), "text/plain; charset=utf-8");
    assert_eq!(response.text().expect("a value"), "2.0");
    let name = get(&format!("{TOP_UP}&pick=answer.add.0.name")).text();
    assert_eq!(name.expect("a name"), "concentrate");
    let as_json = get(&format!("{TOP_UP}&pick=answer.premix.parts_of_water&format=json"));
    assert_eq!(as_json.text().expect("JSON"), "4.0");
}

/// The options of a GET also work for a POST.
#[test]
fn the_query_of_a_post_chooses_what_is_shown() {
    let question = json!({
        "units": "us",
        "sump": { "capacity": 50, "volume": 40, "concentration": 5 },
        "target": { "concentration": 8 },
    });
    let asked = |query: &str| post(&format!("/v1/top-up?{query}"), &question);
    let whole = get(TOP_UP).text().expect("an answer");
    assert_eq!(asked("").text().expect("an answer"), whole);
    for options in [
        "pick=answer.add.1.volume",
        "pick=answer.add.1.volume&decimal=comma",
        "pick=answer.premix&format=json",
        "digits=2",
        "format=text",
        "format=csv&digits=3",
    ] {
        let (posted, got) = (asked(options), get(&format!("{TOP_UP}&{options}")));
        assert_eq!(posted.status(), 200, "{options}");
        assert_eq!(header(&posted, "content-type"), header(&got, "content-type"), "{options}");
        assert_eq!(posted.text().expect("text"), got.text().expect("text"), "{options}");
    }
    let text = request("POST", "/v1/top-up").header("accept", "text/plain").json(&question);
    let lines = text.send().expect("an answer").text().expect("lines");
    assert!(lines.contains("\ncalculation: top-up\n"), "{lines}");
    let wrong = json!({ "units": "us" });
    let told = post("/v1/top-up?problems=as_text", &wrong);
    assert_eq!(told.status(), 200);
    assert!(told.text().expect("a sentence").contains("\"sump\" is missing"));
}

#[test]
fn what_an_answer_leaves_out_is_an_empty_cell_and_what_cannot_be_is_a_problem() {
    let left_out = get(&format!("{TOP_UP}&pick=answer.after.mark"));
    assert_eq!(left_out.status(), 200);
    assert_eq!(left_out.text().expect("nothing"), "");
    let misspelt = get(&format!("{TOP_UP}&pick=answer.dran"));
    assert_eq!(misspelt.status(), 422);
    let problem: Value = misspelt.json().expect("a problem");
    assert!(problem["detail"].as_str().unwrap().contains("answer.drain"), "{problem}");
}

#[test]
fn the_query_chooses_the_format_and_so_does_accept() {
    let lines = get(&format!("{TOP_UP}&format=csv")).text().expect("lines");
    assert!(lines.starts_with("name,value\n") || lines.starts_with("name,value\r\n"), "{lines}");
    assert!(lines.contains("answer.after.volume,50"), "{lines}");
    let accepted = request("GET", TOP_UP).header("accept", "text/csv").send().expect("lines");
    assert_eq!(accepted.text().expect("lines"), lines);
    let text = get(&format!("{TOP_UP}&format=text")).text().expect("text");
    assert!(text.contains("answer.premix.parts_of_water: 4"), "{text}");
    assert_eq!(get(&format!("{TOP_UP}&format=pdf")).status(), 400);
    assert_eq!(get(&format!("{TOP_UP}&digits=0")).status(), 400);
}

#[test]
fn a_problem_can_be_had_as_text() {
    let address = "/v1/top-up?units=us&sump.capacity=50&sump.volume=60&sump.concentration=5\
                   &target.concentration=8&problems=as_text";
    let response = get(address);
    assert_eq!(response.status(), 200);
    let sentence = response.text().expect("a sentence");
    assert_eq!(
        sentence,
        "sump.volume: It is fuller than full: 60 US gal in a capacity of 50 US gal."
    );
}

#[test]
fn a_decimal_comma_is_refused_and_not_misread() {
    let response = get(&TOP_UP.replace("concentration=8", "concentration=8,5"));
    assert_eq!(response.status(), 400);
    let problem: Value = response.json().expect("a problem");
    assert_eq!(problem["errors"][0]["pointer"], "/target/concentration");
}

#[test]
fn head_and_options_answer_as_they_should() {
    let head = request("HEAD", TOP_UP).send().expect("an answer");
    assert_eq!(head.status(), 200);
    assert_eq!(header(&head, "content-type"), "application/json");
    assert_eq!(head.text().expect("no body"), "");
    for path in ["/v1/top-up", "/v1", "/openapi.json"] {
        let options = request("OPTIONS", path).send().expect("an answer");
        assert_eq!(options.status(), 204);
        assert!(header(&options, "allow").starts_with("GET, HEAD, OPTIONS"));
    }
}

#[test]
fn the_documentation_page_needs_nothing_from_elsewhere() {
    let page = get("/docs/").text().expect("a page");
    assert!(page.contains("swagger-ui"), "{page}");
    let is_asset = |part: &&str| {
        let kind = std::path::Path::new(part).extension();
        kind.is_some_and(|kind| kind == "js" || kind == "css")
    };
    for part in page.split(['"', '\'']).filter(is_asset) {
        assert!(!part.contains("//"), "{part} is fetched from elsewhere");
        let asset = get(&format!("/docs/{}", part.trim_start_matches("./")));
        assert_eq!(asset.status(), 200, "{part}");
    }
}

/// A cell in a language with decimal commas can ask for them; JSON keeps its points.
#[test]
fn a_number_is_shown_with_a_comma_where_that_is_asked_for() {
    let asked = |more: &str| get(&format!("{TOP_UP}&{more}"));
    let cell = |more: &str| asked(more).text().expect("text");
    assert_eq!(cell("pick=answer.after.volume"), "50.0");
    assert_eq!(cell("pick=answer.after.volume&decimal=comma"), "50,0");
    assert_eq!(cell("pick=answer.after.volume&decimal=point"), "50.0");
    assert!(cell("format=csv&decimal=comma").contains("answer.after.volume,\"50,0\"\n"));
    let json: Value = asked("decimal=comma").json().expect("JSON");
    assert_eq!(number(&json, "/answer/after/volume"), 50.0);
    assert_eq!(asked("decimal=dot").status(), 400);
}

/// A text that a spreadsheet would execute is also disarmed in a list of values.
#[test]
fn a_list_of_values_holds_no_formula() {
    let table = get(&format!("{TOP_UP}&format=csv&reference=%3Dcmd")).text().expect("text");
    assert!(table.contains("reference,'=cmd\n"), "{table}");
}
