//! The statement: the volume and how sure it is, or that there is none to dose by.

use super::{SumpVolumeAnswer, VolumeEstimate};
use crate::numerics::digits::digits_apart;
use crate::numerics::distribution::NORMAL_95;
use crate::quantity::{Quantity, Share, Volume};
use crate::sentence;
use crate::text::Sentence;

impl SumpVolumeAnswer {
    pub(super) fn statement(&self) -> Sentence {
        match (self.volume, self.u) {
            (Some(v), Some(u)) => sentence!(
                "The sump holds {}, give or take {} (at {}).",
                v.roughly(),
                Volume::measure_of(NORMAL_95 * u.get()).rounded(2),
                Share::measure_of(95.0)
            ),
            (Some(v), None) => sentence!(
                "The sump holds {}. Say how well it was measured to learn how sure that is.",
                v.roughly()
            ),
            (None, _) => self.disagreement(),
        }
    }

    /// Both volumes, and what to do first.
    fn disagreement(&self) -> Sentence {
        let litres = |estimate: Option<&VolumeEstimate>| estimate.map_or(0.0, |e| e.volume.get());
        let (shape, dilution) = (litres(self.by_shape.as_ref()), litres(self.by_dilution.as_ref()));
        let digits = digits_apart(shape, dilution);
        sentence!(
            "There is no volume to dose by: the sump holds {} by its shape and {} by dilution. Let \
             the fluid circulate, and read both strengths again.",
            Volume::measure_of(shape).rounded(digits),
            Volume::measure_of(dilution).rounded(digits)
        )
    }
}
