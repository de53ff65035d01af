//! The amounts of a round as somebody measures them out.
//!
//! Each amount is measured to its own size, or to what the caller measures to, and never to
//! more than the sump has room for. What is then said of the strength is that of the amounts
//! as they are measured out.

use super::TopUpRound;
use super::answer::SumpOnRound;
use super::premixes::PremixMade;
use crate::fluid::measuring::MeasuringStep;
use crate::quantity::{Concentration, Measure, Quantity};
use crate::sentence;
use crate::text::Sentence;

impl TopUpRound {
    /// Litres to the step that they are measured to, `most` at most.
    pub(super) fn rounded(&self, litres: f64, most: f64) -> (f64, Measure) {
        let step = MeasuringStep::of(self.measures_to, [litres]);
        let rounded = step.round_within(&[litres], most).first().copied().unwrap_or(litres);
        (rounded, step.measure(rounded))
    }

    /// The same as it is said.
    pub(super) fn said_litres(&self, litres: f64) -> Measure {
        self.rounded(litres, f64::INFINITY).1
    }

    /// How strong a premix comes out of what is measured out for it, % by volume.
    pub(super) fn measured_premix(&self, premix: &PremixMade) -> f64 {
        let mixes = self.mixes(premix);
        let takes = self.stocks.iter().zip(&premix.stocks).filter(|(_, litres)| **litres > 0.0);
        let measured = takes.map(|(stock, litres)| {
            (stock.concentration.get(), self.rounded(litres / mixes, f64::INFINITY).0)
        });
        let (brought, all) =
            measured.fold((0.0, 0.0), |(sum, all), (c, litres)| (sum + c * litres, all + litres));
        if self.has_proportioner() || all <= 0.0 { premix.strength } else { brought / all }
    }

    /// The strength that a sump comes to by the amounts as they are measured out.
    fn measured_strength(
        &self,
        sump: &SumpOnRound,
        i: usize,
        premix: &PremixMade,
    ) -> Concentration {
        let (add, after) = (sump.add.get(), sump.after.volume.get());
        let before = after - add;
        let room = self.sumps[i].sump.capacity.get() - before;
        let (measured, _) = self.rounded(add, room.max(add));
        let concentrate = sump.after.concentration.get() * after
            + self.measured_premix(premix) * measured
            - premix.strength * add;
        let c = concentrate / (before + measured);
        // Within bounds but for rounding.
        Concentration::of(c.clamp(0.0, 100.0)).unwrap_or(sump.after.concentration)
    }

    /// What the instrument must read then, or how strong the fluid is then, with so much of
    /// `premix` poured in.
    pub(super) fn comes_to(&self, sump: &SumpOnRound, i: usize, premix: &PremixMade) -> Sentence {
        let strength = self.measured_strength(sump, i, premix);
        let reading = self.sumps[i].sump.reading.as_ref();
        reading
            .and_then(|own| Some(own.must_then_read(own.mark(strength, "/sumps").ok()?)))
            .unwrap_or_else(|| sentence!("it is then at {}", strength.roughly()))
    }
}
