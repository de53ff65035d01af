//! A plan that keeps everything, made cheaper.

use super::ROUNDING;
use super::bound::Prices;
use super::path::Walk;
use super::plan::{Laid, Passing};
use crate::numerics::cut_off::look;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

/// So often all chains are laid anew, one after the other.
const ROUNDS: usize = 20;
/// The most chains that are taken out together.
pub(super) const TOGETHER: usize = 6;
/// Tries for each chain without a cheaper plan after which it ends.
const PATIENCE_A_CHAIN: usize = 60;
/// By this share of its cost a plan may become dearer on the way, at first.
const DEARER: f64 = 0.002;
/// The same plan is made from the same chains.
pub(super) const SEED: u64 = 1;

/// What was taken out, in the order in which it was.
pub(super) type Undo = Vec<(usize, Vec<usize>)>;

impl Laid<'_> {
    /// Lays each chain anew through what the others leave, as long as that is cheaper.
    pub(super) fn lay_anew(&mut self, walk: &mut Walk) {
        for _ in 0..ROUNDS {
            look();
            let before = self.cost();
            for i in 0..self.slots.len() {
                self.lay_one_anew(walk, i);
            }
            if self.cost() >= before - ROUNDING * before.abs() {
                return;
            }
        }
    }

    /// Lays a chain anew where that is cheaper.
    fn lay_one_anew(&mut self, walk: &mut Walk, i: usize) {
        let before = self.cost();
        let was = self.take(i);
        let found = self.lay(walk, i, Passing::Never, |_| 0.0);
        // Where a chain comes twice into a month or a full tank, its path knew of neither.
        if !found || self.cost() > before || !self.keeps_limits() {
            self.take(i);
            self.put(i, was);
        }
    }

    /// Takes a few chains out that share limits, lays them in another order, and goes on from there
    /// where that is cheaper or little dearer; so many tries. It ends with the cheapest plan seen.
    pub(super) fn lay_in_other_orders(
        &mut self,
        walk: &mut Walk,
        prices: &Prices<'_>,
        tries: usize,
    ) {
        let mut draw = Pcg64Mcg::seed_from_u64(SEED);
        let (mut best, mut best_cost) = (self.slots.clone(), self.cost());
        let all = self.slots.len();
        if all < 2 {
            return;
        }
        let mut waited = 0;
        for done in 0..tries {
            look();
            waited += 1;
            if waited > PATIENCE_A_CHAIN * all {
                break;
            }
            let before = self.cost();
            let share = 1.0 - super::path::count(done) / super::path::count(tries);
            let dearer = DEARER * share * share * before.abs();
            let first = draw.random_range(0..all);
            let many = draw.random_range(2..=TOGETHER.min(all));
            let guide: f64 = draw.random_range(0.0..1.0);
            let chosen = self.sharing(first, many, &mut draw);
            let undo: Undo = chosen.iter().map(|i| (*i, self.take(*i))).collect();
            let laid = chosen.iter().all(|i| {
                let guided = |slot: usize| guide * prices.of_slot(*i, slot);
                self.lay(walk, *i, Passing::Never, guided)
            });
            if laid && self.keeps_limits() {
                for i in &chosen {
                    self.lay_one_anew(walk, *i);
                }
            }
            if !laid || !self.keeps_limits() || self.cost() > before + dearer {
                for i in &chosen {
                    self.take(*i);
                }
                for (i, was) in undo {
                    self.put(i, was);
                }
            } else if self.cost() < best_cost - ROUNDING * best_cost.abs() {
                best_cost = self.cost();
                waited = 0;
                best.clone_from(&self.slots);
            }
        }
        *self = Laid::of(self.chains, best);
        self.lay_anew(walk);
    }

    /// A chain and some that lie near it, in an order that is drawn.
    pub(super) fn sharing(&self, first: usize, many: usize, draw: &mut Pcg64Mcg) -> Vec<usize> {
        let all = self.slots.len();
        let mut chosen = vec![first];
        let days: Vec<usize> =
            self.slots[first].iter().map(|slot| self.chains.slots[*slot].day).collect();
        let about = (!days.is_empty()).then(|| days[draw.random_range(0..days.len())]);
        let near = |i: usize, within: usize| {
            let day = |slot: &usize| self.chains.slots[*slot].day;
            about.is_some_and(|about| {
                self.slots[i].iter().any(|slot| day(slot).abs_diff(about) <= within)
            })
        };
        let within = draw.random_range(1..15);
        for _ in 0..4 * many {
            let i = draw.random_range(0..all);
            if chosen.len() < many && !chosen.contains(&i) && near(i, within) {
                chosen.push(i);
            }
        }
        let place = draw.random_range(0..chosen.len());
        chosen.swap(0, place);
        chosen
    }
}
