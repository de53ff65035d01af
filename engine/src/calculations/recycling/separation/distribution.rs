//! ParticleSizes as weighted points, ready to integrate over.
//!
//! A list is its own points. A log-normal distribution is cut into panels no
//! wider than half a standard deviation and no wider than half a natural
//! logarithm of size, with a cut at every size at which the share removed has a
//! kink; in each panel eight points by Gauss and Legendre. It is followed to
//! nine standard deviations either way, beyond which lie 2e-19 of the mass. What
//! is taken out is then right to 1e-11 of all, against the closed form that the
//! moments give where the share goes by the square of the size.

use super::question::ParticleSizes;
use crate::handbook::conversions::METRES_PER_MICROMETRE;
use crate::numerics::order;
use crate::numerics::{quadrature, root};
use crate::quantity::Quantity;

/// How far a distribution is followed, in standard deviations.
const FAR: f64 = 9.0;
/// How many more logarithms of size the fine end is followed where what stays is
/// weighed by how slowly it leaves, which goes at most by the square of the size.
const SLOWLY: f64 = 2.0;

/// A size distribution by mass.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum SizeDistribution {
    /// Median (m) and standard deviation of the logarithm.
    LogNormal { median: f64, s: f64 },
    /// ParticleSizes (m) in rising order and their shares, which come to 1.
    List(Vec<(f64, f64)>),
}

/// Part of a distribution: where it begins and ends, and the points in it.
#[derive(Debug, Clone, PartialEq)]
struct Panel {
    z: (f64, f64),
    points: std::ops::Range<usize>,
}

/// A distribution as points: size (m) and weight.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Points {
    pub(super) all: Vec<(f64, f64)>,
    panels: Vec<Panel>,
}

impl SizeDistribution {
    pub(super) fn of(sizes: &ParticleSizes) -> Option<Self> {
        match sizes {
            ParticleSizes::LogNormal(sizes) => {
                let median = sizes.median.get() * METRES_PER_MICROMETRE;
                Some(Self::LogNormal { median, s: sizes.s()? })
            }
            ParticleSizes::List(list) => {
                let classes = list.classes.iter();
                let whole: f64 = classes.clone().map(|class| class.share.get()).sum();
                let point = |size: f64, share: f64| (size * METRES_PER_MICROMETRE, share / whole);
                let mut classes: Vec<(f64, f64)> =
                    classes.map(|class| point(class.size.get(), class.share.get())).collect();
                order::least_first(&mut classes, |(size, _)| *size);
                Some(Self::List(classes))
            }
        }
    }

    /// The size (m) that half of the mass is smaller than.
    pub(super) fn median(&self) -> f64 {
        match self {
            Self::LogNormal { median, .. } => *median,
            Self::List(classes) => {
                let mut below = 0.0;
                let middle = classes.iter().find(|(_, share)| {
                    below += share;
                    below >= 0.5 - 1e-12
                });
                middle.or(classes.last()).map_or(0.0, |(size, _)| *size)
            }
        }
    }

    /// The points, cut at `kinks` (m); with `fine` the small sizes are followed
    /// further.
    pub(super) fn points(&self, kinks: &[f64], fine: bool) -> Points {
        let (median, s) = match self {
            Self::List(classes) => return Points { all: classes.clone(), panels: Vec::new() },
            Self::LogNormal { median, s } if *s == 0.0 => {
                return Points { all: vec![(*median, 1.0)], panels: Vec::new() };
            }
            Self::LogNormal { median, s } => (*median, *s),
        };
        let low = -FAR - if fine { SLOWLY * s } else { 0.0 };
        let mut cuts: Vec<f64> = kinks.iter().map(|d| (d / median).ln() / s).collect();
        cuts.retain(|z| *z > low && *z < FAR);
        cuts.extend([low, FAR]);
        cuts.sort_by(f64::total_cmp);
        cuts.dedup();
        let widest = 0.5_f64.min(0.5 / s);
        let mut points = Points { all: Vec::new(), panels: Vec::new() };
        for pair in cuts.windows(2) {
            let parts = ((pair[1] - pair[0]) / widest).ceil().max(1.0);
            let mut begin = pair[0];
            let mut part = 1.0;
            while part <= parts {
                let end = pair[0] + (pair[1] - pair[0]) * part / parts;
                let first = points.all.len();
                points.all.extend(self.between(begin, end));
                points.panels.push(Panel { z: (begin, end), points: first..points.all.len() });
                begin = end;
                part += 1.0;
            }
        }
        points
    }

    /// Points between two standardised sizes.
    fn between(&self, begin: f64, end: f64) -> Vec<(f64, f64)> {
        let Self::LogNormal { median, s } = self else { return Vec::new() };
        let scale = (2.0 * std::f64::consts::PI).sqrt();
        let point = |(z, w): (f64, f64)| (median * (s * z).exp(), w * (-z * z / 2.0).exp() / scale);
        quadrature::nodes(begin, end).map(point).collect()
    }

    /// The sizes (m) below which the given shares of what is left lie, where of
    /// each size the part `left` is left; none where nothing is left.
    pub(super) fn quantiles(
        &self,
        points: &Points,
        shares: [f64; 3],
        left: impl Fn(f64) -> f64,
    ) -> Option<[f64; 3]> {
        /// Less than this of all is nothing.
        const NOTHING: f64 = 1e-12;
        let weights: Vec<f64> = points.all.iter().map(|(d, w)| w * left(*d)).collect();
        let whole: f64 = weights.iter().sum();
        if whole <= NOTHING {
            return None;
        }
        Some(shares.map(|share| self.quantile(points, &weights, share * whole, &left)))
    }

    fn quantile(
        &self,
        points: &Points,
        weights: &[f64],
        wanted: f64,
        left: &impl Fn(f64) -> f64,
    ) -> f64 {
        let mut below = 0.0;
        let Self::LogNormal { median, s } = self else {
            let mut found = points.all.iter().zip(weights).filter(|(_, weight)| **weight > 0.0);
            let last = found.clone().next_back();
            let at = found.find(|(_, weight)| {
                below += **weight;
                below >= wanted * (1.0 - 1e-12)
            });
            return at.or(last).map_or(0.0, |((size, _), _)| *size);
        };
        for panel in &points.panels {
            let here: f64 = weights[panel.points.clone()].iter().sum();
            if below + here >= wanted {
                let missing = |z: f64| {
                    let part: f64 =
                        self.between(panel.z.0, z).iter().map(|(d, w)| w * left(*d)).sum();
                    below + part - wanted
                };
                return median * (s * root::between(missing, panel.z.0, panel.z.1)).exp();
            }
            below += here;
        }
        points.all.last().map_or(0.0, |(size, _)| *size)
    }
}
