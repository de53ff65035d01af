//! How far each lever can be moved before a property passes its limit.
//!
//! A settled content moves one way only with the share recycled (a litre of it
//! takes the place of a litre of fresh fluid of the same strength, everywhere)
//! and with the share of deionised water, so each limit has at most one
//! crossing, which is narrowed until its two sides touch, each of them
//! evaluated. What the recycler's oil leaves room for is too little to turn it.

use super::excess::{Excess, LimitPlace, excesses, limit, over_by, passed, worst};
use super::exchange::Exchange;
use super::shop::LoopShop;
use super::steady::{LoopLevers, SteadyLoop};
use crate::numerics::cut_off::{self, look};
use crate::numerics::root::narrow;

/// What is moved to keep the limits; the other two stay where they are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum LoopLever {
    Back,
    Deionised,
    Life,
}

/// The search along one lever.
struct LeverSearch<'a> {
    shop: &'a LoopShop,
    /// The shop at the life of its fluid that was asked for.
    exchange: &'a Exchange,
    levers: LoopLevers,
    lever: LoopLever,
}

/// A place of the lever, and how every limit is kept there.
struct TriedLever {
    at: f64,
    excesses: Vec<Excess>,
}

impl LeverSearch<'_> {
    /// What the loop that settles with the lever at `x` has to tell.
    fn settled<T>(&self, x: f64, tell: impl FnOnce(&SteadyLoop<'_>) -> T) -> T {
        look();
        let (shop, exchange, levers) = (self.shop, self.exchange, self.levers);
        match self.lever {
            LoopLever::Back => {
                tell(&SteadyLoop::of(shop, exchange, LoopLevers { back: x, ..levers }))
            }
            LoopLever::Deionised => {
                tell(&SteadyLoop::of(shop, exchange, LoopLevers { deionised: x, ..levers }))
            }
            LoopLever::Life => tell(&SteadyLoop::of(shop, &Exchange::of(shop, x), levers)),
        }
    }

    fn at(&self, x: f64) -> TriedLever {
        TriedLever { at: x, excesses: self.settled(x, excesses) }
    }

    /// Narrows the lever between `below`, where some limits are kept, and `above`,
    /// where one of them is not. The way there looks at the groups that have been
    /// the worst, and where it ends all are looked at: while one of the others is
    /// over there, it goes on with that one too.
    fn narrow(
        &self,
        wanted: &[LimitPlace],
        mut below: TriedLever,
        mut above: TriedLever,
    ) -> (TriedLever, TriedLever) {
        let mut watched: Vec<(LimitPlace, usize)> = vec![];
        watched.extend(below.among(wanted).map(|excess| (excess.place(), excess.g)));
        loop {
            watched.extend(above.among(wanted).map(|excess| (excess.place(), excess.g)));
            let watching = |x: f64| {
                self.settled(x, |steady| {
                    let excesses = watched.iter().map(|(place, g)| {
                        over_by(&steady.sump(*g), *place, limit(self.shop, *place))
                    });
                    excesses.fold(f64::NEG_INFINITY, f64::max)
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

impl TriedLever {
    fn among(&self, wanted: &[LimitPlace]) -> impl Iterator<Item = &Excess> {
        self.excesses.iter().filter(|excess| wanted.contains(&excess.place()))
    }

    /// The worst of some limits.
    fn worst_of(&self, wanted: &[LimitPlace]) -> Option<Excess> {
        self.among(wanted).copied().max_by(|a, b| a.by.total_cmp(&b.by))
    }

    /// By how much it is over.
    fn most(&self, wanted: &[LimitPlace]) -> f64 {
        self.worst_of(wanted).map_or(f64::NEG_INFINITY, |excess| excess.by)
    }

    /// The worst limit that is passed.
    fn passed(&self) -> Option<Excess> {
        worst(&self.excesses).filter(|excess| excess.by > 0.0)
    }
}

/// How far recycling can go.
pub(super) enum RecyclingReach {
    /// All the way.
    All,
    /// Up to a share ε; what binds beyond it, if not a limit at the other end.
    Held { back: f64, by: Excess },
    /// Not at all: this limit is never kept together with the others.
    None { by: Excess },
    /// Nothing is recycled; the limit that is passed all the same, if one is.
    NoRecycler { by: Option<Excess> },
}

/// The greatest share of the dirty tank's fluid that can come back, ε.
fn greatest_back(shop: &LoopShop, exchange: &Exchange, levers: LoopLevers) -> RecyclingReach {
    let search = LeverSearch { shop, exchange, levers, lever: LoopLever::Back };
    let open = search.at(0.0);
    if !shop.recycles {
        return RecyclingReach::NoRecycler { by: open.passed() };
    }
    let closed = search.at(1.0);
    let both = || open.excesses.iter().zip(&closed.excesses);
    let never = both().filter(|(o, c)| o.by > 0.0 && c.by > 0.0);
    if let Some((by, _)) = never.max_by(|a, b| a.0.by.total_cmp(&b.0.by)) {
        return RecyclingReach::None { by: *by };
    }
    // Those that are kept when nothing is recycled and passed when everything is.
    let rising: Vec<LimitPlace> = both()
        .filter(|(o, c)| o.by <= 0.0 && c.by > 0.0)
        .map(|(excess, _)| excess.place())
        .collect();
    if rising.is_empty() {
        return RecyclingReach::All;
    }
    let (within, beyond) = search.narrow(&rising, open, closed);
    match (within.passed(), beyond.worst_of(&rising)) {
        (Some(by), _) => RecyclingReach::None { by },
        (None, Some(by)) => RecyclingReach::Held { back: within.at, by },
        (None, None) => RecyclingReach::All,
    }
}

/// What deionised water can do.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct DeionisedReach {
    /// The least share of it that keeps every limit; none when no share does.
    pub(super) share: Option<f64>,
    /// A limit that wants more of it and one that bears less, where that is why.
    pub(super) conflict: Option<(Excess, Excess)>,
}

/// The least share of deionised water that keeps every limit.
fn least_deionised(shop: &LoopShop, exchange: &Exchange, levers: LoopLevers) -> DeionisedReach {
    let search = LeverSearch { shop, exchange, levers, lever: LoopLever::Deionised };
    let tap = search.at(0.0);
    let places = passed(&tap.excesses);
    if places.is_empty() {
        return DeionisedReach { share: Some(0.0), conflict: None };
    }
    let pure = search.at(1.0);
    // What is passed with tap water and kept without it wants deionised water.
    let kept_pure = pure.excesses.iter().filter(|excess| excess.by <= 0.0).map(Excess::place);
    let kept_pure: Vec<LimitPlace> = kept_pure.collect();
    let wants: Vec<LimitPlace> = places.iter().copied().filter(|p| kept_pure.contains(p)).collect();
    let wanting = tap.worst_of(&wants);
    if pure.most(&places) > 0.0 {
        let rest: Vec<LimitPlace> = places.iter().copied().filter(|p| !wants.contains(p)).collect();
        let conflict = wanting.zip(pure.worst_of(&rest));
        return DeionisedReach { share: None, conflict };
    }
    let (within, _) = search.narrow(&places, pure, tap);
    // Water that has less of everything can have too little of something.
    match within.passed() {
        None => DeionisedReach { share: Some(within.at), conflict: None },
        Some(breaks) => {
            DeionisedReach { share: None, conflict: wanting.map(|wants| (wants, breaks)) }
        }
    }
}

/// How many times as long the fluid may live, and what holds it there.
fn longest_life(shop: &LoopShop, exchange: &Exchange, levers: LoopLevers) -> Option<(f64, Excess)> {
    /// Longer lives are not tried: what has not passed its limit by then has
    /// settled to what make-up alone brings it to.
    const LONGEST: f64 = 4096.0;
    /// By how much a longer or shorter life is tried before it is narrowed.
    const STRIDE: f64 = 4.0;
    let shortest = shop.groups.iter().filter_map(|group| group.t).fold(f64::INFINITY, f64::min);
    if !shortest.is_finite() {
        return None;
    }
    let search = LeverSearch { shop, exchange, levers, lever: LoopLever::Life };
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
    let places = passed(&beyond.excesses);
    let (within, beyond) = search.narrow(&places, within, beyond);
    worst(&beyond.excesses).filter(|_| within.passed().is_none()).map(|excess| (within.at, excess))
}

/// How far each lever reaches.
pub(super) struct LeverReaches {
    pub(super) back: RecyclingReach,
    pub(super) deionised: DeionisedReach,
    /// How many times as long the fluid may live, and what holds it there.
    pub(super) life: Option<(f64, Excess)>,
}

/// From so many groups on the levers are searched side by side where there are threads; below
/// that a thread costs more than it saves.
const MANY_GROUPS: usize = 1000;

/// The searches know nothing of each other.
pub(super) fn reaches(steady: &SteadyLoop<'_>, levers: LoopLevers) -> LeverReaches {
    let (shop, exchange) = (steady.shop, steady.exchange);
    let back = || greatest_back(shop, exchange, levers);
    let deionised = || least_deionised(shop, exchange, levers);
    let life = || longest_life(shop, exchange, levers);
    let alone = std::thread::available_parallelism().map_or(1, usize::from) == 1;
    if alone || shop.groups.len() < MANY_GROUPS {
        return LeverReaches { back: back(), deionised: deionised(), life: life() };
    }
    std::thread::scope(|scope| {
        let flag = cut_off::flag();
        let others = scope.spawn(|| cut_off::under(flag, || (back(), deionised())));
        let life = life();
        let (back, deionised) =
            others.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic));
        LeverReaches { back, deionised, life }
    })
}
