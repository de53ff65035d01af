//! A stretch of time in which every rate is steady.

use super::amounts::Amounts;
use super::pace::{Constituent, Pace, Remaining, Taking};
use super::tally::Tally;

/// What comes and goes all the time.
#[derive(Debug, Clone, PartialEq)]
pub struct SteadyFlow {
    /// Water lost to the air, L/day.
    pub evaporation: f64,
    /// Fluid carried off, L/day.
    pub carry_off: f64,
    /// How fast concentrate leaves with what is carried off, against its share.
    pub depletion: f64,
    /// Fluid discharged on purpose, L/day.
    pub discharge: f64,
    /// Oil that the machine leaks into the sump, L/day.
    pub oil_leak: f64,
    /// Fluid that a skimmer frees of its oil, L/day.
    pub skimmed: f64,
    /// What is fed all the time, by the day.
    pub fed: Amounts,
}

impl SteadyFlow {
    /// How fast the water-mix fluid rises, L/day.
    #[must_use]
    pub fn rise(&self) -> f64 {
        self.fed.mix - self.lost()
    }

    /// What evaporates, is carried off and discharged, L/day.
    #[must_use]
    pub fn lost(&self) -> f64 {
        self.evaporation + self.carry_off + self.discharge
    }

    /// Litres of fluid whose concentrate leaves in a day.
    #[must_use]
    pub fn concentrate_out(&self) -> f64 {
        self.depletion * self.carry_off + self.discharge
    }

    fn oil_out(&self) -> f64 {
        self.carry_off + self.discharge + self.skimmed
    }

    /// The most concentrate that a litre may hold before the water is gone, from
    /// it or from what is carried off; a billionth of water is none.
    #[must_use]
    pub fn strongest(&self) -> f64 {
        const NO_WATER: f64 = 1.0 - 1e-9;
        if self.carry_off > 0.0 { NO_WATER / self.depletion.max(1.0) } else { NO_WATER }
    }
}

/// A sump from a moment on, while its rates stay what they are.
#[derive(Debug, Clone, PartialEq)]
pub struct Segment {
    /// How its volume moves.
    pub pace: Pace,
    /// Its concentrate.
    pub concentrate: Constituent,
    /// Its tramp oil.
    pub oil: Constituent,
    /// What else is followed; all of it leaves alike.
    pub matter: Vec<Constituent>,
    /// Litres of fluid whose matter leaves in a day.
    matter_out: f64,
}

impl Segment {
    /// From `start` on. There has to be fluid.
    #[must_use]
    pub fn new(start: &Amounts, flow: &SteadyFlow) -> Self {
        let w_0 = start.mix;
        let content = |amount, a, kappa| Constituent { x_0: amount / w_0, a, kappa };
        let out = flow.carry_off + flow.discharge;
        let matter = start.matter.iter().zip(&flow.fed.matter);
        Self {
            pace: Pace { w_0, r: flow.rise() },
            concentrate: content(start.concentrate, flow.fed.concentrate, flow.concentrate_out()),
            oil: content(start.oil, flow.oil_leak + flow.fed.oil, flow.oil_out()),
            matter: matter.map(|(amount, fed)| content(*amount, *fed, out)).collect(),
            matter_out: out,
        }
    }

    /// What is in the sump after `t` days.
    #[must_use]
    pub fn after(&self, t: f64) -> Amounts {
        let (tau, w) = (self.pace.tau(t), self.pace.volume(t));
        let reach = Remaining::of(self.pace, self.matter_out, tau);
        Amounts {
            mix: w,
            concentrate: self.concentrate.amount(self.pace, tau, w),
            oil: self.oil.amount(self.pace, tau, w),
            matter: self.matter.iter().map(|content| w * reach.of_content(content)).collect(),
        }
    }

    /// The volume at τ, L.
    #[must_use]
    pub fn volume(&self, tau: f64) -> f64 {
        self.pace.w_0 * (self.pace.r * tau).exp() * (1.0 + self.oil.at(self.pace, tau))
    }

    /// The τ at which the volume turns from rising to falling or back, if ever:
    /// dV/dt = r + a_o − κ_o·x_o, and x_o moves one way only.
    #[must_use]
    pub fn volume_turns(&self) -> Option<f64> {
        self.oil.when(self.pace, (self.pace.r + self.oil.a) / self.oil.kappa)
    }

    /// The first τ up to `end` at which the volume has fallen to `level`.
    #[must_use]
    pub fn falls_to(&self, level: f64, end: f64) -> Option<f64> {
        let turn = self.volume_turns().filter(|turn| *turn > 0.0 && *turn < end);
        let mut from = 0.0;
        for to in turn.into_iter().chain([end]) {
            if self.volume(to) <= level {
                return Some(crate::numerics::root::between(
                    |tau| self.volume(tau) - level,
                    from,
                    to,
                ));
            }
            from = to;
        }
        None
    }

    /// The day on which the sump is down to `floor` litres of water-mix fluid, or
    /// a litre of that holds as much concentrate as `strongest`, if it comes.
    #[must_use]
    pub fn runs_dry(&self, floor: f64, strongest: f64) -> Option<f64> {
        /// Rounding of a strength that is just what it may be.
        const ROUNDING: f64 = 1e-12;
        let Pace { w_0, r } = self.pace;
        if w_0 <= floor || self.concentrate.x_0 > strongest * (1.0 + ROUNDING) {
            return Some(0.0);
        }
        let empty = (r < 0.0).then(|| (w_0 - floor) / -r);
        let rises = self.concentrate.slope(self.pace) > 0.0;
        let spent = if !rises {
            None
        } else if self.concentrate.x_0 >= strongest * (1.0 - ROUNDING) {
            Some(0.0)
        } else {
            self.concentrate.when(self.pace, strongest).map(|tau| self.pace.days(tau))
        };
        match (empty, spent) {
            (Some(empty), Some(spent)) => Some(empty.min(spent)),
            (one, other) => one.or(other),
        }
    }

    /// Adds to `tally` what came and went in `t` days.
    pub fn tally(&self, flow: &SteadyFlow, t: f64, tally: &mut Tally) {
        let tau = self.pace.tau(t);
        let taken = |content: &Constituent| content.taken(self.pace, tau);
        let (concentrate, oil) = (taken(&self.concentrate), taken(&self.oil));
        tally.evaporated.mix += flow.evaporation * t;
        tally.leaked.oil += flow.oil_leak * t;
        tally.skimmed.oil += flow.skimmed * oil;
        tally.carried_off.mix += flow.carry_off * t;
        tally.carried_off.concentrate += flow.depletion * flow.carry_off * concentrate;
        tally.carried_off.oil += flow.carry_off * oil;
        tally.discharged.mix += flow.discharge * t;
        tally.discharged.concentrate += flow.discharge * concentrate;
        tally.discharged.oil += flow.discharge * oil;
        let taking = Taking::of(self.pace, self.matter_out, tau);
        for (i, content) in self.matter.iter().enumerate() {
            let matter = taking.of_content(content);
            tally.carried_off.matter[i] += flow.carry_off * matter;
            tally.discharged.matter[i] += flow.discharge * matter;
        }
    }
}
