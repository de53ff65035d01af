//! What wet chips carry off, from what they weigh and how wet they are.
//!
//! With M the mass of the chips in a day (kg), w the share of fluid in the mass of wet chips (0 to 1)
//! and ρ the fluid's density (kg/L):
//!
//! 1. of chips weighed wet: d = M·w/ρ
//! 2. of chips weighed dry: d = M·w/(1 − w)/ρ
//!
//! What goes off on parts and as mist comes on top.

use crate::handbook::water::DENSITY_AT_20_CELSIUS;
use crate::quantity::{DailyRate, Density, Mass, Quantity, Share};
use crate::sentence;
use crate::text::{Assumption, Faults};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// Chips that carry fluid off.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct WetChips {
    /// # Chips per day
    ///
    /// Mass of the chips that leave the machine in a day.
    #[schema(example = 60.0)]
    pub mass_per_day: Mass,
    /// # Weighed
    ///
    /// How that mass was found: of wet chips in their bin, or of dry metal cut off.
    pub weighed: ChipsWeighed,
    /// # Fluid in wet chips
    ///
    /// Share of fluid in the mass of the wet chips: weigh some wet, let them dry, and weigh again.
    #[schema(example = 12.0)]
    pub fluid_share: Share,
    /// # Density of the fluid
    ///
    /// Density of the fluid. Default: that of water at 20 °C.
    pub density: Option<Density>,
    /// # Carried off besides
    ///
    /// Fluid carried off per day on parts and as mist. Default: 0.
    pub besides: Option<DailyRate>,
}

/// How chips were weighed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum ChipsWeighed {
    /// With the fluid on them.
    Wet,
    /// Without it: the metal cut off.
    Dry,
}

impl WetChips {
    /// Fluid carried off, L/day.
    pub(super) fn carry_off(self) -> f64 {
        let (mass, w) = (self.mass_per_day.get(), self.fluid_share.fraction());
        let fluid = match self.weighed {
            ChipsWeighed::Wet => mass * w,
            ChipsWeighed::Dry => mass * w / (1.0 - w),
        };
        let density = self.density.map_or(DENSITY_AT_20_CELSIUS, Quantity::get);
        // What nobody could carry is refused before.
        let litres = if fluid.is_finite() { fluid / density } else { 0.0 };
        litres + self.besides.map_or(0.0, Quantity::get)
    }

    pub(super) fn note_faults(&self, at: &dyn Fn() -> String, faults: &mut Faults) {
        /// Chips hold less: above it somebody gave the share of the metal.
        const AT_MOST: f64 = 90.0;
        if self.fluid_share.get() > AT_MOST {
            let text = sentence!(
                "Chips of which {} is fluid are hardly chips any more. The share is that of fluid in \
                 the mass of wet chips, and {} at most.",
                self.fluid_share,
                Share::measure_of(AT_MOST)
            );
            faults.add(format!("{}/chips/fluid_share", at()), text);
        } else if DailyRate::of(self.carry_off()).is_err() {
            let text = sentence!(
                "So many chips carry off more than any sump loses. Check their mass and the density."
            );
            faults.add(format!("{}/chips/mass_per_day", at()), text);
        }
    }

    pub(super) fn assumption(&self, pointer: &str) -> Assumption {
        let rate = DailyRate::measure_of(self.carry_off()).rounded(3);
        let text = match self.besides {
            Some(_) => sentence!(
                "{} was worked out as carried off, by the mass of the chips, their wetness, and what \
                 goes off besides.",
                rate
            ),
            None => sentence!(
                "{} was worked out as carried off, by the mass of the chips and their wetness; on \
                 parts and as mist nothing was taken to go off.",
                rate
            ),
        };
        Assumption::new(format!("{pointer}/carry_off"), text)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn chips(weighed: ChipsWeighed) -> WetChips {
        WetChips {
            mass_per_day: Mass::of(60.0).unwrap(),
            weighed,
            fluid_share: Share::of(12.0).unwrap(),
            density: Density::of(1.0).ok(),
            besides: None,
        }
    }

    /// By hand: 60 kg a day, 12 % of the wet mass fluid of 1.0 kg/L. Counted on dry chips
    /// 60·0.12/0.88 = 8.18 L, on wet ones 60·0.12 = 7.2 L.
    #[test]
    fn sixty_kilograms_carry_off_what_they_hold() {
        assert!((chips(ChipsWeighed::Dry).carry_off() - 8.181_818_181_818).abs() < 1e-11);
        assert!((chips(ChipsWeighed::Wet).carry_off() - 7.2).abs() < 1e-12);
        let besides = WetChips { besides: DailyRate::of(0.8).ok(), ..chips(ChipsWeighed::Wet) };
        assert!((besides.carry_off() - 8.0).abs() < 1e-12);
    }
}
