//! Where a tank leaves the published practice for oil separators.

use super::question::{SeparatingStage, Separation, TankTurbulence};
use super::treated::Treated;
use crate::handbook::conversions::{
    CUBIC_METRES_PER_SECOND, METRES_PER_MILLIMETRE, SECONDS_PER_HOUR,
};
use crate::handbook::oil_separator;
use crate::quantity::{Length, Measure, Quantity, Ratio, Velocity};
use crate::sentence;
use crate::text::Finding;

/// As far beyond a bound as this, as a share of it, is on the bound.
const ON_THE_BOUND: f64 = 1e-12;

fn outside(value: f64, (least, most): (f64, f64)) -> bool {
    value < least * (1.0 - ON_THE_BOUND) || value > most * (1.0 + ON_THE_BOUND)
}

/// A length in metres, as a sentence shows it.
fn metres(length: f64) -> Measure {
    Length::measure_of(length / METRES_PER_MILLIMETRE).rounded(3)
}

impl Separation {
    /// What of the tank lies outside the practice, where its turbulence was asked for.
    pub(super) fn findings(&self, treated: &[Treated<'_>]) -> Vec<Finding> {
        let SeparatingStage::Settling(tank) = &self.separator.stage else { return Vec::new() };
        let (Some(TankTurbulence::SeparatorPractice), Some(depth)) = (tank.turbulence, tank.depth)
        else {
            return Vec::new();
        };
        let [depth, width] = [depth, tank.width].map(|length| length.get() * METRES_PER_MILLIMETRE);
        let q = self.throughput.get() * CUBIC_METRES_PER_SECOND;
        let mut findings = Vec::new();
        let flow = tank.flow(q).unwrap_or_default() * SECONDS_PER_HOUR;
        if flow > oil_separator::FLOW_MOST {
            let text = sentence!(
                "The fluid flows along the tank at {}; the published practice for oil separators \
                 allows {}. Lower the throughput, or take a wider or deeper tank.",
                Velocity::measure_of(flow).rounded(3),
                Velocity::measure_of(oil_separator::FLOW_MOST).rounded(3)
            );
            findings.push(Finding::watch("tank-flow-too-fast", "/throughput", text));
        }
        let ratios = treated.iter().filter_map(|t| t.graded.flow_to_rise);
        let ratio = ratios.fold(0.0, f64::max);
        if ratio > oil_separator::FLOW_TO_RISE_MOST {
            let text = sentence!(
                "The fluid flows along the tank {} times as fast as its drops rise; the published \
                 practice for oil separators allows {} times. Lower the throughput, or take a \
                 wider or deeper tank.",
                Ratio::measure_of(ratio).rounded(3),
                Ratio::measure_of(oil_separator::FLOW_TO_RISE_MOST)
            );
            findings.push(Finding::watch("tank-flow-to-rise", "/throughput", text));
        }
        let bounds = |(least, most): (f64, f64)| (metres(least), metres(most));
        if outside(depth, oil_separator::DEPTH) {
            let (least, most) = bounds(oil_separator::DEPTH);
            let text = sentence!(
                "The fluid is {} deep; in the published practice for oil separators it is {} to {}.",
                metres(depth),
                least,
                most
            );
            findings.push(Finding::note("tank-depth", "/separator/stage/depth", text));
        }
        if outside(width, oil_separator::WIDTH) {
            let (least, most) = bounds(oil_separator::WIDTH);
            let text = sentence!(
                "The tank is {} wide; in the published practice for oil separators it is {} to {}.",
                metres(width),
                least,
                most
            );
            findings.push(Finding::note("tank-width", "/separator/stage/width", text));
        }
        if outside(depth / width, oil_separator::DEPTH_TO_WIDTH) {
            let (least, most) = oil_separator::DEPTH_TO_WIDTH;
            let text = sentence!(
                "The fluid is {} times as deep as the tank is wide; in the published practice for \
                 oil separators it is {} to {} times.",
                Ratio::measure_of(depth / width).rounded(3),
                Ratio::measure_of(least),
                Ratio::measure_of(most)
            );
            findings.push(Finding::note("tank-depth-to-width", "/separator/stage/depth", text));
        }
        findings
    }
}
