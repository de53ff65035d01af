//! How much of each stock makes the batch.
//!
//! *I need 800 L at 6 %, I have 500 L of recycled fluid, a drum of concentrate,
//! tap water that is too hard and some deionised. What goes in?*
//!
//! With V the batch (L), c_t its concentration, cᵢ that of stock i (% by volume),
//! vᵢ what is taken of it (L) and uᵢ what is on hand:
//!
//! 1. Σ vᵢ = V
//! 2. Σ cᵢ·vᵢ = c_t·V
//! 3. 0 ≤ vᵢ ≤ uᵢ
//! 4. for each limited property p: min·V ≤ Σ pᵢ·vᵢ ≤ max·V
//! 5. least Σ costᵢ·vᵢ, or most of one stock
//!
//! Two stocks without limits are the Pearson square: the parts of the strong
//! one are c_t − c_low, of the weak one c_high − c_t. Anything else is a linear
//! programme, answered only with its proof
//! ([`numerics::linear_program`](crate::numerics::linear_program)).
//!
//! Assumes that volumes add and that properties mix by volume; hardness that
//! precipitates does not. Valid for any stocks of one product.
//! Source: dairy and pharmacy textbooks on the Pearson square (alligation).

use crate::calculation::{Calculation, Outcome};
use crate::fluid::balance::{Balance, Way};
use crate::fluid::batch::{Binding, Goal, Mix, Take, any_cost, parts, recipe};
use crate::fluid::practice::{self, PREMIX_AT_MOST, names_biocide, names_nitrite};
use crate::fluid::properties::{Limits, Properties};
use crate::fluid::stock::{self, Stock};
use crate::fluid::{Fluid, parts_of_water};
use crate::quantity::{Capacity, Concentration, Mass, Money, Parts, Quantity, Share, Volume};
use crate::text::{Assumption, Caution, Finding, Refusal};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

mod checks;

/// A batch to make, and the stocks to make it from.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Blend {
    /// The batch to make.
    pub target: BatchTarget,
    /// What there is to mix from, most preferred first.
    #[schema(min_items = 1, max_items = 20000)]
    pub stocks: Vec<Stock>,
    /// What the batch may carry of each property. The stocks say what they carry.
    #[serde(skip_serializing_if = "Limits::is_empty", default)]
    pub limits: Limits,
    /// What to aim for where several batches would do; the least cost when left out.
    pub goal: Option<Goal>,
}

/// The batch to make.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct BatchTarget {
    /// How much to make.
    #[schema(example = 800.0)]
    pub volume: Capacity,
    /// How strong.
    #[schema(example = 6.0)]
    pub concentration: Concentration,
}

/// The batch, and what goes into it.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct BlendAnswer {
    /// What to take, a line for each stock in the order of the request.
    pub take: Vec<Take>,
    /// The batch that comes out.
    pub mix: Mix,
    /// What it costs, when any stock has a cost.
    pub cost: Option<Money>,
    /// The limits and stocks on hand that hold the goal back. Empty when
    /// nothing does, or when there was no goal to hold back: two stocks can be
    /// mixed in one way only, and stocks without costs have none to save.
    pub binding: Vec<Binding>,
}

impl Calculation for Blend {
    const NAME: &'static str = "blend";
    const SUMMARY: &'static str = "How much of each stock makes a batch of the strength asked for, \
                                   within the limits on what it carries";
    const EXAMPLE: &'static str = include_str!("../../../../../examples/blend.json");
    const IS_QUICK: bool = true;
    type Answer = BlendAnswer;

    fn calculate(&self) -> Result<Outcome<BlendAnswer>, Refusal> {
        self.check()?;
        let (v_t, c_t) = (self.target.volume.get(), self.target.concentration.get());
        let recipe = recipe(&self.stocks, v_t, c_t, &self.limits, self.goal.as_ref())?;
        let poured: Vec<Fluid> =
            self.stocks.iter().zip(&recipe.volumes).map(|(s, v)| s.fluid(*v)).collect();
        let mix = mixed(&poured, v_t, c_t);
        let parts = parts(&self.stocks, c_t);
        let take = self.stocks.iter().zip(&poured).enumerate().map(|(i, (stock, fluid))| {
            Ok(Take {
                name: stock.name.clone(),
                volume: Volume::of(fluid.volume)?,
                mass: Mass::of(fluid.mass)?,
                share: Share::of((fluid.volume / v_t * 100.0).min(100.0))?,
                parts: parts.map(|parts| Parts::of(parts[i])).transpose()?,
            })
        });
        let carries = mix.properties()?;
        Ok(Outcome {
            findings: self.findings(&carries),
            answer: BlendAnswer {
                take: take.collect::<Result<_, Refusal>>()?,
                mix: Mix {
                    volume: Volume::of(v_t)?,
                    concentration: self.target.concentration,
                    parts_of_water: parts_of_water(c_t),
                    properties: carries,
                },
                cost: self.cost(&recipe.volumes)?,
                binding: recipe.binding,
            },
            balance: Some(self.balance(&poured, &mix)?),
            assumptions: self.assumptions(),
            cautions: self.cautions(&poured),
        })
    }
}

/// The batch as it was asked for, with the mass and the properties of what was
/// poured.
fn mixed(poured: &[Fluid], v_t: f64, c_t: f64) -> Fluid {
    let mut mix = Fluid::default();
    poured.iter().for_each(|fluid| mix += fluid);
    mix.volume = v_t;
    mix.concentrate = v_t * c_t / 100.0;
    mix
}

impl Blend {
    /// What can hurt in pouring what is told.
    fn cautions(&self, poured: &[Fluid]) -> Vec<Caution> {
        let taken = || self.stocks.iter().zip(poured).filter(|(_, fluid)| fluid.volume > 0.0);
        let biocide = taken().any(|(stock, _)| names_biocide(&stock.name));
        let strong = |(stock, _): &(&Stock, &Fluid)| stock.concentration.get() > PREMIX_AT_MOST;
        let fluids = taken().filter(|(stock, _)| stock.concentration.get() > 0.0).count();
        let carried = taken().flat_map(|(stock, _)| stock::property_names(&stock.properties));
        let mut cautions = Vec::new();
        let mut when = |told: bool, caution| {
            if told {
                cautions.push(caution);
            }
        };
        when(taken().any(|taken| strong(&taken)), Caution::CONCENTRATE);
        when(fluids > 0, Caution::SKIN_AND_MIST);
        when(fluids > 1, Caution::INCOMPATIBLE_FLUIDS);
        when(biocide, Caution::BIOCIDE);
        when(names_nitrite(carried), Caution::NITROSAMINES);
        cautions
    }

    fn cost(&self, volumes: &[f64]) -> Result<Option<Money>, Refusal> {
        if !any_cost(&self.stocks) {
            return Ok(None);
        }
        let costs = self.stocks.iter().map(|s| s.unit_cost.map_or(0.0, Quantity::get));
        Ok(Some(Money::of(costs.zip(volumes).map(|(cost, v)| cost * v).sum())?))
    }

    fn balance(&self, poured: &[Fluid], mix: &Fluid) -> Result<Balance, Refusal> {
        let stocks = self.stocks.iter().zip(poured).filter(|(_, fluid)| fluid.volume > 0.0);
        let mut streams: Vec<_> =
            stocks.map(|(stock, fluid)| (stock.name.as_str(), Way::In, fluid)).collect();
        streams.push(("batch", Way::Stays, mix));
        Balance::close(&streams)
    }

    /// What is found of the stocks and of what the batch carries.
    fn findings(&self, carries: &Properties) -> Vec<Finding> {
        let mut findings = stock::findings(&self.stocks);
        for (name, content) in &carries.matter {
            let of = |stock: &Stock| stock.properties.matter.get(name).map_or(0.0, |c| c.get());
            let contents = self.stocks.iter().map(of).enumerate();
            let most = contents.max_by(|a, b| a.1.total_cmp(&b.1)).map_or(0, |(i, _)| i);
            let pointer = format!("/stocks/{most}/properties/{name}");
            findings.extend(practice::nitrite(name, *content, &pointer));
            let limit = self.limits.matter.get(name);
            findings.extend(practice::soft_water(name, *content, limit, &pointer));
        }
        findings
    }

    fn assumptions(&self) -> Vec<Assumption> {
        let mut assumptions = stock::assumptions(&self.stocks);
        if any_cost(&self.stocks) {
            let free = self.stocks.iter().enumerate().filter(|(_, s)| s.unit_cost.is_none());
            assumptions.extend(free.map(|(i, stock)| {
                let text = format!("{}: costs nothing.", stock.name);
                Assumption::new(format!("/stocks/{i}/unit_cost"), text)
            }));
        } else if self.stocks.len() > 2 && !matches!(self.goal, Some(Goal::Use(_))) {
            let text = "No stock has a cost, so earlier stocks in the list were preferred.";
            assumptions.push(Assumption::new("/goal", text));
        }
        assumptions
    }
}
