//! How often to draw: one default, one range and one bound on work for everything that
//! draws, and the texts of what goes beyond them.

use super::{DRAWS, DRAWS_LEAST, DRAWS_MOST};
use crate::quantity::Measure;
use crate::sentence;
use crate::text::{Kind, Refusal};

/// What the draws begin from by default.
pub(super) const SEED: usize = 1;
/// Numbers kept at once, of all draws together: 80 MB of them.
pub(super) const NUMBERS_KEPT: usize = 10_000_000;
/// What the draws may come to by default, in handled numbers: a few seconds on two cores.
const WORK_BY_DEFAULT: usize = 10_000_000;
/// And when somebody says how many there are to be.
const WORK_MOST: usize = 8 * WORK_BY_DEFAULT;

/// What drawing takes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Effort {
    /// Numbers handled for one draw, each the half of a microsecond or so.
    pub each: usize,
    /// Draws' worth of work that is done beside the draws.
    pub beside: usize,
    /// Numbers kept of one draw.
    pub kept: usize,
}

impl Effort {
    /// The most draws that the work and what is kept of it leave room for.
    pub(super) fn most(self) -> usize {
        self.most_within(WORK_MOST / self.each.max(1))
    }

    /// The same where another bound on the work holds.
    pub(super) fn most_within(self, work: usize) -> usize {
        let by_work = work.saturating_sub(self.beside);
        by_work.min(NUMBERS_KEPT / self.kept.max(1)).min(DRAWS_MOST)
    }

    /// How often to draw: as often as `asked`, if that is at most `most`; by default
    /// [`DRAWS`] times, or as often as a few seconds have room for.
    pub(super) fn draws(
        self,
        asked: Option<usize>,
        most: usize,
        pointer: &str,
    ) -> Result<usize, Refusal> {
        if most < DRAWS_LEAST {
            let detail = sentence!(
                "This request is too long to be drawn often enough to say how uncertain its \
                 answer is. Ask for less at a time."
            );
            return Err(Refusal::new(Kind::OutOfRange, pointer, detail));
        }
        match asked {
            None => {
                let by_default = WORK_BY_DEFAULT / self.each.max(1);
                let by_default = by_default.saturating_sub(self.beside).max(DRAWS_LEAST);
                Ok(DRAWS.min(by_default).min(most))
            }
            Some(draws) if draws <= most => Ok(draws),
            Some(draws) => {
                let detail = sentence!(
                    "A request as long as this, with an answer that takes as much work, can be \
                     drawn {} times, not {}.",
                    count(most),
                    count(draws)
                );
                Err(Refusal::new(Kind::OutOfRange, format!("{pointer}/draws"), detail))
            }
        }
    }
}

/// A count in a sentence.
#[expect(clippy::cast_precision_loss, reason = "far below 2^52")]
pub(super) fn count(number: usize) -> Measure {
    Measure::bare(number as f64)
}
