//! What an open surface evaporates, from its size, its warmth and the air over it: an estimate by
//! [`handbook::evaporation`](crate::handbook::evaporation).

use crate::handbook::evaporation::{FORMS_DIFFER_BY, WaterSurface, covers};
use crate::handbook::water::{DENSITY_AT_20_CELSIUS, LIQUID_CELSIUS};
use crate::quantity::{AirSpeed, Area, DailyRate, DayHours, Quantity, Share, Temperature};
use crate::sentence;
use crate::text::{Assumption, Faults};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// Hours of a day in which a surface evaporates where nobody says.
const ALL_DAY: f64 = 24.0;

/// An open surface of fluid, and the air over it.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct OpenSurface {
    /// # Open area
    ///
    /// Surface of the fluid that is open to the air: of sump, trough and settling tank.
    #[schema(example = 1.2)]
    pub area: Area,
    /// # Fluid temperature
    ///
    /// Temperature of the fluid at its surface.
    #[schema(example = 30.0)]
    pub temperature: Temperature,
    /// # Air temperature
    ///
    /// Temperature of the air over it.
    #[schema(example = 22.0)]
    pub air_temperature: Temperature,
    /// # Air humidity
    ///
    /// Relative humidity of the air over it.
    #[schema(example = 50.0)]
    pub humidity: Share,
    /// # Air speed
    ///
    /// How fast the air moves over it. Default: still air.
    pub air_speed: Option<AirSpeed>,
    /// # Hours per day
    ///
    /// Hours of a day in which it is so. Default: 24.
    pub hours_per_day: Option<DayHours>,
}

impl OpenSurface {
    /// Water that evaporates, L/day.
    pub(super) fn evaporates(self) -> f64 {
        let surface = WaterSurface {
            area: self.area.get(),
            celsius: self.temperature.get(),
            air_celsius: self.air_temperature.get(),
            humidity: self.humidity.fraction(),
            air_speed: self.air_speed.map_or(0.0, Quantity::get),
        };
        let hours = self.hours_per_day.map_or(ALL_DAY, Quantity::get);
        let litres = surface.evaporates() * hours / DENSITY_AT_20_CELSIUS;
        // What the estimate does not cover is refused before.
        if litres.is_finite() { litres } else { 0.0 }
    }

    pub(super) fn note_faults(&self, at: &dyn Fn() -> String, faults: &mut Faults) {
        let mut covered = true;
        for (temperature, member) in
            [(self.temperature, "temperature"), (self.air_temperature, "air_temperature")]
        {
            if !covers(temperature.get()) {
                let text = sentence!(
                    "The estimate of evaporation covers {} to {}, not {}. Give what evaporates \
                     itself.",
                    Temperature::measure_of(LIQUID_CELSIUS.0),
                    Temperature::measure_of(LIQUID_CELSIUS.1),
                    temperature
                );
                faults.add(format!("{}/surface/{member}", at()), text);
                covered = false;
            }
        }
        if covered && DailyRate::of(self.evaporates()).is_err() {
            let text = sentence!(
                "Such a surface evaporates more than any sump loses. Check its area and the speed \
                 of the air."
            );
            faults.add(format!("{}/surface/area", at()), text);
        }
    }

    pub(super) fn assumption(&self, pointer: &str) -> Assumption {
        let text = sentence!(
            "{} of evaporation was estimated from the open surface (Carrier, 1998): an estimate, \
             never a measurement. Two published forms differ by {} on the same pool, and no \
             uncertainty of the numbers given covers that; what evaporates in the spray and on hot \
             chips comes on top. Where it matters, measure what is filled up over some days, and \
             give that.",
            DailyRate::measure_of(self.evaporates()).rounded(3),
            Share::measure_of(FORMS_DIFFER_BY)
        );
        Assumption::new(format!("{pointer}/evaporation"), text)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A square metre of water at 30 °C under air of 22 °C and 50 % at 0.1 m/s, 0.419388 kg/h by
    /// PsychroLib and iapws: in eight hours 8·0.419388/0.9982072 = 3.3611 L.
    #[test]
    fn a_shift_of_a_warm_surface() {
        let surface = OpenSurface {
            area: Area::of(1.0).unwrap(),
            temperature: Temperature::of(30.0).unwrap(),
            air_temperature: Temperature::of(22.0).unwrap(),
            humidity: Share::of(50.0).unwrap(),
            air_speed: AirSpeed::of(0.1).ok(),
            hours_per_day: DayHours::of(8.0).ok(),
        };
        assert!((surface.evaporates() / 3.3611 - 1.0).abs() < 2.5e-4);
        let all_day = OpenSurface { hours_per_day: None, ..surface };
        assert!((all_day.evaporates() / surface.evaporates() - 3.0).abs() < 1e-12);
    }
}
