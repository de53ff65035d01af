//! The concentrate behind a dilution (equation 2).

use super::Dilution;
use crate::fluid::Fluid;
use crate::fluid::balance::{Balance, StreamDirection};
use crate::fluid::properties::Properties;
use crate::handbook::water::DENSITY_AT_20_CELSIUS;
use crate::quantity::Quantity;
use crate::text::Refusal;

impl Dilution {
    /// The concentrate that was there and came in against that which is there now.
    pub(super) fn balance(&self, v: f64) -> Result<Balance, Refusal> {
        let none = Properties::default();
        let fluid = |volume, c| Fluid::of(volume, c, DENSITY_AT_20_CELSIUS, &none);
        let a = self.added.get();
        let before = fluid(v, self.before.get());
        let added = fluid(a, self.strength_added());
        let after = fluid(v + a, self.after.get());
        Balance::close(&[
            ("fluid before", StreamDirection::In, &before),
            ("added", StreamDirection::In, &added),
            ("fluid after", StreamDirection::Stays, &after),
        ])
    }
}
