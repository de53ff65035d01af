//! How a sump is fed: when, how far, and with what.

use super::amounts::Amounts;
use super::segment::SteadyFlow;

/// When a sump is fed.
#[derive(Debug, Clone, PartialEq)]
pub enum FeedingHabit {
    /// Nobody feeds it at set times.
    None,
    /// At once when its level has fallen to `level`, L.
    Below {
        /// The level, L.
        level: f64,
        /// Up to this level, L.
        to: f64,
        /// With this.
        feed: SumpFeed,
    },
    /// By the calendar.
    Every {
        /// The first day.
        first: f64,
        /// Days from one visit to the next.
        days: f64,
        /// Only where it is lower than this, L.
        only_below: f64,
        /// Up to this level, L.
        to: f64,
        /// With this.
        feed: SumpFeed,
    },
}

/// What a sump is fed with: one premix, or two stocks toward a target.
#[derive(Debug, Clone, PartialEq)]
pub struct SumpFeed {
    /// A litre of the premix, or of the water.
    pub weak: Amounts,
    /// A litre of the concentrate.
    pub strong: Amounts,
    /// The strength aimed at, as a share from 0 to 1; none for one premix.
    pub target: Option<f64>,
}

/// Litres of each.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Portion {
    /// Of the premix, or of the water.
    pub weak: f64,
    /// Of the concentrate.
    pub strong: f64,
}

impl Portion {
    /// All of it.
    #[must_use]
    pub fn volume(&self) -> f64 {
        self.weak + self.strong
    }
}

impl SumpFeed {
    /// What brings `sump` to the level `to`, and as near to the target as water
    /// alone or concentrate alone can; none where it is as high already.
    #[must_use]
    pub fn portion(&self, sump: &Amounts, to: f64) -> Option<Portion> {
        let room = to - sump.volume();
        if room <= 0.0 {
            return None;
        }
        let strong = self.target.map_or(0.0, |target| {
            let missing = target * to - sump.concentrate - self.weak.concentrate * room;
            (missing / (self.strong.concentrate - self.weak.concentrate)).clamp(0.0, room)
        });
        Some(Portion { weak: room - strong, strong })
    }

    /// What has to be fed in a day, all the time: `rate` litres, or as much as
    /// makes up for what evaporates, is carried off and discharged; toward a
    /// target, of the strength that holds a sump there.
    #[must_use]
    pub fn steady(&self, flow: &SteadyFlow, rate: Option<f64>) -> Portion {
        // Of a litre of water so much is not oil.
        let mix = self.weak.mix;
        let out = flow.concentrate_out();
        match (self.target, rate) {
            (None, Some(rate)) => Portion { weak: rate, strong: 0.0 },
            (None, None) => Portion { weak: flow.lost() / mix, strong: 0.0 },
            // Holding c means that what comes is c·(κ + r), with r the rise.
            (Some(c), None) => {
                let strong = (c * out).clamp(0.0, flow.lost());
                Portion { weak: (flow.lost() - strong) / mix, strong }
            }
            (Some(c), Some(rate)) => {
                let strong = c * (out + rate * mix - flow.lost()) / (1.0 - c * (1.0 - mix));
                let strong = strong.clamp(0.0, rate);
                Portion { weak: rate - strong, strong }
            }
        }
    }

    /// So much of it, as amounts.
    #[must_use]
    pub fn amounts(&self, portion: Portion) -> Amounts {
        let mut amounts = self.weak.clone();
        amounts.keep(portion.weak);
        amounts.pour(&self.strong, portion.strong);
        amounts
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Level and strength stay: what is fed brings as much fluid as is lost and as much
    /// concentrate as leaves at the target, also where the water carries a tenth of oil.
    #[test]
    fn what_is_fed_all_the_time_holds_level_and_strength() {
        let litre = |mix, concentrate, oil| Amounts { mix, concentrate, oil, matter: Vec::new() };
        let flow = SteadyFlow {
            evaporation: 4.0,
            carry_off: 5.0,
            depletion: 1.2,
            discharge: 1.0,
            oil_leak: 0.0,
            skimmed: 0.0,
            fed: Amounts::default(),
        };
        let weak = litre(0.9, 0.0, 0.1);
        let strong = litre(1.0, 1.0, 0.0);
        let feed = SumpFeed { weak, strong, target: Some(0.05) };
        let fed = feed.amounts(feed.steady(&flow, None));
        assert!((fed.mix - 10.0).abs() < 1e-12, "{fed:?}");
        assert!((fed.concentrate - 0.05 * (1.2 * 5.0 + 1.0)).abs() < 1e-12, "{fed:?}");
        assert!((feed.steady(&flow, Some(12.0)).volume() - 12.0).abs() < 1e-12);
        // Fed more than is lost it rises, and what it rises by is at the target too.
        let fed = feed.amounts(feed.steady(&flow, Some(12.0)));
        let rise = fed.mix - 10.0;
        assert!(rise > 0.0, "{fed:?}");
        assert!((fed.concentrate - 0.05 * (1.2 * 5.0 + 1.0 + rise)).abs() < 1e-12, "{fed:?}");
        let water = SumpFeed { target: None, ..feed };
        assert!((water.amounts(water.steady(&flow, None)).mix - 10.0).abs() < 1e-12);
    }
}
