//! Waters: how hard each is, what conducts in it, and what to mix of them.
//!
//! *Our town water has 14 °dH and 48 mg/L of chloride: how much deionised water goes into it so
//! that the fluid neither foams nor salts up, and how much has the mixed bed to make a day?*
//!
//! 1. hardness as calcium carbonate: H = value · factor of its unit, or 2.4973·Ca + 4.1180·Mg (mg/L)
//! 2. a blend of xᵢ litres with Σ xᵢ = V carries Σ xᵢ·sᵢ/V of each property sᵢ; the least cost Σ pᵢ·xᵢ
//!    within all limits is the linear programme of `blend`, with its proof
//! 3. conductivity of a salt: κ = c/M·λ, with M the mass and λ the limiting conductivity of an
//!    equivalent
//! 4. to make a day: the share of what the shop itself makes, times the daily need
//!
//! Assumes that volumes add and that nothing precipitates when waters are mixed, which lime can.
//! Sources: the definitions of the units (`handbook/water/hardness.rs`), classes of the USGS as
//! restated by the WQA, TRGS 611 (nitrate). Softening exchanges calcium and magnesium for sodium:
//! hardness leaves, chloride and sulphate stay.

mod answer;
mod blending;
mod checks;
mod findings;
mod hardness;
mod question;
mod statement;

pub use answer::{
    BlendedWater, HardnessClass, HardnessInUnits, JudgedWater, SaltConducts, WaterAnswer, WaterTake,
};
pub use question::{HardnessWindow, Water, WaterSource};

use crate::calculation::{Calculation, Outcome};
use crate::handbook::water::ions::conductivity_of;
use crate::numerics::order;
use crate::quantity::{Conductivity, DailyRate, Quantity, Share, Temperature, Volume};
use crate::sentence;
use crate::text::{Assumption, Caution, Refusal, Sentence, filed, said};
use std::borrow::Cow;

impl Calculation for Water {
    const NAME: &'static str = "water";
    const SUMMARY: &'static str = "How hard a water is in every unit, and which waters to mix so \
                                   that fluid neither foams nor salts up";
    const EXAMPLE: &'static str = include_str!("../../../../../examples/water.json");
    type Answer = WaterAnswer;

    fn calculate(&self) -> Result<Outcome<WaterAnswer>, Refusal> {
        self.check()?;
        let blending = self.blended()?;
        let judged = self.waters.iter().map(WaterSource::judged);
        let (blend, balance) = match blending {
            Some(blending) => (Some(blending.answer), Some(blending.balance)),
            None => (None, None),
        };
        let answer = WaterAnswer {
            waters: judged.collect::<Result<_, Refusal>>()?,
            made_per_day: self.made_per_day(blend.as_ref())?,
            blend,
        };
        Ok(Outcome {
            findings: said(|| self.findings(&answer)),
            balance,
            assumptions: filed(|| self.assumptions()),
            cautions: said(|| vec![Caution::SKIN_AND_MIST]),
            answer,
        })
    }

    fn statement(&self, answer: &WaterAnswer) -> Sentence {
        self.in_short(answer)
    }
}

impl WaterSource {
    fn judged(&self) -> Result<JudgedWater, Refusal> {
        let hardness = self.mg_per_litre();
        let ions = [("calcium", self.calcium), ("magnesium", self.magnesium)];
        let ions = ions.into_iter().filter_map(|(name, content)| Some((name, content?)));
        let others = self.properties.matter.iter().map(|(name, content)| (name.as_str(), *content));
        let mut conducts = Vec::new();
        for (name, content) in ions.chain(others) {
            let Some(conductivity) = conductivity_of(name, content.get()) else { continue };
            let whole = self.conductivity.map(Quantity::get).filter(|whole| *whole > 0.0);
            let share = whole.map(|whole| Share::of_fraction((conductivity / whole).min(1.0)));
            conducts.push(SaltConducts {
                name: Cow::Owned(name.to_owned()),
                conductivity: Conductivity::of(conductivity)?,
                share: share.transpose()?,
            });
        }
        order::greatest_first(&mut conducts, |salt| salt.conductivity.get());
        Ok(JudgedWater {
            name: self.name.clone(),
            hardness: hardness.map(hardness::in_units).transpose()?,
            class: hardness.map(hardness::class),
            conducts,
        })
    }
}

impl Water {
    /// Equation 4.
    fn made_per_day(&self, blend: Option<&BlendedWater>) -> Result<Option<DailyRate>, Refusal> {
        let Some((daily, blend)) = self.daily.zip(blend) else { return Ok(None) };
        if self.waters.iter().all(|water| water.made_here != Some(true)) {
            return Ok(None);
        }
        let made = self.waters.iter().zip(&blend.take);
        let made = made.filter(|(water, _)| water.made_here == Some(true));
        let share: f64 = made.map(|(_, take)| take.share.get() / 100.0).sum();
        Ok(Some(DailyRate::of(daily.get() * share)?))
    }

    fn assumptions(&self) -> Vec<Assumption> {
        let mut assumptions = vec![Assumption::new(
            "",
            sentence!(
                "Hardness was taken as calcium carbonate, and nothing was assumed to precipitate when \
                 waters are mixed."
            ),
        )];
        if self.is_blended() {
            assumptions.push(Assumption::volumes_add());
            if self.make.is_none() {
                let text = sentence!(
                    "The blend was worked out for {}.",
                    Volume::measure_of(blending::LITRES)
                );
                assumptions.push(Assumption::new("/make", text));
            }
            if self.waters.iter().all(|water| water.unit_cost.is_none()) {
                let text =
                    sentence!("Waters were preferred in their order, since none has a price.");
                assumptions.push(Assumption::new("/waters", text));
            }
        }
        let conducts = |water: &WaterSource| !water.properties.matter.is_empty();
        if self.waters.iter().any(conducts) {
            let text = sentence!(
                "What salts conduct was estimated from limiting conductivities at {}; together they come \
                 out some per cent too high.",
                Temperature::measure_of(25.0)
            );
            assumptions.push(Assumption::new("/waters", text));
        }
        assumptions
    }
}
