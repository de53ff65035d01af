//! Checks a document against the shape of its published schema and names every fault, in
//! the order of the document.
//!
//! # Decisions
//!
//! - **The walk ends when more faults are found than are listed**: what it costs to refuse a document does not grow
//!   with what is wrong in it.
//! - **Reading ignores the cut-off flag**; calculating and writing check it. Reading is bounded (8 MiB, 500,000 values,
//!   lists and maps by the schema).
//! - **Null is "not given"** for every member, as for programs that write all members of a type; of one that is
//!   required it is a member that is missing. In a list there is nothing that could be left out.
//! - **Only the tests use a library that checks schemas**, to compare its verdict with that of this walk.

use crate::request::envelope::{UNITS, units_of};
use crate::request::lengths::too_long;
use crate::request::problem::{FaultCode, Problem, RequestFault};
use serde_json::{Map, Value};
use std::collections::BTreeMap;
use sumpwright_engine::document::{Lengths, Members, NamedMember, Others, Pointer, Shape};
use sumpwright_engine::fluid::properties::is_property_name;
use sumpwright_engine::numerics::digits::round_to;
use sumpwright_engine::quantity::{Measure, Row, UnitSystem};
use sumpwright_engine::text::{FAULTS_LISTED, did_you_mean, text_with_nearest};

/// Returns the faults of `document`, if it has any.
///
/// A list or map that is too long is refused without reading it.
pub(crate) fn check(document: &Value, shape: &Shape) -> Result<(), Problem> {
    if document.is_array() {
        let detail = "This is a list; a document is an object. Send many documents as \
                      application/x-ndjson, one per line.";
        return Err(Problem::of_whole(FaultCode::WrongType, detail));
    }
    let too_long = too_long(document, shape);
    if !too_long.is_empty() {
        return Err(Problem::with_faults(too_long));
    }
    let units = units_of(document).unwrap_or(UnitSystem::Metric);
    let mut found = Found { pointer: Pointer::root(), units, faults: Vec::new() };
    found.check(document, shape);
    if found.faults.is_empty() { Ok(()) } else { Err(Problem::with_faults(found.faults)) }
}

struct Found {
    pointer: Pointer,
    units: UnitSystem,
    faults: Vec<RequestFault>,
}

impl Found {
    fn check(&mut self, value: &Value, shape: &Shape) {
        match (shape, value) {
            (Shape::Number(row), Value::Number(number)) => {
                self.number(*row, number.as_f64().unwrap_or(f64::NAN), value);
            }
            (Shape::Text(lengths), Value::String(text)) => self.text(text, *lengths),
            (Shape::PropertyName, Value::String(name)) => {
                if !is_property_name(name) {
                    self.note(FaultCode::WrongName, no_property_name(name));
                }
            }
            (Shape::Word(words), word) => {
                if !word.as_str().is_some_and(|word| words.iter().any(|own| own == word)) {
                    self.note(FaultCode::UnknownWord, wrong_word(word, words));
                }
            }
            (Shape::Moment | Shape::Day, Value::String(_)) | (Shape::Truth, Value::Bool(_)) => {}
            (Shape::List(entry, lengths), Value::Array(entries)) => {
                self.list(entries, entry, *lengths);
            }
            (Shape::Record(named, others), Value::Object(members)) => {
                self.record(members, named, others.as_ref());
            }
            (Shape::Choice { tag, branches }, Value::Object(members)) => {
                match shape.fitting(value) {
                    Some(branch) => self.check(value, branch),
                    None => {
                        let word = members.get(tag).filter(|word| !word.is_null());
                        self.no_branch(word, tag, branches);
                    }
                }
            }
            (Shape::Either(shapes), value) => match (shape.fitting(value), shapes.first()) {
                (Some(fitting), _) => self.check(value, fitting),
                (None, Some(first)) => self.check(value, first),
                (None, None) => {}
            },
            (shape, value) => self.note(FaultCode::WrongType, wrong_type(wanted(shape), value)),
        }
    }

    fn number(&mut self, row: Option<&Row>, number: f64, value: &Value) {
        let Some(row) = row else { return };
        if row.whole && number.fract() != 0.0 {
            return self.note(FaultCode::WrongType, wrong_type("a whole number", value));
        }
        if !row.admits_in_either_system(number) {
            self.note(FaultCode::OutOfRange, out_of_range(row, number, self.units));
        }
    }

    fn text(&mut self, text: &str, Lengths { least, most }: Lengths) {
        if text.chars().nth(most).is_some() {
            let detail = format!("This text is longer than {most} characters.");
            self.note(FaultCode::TooLong, detail);
        } else if least > 0 && text.is_empty() {
            self.note(FaultCode::Empty, "This text is empty. Write something in it.".to_owned());
        }
    }

    fn list(&mut self, entries: &[Value], entry: &Shape, lengths: Lengths) {
        if entries.len() < lengths.least {
            let detail = "This list is empty. Give at least one entry.";
            self.note(FaultCode::Empty, detail.to_owned());
        }
        for (place, value) in entries.iter().enumerate() {
            if self.is_full() {
                return;
            }
            self.pointer.push_place(place);
            self.inside(value, entry);
        }
    }

    fn record(&mut self, members: &Map<String, Value>, named: &Members, others: Option<&Others>) {
        for (name, value) in members {
            if self.is_full() {
                return;
            }
            self.pointer.push(name);
            let own = named.iter().find(|member| member.name == *name);
            match (own, others) {
                (Some(own), _) => self.member(value, &own.shape),
                (None, Some(others)) if others.are_properties && !is_property_name(name) => {
                    self.note(FaultCode::WrongName, no_property_name(name));
                    self.pointer.pop();
                }
                (None, Some(others)) => self.member(value, &others.shape),
                (None, None) => {
                    self.unknown(name, named);
                    self.pointer.pop();
                }
            }
        }
        for NamedMember { name, .. } in named.iter().filter(|member| member.is_required) {
            if members.get(name).is_none_or(Value::is_null) {
                self.note_at(name, FaultCode::Missing, missing(name));
            }
        }
    }

    /// No branch of a choice is named, or one that there is not.
    fn no_branch(&mut self, word: Option<&Value>, tag: &str, branches: &BTreeMap<String, Shape>) {
        let words: Vec<String> = branches.keys().cloned().collect();
        match word {
            None => {
                let detail = format!("{} Use one of {}.", missing(tag), list(&words));
                self.note_at(tag, FaultCode::Missing, detail);
            }
            Some(word) => self.note_at(tag, FaultCode::UnknownWord, wrong_word(word, &words)),
        }
    }

    /// Checks what lies at the pointer and goes one step back from it.
    fn inside(&mut self, value: &Value, shape: &Shape) {
        self.check(value, shape);
        self.pointer.pop();
    }

    /// The same of a member, which is not given where it is null.
    fn member(&mut self, value: &Value, shape: &Shape) {
        if value.is_null() {
            self.pointer.pop();
        } else {
            self.inside(value, shape);
        }
    }

    /// Whether there are more faults than are listed, so that no more are looked for.
    fn is_full(&self) -> bool {
        self.faults.len() > FAULTS_LISTED
    }

    /// What stands at the pointer is no member.
    fn unknown(&mut self, name: &str, named: &Members) {
        let known = || named.iter().map(|member| member.name.as_str());
        let hint = did_you_mean(name, known()).unwrap_or_else(|| {
            format!("Allowed here: {}.", known().collect::<Vec<_>>().join(", "))
        });
        let detail = format!("There is no member {name:?} here. {hint}");
        // Where the steps to a number were taken for members of their own.
        let steps = self.pointer.as_str().starts_with("/uncertainty/inputs/");
        let hint = " Name an uncertain number by its JSON pointer, with slashes: \
                    \"/sump/volume\".";
        self.note(FaultCode::UnknownMember, if steps { detail + hint } else { detail });
    }

    fn note(&mut self, code: FaultCode, detail: String) {
        self.faults.push(RequestFault::new(code, self.pointer.clone(), detail));
    }

    fn note_at(&mut self, member: &str, code: FaultCode, detail: String) {
        self.faults.push(RequestFault::new(code, self.pointer.join(member), detail));
    }
}

/// The message for a number outside the range of its quantity.
pub(crate) fn out_of_range(row: &Row, given: f64, units: UnitSystem) -> String {
    let given = in_words(row, given, units);
    format!("{given} is out of range: it must be {}.", row.range_in_words(units))
}

/// A number that is out of range, as shortly as it can be told from one that is not.
fn in_words(row: &Row, given: f64, units: UnitSystem) -> String {
    /// From here on a number is longer than a person counts.
    const LONG: f64 = 1e15;
    /// As many digits as are shown of any number.
    const SHOWN: i32 = 6;
    if given.abs() >= LONG {
        format!("{given:e}")
    } else if row.admits(row.units.to_metric(round_to(given, SHOWN), units)) {
        given.to_string()
    } else {
        Measure::bare(given).to_string()
    }
}

fn no_property_name(name: &str) -> String {
    format!(
        "{name:?} is not a valid property name. Use letters, digits and underscores, \
         starting with a letter, 64 characters at most."
    )
}

fn missing(name: &str) -> String {
    if name == UNITS {
        return "units is missing: give \"metric\" or \"us\".".to_owned();
    }
    format!("{name:?} is missing.")
}

fn wrong_word(given: &Value, words: &[String]) -> String {
    let near = match given.as_str() {
        Some(given) => text_with_nearest("", given, words.iter().map(String::as_str)),
        None => String::new(),
    };
    format!("{given} is not allowed here. Use one of {}.{near}", list(words))
}

fn list(words: &[String]) -> String {
    words.iter().map(|word| format!("{word:?}")).collect::<Vec<_>>().join(", ")
}

/// What belongs at a place, in words.
fn wanted(shape: &Shape) -> &'static str {
    match shape {
        Shape::Record(..) | Shape::Choice { .. } => "an object",
        Shape::List(..) => "a list",
        Shape::Text(_) | Shape::Moment | Shape::Day | Shape::PropertyName | Shape::Word(_) => {
            "text in quotes"
        }
        Shape::Truth => "true or false",
        Shape::Number(_) | Shape::Either(_) => NUMBER,
    }
}

const NUMBER: &str = "a plain number";

fn wrong_type(wanted: &str, given: &Value) -> String {
    if let (NUMBER, Some(number)) = (wanted, percentage(given)) {
        return format!("This is {}; write {number}, without the per cent sign.", shown(given));
    }
    let how = if wanted == NUMBER { ", with a decimal point and without a unit" } else { "" };
    format!("This is {}; {wanted} is expected{how}.", shown(given))
}

/// The number in a text such as 6%.
fn percentage(given: &Value) -> Option<f64> {
    given.as_str()?.trim().strip_suffix('%')?.trim_end().parse().ok()
}

fn shown(value: &Value) -> String {
    match value {
        Value::Null => "null".to_owned(),
        Value::Array(_) => "a list".to_owned(),
        Value::Object(_) => "an object".to_owned(),
        Value::String(text) => {
            format!("the text {:?}", text.chars().take(40).collect::<String>())
        }
        other => other.to_string(),
    }
}
