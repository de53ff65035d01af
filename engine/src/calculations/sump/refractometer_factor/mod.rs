//! The factor of a fluid, from mixes made up on purpose.
//!
//! *I made up 2, 4, 6 and 8 % and read each. What is this fluid's factor on this
//! refractometer, what does the water itself read, and how far can I trust a
//! reading?*
//!
//! With c the strength of a mix (% by volume), b what it reads (°Brix):
//!
//! 1. line with an offset: b = w + c/f; the offset w is what the water reads
//!    (°Brix), f the factor (% per °Brix)
//! 2. line through the origin: b = c/f, w = 0
//! 3. with s the slope 1/f: u(f) = f·u(s)/s, and f and w go together as much as
//!    s and w do, the other way round
//! 4. the strengths for which a future reading may stand, at 95 %, by inverse
//!    prediction, equation 5 of [`line`](crate::numerics::line)
//! 5. whether the offset is real: the F-test of equation 6 there, at 5 %
//! 6. a sample lies outside what a line allows where its studentised residual is
//!    beyond what is to be expected of any of them at 95 %
//! 7. a scale with divisions d hides an error of d/2/√3 in every reading (rectangular,
//!    half a division either way), of the samples and of readings to come. It goes into
//!    all of 3 to 6 beside the scatter, as equation 7 of [`line`](crate::numerics::line)
//!    has it, so that samples that happen to lie on a line promise no more than the
//!    scale can tell
//!
//! Assumes that the mixes are exact next to the readings, that every reading
//! scatters alike, and that the factor is the same over the whole range. Valid
//! between the weakest and the strongest mix; from two samples on, and with
//! uncertainties from one more than the line has unknowns.
//! Source: JCGM 100:2008 (GUM), H.3 and 4.3.7, and the usual linear model.

mod answer;
mod assumptions;
mod calibration;
mod checks;
mod findings;
mod paste;
mod picture;
mod question;
mod statement;

pub use answer::{CalibrationSampleFit, OffsetTest, RefractometerFactorAnswer, StandsFor};
pub use paste::{FactorReading, ForConcentration};
pub use question::{CalibrationLine, CalibrationSample, RefractometerCalibration};

use crate::calculation::{Calculation, DrawPictures, Outcome};
use crate::quantity::{
    BrixDifference, BrixOffset, CorrelationCoefficient, Count, Quantity, Ratio, RefractometerFactor,
};
use crate::text::{Caution, Refusal, Sentence, filed, said};

impl Calculation for RefractometerCalibration {
    const NAME: &'static str = "refractometer-factor";
    const SUMMARY: &'static str = "A fluid's refractometer factor and the water's own reading from \
                                   mixes made up on purpose, and how far a reading can be trusted";
    const EXAMPLE: &'static str = include_str!("../../../../../examples/refractometer-factor.json");
    const IS_QUICK: bool = true;
    type Answer = RefractometerFactorAnswer;
    const LIST: Option<&'static str> = Some("samples");
    const PICTURES: Option<DrawPictures<Self>> = Some(picture::pictures);

    fn calculate(&self) -> Result<Outcome<RefractometerFactorAnswer>, Refusal> {
        self.check()?;
        let kind = self.line();
        let lines = self.lines()?;
        let line = lines.of(kind);
        let (s, w) = (line.slope, line.offset);
        let f = 1.0 / s;
        let with_offset = kind == CalibrationLine::WithOffset;
        let factor_u = line.u_slope().map(|u| f * u / s);
        let water_u = line.u_offset().filter(|_| with_offset);
        let offset_test = lines.offset_test()?;
        let samples = calibration::fits(line)?;
        let readings = self.readings.iter().flatten().enumerate();
        let readings = readings.map(|(i, b)| {
            checks::check_reading(b.get(), (b.get() - w) / s, i)?;
            self.stands_for(line, b.get())
        });
        let readings = readings.collect::<Result<_, _>>()?;
        let findings = said(|| self.findings(line, offset_test.as_ref(), &samples));
        let answer = RefractometerFactorAnswer {
            line: kind,
            factor: RefractometerFactor::of(f)?,
            factor_u: factor_u.map(Ratio::of).transpose()?,
            water_brix: BrixOffset::of(w)?,
            water_brix_u: water_u.map(BrixDifference::of).transpose()?,
            correlation: line.correlation().map(|r| CorrelationCoefficient::of(-r)).transpose()?,
            scatter: line.scatter().map(BrixDifference::of).transpose()?,
            degrees_of_freedom: Count::from_usize(line.degrees_of_freedom)?,
            offset_test,
            samples,
            readings,
            band: self.band(line)?,
            paste: paste::paste(line, self.repeats())?,
        };
        Ok(Outcome {
            findings,
            answer,
            balance: None,
            assumptions: filed(|| self.assumptions()),
            cautions: vec![Caution::CONCENTRATE, Caution::SKIN_AND_MIST],
        })
    }

    fn statement(&self, answer: &RefractometerFactorAnswer) -> Sentence {
        answer.statement()
    }
}
