//! Where the loop settles.
//!
//! Seen from the tanks a group of sumps is one straight line: what comes back
//! from it each day is so much of what it was given, and so much of its own.
//! So every sump is eliminated by itself, and what is left of the network is
//! one equation a property between the dirty and the clean tank (the Schur
//! complement of the bordered system): linear in the number of sumps, and exact.
//! What all groups together come to, [`Exchange`] knows.

use super::exchange::{Exchange, GroupFeed, RecycledDivision};
use super::shop::{LoopShop, OIL};

/// The shares that can be set in a shop.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct LoopLevers {
    /// The share of the dirty tank's fluid that goes through the recycler and
    /// is not discarded afterwards, 0 to 1: ε.
    pub(super) back: f64,
    /// The share of deionised water, 0 to 1.
    pub(super) deionised: f64,
}

/// What the clean tank gives in a day when all has settled.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct CleanTankGives {
    /// Concentrate, L.
    pub(super) c: f64,
    /// Everything else by volume, L: water and oil.
    pub(super) rest: f64,
    /// By property: how much, L or mg.
    pub(super) amounts: Vec<f64>,
}

/// The settled loop.
pub(super) struct SteadyLoop<'a> {
    pub(super) shop: &'a LoopShop,
    pub(super) exchange: &'a Exchange,
    pub(super) back: f64,
    /// What the water carries, by property.
    pub(super) f_w: Vec<f64>,
    division: RecycledDivision,
    pub(super) given: CleanTankGives,
    /// What comes into the dirty tank in a day, by property, L or mg.
    pub(super) returned: Vec<f64>,
    /// A property that piles up without end, because nothing takes it away.
    pub(super) endless: Option<usize>,
}

/// Where less than this share leaves the loop in a round, none does.
const LEAVES_AT_LEAST: f64 = 1e-12;

impl<'a> SteadyLoop<'a> {
    pub(super) fn of(shop: &'a LoopShop, exchange: &'a Exchange, levers: LoopLevers) -> Self {
        let back = levers.back;
        let kept = (1.0 - shop.lost) * back;
        let c = kept * (1.0 - shop.r_c) * exchange.back_c;
        let mut steady = Self {
            shop,
            exchange,
            back,
            f_w: shop.f_w(levers.deionised),
            division: exchange.divided(back),
            given: CleanTankGives { c, rest: 0.0, amounts: vec![0.0; shop.properties()] },
            returned: vec![0.0; shop.properties()],
            endless: None,
        };
        steady.settle(OIL);
        // Oil that is taken out leaves its room to water.
        steady.given.rest =
            kept * (exchange.back_rest - steady.returned[OIL]) + steady.given.amounts[OIL];
        (OIL + 1..shop.properties()).for_each(|p| steady.settle(p));
        steady
    }

    /// One equation a property: what comes back is `again` times what the clean
    /// tank gives, and `fresh`; what the clean tank gives is ρ·ε of what comes
    /// back.
    fn settle(&mut self, p: usize) {
        let (shop, exchange, given) = (self.shop, self.exchange, &self.given);
        let fresh = exchange.fresh_c(self.division, given.c) * shop.f_c[p]
            + exchange.fresh_w(self.division, given.rest) * self.f_w[p]
            + exchange.gained(p);
        if fresh == 0.0 {
            return;
        }
        let rho = (1.0 - shop.lost) * (1.0 - shop.r[p]) * self.back;
        let leaves = 1.0 - rho * exchange.again(self.division);
        if leaves <= LEAVES_AT_LEAST {
            self.endless = self.endless.or(Some(p));
            return;
        }
        self.returned[p] = fresh / leaves;
        self.given.amounts[p] = rho * self.returned[p];
    }

    /// What group `g` is fed with when the clean tank gives `rest` litres of water
    /// and oil in a day.
    pub(super) fn mix(&self, g: usize, rest: f64) -> GroupFeed {
        self.exchange.mix(g, &self.shop.groups[g], self.division, self.given.c, rest)
    }

    /// What recycled fluid carries, by property; none when nothing is recycled.
    pub(super) fn recycled(&self) -> Option<Vec<f64>> {
        let volume = self.given.c + self.given.rest;
        let contents = self.given.amounts.iter().map(|amount| amount / volume);
        (volume > 0.0).then(|| contents.collect())
    }

    /// What the clean tank gives in a day of a salt that comes with fresh
    /// concentrate and water alone, one unit with each litre, and that no treatment
    /// takes out; none when nothing but water to the air ever leaves the loop, so
    /// that it piles up without end.
    pub(super) fn salt_given(&self) -> Option<f64> {
        let (exchange, division, given) = (self.exchange, self.division, &self.given);
        let rho = (1.0 - self.shop.lost) * self.back;
        let leaves = 1.0 - rho * exchange.again(division);
        let fresh = exchange.fresh_c(division, given.c) + exchange.fresh_w(division, given.rest);
        (leaves > LEAVES_AT_LEAST).then(|| rho * fresh / leaves)
    }

    /// What comes back from the clean tank into sumps in a day, L.
    pub(super) fn reused(&self) -> f64 {
        self.exchange.taken(self.division) * (self.given.c + self.given.rest)
    }
}
