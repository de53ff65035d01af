//! Waters blended into windows at least cost, by the programme of `blend`.

use super::Water;
use super::answer::{BlendedWater, WaterTake};
use super::hardness::{class, in_units};
use super::question::WaterSource;
use crate::fluid::Fluid;
use crate::fluid::balance::{Balance, StreamDirection};
use crate::fluid::batch::{Binding, recipe};
use crate::fluid::hardness::HARDNESS;
use crate::fluid::properties::{ContentLimit, Limits, PropertyName};
use crate::fluid::stock::Stock;
use crate::quantity::{Concentration, Content, Money, Quantity, Share, Volume};
use crate::sentence;
use crate::text::Refusal;

/// Litres that are made where limits are given and no volume.
pub(super) const LITRES: f64 = 100.0;

/// A blend of waters, and its balance.
pub(super) struct Blending {
    pub(super) answer: BlendedWater,
    pub(super) balance: Balance,
}

impl Water {
    /// Whether a water is to be made of those there are.
    pub(super) fn is_blended(&self) -> bool {
        self.make.is_some() || self.hardness.is_some() || !self.limits.is_empty()
    }

    /// The limits, with the window of hardness among them.
    fn all_limits(&self) -> Result<Limits, Refusal> {
        let mut limits = self.limits.clone();
        if let Some(window) = self.hardness {
            let content = |value: Option<crate::quantity::Number>| {
                value.map(|v| Content::of(v.get() * window.unit.mg_per_litre())).transpose()
            };
            let limit = ContentLimit { min: content(window.min)?, max: content(window.max)? };
            limits.matter.insert(PropertyName::from(HARDNESS), limit);
        }
        Ok(limits)
    }

    /// A refusal of the blend, by the places of this request and with the caller's unit of hardness.
    fn in_own_words(&self, mut refusal: Refusal) -> Refusal {
        // Contents are told in mg/L, whatever the window was given in.
        let unit =
            self.hardness.map(|window| window.unit).filter(|unit| unit.mg_per_litre() != 1.0);
        for fault in &mut refusal.faults {
            fault.pointer = own_place(&fault.pointer);
            if let Some(unit) = unit.filter(|_| fault.pointer.starts_with("/hardness/")) {
                fault.detail = sentence!(
                    "{} One {} is {} as calcium carbonate.",
                    fault.detail.clone(),
                    unit.symbol(),
                    Content::measure_of(unit.mg_per_litre()).rounded(5)
                );
            }
        }
        refusal
    }

    pub(super) fn blended(&self) -> Result<Option<Blending>, Refusal> {
        if !self.is_blended() {
            return Ok(None);
        }
        let v = self.make.map_or(LITRES, Quantity::get);
        let stocks = self.waters.iter().map(WaterSource::stock);
        let stocks = stocks.collect::<Result<Vec<Stock>, Refusal>>()?;
        let recipe = recipe(&stocks, v, 0.0, &self.all_limits()?, None)
            .map_err(|refusal| self.in_own_words(refusal))?;
        let poured: Vec<Fluid> =
            stocks.iter().zip(&recipe.volumes).map(|(stock, v)| stock.fluid(*v)).collect();
        let mut mix = Fluid::default();
        poured.iter().for_each(|fluid| mix += fluid);
        mix.volume = v;
        let taken = stocks.iter().zip(&poured).filter(|(_, fluid)| fluid.volume > 0.0);
        let mut rows: Vec<_> =
            taken.map(|(stock, fluid)| (stock.name.as_str(), StreamDirection::In, fluid)).collect();
        rows.push(("water made", StreamDirection::Stays, &mix));
        let balance = Balance::close(&rows)?;
        let mut properties = mix.properties()?;
        let known = self.waters.iter().zip(&recipe.volumes);
        let known =
            known.filter(|(_, v)| **v > 0.0).all(|(water, _)| water.mg_per_litre().is_some());
        let hardness = properties.matter.remove(HARDNESS).filter(|_| known).map(Quantity::get);
        let take = self.waters.iter().zip(&recipe.volumes).map(|(water, litres)| {
            Ok(WaterTake {
                name: water.name.clone(),
                volume: Volume::of(*litres)?,
                share: Share::of_fraction((litres / v).min(1.0))?,
            })
        });
        let cost = self.waters.iter().any(|water| water.unit_cost.is_some()).then(|| {
            let costs = self.waters.iter().map(|w| w.unit_cost.map_or(0.0, Quantity::get));
            Money::of(costs.zip(&recipe.volumes).map(|(cost, litres)| cost * litres).sum())
        });
        let answer = BlendedWater {
            take: take.collect::<Result<_, Refusal>>()?,
            hardness: hardness.map(in_units).transpose()?,
            class: hardness.map(class),
            properties,
            cost: cost.transpose()?,
            binding: recipe.binding.into_iter().map(renamed).collect(),
        };
        Ok(Some(Blending { answer, balance }))
    }
}

impl WaterSource {
    /// The water as a stock without concentrate that carries its hardness.
    fn stock(&self) -> Result<Stock, Refusal> {
        let mut properties = self.properties.clone();
        if let Some(hardness) = self.mg_per_litre() {
            properties.matter.insert(PropertyName::from(HARDNESS), Content::of(hardness)?);
        }
        Ok(Stock {
            name: self.name.clone(),
            concentration: Concentration::of(0.0)?,
            volume: self.volume,
            unit_cost: self.unit_cost,
            density: None,
            hardness: None,
            properties,
        })
    }
}

/// The place of this request that a place of a blend's stands for.
fn own_place(pointer: &str) -> String {
    match pointer.strip_prefix("/limits/hardness") {
        Some(end) => format!("/hardness{end}"),
        None if pointer == "/target/volume" => "/make".to_owned(),
        None => pointer.replacen("/stocks", "/waters", 1),
    }
}

fn renamed(mut binding: Binding) -> Binding {
    let what = match &mut binding {
        Binding::Money(cost) => &mut cost.what,
        Binding::MoneyPerVolume(cost) => &mut cost.what,
        Binding::VolumePerLimit(cost) => &mut cost.what,
        Binding::VolumePerVolume(cost) => &mut cost.what,
    };
    *what = own_place(what);
    binding
}
