//! Where the loop settles.
//!
//! Seen from the tanks a group of sumps is one straight line: what comes back
//! from it each day is so much of what it was given, and so much of its own.
//! So every sump is eliminated by itself, and what is left of the network is
//! one equation a property between the dirty and the clean tank (the Schur
//! complement of the bordered system): linear in the number of sumps, and exact.

use super::cycle::{Cycle, mean};
use super::shop::{Group, OIL, Shop};

/// What can be changed about a shop.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Levers {
    /// The share of the dirty tank's fluid that goes through the recycler and
    /// is not discarded afterwards, 0 to 1: ε.
    pub(super) back: f64,
    /// The share of deionised water, 0 to 1.
    pub(super) deionised: f64,
}

/// What strengths and intervals alone decide, whatever is dissolved.
pub(super) struct Exchange {
    pub(super) cycles: Vec<Cycle>,
    /// What of the recycled stream each group could take for refills if
    /// everything were recycled, as a share of that stream, and all together.
    refills: (Vec<f64>, f64),
    /// The same for make-up.
    make_up: (Vec<f64>, f64),
    /// What comes into the dirty tank in a day, L: concentrate, and the rest.
    pub(super) back_c: f64,
    pub(super) back_rest: f64,
}

impl Exchange {
    /// The shop when every interval between clean-outs is `life` times as long.
    pub(super) fn of(shop: &Shop, life: f64) -> Self {
        let groups = &shop.groups;
        let cycles: Vec<Cycle> = groups.iter().map(|group| Cycle::of(group, life)).collect();
        let (mut back_c, mut back_rest) = (0.0, 0.0);
        for (group, cycle) in groups.iter().zip(&cycles).filter(|(group, _)| group.returns) {
            back_c += cycle.drained * group.c;
            back_rest += cycle.drained * (1.0 - group.c);
        }
        // Oil taken out leaves more room, so counting it in as if it stayed is
        // on the safe side.
        let most_c = (1.0 - shop.lost) * (1.0 - shop.r_c) * back_c;
        let most_rest = (1.0 - shop.lost) * back_rest;
        let room = |may: bool, c: f64, rest: f64| {
            let room = (c / most_c).min(rest / most_rest);
            if may && room.is_finite() { room } else { 0.0 }
        };
        let refills = groups.iter().zip(&cycles).map(|(group, cycle)| {
            let drained = cycle.drained;
            room(group.refills, group.c * drained, (1.0 - group.c) * drained)
        });
        let make_up = groups
            .iter()
            .map(|group| room(group.tops_up, group.n * group.m_c, (group.n * group.m_w).max(0.0)));
        let with_sum = |rooms: Vec<f64>| {
            let all = rooms.iter().sum();
            (rooms, all)
        };
        let (refills, make_up) = (with_sum(refills.collect()), with_sum(make_up.collect()));
        Self { cycles, refills, make_up, back_c, back_rest }
    }

    /// What share of the recycled stream group `g` takes for refills and for
    /// make-up when the share ε of the dirty tank's fluid comes back: refills
    /// first, each according to its room and no more than that.
    pub(super) fn takes(&self, g: usize, back: f64) -> (f64, f64) {
        let ((refills, all_refills), (make_up, all_make_up)) = (&self.refills, &self.make_up);
        let most = all_refills.max(back);
        if most <= 0.0 {
            return (0.0, 0.0);
        }
        let left = (back - all_refills).max(0.0);
        let chi_m = if left > 0.0 && *all_make_up > 0.0 {
            make_up[g] * (left / all_make_up).min(1.0) / back
        } else {
            0.0
        };
        (refills[g] / most, chi_m)
    }
}

/// What one group is fed with, in a day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Mix {
    /// The share of the recycled stream that goes into refills.
    pub(super) chi: f64,
    /// The share of it that goes into make-up.
    pub(super) chi_m: f64,
    /// Fresh concentrate and water in refills of the whole group, L/day.
    pub(super) y: f64,
    pub(super) w: f64,
    /// Fresh concentrate and water in the make-up of one sump, L/day.
    pub(super) m_c: f64,
    pub(super) m_w: f64,
}

impl Mix {
    /// The same with the water that is missing when the clean tank gives `rest`
    /// litres of water and oil.
    pub(super) fn with_water(&self, group: &Group, drained: f64, rest: f64) -> Self {
        let w = (1.0 - group.c) * drained - self.chi * rest;
        let m_w = group.m_w - self.chi_m * rest / group.n;
        Self { w: w.max(0.0), m_w: m_w.max(0.0), ..*self }
    }
}

/// What the clean tank gives in a day when all has settled.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Given {
    /// Concentrate, L.
    pub(super) c: f64,
    /// Everything else by volume, L: water and oil.
    pub(super) rest: f64,
    /// By property: how much, L or mg.
    pub(super) amounts: Vec<f64>,
}

/// The settled loop.
pub(super) struct Steady<'a> {
    pub(super) shop: &'a Shop,
    pub(super) exchange: &'a Exchange,
    pub(super) back: f64,
    /// What the water carries, by property.
    pub(super) f_w: Vec<f64>,
    pub(super) mixes: Vec<Mix>,
    pub(super) given: Given,
    /// What comes into the dirty tank in a day, by property, L or mg.
    pub(super) returned: Vec<f64>,
    /// A property that piles up without end, because nothing takes it away.
    pub(super) endless: Option<usize>,
}

/// Less than this share leaves the loop in a round: nothing does.
const NOTHING_LEAVES: f64 = 1e-12;

impl<'a> Steady<'a> {
    pub(super) fn of(shop: &'a Shop, exchange: &'a Exchange, levers: Levers) -> Self {
        Self::with(shop, exchange, levers, |_| true)
    }

    /// The same with only those properties settled that are `wanted`, and oil,
    /// which makes room for water.
    pub(super) fn with(
        shop: &'a Shop,
        exchange: &'a Exchange,
        levers: Levers,
        wanted: impl Fn(usize) -> bool,
    ) -> Self {
        let back = levers.back;
        let kept = (1.0 - shop.lost) * back;
        let c = kept * (1.0 - shop.r_c) * exchange.back_c;
        let mixes = shop.groups.iter().enumerate().map(|(g, group)| {
            let (chi, chi_m) = exchange.takes(g, back);
            let y = (group.c * exchange.cycles[g].drained - chi * c).max(0.0);
            let m_c = (group.m_c - chi_m * c / group.n).max(0.0);
            Mix { chi, chi_m, y, w: 0.0, m_c, m_w: 0.0 }
        });
        let mut steady = Self {
            shop,
            exchange,
            back,
            f_w: shop.f_w(levers.deionised),
            mixes: mixes.collect(),
            given: Given { c, rest: 0.0, amounts: vec![0.0; shop.properties()] },
            returned: vec![0.0; shop.properties()],
            endless: None,
        };
        steady.settle(OIL);
        // Oil that is taken out leaves its room to water.
        steady.given.rest =
            kept * (exchange.back_rest - steady.returned[OIL]) + steady.given.amounts[OIL];
        let rest = steady.given.rest;
        for ((mix, group), cycle) in steady.mixes.iter_mut().zip(&shop.groups).zip(&exchange.cycles)
        {
            *mix = mix.with_water(group, cycle.drained, rest);
        }
        (OIL + 1..shop.properties()).filter(|p| wanted(*p)).for_each(|p| steady.settle(p));
        steady
    }

    /// One equation a property: what comes back is `again` times what the clean
    /// tank gives, and `fresh`; what the clean tank gives is ρ·ε of what comes
    /// back.
    fn settle(&mut self, p: usize) {
        let (again, fresh) = self.line(p);
        let rho = (1.0 - self.shop.lost) * (1.0 - self.shop.r[p]) * self.back;
        let leaves = 1.0 - rho * again;
        if fresh == 0.0 {
            return;
        }
        if leaves <= NOTHING_LEAVES {
            self.endless = self.endless.or(Some(p));
            return;
        }
        self.returned[p] = fresh / leaves;
        self.given.amounts[p] = rho * self.returned[p];
    }

    /// The groups' straight line: what comes back for each unit given, and what
    /// comes back when nothing is given.
    fn line(&self, p: usize) -> (f64, f64) {
        let shop = self.shop;
        let (mut again, mut fresh) = (0.0, 0.0);
        for (g, (cycle, mix)) in self.exchange.cycles.iter().zip(&self.mixes).enumerate() {
            if shop.groups[g].returns && cycle.drained > 0.0 {
                let own = cycle.drained * cycle.own;
                again += cycle.gamma * mix.chi + own * mix.chi_m / shop.groups[g].n;
                fresh += cycle.gamma * self.fresh(p, mix) + own * self.gained(p, g, mix);
            }
        }
        (again, fresh)
    }

    /// What fresh concentrate and water bring into a group's refills in a day.
    pub(super) fn fresh(&self, p: usize, mix: &Mix) -> f64 {
        mix.y * self.shop.f_c[p] + mix.w * self.f_w[p]
    }

    /// What one sump of group `g` gains of property `p` in a day with fresh
    /// make-up and from the work.
    pub(super) fn gained(&self, p: usize, g: usize, mix: &Mix) -> f64 {
        mix.m_w * self.f_w[p] + mix.m_c * self.shop.f_c[p] + self.shop.gain(p, g)
    }

    /// The same with the recycled fluid in its make-up.
    fn taken_up(&self, p: usize, g: usize) -> f64 {
        let mix = &self.mixes[g];
        let again = mix.chi_m * self.given.amounts[p] / self.shop.groups[g].n;
        self.gained(p, g, mix) + again
    }

    /// What a sump of group `g` carries of property `p` just after its refill and
    /// just before its clean-out; the same twice where it is never drained.
    pub(super) fn contents(&self, p: usize, g: usize) -> (f64, f64) {
        let (cycle, mix) = (&self.exchange.cycles[g], &self.mixes[g]);
        let own = cycle.own * self.taken_up(p, g);
        if cycle.drained <= 0.0 {
            return (own, own);
        }
        let refill = (mix.chi * self.given.amounts[p] + self.fresh(p, mix)) / cycle.drained;
        let oldest = cycle.gamma * refill + own;
        (cycle.refilled(oldest, refill), oldest)
    }

    /// What a sump of group `g` carries of property `p` on average over its life.
    pub(super) fn mean(&self, p: usize, g: usize) -> f64 {
        let (refilled, _) = self.contents(p, g);
        mean(&self.shop.groups[g], refilled, self.taken_up(p, g))
    }

    /// What recycled fluid carries, by property; none when nothing is recycled.
    pub(super) fn recycled(&self) -> Option<Vec<f64>> {
        let volume = self.given.c + self.given.rest;
        let contents = self.given.amounts.iter().map(|amount| amount / volume);
        (volume > 0.0).then(|| contents.collect())
    }

    /// How many times as much as fresh fluid an old sump of each group carries of
    /// a salt that comes with fresh concentrate and water alone, one unit with
    /// each litre, and that no treatment takes out; none when nothing but water
    /// to the air ever leaves the loop, so that it piles up without end.
    pub(super) fn cycles(&self) -> Option<Vec<f64>> {
        let (groups, cycles) = (&self.shop.groups, &self.exchange.cycles);
        let (mut again, mut fresh) = (0.0, 0.0);
        let all = || groups.iter().zip(cycles).zip(&self.mixes);
        for ((group, cycle), mix) in all().filter(|((group, _), _)| group.returns) {
            let own = cycle.drained * cycle.own;
            again += cycle.gamma * mix.chi + own * mix.chi_m / group.n;
            fresh += cycle.gamma * (mix.y + mix.w) + own * (mix.m_c + mix.m_w);
        }
        let rho = (1.0 - self.shop.lost) * self.back;
        let leaves = 1.0 - rho * again;
        if leaves <= NOTHING_LEAVES {
            return None;
        }
        let given = rho * fresh / leaves;
        let in_group = all().map(|((group, cycle), mix)| {
            let own = cycle.own * (mix.m_c + mix.m_w + mix.chi_m * given / group.n);
            if cycle.drained <= 0.0 {
                return own;
            }
            cycle.gamma * (mix.chi * given + mix.y + mix.w) / cycle.drained + own
        });
        Some(in_group.collect())
    }

    /// What comes back from the clean tank into sumps in a day, L.
    pub(super) fn reused(&self) -> f64 {
        let taken: f64 = self.mixes.iter().map(|mix| mix.chi + mix.chi_m).sum();
        taken * (self.given.c + self.given.rest)
    }
}
