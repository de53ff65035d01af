//! Draws inside a calculation: for what is uncertain by its nature, as a delivery is,
//! and part of the answer itself.
//!
//! No calculation draws by itself. It says what is uncertain and what follows from
//! one set of numbers; generator, streams, number of draws, bound on the work and
//! percentiles are those of [`propagate`](super::propagate()).

use super::draws::{Effort, SEED};
use crate::numerics::distribution::{Distribution, Joint};
use crate::numerics::monte_carlo::{self, Drawn};
use crate::quantity::{Count, DrawCount};
use crate::text::Refusal;

/// How often is drawn, and from which seed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Sampler {
    draws: usize,
    seed: usize,
    /// Numbers that come of each draw.
    width: usize,
}

impl Sampler {
    /// Draws from `seed`, by default as often as for any uncertainty, where one draw
    /// handles `each` numbers and comes to `width` of them. `pointer` is where the
    /// member `draws` stands.
    pub(crate) fn new(
        (draws, seed): (Option<DrawCount>, Option<Count>),
        (each, width): (usize, usize),
        pointer: &str,
    ) -> Result<Self, Refusal> {
        let effort = Effort { each, beside: 0, kept: width };
        Ok(Self {
            draws: effort.draws(draws.map(DrawCount::whole), effort.most(), pointer)?,
            seed: seed.map_or(SEED, Count::whole),
            width,
        })
    }

    /// Number of draws.
    pub(crate) const fn draws(&self) -> usize {
        self.draws
    }

    /// Draws all `inputs` independently, again and again, and collects what `model`
    /// appends for each draw. The first draw that has no answer refuses them all.
    pub(crate) fn draw(
        &self,
        inputs: Vec<Distribution>,
        model: impl Fn(&[f64], &mut Vec<f64>) -> Result<(), Refusal> + Sync,
    ) -> Result<Drawn<Refusal>, Refusal> {
        let joint = Joint::independent(inputs);
        let drawn = monte_carlo::draw(&joint, (self.draws, self.seed as u64), self.width, 1, model);
        match drawn.refused.first() {
            Some(refusal) => Err(refusal.clone()),
            None => Ok(drawn),
        }
    }
}
