//! What of a request is uncertain, checked and ready to be drawn.

use super::draws::{SEED, count};
use super::{INPUTS_MOST, InputCorrelation, InputUncertainty, POINTER, Uncertainty};
use crate::document::{Pointer, Shape};
use crate::numerics::distribution::{Distribution, DistributionShape, Joint};
use crate::quantity::{Count, DrawCount, Quantity, Row, UnitSystem};
use crate::sentence;
use crate::text::{Faults, Kind, Refusal, Sentence, did_you_mean};
use nalgebra::DMatrix;
use serde_json::Value;
use std::collections::BTreeSet;

/// What is uncertain, and how often to draw it.
#[derive(Debug, Clone, PartialEq)]
pub struct Asked {
    /// JSON pointers of the inputs.
    pub pointers: Vec<String>,
    /// The kind of each input.
    pub rows: Vec<&'static Row>,
    pub(super) joint: Joint,
    pub(super) draws: Option<usize>,
    pub(super) seed: usize,
}

impl Asked {
    /// Checks `uncertainty`, which is said in `units`. Its inputs are numbers of
    /// `document`, a metric one of the shape of `question`.
    pub fn new(
        uncertainty: &Uncertainty,
        document: &Value,
        question: &Shape,
        units: UnitSystem,
    ) -> Result<Self, Refusal> {
        let inputs = inputs_in(uncertainty, document, question)?;
        let mut faults = Faults::default();
        if uncertainty.inputs.len() > INPUTS_MOST {
            let detail = sentence!(
                "There are {} uncertain inputs; {} are the most. Leave out those that matter least.",
                count(uncertainty.inputs.len()),
                count(INPUTS_MOST),
            );
            faults.add(format!("{POINTER}/inputs"), detail);
        }
        faults.or_refuse(Kind::OutOfRange)?;
        check_each(uncertainty)?;

        let said = uncertainty.inputs.values().zip(&inputs);
        let distributions = said.map(|(said, (row, estimate))| {
            said.distribution(*estimate, row.units.metric_per_unit(units))
        });
        let pointers: Vec<String> = uncertainty.inputs.keys().cloned().collect();
        let correlations = uncertainty.correlations.as_deref().unwrap_or_default();
        Ok(Self {
            joint: joint(distributions.collect(), correlations, &pointers)?,
            rows: inputs.into_iter().map(|(row, _)| row).collect(),
            pointers,
            draws: uncertainty.draws.map(DrawCount::whole),
            seed: uncertainty.seed.map_or(SEED, Count::whole),
        })
    }
}

/// The kind of each uncertain number and the number itself, in the order of the inputs.
fn inputs_in(
    uncertainty: &Uncertainty,
    document: &Value,
    question: &Shape,
) -> Result<Vec<(&'static Row, f64)>, Refusal> {
    let mut faults = Faults::default();
    let mut inputs = Vec::new();
    for pointer in uncertainty.inputs.keys() {
        match number_at(pointer, document, question) {
            Ok(input) => inputs.push(input),
            Err(detail) => faults.add(at_input(pointer), detail),
        }
    }
    faults.or_refuse(Kind::Inconsistent)?;
    Ok(inputs)
}

/// The number that a pointer of the caller's points at, and its kind.
fn number_at(
    pointer: &str,
    document: &Value,
    question: &Shape,
) -> Result<(&'static Row, f64), Sentence> {
    let Some(value) = document.pointer(pointer) else {
        return Err(not_there(pointer, document, question));
    };
    let Some(estimate) = value.as_f64() else {
        return Err(sentence!(
            "\"{}\" is not a number in this request, and only a number has an uncertainty.",
            pointer,
        ));
    };
    match question.at(document, &Pointer::from(pointer)) {
        Some(Shape::Number(Some(row))) if !row.whole => Ok((row, estimate)),
        _ => Err(sentence!("\"{}\" is a count, and a count has no uncertainty.", pointer)),
    }
}

fn not_there(pointer: &str, document: &Value, question: &Shape) -> Sentence {
    let numbers = question.numbers(document);
    let meant = Pointer::of_path(&pointer.trim_start_matches(['/', '#']).replace('/', "."));
    let known = numbers.iter().map(|(pointer, ..)| pointer.as_str());
    if let Some(question) = did_you_mean(meant.as_str(), known) {
        return sentence!("This request has nothing at \"{}\". {}", pointer, question);
    }
    sentence!(
        "This request has nothing at \"{}\". Write the names on the way to a number with a slash \
         before each, such as \"/sump/volume\"; entries of lists are numbered from 0.",
        pointer,
    )
}

/// Where the uncertainty of a number stands in the request.
fn at_input(pointer: &str) -> Pointer {
    Pointer::from(POINTER).join("inputs").join(pointer)
}

/// Whether something is said of each input, and said once.
fn check_each(uncertainty: &Uncertainty) -> Result<(), Refusal> {
    let (mut twice, mut missing) = (Faults::default(), Faults::default());
    for (pointer, input) in &uncertainty.inputs {
        let at = at_input(pointer);
        match (input.u, input.half_width) {
            (Some(_), Some(_)) => {
                let detail = sentence!(
                    "The uncertainty of {} is given twice, as u and as half_width. Give one of them.",
                    pointer,
                );
                twice.add(at, detail);
            }
            (None, None) => {
                let detail = sentence!(
                    "How uncertain is {}? Give u, its standard uncertainty, or half_width, the most \
                     by which it can be wrong.",
                    pointer,
                );
                missing.add(at, detail);
            }
            _ => {}
        }
    }
    if uncertainty.inputs.is_empty() {
        let detail = "No input is uncertain. Name at least one by its JSON pointer, such as \
                      /sump/volume, or leave out uncertainty.";
        missing.add(format!("{POINTER}/inputs"), Sentence::fixed(detail));
    }
    twice.or_refuse(Kind::Inconsistent)?;
    missing.or_refuse(Kind::NotIdentifiable)
}

impl InputUncertainty {
    /// The distribution of a number whose `u` is said in a unit of so many metric ones.
    fn distribution(&self, estimate: f64, metric_per_unit: f64) -> Distribution {
        let usual = match self.u {
            Some(_) => DistributionShape::Normal,
            None => DistributionShape::Rectangular,
        };
        let shape = self.shape.unwrap_or(usual);
        let half_width = self.half_width.map_or(0.0, Quantity::get);
        let u = self.u.map_or(half_width / shape.half_widths_in_u(), Quantity::get);
        Distribution { estimate, u: u * metric_per_unit, shape }
    }
}

fn joint(
    inputs: Vec<Distribution>,
    correlations: &[InputCorrelation],
    pointers: &[String],
) -> Result<Joint, Refusal> {
    if correlations.is_empty() {
        return Ok(Joint::independent(inputs));
    }
    let mut matrix = DMatrix::identity(inputs.len(), inputs.len());
    let (mut faults, mut pairs) = (Faults::default(), BTreeSet::new());
    for (i, correlation) in correlations.iter().enumerate() {
        let at = format!("{POINTER}/correlations/{i}");
        let mut place = |member: &str, pointer: &String| {
            let place = pointers.iter().position(|own| own == pointer);
            if place.is_none() {
                let detail = sentence!("{} is not among the uncertain inputs.", pointer);
                faults.add(format!("{at}/{member}"), detail);
            }
            place
        };
        let (first, second) =
            (place("first", &correlation.first), place("second", &correlation.second));
        let (Some(first), Some(second)) = (first, second) else { continue };
        if first == second {
            let detail = "An input is always correlated with itself. Name two inputs.";
            faults.add(at, Sentence::fixed(detail));
        } else if pairs.insert((first.min(second), first.max(second))) {
            matrix[(first, second)] = correlation.coefficient.get();
            matrix[(second, first)] = correlation.coefficient.get();
        } else {
            faults.add(at, Sentence::fixed("The correlation of these two inputs is given twice."));
        }
    }
    faults.or_refuse(Kind::Inconsistent)?;
    Joint::correlated(inputs, matrix).ok_or_else(|| {
        let detail = "These correlations cannot all be true (their matrix is not positive \
                      semi-definite): of three inputs, two that each follow the third closely also \
                      follow each other. Give the missing correlations, or weaker ones.";
        let pointer = format!("{POINTER}/correlations");
        Refusal::new(Kind::Inconsistent, pointer, Sentence::fixed(detail))
    })
}
