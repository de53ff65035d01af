//! A good packing of many items: first fit in several orders, then a few bins
//! at a time packed anew exhaustively.

use super::{DIRECTIONS, Packing, Sizes, added, exact};
use crate::numerics::cut_off::look;
use crate::numerics::order;

/// The most items packed anew at a time.
const ANEW: usize = 11;
/// How often a few bins are packed anew.
const TRIES: usize = 60;
/// The same where it is known that there may be a better packing.
const MORE_TRIES: usize = 600;
/// With more items than this one order is tried, and nothing is packed anew.
const MANY: usize = 1000;

/// By what the largest item comes first, of the shares of a bin that it takes.
type Order = fn(&Sizes) -> f64;

const ORDERS: [Order; 2 + DIRECTIONS] = [
    |shares| shares.iter().copied().fold(0.0, f64::max),
    |shares| shares.iter().sum(),
    |shares| shares[0],
    |shares| shares[1],
    |shares| shares[2],
];

pub(super) fn pack(packing: &Packing, at_least: usize) -> Vec<Vec<usize>> {
    let orders = if packing.items.len() <= MANY { &ORDERS[..] } else { &ORDERS[..1] };
    let packings = orders.iter().map(|order| first_fit(packing, order));
    let worth = |bins: &Vec<Vec<usize>>| (bins.len(), packing.charge_of_all(bins));
    let better = |a: &Vec<Vec<usize>>, b: &Vec<Vec<usize>>| {
        let ((bins_a, charge_a), (bins_b, charge_b)) = (worth(a), worth(b));
        bins_a.cmp(&bins_b).then(charge_a.total_cmp(&charge_b))
    };
    let mut bins = packings.min_by(better).unwrap_or_default();
    if packing.items.len() <= MANY {
        improve(packing, at_least, &mut bins, TRIES);
    }
    bins
}

/// Goes on from a packing that may have a bin too many.
pub(super) fn pack_longer(
    packing: &Packing,
    at_least: usize,
    mut bins: Vec<Vec<usize>>,
) -> Vec<Vec<usize>> {
    improve(packing, at_least, &mut bins, MORE_TRIES);
    bins
}

/// Puts each item, the largest first, into the first bin that takes it.
fn first_fit(packing: &Packing, size: impl Fn(&Sizes) -> f64) -> Vec<Vec<usize>> {
    let shares =
        |item: usize| std::array::from_fn(|d| packing.items[item][d] / packing.capacity[d]);
    let mut largest: Vec<usize> = (0..packing.items.len()).collect();
    order::greatest_first(&mut largest, |item| size(&shares(*item)));
    let mut bins: Vec<(Sizes, Vec<usize>)> = Vec::new();
    for item in largest {
        let with = |sum: &Sizes| added(sum, &packing.items[item]);
        match bins.iter_mut().find(|(sum, _)| packing.fits(&with(sum))) {
            Some((sum, bin)) => {
                *sum = with(sum);
                bin.push(item);
            }
            None => bins.push((packing.items[item], vec![item])),
        }
    }
    bins.into_iter().map(|(_, bin)| bin).collect()
}

/// Takes out a few bins, packs their items anew, and keeps the result, which
/// is never worse. Which bins is decided by a fixed sequence.
fn improve(packing: &Packing, at_least: usize, bins: &mut Vec<Vec<usize>>, tries: usize) {
    let least_charge =
        packing.charge_of(&packing.sum(&(0..packing.items.len()).collect::<Vec<_>>()));
    let mut sequence = Sequence(1);
    for _ in 0..tries {
        look();
        if bins.len() <= at_least && packing.charge_of_all(bins) <= least_charge {
            return;
        }
        let mut taken: Vec<usize> = Vec::new();
        // Bins that do not fit into the try any more are passed over.
        for _ in 0..ANEW {
            let place = sequence.below(bins.len());
            if taken.len() + bins[place].len() <= ANEW {
                taken.extend(bins.swap_remove(place));
            }
            if bins.is_empty() {
                break;
            }
        }
        bins.extend(exact::pack(packing, &taken));
    }
}

/// A linear congruential sequence (multiplier and increment of Knuth's MMIX,
/// from memory; any would serve).
struct Sequence(u64);

impl Sequence {
    fn below(&mut self, end: usize) -> usize {
        self.0 = self.0.wrapping_mul(6364136223846793005).wrapping_add(1442695040888963407);
        let high = (self.0 >> 33) as usize;
        high % end
    }
}
