//! The catalogue with its types erased: what a server, a terminal or a test
//! needs to answer any calculation by name.

use crate::document::{self, Published};
use crate::envelope::{Record, Request};
use crate::faults;
use crate::flat;
use crate::problem::{Fault, Problem, ProblemKind};
use crate::shape::{Direction, Shape};
use crate::table::{Leaves, Node, Place, Straight};
use crate::tree;
use serde::Deserialize;
use serde_json::Value;
use std::borrow::Cow;
use std::sync::Arc;
use sumpwright_engine::VERSION;
use sumpwright_engine::calculation::{Calculation, Visitor, catalogue};
use sumpwright_engine::chart::Chart;
use sumpwright_engine::quantity::UnitSystem;
use sumpwright_engine::refusal::{Refusal, nearest};

/// Every calculation, and the document that describes them.
pub struct Services {
    services: Vec<Arc<Service>>,
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
    thorough: ByTree<Value>,
    draw: Option<ByTree<Chart>>,
    by_row: ByRow,
    list: Option<&'static str>,
}

/// A picture of an answer, and the units its axes read in.
#[derive(Debug, Clone, PartialEq)]
pub struct Picture {
    /// What is drawn.
    pub chart: Chart,
    /// The units of the request.
    pub units: UnitSystem,
    /// The caller's own text, as it came.
    pub reference: Option<String>,
}

/// Answers a document that is metric and a tree; a fault where it cannot be read
/// as a question.
type ByTree<Answer> = fn(Value) -> Result<Answered<Answer>, Fault>;

/// Answers a row of a table into the leaves that go into the columns of `node`:
/// of the answer alone, or of the whole record.
type ByRow = fn(Place<'_>, UnitSystem, &Node, bool, &mut Leaves) -> Straight;

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
    pub fn get(&self, name: &str) -> Option<&Arc<Service>> {
        self.services.iter().find(|service| service.name == name)
    }

    /// Every calculation, in the order of the catalogue.
    pub fn iter(&self) -> impl Iterator<Item = &Service> {
        self.services.iter().map(Arc::as_ref)
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
    services: Vec<Arc<Service>>,
}

impl Visitor for Collector<'_> {
    fn visit<C: Calculation>(&mut self) {
        let question = document::question_name(C::NAME);
        let shape = self.published.shape(&question);
        self.services.push(Arc::new(Service {
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
            by_row: by_row::<C>,
            list: C::LIST,
            draw: C::HAS_CHART.then_some(draw::<C>),
        }));
    }
}

/// The straight way: a metric document that is right. None when it is not, and
/// the thorough way has to say why.
fn quick<C: Calculation>(bytes: &[u8]) -> Option<Answered<Vec<u8>>> {
    let request: Request<C> = serde_json::from_slice(bytes).ok()?;
    if request.units != UnitSystem::Metric {
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
/// where it cannot be read as a question.
fn thorough<C: Calculation>(document: Value) -> Result<Answered<Value>, Fault> {
    let units = faults::units_of(&document).unwrap_or(UnitSystem::Metric);
    let request: Request<C> = read(document)?;
    Ok(match request.question.calculate() {
        Ok(outcome) => serde_json::to_value(record::<C>(units, request.reference, outcome))
            .map_err(|error| Problem::plain(ProblemKind::Internal, error.to_string())),
        Err(refusal) => Err(refused(&refusal, units, request.reference)),
    })
}

/// The thorough way to a picture instead of an answer.
fn draw<C: Calculation>(document: Value) -> Result<Answered<Chart>, Fault> {
    let units = faults::units_of(&document).unwrap_or(UnitSystem::Metric);
    let request: Request<C> = read(document)?;
    let outcome = match request.question.calculate() {
        Ok(outcome) => outcome,
        Err(refusal) => return Ok(Err(refused(&refusal, units, request.reference))),
    };
    let nothing = || Problem::plain(ProblemKind::Internal, "There is nothing to draw.");
    Ok(request.question.chart(&outcome.answer).ok_or_else(nothing))
}

/// The straight way of a row.
fn by_row<C: Calculation>(
    row: Place<'_>,
    units: UnitSystem,
    node: &Node,
    of_record: bool,
    leaves: &mut Leaves,
) -> Straight {
    let Ok(request) = Request::<C>::deserialize(row) else { return Straight::Unread };
    match request.question.calculate() {
        Ok(outcome) if of_record => {
            leaves.write(&record::<C>(units, request.reference, outcome), node);
            Straight::Answered
        }
        Ok(outcome) => {
            leaves.write(&outcome.answer, node);
            Straight::Answered
        }
        Err(refusal) => Straight::Refused(refused(&refusal, units, request.reference)),
    }
}

fn read<C: Calculation>(document: Value) -> Result<Request<C>, Fault> {
    serde_path_to_error::deserialize(document)
        .map_err(|error| Fault::new(tree::pointer(error.path()), format!("{}.", error.inner())))
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
        assumptions: outcome.assumptions,
        cautions: outcome.cautions,
    }
}

fn refused(refusal: &Refusal, units: UnitSystem, reference: Option<String>) -> Problem {
    let mut problem = Problem::refused(refusal, units);
    problem.reference = reference;
    problem
}

impl Service {
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
    pub fn answer_tree(&self, document: Value) -> Result<Value, Problem> {
        let (mut record, units) = self.by_tree(document, self.thorough)?;
        self.record.rescale(&mut record, units, Direction::Out, "", &mut Vec::new());
        Ok(record)
    }

    /// Answers a row of a table, metric or not, into leaves in the row's units.
    pub(crate) fn answer_row(
        &self,
        row: Place<'_>,
        units: UnitSystem,
        node: &Node,
        of_record: bool,
        leaves: &mut Leaves,
    ) -> Straight {
        (self.by_row)(row, units, node, of_record, leaves)
    }

    /// The list that the question is, where it is one list.
    #[must_use]
    pub fn list(&self) -> Option<&'static str> {
        self.list
    }

    /// Whether answers can be drawn.
    #[must_use]
    pub fn has_chart(&self) -> bool {
        self.draw.is_some()
    }

    /// Draws the answer to a document.
    pub fn picture(&self, bytes: &[u8]) -> Result<Picture, Problem> {
        self.picture_tree(tree::parse(bytes)?)
    }

    /// Draws the answer to a document in its flat form.
    pub fn picture_flat<'a>(
        &self,
        pairs: impl IntoIterator<Item = (&'a str, &'a str)>,
    ) -> Result<Picture, Problem> {
        self.picture_tree(flat::unflatten(pairs, &self.question)?)
    }

    fn picture_tree(&self, document: Value) -> Result<Picture, Problem> {
        let Some(draw) = self.draw else {
            let detail = format!("The answer of {} cannot be drawn.", self.name);
            return Err(Problem::plain(ProblemKind::NotAcceptable, detail));
        };
        let reference = reference_of(&document);
        let (chart, units) = self.by_tree(document, draw)?;
        Ok(Picture { chart, units, reference })
    }

    /// Checks a document, brings it into the engine's units and answers it one
    /// way or another.
    fn by_tree<Answer>(
        &self,
        mut document: Value,
        answer: ByTree<Answer>,
    ) -> Result<(Answer, UnitSystem), Problem> {
        let reference = reference_of(&document);
        let answered = self.checked(&mut document).and_then(|units| {
            let answered =
                answer(document).map_err(|fault| Problem::new(ProblemKind::Malformed, fault))?;
            answered.map(|answer| (answer, units)).map_err(|mut problem| {
                self.rescale_problem(&mut problem, units);
                problem
            })
        });
        answered.map_err(|mut problem| {
            problem.reference = problem.reference.or(reference);
            problem
        })
    }

    /// Holds a document against its schema and brings its numbers into the
    /// engine's units.
    fn checked(&self, document: &mut Value) -> Result<UnitSystem, Problem> {
        faults::check(document, &self.validator, &self.question)?;
        let units = faults::units_of(document).unwrap_or(UnitSystem::Metric);
        let mut found = Vec::new();
        self.question.rescale(document, units, Direction::In, "", &mut found);
        if found.is_empty() {
            Ok(units)
        } else {
            Err(Problem::with_faults(ProblemKind::OutOfRange, found))
        }
    }

    fn rescale_problem(&self, problem: &mut Problem, units: UnitSystem) {
        let shape = self.problem.member("reachable");
        if let (Some(shape), Some(reachable)) = (shape, &mut problem.reachable) {
            shape.rescale(reachable, units, Direction::Out, "", &mut Vec::new());
        }
    }
}

fn reference_of(document: &Value) -> Option<String> {
    document.get(crate::envelope::REFERENCE).and_then(Value::as_str).map(str::to_owned)
}

/// What a calculation answers to its own example.
#[must_use]
pub fn answer_example<C: Calculation>() -> Option<Value> {
    let document = serde_json::from_str(C::EXAMPLE).ok()?;
    thorough::<C>(document).ok()?.ok()
}
