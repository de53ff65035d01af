//! The ways from a document to its answer, written once for every calculation.

use crate::dated::EventsToList;
use crate::extent::Extent;
use crate::request::envelope::{REFERENCE, Record, Request, UNITS, units_of};
use crate::request::problem::{FaultCode, Problem, ProblemKind, RequestFault};
use crate::row::leaves::{Columns, Leaves};
use crate::sheet::SheetToDraw;
use crate::written::{self, Written};
use memchr::memmem::Finder;
use serde::Deserialize;
use serde_json::Value;
use std::borrow::Cow;
use std::marker::PhantomData;
use std::sync::LazyLock;
use sumpwright_engine::VERSION;
use sumpwright_engine::calculation::{Calculation, Outcome};
use sumpwright_engine::document::Reader;
use sumpwright_engine::numerics::cut_off::look;
use sumpwright_engine::picture::Picture;
use sumpwright_engine::quantity::{UnitSystem, in_units, measured_in, read_in};
use sumpwright_engine::text::{Refusal, Sentence, Telling, telling};
use sumpwright_engine::uncertainty::{self, Asked, propagate};

/// The outcome of a row on the straight way.
pub(crate) enum Straight {
    /// The answer is in the leaves.
    Answered,
    /// The row has no answer.
    Refused(Problem),
    /// The row could not be read as a question; the thorough way says why.
    Unread,
}

/// Answers a row of a table into the leaves that go into its columns.
pub(crate) type ByRow = fn(Reader<'_>, UnitSystem, &Columns, &mut Leaves) -> Straight;

/// An answer that is ready to be written down.
pub(crate) type Ready = Box<dyn Written>;

/// Answers a metric document that is a tree; a fault if it cannot be read as a
/// question. Its member `uncertainty` has been taken out before.
pub(crate) type ByTree<Answer> =
    fn(&Value, Option<&Asked>) -> Result<Answered<Answer>, RequestFault>;

/// An answer, or why there is none.
pub(crate) type Answered<Answer> = Result<Answer, Problem>;

/// Answers bytes on the straight way, where they can be.
pub(crate) type Quick = fn(&[u8], Extent) -> Option<Answered<Ready>>;

/// What only some calculations have a way for, so that nothing is compiled for the others.
pub(crate) struct Ways<C>(PhantomData<C>);

impl<C: Calculation> Ways<C> {
    /// The straight way of those that answer quickly or come by the thousand.
    pub(crate) const QUICK: Option<Quick> =
        if C::COMES_IN_STREAMS { Some(quick::<C>) } else { None };
}

/// A word in quotation marks that a document in US units has somewhere.
static US: LazyLock<Finder<'static>> = LazyLock::new(|| Finder::new("\"us\""));

/// The straight way for a valid document in either system of units. `None` if it is not one;
/// the thorough way then says why.
fn quick<C: Calculation>(bytes: &[u8], extent: Extent) -> Option<Answered<Ready>> {
    // Numbers are read before it is known for sure in which units.
    let units = if US.find(bytes).is_some() { UnitSystem::Us } else { UnitSystem::Metric };
    let text = str::from_utf8(bytes).ok()?;
    let request: Request<C> = read_in(units, || serde_json::from_str(text)).ok()?;
    if request.units != units || request.uncertainty.is_some() {
        return None;
    }
    Some(match telling(extent.told(), || calculate(&request.question, units)) {
        Ok(outcome) => Ok(Box::new(record(request, outcome))),
        Err(refusal) => Err(refused(&refusal, request.units, request.reference)),
    })
}

/// Answers a question that has been read, unless it has been cut off, in words for whoever measures
/// in `units`.
fn calculate<C: Calculation>(
    question: &C,
    units: UnitSystem,
) -> Result<Outcome<C::Answer>, Refusal> {
    look();
    measured_in(units, || question.calculate())
}

/// What a person is told of an outcome.
fn statement<C: Calculation>(
    question: &C,
    outcome: &Outcome<C::Answer>,
    units: UnitSystem,
) -> Sentence {
    measured_in(units, || outcome.statement(question))
}

/// The way of a metric document that is a tree: a fault if it cannot be read as a
/// question.
pub(crate) fn thorough<C: Calculation>(
    document: &Value,
    asked: Option<&Asked>,
) -> Result<Answered<Ready>, RequestFault> {
    let units = units_of(document).unwrap_or(UnitSystem::Metric);
    let question = asked.map(|_| without_envelope(document));
    let request: Request<C> = read(document)?;
    let answered = calculate(&request.question, units).and_then(|outcome| {
        let uncertainty = match (asked, &question) {
            (Some(asked), Some(question)) => {
                let threads = std::thread::available_parallelism().map_or(1, usize::from);
                Some(propagate(&request.question, question, &outcome.answer, asked, threads)?)
            }
            _ => None,
        };
        Ok((outcome, uncertainty))
    });
    Ok(match answered {
        Ok((outcome, uncertainty)) => {
            let mut record = record(request, outcome);
            record.uncertainty = uncertainty;
            Ok(Box::new(record))
        }
        Err(refusal) => Err(refused(&refusal, units, request.reference)),
    })
}

/// How many numbers it takes to answer a question, by its own sizes.
pub(crate) fn handled<C: Calculation>(
    document: &Value,
    asked: Option<&Asked>,
) -> Result<Answered<usize>, RequestFault> {
    let request: Request<C> = read(document)?;
    Ok(Ok(uncertainty::work_ahead(&request.question, document, asked)))
}

/// The question alone.
fn without_envelope(document: &Value) -> Value {
    let mut question = document.clone();
    if let Some(members) = question.as_object_mut() {
        members.retain(|name, _| name != UNITS && name != REFERENCE);
    }
    question
}

/// The thorough way to pictures instead of an answer, with the answer's statement.
pub(crate) fn pictures<C: Calculation>(
    document: &Value,
    _: Option<&Asked>,
) -> Result<Answered<(Vec<Picture>, String)>, RequestFault> {
    let units = units_of(document).unwrap_or(UnitSystem::Metric);
    let request: Request<C> = read(document)?;
    let outcome = match telling(Telling::Answer, || calculate(&request.question, units)) {
        Ok(outcome) => outcome,
        Err(refusal) => return Ok(Err(refused(&refusal, units, request.reference))),
    };
    let statement = statement(&request.question, &outcome, units).show(units);
    let pictures = C::PICTURES.map(|draw| draw(&request.question, &outcome.answer));
    let Some(pictures) = pictures.filter(|pictures| !pictures.is_empty()) else {
        let detail = "There is nothing to draw in this answer. Ask for it as JSON, CSV or text.";
        return Ok(Err(Problem::plain(ProblemKind::NotAcceptable, detail)));
    };
    Ok(Ok((pictures, statement)))
}

/// The thorough way to a job sheet instead of an answer.
pub(crate) fn sheet<C: Calculation>(
    document: &Value,
    _: Option<&Asked>,
) -> Result<Answered<SheetToDraw>, RequestFault> {
    let units = units_of(document).unwrap_or(UnitSystem::Metric);
    let request: Request<C> = read(document)?;
    let outcome = match telling(Telling::Answer, || calculate(&request.question, units)) {
        Ok(outcome) => outcome,
        Err(refusal) => return Ok(Err(refused(&refusal, units, request.reference))),
    };
    let (question, answer) = (&request.question, &outcome.answer);
    let statement = statement(question, &outcome, units);
    let nothing = || Problem::plain(ProblemKind::Internal, "This answer has no job sheet.");
    let Some(make) = C::SHEET else { return Ok(Err(nothing())) };
    let pictures = C::PICTURES.map_or_else(Vec::new, |draw| draw(question, answer));
    let mut findings = outcome.findings;
    findings.sort_by_key(|finding| finding.severity);
    Ok(Ok(SheetToDraw {
        calculation: C::NAME,
        units,
        statement,
        findings,
        sheet: measured_in(units, || make(question, answer)),
        cautions: outcome.cautions,
        pictures,
        reference: request.reference,
    }))
}

/// The thorough way to what an answer dates instead of the answer.
pub(crate) fn events<C: Calculation>(
    document: &Value,
    _: Option<&Asked>,
) -> Result<Answered<EventsToList>, RequestFault> {
    let units = units_of(document).unwrap_or(UnitSystem::Metric);
    let request: Request<C> = read(document)?;
    let outcome = match telling(Telling::Answer, || calculate(&request.question, units)) {
        Ok(outcome) => outcome,
        Err(refusal) => return Ok(Err(refused(&refusal, units, request.reference))),
    };
    let dated =
        C::EVENTS.and_then(|list| measured_in(units, || list(&request.question, &outcome.answer)));
    let Some(dated) = dated.filter(|dated| !dated.events.is_empty()) else {
        let detail = "This answer dates nothing. Ask for it as JSON, CSV or text.";
        return Ok(Err(Problem::plain(ProblemKind::NotAcceptable, detail)));
    };
    let calculation = C::NAME;
    Ok(Ok(EventsToList { calculation, reference: request.reference, units, dated }))
}

/// The straight way for a row.
pub(crate) fn by_row<C: Calculation>(
    row: Reader<'_>,
    units: UnitSystem,
    columns: &Columns,
    leaves: &mut Leaves,
) -> Straight {
    let Ok(request) = Request::<C>::deserialize(row) else { return Straight::Unread };
    if request.uncertainty.is_some() {
        return Straight::Unread;
    }
    let told = match (columns.of_record, columns.of_words) {
        (true, _) => Telling::Record,
        (false, true) => Telling::Answer,
        (false, false) => Telling::Numbers,
    };
    // Why there is no answer is said in words all the same.
    let answered = telling(told, || calculate(&request.question, units)).or_else(|refusal| {
        if told == Telling::Numbers { calculate(&request.question, units) } else { Err(refusal) }
    });
    match answered {
        Ok(outcome) if columns.of_record => {
            let record = record(request, outcome);
            in_units(units, || leaves.write(&record, columns));
            Straight::Answered
        }
        Ok(outcome) => {
            in_units(units, || leaves.write(&outcome.answer, columns));
            Straight::Answered
        }
        Err(refusal) => Straight::Refused(refused(&refusal, units, request.reference)),
    }
}

fn read<C: Calculation>(document: &Value) -> Result<Request<C>, RequestFault> {
    Request::deserialize(Reader::of(document)).map_err(|misread| {
        RequestFault::new(FaultCode::WrongShape, misread.pointer(), format!("{misread}."))
    })
}

fn record<C: Calculation>(
    request: Request<C>,
    mut outcome: Outcome<C::Answer>,
) -> Record<C::Answer> {
    outcome.findings.sort_by_key(|finding| finding.severity);
    let statement = statement(&request.question, &outcome, request.units);
    Record {
        reference: request.reference,
        units: request.units,
        calculation: Cow::Borrowed(C::NAME),
        version: Cow::Borrowed(VERSION),
        statement,
        findings: outcome.findings,
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

/// The answer of a calculation to its own example.
#[must_use]
pub(crate) fn answer_example<C: Calculation>() -> Option<Value> {
    let document = serde_json::from_str(C::EXAMPLE).ok()?;
    written::as_tree(&*thorough::<C>(&document, None).ok()?.ok()?).ok()
}
