//! What to look at before the strength is used.

use super::ConcentrationOfReading;
use crate::fluid::band::Band;
use crate::fluid::practice;
use crate::quantity::Concentration;
use crate::text::Finding;

impl ConcentrationOfReading {
    pub(super) fn findings(&self, concentration: Concentration) -> Vec<Finding> {
        let read = practice::unusual_strength(concentration, "/reading");
        read.into_iter().chain(self.band.as_ref().and_then(Band::unusual)).collect()
    }
}
