//! The statement: the factor, what the water reads, and how sure a reading is by them.

use super::RefractometerFactorAnswer;
use crate::quantity::{Quantity, Share};
use crate::sentence;
use crate::text::Sentence;

impl RefractometerFactorAnswer {
    pub(super) fn statement(&self) -> Sentence {
        let factor = self.factor.roughly();
        let water = self.water_brix.measure().rounded(2);
        // A strength in the middle of the samples stands for all.
        let middle = self.band.get(self.band.len() / 2);
        let sure = middle.and_then(|at| Some((at, at.low?, at.high?)));
        match sure {
            Some((at, low, high)) => sentence!(
                "The refractometer factor is {}, and the water alone reads {}. A reading of {} \
                 stands for {}, and at {} for anything from {} to {}.",
                factor,
                water,
                at.brix.roughly(),
                at.concentration.roughly(),
                Share::measure_of(95.0),
                low.measure().rounded(2),
                high.measure().rounded(2)
            ),
            None => sentence!(
                "The refractometer factor is {}, and the water alone reads {}. How sure that is, \
                 these samples do not show: make up more mixes.",
                factor,
                water
            ),
        }
    }
}
