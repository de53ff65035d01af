//! How far each lever can be moved before a property passes its limit.
//!
//! A settled content moves one way only with the share recycled (a litre of it
//! takes the place of a litre of fresh fluid of the same strength, everywhere)
//! and with the share of deionised water, so each limit has at most one
//! crossing, which is narrowed until its two sides touch, each of them
//! evaluated. What the recycler's oil leaves room for is too little to turn it.

use super::answer::LimitSide;
use super::exchange::Exchange;
use super::shop::Shop;
use super::steady::{Levers, Steady};
use super::sump::Sump;
use crate::numerics::cut_off::look;
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

impl Over {
    fn place(&self) -> Place {
        (self.p, self.side)
    }
}

/// The places of all limits of a shop.
fn places(shop: &Shop) -> Vec<Place> {
    let limits = shop.limits.iter().enumerate();
    let places = limits.flat_map(|(p, (min, max))| {
        let max = max.map(|_| (p, LimitSide::Max));
        max.into_iter().chain(min.map(|_| (p, LimitSide::Min)))
    });
    places.collect()
}

/// How every limit is kept by the settled loop, each by its worst sump.
pub(super) fn overs(steady: &Steady<'_>) -> Vec<Over> {
    let unknown = |(p, side)| Over {
        p,
        side,
        limit: limit(steady.shop, (p, side)),
        g: 0,
        by: f64::NEG_INFINITY,
    };
    let mut worst: Vec<Over> = places(steady.shop).into_iter().map(unknown).collect();
    for (g, sump) in steady.sumps().enumerate() {
        for worst in &mut worst {
            let by = over_by(&sump, worst.place(), worst.limit);
            if by > worst.by {
                *worst = Over { g, by, ..*worst };
            }
        }
    }
    worst
}

/// A limit in the property's own unit.
fn limit(shop: &Shop, (p, side): Place) -> f64 {
    let (min, max) = shop.limits[p];
    if side == LimitSide::Max { max } else { min }.unwrap_or_default()
}

/// By how much a sump is over a limit, as a share of it.
fn over_by(sump: &Sump<'_>, (p, side): Place, limit: f64) -> f64 {
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
fn passed(overs: &[Over]) -> Vec<Place> {
    overs.iter().filter(|over| over.by > 0.0).map(Over::place).collect()
}

/// What is moved to keep the limits; the other two stay where they are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Lever {
    Back,
    Deionised,
    Life,
}

/// The search along one lever.
struct Search<'a> {
    shop: &'a Shop,
    /// The shop at the life of its fluid that was asked for.
    exchange: &'a Exchange,
    levers: Levers,
    lever: Lever,
}

/// A place of the lever, and how every limit is kept there.
struct Tried {
    at: f64,
    overs: Vec<Over>,
}

impl Search<'_> {
    /// What the loop that settles with the lever at `x` has to tell.
    fn settled<T>(&self, x: f64, tell: impl FnOnce(&Steady<'_>) -> T) -> T {
        look();
        let (shop, exchange, levers) = (self.shop, self.exchange, self.levers);
        match self.lever {
            Lever::Back => tell(&Steady::of(shop, exchange, Levers { back: x, ..levers })),
            Lever::Deionised => {
                tell(&Steady::of(shop, exchange, Levers { deionised: x, ..levers }))
            }
            Lever::Life => tell(&Steady::of(shop, &Exchange::of(shop, x), levers)),
        }
    }

    fn at(&self, x: f64) -> Tried {
        Tried { at: x, overs: self.settled(x, overs) }
    }

    /// Narrows the lever between `below`, where some limits are kept, and `above`,
    /// where one of them is not. The way there looks at the groups that have been
    /// the worst, and where it ends all are looked at: while one of the others is
    /// over there, it goes on with that one too.
    fn narrow(&self, wanted: &[Place], mut below: Tried, mut above: Tried) -> (Tried, Tried) {
        let mut watched: Vec<(Place, usize)> = vec![];
        watched.extend(below.among(wanted).map(|over| (over.place(), over.g)));
        loop {
            watched.extend(above.among(wanted).map(|over| (over.place(), over.g)));
            let watching = |x: f64| {
                self.settled(x, |steady| {
                    let overs = watched.iter().map(|(place, g)| {
                        over_by(&steady.sump(*g), *place, limit(self.shop, *place))
                    });
                    overs.fold(f64::NEG_INFINITY, f64::max)
                })
            };
            let sides =
                narrow(watching, (below.at, below.most(wanted)), (above.at, above.most(wanted)));
            if sides.below != below.at {
                let within = self.at(sides.below);
                if within.most(wanted) > 0.0 {
                    above = within;
                    continue;
                }
                below = within;
            }
            if sides.above != above.at {
                above = self.at(sides.above);
            }
            return (below, above);
        }
    }
}

impl Tried {
    fn among(&self, wanted: &[Place]) -> impl Iterator<Item = &Over> {
        self.overs.iter().filter(|over| wanted.contains(&over.place()))
    }

    /// The worst of some limits.
    fn worst_of(&self, wanted: &[Place]) -> Option<Over> {
        self.among(wanted).copied().max_by(|a, b| a.by.total_cmp(&b.by))
    }

    /// By how much it is over.
    fn most(&self, wanted: &[Place]) -> f64 {
        self.worst_of(wanted).map_or(f64::NEG_INFINITY, |over| over.by)
    }

    /// The worst limit that is passed.
    fn passed(&self) -> Option<Over> {
        worst(&self.overs).filter(|over| over.by > 0.0)
    }
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
pub(super) fn greatest_back(shop: &Shop, exchange: &Exchange, levers: Levers) -> Reach {
    let search = Search { shop, exchange, levers, lever: Lever::Back };
    let open = search.at(0.0);
    if !shop.recycles {
        return Reach::NoRecycler { by: open.passed() };
    }
    let closed = search.at(1.0);
    let both = || open.overs.iter().zip(&closed.overs);
    let never = both().filter(|(o, c)| o.by > 0.0 && c.by > 0.0);
    if let Some((by, _)) = never.max_by(|a, b| a.0.by.total_cmp(&b.0.by)) {
        return Reach::None { by: *by };
    }
    // Those that are kept when nothing is recycled and passed when everything is.
    let rising: Vec<Place> =
        both().filter(|(o, c)| o.by <= 0.0 && c.by > 0.0).map(|(over, _)| over.place()).collect();
    if rising.is_empty() {
        return Reach::All;
    }
    let (within, beyond) = search.narrow(&rising, open, closed);
    match (within.passed(), beyond.worst_of(&rising)) {
        (Some(by), _) => Reach::None { by },
        (None, Some(by)) => Reach::Held { back: within.at, by },
        (None, None) => Reach::All,
    }
}

/// What deionised water can do.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Deionised {
    /// The least share of it that keeps every limit; none when no share does.
    pub(super) share: Option<f64>,
    /// A limit that wants more of it and one that bears less, where that is why.
    pub(super) conflict: Option<(Over, Over)>,
}

/// The least share of deionised water that keeps every limit.
pub(super) fn least_deionised(shop: &Shop, exchange: &Exchange, levers: Levers) -> Deionised {
    let search = Search { shop, exchange, levers, lever: Lever::Deionised };
    let tap = search.at(0.0);
    let places = passed(&tap.overs);
    if places.is_empty() {
        return Deionised { share: Some(0.0), conflict: None };
    }
    let pure = search.at(1.0);
    // What is passed with tap water and kept without it wants deionised water.
    let kept_pure = pure.overs.iter().filter(|over| over.by <= 0.0).map(Over::place);
    let kept_pure: Vec<Place> = kept_pure.collect();
    let wants: Vec<Place> = places.iter().copied().filter(|p| kept_pure.contains(p)).collect();
    let wanting = tap.worst_of(&wants);
    if pure.most(&places) > 0.0 {
        let rest: Vec<Place> = places.iter().copied().filter(|p| !wants.contains(p)).collect();
        let conflict = wanting.zip(pure.worst_of(&rest));
        return Deionised { share: None, conflict };
    }
    let (within, _) = search.narrow(&places, pure, tap);
    // Water that has less of everything can have too little of something.
    match within.passed() {
        None => Deionised { share: Some(within.at), conflict: None },
        Some(breaks) => Deionised { share: None, conflict: wanting.map(|wants| (wants, breaks)) },
    }
}

/// How many times as long the fluid may live, and what holds it there.
pub(super) fn longest_life(
    shop: &Shop,
    exchange: &Exchange,
    levers: Levers,
) -> Option<(f64, Over)> {
    /// Longer lives are not tried: what has not passed its limit by then has
    /// settled to what make-up alone brings it to.
    const LONGEST: f64 = 4096.0;
    /// By how much a longer or shorter life is tried before it is narrowed.
    const STRIDE: f64 = 4.0;
    let shortest = shop.groups.iter().filter_map(|group| group.t).fold(f64::INFINITY, f64::min);
    if !shortest.is_finite() {
        return None;
    }
    let search = Search { shop, exchange, levers, lever: Lever::Life };
    let mut within = search.at(1.0);
    let mut beyond = None;
    while within.passed().is_none() && beyond.is_none() {
        if within.at >= LONGEST {
            return None;
        }
        let longer = search.at(within.at * STRIDE);
        if longer.passed().is_some() { beyond = Some(longer) } else { within = longer }
    }
    while within.passed().is_some() {
        // No sump is drained more than once a day.
        if within.at * shortest <= 1.0 {
            return None;
        }
        let shorter = search.at((within.at / STRIDE).max(shortest.recip()));
        beyond = Some(std::mem::replace(&mut within, shorter));
    }
    let beyond = beyond?;
    let places = passed(&beyond.overs);
    let (within, beyond) = search.narrow(&places, within, beyond);
    worst(&beyond.overs).filter(|_| within.passed().is_none()).map(|over| (within.at, over))
}
