//! Packing into the fewest bins, with the number that no packing can go below.
//!
//! An item takes room in several directions at once, and a bin holds so much in
//! each. Among packings into the fewest bins the one with the lowest charge is
//! wanted: a bin is charged a step for each full or begun portion of one
//! direction.
//!
//! Up to [`EXACT_TO`] items the answer is exhaustive, a dynamic programme over
//! all subsets, and its own proof. Beyond, it is the best of several first-fit
//! packings, improved by packing a few bins anew exhaustively; what it is worth
//! is told by the bound beside it, which proves most of them. The improvement
//! stops after a fixed number of tries, so that the same items are packed the
//! same way on any machine.

mod bound;
mod exact;
mod greedy;
mod patterns;

/// The directions in which an item takes room.
pub const DIRECTIONS: usize = 3;
/// The most items that are packed exhaustively.
pub const EXACT_TO: usize = 14;
/// The share of a capacity by which sums of rounded numbers may exceed it.
const ROUNDING: f64 = 1e-12;

/// What an item takes, or a bin holds, in each direction.
pub type Sizes = [f64; DIRECTIONS];

/// Items and the bins they are to be packed into.
#[derive(Debug, Clone, PartialEq)]
pub struct Packing {
    /// What each item takes. No item is larger than a bin.
    pub items: Vec<Sizes>,
    /// What a bin holds; infinite where nothing holds it.
    pub capacity: Sizes,
    /// What bins are charged for.
    pub charge: Option<Charge>,
}

/// A bin is charged one step for each full or begun portion.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Charge {
    /// The direction it is charged for.
    pub direction: usize,
    /// How much makes a portion.
    pub portion: f64,
}

/// Items in bins.
#[derive(Debug, Clone, PartialEq)]
pub struct Packed {
    /// The items of each bin by their place in the list.
    pub bins: Vec<Vec<usize>>,
    /// No packing has fewer bins.
    pub at_least: usize,
    /// No packing into the fewest bins is charged less.
    pub charge_at_least: f64,
}

impl Packing {
    /// Packs the items.
    #[must_use]
    pub fn solve(&self) -> Packed {
        let all: Vec<usize> = (0..self.items.len()).collect();
        if all.len() <= EXACT_TO {
            let bins = exact::pack(self, &all);
            let charge = self.charge_of_all(&bins);
            return Packed { at_least: bins.len(), charge_at_least: charge, bins };
        }
        let mut at_least = bound::at_least(self);
        let mut bins = greedy::pack(self, at_least);
        if let Some(by_fractions) = self.by_fractions(at_least, bins.len()) {
            at_least = at_least.max(by_fractions);
            if bins.len() > at_least {
                bins = greedy::pack_longer(self, at_least, bins);
            }
        }
        Packed { at_least, charge_at_least: self.charge_of(&self.sum(&all)), bins }
    }

    /// The number of bins that no packing goes below, as told by [`Self::solve`].
    #[must_use]
    pub fn bins_at_least(&self) -> usize {
        if self.items.len() <= EXACT_TO {
            return self.solve().at_least;
        }
        let at_least = bound::at_least(self);
        let by_fractions = self.by_fractions(at_least, greedy::pack(self, at_least).len());
        by_fractions.map_or(at_least, |bins| bins.max(at_least))
    }

    /// The bound by fractions, where `found` bins are more than are known to be needed.
    fn by_fractions(&self, known: usize, found: usize) -> Option<usize> {
        if found > known { patterns::at_least(self, known) } else { None }
    }

    fn sum(&self, items: &[usize]) -> Sizes {
        items.iter().fold(Sizes::default(), |sum, item| added(&sum, &self.items[*item]))
    }

    fn fits(&self, sum: &Sizes) -> bool {
        sum.iter().zip(&self.capacity).all(|(size, capacity)| fits(*size, *capacity))
    }

    /// The greatest share of a bin that `item` takes in any direction.
    fn fullness(&self, item: &Sizes) -> f64 {
        let shares = item.iter().zip(&self.capacity).map(|(size, capacity)| size / capacity);
        shares.fold(0.0, f64::max)
    }

    fn charge_of(&self, sum: &Sizes) -> f64 {
        self.charge.map_or(0.0, |charge| portions(sum[charge.direction], charge.portion))
    }

    fn charge_of_all(&self, bins: &[Vec<usize>]) -> f64 {
        bins.iter().map(|bin| self.charge_of(&self.sum(bin))).sum()
    }
}

/// Whether `size` goes into `capacity`.
#[must_use]
pub fn fits(size: f64, capacity: f64) -> bool {
    size <= capacity * (1.0 + ROUNDING)
}

/// How many portions `size` makes, the last one begun; nothing makes none.
#[must_use]
pub fn portions(size: f64, portion: f64) -> f64 {
    if size <= 0.0 {
        return 0.0;
    }
    (size / portion * (1.0 - ROUNDING)).ceil()
}

fn added(a: &Sizes, b: &Sizes) -> Sizes {
    std::array::from_fn(|direction| a[direction] + b[direction])
}

#[cfg(test)]
mod tests {
    use super::*;

    pub(super) fn packing(sizes: &[f64], capacity: f64) -> Packing {
        let free = f64::INFINITY;
        let items = sizes.iter().map(|size| [*size, 0.0, 0.0]).collect();
        Packing { items, capacity: [capacity, free, free], charge: None }
    }

    #[test]
    fn first_fit_decreasing_would_take_one_bin_more() {
        // By hand: 44+8+8, 24+24+6+6, 22+21+17 fit into bins of 61. First fit
        // decreasing puts 17 with 44 and needs a fourth bin.
        let sizes = [44.0, 24.0, 24.0, 22.0, 21.0, 17.0, 8.0, 8.0, 6.0, 6.0];
        let packed = packing(&sizes, 61.0).solve();
        assert_eq!((packed.bins.len(), packed.at_least), (3, 3));
    }

    #[test]
    fn more_than_half_a_bin_is_a_bin_each() {
        let packed = packing(&[5.1; 20], 10.0).solve();
        assert_eq!((packed.bins.len(), packed.at_least), (20, 20));
    }

    #[test]
    fn two_to_a_bin_is_proven_where_sizes_alone_would_allow_three() {
        // By hand: three of 3.4 do not fit into 10, so 15 of them take 8 bins;
        // their sum of 51 would go into 6.
        let packed = packing(&[3.4; 15], 10.0).solve();
        assert_eq!((packed.bins.len(), packed.at_least), (8, 8));
    }

    #[test]
    fn of_two_packings_the_one_with_fewer_portions_is_taken() {
        // By hand: two bins of two items. Pairing 3 with 1 twice charges one
        // portion of 4 each; pairing 3 with 3 charges two for that bin alone.
        let items = vec![[1.0, 0.0, 3.0], [1.0, 0.0, 3.0], [1.0, 0.0, 1.0], [1.0, 0.0, 1.0]];
        let free = f64::INFINITY;
        let charge = Some(Charge { direction: 2, portion: 4.0 });
        let packed = Packing { items, capacity: [2.0, free, free], charge }.solve();
        assert_eq!((packed.bins.len(), packed.charge_at_least), (2, 2.0));
    }
}
