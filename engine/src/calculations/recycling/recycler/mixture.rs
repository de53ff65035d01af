//! The feed as the materials that it is made of.

use crate::fluid::Fluid;
use crate::fluid::properties::PropertyName;
use crate::sentence;
use crate::text::{Kind, Refusal};
use std::collections::BTreeMap;

/// Where the good fluid, concentrate and water, lies among the materials (L).
pub(super) const GOOD: usize = 0;
/// Where the tramp oil that separates lies (L).
pub(super) const FREE_OIL: usize = 1;
/// Where the emulsified tramp oil lies (L).
pub(super) const BOUND_OIL: usize = 2;
/// Where the first of the things dissolved or suspended lies (kg).
pub(super) const MATTER: usize = 3;

/// A fluid as amounts of materials, and what is needed to put it together again.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Mixture {
    /// Litres of good fluid, of free and of emulsified oil, then kilograms of
    /// each thing carried.
    pub(super) amounts: Vec<f64>,
    /// The names of the things carried.
    pub(super) names: Vec<PropertyName>,
    /// Concentrate in the good fluid, from 0 to 1.
    strength: f64,
    /// Mass of the good fluid without what it carries, kg/L.
    density: f64,
    oil_density: f64,
    follows_oil: bool,
}

impl Mixture {
    /// Takes `fluid` apart; `emulsified` is the share of its oil that does not
    /// separate, from 0 to 1.
    pub(super) fn of(fluid: &Fluid, emulsified: f64, oil_density: f64) -> Result<Self, Refusal> {
        let oil = fluid.tramp_oil.unwrap_or(0.0);
        let good = fluid.volume - oil;
        let mass = fluid.mass - oil * oil_density - fluid.matter.values().sum::<f64>();
        if good <= 0.0 || mass <= 0.0 {
            let detail = sentence!(
                "What the feed carries, oil and all else together, is as much as all of it. Check \
                 its properties, their units and the densities."
            );
            return Err(Refusal::new(Kind::Inconsistent, "/feed/properties", detail));
        }
        let mut amounts = vec![good, oil * (1.0 - emulsified), oil * emulsified];
        amounts.extend(fluid.matter.values());
        Ok(Self {
            amounts,
            names: fluid.matter.keys().cloned().collect(),
            strength: fluid.concentrate / good,
            density: mass / good,
            oil_density,
            follows_oil: fluid.tramp_oil.is_some(),
        })
    }

    /// All of it, L.
    pub(super) fn volume(&self) -> f64 {
        volume(&self.amounts)
    }

    /// So much of each material, as a fluid.
    pub(super) fn fluid(&self, amounts: &[f64]) -> Fluid {
        let oil = amounts[FREE_OIL] + amounts[BOUND_OIL];
        let matter: BTreeMap<PropertyName, f64> =
            self.names.iter().cloned().zip(amounts[MATTER..].iter().copied()).collect();
        Fluid {
            volume: volume(amounts),
            concentrate: amounts[GOOD] * self.strength,
            tramp_oil: self.follows_oil.then_some(oil),
            mass: amounts[GOOD] * self.density
                + oil * self.oil_density
                + matter.values().sum::<f64>(),
            matter,
        }
    }
}

/// What so much of each material takes up, L.
pub(super) fn volume(amounts: &[f64]) -> f64 {
    amounts[GOOD] + amounts[FREE_OIL] + amounts[BOUND_OIL]
}
