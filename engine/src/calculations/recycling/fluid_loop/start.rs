//! Where the way to steady state begins.

use super::shop::LoopGroup;
use super::steady::SteadyLoop;
use super::transient::{LoopStart, TankStart};
use super::{FluidLoop, LoopTank, SumpGroup};
use crate::quantity::Quantity;

impl FluidLoop {
    /// What sumps and tanks carry on the first day: what the question says, or
    /// freshly mixed fluid of their strength.
    pub(super) fn start(&self, steady: &SteadyLoop<'_>) -> LoopStart {
        let (shop, exchange, f_w) = (steady.shop, steady.exchange, &steady.f_w);
        let strength = |c: f64, rest: f64| if c + rest > 0.0 { c / (c + rest) } else { 0.0 };
        let all = || 0..shop.properties();
        let tank = |tank: Option<&LoopTank>, c: f64| {
            let now = tank.and_then(|tank| tank.carries_now.as_ref());
            TankStart {
                h: tank.map_or(0.0, LoopTank::held),
                start: all().map(|p| shop.carries(p, now, c, f_w)).collect(),
            }
        };
        let tanks = self.tanks.as_ref();
        let dirty = strength(exchange.back_c, exchange.back_rest);
        let clean = strength(steady.given.c, steady.given.rest);
        let sumps = |p: usize| {
            let sumps = self.groups.iter().zip(&shop.groups);
            let carried = |(asked, group): (&SumpGroup, &LoopGroup)| {
                shop.carries(p, asked.carries_now.as_ref(), group.c, f_w)
            };
            sumps.map(carried).collect()
        };
        LoopStart {
            dirty: tank(tanks.and_then(|tanks| tanks.dirty.as_ref()), dirty),
            clean: tank(tanks.and_then(|tanks| tanks.clean.as_ref()), clean),
            sumps: all().map(sumps).collect(),
        }
    }
}

impl LoopTank {
    /// What is in it when the day's work is taken out, L.
    pub(super) fn held(&self) -> f64 {
        self.holds.map_or(self.capacity.get() / 2.0, Quantity::get)
    }
}
