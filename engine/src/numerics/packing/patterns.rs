//! The bound by fractions of bins: how many bins it takes when a filling may be
//! used in part, which is within one of the truth for nearly all packings.
//!
//! Every filling that takes no further item is a column of a linear programme:
//! least Σ x over fillings, with Σ x ≥ 1 over those that hold each item. Source:
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
        let without_small = Packing { items: largest.clone(), ..packing.clone() };
        if let Some(fillings) = Search::new(&without_small).fillings() {
            return by_fractions(largest.len(), &fillings);
        }
        largest.truncate(largest.len() * 7 / 8);
    }
    None
}

fn by_fractions(count: usize, fillings: &[Vec<bool>]) -> Option<usize> {
    let holds = |item: usize| {
        let weight = |filling: &Vec<bool>| if filling[item] { 1.0 } else { 0.0 };
        fillings.iter().map(weight).collect()
    };
    let programme = LinearProgram {
        costs: vec![1.0; fillings.len()],
        most: vec![f64::INFINITY; fillings.len()],
        constraints: (0..count)
            .map(|item| Constraint { weights: holds(item), sense: Sense::AtLeast, bound: 1.0 })
            .collect(),
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
    held: Vec<bool>,
    found: Vec<Vec<bool>>,
    looks: usize,
}

impl<'a> Search<'a> {
    fn new(packing: &'a Packing) -> Self {
        let held = vec![false; packing.items.len()];
        Self { packing, held, found: Vec::new(), looks: 0 }
    }

    /// Every filling that takes no further item; none when there are too many.
    fn fillings(mut self) -> Option<Vec<Vec<bool>>> {
        self.from(0, Sizes::default())?;
        Some(self.found)
    }

    fn from(&mut self, item: usize, sum: Sizes) -> Option<()> {
        self.looks += 1;
        if self.looks > MOST_LOOKS || self.found.len() > MOST_FILLINGS {
            return None;
        }
        if item == self.held.len() {
            if !(0..item).any(|other| !self.held[other] && self.takes(other, &sum)) {
                self.found.push(self.held.clone());
            }
            return Some(());
        }
        if self.takes(item, &sum) {
            self.held[item] = true;
            self.from(item + 1, added(&sum, &self.packing.items[item]))?;
            self.held[item] = false;
        }
        self.from(item + 1, sum)
    }

    fn takes(&self, item: usize, sum: &Sizes) -> bool {
        self.packing.fits(&added(sum, &self.packing.items[item]))
    }
}
