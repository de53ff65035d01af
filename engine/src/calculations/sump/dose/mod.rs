//! How much of a product a sump gets, and how long it lasts.
//!
//! *How much biocide do I measure out for this sump, is that what its label allows, and when is
//! the next dose due?*
//!
//! With V the fluid in the sump (L), x its content before and y the content wanted (mg/L), a the
//! active share of the product (1 where contents count the product itself), ρ its density (kg/L),
//! W what is carried off (L/day) and T the half-life of the product in the fluid (days):
//!
//! 1. dose, as labels count it: d = (y − x)/a, in mg of product for each litre of fluid
//! 2. product: m = d·V, and by volume v = m/ρ
//! 3. thinning: dx/dt = −(W/V + ln 2/T)·x, so that x(t) = x₀·exp(−k·t) with k = W/V + ln 2/T
//! 4. what it comes to, v′ being measured out: y′ = (x·V + a·ρ·v′)/(V + v′)
//! 5. it lasts until x(t) = l: t = ln(y′/l)/k
//!
//! Labels count a dose on the fluid that is there before it, so y′ is a little below y. Assumes
//! that the sump is well mixed and kept at its level, that the make-up brings none of the product,
//! and that it is used up in proportion to what is there. Water that evaporates takes nothing
//! along. Whether a pH adjuster brings the pH where it is wanted no balance tells: it is dosed in
//! parts and measured. Source: the mass balance; that labels count on the fluid as it is, is
//! common practice, no source.

mod answer;
mod assumptions;
mod balance;
mod cautions;
mod checks;
mod findings;
mod jug;
mod picture;
mod question;
mod statement;
mod steps;
mod thinning;

pub use answer::{DoseAnswer, DoseStep, DosedAfter};
pub use question::{Dose, DoseLabel, DosedProduct, DosedSump, LastDose, ProductKind};

use crate::calculation::{Calculation, DrawPictures, Outcome};
use crate::handbook::conversions::KILOGRAMS_PER_MILLIGRAM;
use crate::job_sheet::{JobSheet, MakeSheet, SheetPart, SheetRecords, SheetTask};
use crate::quantity::{Concentration, Content, Days, LabVolume, Mass, Quantity, Volume};
use crate::text::{Refusal, Sentence, filed, said};

/// Millilitres in a litre.
const MILLILITRES: f64 = 1000.0;

impl Calculation for Dose {
    const NAME: &'static str = "dose";
    const SUMMARY: &'static str = "How much biocide, defoamer, cleaner or other product a sump \
                                   gets, within its label, and how long it lasts";
    const EXAMPLE: &'static str = include_str!("../../../../../examples/dose.json");
    const PICTURES: Option<DrawPictures<Self>> = Some(picture::pictures);
    const SHEET: Option<MakeSheet<Self, DoseAnswer>> = Some(|_, answer| answer.job_sheet());
    type Answer = DoseAnswer;

    fn calculate(&self) -> Result<Outcome<DoseAnswer>, Refusal> {
        self.check()?;
        let x = self.content_now();
        let d = (self.wanted.get() - x).max(0.0) / self.active();
        self.check_label(d)?;
        let v = self.sump.volume.get();
        let m = d * v * KILOGRAMS_PER_MILLIGRAM;
        let litres = self.product.density.map(|density| m / density.get());
        let measured = litres.map(|litres| self.measured(litres));
        let poured = measured.zip(self.product.density).map_or(m, |(v, density)| v * density.get());
        let after = self.after(x, poured);
        let content = after.content;
        let answer = DoseAnswer {
            now: Content::of(x)?,
            dose: Content::of(d)?,
            mass: Mass::of(m)?,
            volume: litres.map(|litres| LabVolume::of(litres * MILLILITRES)).transpose()?,
            measured: measured.map(|litres| LabVolume::of(litres * MILLILITRES)).transpose()?,
            after: DosedAfter {
                content: Content::of(content)?,
                volume: Volume::of(after.volume)?,
                concentration: after.concentration.map(Concentration::of).transpose()?,
            },
            // What outlasts every calendar does not end.
            lasts_days: self.lasts(content).and_then(|days| Days::of(days).ok()),
            steps: Vec::new(),
        };
        let answer = DoseAnswer { steps: said(|| self.steps(&answer)), ..answer };
        Ok(Outcome {
            findings: said(|| self.findings(&answer)),
            balance: Some(self.balance(x, poured, content)?),
            assumptions: filed(|| self.assumptions()),
            cautions: said(|| self.cautions()),
            answer,
        })
    }

    fn statement(&self, answer: &DoseAnswer) -> Sentence {
        self.in_short(answer)
    }
}

/// A sump after a dose, in numbers.
struct After {
    /// What the sump then holds, L.
    volume: f64,
    /// The content then, mg/L.
    content: f64,
    /// The strength then, % by volume.
    concentration: Option<f64>,
}

impl Dose {
    /// The share of the product that contents count, 0 to 1.
    fn active(&self) -> f64 {
        self.product.active_share.map_or(1.0, |share| share.get() / 100.0)
    }

    /// The litres that so many kilograms of the product take.
    fn litres_of(&self, kilograms: f64) -> f64 {
        kilograms / self.density()
    }

    /// Equation 4, for so many kilograms of the product.
    fn after(&self, x: f64, poured: f64) -> After {
        let before = self.sump.volume.get();
        let volume = before + self.litres_of(poured);
        let milligrams = x * before + self.active() * poured / KILOGRAMS_PER_MILLIGRAM;
        After {
            volume,
            content: milligrams / volume,
            concentration: self.sump.concentration.map(|c| c.get() * before / volume),
        }
    }
}

impl DoseAnswer {
    fn job_sheet(&self) -> JobSheet {
        let tasks: Vec<_> =
            self.steps.iter().map(|step| SheetTask::of(step.text.clone())).collect();
        let parts = if tasks.is_empty() { Vec::new() } else { vec![SheetPart::plain(tasks)] };
        JobSheet { parts, notes: Vec::new(), records: SheetRecords::BeforeAndAfter }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::{Map, Value};

    /// The example with a change.
    pub(super) fn question(changed: impl FnOnce(&mut Map<String, Value>)) -> Dose {
        let mut document: Value = serde_json::from_str(Dose::EXAMPLE).unwrap();
        let members = document.as_object_mut().unwrap();
        members.retain(|name, _| name != "units" && name != "reference");
        changed(members);
        serde_json::from_value(document).unwrap()
    }

    /// What is left of a dose and a dose up to the same content come to that content.
    #[test]
    fn a_dose_fills_up_what_is_left_of_the_last_one() {
        let question = question(|_| ());
        let answer = question.calculate().unwrap().answer;
        let (x, d) = (answer.now.get(), answer.dose.get());
        assert!(x > 0.0 && (x + d - question.wanted.get()).abs() < 1e-9, "{x} {d}");
    }

    #[test]
    fn a_dose_at_the_bound_of_the_label_is_never_rounded_above_it() {
        let bound = question(|q| {
            q["wanted"] = 1234.into();
            q["product"]["label"] = serde_json::json!({ "most": 1234 });
            q.remove("last_dose");
            q.remove("lasts_to");
        });
        let answer = bound.calculate().unwrap().answer;
        let (exact, measured) = (answer.volume.unwrap(), answer.measured.unwrap());
        assert!(measured.get() <= exact.get() && exact.get() - measured.get() < 10.0);
    }
}
