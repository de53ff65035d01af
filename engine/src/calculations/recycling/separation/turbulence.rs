//! Turbulence of a tank, and what of a size moves out of it.

use super::grade::{Curve, Grade, Moved};
use super::question::{SettlingTank, TankTurbulence};
use crate::handbook::conversions::{METRES_PER_MICROMETRE, SECONDS_PER_HOUR};
use crate::handbook::oil_separator;
use crate::handbook::sphere::Suspension;
use crate::quantity::{ParticleSize, Quantity, Ratio, SurfaceLoading};
use crate::sentence;
use crate::text::{Kind, Refusal};

/// The turbulence factor, and the ratio of flow to rise that it comes from.
pub(super) fn turbulence(
    tank: &SettlingTank,
    q: f64,
    suspension: Suspension,
    at: &str,
) -> Result<(f64, Option<f64>), Refusal> {
    if let Some(factor) = tank.turbulence_factor {
        return Ok((factor.get(), None));
    }
    let practice = tank.turbulence == Some(TankTurbulence::SeparatorPractice);
    let rise = suspension.velocity(oil_separator::DESIGN_DROP).filter(|rise| *rise > 0.0);
    let (true, Some(flow), Some(rise)) = (practice, tank.flow(q), rise) else {
        return Ok((1.0, None));
    };
    let flow_to_rise = flow / rise;
    let factor = oil_separator::turbulence_factor(flow_to_rise).ok_or_else(|| {
        let detail = sentence!(
            "The fluid flows along the tank {} times as fast as a drop of {} rises or sinks in it, \
             and the published practice ends at {} times. Lower the throughput, give a wider or \
             deeper tank, or give a turbulence factor that is known of this tank.",
            Ratio::measure_of(flow_to_rise),
            ParticleSize::measure_of(oil_separator::DESIGN_DROP / METRES_PER_MICROMETRE),
            Ratio::measure_of(oil_separator::FLOW_TO_RISE.1)
        );
        Refusal::new(Kind::OutOfRange, format!("{at}/stage/turbulence"), detail)
    })?;
    Ok((factor, Some(flow_to_rise)))
}

pub(super) fn moved(
    suspension: Suspension,
    needed: f64,
    with_drag: bool,
    curve: Curve,
    at: &str,
) -> Result<Grade, Refusal> {
    if suspension.floats() {
        return Ok(Grade::Flat(0.0));
    }
    let mut moved = Moved { suspension, with_drag, needed, all_from: f64::INFINITY, curve };
    moved.all_from = moved.size(needed).ok_or_else(|| {
        let detail = sentence!(
            "At a surface loading of {} even the largest pieces that the drag law covers would be \
             carried along. Lower the throughput, or check the sizes of the tank.",
            SurfaceLoading::measure_of(needed * SECONDS_PER_HOUR)
        );
        Refusal::new(Kind::OutOfRange, format!("{at}/density"), detail)
    })?;
    Ok(Grade::Moved(moved))
}
