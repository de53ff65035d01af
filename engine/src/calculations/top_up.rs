//! What to add to a sump to bring it to its level and its strength.
//!
//! *The sump is down to 140 of 200 L and reads 5.6. What do I pour in?*
//!
//! With V₀ and c₀ what is in the sump (L, % by volume), V_t and c_t the target, D
//! what is drained (L), A what is added (L) and c_A its concentration:
//!
//! 1. volume: V₀ − D + A = V_t
//! 2. concentrate: c₀·(V₀ − D) + c_A·A = c_t·V_t
//!
//! D is the least for which the stocks can make c_A; where nothing may be
//! drained, D = 0 and c_A is as near as the stocks come. The addition is then a
//! [`blend`] of A litres at c_A: the premix.
//!
//! Assumes that the sump is well mixed when it is drained and after it is
//! filled, and that volumes add. Valid for any sump of one product.
//! Source: the Pearson square, as in [`blend`]; a premix instead of neat water
//! or neat concentrate is guidance of the UK's HSE and lubricant trade, at
//! second hand.

use super::blend;
use crate::balance::{Balance, Way};
use crate::calculation::{Assumption, Calculation, Caution, Outcome};
use crate::fluid::{Fluid, ratio};
use crate::handbook::water::DENSITY_AT_20_CELSIUS;
use crate::properties::{Limits, Properties};
use crate::quantity::{Capacity, Concentration, Mark, Quantity, Share, Volume};
use crate::reading::Reading;
use crate::refusal::Refusal;
use crate::stock::{self, Stock};
use serde::{Deserialize, Serialize};
use std::borrow::Cow;
use utoipa::ToSchema;

mod checks;
mod plan;
mod steps;

pub use steps::{Action, Step};

/// A sump and what it is to be brought to.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct TopUp {
    /// The sump as it is.
    pub sump: Sump,
    /// What it is to be brought to.
    pub target: SumpTarget,
    /// What there is to add; neat concentrate and water when left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(min_items = 1, max_items = 20000)]
    pub stocks: Option<Vec<Stock>>,
    /// Whether fluid may be drained to make room; allowed when left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub draining: Option<Draining>,
}

/// A machine's sump as it is now.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Sump {
    /// What it holds when full to its working level.
    #[schema(example = 200.0)]
    pub capacity: Capacity,
    /// What is in it now.
    #[schema(example = 140.0)]
    pub volume: Volume,
    /// How strong the fluid in it is. Give this or a reading; neither is needed
    /// for an empty sump.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub concentration: Option<Concentration>,
    /// What an instrument says about the fluid in it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reading: Option<Reading>,
    /// What else the fluid in it carries.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
}

/// What a sump is to be brought to.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SumpTarget {
    /// How strong the fluid is to be.
    #[schema(example = 8.0)]
    pub concentration: Concentration,
    /// How much is to be in the sump; its capacity when left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub volume: Option<Capacity>,
}

/// Whether fluid may be drained to make room.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Draining {
    /// As much as it takes, and no more.
    Allowed,
    /// Nothing leaves the sump; the target is met as nearly as it can be.
    NotAllowed,
}

/// What to do to the sump, and what it comes to.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct TopUpAnswer {
    /// How much to drain first.
    pub drain: Volume,
    /// How much of each stock goes in, a line for each in the order of the request.
    pub add: Vec<Addition>,
    /// The same as one premix to prepare beside the machine; absent when
    /// nothing is to be added.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub premix: Option<Premix>,
    /// What the sump comes to.
    pub after: SumpAfter,
    /// By how many points the sump stays off its target concentration; 0 when
    /// it is met.
    pub misses_by: Share,
    /// What to do, in the order in which a careful person does it.
    pub steps: Vec<Step>,
}

/// How much of a stock goes in.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Addition {
    /// The stock.
    #[schema(example = "concentrate")]
    pub name: String,
    /// How much of it.
    pub volume: Volume,
}

/// What goes into the sump, mixed beforehand.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Premix {
    /// How much of it to prepare.
    pub volume: Volume,
    /// How strong.
    pub concentration: Concentration,
    /// The same as concentrate to water, "1:n", rounded for reading aloud.
    #[schema(example = "1:9.1")]
    pub ratio: String,
}

/// The sump afterwards.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SumpAfter {
    /// What is in it.
    pub volume: Volume,
    /// How strong it is.
    pub concentration: Concentration,
    /// What the instrument of the reading must show then: °Brix, refractive
    /// index, or millilitres, as the reading was. Absent without a reading, or
    /// where the instrument's scale or its table does not reach so far.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub mark: Option<Mark>,
    /// What else it carries.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
}

impl Calculation for TopUp {
    const NAME: &'static str = "top-up";
    const SUMMARY: &'static str = "What to add to a sump to bring it to its level and its strength, \
                                   and what the instrument must read afterwards";
    const EXAMPLE: &'static str = include_str!("../../../examples/top-up.json");
    const IS_QUICK: bool = true;
    type Answer = TopUpAnswer;

    fn calculate(&self) -> Result<Outcome<TopUpAnswer>, Refusal> {
        let stocks = self.stocks();
        self.check(&stocks)?;
        let v_0 = self.sump.volume.get();
        // An empty sump is as strong as anything; its strength counts for nothing.
        let c_0 = self.sump.strength()?.map_or(0.0, Quantity::get);
        let v_t = self.target.volume.unwrap_or(self.sump.capacity).get();
        let c_t = self.target.concentration.get();
        let job = plan::Job { v_0, c_0, v_t, c_t };
        let plan = plan::plan(&job, &stocks, self.draining())?;

        let a = v_t - v_0 + plan.drain;
        let premix = premix(a, plan.concentrate)?;
        let mut volumes = match &premix {
            Some(premix) => {
                let c_a = premix.concentration.get();
                blend::recipe(&stocks, a, c_a, &Limits::default(), None)?.volumes
            }
            None => vec![0.0; stocks.len()],
        };
        // A billionth of a drop is rounding, and nobody is to pour it.
        volumes.iter_mut().filter(|v| **v < ROUNDING * v_t).for_each(|v| *v = 0.0);
        let before = Fluid::of(v_0, c_0, DENSITY_AT_20_CELSIUS, &self.sump.properties);
        let drained = before.clone() * if v_0 > 0.0 { plan.drain / v_0 } else { 0.0 };
        let poured: Vec<Fluid> = stocks.iter().zip(&volumes).map(|(s, v)| s.fluid(*v)).collect();
        let after = filled(&before, &drained, &poured, v_t, plan.comes_to);
        let comes_to = Concentration::of(plan.comes_to)?;
        let mark = self.sump.reading.as_ref().and_then(|r| r.mark(comes_to, "/sump/reading").ok());
        let additions = stocks
            .iter()
            .zip(&volumes)
            .map(|(stock, v)| Ok(Addition { name: stock.name.clone(), volume: Volume::of(*v)? }));
        let add = additions.collect::<Result<Vec<_>, Refusal>>()?;
        let answer = TopUpAnswer {
            drain: Volume::of(plan.drain)?,
            steps: steps::steps(plan.drain, &stocks, &volumes, premix.as_ref(), comes_to, mark)?,
            add,
            premix,
            after: SumpAfter {
                volume: Volume::of(v_t)?,
                concentration: comes_to,
                mark,
                properties: after.properties()?,
            },
            misses_by: Share::of((plan.comes_to - c_t).abs())?,
        };
        Ok(Outcome {
            findings: Vec::new(),
            balance: Some(balance(&stocks, &before, &drained, &poured, &after)?),
            assumptions: self.assumptions(&stocks),
            cautions: cautions(plan.drain),
            answer,
        })
    }
}

/// Less than this share of the sump is not poured.
const ROUNDING: f64 = 1e-12;

/// The addition as one premix; none when nothing is added.
fn premix(a: f64, concentrate: f64) -> Result<Option<Premix>, Refusal> {
    if a <= 0.0 {
        return Ok(None);
    }
    let c_a = (concentrate / a).clamp(0.0, 100.0);
    let (volume, concentration) = (Volume::of(a)?, Concentration::of(c_a)?);
    Ok(Some(Premix { volume, concentration, ratio: ratio(c_a) }))
}

/// The sump as it was promised, with the mass and the properties of what stayed
/// and what was poured.
fn filled(before: &Fluid, drained: &Fluid, poured: &[Fluid], v_t: f64, comes_to: f64) -> Fluid {
    let mut after = before.clone();
    after += &(drained.clone() * -1.0);
    poured.iter().for_each(|fluid| after += fluid);
    after.volume = v_t;
    after.concentrate = v_t * comes_to / 100.0;
    after
}

fn balance(
    stocks: &[Stock],
    before: &Fluid,
    drained: &Fluid,
    poured: &[Fluid],
    after: &Fluid,
) -> Result<Balance, Refusal> {
    let mut streams = vec![("sump before", Way::In, before)];
    let added = stocks.iter().zip(poured).filter(|(_, fluid)| fluid.volume > 0.0);
    streams.extend(added.map(|(stock, fluid)| (stock.name.as_str(), Way::In, fluid)));
    if drained.volume > 0.0 {
        streams.push(("drained", Way::Out, drained));
    }
    streams.push(("sump after", Way::Stays, after));
    Balance::close(&streams)
}

fn cautions(drain: f64) -> Vec<Caution> {
    let mut cautions = vec![Caution::MACHINE, Caution::SKIN_AND_MIST, Caution::CONCENTRATE];
    if drain > 0.0 {
        cautions.push(Caution::DRAINED_FLUID);
    }
    cautions
}

impl Sump {
    /// How strong the fluid in it is, as far as the request says, in which it is
    /// the member `sump`.
    pub fn strength(&self) -> Result<Option<Concentration>, Refusal> {
        match (self.concentration, &self.reading) {
            (None, Some(reading)) => reading.concentration("/sump/reading").map(Some),
            (concentration, _) => Ok(concentration),
        }
    }
}

impl TopUp {
    fn draining(&self) -> Draining {
        self.draining.unwrap_or(Draining::Allowed)
    }

    /// The stocks given, or the two that every shop has.
    fn stocks(&self) -> Cow<'_, [Stock]> {
        match &self.stocks {
            Some(stocks) => Cow::Borrowed(stocks),
            None => Cow::Owned(default_stocks()),
        }
    }

    fn assumptions(&self, stocks: &[Stock]) -> Vec<Assumption> {
        let mut assumptions = Vec::with_capacity(8);
        if self.stocks.is_none() {
            let text = "Neat concentrate at 100 % and pure water at 0 % were taken to be at hand, \
                        both with the density of water at {}, {}.";
            assumptions
                .push(Assumption::new("", "Volumes add: a mix takes up what its parts took up."));
            assumptions.push(Assumption::like_water("/stocks", text));
        } else {
            assumptions.extend(stock::assumptions(stocks));
        }
        let text = "The fluid in the sump was taken to be well mixed, with the density of water at \
                    {}, {}.";
        assumptions.push(Assumption::like_water("/sump", text));
        if let Some(reading) = &self.sump.reading {
            assumptions.extend(reading.assumptions("/sump/reading"));
        }
        if self.target.volume.is_none() {
            assumptions.push(Assumption::new("/target/volume", "Filled to the sump's capacity."));
        }
        if self.draining.is_none() {
            assumptions.push(Assumption::new("/draining", "Draining was taken to be allowed."));
        }
        assumptions
    }
}

/// Neat concentrate and water.
fn default_stocks() -> Vec<Stock> {
    [("concentrate", 100.0), ("water", 0.0)]
        .into_iter()
        .filter_map(|(name, c)| Some(Stock::plain(name, Concentration::of(c).ok()?)))
        .collect()
}
