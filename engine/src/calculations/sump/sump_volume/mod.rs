//! What a sump holds, from its shape, from a dilution, or from both.
//!
//! *Nobody knows what this sump holds. I can measure it with a rule, or pour 20 L
//! of water in and read the strength before and after.*
//!
//! 1. by shape: the compartments up to the level, less what stands in them, and
//!    what is in the pipes (`filled.rs`); its uncertainty from that of the lengths
//! 2. by dilution: V·c₀ + A·c_A = (V + A)·c₁, so V = A·(c_A − c₁)/(c₁ − c₀), with V
//!    what circulated before (L), A what was added (L), c₀, c_A and c₁ the strengths
//!    before, of the addition and after (% by volume)
//! 3. both agree where |V₁ − V₂| ≤ 1.96·√(u₁² + u₂²), and then
//!    V = (V₁/u₁² + V₂/u₂²)/(1/u₁² + 1/u₂²), u² = 1/(1/u₁² + 1/u₂²). Where they do not,
//!    they are not of one thing, and there is no V: both are given, with their ratio.
//!
//! Assumes a level sump, and fluid that is well mixed before each reading. A
//! dilution tells what circulates, pipes and machine bed included; a shape, what is
//! in the sump up to the level. Measure both at the same level, before the addition.
//! Source: geometry; balance of the concentrate; weighted mean, as textbooks have it.

mod agreement;
mod answer;
mod assumptions;
mod balance;
mod cautions;
mod checks;
mod estimate;
mod filled;
mod findings;
mod picture;
mod question;
mod statement;

pub use answer::{Agreement, DipLine, SumpVolumeAnswer, VolumeEstimate};
pub use question::{
    BoxCompartment, Compartment, Dilution, Displaced, LCompartment, LyingCylinder, RoundBottom,
    SumpShape, SumpVolume,
};

use crate::calculation::{Calculation, DrawPictures, Outcome};
use crate::quantity::{Quantity, Volume};
use crate::text::{Refusal, Sentence, filed, said};

impl Calculation for SumpVolume {
    const NAME: &'static str = "sump-volume";
    const SUMMARY: &'static str = "What a sump holds, from its shape with a dip table, from a \
                                   dilution, or from both by their uncertainties";
    const EXAMPLE: &'static str = include_str!("../../../../../examples/sump-volume.json");
    const IS_QUICK: bool = true;
    type Answer = SumpVolumeAnswer;
    const PICTURES: Option<DrawPictures<Self>> = Some(picture::pictures);

    fn calculate(&self) -> Result<Outcome<SumpVolumeAnswer>, Refusal> {
        self.check()?;
        let by_shape = self.shape.as_ref().map(SumpShape::estimate).transpose()?;
        let by_dilution = self.dilution.as_ref().map(Dilution::estimate).transpose()?;
        let (agreement, combined) = match (&by_shape, &by_dilution) {
            (Some(shape), Some(dilution)) => agreement::combine(shape, dilution)?,
            (Some(only), None) | (None, Some(only)) => (None, Some(only.clone())),
            (None, None) => return Err(checks::nothing_to_go_by()),
        };
        let shape = self.shape.as_ref();
        let at_brim = shape.map(|shape| Volume::of(shape.litres_at(shape.brim()) + shape.pipes()));
        let answer = SumpVolumeAnswer {
            agreement,
            volume: combined.as_ref().map(|combined| combined.volume),
            u: combined.and_then(|combined| combined.u),
            by_shape,
            at_brim: at_brim.transpose()?,
            dip_table: shape.map_or(Ok(Vec::new()), SumpShape::dip_table)?,
            by_dilution,
        };
        let dilution = self.dilution.as_ref().zip(answer.by_dilution.as_ref());
        let balance = dilution.map(|(dilution, found)| dilution.balance(found.volume.get()));
        Ok(Outcome {
            findings: said(|| self.findings(&answer)),
            balance: balance.transpose()?,
            assumptions: filed(|| self.assumptions()),
            cautions: said(|| cautions::cautions(&answer)),
            answer,
        })
    }

    fn statement(&self, answer: &SumpVolumeAnswer) -> Sentence {
        answer.statement()
    }
}
