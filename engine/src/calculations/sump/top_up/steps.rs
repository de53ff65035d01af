//! The steps of a top-up in the order in which a careful person does them.

use super::FilledVessel;
use super::plan::{Job, Plan};
use crate::fluid::batch::Premix;
use crate::fluid::practice::PREMIX_AT_MOST;
use crate::fluid::stock::Stock;
use crate::quantity::{Concentration, Mark, Quantity, Volume};
use crate::text::{Refusal, Sentence};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// One thing to do.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Step {
    /// What kind of step it is.
    pub action: Action,
    /// The stock it is done with.
    #[schema(example = "water")]
    pub name: Option<String>,
    /// How much of it.
    pub volume: Option<Volume>,
    /// How strong it is, or has to be.
    pub concentration: Option<Concentration>,
    /// What the instrument has to show.
    pub mark: Option<Mark>,
    /// What to do and how, in a sentence.
    #[schema(value_type = String)]
    pub text: Sentence,
}

/// Kinds of step.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Action {
    /// Drain fluid from the sump that is spent or too weak.
    Drain,
    /// Draw good fluid from the sump into a clean vessel.
    DrawOff,
    /// Pour the weakest stock into a clean vessel.
    Pour,
    /// Stir concentrate into it.
    StirIn,
    /// Add a stock to it that is mixed already: premix or recycled fluid.
    MixIn,
    /// Pour a stock straight into the sump.
    PourIn,
    /// Pour the premix into the sump.
    AddPremix,
    /// Read the instrument again and correct.
    Reread,
}

impl Action {
    const fn text(self, vessel: FilledVessel) -> &'static str {
        match (self, vessel) {
            (Self::Drain, _) => {
                "Drain this much into the tank for used fluid, never into the floor drain."
            }
            (Self::DrawOff, _) => {
                "Draw this much off into a clean vessel and write product and strength on it: it is \
                 good fluid for a lean sump of the same product, and no waste."
            }
            (Self::Pour, FilledVessel::Sump) => "Pour this into a clean vessel outside the sump.",
            (
                Self::Pour | Self::PourIn | Self::MixIn | Self::AddPremix,
                FilledVessel::StirredTank,
            ) => "Pour this into the tank.",
            (Self::StirIn, FilledVessel::Sump) => {
                "Stir this in slowly: concentrate into water, never water into concentrate."
            }
            (Self::StirIn, FilledVessel::StirredTank) => {
                "With the stirrer running, let this run in slowly: concentrate into what is in the \
                 tank, never the other way round."
            }
            (Self::MixIn, FilledVessel::Sump) => "Pour this to it and mix.",
            (Self::PourIn, FilledVessel::Sump) => {
                "Pour this into the sump slowly, where the fluid returns."
            }
            (Self::AddPremix, FilledVessel::Sump) => {
                "Pour the premix into the sump slowly, where the fluid returns."
            }
            (Self::Reread, FilledVessel::Sump) => {
                "Let the fluid circulate until it is well mixed, read it again, and correct what is \
                 still missing."
            }
            (Self::Reread, FilledVessel::StirredTank) => {
                "Stir until it is well mixed, read it again, and correct what is still missing."
            }
        }
    }

    const fn step(self, vessel: FilledVessel) -> Step {
        let text = Sentence::fixed(self.text(vessel));
        Step { action: self, name: None, volume: None, concentration: None, mark: None, text }
    }
}

/// What the steps are made of.
pub(super) struct Work<'a> {
    pub(super) vessel: FilledVessel,
    pub(super) stocks: &'a [Stock],
    pub(super) volumes: &'a [f64],
    pub(super) premix: Option<&'a Premix>,
    pub(super) comes_to: Concentration,
    pub(super) mark: Option<Mark>,
}

pub(super) fn steps(job: &Job, plan: &Plan, work: &Work<'_>) -> Result<Vec<Step>, Refusal> {
    let vessel = work.vessel;
    let mut steps = Vec::with_capacity(5);
    if plan.drain > 0.0 {
        // What is not too weak is good fluid.
        let action = if job.c_0 >= job.c_t { Action::DrawOff } else { Action::Drain };
        let (volume, concentration) = (Volume::of(plan.drain)?, Concentration::of(job.c_0)?);
        steps.push(Step {
            volume: Some(volume),
            concentration: Some(concentration),
            ..action.step(vessel)
        });
    }
    let mut used: Vec<(&Stock, f64)> =
        work.stocks.iter().zip(work.volumes.iter().copied()).filter(|(_, v)| *v > 0.0).collect();
    used.sort_by(|(a, _), (b, _)| a.concentration.get().total_cmp(&b.concentration.get()));
    let alone = used.len() == 1;
    for (i, (stock, v)) in used.into_iter().enumerate() {
        let action = match i {
            // Alone it is no stronger than a premix may be here.
            0 if alone && vessel == FilledVessel::Sump => Action::PourIn,
            _ if stock.concentration.get() > PREMIX_AT_MOST => Action::StirIn,
            0 if alone => Action::PourIn,
            0 => Action::Pour,
            _ => Action::MixIn,
        };
        steps.push(Step {
            name: Some(stock.name.clone()),
            volume: Some(Volume::of(v)?),
            concentration: Some(stock.concentration),
            ..action.step(vessel)
        });
    }
    if let (Some(premix), false, FilledVessel::Sump) = (work.premix, alone, vessel) {
        let (volume, concentration) = (Some(premix.volume), Some(premix.concentration));
        steps.push(Step { volume, concentration, ..Action::AddPremix.step(vessel) });
    }
    if !steps.is_empty() {
        let (concentration, mark) = (Some(work.comes_to), work.mark);
        steps.push(Step { concentration, mark, ..Action::Reread.step(vessel) });
    }
    Ok(steps)
}
