//! The steps of a top-up in the order in which a careful person does them.

use super::FilledVessel;
use super::job::Job;
use super::measured::Measured;
use super::plan::TopUpPlan;
use crate::fluid::batch::Premix;
use crate::fluid::practice::PREMIX_AT_MOST;
use crate::fluid::reading::Reading;
use crate::fluid::stock::Stock;
use crate::quantity::{Concentration, Mark, Measure, Quantity, Volume};
use crate::sentence;
use crate::text::{Name, Refusal, Sentence};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// One thing to do.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct TopUpStep {
    /// # Do
    ///
    /// Kind of step.
    pub action: TopUpAction,
    /// # Stock
    ///
    /// Stock that it is done with.
    #[schema(example = "water", value_type = Option<String>)]
    pub name: Option<Name>,
    /// # Volume
    ///
    /// Volume of it, exactly; the text has it as it is measured out.
    pub volume: Option<Volume>,
    /// # Strength
    ///
    /// Strength that it has, or must have.
    pub concentration: Option<Concentration>,
    /// # Instrument must read
    ///
    /// What the instrument must read.
    pub mark: Option<Mark>,
    /// # How
    ///
    /// What to do and how, in a sentence.
    #[schema(value_type = String)]
    pub text: Sentence,
}

/// Kinds of step.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum TopUpAction {
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

impl TopUpAction {
    /// The step of `volume` litres that are called `what`.
    fn text(self, vessel: FilledVessel, volume: Measure, what: Sentence) -> Sentence {
        match (self, vessel) {
            (Self::Drain, _) => sentence!(
                "Drain {} into the tank for used fluid, never into the floor drain.",
                volume
            ),
            (Self::DrawOff, _) => sentence!(
                "Draw {} off into a clean vessel and write product and strength on it: it is good \
                 fluid for a lean sump of the same product, and no waste.",
                volume
            ),
            (Self::Pour, FilledVessel::Sump) => {
                sentence!("Pour {} of {} into a clean vessel outside the sump.", volume, what)
            }
            (
                Self::Pour | Self::PourIn | Self::MixIn | Self::AddPremix,
                FilledVessel::StirredTank,
            ) => sentence!("Pour {} of {} into the tank.", volume, what),
            (Self::StirIn, FilledVessel::Sump) => sentence!(
                "Stir {} of {} in slowly: concentrate into water, never water into concentrate.",
                volume,
                what
            ),
            (Self::StirIn, FilledVessel::StirredTank) => sentence!(
                "With the stirrer running, let {} of {} run in slowly: concentrate into what is in \
                 the tank, never the other way round.",
                volume,
                what
            ),
            (Self::MixIn, FilledVessel::Sump) => {
                sentence!("Add {} of {} to it and mix.", volume, what)
            }
            (Self::PourIn | Self::AddPremix, FilledVessel::Sump) => sentence!(
                "Pour {} of {} into the sump slowly, where the fluid returns.",
                volume,
                what
            ),
            (Self::Reread, _) => what,
        }
    }

    const fn step(self, text: Sentence) -> TopUpStep {
        TopUpStep { action: self, name: None, volume: None, concentration: None, mark: None, text }
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
    pub(super) reading: Option<&'a Reading>,
    pub(super) measured: &'a Measured,
}

pub(super) fn steps(
    job: &Job,
    plan: &TopUpPlan,
    work: &Work<'_>,
) -> Result<Vec<TopUpStep>, Refusal> {
    let (vessel, measured) = (work.vessel, work.measured);
    let mut steps = Vec::with_capacity(5);
    if plan.drain > 0.0 {
        let action =
            if job.drains_good_fluid() { TopUpAction::DrawOff } else { TopUpAction::Drain };
        let text = action.text(vessel, measured.measure(measured.drain), sentence!("fluid"));
        steps.push(TopUpStep {
            volume: Some(Volume::of(plan.drain)?),
            concentration: Some(Concentration::of(job.c_0)?),
            ..action.step(text)
        });
    }
    let used = measured.used(work.stocks);
    let alone = used.len() == 1;
    for (i, (place, stock, litres)) in used.into_iter().enumerate() {
        let action = match i {
            // Alone it is no stronger than a premix may be here.
            0 if alone && vessel == FilledVessel::Sump => TopUpAction::PourIn,
            _ if stock.concentration.get() > PREMIX_AT_MOST => TopUpAction::StirIn,
            0 if alone => TopUpAction::PourIn,
            0 => TopUpAction::Pour,
            _ => TopUpAction::MixIn,
        };
        let text = action.text(vessel, measured.measure(litres), sentence!("{}", &stock.name));
        steps.push(TopUpStep {
            name: Some(stock.name.clone()),
            volume: Some(Volume::of(work.volumes[place])?),
            concentration: Some(stock.concentration),
            ..action.step(text)
        });
    }
    if let (Some(premix), false, FilledVessel::Sump) = (work.premix, alone, vessel) {
        let action = TopUpAction::AddPremix;
        let what = sentence!("this premix ({})", measured.premix.roughly());
        let text = action.text(vessel, measured.measure(measured.added()), what);
        let (volume, concentration) = (Some(premix.volume), Some(premix.concentration));
        steps.push(TopUpStep { volume, concentration, ..action.step(text) });
    }
    if !steps.is_empty() {
        let (concentration, mark) = (Some(work.comes_to), work.mark);
        let step = TopUpAction::Reread.step(reread(work));
        steps.push(TopUpStep { concentration, mark, ..step });
    }
    Ok(steps)
}

/// The last step: what it must read or be, once it is well mixed.
fn reread(work: &Work<'_>) -> Sentence {
    let comes_to = work.measured.comes_to_clause(work.reading);
    match work.vessel {
        FilledVessel::Sump => sentence!(
            "Let the fluid circulate until it is well mixed and read it again: {}. Correct what is \
             still missing.",
            comes_to
        ),
        FilledVessel::StirredTank => sentence!(
            "Stir until it is well mixed and read it again: {}. Correct what is still missing.",
            comes_to
        ),
    }
}
