//! How often the batch has to go through until every property is at its limit.

use super::limited::{Limited, limited};
use super::mixture::{BOUND_OIL, FREE_OIL, GOOD, MATTER, Mixture};
use super::stage_line::StageLine;
use super::treatment::Treatment;
use super::{Recycler, RecyclerMode};
use crate::handbook::conversions::MILLIGRAMS_PER_KILOGRAM;
use crate::quantity::{Count, Quantity};
use crate::sentence;
use crate::text::{Faults, Kind, Refusal};

/// A batch that has to go through more often than this is not recycled.
const MOST_PASSES: f64 = 10_000.0;
/// A content this near its limit, as a share of it, is at it.
const AT_LIMIT_WITHIN: f64 = 1e-12;

impl<'a> Treatment<'a> {
    /// Finds how often the batch has to go through, at least once, until every
    /// property that the stages can bring to its limit is there.
    pub(super) fn of(
        question: &Recycler,
        mixture: &'a Mixture,
        line: &'a StageLine,
    ) -> Result<Self, Refusal> {
        let mut comes_in = vec![0.0; mixture.amounts.len()];
        for source in question.sources.iter().flatten() {
            if let Some(i) = mixture.names.iter().position(|name| *name == source.property) {
                comes_in[MATTER + i] += source.rate.get();
            }
        }
        let limited = limited(question, mixture);
        let mut treatment =
            Self { mixture, line, mode: question.mode, comes_in, limited, passes: 1.0 };
        treatment.passes = match question.mode {
            RecyclerMode::SinglePass => treatment.whole_passes(),
            RecyclerMode::Recirculate => treatment.turnovers(),
        };
        treatment.refuse_what_never_ends()?;
        Ok(treatment)
    }

    fn whole_passes(&self) -> f64 {
        let mut n = 1.0;
        while n <= MOST_PASSES && self.first_over(n).is_some() {
            n += 1.0;
        }
        n
    }

    /// Each property falls below its limit once and for all, whatever it does
    /// before, so that the last of them decides.
    fn turnovers(&self) -> f64 {
        let mut n = 1.0;
        while let Some(limited) = self.first_over(n) {
            let over = |n: f64| self.is_over(limited, n);
            let (mut low, mut high) = (n, 2.0 * n);
            while over(high) {
                if high > MOST_PASSES {
                    return f64::INFINITY;
                }
                (low, high) = (high, 2.0 * high);
            }
            loop {
                let middle = low.midpoint(high);
                if middle <= low || middle >= high {
                    break;
                }
                if over(middle) {
                    low = middle;
                } else {
                    high = middle;
                }
            }
            n = high;
        }
        n
    }

    /// A property that the stages can bring to its limit and that is not there yet.
    fn first_over(&self, n: f64) -> Option<&Limited> {
        self.limited.iter().find(|limited| self.can_reach(limited) && self.is_over(limited, n))
    }

    fn is_over(&self, limited: &Limited, n: f64) -> bool {
        if limited.most <= 0.0 {
            return self.is_never_gone(limited);
        }
        self.content(limited, n) > limited.most * (1.0 + AT_LIMIT_WITHIN)
    }

    /// Whether something of a property is left however often the batch goes
    /// through: less and less of it, but never nothing, whatever rounding makes of
    /// so little.
    fn is_never_gone(&self, limited: &Limited) -> bool {
        let place = limited.place.unwrap_or(FREE_OIL);
        let all_at_once = self.mode == RecyclerMode::SinglePass && self.line.left[place] <= 0.0;
        self.mixture.amounts[place] > 0.0 && !all_at_once
    }

    /// Whether going through for ever brings a property to its limit.
    pub(super) fn can_reach(&self, limited: &Limited) -> bool {
        self.ends_at(limited) <= limited.most * (1.0 + AT_LIMIT_WITHIN)
    }

    fn refuse_what_never_ends(&self) -> Result<(), Refusal> {
        let mut faults = Faults::default();
        if self.passes > MOST_PASSES {
            let n = MOST_PASSES;
            let over = self.limited.iter().filter(|limited| self.can_reach(limited));
            for limited in over.filter(|limited| self.is_over(limited, n)) {
                let detail = sentence!(
                    "Even after {} passes the limit of {} is not reached, {} is left. Raise the \
                     limit, or have a stage that removes more.",
                    Count::measure_of(n),
                    limited.measure(limited.most),
                    limited.measure(self.content(limited, n))
                );
                faults.add(format!("/target/limits/{}/max", limited.name), detail);
            }
        }
        faults.or_refuse(Kind::Unreachable)
    }

    /// What is left of a property, % by volume or mg/L.
    pub(super) fn content(&self, limited: &Limited, n: f64) -> f64 {
        let whole = self.x(GOOD, n) + self.x(FREE_OIL, n) + self.x(BOUND_OIL, n);
        match limited.place {
            None => (self.x(FREE_OIL, n) + self.x(BOUND_OIL, n)) / whole * 100.0,
            Some(i) => self.x(i, n) / whole * MILLIGRAMS_PER_KILOGRAM,
        }
    }

    /// What would be left of a property if the batch went through for ever.
    pub(super) fn ends_at(&self, limited: &Limited) -> f64 {
        let m = &self.mixture.amounts;
        let stays = |i: usize| if self.line.left[i] < 1.0 { 0.0 } else { m[i] };
        let whole = m[GOOD] + stays(FREE_OIL) + m[BOUND_OIL];
        match limited.place {
            None => (stays(FREE_OIL) + m[BOUND_OIL]) / whole * 100.0,
            Some(i) if self.comes_in[i] > 0.0 => self.settles_at(i),
            Some(i) => stays(i) / whole * MILLIGRAMS_PER_KILOGRAM,
        }
    }

    /// What the feed carries under a name of a kind, held to a published limit.
    pub(super) fn held_to(&self, is_of_kind: fn(&str) -> bool, most: f64) -> Vec<Limited> {
        let names = self.mixture.names.iter().enumerate();
        let of_kind = names.filter(|(_, name)| is_of_kind(name));
        let held = of_kind.map(|(i, name)| Limited {
            name: name.to_string(),
            place: Some(MATTER + i),
            most,
        });
        held.collect()
    }
}
