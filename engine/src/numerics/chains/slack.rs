//! How far each event of a plan may slip alone, and what is left of each limit.

use super::Chains;
use super::path::Walk;
use super::plan::{Laid, Passing};
use crate::numerics::cut_off::look;

impl Chains {
    /// For each event of a plan the last slot that it may move to while everything else stays: its
    /// chain's days hold, no limit is passed, and nothing is charged that was not before.
    #[must_use]
    pub fn slips(&self, slots: &[Vec<usize>]) -> Vec<Vec<usize>> {
        let mut laid = Laid::of(self, slots.to_vec());
        let mut slips = Vec::with_capacity(slots.len());
        for (i, own) in slots.iter().enumerate() {
            look();
            laid.take(i);
            let last = (0..own.len()).map(|place| {
                let others: Vec<usize> =
                    (0..own.len()).filter(|k| *k != place).map(|k| own[k]).collect();
                laid.put(i, others);
                let last = self.last_slot(&laid, i, own, place);
                laid.take(i);
                last
            });
            slips.push(last.collect());
            laid.put(i, own.clone());
        }
        slips
    }

    fn last_slot(&self, laid: &Laid<'_>, i: usize, own: &[usize], place: usize) -> usize {
        let chain = &self.chains[i];
        let now = own[place];
        let day = |slot: usize| self.slots[slot].day;
        if chain.fixed.contains(&day(now)) {
            return now;
        }
        let latest = match place.checked_sub(1) {
            Some(before) => day(own[before]) + chain.longest,
            None => chain.first_by,
        };
        let latest = match own.get(place + 1) {
            Some(next) => latest.min(day(*next).saturating_sub(chain.shortest)),
            None => latest,
        };
        let charged = laid.charge_of(i, now);
        let later = (now + 1..self.slots.len()).take_while(|slot| day(*slot) <= latest);
        let free = |slot: &usize| {
            let price = laid.price(i, *slot, Passing::Never);
            price.is_finite() && laid.charge_of(i, *slot) <= charged
        };
        later.filter(free).last().unwrap_or(now)
    }

    /// What is in each limit, and what comes into the buffer on each day.
    #[must_use]
    pub fn used(&self, slots: &[Vec<usize>]) -> Vec<f64> {
        Laid::of(self, slots.to_vec()).into_used()
    }

    /// What is in the buffer on each day, before it drains, and what drains of it.
    #[must_use]
    pub fn levels(&self, slots: &[Vec<usize>]) -> Vec<(f64, f64)> {
        let Some(buffer) = &self.buffer else { return Vec::new() };
        let mut coming = vec![0.0; self.days];
        for (chain, slots) in self.chains.iter().zip(slots) {
            for slot in slots {
                coming[self.slots[*slot].day] += chain.amounts[buffer.kind];
            }
        }
        let mut level = buffer.start;
        let each = coming.into_iter().zip(&buffer.drains).map(|(comes, drains)| {
            let full = level + comes;
            let drained = full.min(*drains);
            level = full - drained;
            (full, drained)
        });
        each.collect()
    }

    /// The chains that have no path where they are alone.
    #[must_use]
    pub fn without_path(&self) -> Vec<usize> {
        let mut walk = Walk::of(self);
        (0..self.chains.len()).filter(|i| walk.free(self, *i).is_none()).collect()
    }
}
