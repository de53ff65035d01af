//! What there is to mix from.

use crate::fluid::hardness::{self, HardnessMeasured};
use crate::fluid::properties::{Properties, PropertyName, TRAMP_OIL, spoken};
use crate::fluid::{Fluid, practice};
use crate::handbook::water::DENSITY_AT_20_CELSIUS;
use crate::numerics::cut_off::look;
use crate::quantity::{Concentration, Density, Measure, MoneyPerVolume, Quantity, Volume};
use crate::sentence;
use crate::text::names::check_unique;
use crate::text::{Assumption, Faults, Finding, Name};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use std::borrow::Cow;
use std::collections::BTreeSet;
use utoipa::ToSchema;

/// A fluid to mix from: neat concentrate, water, a premix, or recycled fluid.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(as = FluidStock)]
pub struct Stock {
    /// # Stock
    ///
    /// Name of the stock, different for each.
    pub name: Name,
    /// # Strength
    ///
    /// Concentrate in it: 100 for neat concentrate, 0 for water.
    #[schema(example = 4.2)]
    pub concentration: Concentration,
    /// # On hand
    ///
    /// Volume on hand. Default: as much as needed.
    #[schema(example = 600.0)]
    pub volume: Option<Volume>,
    /// # Price
    ///
    /// Price. Default: 0.
    #[schema(example = 0.05)]
    pub unit_cost: Option<MoneyPerVolume>,
    /// # Density
    ///
    /// Density. Default: that of water at room temperature.
    pub density: Option<Density>,
    /// # Carries
    ///
    /// What else it carries: tramp oil, hardness, chloride, whatever the shop follows.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
    /// # Hardness
    ///
    /// Hardness of a water with its unit, in place of one among what it carries.
    pub hardness: Option<HardnessMeasured>,
}

impl Stock {
    /// A stock of which there is as much as needed, known by its strength alone.
    #[must_use]
    pub fn plain(name: &str, concentration: Concentration) -> Self {
        Self {
            name: Name::of(name),
            concentration,
            volume: None,
            unit_cost: None,
            density: None,
            properties: Properties::default(),
            hardness: None,
        }
    }

    /// What there is to mix from where nobody says: neat concentrate and water, as much
    /// as needed.
    #[must_use]
    pub fn neat_and_water() -> Vec<Self> {
        [("concentrate", 100.0), ("water", 0.0)]
            .into_iter()
            .filter_map(|(name, c)| Some(Self::plain(name, Concentration::of(c).ok()?)))
            .collect()
    }

    /// So many litres of it.
    #[must_use]
    pub fn fluid(&self, litres: f64) -> Fluid {
        let density = self.density.map_or(DENSITY_AT_20_CELSIUS, Quantity::get);
        Fluid::of(litres, self.concentration.get(), density, &self.carries())
    }

    /// What it carries, its hardness included.
    #[must_use]
    pub fn carries(&self) -> Cow<'_, Properties> {
        hardness::carried(&self.properties, self.hardness)
    }

    /// The names of what it carries.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        hardness::names(&self.properties, self.hardness)
    }

    /// How much it carries of what is dissolved or suspended, mg/L.
    #[must_use]
    pub fn content(&self, name: &str) -> f64 {
        self.carries().matter.get(name).map_or(0.0, |content| content.get())
    }

    /// How much of it there is, L: without end when nobody said.
    #[must_use]
    pub fn on_hand(&self) -> f64 {
        self.volume.map_or(f64::INFINITY, Quantity::get)
    }
}

/// Notes what is wrong with a list of stocks.
pub(crate) fn check(stocks: &[Stock], faults: &mut Faults) {
    check_unique(stocks.iter().map(|stock| stock.name.as_str()), "stocks", "/stocks", faults);
    for (i, stock) in stocks.iter().enumerate() {
        let pointer = format!("/stocks/{i}");
        check_volume_shares(stock.concentration, &stock.properties, &pointer, faults);
        hardness::check(&stock.properties, stock.hardness, &pointer, faults);
    }
}

/// Notes it where concentrate and tramp oil together are more than the whole.
pub(crate) fn check_volume_shares(
    concentration: Concentration,
    properties: &Properties,
    pointer: &str,
    faults: &mut Faults,
) {
    let oil = properties.tramp_oil.map_or(0.0, Quantity::get);
    let filled = concentration.get() + oil;
    if filled > 100.0 {
        let detail = sentence!(
            "Concentrate and tramp oil together come to {} of the fluid, more than all of it.",
            Measure::of(Concentration::ROW, filled)
        );
        faults.add(format!("{pointer}/properties/{TRAMP_OIL}"), detail);
    }
}

/// What is taken for granted of the stocks that are used.
pub(crate) fn assumptions(stocks: &[Stock]) -> Vec<Assumption> {
    let mut assumptions = vec![Assumption::volumes_add()];
    let followed: BTreeSet<&str> = stocks.iter().flat_map(Stock::names).collect();
    for (i, stock) in stocks.iter().enumerate() {
        look();
        if stock.density.is_none() {
            let pointer = format!("/stocks/{i}/density");
            assumptions.push(Assumption::weighs_like_water(pointer, &stock.name));
        }
        for name in &followed {
            if !stock.names().any(|own| own == *name) {
                let pointer = format!("/stocks/{i}/properties/{name}");
                assumptions.push(Assumption::carries_none(pointer, &stock.name, &spoken(name)));
            }
        }
    }
    assumptions.extend(practice::of_hardness(followed));
    assumptions
}

/// What is found of the stocks themselves: nitrate where they are water.
pub(crate) fn findings(stocks: &[Stock]) -> Vec<Finding> {
    let waters = stocks.iter().enumerate().filter(|(_, stock)| stock.concentration.get() == 0.0);
    let found = waters.flat_map(|(i, stock)| {
        let pointer = format!("/stocks/{i}/properties");
        practice::nitrate_in_water(&stock.properties, &pointer).collect::<Vec<_>>()
    });
    practice::few(found)
}

/// The names of what a fluid carries.
pub(crate) fn property_names(properties: &Properties) -> impl Iterator<Item = &str> {
    let oil = properties.tramp_oil.map(|_| TRAMP_OIL);
    oil.into_iter().chain(properties.matter.keys().map(PropertyName::as_str))
}
