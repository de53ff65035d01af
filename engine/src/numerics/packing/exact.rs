//! The best packing of a few items: a dynamic programme over all subsets.

use super::{Packing, Sizes, added};
use crate::numerics::cut_off::look;

/// Bins and charge of the best packing of a subset, and the last bin of it.
#[derive(Clone, Copy)]
struct Best {
    bins: usize,
    charge: f64,
    last: usize,
}

/// Packs `items`, of which there are few, into the fewest bins, and of those
/// packings takes one with the lowest charge.
pub(super) fn pack(packing: &Packing, items: &[usize]) -> Vec<Vec<usize>> {
    let subsets = 1_usize << items.len();
    let mut sums = vec![Sizes::default(); subsets];
    for subset in 1..subsets {
        let lowest = subset.trailing_zeros() as usize;
        let rest = subset & (subset - 1);
        sums[subset] = added(&sums[rest], &packing.items[items[lowest]]);
    }
    // The charge of each subset as one bin; infinite where it is none.
    let charges: Vec<f64> = sums
        .iter()
        .map(|sum| if packing.fits(sum) { packing.charge_of(sum) } else { f64::INFINITY })
        .collect();
    let mut best = vec![Best { bins: usize::MAX, charge: 0.0, last: 0 }; subsets];
    best[0].bins = 0;
    for subset in 1..subsets {
        look();
        let least = Least::of(packing, &sums[subset]);
        best[subset] = best_of(subset, &charges, &best, &least);
    }
    let mut bins = Vec::new();
    let mut left = subsets - 1;
    while left > 0 {
        let bin = best[left].last;
        bins.push((0..items.len()).filter(|i| bin >> i & 1 == 1).map(|i| items[i]).collect());
        left &= !bin;
    }
    bins
}

/// What no packing of a subset goes below.
struct Least {
    bins: usize,
    charge: f64,
}

impl Least {
    fn of(packing: &Packing, sum: &Sizes) -> Self {
        /// Rounding must not ask for a bin more than is needed.
        const ROUNDING: f64 = 1e-9;
        let taken = sum.iter().zip(&packing.capacity).map(|(size, capacity)| size / capacity);
        let bins = taken.fold(0.0, f64::max) * (1.0 - ROUNDING);
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "no more bins than items"
        )]
        Self { bins: bins.ceil() as usize, charge: packing.charge_of(sum) }
    }

    fn is_met(&self, found: &Best) -> bool {
        found.bins <= self.bins && found.charge <= self.charge
    }
}

/// The bin with the lowest item of `subset` is one of the subsets that hold it;
/// tries them until one does that none can better.
fn best_of(subset: usize, charges: &[f64], best: &[Best], least: &Least) -> Best {
    let lowest = subset & subset.wrapping_neg();
    let others = subset & !lowest;
    // An item alone always goes into a bin.
    let alone = best[others];
    let mut found =
        Best { bins: alone.bins + 1, charge: alone.charge + charges[lowest], last: lowest };
    let mut with = others;
    while with > 0 && !least.is_met(&found) {
        let bin = with | lowest;
        if charges[bin].is_finite() {
            let rest = best[subset & !bin];
            let (bins, charge) = (rest.bins + 1, rest.charge + charges[bin]);
            if bins < found.bins || (bins == found.bins && charge < found.charge) {
                found = Best { bins, charge, last: bin };
            }
        }
        with = (with - 1) & others;
    }
    found
}
