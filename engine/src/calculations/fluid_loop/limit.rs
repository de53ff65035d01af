//! How far each lever can be moved before a property passes its limit.
//!
//! A settled content moves one way only with the share recycled (a litre of it
//! takes the place of a litre of fresh fluid of the same strength, everywhere)
//! and with the share of deionised water, so each limit has at most one
//! crossing, which is narrowed until its two sides touch, each of them
//! evaluated. What the recycler's oil leaves room for is too little to turn it.

use super::answer::LimitSide;
use super::shop::Shop;
use super::steady::{Exchange, Levers, Steady};
use crate::cut_off::look;
use crate::numerics::root::narrow;

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

/// A limit by its place: a property and which of its ends.
type Place = (usize, LimitSide);

/// The places of all limits of a shop.
fn places(shop: &Shop) -> Vec<Place> {
    let limits = shop.limits.iter().enumerate();
    let places = limits.flat_map(|(p, (min, max))| {
        let max = max.map(|_| (p, LimitSide::Max));
        max.into_iter().chain(min.map(|_| (p, LimitSide::Min)))
    });
    places.collect()
}

/// How every limit is kept by the settled loop.
pub(super) fn overs(steady: &Steady<'_>) -> Vec<Over> {
    places(steady.shop).into_iter().map(|place| over(steady, place)).collect()
}

/// By how much the worst of some limits is passed, with nothing else settled.
fn most_over(shop: &Shop, exchange: &Exchange, levers: Levers, places: &[Place]) -> f64 {
    let wanted = |p: usize| places.iter().any(|place| place.0 == p);
    let steady = Steady::with(shop, exchange, levers, wanted);
    places.iter().map(|place| over(&steady, *place).by).fold(f64::NEG_INFINITY, f64::max)
}

/// The limits that are passed.
fn passed(overs: &[Over]) -> Vec<Place> {
    overs.iter().filter(|over| over.by > 0.0).map(|over| (over.p, over.side)).collect()
}

fn over(steady: &Steady<'_>, (p, side): Place) -> Over {
    let (min, max) = steady.shop.limits[p];
    let limit = if side == LimitSide::Max { max } else { min }.unwrap_or_default();
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
    /// Nothing is recycled; the limit that is passed all the same, if one is.
    NoRecycler { by: Option<Over> },
}

/// The greatest share of the dirty tank's fluid that can come back, ε.
pub(super) fn greatest_back(shop: &Shop, exchange: &Exchange, deionised: f64) -> Reach {
    let at = |back: f64| overs(&Steady::of(shop, exchange, Levers { back, deionised }));
    let open = at(0.0);
    if !shop.recycles {
        return Reach::NoRecycler { by: worst(&open).filter(|over| over.by > 0.0) };
    }
    let closed = at(1.0);
    let never = open.iter().zip(&closed).filter(|(o, c)| o.by > 0.0 && c.by > 0.0);
    if let Some((by, _)) = never.max_by(|a, b| a.0.by.total_cmp(&b.0.by)) {
        return Reach::None { by: *by };
    }
    // Those that are kept when nothing is recycled and passed when everything is.
    let both = open.iter().zip(&closed).filter(|(o, c)| o.by <= 0.0 && c.by > 0.0);
    let rising: Vec<Place> = both.map(|(over, _)| (over.p, over.side)).collect();
    if rising.is_empty() {
        return Reach::All;
    }
    let most = |overs: &[Over]| {
        let rising = overs.iter().filter(|over| rising.contains(&(over.p, over.side)));
        rising.copied().max_by(|a, b| a.by.total_cmp(&b.by))
    };
    let by = |overs: &[Over]| most(overs).map_or(f64::NEG_INFINITY, |over| over.by);
    let at_back = |back| most_over(shop, exchange, Levers { back, deionised }, &rising);
    let sides = narrow(at_back, (0.0, by(&open)), (1.0, by(&closed)));
    let within = at(sides.below);
    match (worst(&within).filter(|over| over.by > 0.0), most(&at(sides.above))) {
        (Some(by), _) => Reach::None { by },
        (None, Some(by)) => Reach::Held { back: sides.below, by },
        (None, None) => Reach::All,
    }
}

/// The least share of deionised water that keeps every limit; none when not
/// even deionised water alone does.
pub(super) fn least_deionised(shop: &Shop, exchange: &Exchange, back: f64) -> Option<f64> {
    let at = |deionised: f64| overs(&Steady::of(shop, exchange, Levers { back, deionised }));
    let tap = at(0.0);
    let places = passed(&tap);
    if places.is_empty() {
        return Some(0.0);
    }
    let by = |deionised: f64| most_over(shop, exchange, Levers { back, deionised }, &places);
    let pure = by(1.0);
    let tap = worst(&tap).map_or(0.0, |over| over.by);
    let least = (pure <= 0.0).then(|| narrow(by, (1.0, pure), (0.0, tap)).below)?;
    // Water that has less of everything can have too little of something.
    passed(&at(least)).is_empty().then_some(least)
}

/// How many times as long the fluid may live, and what holds it there.
pub(super) fn longest_life(shop: &Shop, levers: Levers) -> Option<(f64, Over)> {
    /// Longer lives are not tried: what has not passed its limit by then has
    /// settled to what make-up alone brings it to.
    const LONGEST: f64 = 4096.0;
    /// By how much a longer or shorter life is tried before it is narrowed.
    const STRIDE: f64 = 4.0;
    let shortest = shop.groups.iter().filter_map(|group| group.t).fold(f64::INFINITY, f64::min);
    if !shortest.is_finite() {
        return None;
    }
    let at = |life: f64| {
        look();
        overs(&Steady::of(shop, &Exchange::of(shop, life), levers))
    };
    let by = |overs: &[Over]| worst(overs).map_or(f64::NEG_INFINITY, |over| over.by);
    let now = at(1.0);
    let (mut below, mut above) = (1.0, 1.0);
    let (mut within, mut beyond) = (by(&now), now);
    while passed(&beyond).is_empty() {
        if above >= LONGEST {
            return None;
        }
        (below, within) = (above, by(&beyond));
        above *= STRIDE;
        beyond = at(above);
    }
    while within > 0.0 {
        // No sump is drained more than once a day.
        if below * shortest <= 1.0 {
            return None;
        }
        above = below;
        below = (below / STRIDE).max(1.0 / shortest);
        let tried = at(below);
        within = by(&tried);
        if within > 0.0 {
            beyond = tried;
        }
    }
    let places = passed(&beyond);
    let at_life = |life: f64| most_over(shop, &Exchange::of(shop, life), levers, &places);
    let sides = narrow(at_life, (below, within), (above, by(&beyond)));
    let kept = passed(&at(sides.below)).is_empty();
    worst(&at(sides.above)).filter(|_| kept).map(|over| (sides.below, over))
}
