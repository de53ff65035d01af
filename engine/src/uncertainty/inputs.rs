//! What of a request is uncertain, checked and ready to be drawn.

use super::draws::{SEED, check_range, count};
use super::{INPUTS_MOST, InputCorrelation, InputUncertainty, POINTER, Uncertainty};
use crate::numerics::distribution::{Distribution, DistributionShape, Joint};
use crate::quantity::{Count, Quantity, Row};
use crate::text::{Faults, Kind, Refusal, Sentence};
use nalgebra::DMatrix;
use std::collections::BTreeSet;

/// What is known of a number that an uncertainty points at.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Known {
    /// Its kind.
    pub row: &'static Row,
    /// The number itself, in the metric unit.
    pub estimate: f64,
    /// How many of the metric unit make one of the caller's.
    pub scale: f64,
}

/// What is uncertain, and how often to draw it.
#[derive(Debug, Clone, PartialEq)]
pub struct Asked {
    /// JSON pointers of the inputs.
    pub pointers: Vec<String>,
    /// What is known of each input.
    pub known: Vec<Known>,
    pub(super) joint: Joint,
    pub(super) draws: Option<usize>,
    pub(super) seed: usize,
}

impl Asked {
    /// Checks `uncertainty`, of whose inputs `known` tells what each points at, in
    /// order.
    pub fn new(uncertainty: &Uncertainty, known: Vec<Known>) -> Result<Self, Refusal> {
        let mut faults = Faults::default();
        if uncertainty.inputs.len() > INPUTS_MOST {
            let detail = "There are {} uncertain inputs, and {} are the most. Leave out those that \
                          matter least.";
            let detail = Sentence::new(detail).with(count(uncertainty.inputs.len()));
            faults.add(format!("{POINTER}/inputs"), detail.with(count(INPUTS_MOST)));
        }
        check_range(uncertainty.draws, POINTER, &mut faults);
        faults.or_refuse(Kind::OutOfRange)?;
        check_each(uncertainty)?;

        let inputs = uncertainty.inputs.values().zip(&known);
        let inputs = inputs.map(|(input, known)| input.distribution(known)).collect();
        let pointers: Vec<String> = uncertainty.inputs.keys().cloned().collect();
        let correlations = uncertainty.correlations.as_deref().unwrap_or_default();
        Ok(Self {
            joint: joint(inputs, correlations, &pointers)?,
            pointers,
            known,
            draws: uncertainty.draws.map(Count::whole),
            seed: uncertainty.seed.map_or(SEED, Count::whole),
        })
    }
}

/// Whether something is said of each input, and said once.
fn check_each(uncertainty: &Uncertainty) -> Result<(), Refusal> {
    let (mut twice, mut missing) = (Faults::default(), Faults::default());
    for (pointer, input) in &uncertainty.inputs {
        let at = format!("{POINTER}/inputs/{}", step(pointer));
        match (input.u, input.half_width) {
            (Some(_), Some(_)) => {
                let detail = "The uncertainty of {} is given twice, as u and as half_width. Give \
                              one of them.";
                twice.add(at, Sentence::new(detail).say(pointer.clone()));
            }
            (None, None) => {
                let detail = "How uncertain is {}? Give u, its standard uncertainty, or half_width, \
                              how far it may lie off.";
                missing.add(at, Sentence::new(detail).say(pointer.clone()));
            }
            _ => {}
        }
    }
    if uncertainty.inputs.is_empty() {
        let detail = "Nothing is uncertain. Name at least one input by its JSON pointer, such as \
                      /sump/volume, or leave out uncertainty.";
        missing.add(format!("{POINTER}/inputs"), Sentence::new(detail));
    }
    twice.or_refuse(Kind::Inconsistent)?;
    missing.or_refuse(Kind::NotIdentifiable)
}

impl InputUncertainty {
    fn distribution(&self, known: &Known) -> Distribution {
        let usual = match self.u {
            Some(_) => DistributionShape::Normal,
            None => DistributionShape::Rectangular,
        };
        let shape = self.shape.unwrap_or(usual);
        let half_width = self.half_width.map_or(0.0, Quantity::get);
        let u = self.u.map_or(half_width / shape.half_widths_in_u(), Quantity::get);
        Distribution { estimate: known.estimate, u: u * known.scale, shape }
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
                let detail = "There is no input {} among the uncertain ones.";
                let detail = Sentence::new(detail).say(pointer.clone());
                faults.add(format!("{at}/{member}"), detail);
            }
            place
        };
        let (first, second) =
            (place("first", &correlation.first), place("second", &correlation.second));
        let (Some(first), Some(second)) = (first, second) else { continue };
        if first == second {
            let detail = "An input goes together with itself anyway. Name two inputs.";
            faults.add(at, Sentence::new(detail));
        } else if pairs.insert((first.min(second), first.max(second))) {
            matrix[(first, second)] = correlation.coefficient.get();
            matrix[(second, first)] = correlation.coefficient.get();
        } else {
            faults.add(at, Sentence::new("The correlation of these two inputs is given twice."));
        }
    }
    faults.or_refuse(Kind::Inconsistent)?;
    Joint::correlated(inputs, matrix).ok_or_else(|| {
        let detail = "No numbers can go together like this (the matrix of correlations is not \
                      positive semi-definite): of three inputs, two that each follow the third \
                      closely also follow each other. Give the missing correlations, or weaker ones.";
        let pointer = format!("{POINTER}/correlations");
        Refusal::new(Kind::Inconsistent, pointer, Sentence::new(detail))
    })
}

/// A pointer as a step of a longer pointer.
fn step(pointer: &str) -> String {
    pointer.replace('~', "~0").replace('/', "~1")
}
