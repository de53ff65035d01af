//! What a calculation is, and the list of all of them.
//!
//! A question is a struct, and the struct is the definition: its fields, their
//! docs and their quantities are read by generic code into the route, the flat
//! form, the schema, the error pointers and the tests.

use crate::balance::Balance;
use crate::calculations;
pub use crate::caution::Caution;
use crate::chart::Chart;
pub use crate::finding::{Finding, Severity};
use crate::handbook::water::DENSITY_AT_20_CELSIUS;
use crate::quantity::{Density, Quantity, Temperature};
use crate::refusal::Refusal;
use crate::sentence::Sentence;
use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
use std::borrow::Cow;
use utoipa::ToSchema;

/// A question that the service answers.
pub trait Calculation: Serialize + DeserializeOwned + ToSchema + 'static {
    /// Its name on the wire, in kebab case.
    const NAME: &'static str;
    /// What it answers, in a line for a technician.
    const SUMMARY: &'static str;
    /// A complete request, envelope included, that works as it stands.
    const EXAMPLE: &'static str;
    /// What it answers with.
    type Answer: Serialize + DeserializeOwned + ToSchema;
    /// The list that the question is, where it is one list: a table sent to it is
    /// then that list, a row an entry.
    const LIST: Option<&'static str> = None;
    /// Whether a short question is answered in microseconds, so that nobody has to
    /// wait behind it.
    const IS_QUICK: bool = false;
    /// Whether its answer can be drawn.
    const HAS_CHART: bool = false;

    /// Answers the question or says why it has no answer.
    fn calculate(&self) -> Result<Outcome<Self::Answer>, Refusal>;

    /// How much work it was to come from the question to `answer`, beside reading the one
    /// and writing the other: in handled numbers, each the half of a microsecond or so.
    /// Said by what is gone through again and again inside, and never by a clock, so that
    /// the same question is always drawn as often.
    fn work(&self, answer: &Self::Answer) -> usize {
        let _ = answer;
        0
    }

    /// The picture of an answer, where [`HAS_CHART`](Self::HAS_CHART) promises one.
    fn chart(&self, answer: &Self::Answer) -> Option<Chart> {
        let _ = answer;
        None
    }
}

/// Code that is written once for every calculation.
pub trait Visitor {
    /// Called for each calculation in turn.
    fn visit<C: Calculation>(&mut self);
}

/// A list of calculations.
pub trait Catalogue {
    /// Shows each of them to `visitor`.
    fn show(&self, visitor: &mut impl Visitor);
}

/// The list of what there is.
#[derive(Debug, Clone, Copy)]
pub struct Everything;

impl Catalogue for Everything {
    fn show(&self, visitor: &mut impl Visitor) {
        visitor.visit::<calculations::concentration::InBand>();
        visitor.visit::<calculations::blend::Blend>();
        visitor.visit::<calculations::top_up::TopUp>();
        visitor.visit::<calculations::recharge::Recharge>();
        visitor.visit::<calculations::make_up::MakeUp>();
        visitor.visit::<calculations::losses::LossLog>();
        visitor.visit::<calculations::forecast::Forecast>();
        visitor.visit::<calculations::separation::Separation>();
        visitor.visit::<calculations::recycler::Recycler>();
        visitor.visit::<calculations::fluid_loop::FluidLoop>();
        visitor.visit::<calculations::disposal::Disposal>();
        visitor.visit::<calculations::cost_comparison::CostComparison>();
        visitor.visit::<calculations::refractometer_factor::RefractometerCalibration>();
        visitor.visit::<calculations::sump_volume::SumpVolume>();
    }
}

/// An answer with what stands behind it and what to beware of.
#[derive(Debug, Clone, PartialEq)]
pub struct Outcome<Answer> {
    /// The calculation's own result.
    pub answer: Answer,
    /// What to look at first, the worst first.
    pub findings: Vec<Finding>,
    /// The material balance behind it; none where no material moves.
    pub balance: Option<Balance>,
    /// What was taken for granted because the request did not say.
    pub assumptions: Vec<Assumption>,
    /// What can hurt a person, a machine or the environment in doing it.
    pub cautions: Vec<Caution>,
}

/// Something taken for granted because the request did not say.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Assumption {
    /// JSON pointer to the member that would have said it; empty for the
    /// request as a whole.
    #[schema(example = "/stocks/0/density")]
    pub pointer: Cow<'static, str>,
    /// What was taken for granted, in a sentence.
    #[schema(value_type = String)]
    pub text: Sentence,
}

impl Assumption {
    /// An assumption about the member at `pointer`.
    pub fn new(pointer: impl Into<Cow<'static, str>>, text: impl Into<Sentence>) -> Self {
        Self { pointer: pointer.into(), text: text.into() }
    }

    /// An assumption that something weighs what water weighs at 20 °C. The template
    /// has a place for the temperature and one for the density, in this order.
    pub fn like_water(
        pointer: impl Into<Cow<'static, str>>,
        template: impl Into<Cow<'static, str>>,
    ) -> Self {
        let text = Sentence::new(template)
            .with(Temperature::measure_of(20.0))
            .with(Density::measure_of(DENSITY_AT_20_CELSIUS).rounded(7));
        Self::new(pointer, text)
    }
}
