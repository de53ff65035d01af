//! The batch as a fluid, and the material balance behind it.

use super::Blend;
use crate::fluid::Fluid;
use crate::fluid::balance::{Balance, StreamDirection};
use crate::text::Refusal;

/// The batch as it was asked for, with the mass and the properties of what was
/// poured.
pub(super) fn mixed(poured: &[Fluid], v_t: f64, c_t: f64) -> Fluid {
    let mut mix = Fluid::default();
    poured.iter().for_each(|fluid| mix += fluid);
    mix.volume = v_t;
    mix.concentrate = v_t * c_t / 100.0;
    mix
}

impl Blend {
    pub(super) fn balance(&self, poured: &[Fluid], mix: &Fluid) -> Result<Balance, Refusal> {
        let stocks = self.stocks.iter().zip(poured).filter(|(_, fluid)| fluid.volume > 0.0);
        let mut streams: Vec<_> = stocks
            .map(|(stock, fluid)| (stock.name.as_str(), StreamDirection::In, fluid))
            .collect();
        streams.push(("batch", StreamDirection::Stays, mix));
        Balance::close(&streams)
    }
}
