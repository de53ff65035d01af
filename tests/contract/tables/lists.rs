//! Tables that are one list of one document, such as a log of readings.

use super::rows;
use crate::server::{header, request};
use crate::{SERVICES, solve};
use serde_json::Value;
use sumpwright_openapi::flat;
use sumpwright_openapi::service::Service;

/// The list of a document as a table, and its other members as a query. Columns of the
/// caller's own and blank rows are among the others.
fn as_table(service: &Service, document: &Value, separator: char, comma: bool) -> (String, String) {
    let list = service.list().expect("a list");
    let entries = document[list].as_array().expect("entries");
    let mut headings: Vec<String> = vec!["initials".to_owned()];
    for entry in entries {
        for (path, _) in flat::flatten(entry) {
            if !headings.contains(&path) {
                headings.push(path);
            }
        }
    }
    let separator = separator.to_string();
    let mut table = headings.join(&separator) + "\n";
    for entry in entries {
        let cells = headings.iter().map(|heading| match flat::pick(entry, heading) {
            Some(leaf) if comma && leaf.is_number() => flat::leaf_text(leaf).replace('.', ","),
            Some(leaf) => flat::leaf_text(leaf),
            None if heading == "initials" => "ab".to_owned(),
            None => String::new(),
        });
        table += &(cells.collect::<Vec<_>>().join(&separator) + "\n");
        table += &(separator.repeat(headings.len() - 1) + "\n");
    }
    let mut around = document.clone();
    around.as_object_mut().expect("an object").shift_remove(list);
    let pairs =
        flat::flatten(&around).into_iter().map(|(path, leaf)| (path, flat::leaf_text(leaf)));
    let query = form_urlencoded::Serializer::new(String::new()).extend_pairs(pairs).finish();
    (table, query)
}

fn sent(
    service: &Service,
    query: &str,
    accept: &str,
    table: String,
) -> reqwest::blocking::Response {
    request("POST", &format!("/v1/{}?{query}", service.name))
        .header("content-type", "text/csv")
        .header("accept", accept.to_owned())
        .body(table)
        .send()
        .expect("the server answers")
}

/// A row an entry, its members under their names; a unit may stand behind a name.
#[track_caller]
fn is_the_list(lines: &[csv::ByteRecord], list: &Value) {
    let entries = list.as_array().expect("a list");
    assert_eq!(lines.len(), entries.len() + 1);
    let name = |heading: &[u8]| {
        let heading = String::from_utf8_lossy(heading).into_owned();
        heading.split(' ').next().map(str::to_owned).expect("a name")
    };
    let headings: Vec<String> = lines[0].iter().map(name).collect();
    for (line, entry) in lines[1..].iter().zip(entries) {
        for (cell, heading) in line.iter().zip(&headings) {
            let said = flat::pick(entry, heading).map(flat::leaf_text).unwrap_or_default();
            assert_eq!(String::from_utf8_lossy(cell), said, "{heading}");
        }
        assert!(flat::flatten(entry).iter().all(|(path, _)| headings.contains(path)), "{entry}");
    }
}

#[test]
fn a_list_as_a_table_is_answered_as_its_document_is() {
    let mut tried = 0;
    for service in SERVICES.iter().filter(|service| service.list().is_some()) {
        let example: Value = serde_json::from_str(service.example).expect("JSON");
        let expected = solve(service.name, &example).expect("the example is answered");
        for (separator, comma) in [(',', false), (';', false), (';', true), ('\t', true)] {
            let (table, query) = as_table(service, &example, separator, comma);
            let answered = sent(service, &query, "application/json", table);
            let record: Value = answered.json().expect("JSON");
            assert_eq!(record, expected, "{} with {separator:?}", service.name);
        }
        let (table, query) = as_table(service, &example, ',', false);
        let answered = sent(service, &query, "*/*", table.clone());
        assert!(header(&answered, "content-type").starts_with("text/csv"));
        let lines = answered.bytes().expect("a table");
        let lines = rows(&lines, b',');
        match service.answer_list() {
            Some(list) => is_the_list(&lines, &expected["answer"][list]),
            None => {
                let leaves = flat::flatten(&expected);
                assert_eq!(lines.len(), leaves.len() + 1, "{}", service.name);
                for (line, (path, leaf)) in lines[1..].iter().zip(leaves) {
                    assert_eq!(&line[0], path.as_bytes());
                    assert_eq!(&line[1], flat::leaf_text(leaf).as_bytes());
                }
            }
        }
        let path = flat::flatten(&expected["answer"])[0].0.clone();
        let one = sent(service, &format!("{query}&pick=answer.{path}"), "*/*", table);
        let value = flat::leaf_text(flat::pick(&expected["answer"], &path).expect("a leaf"));
        assert_eq!(one.text().expect("text"), value, "{}", service.name);
        tried += 1;
    }
    assert!(tried >= 2, "the log and the mixes");
}

#[test]
fn a_heading_may_name_the_unit_of_a_list() {
    let service = SERVICES.get("losses").expect("there");
    let example: Value = serde_json::from_str(service.example).expect("JSON");
    let (table, query) = as_table(service, &example, ',', false);
    let gallons = table.replacen("volume", "volume [gal_us]", 1);
    assert_ne!(gallons, table);
    let litres: Value = sent(service, &query, "application/json", table).json().expect("JSON");
    let problem: Value = sent(service, &query, "application/json", gallons).json().expect("JSON");
    // The same numbers read as gallons exceed the sump's capacity.
    assert!(litres["answer"].is_object() && problem["answer"].is_null(), "{problem:#}");
}

#[test]
fn what_is_wrong_with_a_list_is_told_row_by_row() {
    let service = SERVICES.get("losses").expect("there");
    let example: Value = serde_json::from_str(service.example).expect("JSON");
    let faults = |table: String, query: &str| -> Vec<String> {
        let problem: Value = sent(service, query, "*/*", table).json().expect("a problem");
        let errors = problem["errors"].as_array().expect("errors");
        errors
            .iter()
            .map(|fault| fault["pointer"].as_str().expect("a pointer").to_owned())
            .collect()
    };
    let (table, query) = as_table(service, &example, ';', true);
    let mut lines: Vec<String> = table.lines().map(str::to_owned).collect();
    lines[1] += ";more";
    assert_eq!(faults(lines.join("\n"), &query), ["/log/0"]);
    let place = lines[0].split(';').position(|heading| heading == "volume").expect("a column");
    let mut cells: Vec<&str> = lines[3].split(';').collect();
    cells[place] = "1.250";
    lines[3] = cells.join(";");
    assert_eq!(faults(lines.join("\n"), &query), ["/log/0", "/log/1/volume"]);
    let misspelt = table.replacen("volume", "volum", 1);
    assert_eq!(faults(misspelt, &query), [""]);
    let unread = table.replacen(";ab", ";a\u{0}b", 1).replacen("195", "x", 1);
    assert_eq!(faults(unread, &query), ["/log/0/volume"]);
}
