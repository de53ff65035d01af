//! A plan as it is laid: the slots of each chain, and what they take of the limits.

use super::path::{Walk, count};
use super::{Chains, Passed, ROUNDING};

/// Chains laid into slots.
#[derive(Debug, Clone)]
pub(super) struct Laid<'a> {
    pub(super) chains: &'a Chains,
    pub(super) slots: Vec<Vec<usize>>,
    /// What is in each limit.
    used: Vec<f64>,
    /// What comes into the buffer on each day.
    coming: Vec<f64>,
    /// How much more the buffer could take on each day.
    room: Vec<f64>,
    /// What each chain costs as it lies.
    own: Vec<f64>,
    /// The limits that charge.
    charging: Vec<usize>,
    /// How many limits are passed.
    passing: usize,
}

/// What passing a limit costs while a plan is laid.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Passing<'a> {
    /// It is not allowed.
    Never,
    /// A weight for each limit, and last that of the buffer, for each share by which it is passed.
    Weighs(&'a [f64]),
}

impl<'a> Laid<'a> {
    /// Nothing is laid yet.
    pub(super) fn empty(chains: &'a Chains) -> Self {
        let days = if chains.buffer.is_some() { chains.days } else { 0 };
        let mut laid = Self {
            chains,
            slots: vec![Vec::new(); chains.chains.len()],
            used: chains.limits.iter().map(|limit| limit.base).collect(),
            coming: vec![0.0; days],
            room: vec![0.0; days],
            own: vec![0.0; chains.chains.len()],
            charging: (0..chains.limits.len())
                .filter(|limit| !chains.limits[*limit].steps.is_empty())
                .collect(),
            passing: 0,
        };
        laid.passing = (0..laid.used.len()).filter(|l| laid.passes_by(*l, 0.0) > 0.0).count();
        laid.find_room();
        laid
    }

    /// Everything is laid as it is said.
    pub(super) fn of(chains: &'a Chains, slots: Vec<Vec<usize>>) -> Self {
        let mut laid = Self::empty(chains);
        for (i, slots) in slots.into_iter().enumerate() {
            laid.put(i, slots);
        }
        laid
    }

    pub(super) fn into_slots(self) -> Vec<Vec<usize>> {
        self.slots
    }

    pub(super) fn into_used(self) -> Vec<f64> {
        self.used
    }

    /// What the limits charge more where a chain is laid into a slot too.
    pub(super) fn charge_of(&self, i: usize, slot: usize) -> f64 {
        let more = |(limit, kind): &(usize, usize)| {
            let (own, used) = (&self.chains.limits[*limit], self.used[*limit]);
            own.charge(used + self.chains.chains[i].amounts[*kind]) - own.charge(used)
        };
        self.chains.slots[slot].limits.iter().map(more).sum()
    }

    /// What the plan costs.
    pub(super) fn cost(&self) -> f64 {
        let charged = self.charging.iter().map(|l| self.chains.limits[*l].charge(self.used[*l]));
        self.own.iter().sum::<f64>() + charged.sum::<f64>()
    }

    /// The slots of a chain, taken out.
    pub(super) fn take(&mut self, i: usize) -> Vec<usize> {
        let slots = std::mem::take(&mut self.slots[i]);
        self.count_in(i, &slots, -1.0);
        self.own[i] = 0.0;
        slots
    }

    /// Lays a chain that is not laid.
    pub(super) fn put(&mut self, i: usize, slots: Vec<usize>) {
        let chain = &self.chains.chains[i];
        let days = self.chains.days;
        let since = slots
            .last()
            .map_or(count(days) + chain.age, |slot| count(days - self.chains.slots[*slot].day));
        let own: f64 = slots.iter().map(|slot| chain.costs[*slot]).sum();
        self.own[i] = own + chain.left * since;
        self.count_in(i, &slots, 1.0);
        self.slots[i] = slots;
    }

    fn count_in(&mut self, i: usize, slots: &[usize], sign: f64) {
        let amounts = &self.chains.chains[i].amounts;
        for slot in slots {
            let slot = &self.chains.slots[*slot];
            for (limit, kind) in &slot.limits {
                self.passing -= usize::from(self.passes_by(*limit, 0.0) > 0.0);
                self.used[*limit] += sign * amounts[*kind];
                self.passing += usize::from(self.passes_by(*limit, 0.0) > 0.0);
            }
            if let Some(buffer) = &self.chains.buffer {
                self.coming[slot.day] += sign * amounts[buffer.kind];
            }
        }
        if !slots.is_empty() {
            self.find_room();
        }
    }

    /// How much more each day could bring: what is added fills the room of its own day, and what
    /// has not drained by then that of every day after it.
    fn find_room(&mut self) {
        let Some(buffer) = &self.chains.buffer else { return };
        let mut level = buffer.start;
        for (day, drains) in buffer.drains.iter().enumerate() {
            level += self.coming[day];
            self.room[day] = level;
            level = (level - drains).max(0.0);
        }
        let mut after = f64::INFINITY;
        for (day, drains) in buffer.drains.iter().enumerate().rev() {
            let level = self.room[day];
            let idle = (drains - level).max(0.0);
            after = (buffer.most - level).min(idle + after);
            self.room[day] = after;
        }
    }

    /// How much more may be in a limit, or pass it, than there is in it.
    fn passes_by(&self, limit: usize, more: f64) -> f64 {
        let most = self.chains.limits[limit].most;
        let by = self.used[limit] + more - most;
        if by > ROUNDING * most.abs().max(1e-9) { by } else { 0.0 }
    }

    fn buffer_passed_by(&self, day: usize, more: f64) -> f64 {
        let Some(buffer) = &self.chains.buffer else { return 0.0 };
        let by = more - self.room[day];
        if by > ROUNDING * buffer.most { by } else { 0.0 }
    }

    /// What it costs to lay a chain into a slot too, beside what else its prices say.
    pub(super) fn price(&self, i: usize, slot: usize, passing: Passing<'_>) -> f64 {
        let chain = &self.chains.chains[i];
        let mut price = chain.costs[slot];
        if price == f64::INFINITY {
            return price;
        }
        for (limit, kind) in &self.chains.slots[slot].limits {
            let more = chain.amounts[*kind];
            let own = &self.chains.limits[*limit];
            if !own.steps.is_empty() {
                price += own.charge(self.used[*limit] + more) - own.charge(self.used[*limit]);
            }
            let by = self.passes_by(*limit, more);
            if by > 0.0 {
                match passing {
                    Passing::Never => return f64::INFINITY,
                    Passing::Weighs(weights) => {
                        let by = by.min(more);
                        price += weights[*limit] * by / own.most.max(more);
                    }
                }
            }
        }
        if let Some(buffer) = &self.chains.buffer {
            let by = self.buffer_passed_by(self.chains.slots[slot].day, chain.amounts[buffer.kind]);
            if by > 0.0 {
                match passing {
                    Passing::Never => return f64::INFINITY,
                    Passing::Weighs(weights) => {
                        let by = by.min(chain.amounts[buffer.kind]);
                        price += weights[self.chains.limits.len()] * by / buffer.most;
                    }
                }
            }
        }
        price
    }

    /// Lays a chain that is not laid where it is cheapest. Whether there is a place for it.
    pub(super) fn lay(
        &mut self,
        walk: &mut Walk,
        i: usize,
        passing: Passing<'_>,
        more: impl Fn(usize) -> f64,
    ) -> bool {
        let chains = self.chains;
        let found = walk.cheapest(chains, i, |slot| {
            let own = self.price(i, slot, passing);
            if own.is_finite() { own + more(slot) } else { own }
        });
        if found.is_some() {
            self.put(i, walk.found.clone());
        }
        found.is_some()
    }

    /// What is passed, as shares of what the limits hold.
    pub(super) fn passes(&self) -> f64 {
        let share = |passed: Passed| {
            let most = match (passed.limit, &self.chains.buffer) {
                (Some(limit), _) => self.chains.limits[limit].most,
                (None, Some(buffer)) => buffer.most,
                (None, None) => 1.0,
            };
            passed.by / most.max(ROUNDING)
        };
        self.passed().into_iter().map(share).sum()
    }

    /// What is passed, and by how much.
    pub(super) fn passed(&self) -> Vec<Passed> {
        let limits = (0..self.used.len())
            .map(|limit| Passed { limit: Some(limit), by: self.passes_by(limit, 0.0) });
        let fullest = (0..self.room.len()).map(|day| self.buffer_passed_by(day, 0.0));
        let buffer = Passed { limit: None, by: fullest.fold(0.0, f64::max) };
        limits.chain([buffer]).filter(|passed| passed.by > 0.0).collect()
    }

    /// Whether no limit is passed.
    pub(super) fn keeps_limits(&self) -> bool {
        let full = |day: usize| self.buffer_passed_by(day, 0.0) > 0.0;
        self.passing == 0 && !(0..self.room.len()).any(full)
    }

    /// Whether no limit is passed and every chain keeps to its days.
    pub(super) fn keeps_all(&self) -> bool {
        self.keeps_limits() && (0..self.slots.len()).all(|i| self.keeps_days(i))
    }

    /// Whether a chain keeps to its days.
    fn keeps_days(&self, i: usize) -> bool {
        let chain = &self.chains.chains[i];
        let slots = &self.slots[i];
        let days: Vec<usize> = slots.iter().map(|slot| self.chains.slots[*slot].day).collect();
        let gaps = days
            .windows(2)
            .all(|pair| pair[0] + chain.shortest <= pair[1] && pair[1] <= pair[0] + chain.longest);
        let first = days.first().map_or(chain.first_by >= self.chains.days, |first| {
            (chain.earliest..=chain.first_by).contains(first)
        });
        let last = days.last().is_none_or(|last| last + chain.longest >= self.chains.days);
        gaps && first
            && last
            && chain.fixed.iter().all(|fixed| days.contains(fixed))
            && slots.iter().all(|slot| chain.costs[*slot].is_finite())
    }

    /// The chains, but for one, that lie in a slot under a limit that is passed; all where it is
    /// the buffer.
    pub(super) fn in_the_way(&self, except: usize) -> Vec<usize> {
        let passed: Vec<Option<usize>> = self.passed().iter().map(|own| own.limit).collect();
        let lies = |slot: &usize| {
            self.chains.slots[*slot].limits.iter().any(|(limit, _)| passed.contains(&Some(*limit)))
        };
        let all = passed.contains(&None);
        (0..self.slots.len())
            .filter(|i| *i != except && (all || self.slots[*i].iter().any(lies)))
            .collect()
    }
}
