//! The readers of documents, queries and tables, given arbitrary bytes.

mod cells;
mod laws;

pub(crate) use laws::assert_closes;

use crate::SERVICES;
use crate::support::units::in_us_units;
use laws::Depth;
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::{Index, select};
use serde_json::{Value, json};
use std::fmt::Write as _;
use sumpwright_openapi::flat;
use sumpwright_openapi::service::{Service, Services};

/// Texts with a meaning for some reader.
const TOKENS: [&str; 24] = [
    "{", "}", "[", "]", "\"", ":", ",", ";", "\t", "\n", "\r\n", "=", "&", ".", "+", "-", "%00",
    "\\u0000", "1e308", "-0", "null", "us", "units", "\u{feff}",
];

/// A law of one reader.
type Law = fn(&Services, Depth, &[u8]);

/// The laws for an answer, and those for a question that is only read.
fn at_both_depths(law: Law, input: &[u8]) {
    for depth in [Depth::Question, Depth::Answer] {
        law(&SERVICES, depth, input);
    }
}

/// One change of a text: the place, the number of bytes removed, and their replacement.
type Edit = (Index, usize, Vec<u8>);

fn edits() -> impl Strategy<Value = Vec<Edit>> {
    let token = select(&TOKENS[..]).prop_map(|token| token.as_bytes().to_vec());
    let comes = prop_oneof![3 => token, 1 => vec(any::<u8>(), 0..4)];
    vec((any::<Index>(), 0..3_usize, comes), 0..4)
}

fn edited(mut bytes: Vec<u8>, edits: &[Edit]) -> Vec<u8> {
    for (place, gone, comes) in edits {
        let from = place.index(bytes.len() + 1);
        let to = (from + gone).min(bytes.len());
        bytes.splice(from..to, comes.iter().copied());
    }
    bytes
}

/// Documents similar to an example: some of its leaves have odd values, in either
/// system of units.
fn odd_document() -> impl Strategy<Value = (u8, Value)> {
    let odd = select(vec![
        json!(0),
        json!(-1),
        json!(1e-300),
        json!(1e300),
        json!(0.1),
        json!(100),
        json!(7),
        json!(null),
        json!(true),
        json!(""),
        json!(" "),
        json!("a.b/c~d"),
        json!("water"),
        json!([]),
        json!({}),
        json!([1]),
    ]);
    let count = u8::try_from(SERVICES.iter().count()).expect("few calculations");
    (0..count, vec((any::<Index>(), odd), 0..3), any::<bool>()).prop_map(|(first, odd, us)| {
        let (service, _) = laws::named(&SERVICES, first);
        let mut document = quick_example(service);
        if us {
            document = in_us_units(service, &document);
        }
        for (place, value) in odd {
            let mut pointers = Vec::new();
            leaves(&document, String::new(), &mut pointers);
            let pointer = &pointers[place.index(pointers.len())];
            *document.pointer_mut(pointer).expect("a leaf") = value;
        }
        (first, document)
    })
}

/// The example of a calculation with few draws.
fn quick_example(service: &Service) -> Value {
    let mut example: Value = serde_json::from_str(service.example).expect("an example is JSON");
    if let Some(spread) = example.pointer_mut("/feed/spread") {
        spread["draws"] = 100.into();
    }
    example
}

fn leaves(value: &Value, pointer: String, found: &mut Vec<String>) {
    match value {
        Value::Object(members) if !members.is_empty() => {
            let steps = members.iter();
            steps.for_each(|(name, value)| leaves(value, format!("{pointer}/{name}"), found));
        }
        Value::Array(entries) if !entries.is_empty() => {
            let steps = entries.iter().enumerate();
            steps.for_each(|(i, value)| leaves(value, format!("{pointer}/{i}"), found));
        }
        _ => found.push(pointer),
    }
}

/// An input whose first byte names the calculation.
fn input(first: u8, rest: &[u8]) -> Vec<u8> {
    [&[first], rest].concat()
}

fn as_query(document: &Value) -> Vec<u8> {
    let mut query = form_urlencoded::Serializer::new(String::new());
    for (path, leaf) in flat::flatten(document) {
        query.append_pair(&path, &flat::leaf_text(leaf));
    }
    query.finish().into_bytes()
}

/// A document as a table below its query: one row for the document, or one of its lists.
fn as_table(service: &Service, document: &Value, separator: char) -> Vec<u8> {
    let (list, around) = match service.list().and_then(|list| document[list].as_array()) {
        Some(list) => {
            let mut around = document.clone();
            around[service.list().expect("it has one")] = Value::Null;
            (list.clone(), as_query(&around))
        }
        None => (vec![document.clone(), document.clone()], Vec::new()),
    };
    let mut headings: Vec<String> = Vec::new();
    for entry in &list {
        let paths = flat::flatten(entry).into_iter().map(|(path, _)| path);
        sumpwright_openapi::table::merge(&mut headings, paths);
    }
    let mut table = headings.join(&separator.to_string());
    for entry in &list {
        for (i, heading) in headings.iter().enumerate() {
            let leaf = flat::pick(entry, heading).map(flat::leaf_text).unwrap_or_default();
            let _ = write!(table, "{}{leaf}", if i == 0 { '\n' } else { separator });
        }
    }
    [around, b"\n".to_vec(), table.into_bytes()].concat()
}

/// A number of cases that takes seconds; long runs are left to the fuzzer.
fn few() -> ProptestConfig {
    ProptestConfig { cases: 128, failure_persistence: None, ..ProptestConfig::default() }
}

proptest! {
    #![proptest_config(few())]

    #[test]
    fn arbitrary_bytes_are_answered_or_explained(bytes in vec(any::<u8>(), 0..300)) {
        at_both_depths(laws::json, &bytes);
        at_both_depths(laws::query, &bytes);
        at_both_depths(cells::table, &bytes);
    }

    #[test]
    fn a_document_gets_one_answer_however_it_is_read(
        (first, document) in odd_document(), edits in edits()
    ) {
        at_both_depths(laws::json, &input(first, document.to_string().as_bytes()));
        at_both_depths(laws::json, &input(first, &edited(document.to_string().into_bytes(), &edits)));
    }

    #[test]
    fn a_query_gets_the_answer_of_its_document(
        (first, document) in odd_document(), edits in edits()
    ) {
        at_both_depths(laws::query, &input(first, &edited(as_query(&document), &edits)));
    }

    #[test]
    fn a_table_gets_the_answers_of_its_rows(
        (first, document) in odd_document(),
        separator in select(vec![',', ';', '\t']),
        edits in edits(),
    ) {
        let (service, _) = laws::named(&SERVICES, first);
        let table = as_table(service, &document, separator);
        at_both_depths(cells::table, &input(first, &edited(table, &edits)));
    }
}

/// Tables that were once answered differently whole and in pieces.
#[test]
fn where_a_table_is_cut_does_not_matter() {
    let head = "machine,sump.capacity,sump.volume,sump.concentration,target.concentration\n";
    let broken = [
        // A quotation mark inside a cell is an ordinary character; at its beginning it opens the cell.
        "3/4\",50,40,5,8\n\"b\n\",50,40,5,8\nc,50,40,5,8\n",
        "\"a\"b\"\",50,40,5,8\nc,50,40,5,8\n",
        "a;\"b,50,40,5,8\nc\",50,40,5,8\n",
        // A byte order mark before a row.
        "a,50,40,5,8\n\u{feff}b,50,40,5,8\nc,50,40,5,8\n",
    ];
    let first = (0..=u8::MAX).find(|byte| laws::named(&SERVICES, *byte).0.name == "top-up");
    let first = first.expect("it has a number");
    for rows in broken {
        let table = [b"units=metric\n", head.as_bytes(), rows.as_bytes()].concat();
        at_both_depths(cells::table, &input(first, &table));
    }
}

/// The flat form is never deeper than the reader of documents allows, however long a path.
#[test]
fn a_path_has_an_end() {
    let (service, path) = (SERVICES.get("top-up").expect("a calculation"), |steps: usize| {
        format!("sump{}", ".a".repeat(steps - 1))
    });
    let deep = flat::unflatten([(path(100).as_str(), "1")], &service.question).expect("a document");
    let told = service.answer(deep.to_string().as_bytes()).expect_err("no such member");
    assert!(told.errors.iter().any(|fault| fault.pointer == "/sump/a"), "{told:?}");
    for steps in [101, 100_000] {
        let told = service.answer_flat([(path(steps).as_str(), "1")]).expect_err("too deep");
        assert_eq!((told.status, told.errors.len()), (400, 1), "{told:?}");
        assert_eq!(told.errors[0].pointer, "/sump");
        assert!(told.errors[0].detail.contains("more than 100 steps"), "{told:?}");
    }
}
