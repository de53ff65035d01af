//! The catalogue with its types erased, so that a server, a terminal or a test
//! can answer any calculation by name.

pub use crate::extent::{Extent, brief};

use crate::dated::EventsToList;
use crate::document::index::Index;
use crate::document::{self, Published};
use crate::flat;
use crate::plain::Plain;
use crate::request::check::{self, out_of_range};
use crate::request::envelope::{REFERENCE, asks_how_sure, units_of};
use crate::request::names;
use crate::request::not_given;
use crate::request::problem::{FaultCode, Problem, ProblemKind, RequestFault};
use crate::request::tree;
use crate::request::uncertain;
use crate::row::leaves::{Columns, Leaves};
use crate::sheet::SheetToDraw;
use crate::ways::{self, ByRow, ByTree, Quick, Ready, Straight, Ways};
use crate::written::{self, Written};
use memchr::memmem::Finder;
use serde_json::Value;
use std::sync::{Arc, LazyLock};
use sumpwright_engine::calculation::Calculation;
use sumpwright_engine::catalogue::{Catalogue, Everything, Visitor};
use sumpwright_engine::document::{OutOfBounds, Reader, Shape};
use sumpwright_engine::picture::Picture;
use sumpwright_engine::quantity::UnitSystem;
use sumpwright_engine::text::{FAULTS_LISTED, did_you_mean, telling};
use sumpwright_engine::uncertainty::Asked;

/// Every calculation, and the document that describes them.
pub struct Services {
    services: Vec<Arc<Service>>,
    /// The published OpenAPI document.
    pub openapi: String,
}

/// One calculation, ready to answer.
pub struct Service {
    /// Its name on the wire.
    pub name: &'static str,
    /// The question it answers, in one line.
    pub summary: &'static str,
    /// A complete request that works as it stands.
    pub example: &'static str,
    /// The shape of a request.
    pub question: Shape,
    /// The shape of an answer.
    pub record: Shape,
    plain: Plain,
    quick: Option<Quick>,
    thorough: ByTree<Ready>,
    handled: ByTree<usize>,
    pictures: Option<ByTree<(Vec<Picture>, String)>>,
    sheet: Option<ByTree<SheetToDraw>>,
    pub(crate) events: Option<ByTree<EventsToList>>,
    by_row: ByRow,
    list: Option<&'static str>,
    answer_list: Option<&'static str>,
    is_quick: bool,
}

/// The pictures of an answer, with the texts and units for drawing them.
#[derive(Debug, Clone, PartialEq)]
pub struct PicturesToDraw {
    /// The pictures, the one that says most first.
    pub pictures: Vec<Picture>,
    /// The statement of the answer, in the units of the request.
    pub statement: String,
    /// The units of their numbers.
    pub units: UnitSystem,
    /// The caller's own reference, unchanged.
    pub reference: Option<String>,
}

impl Services {
    /// Builds the services for all calculations.
    #[must_use]
    pub fn new() -> Self {
        Self::of(&Everything)
    }

    /// Builds the services for a list of calculations.
    #[must_use]
    pub fn of(catalogue: &impl Catalogue) -> Self {
        let published = document::publish(catalogue);
        let mut collector = Collector { published: &published, services: Vec::new() };
        catalogue.show(&mut collector);
        let services = collector.services;
        Self { services, openapi: published.text() }
    }

    /// The calculation named `name`.
    #[must_use]
    pub fn get(&self, name: &str) -> Option<&Arc<Service>> {
        self.services.iter().find(|service| service.name == name)
    }

    /// Every calculation, in the order of the catalogue.
    pub fn iter(&self) -> impl Iterator<Item = &Arc<Service>> {
        self.services.iter()
    }

    /// The list of calculations, one line each.
    #[must_use]
    pub fn index(&self) -> Index {
        Index::listing(self.iter().map(|service| (service.name, service.summary)))
    }

    /// The problem of a calculation that does not exist.
    #[must_use]
    pub fn unknown(&self, name: &str) -> Problem {
        let names = || self.services.iter().map(|service| service.name);
        let hint = did_you_mean(name, names()).unwrap_or_else(|| {
            format!("The calculations are {}.", names().collect::<Vec<_>>().join(", "))
        });
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
            plain: Plain::of(&shape),
            question: shape,
            record: self.published.shape(&document::record_name(C::NAME)),
            quick: Ways::<C>::QUICK,
            thorough: ways::thorough::<C>,
            handled: ways::handled::<C>,
            by_row: ways::by_row::<C>,
            list: C::LIST,
            answer_list: C::ANSWER_LIST,
            is_quick: C::IS_QUICK,
            pictures: C::PICTURES.map(|_| ways::pictures::<C> as _),
            sheet: C::SHEET.map(|_| ways::sheet::<C> as _),
            events: C::EVENTS.map(|_| ways::events::<C> as _),
        }));
    }
}

/// Documents longer than this take long to answer, and so do those with uncertainty.
const LONG_DOCUMENT: usize = 16 * 1024;

/// Finds the member that asks for uncertainty.
static ASKS_HOW_SURE: LazyLock<Finder<'static>> = LazyLock::new(|| Finder::new("\"uncertainty\""));

impl Service {
    /// Whether this document may take long and belongs in the queue.
    pub(crate) fn takes_long(&self, bytes: &[u8]) -> bool {
        !self.is_quick || bytes.len() > LONG_DOCUMENT || ASKS_HOW_SURE.find(bytes).is_some()
    }

    /// The same for a document in its flat form, by its paths.
    pub(crate) fn paths_take_long<'a>(&self, paths: impl Iterator<Item = &'a str>) -> bool {
        !self.is_quick || asks_how_sure(paths)
    }

    /// How many numbers it takes to answer a document.
    pub(crate) fn handled(&self, document: Value) -> Result<usize, Problem> {
        Ok(self.by_tree(document, self.handled)?.0)
    }

    /// Answers a document.
    pub fn answer(&self, bytes: &[u8]) -> Result<Vec<u8>, Problem> {
        self.answer_to(bytes, Extent::Record)
    }

    /// Answers a document with so much of its record.
    pub fn answer_to(&self, bytes: &[u8], extent: Extent) -> Result<Vec<u8>, Problem> {
        let mut out = Vec::new();
        self.append_answer(bytes, extent, &mut out)?;
        Ok(out)
    }

    /// Appends to `out` the answer to a document; nothing where it has none.
    pub(crate) fn append_answer(
        &self,
        bytes: &[u8],
        extent: Extent,
        out: &mut Vec<u8>,
    ) -> Result<(), Problem> {
        if let Some(quick) = self.quick
            && self.plain.fits(bytes)
            && let Some(answered) = quick(bytes, extent)
        {
            return written::append(&*answered?, extent, out);
        }
        let document = tree::parse(bytes)?;
        let (answer, checked) = telling(extent.told(), || self.by_tree(document, self.thorough))?;
        if checked.asked.is_none() {
            return written::append(&*answer, extent, out);
        }
        let record = self.as_tree(&*answer, &checked)?;
        let record = match extent {
            Extent::Record => record,
            Extent::Minimal => brief(record),
        };
        written::append_tree(&record, out)
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
        let (answer, checked) = self.by_tree(document, self.thorough)?;
        self.as_tree(&*answer, &checked)
    }

    /// An answer as a tree, in the caller's units.
    fn as_tree(&self, answer: &dyn Written, checked: &Checked) -> Result<Value, Problem> {
        let mut record = written::as_tree(answer)?;
        if let Some(asked) = &checked.asked {
            uncertain::rescale(&mut record, &self.record, asked, checked.units);
        }
        Ok(record)
    }

    /// Answers a row of a table in any units into leaves in the row's units.
    pub(crate) fn answer_row(
        &self,
        row: Reader<'_>,
        units: UnitSystem,
        columns: &Columns,
        leaves: &mut Leaves,
    ) -> Straight {
        (self.by_row)(row, units, columns, leaves)
    }

    /// The question's one list, if the question is a list.
    #[must_use]
    pub fn list(&self) -> Option<&'static str> {
        self.list
    }

    /// The list of its answer that a table is answered with, if there is one.
    #[must_use]
    pub fn answer_list(&self) -> Option<&'static str> {
        self.answer_list
    }

    /// Whether its answers have pictures.
    #[must_use]
    pub fn has_pictures(&self) -> bool {
        self.pictures.is_some()
    }

    /// The pictures of the answer to a document.
    pub fn pictures(&self, bytes: &[u8]) -> Result<PicturesToDraw, Problem> {
        self.pictures_tree(tree::parse(bytes)?)
    }

    /// The pictures of the answer to a document in its flat form.
    pub fn pictures_flat<'a>(
        &self,
        pairs: impl IntoIterator<Item = (&'a str, &'a str)>,
    ) -> Result<PicturesToDraw, Problem> {
        self.pictures_tree(flat::unflatten(pairs, &self.question)?)
    }

    fn pictures_tree(&self, document: Value) -> Result<PicturesToDraw, Problem> {
        let Some(pictures) = self.pictures else {
            let detail = format!("{} has no pictures.", self.name);
            return Err(Problem::plain(ProblemKind::NotAcceptable, detail));
        };
        let reference = reference_of(&document);
        let ((pictures, statement), Checked { units, .. }) = self.by_tree(document, pictures)?;
        Ok(PicturesToDraw { pictures, statement, units, reference })
    }

    /// Whether its answers have a job sheet.
    #[must_use]
    pub fn has_sheet(&self) -> bool {
        self.sheet.is_some()
    }

    /// The job sheet of the answer to a document.
    pub fn sheet(&self, bytes: &[u8]) -> Result<SheetToDraw, Problem> {
        self.sheet_tree(tree::parse(bytes)?)
    }

    /// The job sheet of the answer to a document in its flat form.
    pub fn sheet_flat<'a>(
        &self,
        pairs: impl IntoIterator<Item = (&'a str, &'a str)>,
    ) -> Result<SheetToDraw, Problem> {
        self.sheet_tree(flat::unflatten(pairs, &self.question)?)
    }

    fn sheet_tree(&self, document: Value) -> Result<SheetToDraw, Problem> {
        let Some(sheet) = self.sheet else {
            let detail = format!("{} has no job sheet.", self.name);
            return Err(Problem::plain(ProblemKind::NotAcceptable, detail));
        };
        Ok(self.by_tree(document, sheet)?.0)
    }

    /// Checks a document, converts it to the engine's units and answers it in the
    /// given way.
    pub(crate) fn by_tree<Answer>(
        &self,
        mut document: Value,
        answer: ByTree<Answer>,
    ) -> Result<(Answer, Checked), Problem> {
        let reference = reference_of(&document);
        let answered = self.checked(&mut document).and_then(|checked| {
            let answered = answer(&document, checked.asked.as_ref()).map_err(Problem::new)?;
            answered.map(|answer| (answer, checked))
        });
        answered.map_err(|mut problem| {
            problem.reference = problem.reference.or(reference);
            problem
        })
    }

    /// Checks a document against its schema, converts its numbers to the engine's
    /// units and takes out the member `uncertainty`.
    fn checked(&self, document: &mut Value) -> Result<Checked, Problem> {
        check::check(document, &self.question)?;
        not_given::take_out(document);
        names::check(document, &self.question)?;
        let units = units_of(document).unwrap_or(UnitSystem::Metric);
        let uncertainty = uncertain::take(document);
        let out = self.question.to_metric(document, units, FAULTS_LISTED + 1);
        if !out.is_empty() {
            let fault = |out: OutOfBounds| {
                let detail = out_of_range(out.row, out.given, units);
                RequestFault::new(FaultCode::OutOfRange, out.pointer, detail)
            };
            return Err(Problem::with_faults(out.into_iter().map(fault).collect()));
        }
        let asked = match uncertainty {
            Some(given) => Some(uncertain::read(given, document, &self.question, units)?),
            None => None,
        };
        Ok(Checked { units, asked })
    }
}

/// A document that has been read and not yet answered.
pub(crate) struct Checked {
    units: UnitSystem,
    asked: Option<Asked>,
}

fn reference_of(document: &Value) -> Option<String> {
    document.get(REFERENCE).and_then(Value::as_str).map(str::to_owned)
}
