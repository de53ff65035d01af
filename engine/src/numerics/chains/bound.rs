//! The number that no plan can go below: prices on what is shared, moved step by step.
//!
//! A plain limit has one price, for what is taken of it. A limit of whole events has one for each
//! event that there may be, which is one of each chain within its shortest interval: its own part of the
//! bound is then the set of events, each whole, that is worth most at these prices less what the limit
//! charges, which a price by amount would let be a fraction of one.

use super::knapsack::Knapsack;
use super::path::{Walk, count};
use super::{Chains, ROUNDING};
use crate::numerics::cut_off::look;

/// Steps without a better bound after which steps become shorter.
const PATIENCE: usize = 10;
/// By how much they become shorter.
const SHORTER: f64 = 0.75;
/// Where they are as short as that they end.
const SHORTEST: f64 = 1e-3;
/// How much of the direction before is kept: the way zigzags less.
const KEPT: f64 = 0.6;
/// Where no plan is known, one is guessed to cost this share more than the bound.
const GUESS: f64 = 0.02;

/// The prices, and the best bound that they have shown.
#[derive(Debug, Clone)]
pub(super) struct Prices<'a> {
    shared: Shared<'a>,
    /// The prices that showed the best bound.
    best: Vec<f64>,
    now: Vec<f64>,
    direction: Vec<f64>,
    at_least: f64,
    length: f64,
    waited: usize,
}

/// Where the prices of each limit stand, and what they are measured by.
#[derive(Debug, Clone)]
struct Shared<'a> {
    chains: &'a Chains,
    /// For each limit the place of its first price.
    first: Vec<usize>,
    /// What each price is measured by; none where a price may be less than nothing.
    scale: Vec<Option<f64>>,
    /// The limits of whole events.
    knapsacks: Vec<Knapsack>,
    /// For each limit of whole events its first day, and the place of each chain's first event.
    events: Vec<Option<(usize, Vec<usize>)>>,
}

impl<'a> Shared<'a> {
    fn of(chains: &'a Chains) -> Self {
        let (mut first, mut scale, mut knapsacks) = (Vec::new(), Vec::new(), Vec::new());
        let mut events = Vec::new();
        for (l, limit) in chains.limits.iter().enumerate() {
            first.push(scale.len());
            if limit.whole {
                let (knapsack, places) = events_of(chains, l);
                scale.extend(vec![None; knapsack.len()]);
                knapsacks.push(knapsack);
                events.push(Some(places));
            } else {
                events.push(None);
                let room = limit.most - limit.base;
                scale.push(Some(if room.is_finite() && room > 0.0 { room } else { 1.0 }));
            }
        }
        Self { chains, first, scale, knapsacks, events }
    }

    /// What the prices make a slot cost a chain.
    fn of_slot(&self, prices: &[f64], chain: usize, slot: usize) -> f64 {
        let amounts = &self.chains.chains[chain].amounts;
        let own = self.chains.slots[slot].limits.iter().map(|(limit, kind)| {
            match self.event(*limit, chain, slot) {
                Some(event) => prices[event],
                None => prices[self.first[*limit]] * amounts[*kind],
            }
        });
        own.sum()
    }

    /// The price of the event that a chain is in a slot, in a limit of whole events.
    fn event(&self, limit: usize, chain: usize, slot: usize) -> Option<usize> {
        let (from, places) = self.events[limit].as_ref()?;
        let since = self.chains.slots[slot].day - from;
        let within = since / self.chains.chains[chain].shortest;
        Some(self.first[limit] + places[chain] + within)
    }

    /// What the cheapest paths cost at these prices with what the limits make of them, and by how
    /// much each price's part is passed.
    fn priced(&mut self, walk: &mut Walk, prices: &[f64]) -> (f64, Vec<f64>) {
        let chains = self.chains;
        let mut value = 0.0;
        let mut passed = vec![0.0; prices.len()];
        for (limit, first) in chains.limits.iter().zip(&self.first) {
            let room = limit.most - limit.base;
            if !limit.whole && room.is_finite() {
                value -= prices[*first] * room;
                passed[*first] -= room;
            }
        }
        for knapsack in &mut self.knapsacks {
            let first = self.first[knapsack.limit];
            let own = &prices[first..first + knapsack.len()];
            value += knapsack.least(&chains.limits[knapsack.limit], own);
            for event in knapsack.chosen() {
                passed[first + event] -= 1.0;
            }
        }
        for (i, chain) in chains.chains.iter().enumerate() {
            let least = walk.cheapest(chains, i, |slot| {
                let own = chain.costs[slot];
                if own.is_finite() { own + self.of_slot(prices, i, slot) } else { own }
            });
            value += least.unwrap_or(f64::INFINITY);
            for slot in &walk.found {
                for (limit, kind) in &chains.slots[*slot].limits {
                    match self.event(*limit, i, *slot) {
                        Some(event) => passed[event] += 1.0,
                        None => passed[self.first[*limit]] += chain.amounts[*kind],
                    }
                }
            }
        }
        (value, passed)
    }
}

impl<'a> Prices<'a> {
    pub(super) fn of(chains: &'a Chains) -> Self {
        let shared = Shared::of(chains);
        let none = vec![0.0; shared.scale.len()];
        Self {
            shared,
            best: none.clone(),
            now: none.clone(),
            direction: none,
            at_least: f64::NEG_INFINITY,
            length: 1.0,
            waited: 0,
        }
    }

    /// No plan costs less.
    pub(super) const fn at_least(&self) -> f64 {
        self.at_least
    }

    /// What a slot costs a chain at the best prices, beside its own cost.
    pub(super) fn of_slot(&self, chain: usize, slot: usize) -> f64 {
        self.shared.of_slot(&self.best, chain, slot)
    }

    /// Moves the prices so many steps. `known` is what the best plan so far costs.
    pub(super) fn step(&mut self, walk: &mut Walk, known: Option<f64>, steps: usize) {
        for _ in 0..steps {
            if self.length < SHORTEST {
                return;
            }
            look();
            let (value, passed) = self.shared.priced(walk, &self.now);
            if value > self.at_least + 1e-6 * value.abs() {
                self.waited = 0;
            } else {
                self.waited += 1;
            }
            if value > self.at_least {
                self.at_least = value;
                self.best.clone_from(&self.now);
            }
            if self.waited >= PATIENCE {
                self.waited = 0;
                self.length *= SHORTER;
                self.now.clone_from(&self.best);
                self.direction.fill(0.0);
                continue;
            }
            let goal = known.unwrap_or(self.at_least + GUESS * self.at_least.abs());
            self.go(&passed, (goal - value).max(ROUNDING * value.abs()));
        }
    }

    /// A step along the subgradient, each limit measured by what it holds.
    fn go(&mut self, passed: &[f64], missing: f64) {
        let mut square = 0.0;
        for (m, scale) in self.shared.scale.iter().enumerate() {
            self.direction[m] = KEPT * self.direction[m] + passed[m] / scale.unwrap_or(1.0);
            let held = scale.is_some() && self.now[m] <= 0.0 && self.direction[m] <= 0.0;
            if held {
                self.direction[m] = 0.0;
            }
            square += self.direction[m] * self.direction[m];
        }
        if square <= 0.0 {
            return;
        }
        let length = self.length * missing / square;
        for (m, scale) in self.shared.scale.iter().enumerate() {
            let moved = self.now[m] + length * self.direction[m] / scale.unwrap_or(1.0);
            self.now[m] = if scale.is_some() { moved.max(0.0) } else { moved };
        }
    }

    /// Whether prices show that no plan keeps the limits: where paths cost nothing but what they
    /// take of the limits, the cheapest ones take more than there is.
    #[expect(clippy::needless_range_loop, reason = "the place counts in several lists")]
    pub(super) fn show_no_plan(chains: &Chains, walk: &mut Walk, steps: usize) -> bool {
        let chains = without_costs(chains);
        let mut prices = Prices::of(&chains);
        let own = prices.shared.scale.clone();
        let scale = |m: usize| own[m].unwrap_or(1.0);
        for m in 0..own.len() {
            prices.now[m] = if own[m].is_some() { 1.0 / scale(m) } else { 0.0 };
        }
        for step in 0..steps {
            look();
            let (value, passed) = prices.shared.priced(walk, &prices.now);
            if value > 1e-6 {
                return true;
            }
            let length = 1.0 / (1.0 + count(step));
            for m in 0..own.len() {
                prices.direction[m] = KEPT * prices.direction[m] + passed[m] / scale(m);
                let moved = prices.now[m] + length * prices.direction[m] / scale(m);
                prices.now[m] = if own[m].is_some() { moved.max(0.0) } else { moved };
            }
            // Only their ratios count.
            let sizes = prices.now.iter().enumerate().map(|(m, price)| price.abs() * scale(m));
            let sum: f64 = sizes.sum();
            if sum <= 0.0 {
                return false;
            }
            prices.now.iter_mut().for_each(|price| *price /= sum);
        }
        false
    }
}

/// The same chains where nothing costs anything.
fn without_costs(chains: &Chains) -> Chains {
    let mut chains = chains.clone();
    for chain in &mut chains.chains {
        chain.left = 0.0;
        chain.costs.iter_mut().filter(|cost| cost.is_finite()).for_each(|cost| *cost = 0.0);
    }
    chains.limits.iter_mut().for_each(|limit| limit.steps.clear());
    chains
}

/// The events that may be in a limit, its first day, and the place of each chain's first event.
fn events_of(chains: &Chains, limit: usize) -> (Knapsack, (usize, Vec<usize>)) {
    let held = chains.slots.iter().filter_map(|slot| {
        let (_, kind) = slot.limits.iter().find(|(own, _)| *own == limit)?;
        Some((slot.day, *kind))
    });
    let held: Vec<(usize, usize)> = held.collect();
    let (Some((from, kind)), Some((to, _))) = (held.first(), held.last()) else {
        return (Knapsack::new(limit, Vec::new()), (0, vec![0; chains.chains.len()]));
    };
    let (mut amounts, mut places) = (Vec::new(), Vec::new());
    for chain in &chains.chains {
        places.push(amounts.len());
        let events = (to - from) / chain.shortest + 1;
        amounts.extend(vec![chain.amounts[*kind]; events]);
    }
    (Knapsack::new(limit, amounts), (*from, places))
}
