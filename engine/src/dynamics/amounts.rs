//! Amounts of fluid as the course of a sump follows them.

use crate::fluid::Fluid;
use crate::fluid::properties::{Properties, PropertyName};
use crate::handbook::conversions::KILOGRAMS_PER_MILLIGRAM;
use crate::handbook::water::DENSITY_AT_20_CELSIUS;
use crate::quantity::{Density, Quantity};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// An amount of fluid, or what flows of it in a day.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Amounts {
    /// Water-mix fluid, L: concentrate and water.
    pub mix: f64,
    /// Concentrate in it, L.
    pub concentrate: f64,
    /// Tramp oil in or on it, L.
    pub oil: f64,
    /// What else is followed, mg, in the order of their names.
    pub matter: Vec<f64>,
}

/// Densities of what a fluid is made of, where they are not that of water.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct MaterialDensities {
    /// # Concentrate
    ///
    /// Density of the neat concentrate. Default: that of water at room temperature.
    pub concentrate: Option<Density>,
    /// # Tramp oil
    ///
    /// Density of the tramp oil. Default: that of water at room temperature.
    pub tramp_oil: Option<Density>,
}

impl Amounts {
    /// Nothing, with room for as many things as are `followed`.
    #[must_use]
    pub fn nothing(followed: usize) -> Self {
        Self { matter: vec![0.0; followed], ..Self::default() }
    }

    /// `volume` litres at `concentration` % by volume carrying `properties`, of
    /// which those in `names` are followed.
    #[must_use]
    pub fn of(
        volume: f64,
        concentration: f64,
        properties: &Properties,
        names: &[PropertyName],
    ) -> Self {
        let oil = volume * properties.tramp_oil.map_or(0.0, Quantity::get) / 100.0;
        let content = |name| properties.matter.get(name).map_or(0.0, |content| content.get());
        Self {
            mix: volume - oil,
            concentrate: volume * concentration / 100.0,
            oil,
            matter: names.iter().map(|name| volume * content(name)).collect(),
        }
    }

    /// All of it, L.
    #[must_use]
    pub fn volume(&self) -> f64 {
        self.mix + self.oil
    }

    /// Concentrate, % by volume; 0 where there is no fluid.
    #[must_use]
    pub fn concentration(&self) -> f64 {
        self.per_volume(self.concentrate) * 100.0
    }

    /// Tramp oil, % by volume.
    #[must_use]
    pub fn oil_share(&self) -> f64 {
        self.per_volume(self.oil) * 100.0
    }

    /// What a litre holds of `amount`; 0 where there is no litre.
    #[must_use]
    pub fn per_volume(&self, amount: f64) -> f64 {
        let volume = self.volume();
        if volume > 0.0 { amount / volume } else { 0.0 }
    }

    /// Pours `times` as much as `other` into it.
    pub fn pour(&mut self, other: &Self, times: f64) {
        self.mix += other.mix * times;
        self.concentrate += other.concentrate * times;
        self.oil += other.oil * times;
        for (amount, other) in self.matter.iter_mut().zip(&other.matter) {
            *amount += other * times;
        }
    }

    /// Keeps a share of it.
    pub fn keep(&mut self, share: f64) {
        self.mix *= share;
        self.concentrate *= share;
        self.oil *= share;
        for amount in &mut self.matter {
            *amount *= share;
        }
    }

    /// The same as a stream of a balance; its oil is shown where it is followed.
    #[must_use]
    pub fn fluid(
        &self,
        names: &[PropertyName],
        oil_followed: bool,
        densities: MaterialDensities,
    ) -> Fluid {
        let density = |given: Option<Density>| given.map_or(DENSITY_AT_20_CELSIUS, Quantity::get);
        let water = self.mix - self.concentrate;
        let named = names.iter().cloned().zip(&self.matter);
        Fluid {
            volume: self.volume(),
            concentrate: self.concentrate,
            tramp_oil: oil_followed.then_some(self.oil),
            mass: water * DENSITY_AT_20_CELSIUS
                + self.concentrate * density(densities.concentrate)
                + self.oil * density(densities.tramp_oil),
            matter: named.map(|(name, mg)| (name, mg * KILOGRAMS_PER_MILLIGRAM)).collect(),
        }
    }
}
