//! A sump emptied and rinsed: what leaves it, what stays in it, and what
//! the refill has to be.

use super::mixed::Mixed;
use super::{SharesLeft, SumpToClean};
use crate::fluid::Fluid;
use crate::fluid::properties::{ByProperty, Properties};
use crate::handbook::water::DENSITY_AT_20_CELSIUS;
use crate::numerics::digits::round_to;
use crate::quantity::{Concentration, Quantity, Share};
use crate::text::Refusal;
use std::collections::BTreeMap;

/// A sump on its way from dirty to clean.
pub(super) struct Cleaned {
    /// Working volume, L.
    pub(super) v: f64,
    /// All that was in it.
    pub(super) before: Fluid,
    /// System cleaner that went in.
    pub(super) cleaner: Fluid,
    /// What is taken out before any rinse, the cleaner with it.
    pub(super) pumped: Fluid,
    /// What of it stays, before any rinse.
    first_residue: Fluid,
    /// What it is rinsed with, all times together.
    pub(super) rinse: Fluid,
    /// The same when it is taken out again, with what it took along.
    pub(super) spent: Fluid,
    /// What stays in the sump when the refill comes.
    pub(super) residue: Fluid,
    /// What of the first residue is still in it, 0 to 1.
    diluted_to: f64,
    /// What of all the old fluid is still there, 0 to 1.
    pub(super) old_fluid_left: f64,
    /// The strength the refill must have, % by volume; out of range when no
    /// refill does it.
    pub(super) c_b: f64,
}

impl Cleaned {
    /// `rinses` are what goes in, one after the other.
    pub(super) fn of(sump: &SumpToClean, rinses: &[Fluid]) -> Self {
        let (v, h) = (sump.volume.get(), sump.stays());
        let c_t = sump.target.get();
        let v_0 = sump.volume_now();
        let (before, cleaner, pumped, first_residue) = emptied(sump);
        let (mut rinse, mut spent) = (Fluid::default(), Fluid::default());
        let (mut residue, mut diluted_to) = (first_residue.clone(), 1.0);
        for poured in rinses {
            let f = poured.volume;
            residue += poured;
            rinse += poured;
            spent += &(residue.clone() * (f / (h + f)));
            residue = residue * (h / (h + f));
            diluted_to *= h / (h + f);
        }
        let c_h = residue.concentration();
        let c_b = (v * c_t - h * c_h) / (v - h);
        let old_fluid_left = if v_0 > 0.0 { h * diluted_to / (v_0 + cleaner.volume) } else { 0.0 };
        // The rinses are exact in sum; their mixing is not.
        spent.volume = rinse.volume;
        residue.volume = h;
        Self {
            v,
            before,
            cleaner,
            pumped,
            first_residue,
            rinse,
            spent,
            residue,
            diluted_to,
            old_fluid_left,
            c_b,
        }
    }

    /// All that is taken out, L.
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

    /// System cleaner in the refilled sump, % by volume; none where none went in.
    pub(super) fn cleaner_left(&self) -> Result<Option<Concentration>, Refusal> {
        if self.cleaner.volume <= 0.0 {
            return Ok(None);
        }
        let all = self.before.volume + self.cleaner.volume;
        let left = self.first_residue.volume * self.cleaner.volume / all * self.diluted_to;
        Ok(Some(Concentration::of_fraction(left / self.v)?))
    }

    /// What is left of each thing that the old fluid carried.
    pub(super) fn properties_left(&self) -> Result<SharesLeft, Refusal> {
        let share = |residue: f64, all: f64| {
            let left = if all > 0.0 { residue * self.diluted_to / all } else { 0.0 };
            Share::of_fraction(left.min(1.0))
        };
        let (residue, before) = (&self.first_residue, &self.before);
        let oil = before.tramp_oil.map(|all| share(residue.tramp_oil.unwrap_or(0.0), all));
        let matter = before.matter.iter().map(|(name, all)| {
            let stays = residue.matter.get(name).copied().unwrap_or(0.0);
            Ok((name.clone(), share(stays, *all)?))
        });
        let matter = matter.collect::<Result<BTreeMap<_, _>, Refusal>>()?;
        Ok(ByProperty { tramp_oil: oil.transpose()?, matter })
    }
}

/// A sump before its clean-out, its cleaner, what is taken out of it and what stays.
/// Cleaner that circulates mixes all of it; else the residue is what it is said to be.
fn emptied(sump: &SumpToClean) -> (Fluid, Fluid, Fluid, Fluid) {
    let (h, v_0) = (sump.stays(), sump.volume_now());
    let of = |volume: f64, c: f64, carries: &Properties| {
        Fluid::of(volume, c, DENSITY_AT_20_CELSIUS, carries)
    };
    let mut pumped = of(v_0 - h, sump.concentration_now(), sump.pumped_properties());
    let mut residue = of(h, sump.stays_at(), sump.left_properties());
    let mut before = pumped.clone();
    before += &residue;
    let cleaner = of(sump.cleaner_volume(), 0.0, &Properties::default());
    if cleaner.volume > 0.0 {
        let mut mixed = before.clone();
        mixed += &cleaner;
        let all = mixed.volume;
        pumped = mixed.clone() * ((all - h) / all);
        residue = mixed * (h / all);
        (pumped.volume, residue.volume) = (v_0 + cleaner.volume - h, h);
    }
    (before, cleaner, pumped, residue)
}
