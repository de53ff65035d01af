//! Whether the volumes by shape and by dilution agree, and their weighted mean
//! (equation 3).

use super::{Agreement, VolumeEstimate, checks};
use crate::numerics::distribution::NORMAL_95;
use crate::quantity::{Quantity, Ratio, Volume, VolumeDifference};
use crate::text::Refusal;

/// Whether two estimates agree, and their weighted mean where they do.
pub(super) fn combine(
    shape: &VolumeEstimate,
    dilution: &VolumeEstimate,
) -> Result<(Option<Agreement>, Option<VolumeEstimate>), Refusal> {
    let known = |estimate: &VolumeEstimate| estimate.u.filter(|u| u.get() > 0.0);
    let (Some(u_1), Some(u_2)) = (known(shape), known(dilution)) else {
        return Err(checks::how_good(shape, dilution));
    };
    let (v_1, u_1) = (shape.volume.get(), u_1.get());
    let (v_2, u_2) = (dilution.volume.get(), u_2.get());
    let apart = u_1.hypot(u_2);
    let agree = (v_1 - v_2).abs() <= NORMAL_95 * apart;
    let agreement = Agreement {
        agree,
        difference: VolumeDifference::of(v_1 - v_2)?,
        expected: Volume::of(NORMAL_95 * apart)?,
        ratio: Ratio::of(v_2 / v_1).ok(),
    };
    let (w_1, w_2) = (u_1.powi(-2), u_2.powi(-2));
    let combined = agree.then(|| {
        Ok::<_, Refusal>(VolumeEstimate {
            volume: Volume::of((w_1 * v_1 + w_2 * v_2) / (w_1 + w_2))?,
            u: Some(Volume::of((w_1 + w_2).powf(-0.5))?),
        })
    });
    Ok((Some(agreement), combined.transpose()?))
}
