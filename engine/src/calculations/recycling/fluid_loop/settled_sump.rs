//! What one sump of a group carries once the loop has settled.

use super::cycle::{Cycle, LifeAverage};
use super::exchange::GroupFeed;
use super::shop::LoopGroup;
use super::steady::SteadyLoop;

/// A sump of one group, and what it is fed with.
pub(super) struct SettledSump<'a> {
    pub(super) group: &'a LoopGroup,
    pub(super) cycle: &'a Cycle,
    pub(super) mix: GroupFeed,
    g: usize,
    steady: &'a SteadyLoop<'a>,
}

impl SteadyLoop<'_> {
    /// A sump of group `g`.
    pub(super) fn sump(&self, g: usize) -> SettledSump<'_> {
        SettledSump::of(self, g, self.given.rest)
    }

    /// A sump of each group, in their order.
    pub(super) fn sumps(&self) -> impl Iterator<Item = SettledSump<'_>> {
        (0..self.shop.groups.len()).map(|g| self.sump(g))
    }
}

impl<'a> SettledSump<'a> {
    /// A sump of group `g` when the clean tank gives `rest` litres of water and
    /// oil in a day.
    pub(super) fn of(steady: &'a SteadyLoop<'a>, g: usize, rest: f64) -> Self {
        let (group, cycle) = (&steady.shop.groups[g], &steady.exchange.cycles[g]);
        Self { group, cycle, mix: steady.mix(g, rest), g, steady }
    }

    /// What fresh concentrate and water bring into a litre of its refills; 0
    /// where it is never drained.
    pub(super) fn fresh(&self, p: usize) -> f64 {
        let (steady, mix) = (self.steady, &self.mix);
        let fresh = mix.y * steady.shop.f_c[p] + mix.w * steady.f_w[p];
        if self.cycle.drained > 0.0 { fresh / self.cycle.drained } else { 0.0 }
    }

    /// The share of the recycled stream in a litre of its refills.
    pub(super) fn recycled(&self) -> f64 {
        if self.cycle.drained > 0.0 { self.mix.chi / self.cycle.drained } else { 0.0 }
    }

    /// What it gains of a property in a day with fresh make-up and from the work.
    pub(super) fn gained(&self, p: usize) -> f64 {
        let (steady, mix) = (self.steady, &self.mix);
        mix.m_w * steady.f_w[p] + mix.m_c * steady.shop.f_c[p] + steady.shop.gain(p, self.g)
    }

    /// The same with the recycled fluid in its make-up.
    fn taken_up(&self, p: usize) -> f64 {
        self.gained(p) + self.mix.chi_m * self.steady.given.amounts[p] / self.group.n
    }

    /// What it carries of a property just after its refill and just before its
    /// clean-out; the same twice where it is never drained.
    pub(super) fn contents(&self, p: usize) -> (f64, f64) {
        let own = self.cycle.own * self.taken_up(p);
        if self.cycle.drained <= 0.0 {
            return (own, own);
        }
        let refill = self.recycled() * self.steady.given.amounts[p] + self.fresh(p);
        let oldest = self.cycle.gamma * refill + own;
        (self.cycle.refilled(oldest, refill), oldest)
    }

    /// What it carries of a property on average over its life.
    pub(super) fn mean(&self, p: usize, average: &LifeAverage) -> f64 {
        let (refilled, _) = self.contents(p);
        average.of(refilled, self.taken_up(p))
    }

    /// Whether something piles up in the loop without end.
    pub(super) fn is_endless(&self) -> bool {
        self.steady.endless.is_some()
    }

    /// What it carries when it is old of something that comes with each litre of
    /// fresh concentrate and water alike, when the clean tank gives so much of it.
    pub(super) fn of_a_litre(&self, given: f64) -> f64 {
        let (mix, cycle) = (&self.mix, self.cycle);
        let own = cycle.own * (mix.m_c + mix.m_w + mix.chi_m * given / self.group.n);
        if cycle.drained <= 0.0 {
            return own;
        }
        cycle.gamma * (mix.chi * given + mix.y + mix.w) / cycle.drained + own
    }
}
