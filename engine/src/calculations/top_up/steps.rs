//! The steps of a top-up in the order in which a careful person does them.

use super::Premix;
use crate::quantity::{Concentration, Mark, Quantity, Volume};
use crate::refusal::Refusal;
use crate::sentence::Sentence;
use crate::stock::Stock;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// One thing to do.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Step {
    /// What kind of step it is.
    pub action: Action,
    /// The stock it is done with.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    #[schema(example = "water")]
    pub name: Option<String>,
    /// How much of it.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub volume: Option<Volume>,
    /// How strong it is, or has to be.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub concentration: Option<Concentration>,
    /// What the instrument has to show.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub mark: Option<Mark>,
    /// What to do and how, in a sentence.
    #[schema(value_type = String)]
    pub text: Sentence,
}

/// Kinds of step.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Action {
    /// Drain fluid from the sump.
    Drain,
    /// Pour the weakest stock into a clean vessel.
    Pour,
    /// Stir a stronger stock into it.
    StirIn,
    /// Pour a stock straight into the sump.
    PourIn,
    /// Pour the premix into the sump.
    AddPremix,
    /// Read the instrument again and correct.
    Reread,
}

impl Action {
    const fn text(self) -> &'static str {
        match self {
            Self::Drain => {
                "Drain this much from the sump into the dirty tank, never into the floor drain."
            }
            Self::Pour => "Pour this into a clean vessel outside the sump.",
            Self::StirIn => {
                "Stir this in slowly: concentrate into water, never water into concentrate."
            }
            Self::PourIn => "Pour this into the sump slowly, where the fluid returns.",
            Self::AddPremix => "Pour the premix into the sump slowly, where the fluid returns.",
            Self::Reread => {
                "Let the fluid circulate until it is well mixed, read it again, and correct what is \
                 still missing."
            }
        }
    }

    const fn step(self) -> Step {
        let text = Sentence::fixed(self.text());
        Step { action: self, name: None, volume: None, concentration: None, mark: None, text }
    }
}

pub(super) fn steps(
    drain: f64,
    stocks: &[Stock],
    volumes: &[f64],
    premix: Option<&Premix>,
    comes_to: Concentration,
    mark: Option<Mark>,
) -> Result<Vec<Step>, Refusal> {
    let mut steps = Vec::with_capacity(5);
    if drain > 0.0 {
        steps.push(Step { volume: Some(Volume::of(drain)?), ..Action::Drain.step() });
    }
    let mut used: Vec<(&Stock, f64)> =
        stocks.iter().zip(volumes.iter().copied()).filter(|(_, v)| *v > 0.0).collect();
    used.sort_by(|(a, _), (b, _)| a.concentration.get().total_cmp(&b.concentration.get()));
    let alone = used.len() == 1;
    for (i, (stock, v)) in used.into_iter().enumerate() {
        let action = match i {
            0 if alone => Action::PourIn,
            0 => Action::Pour,
            _ => Action::StirIn,
        };
        steps.push(Step {
            name: Some(stock.name.clone()),
            volume: Some(Volume::of(v)?),
            concentration: Some(stock.concentration),
            ..action.step()
        });
    }
    if let (Some(premix), false) = (premix, alone) {
        let (volume, concentration) = (Some(premix.volume), Some(premix.concentration));
        steps.push(Step { volume, concentration, ..Action::AddPremix.step() });
    }
    if premix.is_some() || drain > 0.0 {
        steps.push(Step { concentration: Some(comes_to), mark, ..Action::Reread.step() });
    }
    Ok(steps)
}
