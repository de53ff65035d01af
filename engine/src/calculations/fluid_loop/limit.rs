//! How far each lever can be moved before a property passes its limit.
//!
//! A settled content moves one way only with the share recycled and with the
//! share of deionised water, so each limit has at most one crossing, which is
//! narrowed until its two sides touch, each of them evaluated.

use super::answer::LimitSide;
use super::shop::Shop;
use super::steady::{Exchange, Levers, Steady};
use crate::numerics::bracket::narrow;

/// A limit, and by how much the worst sump of the shop is over it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Over {
    pub(super) p: usize,
    pub(super) side: LimitSide,
    /// The limit, in the property's own unit.
    pub(super) limit: f64,
    /// The group with the worst sump.
    pub(super) g: usize,
    /// By how much it is over, as a share of the limit; at most nought when it
    /// is not.
    pub(super) by: f64,
}

/// How every limit is kept by the settled loop.
pub(super) fn overs(steady: &Steady<'_>) -> Vec<Over> {
    let limits = steady.shop.limits.iter().enumerate();
    let sides = limits.flat_map(|(p, (min, max))| {
        let max = max.map(|limit| (p, LimitSide::Max, limit));
        max.into_iter().chain(min.map(|limit| (p, LimitSide::Min, limit)))
    });
    sides.map(|(p, side, limit)| over(steady, p, side, limit)).collect()
}

fn over(steady: &Steady<'_>, p: usize, side: LimitSide, limit: f64) -> Over {
    let scale = if limit > 0.0 { limit } else { 1.0 };
    let mut worst = Over { p, side, limit, g: 0, by: f64::NEG_INFINITY };
    if steady.endless.is_some() {
        return Over { by: f64::INFINITY, ..worst };
    }
    for g in 0..steady.shop.groups.len() {
        let (refilled, oldest) = steady.contents(p, g);
        let by = match side {
            LimitSide::Max => refilled.max(oldest) - limit,
            LimitSide::Min => limit - refilled.min(oldest),
        } / scale;
        if by > worst.by {
            worst = Over { g, by, ..worst };
        }
    }
    worst
}

/// The limit that is kept worst.
pub(super) fn worst(overs: &[Over]) -> Option<Over> {
    overs.iter().copied().max_by(|a, b| a.by.total_cmp(&b.by))
}

/// How far recycling can go.
pub(super) enum Reach {
    /// All the way.
    All,
    /// Up to a share ε; what binds beyond it, if not a limit at the other end.
    Held { back: f64, by: Over },
    /// Not at all: this limit is never kept together with the others.
    None { by: Over },
}

/// The greatest share of the dirty tank's fluid that can come back, ε.
pub(super) fn greatest_back(shop: &Shop, exchange: &Exchange, deionised: f64) -> Reach {
    let at = |back: f64| overs(&Steady::of(shop, exchange, Levers { back, deionised }));
    let (open, closed) = (at(0.0), at(1.0));
    let never = open.iter().zip(&closed).filter(|(o, c)| o.by > 0.0 && c.by > 0.0);
    if let Some((by, _)) = never.max_by(|a, b| a.0.by.total_cmp(&b.0.by)) {
        return Reach::None { by: *by };
    }
    // Those that are kept when nothing is recycled, and so can only be lost.
    let rising: Vec<usize> = (0..open.len()).filter(|i| open[*i].by <= 0.0).collect();
    let most = |overs: &[Over]| {
        let rising: Vec<Over> = rising.iter().map(|i| overs[*i]).collect();
        worst(&rising).map_or(f64::NEG_INFINITY, |over| over.by)
    };
    if most(&closed) <= 0.0 {
        return Reach::All;
    }
    let sides = narrow(|back| most(&at(back)), (0.0, most(&open)), (1.0, most(&closed)));
    let beyond = at(sides.above);
    let by = rising.iter().map(|i| beyond[*i]).max_by(|a, b| a.by.total_cmp(&b.by));
    let within = at(sides.below);
    match (worst(&within).filter(|over| over.by > 0.0), by) {
        (Some(by), _) => Reach::None { by },
        (None, Some(by)) => Reach::Held { back: sides.below, by },
        (None, None) => Reach::All,
    }
}

/// The least share of deionised water that keeps every limit; none when not
/// even deionised water alone does.
pub(super) fn least_deionised(shop: &Shop, exchange: &Exchange, back: f64) -> Option<f64> {
    let at = |deionised: f64| {
        let overs = overs(&Steady::of(shop, exchange, Levers { back, deionised }));
        worst(&overs).map_or(f64::NEG_INFINITY, |over| over.by)
    };
    let (tap, pure) = (at(0.0), at(1.0));
    if tap <= 0.0 {
        return Some(0.0);
    }
    (pure <= 0.0).then(|| narrow(at, (1.0, pure), (0.0, tap)).below)
}

/// How many times as long the fluid may live, and what holds it there.
pub(super) fn longest_life(shop: &Shop, levers: Levers) -> Option<(f64, Over)> {
    /// Longer lives are not tried: what has not passed its limit by then has
    /// settled to what make-up alone brings it to.
    const LONGEST: f64 = 4096.0;
    let shortest = shop.groups.iter().filter_map(|group| group.t).fold(f64::INFINITY, f64::min);
    if !shortest.is_finite() {
        return None;
    }
    let at = |life: f64| {
        let exchange = Exchange::of(shop, life);
        worst(&overs(&Steady::of(shop, &exchange, levers)))
    };
    let by = |life: f64| at(life).map_or(f64::NEG_INFINITY, |over| over.by);
    let (mut below, mut above) = ((1.0, by(1.0)), (1.0, f64::NAN));
    if below.1 <= 0.0 {
        while !(above.1 > 0.0) {
            if above.0 >= LONGEST {
                return None;
            }
            if above.0 > 1.0 {
                below = above;
            }
            above.0 *= 2.0;
            above.1 = by(above.0);
        }
    } else {
        while below.1 > 0.0 {
            // No sump is drained more than once a day.
            if below.0 * shortest <= 1.0 {
                return None;
            }
            above = below;
            below.0 = (0.5 * below.0).max(1.0 / shortest);
            below.1 = by(below.0);
        }
    }
    let sides = narrow(by, below, above);
    at(sides.above).map(|over| (sides.below, over))
}
