//! The bound by fractions of bins: how many bins it takes when a filling may be
//! used in part, which is within one of the truth for nearly all packings.
//!
//! Every filling that takes no further item is a column of a linear programme:
//! least Σ x over fillings, with Σ n·x ≥ d for each kind of item, of which there are d
//! and n in the filling. Items of one size are one kind, as in a shop with many machines
//! of a type, so that there are few fillings. Source:
//! P. C. Gilmore and R. E. Gomory, A linear programming approach to the
//! cutting-stock problem, Operations Research 9 (1961); from memory.

use super::{Packing, Sizes, added};
use crate::numerics::cut_off::look;
use crate::numerics::linear_program::{Constraint, LinearProgram, Sense, Solution};
use crate::numerics::order;

/// More items than this are not tried.
const MOST_ITEMS: usize = 250;
/// More fillings than this are not tried.
const MOST_FILLINGS: usize = 2500;
/// Subsets looked at in search of fillings.
const MOST_LOOKS: usize = 300_000;
/// By how much the programme's value may be wrong: far more than its proof
/// leaves open.
const DOUBT: f64 = 1e-6;

/// No packing has fewer bins; none where it would take long to tell, or where
/// no more is found than `known`.
///
/// Small items make many fillings and need few bins, so where there are too many
/// fillings the smallest items are left out: what the others need, all need.
pub(super) fn at_least(packing: &Packing, known: usize) -> Option<usize> {
    let mut largest = packing.items.clone();
    order::greatest_first(&mut largest, |item| packing.fullness(item));
    largest.truncate(MOST_ITEMS);
    while largest.len() > known {
        look();
        let kinds = kinds(&largest);
        if let Some(fillings) = Search::new(packing, &kinds).fillings() {
            return by_fractions(&kinds, &fillings);
        }
        largest.truncate(largest.len() * 7 / 8);
    }
    None
}

/// Items of one size, and how many of them there are.
struct ItemKind {
    size: Sizes,
    count: usize,
}

/// The kinds of items in their order.
fn kinds(items: &[Sizes]) -> Vec<ItemKind> {
    let mut kinds: Vec<ItemKind> = Vec::new();
    for size in items {
        match kinds.iter_mut().find(|kind| kind.size == *size) {
            Some(kind) => kind.count += 1,
            None => kinds.push(ItemKind { size: *size, count: 1 }),
        }
    }
    kinds
}

#[expect(clippy::cast_precision_loss, reason = "no more items than are tried")]
fn by_fractions(kinds: &[ItemKind], fillings: &[Vec<usize>]) -> Option<usize> {
    let holds = |kind: usize| fillings.iter().map(move |filling| filling[kind] as f64);
    let needs = kinds.iter().enumerate();
    let needs =
        needs.map(|(place, kind)| Constraint::new(holds(place), Sense::AtLeast, kind.count as f64));
    let programme = LinearProgram {
        costs: vec![1.0; fillings.len()],
        most: vec![f64::INFINITY; fillings.len()],
        constraints: needs.collect(),
    };
    let Solution::Optimal(optimum) = programme.solve() else { return None };
    let bins: f64 = optimum.values.iter().sum();
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "no more bins than items"
    )]
    let bins = (bins - DOUBT).ceil().max(0.0) as usize;
    Some(bins)
}

struct Search<'a> {
    packing: &'a Packing,
    kinds: &'a [ItemKind],
    /// How many of each kind are held.
    held: Vec<usize>,
    found: Vec<Vec<usize>>,
    looks: usize,
}

impl<'a> Search<'a> {
    fn new(packing: &'a Packing, kinds: &'a [ItemKind]) -> Self {
        Self { packing, kinds, held: vec![0; kinds.len()], found: Vec::new(), looks: 0 }
    }

    /// Every filling that takes no further item; none when there are too many.
    fn fillings(mut self) -> Option<Vec<Vec<usize>>> {
        self.from(0, Sizes::default())?;
        Some(self.found)
    }

    /// Goes on from the kinds before this one, with as many of it as go in and with fewer.
    fn from(&mut self, kind: usize, sum: Sizes) -> Option<()> {
        self.looks += 1;
        if self.looks > MOST_LOOKS || self.found.len() > MOST_FILLINGS {
            return None;
        }
        let Some(ItemKind { size, count }) = self.kinds.get(kind) else {
            if !(0..kind).any(|other| self.takes(other, &sum)) {
                self.found.push(self.held.clone());
            }
            return Some(());
        };
        let mut sums = vec![sum];
        while sums.len() <= *count && self.packing.fits(&added(&sums[sums.len() - 1], size)) {
            sums.push(added(&sums[sums.len() - 1], size));
        }
        for (number, sum) in sums.into_iter().enumerate().rev() {
            self.held[kind] = number;
            self.from(kind + 1, sum)?;
        }
        Some(())
    }

    /// Whether one more of a kind is there and goes in.
    fn takes(&self, kind: usize, sum: &Sizes) -> bool {
        let ItemKind { size, count } = &self.kinds[kind];
        self.held[kind] < *count && self.packing.fits(&added(sum, size))
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::packing;
    use super::*;

    #[test]
    fn items_of_one_size_are_bounded_as_if_each_were_its_own_kind() {
        // By hand: of 4 and of 3 into 10, two of each or one 4 and two 3 or three 3. The
        // sizes of the second list differ by too little to change what goes together.
        let alike: Vec<f64> = [4.0, 3.0].into_iter().cycle().take(18).collect();
        let unlike: Vec<f64> =
            alike.iter().zip(0_u32..).map(|(size, i)| size - 1e-6 * f64::from(i)).collect();
        let (alike, unlike) = (packing(&alike, 10.0), packing(&unlike, 10.0));
        assert_eq!(kinds(&alike.items).len(), 2);
        assert_eq!(kinds(&unlike.items).len(), 18);
        assert_eq!(at_least(&alike, 0), at_least(&unlike, 0));
        // Nine 4 and nine 3 take 63, and no filling of 10 is full: 4 + 3 + 3 leaves none.
        assert_eq!(at_least(&alike, 0), Some(7));
    }
}
