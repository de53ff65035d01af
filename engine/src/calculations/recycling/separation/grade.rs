//! What share of a size a stage takes out in one pass.
//!
//! With x the velocity of a size against the one that the stage asks for:
//!
//! - a tank and a stack of discs take out min(1, x);
//! - a plain bowl takes out of what sinks (1 − k^2x)/(1 − k²), and of what rises
//!   (k^(2−2x) − k²)/(1 − k²), with k the radius of the fluid's surface over that
//!   of the bowl: the ring from which a particle just reaches the wall, or a drop
//!   the surface, while the fluid passes through.

use crate::handbook::sphere::{REYNOLDS_DRAG, REYNOLDS_STOKES, Suspension};

/// The share of a size that is taken out in one pass.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Grade {
    /// The same of every size.
    Flat(f64),
    /// By size: the logarithm of the size (m) and the share.
    Listed(Vec<(f64, f64)>),
    /// By how fast a size sinks or rises.
    Moved(Moved),
}

/// A stage in which things have to go some way while the fluid passes through.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Moved {
    /// The material in its fluid.
    pub(super) suspension: Suspension,
    /// Whether its velocity is corrected for drag beyond Stokes.
    pub(super) with_drag: bool,
    /// The velocity that all of a size is taken out at, m/s.
    pub(super) needed: f64,
    /// The size that has it, m; without end where nothing sinks or rises.
    pub(super) all_from: f64,
    /// How the share goes with the velocity.
    pub(super) curve: Curve,
}

/// How the share goes with the velocity.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Curve {
    /// In proportion.
    Straight,
    /// Outwards in a plain bowl, with ln k.
    Outwards(f64),
    /// Inwards in a plain bowl, with ln k.
    Inwards(f64),
}

impl Curve {
    /// The share at x, 0 to 1.
    fn share(self, x: f64) -> f64 {
        match self {
            Self::Straight => x,
            Self::Outwards(ln_k) => (2.0 * x * ln_k).exp_m1() / (2.0 * ln_k).exp_m1(),
            Self::Inwards(ln_k) => {
                // k^(2−2x) − k², written so that a k near 1 loses nothing.
                ((2.0 - 2.0 * x) * ln_k).exp() * (2.0 * x * ln_k).exp_m1() / (2.0 * ln_k).exp_m1()
            }
        }
    }

    /// The x at which half is taken out.
    fn half(self) -> f64 {
        match self {
            Self::Straight => 0.5,
            Self::Outwards(ln_k) => ((2.0 * ln_k).exp_m1() / 2.0).ln_1p() / (2.0 * ln_k),
            Self::Inwards(ln_k) => {
                let k_2 = (2.0 * ln_k).exp();
                // k^(2 − 2x) = k² + (1 − k²)/2 = (1 + k²)/2.
                1.0 - (k_2.midpoint(1.0)).ln() / (2.0 * ln_k)
            }
        }
    }
}

impl Moved {
    /// The velocity of the size `d`, m/s; none beyond the range of the drag law.
    pub(super) fn velocity(&self, d: f64) -> Option<f64> {
        if self.with_drag { self.suspension.velocity(d) } else { Some(self.suspension.stokes(d)) }
    }

    /// The size that has the velocity `v`.
    pub(super) fn size(&self, v: f64) -> Option<f64> {
        if self.with_drag { self.suspension.size(v) } else { Some(self.suspension.stokes_size(v)) }
    }

    fn share(&self, d: f64) -> f64 {
        if d >= self.all_from {
            return 1.0;
        }
        let x = self.velocity(d).map_or(1.0, |v| v / self.needed);
        if x >= 1.0 { 1.0 } else { self.curve.share(x).clamp(0.0, 1.0) }
    }
}

impl Grade {
    /// The share of the size `d` (m) that is taken out in one pass, 0 to 1.
    pub(super) fn share(&self, d: f64) -> f64 {
        match self {
            Self::Flat(share) => *share,
            Self::Moved(moved) => moved.share(d),
            Self::Listed(points) => {
                let ln_d = d.ln();
                let next = points.partition_point(|(size, _)| *size <= ln_d);
                match (next.checked_sub(1).map(|i| points[i]), points.get(next)) {
                    (Some((x_0, y_0)), Some((x_1, y_1))) => {
                        y_0 + (ln_d - x_0) / (x_1 - x_0) * (y_1 - y_0)
                    }
                    (Some((_, share)), None) | (None, Some(&(_, share))) => share,
                    (None, None) => 0.0,
                }
            }
        }
    }

    /// The sizes (m) at which the share has a kink.
    pub(super) fn kinks(&self) -> Vec<f64> {
        match self {
            Self::Flat(_) => Vec::new(),
            Self::Listed(points) => points.iter().map(|(size, _)| size.exp()).collect(),
            Self::Moved(moved) => {
                let mut kinks = vec![moved.all_from];
                if moved.with_drag {
                    let at = |re| moved.suspension.size_at(re);
                    kinks.extend([at(REYNOLDS_STOKES), at(REYNOLDS_DRAG)]);
                }
                kinks.retain(|size| size.is_finite() && *size <= moved.all_from);
                kinks
            }
        }
    }

    /// The size (m) of which half is taken out, if there is one.
    pub(super) fn half_from(&self) -> Option<f64> {
        match self {
            Self::Flat(_) => None,
            Self::Listed(points) => reaches(points, 0.5),
            Self::Moved(moved) if moved.suspension.floats() => None,
            Self::Moved(moved) => moved.size(moved.curve.half() * moved.needed),
        }
    }

    /// The size (m) from which all is taken out, if there is one.
    pub(super) fn all_from(&self) -> Option<f64> {
        match self {
            Self::Flat(_) => None,
            Self::Listed(points) => reaches(points, 1.0),
            Self::Moved(moved) => Some(moved.all_from).filter(|size| size.is_finite()),
        }
    }
}

/// Where a rising list of points first reaches a share that it does not begin at.
fn reaches(points: &[(f64, f64)], share: f64) -> Option<f64> {
    let end = points.iter().position(|(_, y)| *y >= share)?;
    let (x_1, y_1) = points[end];
    let (x_0, y_0) = points[end.checked_sub(1)?];
    Some((x_0 + (share - y_0) / (y_1 - y_0) * (x_1 - x_0)).exp())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bowl_takes_out_nothing_half_and_all_where_it_should() {
        for ln_k in [-8.0, -0.5, -1e-6] {
            for curve in [Curve::Straight, Curve::Outwards(ln_k), Curve::Inwards(ln_k)] {
                assert_eq!(curve.share(0.0), 0.0);
                assert!((curve.share(1.0) - 1.0).abs() < 1e-12);
                assert!((curve.share(curve.half()) - 0.5).abs() < 1e-9, "{curve:?}");
            }
        }
    }

    /// By areas: a bowl of radii 3 and 2; what starts outside the radius from
    /// which the wall is just reached, 3·(2/3)^x, is caught.
    #[test]
    fn a_bowl_takes_out_the_ring_that_reaches_its_wall() {
        let curve = Curve::Outwards((2.0_f64 / 3.0).ln());
        let r = 3.0 * (2.0_f64 / 3.0).powf(0.3);
        assert!((curve.share(0.3) - (9.0 - r * r) / 5.0).abs() < 1e-14);
        let curve = Curve::Inwards((2.0_f64 / 3.0).ln());
        let r = 2.0 * (3.0_f64 / 2.0).powf(0.3);
        assert!((curve.share(0.3) - (r * r - 4.0) / 5.0).abs() < 1e-14);
    }

    /// A rising list of logarithms of sizes and shares, read backwards.
    #[test]
    fn a_listed_curve_reaches_a_share_between_two_points() {
        let points = [(0.0, 0.1), (2.0, 0.5), (4.0, 0.9)];
        assert_eq!(reaches(&points, 0.5), Some(2.0_f64.exp()));
        assert!((reaches(&points, 0.7).expect("between") - 3.0_f64.exp()).abs() < 1e-12);
        assert_eq!(reaches(&points, 0.05), None);
        assert_eq!(reaches(&points, 1.0), None);
    }
}
