//! How much a sump of a given shape holds up to a level.
//!
//! With h the level above a compartment's floor, no more than its depth:
//!
//! 1. box: V = l·w·h; L: the box less the corner that is cut out of it
//! 2. circle of radius r filled to h: A = r²·arccos((r − h)/r) − (r − h)·√(2·r·h − h²)
//! 3. lying cylinder: V = A·l; round bottom of radius w/2 with straight walls
//!    above: V = A(min(h, w/2))·l + w·l·max(h − w/2, 0)
//! 4. what stands in the sump displaces its volume evenly over its height

use super::{Compartment, Displaced};
use crate::handbook::conversions::LITRES_PER_CUBIC_MILLIMETRE;
use crate::quantity::{Length, Quantity};
use crate::sentence;
use crate::text::Faults;

impl Compartment {
    /// Its lengths by name, the floor last.
    pub(super) fn lengths(&self) -> Vec<(&'static str, Length)> {
        match self {
            Self::Box(b) => vec![("length", b.length), ("width", b.width), ("depth", b.depth)],
            Self::L(l) => vec![
                ("length", l.length),
                ("width", l.width),
                ("depth", l.depth),
                ("cut_length", l.cut_length),
                ("cut_width", l.cut_width),
            ],
            Self::LyingCylinder(c) => vec![("length", c.length), ("diameter", c.diameter)],
            Self::RoundBottom(r) => {
                vec![("length", r.length), ("width", r.width), ("depth", r.depth)]
            }
        }
    }

    pub(super) fn floor(&self) -> f64 {
        let floor = match self {
            Self::Box(b) => b.floor,
            Self::L(l) => l.floor,
            Self::LyingCylinder(c) => c.floor,
            Self::RoundBottom(r) => r.floor,
        };
        floor.map_or(0.0, Quantity::get)
    }

    /// How high its brim lies above the sump's lowest point, mm.
    pub(super) fn brim(&self) -> f64 {
        let depth = match self {
            Self::Box(b) => b.depth,
            Self::L(l) => l.depth,
            Self::LyingCylinder(c) => c.diameter,
            Self::RoundBottom(r) => r.depth,
        };
        self.floor() + depth.get()
    }

    /// What it holds up to `level` mm above the sump's lowest point, L, its lengths
    /// being those of [`lengths`](Self::lengths), in their order.
    pub(super) fn litres(&self, level: f64, lengths: &[f64]) -> f64 {
        let h = |depth: f64| (level - self.floor()).min(depth).max(0.0);
        let cubic_mm = match (self, lengths) {
            (Self::Box(_), [l, w, d]) => l * w * h(*d),
            (Self::L(_), [l, w, d, cut_l, cut_w]) => (l * w - cut_l * cut_w) * h(*d),
            (Self::LyingCylinder(_), [l, d]) => circle_filled(d / 2.0, h(*d)) * l,
            (Self::RoundBottom(_), [l, w, d]) => {
                let (h, r) = (h(*d), w / 2.0);
                circle_filled(r, h.min(r)) * l + w * l * (h - r).max(0.0)
            }
            _ => 0.0,
        };
        cubic_mm * LITRES_PER_CUBIC_MILLIMETRE
    }

    pub(super) fn check(&self, pointer: &str, faults: &mut Faults) {
        for (name, length) in self.lengths() {
            // A corner of no size is no corner.
            if length.get() == 0.0 && !name.starts_with("cut") {
                let detail = sentence!(
                    "A compartment in which this length is 0 holds no fluid. Measure it, or leave \
                     the compartment out."
                );
                faults.add(format!("{pointer}/{name}"), detail);
            }
        }
    }

    /// Notes a corner that is larger than what it is cut out of.
    pub(super) fn check_corner(&self, pointer: &str, faults: &mut Faults) {
        let Self::L(l) = self else { return };
        for (name, cut, whole) in
            [("cut_length", l.cut_length, l.length), ("cut_width", l.cut_width, l.width)]
        {
            if cut > whole {
                let detail = sentence!(
                    "The corner that is missing, {}, is larger than the whole, {}.",
                    cut,
                    whole
                );
                faults.add(format!("{pointer}/{name}"), detail);
            }
        }
    }
}

impl Displaced {
    /// What of it lies below `level`, L.
    pub(super) fn litres(&self, level: f64) -> f64 {
        let (foot, height) = (self.foot.map_or(0.0, Quantity::get), self.height.get());
        let wet = if height > 0.0 {
            ((level - foot) / height).clamp(0.0, 1.0)
        } else {
            f64::from(u8::from(level > foot))
        };
        self.volume.get() * wet
    }
}

/// The area of a circle of radius `r` that is filled to `h`.
fn circle_filled(r: f64, h: f64) -> f64 {
    if r <= 0.0 {
        return 0.0;
    }
    let below = ((r - h) / r).clamp(-1.0, 1.0);
    r * r * below.acos() - (r - h) * (2.0 * r * h - h * h).max(0.0).sqrt()
}
