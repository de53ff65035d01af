//! The fluid that a way of working moves in an ordinary year: equations 1 to 4.

use super::answer::FluidPerYear;
use super::{CostComparison, WayOfWorking};
use crate::fluid::Fluid;
use crate::fluid::balance::{Balance, StreamDirection};
use crate::handbook::water::DENSITY_AT_20_CELSIUS;
use crate::quantity::{Number, Quantity, Share, Volume};
use crate::text::Refusal;
use std::ops::{Add, Mul};

/// Litres of concentrate and of water.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Litres {
    pub(super) concentrate: f64,
    pub(super) water: f64,
}

impl Litres {
    /// `volume` litres of which the share `c` is concentrate.
    fn of(volume: f64, c: f64) -> Self {
        Self { concentrate: volume * c, water: volume * (1.0 - c) }
    }

    pub(super) fn volume(self) -> f64 {
        self.concentrate + self.water
    }

    fn fluid(self) -> Fluid {
        let volume = self.volume();
        let mass = volume * DENSITY_AT_20_CELSIUS;
        Fluid { volume, concentrate: self.concentrate, mass, ..Fluid::default() }
    }
}

impl Add for Litres {
    type Output = Self;

    fn add(self, other: Self) -> Self {
        Self { concentrate: self.concentrate + other.concentrate, water: self.water + other.water }
    }
}

impl Mul<f64> for Litres {
    type Output = Self;

    fn mul(self, times: f64) -> Self {
        Self { concentrate: self.concentrate * times, water: self.water * times }
    }
}

/// What one way moves in a year.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct FluidYear {
    /// Clean-outs of all machines.
    pub(super) clean_outs: f64,
    /// What all sumps hold.
    sumps: Litres,
    /// What is bought to fill and to make up.
    pub(super) bought: Litres,
    /// What is taken out to be cleaned and put back.
    recovered: Litres,
    /// What is taken away.
    disposed: Litres,
    /// What goes into the air.
    evaporated: Litres,
    /// What goes off on chips and parts.
    carried_off: Litres,
}

impl FluidYear {
    pub(super) fn disposed(&self) -> f64 {
        self.disposed.volume()
    }

    pub(super) fn answer(&self) -> Result<FluidPerYear, Refusal> {
        Ok(FluidPerYear {
            clean_outs: Number::of(self.clean_outs)?,
            concentrate: Volume::of(self.bought.concentrate)?,
            water: Volume::of(self.bought.water)?,
            disposed: Volume::of(self.disposed())?,
            recovered: Volume::of(self.recovered.volume())?,
        })
    }
}

impl CostComparison {
    pub(super) fn fluid_year(&self, way: &WayOfWorking) -> FluidYear {
        let rho = way.clean_out_ratio.map_or(1.0, Quantity::get);
        let r = way.recovered.map_or(0.0, Share::fraction);
        let wash = way.wash_water.map_or(0.0, Quantity::get);
        let days = self.working_days();
        let mut year = FluidYear::default();
        for group in &self.machines {
            let (n, v) = (group.count.get(), group.volume.get());
            let c = group.concentration.fraction();
            let clean_outs = n * group.clean_outs_per_year.get() * rho;
            let taken_out = Litres::of(clean_outs * v, c);
            let washed = Litres::of(clean_outs * wash, 0.0);
            year.clean_outs += clean_outs;
            year.sumps = year.sumps + Litres::of(n * v, c);
            year.recovered = year.recovered + taken_out * r;
            year.disposed = year.disposed + taken_out * (1.0 - r) + washed;
            year.bought = year.bought + Litres::of(clean_outs * v * (1.0 - r), c) + washed;
            if let Some(losses) = &group.losses {
                let (e, w) = (losses.evaporates(), losses.carried_off());
                let carried_c = losses.depletion() * c;
                let air = Litres::of(n * days * e, 0.0);
                let off = Litres::of(n * days * w, carried_c);
                let made_up = Litres {
                    concentrate: n * days * w * carried_c,
                    water: n * days * (e + w * (1.0 - carried_c)),
                };
                year.evaporated = year.evaporated + air;
                year.carried_off = year.carried_off + off;
                year.bought = year.bought + made_up;
            }
        }
        year
    }
}

/// The streams of all ways, each way beginning and ending its year with full
/// sumps; each way is also closed by itself.
pub(super) fn balance(ways: &[WayOfWorking], years: &[FluidYear]) -> Result<Balance, Refusal> {
    let mut all: Vec<(String, StreamDirection, Fluid)> = Vec::new();
    for (way, year) in ways.iter().zip(years) {
        let concentrate = Litres { concentrate: year.bought.concentrate, water: 0.0 };
        let water = Litres { concentrate: 0.0, water: year.bought.water };
        let streams = [
            ("sumps before", StreamDirection::In, year.sumps),
            ("concentrate", StreamDirection::In, concentrate),
            ("water", StreamDirection::In, water),
            ("recovered, put back", StreamDirection::In, year.recovered),
            ("recovered, taken out", StreamDirection::Out, year.recovered),
            ("disposed", StreamDirection::Out, year.disposed),
            ("evaporated", StreamDirection::Out, year.evaporated),
            ("carried off", StreamDirection::Out, year.carried_off),
            ("sumps after", StreamDirection::Stays, year.sumps),
        ];
        let kept = |way: StreamDirection, litres: Litres| {
            way == StreamDirection::Stays || litres.volume() > 0.0
        };
        let streams: Vec<(String, StreamDirection, Fluid)> = streams
            .into_iter()
            .filter(|(_, direction, litres)| kept(*direction, *litres))
            .map(|(name, to, litres)| (format!("{}: {name}", way.name), to, litres.fluid()))
            .collect();
        close(&streams)?;
        all.extend(streams);
    }
    close(&all)
}

fn close(streams: &[(String, StreamDirection, Fluid)]) -> Result<Balance, Refusal> {
    let rows: Vec<(&str, StreamDirection, &Fluid)> =
        streams.iter().map(|(name, way, fluid)| (name.as_str(), *way, fluid)).collect();
    Balance::close(&rows)
}
