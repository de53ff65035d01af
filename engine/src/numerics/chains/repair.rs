//! A plan laid chain by chain, and moved until nothing is passed.
//!
//! Passing a limit has a weight; where one is still passed when every chain has been laid
//! anew, its weight rises. (Known as breakout local search for constraints: Morris, AAAI 1993.)

use super::bound::Prices;
use super::improve::{SEED, TOGETHER, Undo};
use super::path::Walk;
use super::plan::{Laid, Passing};
use crate::numerics::cut_off::look;
use crate::numerics::order::greatest_first;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

/// So often every chain that passes something is laid anew.
const ROUNDS: usize = 60;
/// So often a few chains are laid in another order where something is still passed then.
const TRIES: usize = 400;
/// By how much the weight of a limit rises that is still passed.
const RISES: f64 = 1.6;

impl Laid<'_> {
    /// Lays all chains, those first that are the hardest to place, until no limit is passed or
    /// it has been tried often enough.
    pub(super) fn lay_all(&mut self, walk: &mut Walk, prices: &Prices<'_>) {
        let chains = self.chains;
        let mut order: Vec<usize> = (0..chains.chains.len()).collect();
        let kinds = chains.chains.iter().map(|own| own.amounts.len()).min().unwrap_or(0);
        let most: Vec<f64> = (0..kinds)
            .map(|kind| {
                chains.chains.iter().fold(0.0, |most: f64, own| most.max(own.amounts[kind]))
            })
            .collect();
        greatest_first(&mut order, |i| {
            let amounts = chains.chains[*i].amounts.iter().zip(&most);
            amounts.map(|(own, most)| own / most.max(f64::MIN_POSITIVE)).sum()
        });
        let usual = chains.chains.iter().flat_map(|chain| &chain.costs);
        let usual =
            usual.filter(|cost| cost.is_finite()).fold(0.0, |most: f64, cost| most.max(cost.abs()));
        let mut weights = vec![usual.max(1.0); chains.limits.len() + 1];
        for i in &order {
            self.lay(walk, *i, Passing::Weighs(&weights), |slot| prices.of_slot(*i, slot));
        }
        for _ in 0..ROUNDS {
            look();
            let passed = self.passed();
            if passed.is_empty() {
                return;
            }
            for own in passed {
                weights[own.limit.unwrap_or(chains.limits.len())] *= RISES;
            }
            for i in self.in_the_way(usize::MAX) {
                self.take(i);
                self.lay(walk, i, Passing::Weighs(&weights), |_| 0.0);
            }
        }
        self.lay_until_kept(walk, &weights);
    }

    /// Takes a few chains out that lie where something is passed and lays them in another order, as
    /// long as no more is passed than before.
    fn lay_until_kept(&mut self, walk: &mut Walk, weights: &[f64]) {
        let mut draw = Pcg64Mcg::seed_from_u64(SEED);
        let all = self.slots.len();
        for _ in 0..TRIES {
            look();
            let before = self.passes();
            let there = self.in_the_way(usize::MAX);
            if there.is_empty() || all < 2 {
                return;
            }
            let first = there[draw.random_range(0..there.len())];
            let many = draw.random_range(2..=TOGETHER.min(all));
            let chosen = self.sharing(first, many, &mut draw);
            let undo: Undo = chosen.iter().map(|i| (*i, self.take(*i))).collect();
            for i in &chosen {
                self.lay(walk, *i, Passing::Weighs(weights), |_| 0.0);
            }
            if self.passes() > before {
                chosen.iter().for_each(|i| drop(self.take(*i)));
                undo.into_iter().for_each(|(i, was)| self.put(i, was));
            }
        }
    }
}
