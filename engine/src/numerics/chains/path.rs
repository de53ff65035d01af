//! The cheapest way through the days for one chain: a shortest path, with a window that slides.
//!
//! f(d) = price of day d + least of f over the days that lie shortest to longest before it. The
//! least of a sliding window is kept by a queue in which costs only rise, so that each day is
//! looked at once.

use super::Chains;
use std::collections::VecDeque;

const NONE: usize = usize::MAX;

/// What is worked with on the way, kept from path to path.
#[derive(Debug, Clone, Default)]
pub(super) struct Walk {
    cost: Vec<f64>,
    before: Vec<usize>,
    slot: Vec<usize>,
    price: Vec<f64>,
    window: VecDeque<usize>,
    /// The slots of the path that was found.
    pub(super) found: Vec<usize>,
}

impl Walk {
    pub(super) fn of(chains: &Chains) -> Self {
        Self {
            cost: vec![0.0; chains.days],
            before: vec![NONE; chains.days],
            slot: vec![NONE; chains.days],
            price: vec![0.0; chains.days],
            ..Self::default()
        }
    }

    /// The cheapest path of a chain that is alone; what it costs, and its slots in `found`.
    pub(super) fn free(&mut self, chains: &Chains, i: usize) -> Option<f64> {
        let costs = &chains.chains[i].costs;
        self.cheapest(chains, i, |slot| costs[slot])
    }

    /// The cheapest path at these prices of its slots: what it costs, and its slots in `found`.
    pub(super) fn cheapest(
        &mut self,
        chains: &Chains,
        i: usize,
        price: impl Fn(usize) -> f64,
    ) -> Option<f64> {
        let chain = &chains.chains[i];
        self.price.fill(f64::INFINITY);
        for (k, slot) in chains.slots.iter().enumerate() {
            let own = price(k);
            if own < self.price[slot.day] {
                self.price[slot.day] = own;
                self.slot[slot.day] = k;
            }
        }
        self.cost.fill(f64::INFINITY);
        self.window.clear();
        let mut fixed = chain.fixed.iter().copied().peekable();
        // No path may skip a fixed day: nothing before the last of them is gone on from.
        let mut floor = None;
        for day in 0..chains.days {
            while let Some(passed) = fixed.next_if(|fixed| *fixed < day) {
                floor = Some(passed);
            }
            if let Some(comes) = day.checked_sub(chain.shortest)
                && self.cost[comes].is_finite()
            {
                while self.window.back().is_some_and(|last| self.cost[*last] >= self.cost[comes]) {
                    self.window.pop_back();
                }
                self.window.push_back(comes);
            }
            let oldest = day.saturating_sub(chain.longest).max(floor.unwrap_or(0));
            while self.window.front().is_some_and(|first| *first < oldest) {
                self.window.pop_front();
            }
            if self.price[day] == f64::INFINITY {
                continue;
            }
            let start = floor.is_none() && (chain.earliest..=chain.first_by).contains(&day);
            let from_start = if start { 0.0 } else { f64::INFINITY };
            let (mut least, mut before) = (from_start, NONE);
            if let Some(first) = self.window.front()
                && self.cost[*first] <= least
            {
                (least, before) = (self.cost[*first], *first);
            }
            self.cost[day] = least + self.price[day];
            self.before[day] = before;
        }
        self.ended(chains, i)
    }

    /// The cheapest end of the paths to every day.
    fn ended(&mut self, chains: &Chains, i: usize) -> Option<f64> {
        let chain = &chains.chains[i];
        let left = |since: usize| chain.left * count(since);
        let from = chain.fixed.last().copied().unwrap_or(0);
        let from = from.max(chains.days.saturating_sub(chain.longest));
        let never = chain.fixed.is_empty() && chain.first_by >= chains.days;
        let (mut least, mut last) =
            (if never { left(chains.days) + chain.left * chain.age } else { f64::INFINITY }, NONE);
        for day in from..chains.days {
            let cost = self.cost[day] + left(chains.days - day);
            if cost < least {
                (least, last) = (cost, day);
            }
        }
        self.found.clear();
        while last != NONE {
            self.found.push(self.slot[last]);
            last = self.before[last];
        }
        self.found.reverse();
        least.is_finite().then_some(least)
    }
}

/// Days as a number to compute with.
#[expect(clippy::cast_precision_loss, reason = "days are far fewer than 2^53")]
pub(super) const fn count(days: usize) -> f64 {
    days as f64
}

#[cfg(test)]
mod tests {
    use super::super::{Chain, ChainSlot};
    use super::*;
    use proptest::prelude::*;

    fn alone(days: usize, chain: Chain) -> Chains {
        let slots = (0..days).map(|day| ChainSlot { day, limits: Vec::new() });
        Chains {
            days,
            slots: slots.collect(),
            limits: Vec::new(),
            buffer: None,
            chains: vec![chain],
        }
    }

    /// What a set of days costs, bit d for day d; none where it is no path.
    fn cost_of(set: u32, chains: &Chains) -> Option<f64> {
        let chain = &chains.chains[0];
        let days: Vec<usize> = (0..chains.days).filter(|day| set >> day & 1 == 1).collect();
        let first = days.first().copied();
        let gaps_hold = days
            .windows(2)
            .all(|pair| (chain.shortest..=chain.longest).contains(&(pair[1] - pair[0])));
        let starts = match first {
            Some(first) => (chain.earliest..=chain.first_by).contains(&first),
            None => chain.first_by >= chains.days,
        };
        let last = days.last().copied();
        let ends = last.is_none_or(|last| last + chain.longest >= chains.days);
        let fixed = chain.fixed.iter().all(|day| days.contains(day));
        let since = last.map_or(chains.days, |last| chains.days - last);
        let cost = days.iter().map(|day| chain.costs[*day]).sum::<f64>();
        (gaps_hold && starts && ends && fixed).then(|| cost + chain.left * count(since))
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 2000, failure_persistence: None, ..Default::default() })]

        #[test]
        fn no_path_of_all_is_cheaper(
            costs in proptest::collection::vec(-3..9_i32, 1..12),
            bounds in (0..4_usize, 0..12_usize, 1..4_usize, 0..6_usize),
            left in 0..3_i32,
            fixed in 0..24_usize,
        ) {
            let days = costs.len();
            let (earliest, first_by, shortest, more) = bounds;
            let chain = Chain {
                earliest, first_by, shortest, longest: shortest + more,
                amounts: Vec::new(),
                costs: costs.iter().map(|cost| if *cost == 8 { f64::INFINITY } else { f64::from(*cost) }).collect(),
                left: f64::from(left),
                age: 0.0,
                fixed: if fixed < days { vec![fixed] } else { Vec::new() },
            };
            let chains = alone(days, chain);
            let mut walk = Walk::of(&chains);
            let found = walk.free(&chains, 0);
            let least = (0..1_u32 << days)
                .filter_map(|set| cost_of(set, &chains))
                .filter(|cost| cost.is_finite())
                .min_by(f64::total_cmp);
            prop_assert_eq!(found, least);
            if found.is_some() {
                let set = walk.found.iter().fold(0, |set, slot| set | 1_u32 << slot);
                prop_assert_eq!(cost_of(set, &chains), found);
            }
        }
    }
}
