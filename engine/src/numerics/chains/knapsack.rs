//! What is worth most in a limit of whole events.
//!
//! For each level that a limit charges by, the events of most worth whose amounts together do not
//! pass its upper end: a dynamic programme over amounts in cells. Amounts are rounded down to cells,
//! so that what is found is worth at least as much as any set of events, and the bound that it is part
//! of stays one.

use super::SharedLimit;

/// So many cells an amount is counted in.
const CELLS: usize = 60;

/// The events that may be in a limit, and what is worked with on the way.
#[derive(Debug, Clone, Default)]
pub(super) struct Knapsack {
    pub(super) limit: usize,
    /// What each event takes.
    amounts: Vec<f64>,
    worth: Vec<f64>,
    /// For each event and each cell whether it was taken there.
    taken: Vec<bool>,
    chosen: Vec<usize>,
}

impl Knapsack {
    pub(super) fn new(limit: usize, amounts: Vec<f64>) -> Self {
        Self { limit, amounts, ..Self::default() }
    }

    /// How many events there may be.
    pub(super) const fn len(&self) -> usize {
        self.amounts.len()
    }

    /// The events that were found to be worth most.
    pub(super) fn chosen(&self) -> &[usize] {
        &self.chosen
    }

    /// The least of what is charged less what the events are worth, each at its price.
    pub(super) fn least(&mut self, limit: &SharedLimit, prices: &[f64]) -> f64 {
        let ends = limit.steps.iter().map(|step| step.above).chain([limit.most]);
        let charges = [0.0].into_iter().chain(limit.steps.iter().map(|step| step.charge));
        let mut least = f64::INFINITY;
        let mut chosen = Vec::new();
        for (end, charge) in ends.zip(charges) {
            let room = end.min(limit.most) - limit.base;
            if room < 0.0 {
                continue;
            }
            let value = charge - self.most_worth(room, prices);
            if value < least {
                least = value;
                std::mem::swap(&mut chosen, &mut self.chosen);
            }
        }
        self.chosen = chosen;
        least
    }

    /// The most that events are worth that fit into `room`; which, in `chosen`.
    fn most_worth(&mut self, room: f64, prices: &[f64]) -> f64 {
        self.chosen.clear();
        let most = room * (1.0 + super::ROUNDING);
        let fits = |event: &usize| prices[*event] > 0.0 && self.amounts[*event] <= most;
        let wanted: Vec<usize> = (0..self.amounts.len()).filter(fits).collect();
        let all: f64 = wanted.iter().map(|event| self.amounts[*event]).sum();
        if all <= room {
            let worth = wanted.iter().map(|event| prices[*event]).sum();
            self.chosen = wanted;
            return worth;
        }
        let width = CELLS + 1;
        self.worth.clear();
        self.worth.resize(width, 0.0);
        self.taken.clear();
        self.taken.resize(width * wanted.len(), false);
        let cells: Vec<usize> =
            wanted.iter().map(|event| cells_of(self.amounts[*event] / room)).collect();
        for (k, event) in wanted.iter().enumerate() {
            for cell in (cells[k]..width).rev() {
                let with = self.worth[cell - cells[k]] + prices[*event];
                if with > self.worth[cell] {
                    self.worth[cell] = with;
                    self.taken[k * width + cell] = true;
                }
            }
        }
        let mut cell = CELLS;
        for k in (0..wanted.len()).rev() {
            if self.taken[k * width + cell] {
                cell -= cells[k];
                self.chosen.push(wanted[k]);
            }
        }
        self.worth[CELLS]
    }
}

/// An amount in cells, rounded down, so that rounding never keeps an event out.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a share from 0 to 1 of a small number of cells"
)]
fn cells_of(share: f64) -> usize {
    (share * super::path::count(CELLS) * (1.0 - super::ROUNDING)).floor() as usize
}

#[cfg(test)]
mod tests {
    use super::super::LimitStep;
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #![proptest_config(ProptestConfig { cases: 500, failure_persistence: None, ..Default::default() })]

        /// No set of events is worth more than what is found, and what is found is near to one.
        #[test]
        fn no_set_of_all_is_below_the_least(
            events in proptest::collection::vec((1..40_u32, -5..30_i32), 1..9),
            above in 10..60_u32,
            charge in 0..40_u32,
        ) {
            let amounts: Vec<f64> = events.iter().map(|(amount, _)| f64::from(*amount)).collect();
            let prices: Vec<f64> = events.iter().map(|(_, price)| f64::from(*price)).collect();
            let limit = SharedLimit {
                base: 5.0,
                most: 100.0,
                steps: vec![LimitStep { above: f64::from(above), charge: f64::from(charge) }],
                whole: true,
            };
            let least = (0..1_u32 << amounts.len()).filter_map(|set| {
                let own = (0..amounts.len()).filter(|event| set >> event & 1 == 1);
                let amount: f64 = 5.0 + own.clone().map(|event| amounts[event]).sum::<f64>();
                let worth: f64 = own.map(|event| prices[event]).sum();
                (amount <= 100.0).then(|| limit.charge(amount) - worth)
            }).fold(f64::INFINITY, f64::min);
            let mut knapsack = Knapsack::new(0, amounts.clone());
            let found = knapsack.least(&limit, &prices);
            prop_assert!(found <= least + 1e-9, "{} {}", found, least);
            let amount: f64 = knapsack.chosen().iter().map(|event| amounts[*event]).sum();
            // Each of at most eight amounts lost less than a cell.
            prop_assert!(amount <= 95.0 * (1.0 + 8.0 / 60.0), "{}", amount);
        }
    }
}
