//! By how much the worst sump of a settled loop is over each limit.

use super::answer::LimitSide;
use super::settled_sump::SettledSump;
use super::shop::{LoopShop, OIL};
use super::steady::SteadyLoop;
use crate::quantity::{Concentration, Content, Measure, Quantity};

/// A limit, and by how much the worst sump of the shop is over it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Excess {
    pub(super) p: usize,
    pub(super) side: LimitSide,
    /// The limit, in the property's own unit.
    pub(super) limit: f64,
    /// The group with the worst sump.
    pub(super) g: usize,
    /// By how much it is over, as a share of the limit; at most 0 when it is not.
    pub(super) by: f64,
}

/// A limit by its place: a property and which of its ends.
pub(super) type LimitPlace = (usize, LimitSide);

impl Excess {
    pub(super) const fn place(&self) -> LimitPlace {
        (self.p, self.side)
    }

    /// The limit for a sentence.
    pub(super) fn limit_measure(&self) -> Measure {
        measure(self.p, self.limit)
    }
}

/// A content of property `p` for a sentence.
pub(super) fn measure(p: usize, content: f64) -> Measure {
    if p == OIL {
        Concentration::measure_of_fraction(content)
    } else {
        Content::measure_of(content)
    }
}

/// The places of all limits of a shop.
fn places(shop: &LoopShop) -> Vec<LimitPlace> {
    let limits = shop.limits.iter().enumerate();
    let places = limits.flat_map(|(p, (min, max))| {
        let max = max.map(|_| (p, LimitSide::Max));
        max.into_iter().chain(min.map(|_| (p, LimitSide::Min)))
    });
    places.collect()
}

/// How every limit is kept by the settled loop, each by its worst sump.
pub(super) fn excesses(steady: &SteadyLoop<'_>) -> Vec<Excess> {
    let unknown = |(p, side)| Excess {
        p,
        side,
        limit: limit(steady.shop, (p, side)),
        g: 0,
        by: f64::NEG_INFINITY,
    };
    let mut worst: Vec<Excess> = places(steady.shop).into_iter().map(unknown).collect();
    for (g, sump) in steady.sumps().enumerate() {
        for worst in &mut worst {
            let by = over_by(&sump, worst.place(), worst.limit);
            if by > worst.by {
                *worst = Excess { g, by, ..*worst };
            }
        }
    }
    worst
}

/// A limit in the property's own unit.
pub(super) fn limit(shop: &LoopShop, (p, side): LimitPlace) -> f64 {
    let (min, max) = shop.limits[p];
    if side == LimitSide::Max { max } else { min }.unwrap_or_default()
}

/// By how much a sump is over a limit, as a share of it.
pub(super) fn over_by(sump: &SettledSump<'_>, (p, side): LimitPlace, limit: f64) -> f64 {
    if sump.is_endless() {
        return f64::INFINITY;
    }
    let (refilled, oldest) = sump.contents(p);
    let by = match side {
        LimitSide::Max => refilled.max(oldest) - limit,
        LimitSide::Min => limit - refilled.min(oldest),
    };
    if limit > 0.0 { by / limit } else { by }
}

/// The limits that are passed.
pub(super) fn passed(excesses: &[Excess]) -> Vec<LimitPlace> {
    excesses.iter().filter(|excess| excess.by > 0.0).map(Excess::place).collect()
}

/// The limit that is kept worst.
pub(super) fn worst(excesses: &[Excess]) -> Option<Excess> {
    excesses.iter().copied().max_by(|a, b| a.by.total_cmp(&b.by))
}
