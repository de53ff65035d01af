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

mod answer;
mod assumptions;
mod balance;
mod cautions;
mod checks;
mod findings;
mod job_sheet;
mod picture;
mod question;
mod statement;

pub use answer::BlendAnswer;
pub use question::{BatchTarget, Blend};

use crate::calculation::{Calculation, DrawPictures, Outcome};
use crate::fluid::batch::{Mix, Take, any_cost, parts, recipe};
use crate::fluid::{Fluid, parts_of_water};
use crate::job_sheet::MakeSheet;
use crate::quantity::{Mass, Money, Parts, Quantity, Share, Volume};
use crate::text::{Refusal, Sentence, filed, said};

impl Calculation for Blend {
    const NAME: &'static str = "blend";
    const SUMMARY: &'static str = "How much of each stock makes a batch of the strength asked for, \
                                   within the limits on what it carries";
    const EXAMPLE: &'static str = include_str!("../../../../../examples/blend.json");
    const IS_QUICK: bool = true;
    const SHEET: Option<MakeSheet<Self, BlendAnswer>> = Some(Self::job_sheet);
    type Answer = BlendAnswer;
    const PICTURES: Option<DrawPictures<Self>> = Some(picture::pictures);

    fn calculate(&self) -> Result<Outcome<BlendAnswer>, Refusal> {
        self.check()?;
        let (v_t, c_t) = (self.target.volume.get(), self.target.concentration.get());
        let recipe = recipe(&self.stocks, v_t, c_t, &self.limits, self.goal.as_ref())?;
        let poured: Vec<Fluid> =
            self.stocks.iter().zip(&recipe.volumes).map(|(s, v)| s.fluid(*v)).collect();
        let mix = balance::mixed(&poured, v_t, c_t);
        let parts = parts(&self.stocks, c_t);
        let take = self.stocks.iter().zip(&poured).enumerate().map(|(i, (stock, fluid))| {
            Ok(Take {
                name: stock.name.to_string(),
                volume: Volume::of(fluid.volume)?,
                mass: Mass::of(fluid.mass)?,
                share: Share::of_fraction((fluid.volume / v_t).min(1.0))?,
                parts: parts.map(|parts| Parts::of(parts[i])).transpose()?,
            })
        });
        let carries = mix.properties()?;
        Ok(Outcome {
            findings: said(|| self.findings(&carries)),
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
            assumptions: filed(|| self.assumptions()),
            cautions: said(|| self.cautions(&poured)),
        })
    }

    fn statement(&self, answer: &BlendAnswer) -> Sentence {
        self.stated(answer)
    }
}

impl Blend {
    fn cost(&self, volumes: &[f64]) -> Result<Option<Money>, Refusal> {
        if !any_cost(&self.stocks) {
            return Ok(None);
        }
        let costs = self.stocks.iter().map(|s| s.unit_cost.map_or(0.0, Quantity::get));
        Ok(Some(Money::of(costs.zip(volumes).map(|(cost, v)| cost * v).sum())?))
    }
}
