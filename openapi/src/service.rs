//! The catalogue with its types erased: what a server, a terminal or a test
//! needs to answer any calculation by name.

use crate::document::{self, Published};
use crate::envelope::{REFERENCE, Record, Request, UNCERTAINTY, UNITS};
use crate::faults;
use crate::flat;
use crate::problem::{Fault, Problem, ProblemKind};
use crate::shape::{Direction, Shape};
use crate::tree;
use crate::uncertain;
use memchr::memmem::Finder;
use serde_json::Value;
use std::borrow::Cow;
use std::sync::LazyLock;
use sumpwright_engine::VERSION;
use sumpwright_engine::calculation::{Calculation, Visitor, catalogue};
use sumpwright_engine::quantity::UnitSystem;
use sumpwright_engine::refusal::{Refusal, nearest};
use sumpwright_engine::uncertainty::{Asked, propagate};

/// Every calculation, and the document that describes them.
pub struct Services {
    services: Vec<Service>,
    /// The OpenAPI document, as it is published.
    pub openapi: String,
}

/// One calculation, ready to answer.
pub struct Service {
    /// Its name on the wire.
    pub name: &'static str,
    /// What it answers, in a line.
    pub summary: &'static str,
    /// A complete request that works as it stands.
    pub example: &'static str,
    /// The shape of a request.
    pub question: Shape,
    /// The shape of an answer.
    pub record: Shape,
    problem: Shape,
    lists: Vec<String>,
    validator: jsonschema::Validator,
    quick: fn(&[u8]) -> Option<Answered<Vec<u8>>>,
    thorough: fn(Value, Option<&Asked>) -> Result<Answered<Value>, Fault>,
}

/// An answer, or why there is none.
type Answered<Answer> = Result<Answer, Problem>;

impl Services {
    /// Draws up the catalogue.
    ///
    /// # Panics
    ///
    /// When the published schema is not a schema, which the tests rule out.
    #[must_use]
    pub fn new() -> Self {
        let published = document::publish();
        let mut collector = Collector { published: &published, services: Vec::new() };
        catalogue(&mut collector);
        let services = collector.services;
        Self { services, openapi: published.text() }
    }

    /// The calculation called `name`.
    #[must_use]
    pub fn get(&self, name: &str) -> Option<&Service> {
        self.services.iter().find(|service| service.name == name)
    }

    /// Every calculation, in the order of the catalogue.
    pub fn iter(&self) -> impl Iterator<Item = &Service> {
        self.services.iter()
    }

    /// What to say of a calculation that does not exist.
    #[must_use]
    pub fn unknown(&self, name: &str) -> Problem {
        let names = || self.services.iter().map(|service| service.name);
        let hint = match nearest(name, names()) {
            Some(near) => format!("Did you mean {near:?}?"),
            None => format!("There are {}.", names().collect::<Vec<_>>().join(", ")),
        };
        let detail = format!("There is no calculation {name:?}. {hint}");
        Problem::plain(ProblemKind::NotFound, detail)
    }
}

impl Default for Services {
    fn default() -> Self {
        Self::new()
    }
}

struct Collector<'a> {
    published: &'a Published,
    services: Vec<Service>,
}

impl Visitor for Collector<'_> {
    fn visit<C: Calculation>(&mut self) {
        let question = document::question_name(C::NAME);
        let shape = self.published.shape(&question);
        self.services.push(Service {
            name: C::NAME,
            summary: C::SUMMARY,
            example: C::EXAMPLE,
            lists: shape.list_names(),
            question: shape,
            record: self.published.shape(&document::record_name(C::NAME)),
            problem: self.published.shape(document::PROBLEM),
            validator: self.published.validator(&question),
            quick: quick::<C>,
            thorough: thorough::<C>,
        });
    }
}

/// The straight way: a metric document that is right. None when it is not, and
/// the thorough way has to say why.
fn quick<C: Calculation>(bytes: &[u8]) -> Option<Answered<Vec<u8>>> {
    let request: Request<C> = serde_json::from_slice(bytes).ok()?;
    if request.units != UnitSystem::Metric || request.uncertainty.is_some() {
        return None;
    }
    Some(match request.question.calculate() {
        Ok(outcome) => written(&record::<C>(request.units, request.reference, outcome)),
        Err(refusal) if refusal.reachable.is_some() => return None,
        Err(refusal) => Err(refused(&refusal, request.units, request.reference)),
    })
}

/// The shortest document that can hold a list past its limit.
const MANY_ENTRIES: usize = flat::LIST_MOST * "{},".len();

/// Whether every `[` opens a list where the question has one, and a list with
/// something in it. serde would read a list in place of an object member by
/// member and does not count entries, so a document with any other `[` in it,
/// were it only in a text, goes the thorough way, and so does a very long one.
fn lists_in_place(bytes: &[u8], lists: &[String]) -> bool {
    if bytes.len() >= MANY_ENTRIES {
        return false;
    }
    memchr::memchr_iter(b'[', bytes).all(|at| {
        if bytes[at + 1..].trim_ascii_start().starts_with(b"]") {
            return false;
        }
        let name = bytes[..at].trim_ascii_end().strip_suffix(b":");
        let name = name.and_then(|name| name.trim_ascii_end().strip_suffix(b"\""));
        name.is_some_and(|name| {
            let is = |list: &String| {
                name.strip_suffix(list.as_bytes()).is_some_and(|rest| rest.ends_with(b"\""))
            };
            lists.iter().any(is)
        })
    })
}

fn written(record: &impl serde::Serialize) -> Result<Vec<u8>, Problem> {
    // Room for an ordinary answer, so that the buffer does not have to grow.
    let mut bytes = Vec::with_capacity(4096);
    match serde_json::to_writer(&mut bytes, record) {
        Ok(()) => Ok(bytes),
        Err(error) => Err(Problem::plain(ProblemKind::Internal, error.to_string())),
    }
}

/// The way of a document that is already metric, as a tree: refused as a fault
/// where it cannot be read as a question. What is uncertain of it has been taken
/// out before.
fn thorough<C: Calculation>(
    document: Value,
    asked: Option<&Asked>,
) -> Result<Answered<Value>, Fault> {
    let units = faults::units_of(&document).unwrap_or(UnitSystem::Metric);
    let question = asked.map(|_| without_envelope(&document));
    let request: Request<C> = serde_path_to_error::deserialize(document)
        .map_err(|error| Fault::new(tree::pointer(error.path()), format!("{}.", error.inner())))?;
    let answered = request.question.calculate().and_then(|outcome| {
        let uncertainty = match (asked, &question) {
            (Some(asked), Some(question)) => {
                let threads = std::thread::available_parallelism().map_or(1, usize::from);
                Some(propagate::<C>(question, &outcome.answer, asked, threads)?)
            }
            _ => None,
        };
        Ok((outcome, uncertainty))
    });
    Ok(match answered {
        Ok((outcome, uncertainty)) => {
            let mut record = record::<C>(units, request.reference, outcome);
            record.uncertainty = uncertainty;
            serde_json::to_value(record)
                .map_err(|error| Problem::plain(ProblemKind::Internal, error.to_string()))
        }
        Err(refusal) => Err(refused(&refusal, units, request.reference)),
    })
}

/// The question alone.
fn without_envelope(document: &Value) -> Value {
    let mut question = document.clone();
    if let Some(members) = question.as_object_mut() {
        members.retain(|name, _| name != UNITS && name != REFERENCE);
    }
    question
}

fn record<C: Calculation>(
    units: UnitSystem,
    reference: Option<String>,
    outcome: sumpwright_engine::calculation::Outcome<C::Answer>,
) -> Record<C::Answer> {
    Record {
        reference,
        units,
        calculation: Cow::Borrowed(C::NAME),
        version: Cow::Borrowed(VERSION),
        answer: outcome.answer,
        balance: outcome.balance,
        uncertainty: None,
        assumptions: outcome.assumptions,
        cautions: outcome.cautions,
    }
}

fn refused(refusal: &Refusal, units: UnitSystem, reference: Option<String>) -> Problem {
    let mut problem = Problem::refused(refusal, units);
    problem.reference = reference;
    problem
}

/// Documents longer than this take long to answer, and so do those that draw.
const LONG_DOCUMENT: usize = 64 * 1024;

/// Finds the member that makes a document draw.
static ASKS_HOW_SURE: LazyLock<Finder<'static>> = LazyLock::new(|| Finder::new("\"uncertainty\""));

impl Service {
    /// Whether others should not have to wait behind this document.
    #[must_use]
    pub fn takes_long(bytes: &[u8]) -> bool {
        bytes.len() > LONG_DOCUMENT || ASKS_HOW_SURE.find(bytes).is_some()
    }

    /// The same of a path of the flat form.
    #[must_use]
    pub fn path_takes_long(path: &str) -> bool {
        path.strip_prefix(UNCERTAINTY).is_some_and(|rest| rest.starts_with('.'))
    }

    /// Answers a document.
    pub fn answer(&self, bytes: &[u8]) -> Result<Vec<u8>, Problem> {
        if lists_in_place(bytes, &self.lists)
            && let Some(answered) = (self.quick)(bytes)
        {
            return answered;
        }
        written(&self.answer_tree(tree::parse(bytes)?)?)
    }

    /// Answers a document in its flat form.
    pub fn answer_flat<'a>(
        &self,
        pairs: impl IntoIterator<Item = (&'a str, &'a str)>,
    ) -> Result<Value, Problem> {
        self.answer_tree(flat::unflatten(pairs, &self.question)?)
    }

    /// Answers a document that has been read as a tree.
    pub fn answer_tree(&self, mut document: Value) -> Result<Value, Problem> {
        let reference = document.get(REFERENCE).and_then(Value::as_str);
        let reference = reference.map(str::to_owned);
        let mut answered = self.answer_checked(&mut document);
        if let Err(problem) = &mut answered
            && problem.reference.is_none()
        {
            problem.reference = reference;
        }
        answered
    }

    fn answer_checked(&self, document: &mut Value) -> Result<Value, Problem> {
        faults::check(document, &self.validator, &self.question)?;
        let units = faults::units_of(document).unwrap_or(UnitSystem::Metric);
        let mut found = Vec::new();
        let uncertainty = uncertain::take(document);
        self.question.rescale(document, units, Direction::In, "", &mut found);
        if !found.is_empty() {
            return Err(Problem::with_faults(ProblemKind::OutOfRange, found));
        }
        let asked = match uncertainty {
            Some(given) => Some(uncertain::read(given, document, &self.question, units)?),
            None => None,
        };
        let answered = (self.thorough)(document.take(), asked.as_ref())
            .map_err(|fault| Problem::new(ProblemKind::Malformed, fault))?;
        match answered {
            Ok(mut record) => {
                self.record.rescale(&mut record, units, Direction::Out, "", &mut found);
                if let Some(asked) = &asked {
                    uncertain::rescale(&mut record, &self.record, asked, units);
                }
                Ok(record)
            }
            Err(mut problem) => {
                self.rescale_problem(&mut problem, units);
                Err(problem)
            }
        }
    }

    fn rescale_problem(&self, problem: &mut Problem, units: UnitSystem) {
        let shape = self.problem.member("reachable");
        if let (Some(shape), Some(reachable)) = (shape, &mut problem.reachable) {
            shape.rescale(reachable, units, Direction::Out, "", &mut Vec::new());
        }
    }
}

/// What a calculation answers to its own example.
#[must_use]
pub fn answer_example<C: Calculation>() -> Option<Value> {
    let document = serde_json::from_str(C::EXAMPLE).ok()?;
    thorough::<C>(document, None).ok()?.ok()
}
