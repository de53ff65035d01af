//! A reading into % by volume, and a band of % into marks on the instrument.
//!
//! *The refractometer says 4.8. How strong is the fluid, is that in its band,
//! and between which marks must I keep it?*
//!
//! With c the concentration in % by volume:
//!
//! 1. refractometer: c = f·(b − w), with f the factor (%/°Brix), b the reading
//!    at 20 °C and w what the water reads (°Brix)
//! 2. refractive index: c = f·B(n), with B the sucrose scale (°Brix) of the
//!    index n at 20 °C
//! 3. titration: c = f·(t − t₀), with f (%/mL), t the titrant and t₀ the blank (mL)
//! 4. acid split: c = 100·s/(v·o), with s the layer and v the sample (mL), o the
//!    share of the concentrate that splits off (0 to 1)
//! 5. parts of water to one of concentrate: (100 − c)/c
//!
//! Each is read backwards for the marks of a band.
//!
//! Assumes that the factor holds over the whole band, and that tramp oil does
//! not disturb the reading (it does, and the answer says so: DGUV Regel 109-003). Valid to 30 °Brix by
//! refractive index and, with a temperature, to 20 °Brix at 10 to 30 °C.
//! Sources: the sucrose scale and the temperature table of
//! [`handbook::sucrose`](crate::handbook::sucrose); the factor methods are common
//! practice, no source.

mod answer;
mod findings;
mod job_sheet;
mod picture;
mod question;
mod statement;

pub use answer::ConcentrationAnswer;
pub use question::ConcentrationOfReading;

use crate::calculation::{Calculation, DrawPictures, Outcome};
use crate::fluid::band::Band;
use crate::fluid::parts_of_water;
use crate::job_sheet::MakeSheet;
use crate::quantity::Quantity;
use crate::text::{Refusal, Sentence, filed, said};

impl Calculation for ConcentrationOfReading {
    const NAME: &'static str = "concentration";
    const SUMMARY: &'static str = "What a reading stands for in % by volume, where it stands in \
                                   its band, and the band's marks on the instrument";
    const EXAMPLE: &'static str = include_str!("../../../../../examples/concentration.json");
    const IS_QUICK: bool = true;
    const SHEET: Option<MakeSheet<Self, ConcentrationAnswer>> = Some(Self::job_sheet);
    type Answer = ConcentrationAnswer;
    const PICTURES: Option<DrawPictures<Self>> = Some(picture::pictures);

    fn calculate(&self) -> Result<Outcome<ConcentrationAnswer>, Refusal> {
        self.band.as_ref().map_or(Ok(()), Band::check)?;
        let concentration = self.reading.concentration("/reading")?;
        let marks = self.band.as_ref().map(|band| band.marks(&self.reading)).transpose()?;
        let answer = ConcentrationAnswer {
            concentration,
            parts_of_water: parts_of_water(concentration.get()),
            standing: self.band.as_ref().map(|band| band.standing(concentration)),
            marks,
        };
        Ok(Outcome {
            findings: said(|| self.findings(concentration)),
            answer,
            balance: None,
            assumptions: filed(|| self.reading.assumptions("/reading")),
            cautions: said(|| self.reading.cautions()),
        })
    }

    fn statement(&self, answer: &ConcentrationAnswer) -> Sentence {
        self.stated(answer)
    }
}
