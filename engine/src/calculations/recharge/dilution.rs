//! A sump sucked out and flushed: what leaves it, what stays in it, and what
//! the refill has to be.

use super::mixed::Mixed;
use super::{Flush, SharesLeft, SumpToClean};
use crate::fluid::Fluid;
use crate::handbook::water::DENSITY_AT_20_CELSIUS;
use crate::properties::{ByProperty, Properties};
use crate::quantity::{Quantity, Share};
use crate::refusal::Refusal;
use crate::sentence::round_to;
use crate::stock::Stock;
use std::collections::BTreeMap;

/// A sump on its way from dirty to clean.
pub(super) struct Cleaned {
    /// Working volume, L.
    pub(super) v: f64,
    /// Old fluid that the suction reaches.
    pub(super) pumped: Fluid,
    /// Old fluid that it does not reach, before any flush.
    pub(super) old_residue: Fluid,
    /// What is hosed in, all flushes together.
    pub(super) flush: Fluid,
    /// The same when it is sucked out again, with what it took along.
    pub(super) spent: Fluid,
    /// What stays in the sump when the refill comes.
    pub(super) residue: Fluid,
    /// What of the residue's old fluid is still in it, 0 to 1.
    diluted_to: f64,
    /// What of all the old fluid is still there, 0 to 1.
    pub(super) old_fluid_left: f64,
    /// The strength the refill must have, % by volume; out of range when no
    /// refill does it.
    pub(super) c_b: f64,
}

impl Cleaned {
    pub(super) fn of(sump: &SumpToClean, stocks: &[Stock]) -> Self {
        let (v, h) = (sump.volume.get(), sump.residue.get());
        let c_t = sump.target.get();
        let (v_0, c_0) = (sump.volume_now(), sump.concentration_now());
        let pumped = Fluid::of(v_0 - h, c_0, DENSITY_AT_20_CELSIUS, sump.pumped_properties());
        let c_h = sump.residue_concentration.get();
        let old_residue = Fluid::of(h, c_h, DENSITY_AT_20_CELSIUS, sump.left_properties());
        let (mut flush, mut spent) = (Fluid::default(), Fluid::default());
        let (mut residue, mut diluted_to) = (old_residue.clone(), 1.0);
        for poured in sump.flushes(stocks) {
            let f = poured.volume;
            residue += &poured;
            flush += &poured;
            spent += &(residue.clone() * (f / (h + f)));
            residue = residue * (h / (h + f));
            diluted_to *= h / (h + f);
        }
        let c_h = residue.concentration();
        let c_b = (v * c_t - h * c_h) / (v - h);
        let old_fluid_left = if v_0 > 0.0 { h * diluted_to / v_0 } else { 0.0 };
        // The flushes are exact in sum; their mixing is not.
        spent.volume = flush.volume;
        residue.volume = h;
        Self { v, pumped, old_residue, flush, spent, residue, diluted_to, old_fluid_left, c_b }
    }

    /// What goes into the dirty tank, L.
    pub(super) fn dirty(&self) -> f64 {
        self.pumped.volume + self.spent.volume
    }

    /// The same as a fluid.
    pub(super) fn dirty_fluid(&self) -> Fluid {
        let mut dirty = self.pumped.clone();
        dirty += &self.spent;
        dirty
    }

    /// What it is refilled with, L.
    pub(super) fn refill(&self) -> f64 {
        self.v - self.residue.volume
    }

    /// How strong the sump is when it was refilled at `c_b` % by volume.
    pub(super) fn comes_to(&self, c_b: f64) -> f64 {
        let (h, c_h) = (self.residue.volume, self.residue.concentration());
        /// Digits beyond what binary fractions add.
        const CLEAN: i32 = 10;
        round_to((h * c_h + (self.v - h) * c_b) / self.v, CLEAN)
    }

    /// The sump as it is promised, with the mass and the properties of what
    /// stayed and what came in.
    pub(super) fn after(&self, batch: &Mixed) -> Fluid {
        let mut after = self.residue.clone();
        after += &(batch.fluid.clone() * (self.refill() / batch.fluid.volume));
        after.volume = self.v;
        after.concentrate = self.v * self.comes_to(batch.concentration) / 100.0;
        after
    }

    /// What is left of each thing that the old fluid carried.
    pub(super) fn properties_left(&self) -> Result<SharesLeft, Refusal> {
        let share = |residue: f64, pumped: f64| {
            let all = residue + pumped;
            let left = if all > 0.0 { residue * self.diluted_to / all } else { 0.0 };
            Share::of(left * 100.0)
        };
        let (residue, pumped) = (&self.old_residue, &self.pumped);
        let oil = residue
            .tramp_oil
            .or(pumped.tramp_oil)
            .map(|_| share(residue.tramp_oil.unwrap_or(0.0), pumped.tramp_oil.unwrap_or(0.0)));
        let names = residue.matter.keys().chain(pumped.matter.keys());
        let of = |fluid: &Fluid, name: &str| fluid.matter.get(name).copied().unwrap_or(0.0);
        let matter =
            names.map(|name| Ok((name.clone(), share(of(residue, name), of(pumped, name))?)));
        let matter = matter.collect::<Result<BTreeMap<_, _>, Refusal>>()?;
        Ok(ByProperty { tramp_oil: oil.transpose()?, matter })
    }
}

impl SumpToClean {
    /// What is in it before, L.
    pub(super) fn volume_now(&self) -> f64 {
        self.fluid_now.as_ref().map_or(self.volume.get(), |now| now.volume.get())
    }

    fn concentration_now(&self) -> f64 {
        let now = self.fluid_now.as_ref().map(|now| now.concentration);
        now.unwrap_or(self.residue_concentration).get()
    }

    /// What the part carries that the suction reaches.
    pub(super) fn pumped_properties(&self) -> &Properties {
        let now = self.fluid_now.as_ref().map(|now| &now.properties);
        now.filter(|own| !own.is_empty()).unwrap_or(&self.residue_properties)
    }

    /// What the part carries that it does not reach.
    pub(super) fn left_properties(&self) -> &Properties {
        if self.residue_properties.is_empty() {
            self.pumped_properties()
        } else {
            &self.residue_properties
        }
    }

    /// Each flush as it goes in.
    fn flushes(&self, stocks: &[Stock]) -> Vec<Fluid> {
        let Some(flush) = &self.flush else { return Vec::new() };
        let stock = stocks.iter().find(|stock| stock.name == flush.stock);
        let poured = stock.map(|stock| stock.fluid(flush.volume.get()));
        poured.into_iter().cycle().take(flush.whole_times()).collect()
    }
}

impl Flush {
    /// How many times; checked to be a whole number, and a small one.
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "checked to be a whole number from 1 on"
    )]
    pub(super) fn whole_times(&self) -> usize {
        self.times.get() as usize
    }
}
