//! Holds a document against its own published schema and names every fault.

use crate::envelope::UNITS;
use crate::lengths::{beginning, too_long};
use crate::problem::{Fault, Problem, ProblemKind};
use crate::shape::{Shape, out_of_range};
use crate::tree::{join, push};
use jsonschema::ValidationError;
use jsonschema::error::{TypeKind, ValidationErrorKind};
use serde::Deserialize;
use serde_json::Value;
use sumpwright_engine::quantity::UnitSystem;
use sumpwright_engine::text::{FAULTS_LISTED, nearest};

/// Names the faults of `document`, or passes it.
///
/// What is longer than it may be is refused without a look into it. Of a long list
/// that is wrong the beginning is looked into first, and no more of it than it takes
/// to find a fault: what it costs to refuse a document does not grow with what is
/// wrong in it.
pub fn check(
    document: &Value,
    validator: &jsonschema::Validator,
    shape: &Shape,
) -> Result<(), Problem> {
    let too_long = too_long(document, shape);
    if !too_long.is_empty() {
        return Err(Problem::with_faults(ProblemKind::OutOfRange, too_long));
    }
    if validator.is_valid(document) {
        return Ok(());
    }
    let units = units_of(document).unwrap_or(UnitSystem::Metric);
    for entries in [FAULTS_LISTED, FAULTS_LISTED * FAULTS_LISTED, usize::MAX] {
        let document = &beginning(document, Some(shape), entries);
        let mut found = Found { document, shape, units, kind: None, faults: Vec::new() };
        for error in validator.iter_errors(document) {
            if found.faults.len() > FAULTS_LISTED {
                break;
            }
            found.explain(&error);
        }
        if let Some(kind) = found.kind {
            return Err(Problem::with_faults(kind, found.faults));
        }
    }
    let detail = "The document is not of the shape that is published, and nothing says where.";
    Err(Problem::plain(ProblemKind::Internal, detail))
}

/// The system of units that a document names.
#[must_use]
pub fn units_of(document: &Value) -> Option<UnitSystem> {
    UnitSystem::deserialize(document.get(UNITS)?).ok()
}

struct Found<'a> {
    document: &'a Value,
    shape: &'a Shape,
    units: UnitSystem,
    kind: Option<ProblemKind>,
    faults: Vec<Fault>,
}

impl Found<'_> {
    fn explain(&mut self, error: &ValidationError<'_>) {
        use ValidationErrorKind as Kind;
        let pointer = error.instance_path().as_str().to_owned();
        match error.kind() {
            Kind::Required { property } => {
                let name = property.as_str().unwrap_or_default();
                self.malformed(join(&pointer, name), missing(name));
            }
            Kind::AdditionalProperties { unexpected } => {
                for name in unexpected.iter().take(FAULTS_LISTED + 1) {
                    self.unknown(&pointer, name);
                }
            }
            Kind::PropertyNames { error } => {
                let name = error.instance().as_str().unwrap_or_default();
                let detail = format!(
                    "{name:?} is no name for a property. Use letters, digits and underscores, a \
                     letter first, 64 characters at most."
                );
                self.malformed(join(&pointer, name), detail);
            }
            Kind::Minimum { .. }
            | Kind::Maximum { .. }
            | Kind::ExclusiveMinimum { .. }
            | Kind::ExclusiveMaximum { .. } => self.out_of_range(pointer, error.instance()),
            Kind::Type { kind } => {
                let detail = wrong_type(kind, error.instance());
                self.malformed(pointer, detail);
            }
            Kind::Enum { options } => {
                let detail = wrong_word(error.instance(), options);
                self.malformed(pointer, detail);
            }
            Kind::OneOfNotValid { context } | Kind::AnyOf { context } => {
                self.no_branch(&pointer, error.instance(), context);
            }
            Kind::MaxLength { limit } => {
                self.malformed(pointer, format!("This text is longer than {limit} characters."));
            }
            Kind::MinLength { .. } => {
                self.malformed(pointer, "This text is empty. Give it something to say.");
            }
            Kind::MinItems { .. } => {
                self.malformed(pointer, "This list is empty. Give at least one entry.");
            }
            _ => self.malformed(pointer, format!("{error}.")),
        }
    }

    /// None of the branches of a choice fits: say why the one that was meant
    /// does not, or that none was named.
    fn no_branch(
        &mut self,
        pointer: &str,
        instance: &Value,
        context: &[Vec<ValidationError<'static>>],
    ) {
        let shape = self.shape.at(self.document, pointer);
        if let Some(Shape::Choice { tag, branches }) = shape
            && instance.is_object()
        {
            let words: Vec<Value> = branches.keys().map(|word| word.as_str().into()).collect();
            let detail = match instance.get(tag) {
                None => format!("{} One of {} belongs here.", missing(tag), list(&words)),
                Some(word) => wrong_word(word, &Value::Array(words)),
            };
            return self.malformed(join(pointer, tag), detail);
        }
        // The branch that was meant is the one that has nothing against the
        // value as a whole; of several, the one with the fewest faults.
        let meant = context.iter().min_by_key(|errors| {
            let against = |error: &&ValidationError<'_>| against_the_whole(error, pointer);
            (errors.iter().filter(against).count(), errors.len())
        });
        for error in meant.into_iter().flatten() {
            self.explain(error);
        }
    }

    fn out_of_range(&mut self, pointer: String, instance: &Value) {
        let given = instance.as_f64().unwrap_or(f64::NAN);
        let detail = match self.shape.at(self.document, &pointer) {
            Some(Shape::Number(Some(row))) => out_of_range(row, given, self.units),
            _ => format!("{given} is out of range."),
        };
        self.note(ProblemKind::OutOfRange, pointer, detail);
    }

    fn unknown(&mut self, pointer: &str, name: &str) {
        let shape = self.shape.at(self.document, pointer);
        let known = shape.map(Shape::member_names).unwrap_or_default();
        let detail = match nearest(name, known.iter().copied()) {
            Some(near) => format!("There is no member {name:?} here. Did you mean {near:?}?"),
            None => format!("There is no member {name:?} here. There can be {}.", known.join(", ")),
        };
        let mut at = pointer.to_owned();
        push(&mut at, name);
        // Where the steps to a number were taken for members of their own.
        let steps = pointer.starts_with("/uncertainty/inputs/");
        let hint = " An uncertain number is named by its JSON pointer, with slashes: \
                    \"/sump/volume\".";
        self.malformed(at, if steps { detail + hint } else { detail });
    }

    fn malformed(&mut self, pointer: impl Into<String>, detail: impl Into<String>) {
        self.note(ProblemKind::Malformed, pointer, detail);
    }

    /// A document that is not of the right shape is malformed whatever else is
    /// wrong with it.
    fn note(&mut self, kind: ProblemKind, pointer: impl Into<String>, detail: impl Into<String>) {
        if self.kind.is_none() || kind == ProblemKind::Malformed {
            self.kind = Some(kind);
        }
        self.faults.push(Fault::new(pointer, detail));
    }
}

/// Whether a branch of a choice is wrong altogether: another type of value, or
/// another word in the member that tells the branches apart (the only members
/// that can be one word alone).
fn against_the_whole(error: &ValidationError<'_>, pointer: &str) -> bool {
    let at = error.instance_path().as_str();
    match error.kind() {
        ValidationErrorKind::Type { .. } => at == pointer,
        ValidationErrorKind::Enum { options } => {
            let parent = at.rsplit_once('/').map_or("", |(parent, _)| parent);
            parent == pointer && options.as_array().is_some_and(|words| words.len() == 1)
        }
        _ => false,
    }
}

fn missing(name: &str) -> String {
    if name == UNITS {
        return "The units are missing: say \"metric\" or \"us\".".to_owned();
    }
    format!("{name:?} is missing.")
}

fn wrong_word(given: &Value, options: &Value) -> String {
    let words = options.as_array().map(Vec::as_slice).unwrap_or_default();
    let near = given
        .as_str()
        .and_then(|given| nearest(given, words.iter().filter_map(Value::as_str)))
        .map(|near| format!(" Did you mean {near:?}?"))
        .unwrap_or_default();
    format!("{given} does not belong here; one of {} does.{near}", list(words))
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
        "object" => "an object belongs here",
        "array" => "a list belongs here",
        "string" => "text in quotes belongs here",
        "number" => "a plain number belongs here, with a decimal point and without a unit",
        "boolean" => "true or false belongs here",
        other => return format!("{} belongs here, not {}.", other, shown(given)),
    };
    format!("This is {}; {wanted}.", shown(given))
}

/// The number of a text such as 6%.
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
