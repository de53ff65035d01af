//! Checks a document against its own published schema and names every fault.
//!
//! # Decisions
//!
//! - **A long list is first checked at its beginning** (100 entries, then 10,000, then all): the validator
//!   collects every fault before it returns the first.
//! - **Reading ignores the cut-off flag**; calculating and writing check it. Reading is bounded (8 MiB, 500,000 values,
//!   lists and maps by the schema).

use crate::request::envelope::{UNITS, units_of};
use crate::request::lengths::{beginning, too_long};
use crate::request::problem::{FaultCode, Problem, ProblemKind, RequestFault};
use jsonschema::ValidationError;
use jsonschema::error::{TypeKind, ValidationErrorKind};
use serde_json::Value;
use sumpwright_engine::document::{Pointer, Shape};
use sumpwright_engine::quantity::{Measure, Row, UnitSystem};
use sumpwright_engine::text::{FAULTS_LISTED, did_you_mean, text_with_nearest};

/// Returns the faults of `document`, if it has any.
///
/// A list or map that is too long is refused without reading it. A long list is
/// checked from its beginning, and only as far as the first faults, so the cost of
/// refusing a document does not grow with the number of its faults.
pub(crate) fn check(
    document: &Value,
    validator: &jsonschema::Validator,
    shape: &Shape,
) -> Result<(), Problem> {
    let too_long = too_long(document, shape);
    if !too_long.is_empty() {
        return Err(Problem::with_faults(too_long));
    }
    if validator.is_valid(document) {
        return Ok(());
    }
    let units = units_of(document).unwrap_or(UnitSystem::Metric);
    for entries in [FAULTS_LISTED, FAULTS_LISTED * FAULTS_LISTED, usize::MAX] {
        let document = &beginning(document, Some(shape), entries);
        let mut found = Found { document, shape, units, faults: Vec::new() };
        for error in validator.iter_errors(document) {
            if found.faults.len() > FAULTS_LISTED {
                break;
            }
            found.explain(&error);
        }
        if !found.faults.is_empty() {
            return Err(Problem::with_faults(found.faults));
        }
    }
    let detail = "The document does not match the published schema; the place is not known.";
    Err(Problem::plain(ProblemKind::Internal, detail))
}

struct Found<'a> {
    document: &'a Value,
    shape: &'a Shape,
    units: UnitSystem,
    faults: Vec<RequestFault>,
}

impl Found<'_> {
    fn explain(&mut self, error: &ValidationError<'_>) {
        use ValidationErrorKind as Kind;
        let pointer = Pointer::from(error.instance_path().as_str());
        match error.kind() {
            Kind::Required { property } => {
                let name = property.as_str().unwrap_or_default();
                self.note(FaultCode::Missing, pointer.join(name), missing(name));
            }
            Kind::AdditionalProperties { unexpected } => {
                for name in unexpected.iter().take(FAULTS_LISTED + 1) {
                    self.unknown(&pointer, name);
                }
            }
            Kind::PropertyNames { error } => {
                let name = error.instance().as_str().unwrap_or_default();
                let detail = format!(
                    "{name:?} is not a valid property name. Use letters, digits and \
                     underscores, starting with a letter, 64 characters at most."
                );
                self.note(FaultCode::WrongName, pointer.join(name), detail);
            }
            Kind::Minimum { .. }
            | Kind::Maximum { .. }
            | Kind::ExclusiveMinimum { .. }
            | Kind::ExclusiveMaximum { .. } => self.out_of_range(pointer, error.instance()),
            Kind::Type { kind } => {
                let detail = wrong_type(kind, error.instance());
                self.note(FaultCode::WrongType, pointer, detail);
            }
            Kind::Enum { options } => {
                let detail = wrong_word(error.instance(), options);
                self.note(FaultCode::UnknownWord, pointer, detail);
            }
            Kind::OneOfNotValid { context } | Kind::AnyOf { context } => {
                self.no_branch(&pointer, error.instance(), context);
            }
            Kind::MaxLength { limit } => {
                let detail = format!("This text is longer than {limit} characters.");
                self.note(FaultCode::TooLong, pointer, detail);
            }
            Kind::MinLength { .. } => {
                self.note(FaultCode::Empty, pointer, "This text is empty. Write something in it.");
            }
            Kind::MinItems { .. } => {
                self.note(
                    FaultCode::Empty,
                    pointer,
                    "This list is empty. Give at least one entry.",
                );
            }
            _ => self.note(FaultCode::WrongShape, pointer, format!("{error}.")),
        }
    }

    /// No branch of a choice fits: says why the intended one does not, or that
    /// none was named.
    fn no_branch(
        &mut self,
        pointer: &Pointer,
        instance: &Value,
        context: &[Vec<ValidationError<'static>>],
    ) {
        let shape = self.shape.at(self.document, pointer);
        if let Some(Shape::Choice { tag, branches }) = shape
            && instance.is_object()
        {
            let words: Vec<Value> = branches.keys().map(|word| word.as_str().into()).collect();
            let (code, detail) = match instance.get(tag) {
                None => {
                    let detail = format!("{} Use one of {}.", missing(tag), list(&words));
                    (FaultCode::Missing, detail)
                }
                Some(word) => (FaultCode::UnknownWord, wrong_word(word, &Value::Array(words))),
            };
            return self.note(code, pointer.join(tag), detail);
        }
        // The intended branch is the one without a fault in the value as a
        // whole; among several, the one with the fewest faults.
        let meant = context.iter().min_by_key(|errors| {
            let against = |error: &&ValidationError<'_>| against_the_whole(error, pointer);
            (errors.iter().filter(against).count(), errors.len())
        });
        for error in meant.into_iter().flatten() {
            self.explain(error);
        }
    }

    fn out_of_range(&mut self, pointer: Pointer, instance: &Value) {
        let given = instance.as_f64().unwrap_or(f64::NAN);
        let detail = match self.shape.at(self.document, &pointer) {
            Some(Shape::Number(Some(row))) => out_of_range(row, given, self.units),
            _ => format!("{given} is out of range."),
        };
        self.note(FaultCode::OutOfRange, pointer, detail);
    }

    fn unknown(&mut self, pointer: &Pointer, name: &str) {
        let shape = self.shape.at(self.document, pointer);
        let known = shape.map(Shape::member_names).unwrap_or_default();
        let hint = did_you_mean(name, known.iter().copied())
            .unwrap_or_else(|| format!("Allowed here: {}.", known.join(", ")));
        let detail = format!("There is no member {name:?} here. {hint}");
        let at = pointer.join(name);
        // The path to a number was written as nested members.
        let steps = pointer.as_str().starts_with("/uncertainty/inputs/");
        let hint = " Name an uncertain number by its JSON pointer, with slashes: \
                    \"/sump/volume\".";
        self.note(FaultCode::UnknownMember, at, if steps { detail + hint } else { detail });
    }

    fn note(&mut self, code: FaultCode, pointer: impl Into<String>, detail: impl Into<String>) {
        self.faults.push(RequestFault::new(code, pointer, detail));
    }
}

/// The message for a number outside the range of its quantity.
pub(crate) fn out_of_range(row: &Row, given: f64, units: UnitSystem) -> String {
    let given = Measure::bare(given);
    format!("{given} is out of range: it must be {}.", row.range_in_words(units))
}

/// Whether a branch of a choice does not fit at all: a different type of value, or
/// a different word in the type tag (only type tags are limited to a single
/// word).
fn against_the_whole(error: &ValidationError<'_>, pointer: &Pointer) -> bool {
    let at = error.instance_path().as_str();
    match error.kind() {
        ValidationErrorKind::Type { .. } => at == pointer.as_str(),
        ValidationErrorKind::Enum { options } => {
            let parent = at.rsplit_once('/').map_or("", |(parent, _)| parent);
            parent == pointer.as_str() && options.as_array().is_some_and(|words| words.len() == 1)
        }
        _ => false,
    }
}

fn missing(name: &str) -> String {
    if name == UNITS {
        return "units is missing: give \"metric\" or \"us\".".to_owned();
    }
    format!("{name:?} is missing.")
}

fn wrong_word(given: &Value, options: &Value) -> String {
    let words = options.as_array().map(Vec::as_slice).unwrap_or_default();
    let near = match given.as_str() {
        Some(given) => text_with_nearest("", given, words.iter().filter_map(Value::as_str)),
        None => String::new(),
    };
    format!("{given} is not allowed here. Use one of {}.{near}", list(words))
}

fn list(words: &[Value]) -> String {
    words.iter().map(Value::to_string).collect::<Vec<_>>().join(", ")
}

fn wrong_type(kind: &TypeKind, given: &Value) -> String {
    let wanted = match kind {
        TypeKind::Single(one) => one.to_string(),
        TypeKind::Multiple(several) => {
            let names = several.iter().map(|one| one.to_string());
            names.filter(|name| name != "null").collect::<Vec<_>>().join(" or ")
        }
    };
    if let ("number", Some(number)) = (wanted.as_str(), percentage(given)) {
        return format!("This is {}; write {number}, without the per cent sign.", shown(given));
    }
    let wanted = match wanted.as_str() {
        "object" => "an object is expected",
        "array" => "a list is expected",
        "string" => "text in quotes is expected",
        "number" => "a plain number is expected, with a decimal point and without a unit",
        "boolean" => "true or false is expected",
        other => return format!("This is {}; {other} is expected.", shown(given)),
    };
    format!("This is {}; {wanted}.", shown(given))
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
