//! What a job sheet is drawn from: what there is to do, and what must be known before it is
//! done.

use sumpwright_engine::job_sheet::JobSheet;
use sumpwright_engine::picture::Picture;
use sumpwright_engine::quantity::UnitSystem;
use sumpwright_engine::text::{Caution, Finding, Sentence};

/// The job sheet of an answer, with the texts and units for drawing it.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetToDraw {
    /// Name of the calculation.
    pub calculation: &'static str,
    /// The caller's own reference, unchanged.
    pub reference: Option<String>,
    /// The units of its amounts.
    pub units: UnitSystem,
    /// The statement of the answer.
    pub statement: Sentence,
    /// Findings, most urgent first.
    pub findings: Vec<Finding>,
    /// What there is to do.
    pub sheet: JobSheet,
    /// Hazards in doing it.
    pub cautions: Vec<Caution>,
    /// The pictures of the answer.
    pub pictures: Vec<Picture>,
}
