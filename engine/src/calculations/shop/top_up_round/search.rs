//! Sets of strengths gone through, each with the best moves for it.

use super::moving::{MovedBetween, cheapest};
use super::need::Need;
use super::product_plan::{ProductPlan, best_move, fewest_fixed, is_better, of_set, thin_the_rich};
use super::strengths::{self, Makeable};
use crate::numerics::assignment::most_gained;
use crate::numerics::cut_off::look;

/// The most moves that are worked out beforehand, for all pairs of strengths.
const MOVES_MOST: usize = 120_000;
/// The most steps in going through the sets of one number of strengths.
const STEPS_MOST: usize = 3_000_000;
/// No more strengths than this are gone through.
const STRENGTHS_MOST: usize = 6;

/// The sumps of a product, some of which may give to others.
pub(super) struct Search<'a> {
    needs: &'a [Need],
    makeable: &'a Makeable,
    givers: Vec<usize>,
    takers: Vec<usize>,
    at_least: f64,
    /// The strengths to choose among.
    candidates: Vec<f64>,
    /// Whether all strengths are among them that are looked at without moving.
    complete: bool,
    /// What each sump costs with each of them.
    costs: Vec<Vec<f64>>,
    /// What each pair costs with each strength for the giver and each, or none, for the taker.
    pairs: Vec<Vec<f64>>,
    /// What a sump counts that is not served: more than all concentrate together.
    unserved: f64,
}

/// What a set of strengths comes to.
#[derive(Debug, Clone, PartialEq)]
struct Evaluated {
    unserved: usize,
    cost: f64,
    /// For each giver the taker that it gives to.
    goes_to: Vec<Option<usize>>,
}

impl<'a> Search<'a> {
    pub(super) fn of(
        needs: &'a [Need],
        makeable: &'a Makeable,
        (givers, takers): (Vec<usize>, Vec<usize>),
        at_least: f64,
    ) -> Option<Self> {
        if givers.is_empty() || takers.is_empty() {
            return None;
        }
        let all = all_candidates(needs, makeable, &givers);
        let pairs = givers.len() * takers.len();
        let candidates = thinned(&all, |m| pairs * m * (m + 1) <= MOVES_MOST);
        let costs = strengths::costs(needs, &candidates);
        let mut tables = Vec::with_capacity(pairs);
        for giver in &givers {
            for taker in &takers {
                look();
                let own = (&needs[*giver], &needs[*taker]);
                tables.push(table(own, &candidates, at_least));
            }
        }
        Some(Self {
            needs,
            makeable,
            givers,
            takers,
            at_least,
            complete: candidates.len() == all.len(),
            unserved: 1.0 + needs.iter().map(|need| need.cap).sum::<f64>(),
            candidates,
            costs,
            pairs: tables,
        })
    }

    /// The best plan with moves where that is better than `without`, and what is proven of it.
    pub(super) fn better_than(&self, without: &ProductPlan) -> ProductPlan {
        let every: Vec<usize> = (0..self.candidates.len()).collect();
        let bound = self.evaluate(&every);
        let moving: Vec<usize> = self.givers.iter().chain(&self.takers).copied().collect();
        let fixed = fewest_fixed(self.needs, self.makeable, &moving);
        let mut best = without.clone();
        // No number of strengths below this one does it.
        let mut at_least = fixed;
        let most = STRENGTHS_MOST.min(without.strengths().len().max(fixed) + 2);
        for k in fixed..=most {
            let (found, complete) = self.best_of(k);
            if let Some((set, evaluated)) = found {
                let mut plan = self.plan_of(&set, &evaluated);
                thin_the_rich(&mut plan, self.needs, self.makeable);
                if is_better(&plan, &best) {
                    best = plan;
                }
                if evaluated.unserved <= bound.unserved {
                    break;
                }
            }
            if complete && at_least == k {
                at_least = k + 1;
            }
        }
        best.may_serve_more = best.unserved() > bound.unserved;
        best.strengths_at_least = at_least.min(best.strengths().len());
        best.concentrate_at_least = bound.cost.min(best.concentrate());
        best
    }

    /// The best set of `k` strengths, and whether all were gone through.
    fn best_of(&self, k: usize) -> (Option<(Vec<usize>, Evaluated)>, bool) {
        let a_set = self.pairs.len() * k * (k + 1) + self.needs.len() * (k + 1);
        let places: Vec<usize> = (0..self.candidates.len()).collect();
        let places = thinned(&places, |m| sets(m, k).saturating_mul(a_set) <= STEPS_MOST);
        let complete = self.complete && places.len() == self.candidates.len();
        let mut best: Option<(Vec<usize>, Evaluated)> = None;
        let mut set: Vec<usize> = (0..k).collect();
        if k > places.len() {
            return (None, complete);
        }
        loop {
            look();
            let own: Vec<usize> = set.iter().map(|at| places[*at]).collect();
            let evaluated = self.evaluate(&own);
            let better = best.as_ref().is_none_or(|(_, best)| {
                (evaluated.unserved, evaluated.cost) < (best.unserved, best.cost)
            });
            if better {
                best = Some((own, evaluated));
            }
            if !next(&mut set, places.len()) {
                break;
            }
        }
        (best, complete)
    }

    /// What a set of strengths comes to with the best moves.
    fn evaluate(&self, set: &[usize]) -> Evaluated {
        let alone = |i: usize| {
            if self.needs[i].is_met() {
                return 0.0;
            }
            let least = set.iter().map(|s| self.costs[i][*s]).fold(f64::INFINITY, f64::min);
            least.min(self.unserved)
        };
        let singles: Vec<f64> = (0..self.needs.len()).map(alone).collect();
        let together = |g: usize, t: usize| self.together(g * self.takers.len() + t, set);
        let gains: Vec<Vec<f64>> = (0..self.givers.len())
            .map(|g| {
                let gain = |t: usize| {
                    let apart = singles[self.givers[g]] + singles[self.takers[t]];
                    let gain = apart - together(g, t);
                    // Less than this is rounding, and no reason to carry anything.
                    if gain > 1e-6 { gain } else { 0.0 }
                };
                (0..self.takers.len()).map(gain).collect()
            })
            .collect();
        let goes_to = most_gained(&gains);
        let gained: f64 =
            goes_to.iter().enumerate().filter_map(|(g, t)| Some(gains[g][(*t)?])).sum();
        let value = singles.iter().sum::<f64>() - gained;
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a few hundred sumps"
        )]
        let unserved = (value.max(0.0) / self.unserved + 1e-9).floor() as usize;
        #[expect(clippy::cast_precision_loss, reason = "a few hundred sumps")]
        let cost = (value - unserved as f64 * self.unserved).max(0.0);
        Evaluated { unserved, cost, goes_to }
    }

    /// What a pair costs with the strengths of a set.
    fn together(&self, pair: usize, set: &[usize]) -> f64 {
        let m = self.candidates.len();
        let table = &self.pairs[pair];
        let of = |s: &usize| {
            let row = &table[s * (m + 1)..(s + 1) * (m + 1)];
            set.iter().map(|t| row[*t]).fold(row[m], f64::min)
        };
        set.iter().map(of).fold(f64::INFINITY, f64::min)
    }

    fn plan_of(&self, set: &[usize], evaluated: &Evaluated) -> ProductPlan {
        let strengths: Vec<f64> = set.iter().map(|s| self.candidates[*s]).collect();
        let moves = evaluated.goes_to.iter().enumerate().filter_map(|(g, t)| {
            let (giver, taker) = (self.givers[g], self.takers[(*t)?]);
            let pair = (&self.needs[giver], &self.needs[taker]);
            let (moved, s, t) = best_move(pair, &strengths, self.at_least)?;
            Some((giver, taker, moved, s, t))
        });
        let moves: Vec<(usize, usize, MovedBetween, f64, Option<f64>)> = moves.collect();
        of_set(self.needs, &strengths, &moves)
    }
}

/// The strengths that come into question where moving changes what serves: all that serve
/// any sump as it was found, and all from the weakest that there is to what serves a giver
/// that has given.
fn all_candidates(needs: &[Need], makeable: &Makeable, givers: &[usize]) -> Vec<f64> {
    let (weakest, strongest) = (makeable.weakest, makeable.strongest);
    let own: Vec<(f64, f64)> = needs
        .iter()
        .filter(|need| !need.is_met())
        .filter_map(|need| need.strengths(weakest, strongest))
        .collect();
    let ends = givers.iter().map(|i| (weakest, needs[*i].high.min(strongest)));
    let stretches: Vec<(f64, f64)> = own.iter().copied().chain(ends).collect();
    let stretches: Vec<(f64, f64)> = stretches.into_iter().filter(|own| own.0 <= own.1).collect();
    let tenths = makeable.candidates(&stretches);
    if own.len() <= 12 { makeable.with_ends(&tenths, &own) } else { tenths }
}

/// What a pair costs with each strength for the giver, a row each, and for the taker, the last
/// of a row being none.
fn table((giver, taker): (&Need, &Need), strengths: &[f64], at_least: f64) -> Vec<f64> {
    let takers = || strengths.iter().map(|t| Some(*t)).chain([None]);
    let pairs = strengths.iter().flat_map(|s| takers().map(move |t| (*s, t)));
    let cost = |(s, t): (f64, Option<f64>)| {
        let moved = cheapest(giver, taker, (s, t), at_least)?;
        Some((s * moved.into_giver + t.unwrap_or(0.0) * moved.into_taker) / 100.0)
    };
    pairs.map(|pair| cost(pair).unwrap_or(f64::INFINITY)).collect()
}

/// Every n-th of a list with its last, n the least for which it is `few`.
fn thinned<T: Copy>(all: &[T], few: impl Fn(usize) -> bool) -> Vec<T> {
    let mut nth = 1;
    loop {
        let mut own: Vec<T> = all.iter().step_by(nth).copied().collect();
        if nth > 1 && !(all.len() - 1).is_multiple_of(nth) {
            own.extend(all.last());
        }
        if few(own.len()) || own.len() <= 2 {
            return own;
        }
        nth += 1;
    }
}

/// In how many ways `k` of `m` are chosen.
fn sets(m: usize, k: usize) -> usize {
    (0..k).fold(1_usize, |sets, i| sets.saturating_mul(m.saturating_sub(i)) / (i + 1))
}

/// The next set of places below `m`; false after the last.
fn next(set: &mut [usize], m: usize) -> bool {
    let k = set.len();
    for i in (0..k).rev() {
        if set[i] < m - k + i {
            set[i] += 1;
            for j in i + 1..k {
                set[j] = set[j - 1] + 1;
            }
            return true;
        }
    }
    false
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn all_sets_are_gone_through_once() {
        let mut set = vec![0, 1, 2];
        let mut seen = std::collections::BTreeSet::from([set.clone()]);
        while next(&mut set, 6) {
            assert!(seen.insert(set.clone()), "{set:?}");
        }
        assert_eq!((seen.len(), sets(6, 3)), (20, 20));
    }

    #[test]
    fn a_thinned_list_keeps_its_ends() {
        let all: Vec<usize> = (0..11).collect();
        assert_eq!(thinned(&all, |m| m <= 5), [0, 3, 6, 9, 10]);
        assert_eq!(thinned(&all, |_| true), all);
        assert_eq!(thinned(&all, |_| false), [0, 10]);
    }
}
