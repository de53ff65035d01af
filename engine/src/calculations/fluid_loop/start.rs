//! Where the way there begins.

use super::steady::Steady;
use super::way::{Start, Tank};
use super::{FluidLoop, LoopTank};
use crate::quantity::Quantity;

impl FluidLoop {
    /// What sumps and tanks carry on the first day: what the question says, or
    /// freshly mixed fluid of their strength.
    pub(super) fn start(&self, steady: &Steady<'_>) -> Start {
        let (shop, exchange, f_w) = (steady.shop, steady.exchange, &steady.f_w);
        let strength = |c: f64, rest: f64| if c + rest > 0.0 { c / (c + rest) } else { 0.0 };
        let tank = |tank: Option<&LoopTank>, c: f64| Tank {
            h: tank.map_or(0.0, LoopTank::held),
            start: shop.carries(tank.and_then(|tank| tank.carries_now.as_ref()), c, f_w),
        };
        let tanks = self.tanks.as_ref();
        let dirty = strength(exchange.back_c, exchange.back_rest);
        let clean = strength(steady.given.c, steady.given.rest);
        let sumps = self.groups.iter().zip(&shop.groups);
        let sumps = sumps.map(|(asked, group)| {
            let now = asked.carries_now.as_ref();
            shop.carries(now, group.c, f_w)
        });
        Start {
            dirty: tank(tanks.and_then(|tanks| tanks.dirty.as_ref()), dirty),
            clean: tank(tanks.and_then(|tanks| tanks.clean.as_ref()), clean),
            sumps: sumps.collect(),
        }
    }
}

impl LoopTank {
    /// What is in it when the day's work is taken out, L.
    pub(super) fn held(&self) -> f64 {
        self.holds.map_or(self.capacity.get() / 2.0, Quantity::get)
    }
}
