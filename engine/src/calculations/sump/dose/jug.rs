//! The dose as it is measured out in a jug.

use super::{Dose, MILLILITRES};
use crate::handbook::conversions::KILOGRAMS_PER_MILLIGRAM;
use crate::numerics::digits::round_to;
use crate::quantity::Quantity;

/// Without a jug's marking the dose is measured to so many digits.
const DIGITS: i32 = 3;
/// A dose that ends on the label's bound, but for rounding, keeps to it.
const ROUNDING: f64 = 1e-9;

impl Dose {
    /// So many litres of the product to the nearest mark, or to the mark below where the nearest
    /// would be more than the label allows.
    pub(super) fn measured(&self, litres: f64) -> f64 {
        let exact = litres * MILLILITRES;
        let nearest = match self.jug_division {
            Some(division) => (exact / division.get()).round() * division.get(),
            None => round_to(exact, DIGITS),
        };
        let most = self.most_litres().unwrap_or(f64::INFINITY) * MILLILITRES;
        let measured = if nearest <= most * (1.0 + ROUNDING) {
            nearest
        } else {
            match self.jug_division {
                Some(division) => (exact / division.get() + ROUNDING).floor() * division.get(),
                None => exact,
            }
        };
        // What no mark stands for is given as it is, and a finding says so.
        if measured > 0.0 { measured / MILLILITRES } else { litres }
    }

    /// The most of the product that the label allows in one dose, L; none where it sets no most.
    fn most_litres(&self) -> Option<f64> {
        let most = self.product.label?.most?.get();
        let kilograms = most * self.sump.volume.get() * KILOGRAMS_PER_MILLIGRAM;
        Some(kilograms / self.product.density?.get())
    }
}
