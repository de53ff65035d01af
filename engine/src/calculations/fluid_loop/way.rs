//! The way there, day by day and exact.
//!
//! Clean-outs are spread evenly over the days, so that on each day the same
//! part of a group is due, whose fluid is as old as the interval says. Between
//! two clean-outs a sump follows its closed form, so a day costs one step for
//! each group and property, however old the fluid is: what a sump has on its
//! day is a straight line of what it had after its last refill. Tanks are mixed
//! once a day, in this order:
//!
//! 1. the clean tank gives the day's share κ = R/(H + R) of what is in it
//! 2. what is due is drained into the dirty tank, H + Q, which gives Q of it
//! 3. the recycler's share of that goes into the clean tank
//!
//! with H what a tank holds on to, Q what is drained in a day and R what comes
//! back. The loop settles to exactly what [`steady`](super::steady) says.

use super::cycle::phi_1;
use super::shop::OIL;
use super::steady::{Mix, Steady};

/// What a tank holds on to and starts with.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Tank {
    /// What stays in it, L.
    pub(super) h: f64,
    /// What it carries at the start, by property.
    pub(super) start: Vec<f64>,
}

/// Where the shop starts.
pub(super) struct Start {
    pub(super) dirty: Tank,
    pub(super) clean: Tank,
    /// By group and property: what the sumps carry.
    pub(super) sumps: Vec<Vec<f64>>,
}

/// The way of every property: for each day from 0 on, the most that any sump
/// carries that is handled on the day, and what the clean tank gives.
pub(super) struct Way {
    pub(super) highest: Vec<Vec<f64>>,
    pub(super) recycled: Vec<Vec<f64>>,
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "whole and checked")]
fn whole(days: f64) -> usize {
    days as usize
}

/// How many refills of a group have to be remembered, until their turn comes again.
fn days_kept(t: Option<f64>, days: usize) -> usize {
    t.map_or(0, |t| whole(t).min(days.saturating_sub(whole(t))))
}

/// What a group's step needs, whatever the property.
struct Pace {
    /// Days between clean-outs; none where there are none.
    t: Option<usize>,
    /// What is left of a content after a day, and what a day's gain adds.
    left: f64,
    gain: f64,
    /// Where its memory begins, and how long it is.
    memory: usize,
    length: usize,
}

/// Walks `days` days from `start`.
pub(super) fn walk(steady: &Steady<'_>, start: &Start, days: usize) -> Way {
    let shop = steady.shop;
    let mut memory = 0;
    let paces = shop.groups.iter().map(|group| {
        let length = days_kept(group.t, days);
        memory += length;
        let x = -group.d / group.v;
        Pace {
            t: group.t.map(whole),
            left: x.exp(),
            gain: phi_1(x) / group.v,
            memory: memory - length,
            length,
        }
    });
    let walker = Walker { steady, start, days, paces: paces.collect(), memory };
    let (oil, oil_given) = walker.property(OIL, &[]);
    let rest = walker.rest_given(&oil_given);
    let mut way = Way { highest: vec![oil], recycled: vec![walker.contents(&oil_given, &rest)] };
    for p in OIL + 1..shop.properties() {
        let (highest, given) = walker.property(p, &rest);
        way.highest.push(highest);
        way.recycled.push(walker.contents(&given, &rest));
    }
    way
}

struct Walker<'a> {
    steady: &'a Steady<'a>,
    start: &'a Start,
    days: usize,
    paces: Vec<Pace>,
    memory: usize,
}

/// What one property's day leaves behind.
struct Given {
    /// What the clean tank gives on each day from 0 on.
    clean: Vec<f64>,
    /// What the dirty tank gives on each day from 1 on.
    dirty: Vec<f64>,
}

impl Walker<'_> {
    /// What comes back in a day if the recycler took out no oil, L.
    fn most_back(&self) -> f64 {
        self.steady.given.c + self.most_rest()
    }

    fn most_rest(&self) -> f64 {
        (1.0 - self.steady.shop.lost) * self.steady.back * self.steady.exchange.back_rest
    }

    /// The share of the clean tank that a day takes.
    fn kappa(&self) -> f64 {
        let r = self.most_back();
        if r > 0.0 { r / (self.start.clean.h + r) } else { 0.0 }
    }

    /// The share of the dirty tank that a day takes.
    fn dirty_share(&self) -> f64 {
        let q = self.steady.exchange.back_c + self.steady.exchange.back_rest;
        if q > 0.0 { q / (self.start.dirty.h + q) } else { 0.0 }
    }

    /// The water and oil that the clean tank gives on each day, from the oil that
    /// the recycler took out.
    fn rest_given(&self, oil: &Given) -> Vec<f64> {
        let shop = self.steady.shop;
        let kept = (1.0 - shop.lost) * self.steady.back;
        let kappa = self.kappa();
        let mut tank = if kappa > 0.0 { self.most_rest() / kappa } else { 0.0 };
        let mut given = vec![kappa * tank];
        for dirty in &oil.dirty {
            given.push(kappa * tank);
            let back = kept * (self.steady.exchange.back_rest - shop.r[OIL] * dirty);
            tank += back - kappa * tank;
        }
        given
    }

    /// What the clean tank's fluid carries on each day.
    fn contents(&self, given: &Given, rest: &[f64]) -> Vec<f64> {
        let volume = |rest: &f64| self.steady.given.c + rest;
        given.clean.iter().zip(rest).map(|(amount, rest)| amount / volume(rest)).collect()
    }

    /// The way of one property: the highest content on each day, and what the
    /// tanks give. `rest` is empty for oil, of which water brings none.
    fn property(&self, p: usize, rest: &[f64]) -> (Vec<f64>, Given) {
        let (steady, shop) = (self.steady, self.steady.shop);
        let taken: Vec<f64> =
            steady.mixes.iter().enumerate().map(|(g, mix)| steady.gained(p, g, mix)).collect();
        // What a day's gains have come to since a sump was refilled, where they
        // differ from day to day.
        let mut since = vec![0.0; shop.groups.len()];
        let mut first: Vec<f64> = self.start.sumps.iter().map(|contents| contents[p]).collect();
        let mut memory = vec![0.0; self.memory];
        let (kappa, share) = (self.kappa(), self.dirty_share());
        let rho = (1.0 - shop.lost) * (1.0 - shop.r[p]) * steady.back;
        let mut clean = self.start.clean.start[p] * (self.start.clean.h + self.most_back());
        let mut dirty = self.start.dirty.start[p] * self.start.dirty.h;
        let start = first.iter().copied().fold(0.0, f64::max);
        let mut highest = vec![start];
        let mut given = Given { clean: vec![kappa * clean], dirty: vec![] };
        for day in 1..=self.days {
            let gives = kappa * clean;
            let (mut most, mut returned) = (0.0_f64, 0.0);
            for (g, pace) in self.paces.iter().enumerate() {
                let (cycle, mix) = (&steady.exchange.cycles[g], &steady.mixes[g]);
                let steady_gain = mix.chi_m == 0.0;
                let gained = |day: usize, gives: f64| {
                    let mix = self.mix(g, rest.get(day));
                    steady.gained(p, g, &mix) + mix.chi_m * gives / shop.groups[g].n
                };
                let gain = if steady_gain { taken[g] } else { gained(day, gives) };
                first[g] = first[g] * pace.left + gain * pace.gain;
                let Some(t) = pace.t else {
                    most = most.max(first[g]);
                    continue;
                };
                if !steady_gain {
                    since[g] = since[g] * pace.left + gain * pace.gain;
                    if day > t {
                        let too_old = gained(day - t, given.clean[day - t]);
                        since[g] -= cycle.alpha * pace.gain * too_old;
                    }
                }
                let slot = pace.memory + (day - 1) % t;
                let oldest = match (day > t, steady_gain) {
                    (false, _) => first[g],
                    (true, true) => cycle.alpha * memory[slot] + cycle.beta * taken[g],
                    (true, false) => cycle.alpha * memory[slot] + since[g],
                };
                let fresh = steady.fresh(p, &self.mix(g, rest.get(day)));
                let refill = (mix.chi * gives + fresh) / cycle.drained;
                let refilled = cycle.refilled(oldest, refill);
                if (day - 1) % t < pace.length {
                    memory[slot] = refilled;
                }
                if shop.groups[g].returns {
                    returned += cycle.drained * oldest;
                }
                most = most.max(oldest).max(refilled);
            }
            let out = share * (dirty + returned);
            dirty += returned - out;
            clean += rho * out - gives;
            highest.push(most);
            given.clean.push(gives);
            given.dirty.push(out);
        }
        (highest, given)
    }

    /// What a group is fed with on a day on which the clean tank gives `rest`
    /// litres of water and oil.
    fn mix(&self, g: usize, rest: Option<&f64>) -> Mix {
        let (steady, drained) = (self.steady, self.steady.exchange.cycles[g].drained);
        let mix = &steady.mixes[g];
        rest.map_or(*mix, |rest| mix.with_water(&steady.shop.groups[g], drained, *rest))
    }
}
