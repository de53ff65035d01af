//! What a sump needs: how much premix of a strength brings it into its band.
//!
//! With V and K what is in the sump and the concentrate in it (L, and L times % by volume),
//! g what is moved out of it (σ = −1) or into it (σ = 1) at c % by volume, A litres of premix
//! of s % by volume, F and C the level that it must have and may have (L), l and h the ends of
//! its band (% by volume):
//!
//! 1. level: F ≤ V + σ·g + A ≤ C
//! 2. strength: l·(V + σ·g + A) ≤ K + σ·c·g + s·A ≤ h·(V + σ·g + A)
//!
//! Every bound on A is so a straight line over g, a [`Slope`].

use super::{SumpFound, TopUpRound};
use crate::fluid::band::Standing;
use crate::quantity::{Concentration, Quantity};
use crate::text::Refusal;

/// A share of a band's width that a sump is kept off its ends.
const USUAL_MARGIN: f64 = 10.0;
/// A sump that lacks less than this share of what it holds is full. Common practice, no
/// source.
const HARDLY_LACKING: f64 = 0.02;
/// Rounding of binary fractions, as a share of what a sump holds.
const ROUNDING: f64 = 1e-9;

/// A sump, as it was found or as moving leaves it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Need {
    /// What is in it, L.
    pub(super) v: f64,
    /// The concentrate in it, L times % by volume.
    pub(super) k: f64,
    /// The level that it must have, L.
    pub(super) floor: f64,
    /// What it holds, L.
    pub(super) cap: f64,
    /// The ends of the strengths that it is brought between, % by volume.
    pub(super) low: f64,
    pub(super) high: f64,
    /// The ends of its band themselves, % by volume.
    pub(super) ends: (f64, f64),
    /// Where it stands against its band now.
    pub(super) standing: Standing,
}

/// A bound that changes with what is moved: `at + by·g`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Slope {
    pub(super) at: f64,
    pub(super) by: f64,
}

impl Slope {
    pub(super) fn value(self, g: f64) -> f64 {
        self.at + self.by * g
    }

    pub(super) fn less(self, other: Self) -> Self {
        Self { at: self.at - other.at, by: self.by - other.by }
    }

    fn over(self, divisor: f64) -> Self {
        Self { at: self.at / divisor, by: self.by / divisor }
    }
}

/// What moving does to a sump: σ and c.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Flowing {
    pub(super) way: f64,
    pub(super) strength: f64,
}

/// The bounds on how much premix a sump gets, over what is moved.
#[derive(Debug, Clone, Default)]
pub(super) struct PremixBounds {
    pub(super) lower: Vec<Slope>,
    pub(super) upper: Vec<Slope>,
    /// What must not be above 0, whatever is poured.
    pub(super) held: Vec<Slope>,
}

impl Need {
    pub(super) fn of(round: &TopUpRound, found: &SumpFound) -> Result<Self, Refusal> {
        let (v, cap) = (found.sump.volume.get(), found.sump.capacity.get());
        // An empty sump is as strong as anything; its strength counts for nothing.
        let c = found.sump.strength()?.map_or(0.0, Quantity::get);
        let standing =
            if v > 0.0 { found.band.standing(Concentration::of(c)?) } else { Standing::Below };
        let (low, high) = (found.band.low.get(), found.band.high.get());
        let margin = round.margin.map_or(USUAL_MARGIN, Quantity::get) / 100.0 * (high - low);
        let ends = (low, high);
        let (mut low, mut high) = (low + margin, high - margin);
        if standing == Standing::InBand {
            low = low.min(c);
            high = high.max(c);
        }
        let hardly_lacks = cap - v <= HARDLY_LACKING * cap;
        let floor = match found.fill_to {
            Some(level) => level.get(),
            None if hardly_lacks && standing == Standing::InBand => v,
            None => cap,
        };
        Ok(Self { v, k: c * v, floor: floor.max(v), cap, low, high, ends, standing })
    }

    /// How strong it is, % by volume.
    pub(super) fn strength(&self) -> f64 {
        if self.v > 0.0 { self.k / self.v } else { 0.0 }
    }

    /// The same brought between the very ends of its band, for a sump that nothing brings
    /// further inside.
    pub(super) fn to_the_ends(self) -> Self {
        Self { low: self.low.min(self.ends.0), high: self.high.max(self.ends.1), ..self }
    }

    fn slack(&self) -> f64 {
        ROUNDING * self.cap
    }

    /// Whether it needs nothing.
    pub(super) fn is_met(&self) -> bool {
        self.standing == Standing::InBand && self.floor - self.v <= self.slack()
    }

    /// The bounds on premix of `s` % by volume.
    pub(super) fn bounds(&self, s: f64, flowing: Flowing) -> PremixBounds {
        let Flowing { way, strength } = flowing;
        let holds = Slope { at: self.v, by: way };
        let concentrate = Slope { at: self.k, by: way * strength };
        let level = |level: f64| Slope { at: level - holds.at, by: -holds.by };
        let mut bounds = PremixBounds {
            lower: vec![Slope { at: 0.0, by: 0.0 }, level(self.floor)],
            upper: vec![level(self.cap)],
            held: Vec::new(),
        };
        let times = |c: f64| Slope { at: c * holds.at, by: c * holds.by };
        // (s − l)·A ≥ lacking, and (h − s)·A ≥ too much.
        bounds.hold(s - self.low, times(self.low).less(concentrate), self.slack());
        bounds.hold(self.high - s, concentrate.less(times(self.high)), self.slack());
        bounds
    }

    /// The least premix of `s` % by volume that brings it into its band and to its level, L;
    /// none where none does.
    pub(super) fn least(&self, s: f64) -> Option<f64> {
        let bounds = self.bounds(s, Flowing { way: 0.0, strength: 0.0 });
        let lower = bounds.lower.iter().map(|own| own.at).fold(0.0, f64::max);
        let upper = bounds.upper.iter().map(|own| own.at).fold(f64::INFINITY, f64::min);
        let held = bounds.held.iter().all(|own| own.at <= 0.0);
        (held && lower <= upper + self.slack()).then(|| lower.min(upper).max(0.0))
    }

    /// The strengths of premix that bring it into its band, of those from `weakest` to
    /// `strongest`: one stretch, since what a little more premix allows hangs together with
    /// what a little less does.
    pub(super) fn strengths(&self, weakest: f64, strongest: f64) -> Option<(f64, f64)> {
        let (least, most) = ((self.floor - self.v).max(0.0), self.cap - self.v);
        if most <= self.slack() {
            return None;
        }
        let over = |c: f64, lacking: f64, volume: f64| {
            if volume > 0.0 {
                c + lacking / volume
            } else if lacking == 0.0 {
                c
            } else {
                lacking.signum() * f64::INFINITY
            }
        };
        let lacking = self.low * self.v - self.k;
        let room = self.high * self.v - self.k;
        let from = over(self.low, lacking, if lacking > 0.0 { most } else { least });
        let to = over(self.high, room, if room > 0.0 { least } else { most });
        let (from, to) = (from.max(weakest), to.min(strongest));
        (from <= to + ROUNDING).then_some((from, to.max(from)))
    }
}

impl PremixBounds {
    /// Holds `by · A ≥ least`.
    fn hold(&mut self, by: f64, least: Slope, slack: f64) {
        /// Nearer to an end of the band than this a strength is that end, % by volume.
        const SAME: f64 = 1e-9;
        if by > SAME {
            self.lower.push(least.over(by));
        } else if by < -SAME {
            self.upper.push(least.over(by));
        } else {
            self.held.push(Slope { at: least.at - 100.0 * slack, by: least.by });
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn need(v: f64, c: f64, cap: f64, (low, high): (f64, f64)) -> Need {
        let standing = if c < low { Standing::Below } else { Standing::Above };
        Need { v, k: c * v, floor: cap, cap, low, high, ends: (low, high), standing }
    }

    #[test]
    fn the_strengths_that_serve_are_those_of_which_some_volume_serves() {
        // By hand: 140 L at 7 % filled up to 200 L between 7.5 and 8.5 %:
        // (1500 − 980)/60 = 8.667 to (1700 − 980)/60 = 12 %.
        let lean = need(140.0, 7.0, 200.0, (7.5, 8.5));
        let (from, to) = lean.strengths(0.0, 20.0).expect("it is within reach");
        assert!((from - 8.666_666_666_667).abs() < 1e-9 && (to - 12.0).abs() < 1e-9);
        assert_eq!(lean.strengths(0.0, 8.0), None);
        for floor in [140.0, 150.0, 200.0] {
            for (v, c) in [(140.0, 7.0), (140.0, 9.0), (195.0, 8.6), (100.0, 8.0)] {
                let own = Need { floor, ..need(v, c, 200.0, (7.5, 8.5)) };
                let stretch = own.strengths(0.0, 20.0);
                for tenth in 0..=200 {
                    let s = f64::from(tenth) / 10.0;
                    let inside = stretch.is_some_and(|(a, b)| s >= a - 1e-9 && s <= b + 1e-9);
                    assert_eq!(own.least(s).is_some(), inside, "{own:?} {s} {stretch:?}");
                }
            }
        }
    }

    #[test]
    fn the_least_that_serves_is_on_the_end_of_the_band_or_of_the_level() {
        let lean = Need { floor: 140.0, ..need(140.0, 7.0, 200.0, (7.5, 8.5)) };
        // By hand: (7.5 − 7)·140/(12 − 7.5) = 15.556 L.
        assert!((lean.least(12.0).expect("litres") - 70.0 / 4.5).abs() < 1e-9);
        let rich = Need { floor: 140.0, ..need(140.0, 9.0, 200.0, (7.5, 8.5)) };
        // By hand: (9 − 8.5)·140/(8.5 − 2) = 10.769 L.
        assert!((rich.least(2.0).expect("litres") - 70.0 / 6.5).abs() < 1e-9);
    }
}
