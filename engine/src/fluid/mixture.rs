//! What a litre is made of: concentrate, water, tramp oil, and what is
//! dissolved or suspended in it.
//!
//! Volumes add: the volume of a mix is the sum of the volumes that went into
//! it. For water-mix fluids of a few percent that is true to well within what a
//! sump can be measured to, and every answer says so among its assumptions.
//! Masses add exactly.

use crate::fluid::properties::{ByProperty, Properties, PropertyName};
use crate::handbook::conversions::KILOGRAMS_PER_MILLIGRAM;
use crate::quantity::{Concentration, Content, Quantity, Ratio};
use crate::text::Refusal;
use std::collections::BTreeMap;
use std::ops::{AddAssign, Mul};

/// An amount of fluid, as the materials it is made of: litres of concentrate,
/// water and tramp oil, kilograms in all and of each thing carried.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Fluid {
    /// The whole, L.
    pub volume: f64,
    /// Concentrate in it, L.
    pub concentrate: f64,
    /// Tramp oil in it, L; none when it is not followed.
    pub tramp_oil: Option<f64>,
    /// Mass of the whole, kg.
    pub mass: f64,
    /// Dissolved and suspended matter in it, kg, by name.
    pub matter: BTreeMap<PropertyName, f64>,
}

impl Fluid {
    /// `volume` litres at `concentration` % by volume and `density` kg/L,
    /// carrying `properties`.
    #[must_use]
    pub fn of(volume: f64, concentration: f64, density: f64, properties: &Properties) -> Self {
        let matter = properties.matter.iter().map(|(name, content)| {
            (name.clone(), volume * content.get() * KILOGRAMS_PER_MILLIGRAM)
        });
        Self {
            volume,
            concentrate: volume * concentration / 100.0,
            tramp_oil: properties.tramp_oil.map(|oil| volume * oil.get() / 100.0),
            mass: volume * density,
            matter: matter.collect(),
        }
    }

    /// What is neither concentrate nor tramp oil, L.
    #[must_use]
    pub fn water(&self) -> f64 {
        self.volume - self.concentrate - self.tramp_oil.unwrap_or(0.0)
    }

    /// Concentrate, % by volume; that of nothing is 0.
    #[must_use]
    pub fn concentration(&self) -> f64 {
        self.per_volume(self.concentrate) * 100.0
    }

    /// What it carries, by volume.
    pub fn properties(&self) -> Result<Properties, Refusal> {
        let matter = self.matter.iter().map(|(name, kilograms)| {
            let content = self.per_volume(kilograms / KILOGRAMS_PER_MILLIGRAM);
            Ok((name.clone(), Content::of(content)?))
        });
        let tramp_oil = self.tramp_oil.map(|oil| Concentration::of_fraction(self.per_volume(oil)));
        Ok(ByProperty {
            tramp_oil: tramp_oil.transpose()?,
            matter: matter.collect::<Result<_, Refusal>>()?,
        })
    }

    fn per_volume(&self, amount: f64) -> f64 {
        if self.volume > 0.0 { amount / self.volume } else { 0.0 }
    }
}

/// A part of a fluid, as it is.
impl Mul<f64> for Fluid {
    type Output = Self;

    fn mul(mut self, share: f64) -> Self {
        self.volume *= share;
        self.concentrate *= share;
        self.mass *= share;
        if let Some(oil) = &mut self.tramp_oil {
            *oil *= share;
        }
        for kilograms in self.matter.values_mut() {
            *kilograms *= share;
        }
        self
    }
}

/// Pouring one fluid into another.
impl AddAssign<&Fluid> for Fluid {
    fn add_assign(&mut self, poured: &Self) {
        self.volume += poured.volume;
        self.concentrate += poured.concentrate;
        self.mass += poured.mass;
        if let Some(oil) = poured.tramp_oil {
            *self.tramp_oil.get_or_insert(0.0) += oil;
        }
        for (name, kilograms) in &poured.matter {
            match self.matter.get_mut(name) {
                Some(there) => *there += kilograms,
                None => drop(self.matter.insert(name.clone(), *kilograms)),
            }
        }
    }
}

/// Parts of water to one part of concentrate, as half the trade says a mix; none
/// where it is water, or so thin that nobody counts.
#[must_use]
pub fn parts_of_water(concentration: f64) -> Option<Ratio> {
    if concentration <= 0.0 {
        return None;
    }
    Ratio::of((100.0 - concentration) / concentration).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_to_twenty_is_a_part_in_twenty_one() {
        // Arithmetic of the trade's notation: 1 part in 21 is 4.7619 %.
        let parts = |c| parts_of_water(c).map(Quantity::get);
        assert!((parts(100.0 / 21.0).expect("a mix") - 20.0).abs() < 1e-12);
        assert_eq!(parts(5.0), Some(19.0));
        assert_eq!(parts(100.0), Some(0.0));
        assert_eq!(parts(0.0), None);
    }

    #[test]
    fn a_mix_weighs_what_its_parts_weigh() {
        // 5 % by volume of concentrate of 0.95 kg/L in water of 0.9982 kg/L:
        // 0.99579 kg/L, 4.770 % by mass (ideal mixing, recomputed from the
        // definitions of the two shares).
        let none = Properties::default();
        let mut mix = Fluid::of(5.0, 100.0, 0.95, &none);
        let concentrate = mix.mass;
        mix += &Fluid::of(95.0, 0.0, 0.9982, &none);
        assert!((mix.mass / mix.volume - 0.99579).abs() < 5e-6);
        assert!((concentrate / mix.mass * 100.0 - 4.770).abs() < 5e-4);
    }
}
