//! The levels of both tanks, from moment to moment.
//!
//! Whatever arrives, is fetched or is worked does so at once or evenly, so that
//! between two moments of the plan the levels are straight lines, with a corner
//! where a tank runs empty or full.

use super::{TankFailure, TankLevels};
use crate::numerics::cut_off::look;
use crate::quantity::{Days, Quantity, Volume};
use crate::text::Refusal;

/// A volume or a rate this small, as a share of what it is compared with, is none.
pub(super) const TRACE: f64 = 1e-12;

/// Tanks and throughput: litres, and litres a day while it runs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Setup {
    pub(super) dirty: f64,
    pub(super) clean: f64,
    pub(super) dirty_level: f64,
    pub(super) clean_level: f64,
    /// Dirty fluid brought to the target in a day of running.
    pub(super) rate: f64,
    /// Litres of clean fluid for each of dirty.
    pub(super) gain: f64,
}

/// What a plan comes to.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct TankHistory {
    pub(super) first_overflow: Option<f64>,
    pub(super) first_shortage: Option<f64>,
    /// What runs over and what is missing, L.
    pub(super) run_over: f64,
    pub(super) missing: f64,
    /// The highest level of the dirty tank.
    pub(super) highest_dirty: f64,
    /// Since when the dirty tank is empty for good.
    pub(super) empty_since: Option<f64>,
    /// Day, dirty and clean level at every corner.
    corners: Vec<[f64; 3]>,
}

/// What comes or goes evenly, several at a time, L/day.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct EvenFlow {
    rate: f64,
    how_many: usize,
}

impl EvenFlow {
    pub(super) fn begin(&mut self, rate: f64) {
        self.rate += rate;
        self.how_many += 1;
    }

    pub(super) fn end(&mut self, rate: f64) {
        self.how_many = self.how_many.saturating_sub(1);
        // What is left of the sum when nothing flows is rounding.
        self.rate = if self.how_many == 0 { 0.0 } else { (self.rate - rate).max(0.0) };
    }
}

/// The tanks on their way through the plan.
pub(super) struct TankRun {
    setup: Setup,
    day: f64,
    dirty: f64,
    clean: f64,
    pub(super) arriving: EvenFlow,
    pub(super) fetched: EvenFlow,
    /// More than one shift at a time only for the rounding where one ends as
    /// the next begins.
    shifts: usize,
    note: bool,
    walked: TankHistory,
}

impl TankRun {
    pub(super) fn at_start(setup: &Setup, note: bool) -> Self {
        let mut run = Self {
            setup: *setup,
            day: 0.0,
            dirty: setup.dirty_level,
            clean: setup.clean_level,
            arriving: EvenFlow::default(),
            fetched: EvenFlow::default(),
            shifts: 0,
            note,
            walked: TankHistory { highest_dirty: setup.dirty_level, ..TankHistory::default() },
        };
        run.corner();
        run
    }

    pub(super) fn starts(&mut self) {
        self.shifts += 1;
    }

    pub(super) fn stops(&mut self) {
        self.shifts = self.shifts.saturating_sub(1);
    }

    pub(super) fn end(self) -> TankHistory {
        self.walked
    }

    pub(super) fn corner(&mut self) {
        let here = [self.day, self.dirty, self.clean];
        if self.note && self.walked.corners.last() != Some(&here) {
            self.walked.corners.push(here);
        }
    }

    pub(super) fn pour(&mut self, volume: f64) {
        self.corner();
        self.dirty += volume;
        if volume > 0.0 {
            self.walked.empty_since = None;
        }
        let over = self.dirty - self.setup.dirty;
        if over > 0.0 {
            self.dirty = self.setup.dirty;
            if over > TRACE * self.setup.dirty {
                self.walked.first_overflow.get_or_insert(self.day);
                self.walked.run_over += over;
            }
        }
        self.walked.highest_dirty = self.walked.highest_dirty.max(self.dirty);
        self.corner();
    }

    pub(super) fn fetch(&mut self, volume: f64) {
        self.corner();
        self.clean -= volume;
        if self.clean < 0.0 {
            let missing = -self.clean;
            self.clean = 0.0;
            if missing > TRACE * volume {
                self.walked.first_shortage.get_or_insert(self.day);
                self.walked.missing += missing;
            }
        }
        self.corner();
    }

    /// Notes since when the dirty tank is empty and nothing runs into it.
    fn note_empty(&mut self) {
        if self.dirty > 0.0 || self.arriving.rate > 0.0 {
            self.walked.empty_since = None;
        } else {
            self.walked.empty_since.get_or_insert(self.day);
        }
    }

    /// Runs on to `until`, from corner to corner.
    pub(super) fn run_to(&mut self, until: f64) {
        while self.day < until {
            look();
            self.note_empty();
            let (arrives, fetched) = (self.arriving.rate, self.fetched.rate);
            let mut worked = if self.shifts > 0 { self.setup.rate } else { 0.0 };
            if self.dirty <= 0.0 {
                worked = worked.min(arrives);
            }
            if self.clean >= self.setup.clean && self.setup.gain > 0.0 {
                worked = worked.min(fetched / self.setup.gain);
            }
            let dirty = arrives - worked;
            let clean = self.setup.gain * worked - fetched;
            let to = |level: f64, rate: f64, full: f64| match rate {
                rate if rate < 0.0 && level > 0.0 => level / -rate,
                rate if rate > 0.0 && level < full => (full - level) / rate,
                _ => f64::INFINITY,
            };
            let to_dirty = to(self.dirty, dirty, self.setup.dirty);
            let to_clean = to(self.clean, clean, self.setup.clean);
            let left = until - self.day;
            let days = left.min(to_dirty).min(to_clean);

            if dirty > TRACE * arrives && self.dirty >= self.setup.dirty {
                self.walked.first_overflow.get_or_insert(self.day);
                self.walked.run_over += dirty * days;
            } else {
                self.dirty = stepped(self.dirty, dirty, days, to_dirty, self.setup.dirty);
            }
            if clean < -TRACE * fetched && self.clean <= 0.0 {
                self.walked.first_shortage.get_or_insert(self.day);
                self.walked.missing += -clean * days;
            } else {
                self.clean = stepped(self.clean, clean, days, to_clean, self.setup.clean);
            }
            self.day = if days >= left { until } else { self.day + days };
            self.walked.highest_dirty = self.walked.highest_dirty.max(self.dirty);
            self.note_empty();
            self.corner();
        }
    }
}

/// A level `days` on at `rate`, which comes to its end in `to` days.
fn stepped(level: f64, rate: f64, days: f64, to: f64, full: f64) -> f64 {
    if to <= days {
        return if rate < 0.0 { 0.0 } else { full };
    }
    (level + rate * days).clamp(0.0, full)
}

impl TankHistory {
    /// The levels as they are answered.
    pub(super) fn levels(&self) -> Result<Vec<TankLevels>, Refusal> {
        let levels = self.corners.iter().map(|[day, dirty, clean]| {
            Ok(TankLevels {
                day: Days::of(*day)?,
                dirty: Volume::of(*dirty)?,
                clean: Volume::of(*clean)?,
            })
        });
        levels.collect()
    }
}

/// A tank that fails, as it is answered.
pub(super) fn failure(day: Option<f64>, volume: f64) -> Result<Option<TankFailure>, Refusal> {
    let failure = |day| Ok(TankFailure { day: Days::of(day)?, volume: Volume::of(volume)? });
    day.map(failure).transpose()
}
