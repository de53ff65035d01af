//! The material balance of a dose.

use super::Dose;
use crate::fluid::Fluid;
use crate::fluid::balance::{Balance, StreamDirection};
use crate::fluid::properties::PropertyName;
use crate::handbook::conversions::KILOGRAMS_PER_MILLIGRAM;
use crate::handbook::water::DENSITY_AT_20_CELSIUS;
use crate::quantity::Quantity;
use crate::text::Refusal;

/// What the balance calls what contents count.
const DOSED: &str = "dosed";

impl Dose {
    /// The density of the product, kg/L; that of water where it is not given.
    pub(super) fn density(&self) -> f64 {
        self.product.density.map_or(DENSITY_AT_20_CELSIUS, Quantity::get)
    }

    /// What is in the sump and the product poured in, in kilograms, against what the sump then
    /// has by its content.
    pub(super) fn balance(&self, x: f64, poured: f64, y: f64) -> Result<Balance, Refusal> {
        let (v, litres) = (self.sump.volume.get(), self.litres_of(poured));
        let concentrate = self.sump.concentration.map_or(0.0, |c| v * c.get() / 100.0);
        let fluid = |volume: f64, concentrate: f64, mass: f64, dosed: f64| Fluid {
            volume,
            concentrate,
            mass,
            matter: [(PropertyName::from(DOSED), dosed)].into(),
            ..Fluid::default()
        };
        let mass = v * DENSITY_AT_20_CELSIUS;
        let before = fluid(v, concentrate, mass, v * x * KILOGRAMS_PER_MILLIGRAM);
        let product = fluid(litres, 0.0, poured, self.active() * poured);
        let whole = v + litres;
        let after = fluid(whole, concentrate, mass + poured, whole * y * KILOGRAMS_PER_MILLIGRAM);
        let name = self.product.name.as_str();
        let rows = [
            ("sump before", StreamDirection::In, &before),
            (name, StreamDirection::In, &product),
            ("sump after", StreamDirection::Stays, &after),
        ];
        Balance::close(&rows)
    }
}
