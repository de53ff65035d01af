//! Laws for the readers of documents, queries and tables, for any bytes.
//!
//! The fuzz targets in `tests/tools/fuzz` and the random inputs of the ordinary tests
//! use them. Each input is a sequence of bytes: the first names the calculation,
//! the rest is the caller's request.

use serde_json::Value;
use std::borrow::Cow;
use sumpwright_engine::numerics::cut_off::{Flag, unless};
use sumpwright_openapi::document::QUERY_OPTIONS;
use sumpwright_openapi::flat;
use sumpwright_openapi::problem::Problem;
use sumpwright_openapi::service::{Service, Services};
use sumpwright_openapi::tree;

/// Longer inputs are skipped, so that none takes long.
const BYTES_MOST: usize = 8192;
/// Documents that ask for more draws than this are skipped.
const DRAWS_MOST: f64 = 100.0;

/// The calculation for a byte, in the order of their names; the byte wraps
/// around, and the second number is how often.
pub(crate) fn named(services: &Services, byte: u8) -> (&Service, usize) {
    let mut all: Vec<&Service> = services.iter().map(AsRef::as_ref).collect();
    all.sort_unstable_by_key(|service| service.name);
    let place = usize::from(byte);
    (all[place % all.len()], place / all.len())
}

/// How far an input is processed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Depth {
    /// Up to the question, which is not calculated.
    Question,
    /// Up to the answer.
    Answer,
}

/// An answer, a question that was read and not calculated, or a problem.
type Told = Result<Option<Value>, Problem>;

impl Depth {
    /// Reads the input and, if it goes that far, answers it.
    pub(crate) fn of<Answer>(self, work: impl FnOnce() -> Answer) -> Option<Answer> {
        let flag = Flag::default();
        if self == Self::Question {
            flag.raise();
        }
        unless(&flag, work).ok()
    }

    fn told(self, work: impl FnOnce() -> Result<Value, Problem>) -> Told {
        self.of(work).transpose()
    }
}

/// A document gets the same answer when read straight, as a tree and from its flat form.
pub(crate) fn json(services: &Services, depth: Depth, input: &[u8]) {
    let Some((first, bytes)) = input.split_first() else { return };
    let (service, _) = named(services, *first);
    let read = tree::parse(bytes);
    if bytes.len() > BYTES_MOST || read.as_ref().is_ok_and(draws_long) {
        return;
    }
    let told = depth.told(|| by_bytes(service, bytes));
    assert_told(service, &told);
    let Ok(document) = read else { return assert!(told.is_err(), "{bytes:?} is no document") };
    // The quick way reports no fault of shape, so a document with one has already gone
    // the thorough way.
    if status(&told) != 400 {
        let as_tree = depth.told(|| service.answer_tree(document.clone()));
        assert_eq!(as_tree, told, "read as a tree");
    }
    if told.is_ok() && has_flat_form(&document) {
        let leaves = flat::flatten(&document).into_iter();
        let leaves: Vec<_> = leaves.map(|(path, leaf)| (path, flat::leaf_text(leaf))).collect();
        let pairs = leaves.iter().map(|(path, text)| (path.as_str(), text.as_str()));
        let flat = depth.told(|| service.answer_flat(pairs));
        assert_eq!(flat, told, "in its flat form");
    }
}

fn by_bytes(service: &Service, bytes: &[u8]) -> Result<Value, Problem> {
    let answered = service.answer(bytes)?;
    Ok(serde_json::from_slice(&answered).expect("an answer is JSON"))
}

/// A query gets the answer of the document that it stands for.
pub(crate) fn query(services: &Services, depth: Depth, input: &[u8]) {
    let Some((first, bytes)) = input.split_first() else { return };
    let (service, _) = named(services, *first);
    if bytes.len() > BYTES_MOST {
        return;
    }
    let pairs: Vec<(Cow<'_, str>, Cow<'_, str>)> = form_urlencoded::parse(bytes).collect();
    let pairs: Vec<(&str, &str)> = pairs
        .iter()
        .map(|(path, text)| (path.as_ref(), text.as_ref()))
        .filter(|(path, _)| !QUERY_OPTIONS.contains(path))
        .collect();
    assert_flat(service, depth, &pairs);
}

/// Asks in the flat form and with the document that it stands for.
pub(crate) fn assert_flat(service: &Service, depth: Depth, pairs: &[(&str, &str)]) {
    match flat::unflatten(pairs.iter().copied(), &service.question) {
        Ok(document) if draws_long(&document) => {}
        Ok(document) => {
            let told = depth.told(|| service.answer_flat(pairs.iter().copied()));
            assert_told(service, &told);
            let by_document = depth.told(|| by_bytes(service, document.to_string().as_bytes()));
            assert_eq!(told, by_document, "as a document: {document}");
        }
        Err(problem) => {
            assert_explains(&problem);
            assert_eq!(service.answer_flat(pairs.iter().copied()), Err(problem));
        }
    }
}

/// Laws for any outcome.
fn assert_told(service: &Service, told: &Told) {
    match told {
        Ok(Some(record)) => assert_sound(service, record),
        Ok(None) => {}
        Err(problem) => assert_explains(problem),
    }
}

fn status(told: &Told) -> u16 {
    told.as_ref().err().map_or(200, |problem| problem.status)
}

/// Whether a document asks for many draws.
pub(crate) fn draws_long(document: &Value) -> bool {
    match document {
        Value::Object(members) => members.iter().any(|(name, member)| {
            let draws = match name.as_str() {
                "uncertainty" | "sampling" | "spread" if member.is_object() => &member["draws"],
                _ => return draws_long(member),
            };
            draws.as_f64().is_none_or(|draws| draws > DRAWS_MOST)
        }),
        Value::Array(entries) => entries.iter().any(draws_long),
        _ => false,
    }
}

/// Whether the flat form can express a document: nothing in it is empty, and no name
/// breaks a path.
fn has_flat_form(document: &Value) -> bool {
    match document {
        Value::Object(members) => {
            let named = |name: &String| !name.is_empty() && !name.contains('.');
            !members.is_empty()
                && members.iter().all(|(name, member)| named(name) && has_flat_form(member))
        }
        Value::Array(entries) => !entries.is_empty() && entries.iter().all(has_flat_form),
        Value::String(text) => !text.trim().is_empty(),
        Value::Null | Value::Bool(_) | Value::Number(_) => true,
    }
}

/// Laws for any answer. A number that is not finite would be written as
/// null, and no answer contains null.
pub(crate) fn assert_sound(service: &Service, record: &Value) {
    assert_eq!(record["calculation"], service.name);
    assert!(record["answer"].is_object(), "{record}");
    assert!(!says_null(record), "{record}");
    assert_closes(record);
}

fn says_null(value: &Value) -> bool {
    match value {
        Value::Null => true,
        Value::Array(entries) => entries.iter().any(says_null),
        Value::Object(members) => members.values().any(says_null),
        _ => false,
    }
}

/// Laws for any problem: the caller is at fault, and each fault says what is wrong
/// and where.
pub(crate) fn assert_explains(problem: &Problem) {
    assert!([400, 413, 415, 422].contains(&problem.status), "{problem:?}");
    assert!(!problem.detail.trim().is_empty(), "{problem:?}");
    for fault in &problem.errors {
        let is_pointer = fault.pointer.is_empty() || fault.pointer.starts_with('/');
        assert!(is_pointer && !fault.detail.trim().is_empty(), "{problem:?}");
    }
}

/// Checks the balance independently: column by column, input minus output minus
/// what stays.
pub(crate) fn assert_closes(record: &Value) {
    let Some(streams) = record["balance"]["streams"].as_array() else { return };
    let sum = |column: &str, way: &str| -> f64 {
        let streams = streams.iter().filter(|stream| stream["way"] == way);
        streams.filter_map(|stream| stream.pointer(column)?.as_f64()).sum()
    };
    let mut columns =
        vec!["/volume".to_owned(), "/concentrate".into(), "/water".into(), "/mass".into()];
    for stream in streams {
        let carried = stream["carried"].as_object().into_iter().flatten();
        columns.extend(carried.map(|(name, _)| format!("/carried/{name}")));
    }
    for column in columns {
        let through = match column.as_str() {
            "/concentrate" | "/water" | "/carried/tramp_oil" => sum("/volume", "in"),
            own => sum(own, "in"),
        };
        let left = sum(&column, "in") - sum(&column, "out") - sum(&column, "stays");
        assert!(left.abs() <= 1e-9 * through, "{column} leaves {left} of {through}: {record:#}");
    }
}
