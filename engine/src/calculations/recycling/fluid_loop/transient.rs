//! The way to steady state, day by day and exact.
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

use super::settled_sump::SettledSump;
use super::shop::OIL;
use super::steady::SteadyLoop;
use crate::numerics::cut_off::look;
use crate::numerics::phi::phi_1;

/// What a tank holds on to and starts with.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct TankStart {
    /// What stays in it, L.
    pub(super) h: f64,
    /// What it carries at the start, by property.
    pub(super) start: Vec<f64>,
}

/// Where the shop starts.
pub(super) struct LoopStart {
    pub(super) dirty: TankStart,
    pub(super) clean: TankStart,
    /// By property and group: what the sumps carry.
    pub(super) sumps: Vec<Vec<f64>>,
}

/// The transient of every property: for each day from 0 on, the most that any sump
/// carries that is handled on the day, and what the clean tank gives.
pub(super) struct LoopTransient {
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
struct GroupDay {
    /// Days between clean-outs; none where there are none.
    t: Option<usize>,
    /// What is left of a content after a day, and what a day's gain adds.
    left: f64,
    gain: f64,
    /// Where its memory begins, and how long it is.
    memory: usize,
    length: usize,
}

/// A straight line in what the clean tank gives on a day of a property and of
/// water and oil together.
#[derive(Clone, Copy)]
struct GivenLine {
    own: f64,
    given: f64,
    rest: f64,
}

impl GivenLine {
    fn at(&self, given: f64, rest: f64) -> f64 {
        self.own + self.given * given + self.rest * rest
    }
}

/// What one group does with one property.
struct PropertyInGroup {
    /// What a sump takes up in a day, and what a refill carries.
    taken: GivenLine,
    refill: GivenLine,
    /// Whether it takes up the same on every day.
    same: bool,
    /// What a sump carries that has not been drained since the start.
    first: f64,
    /// What a day's gains have come to since a sump was refilled, where they
    /// differ from day to day.
    since: f64,
}

/// Follows the loop for `days` days from `start`.
pub(super) fn follow(steady: &SteadyLoop<'_>, start: &LoopStart, days: usize) -> LoopTransient {
    let shop = steady.shop;
    let mut memory = 0;
    let paces = shop.groups.iter().map(|group| {
        let length = days_kept(group.t, days);
        memory += length;
        let x = -group.d / group.v;
        GroupDay {
            t: group.t.map(whole),
            left: x.exp(),
            gain: phi_1(x) / group.v,
            memory: memory - length,
            length,
        }
    });
    let run = LoopRun { steady, start, days, paces: paces.collect(), memory };
    let (oil, oil_given) = run.property(OIL, &[]);
    let rest = run.rest_given(&oil_given);
    let mut series =
        LoopTransient { highest: vec![oil], recycled: vec![run.contents(&oil_given, &rest)] };
    for p in OIL + 1..shop.properties() {
        let (highest, given) = run.property(p, &rest);
        series.highest.push(highest);
        series.recycled.push(run.contents(&given, &rest));
    }
    series
}

struct LoopRun<'a> {
    steady: &'a SteadyLoop<'a>,
    start: &'a LoopStart,
    days: usize,
    paces: Vec<GroupDay>,
    memory: usize,
}

/// What one property's day leaves behind.
struct TanksGive {
    /// What the clean tank gives on each day from 0 on.
    clean: Vec<f64>,
    /// What the dirty tank gives on each day from 1 on.
    dirty: Vec<f64>,
}

impl LoopRun<'_> {
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
    fn rest_given(&self, oil: &TanksGive) -> Vec<f64> {
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
    fn contents(&self, given: &TanksGive, rest: &[f64]) -> Vec<f64> {
        let volume = |rest: &f64| self.steady.given.c + rest;
        given.clean.iter().zip(rest).map(|(amount, rest)| amount / volume(rest)).collect()
    }

    /// One property by itself: the highest content on each day, and what the
    /// tanks give. `rest` is empty for oil, of which water brings none.
    fn property(&self, p: usize, rest: &[f64]) -> (Vec<f64>, TanksGive) {
        let (steady, shop) = (self.steady, self.steady.shop);
        let rest = |day: usize| rest.get(day).copied().unwrap_or(0.0);
        let mut courses: Vec<PropertyInGroup> =
            (0..shop.groups.len()).map(|g| self.course(p, g)).collect();
        let mut turns = vec![0; shop.groups.len()];
        let mut memory = vec![0.0; self.memory];
        let (kappa, share) = (self.kappa(), self.dirty_share());
        let rho = (1.0 - shop.lost) * (1.0 - shop.r[p]) * steady.back;
        let mut clean = self.start.clean.start[p] * (self.start.clean.h + self.most_back());
        let mut dirty = self.start.dirty.start[p] * self.start.dirty.h;
        let mut highest = vec![courses.iter().map(|course| course.first).fold(0.0, f64::max)];
        let mut given = TanksGive { clean: vec![kappa * clean], dirty: vec![] };
        for day in 1..=self.days {
            look();
            let (gives, rest_now) = (kappa * clean, rest(day));
            let (mut most, mut returned) = (0.0_f64, 0.0);
            let groups = self.paces.iter().zip(&mut courses).zip(&mut turns).enumerate();
            for (g, ((pace, course), turn)) in groups {
                let gain = pace.gain * course.taken.at(gives, rest_now);
                course.first = course.first * pace.left + gain;
                let Some(t) = pace.t else {
                    most = most.max(course.first);
                    continue;
                };
                let cycle = &steady.exchange.cycles[g];
                if !course.same {
                    course.since = course.since * pace.left + gain;
                    if day > t {
                        let then = course.taken.at(given.clean[day - t], rest(day - t));
                        course.since -= cycle.alpha * pace.gain * then;
                    }
                }
                let slot = pace.memory + *turn;
                let oldest = match (day > t, course.same) {
                    (false, _) => course.first,
                    (true, true) => cycle.alpha * memory[slot] + cycle.beta * course.taken.own,
                    (true, false) => cycle.alpha * memory[slot] + course.since,
                };
                let refilled = cycle.refilled(oldest, course.refill.at(gives, rest_now));
                if *turn < pace.length {
                    memory[slot] = refilled;
                }
                *turn = if *turn + 1 == t { 0 } else { *turn + 1 };
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

    /// What a group does with a property, as straight lines in what it is given:
    /// water and oil that come back take the place of fresh water.
    fn course(&self, p: usize, g: usize) -> PropertyInGroup {
        // As if all water were fresh: what comes back takes its place in `rest`.
        let sump = SettledSump::of(self.steady, g, 0.0);
        let (f_w, a_litre) = (self.steady.f_w[p], sump.recycled());
        let given = sump.mix.chi_m / sump.group.n;
        let taken = GivenLine { own: sump.gained(p), given, rest: -given * f_w };
        let refill = GivenLine { own: sump.fresh(p), given: a_litre, rest: -a_litre * f_w };
        let first = self.start.sumps[p][g];
        PropertyInGroup { taken, refill, same: given == 0.0, first, since: 0.0 }
    }
}
