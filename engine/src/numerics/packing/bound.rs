//! The number of bins that no packing goes below, told quickly.
//!
//! Source of the bound by sizes: S. Martello and P. Toth, Knapsack Problems
//! (Wiley 1990), chapter 8, bound L2; from memory.

use super::{DIRECTIONS, Packing, fits, portions};
use crate::numerics::order;

/// The greatest of the bounds of each direction and of items that cannot meet.
pub(super) fn at_least(packing: &Packing) -> usize {
    let directions = (0..DIRECTIONS).filter(|d| packing.capacity[*d].is_finite());
    let by_size = directions.map(|direction| {
        let mut sizes: Vec<f64> = packing.items.iter().map(|item| item[direction]).collect();
        sizes.sort_by(f64::total_cmp);
        in_direction(&sizes, packing.capacity[direction])
    });
    by_size
        .max()
        .unwrap_or(0)
        .max(never_together(packing))
        .max(usize::from(!packing.items.is_empty()))
}

/// Bound L2 of Martello and Toth: for each threshold, items larger than the
/// rest of a bin stand alone, those above half have a bin each, and the middling
/// ones fill what is left of those bins before they open new ones.
fn in_direction(rising: &[f64], capacity: f64) -> usize {
    let half = capacity / 2.0;
    let above_half = rising.partition_point(|size| fits(*size, half));
    let mut sums = vec![0.0];
    for size in rising {
        sums.push(sums[sums.len() - 1] + size);
    }
    let thresholds = rising[..above_half].iter().copied().chain([0.0]);
    let bounds = thresholds.map(|threshold| {
        let first = rising.partition_point(|size| *size < threshold);
        let alone =
            rising.partition_point(|size| fits(*size + threshold, capacity)).max(above_half);
        let each = rising.len() - above_half;
        let shared = alone - above_half;
        #[expect(clippy::cast_precision_loss, reason = "a list has at most 20,000 entries")]
        let left = shared as f64 * capacity - (sums[alone] - sums[above_half]);
        let over = (sums[above_half] - sums[first] - left).max(0.0);
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a whole number of bins, no more than items"
        )]
        let more = portions(over, capacity) as usize;
        each + more
    });
    bounds.max().unwrap_or(0)
}

/// The size of a set of items of which no two fit into one bin, found by
/// taking the largest first.
fn never_together(packing: &Packing) -> usize {
    let fullness = |item: usize| packing.fullness(&packing.items[item]);
    let mut largest: Vec<usize> = (0..packing.items.len()).collect();
    order::greatest_first(&mut largest, |item| fullness(*item));
    // Beyond this many the search for one more would take longer than it is worth.
    const FEW: usize = 1000;
    let mut apart: Vec<usize> = Vec::new();
    for item in largest.into_iter().take(FEW) {
        if apart.iter().all(|other| !packing.fits(&packing.sum(&[item, *other]))) {
            apart.push(item);
        }
    }
    apart.len()
}
