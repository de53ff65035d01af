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
mod checks;
mod paste;

pub use answer::{CalibrationSampleFit, OffsetTest, RefractometerFactorAnswer, StandsFor};
pub use paste::{FactorReading, ForConcentration};

use crate::calculation::{Calculation, Outcome};
use crate::chart::{Chart, Layer, Panel};
use crate::numerics::line::{Line, Through};
use crate::quantity::{
    Brix, BrixDifference, BrixOffset, Concentration, CorrelationCoefficient, Count, Quantity,
    Ratio, RefractometerFactor, ScaleDivision, TestValue,
};
use crate::text::{Assumption, Caution, Refusal, Sentence};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// A p below this makes an offset real.
const SIGNIFICANT: f64 = 0.05;
/// What a scale is read to when nobody says so, °Brix. Common practice, no source: hand
/// refractometers have lines at 0.1 or 0.2, digital ones steps of 0.1.
const USUAL_DIVISION: f64 = 0.1;
/// Points of the band from the weakest to the strongest mix.
const BAND_POINTS: u32 = 11;

/// Mixes made up on purpose, and what each reads.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct RefractometerCalibration {
    /// The mixes, at least two; one of them may be the plain water.
    #[schema(min_items = 1, max_items = 20000)]
    pub samples: Vec<CalibrationSample>,
    /// Whether the line goes through the origin or has an offset, what the water
    /// reads. When left out it has an offset from three different strengths on.
    pub line: Option<CalibrationLine>,
    /// From one line of the refractometer's scale to the next, or one step of its
    /// display. No reading is surer than it lets be. 0.1 °Brix when left out.
    #[schema(example = 0.2)]
    pub division: Option<ScaleDivision>,
    /// Readings of which you want to know what they stand for.
    #[schema(min_items = 1, max_items = 20000)]
    pub readings: Option<Vec<Brix>>,
    /// How many readings of the same fluid are averaged before the factor is used;
    /// 1 when left out.
    pub repeats: Option<Count>,
}

/// A mix made up on purpose, and what it reads.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct CalibrationSample {
    /// How strong it was made.
    #[schema(example = 4.0)]
    pub concentration: Concentration,
    /// What the refractometer reads.
    #[schema(example = 3.4)]
    pub brix: Brix,
}

/// What kind of line is laid through the samples.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum CalibrationLine {
    /// Plain water reads nothing.
    ThroughOrigin,
    /// Plain water reads whatever the samples say.
    WithOffset,
}

impl Calculation for RefractometerCalibration {
    const NAME: &'static str = "refractometer-factor";
    const SUMMARY: &'static str = "A fluid's refractometer factor and the water's own reading from \
                                   mixes made up on purpose, and how far a reading can be trusted";
    const EXAMPLE: &'static str = include_str!("../../../../../examples/refractometer-factor.json");
    const IS_QUICK: bool = true;
    type Answer = RefractometerFactorAnswer;
    const LIST: Option<&'static str> = Some("samples");
    const HAS_CHART: bool = true;

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
        let samples = fits(line)?;
        let readings = self.readings.iter().flatten().enumerate();
        let readings = readings.map(|(i, b)| {
            checks::check_reading(b.get(), (b.get() - w) / s, i)?;
            self.stands_for(line, b.get())
        });
        let readings = readings.collect::<Result<_, _>>()?;
        let findings = self.findings(line, offset_test.as_ref(), &samples);
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
            assumptions: self.assumptions(),
            cautions: vec![Caution::CONCENTRATE, Caution::SKIN_AND_MIST],
        })
    }

    fn chart(&self, answer: &RefractometerFactorAnswer) -> Option<Chart> {
        let band = &answer.band;
        let range =
            band.iter().filter_map(|at| Some((at.brix.get(), at.low?.get(), at.high?.get())));
        let line = band.iter().map(|at| (at.brix.get(), at.concentration.get())).collect();
        let layers = vec![
            Layer::Range { label: "95 %".into(), points: range.collect() },
            Layer::Line { label: "stands for".into(), points: line },
        ];
        let panel = Panel {
            label: "concentration".into(),
            row: Concentration::ROW,
            from_zero: true,
            layers,
        };
        Some(Chart {
            title: "What a reading stands for".into(),
            across: "°Brix".into(),
            panels: vec![panel],
        })
    }
}

/// Both lines through the samples, as far as they can be had.
struct Lines {
    through_origin: Line,
    with_offset: Option<Line>,
}

impl Lines {
    fn of(&self, kind: CalibrationLine) -> &Line {
        match (kind, &self.with_offset) {
            (CalibrationLine::WithOffset, Some(line)) => line,
            _ => &self.through_origin,
        }
    }

    fn offset_test(&self) -> Result<Option<OffsetTest>, Refusal> {
        let Some(line) = &self.with_offset else { return Ok(None) };
        let Some((f, p)) = line.offset_test(&self.through_origin) else { return Ok(None) };
        // A line without scatter makes F as large as a number can be.
        let (f, is_real) = (TestValue::of(f.min(TestValue::ROW.most))?, p < SIGNIFICANT);
        Ok(Some(OffsetTest { f, p: Ratio::of(p.clamp(0.0, 1.0))?, is_real }))
    }
}

fn fits(line: &Line) -> Result<Vec<CalibrationSampleFit>, Refusal> {
    let most = line.studentised_most().unwrap_or(f64::INFINITY);
    let samples = line.residuals.iter().zip(line.studentised());
    let samples = samples.map(|(residual, studentised)| {
        Ok(CalibrationSampleFit {
            residual: BrixDifference::of(*residual)?,
            studentised: studentised.map(TestValue::of).transpose()?,
            outside: studentised.is_some_and(|t| t.abs() > most),
        })
    });
    samples.collect()
}

impl RefractometerCalibration {
    fn lines(&self) -> Result<Lines, Refusal> {
        let x: Vec<f64> = self.samples.iter().map(|sample| sample.concentration.get()).collect();
        let y: Vec<f64> = self.samples.iter().map(|sample| sample.brix.get()).collect();
        let division = self.division();
        let line = |through| {
            let line = Line::fit(&x, &y, through).map_err(|_| checks::no_line(through))?;
            Ok::<_, Refusal>(line.read_in_steps_of(division))
        };
        let with_offset = line(Through::Offset);
        if self.line() == CalibrationLine::WithOffset {
            checks::check_line(with_offset.as_ref().map_err(Clone::clone)?)?;
        }
        let lines = Lines { through_origin: line(Through::Origin)?, with_offset: with_offset.ok() };
        checks::check_line(lines.of(self.line()))?;
        Ok(lines)
    }

    fn line(&self) -> CalibrationLine {
        let usual = if self.strengths() < 3 {
            CalibrationLine::ThroughOrigin
        } else {
            CalibrationLine::WithOffset
        };
        self.line.unwrap_or(usual)
    }

    /// How many different strengths the samples have.
    fn strengths(&self) -> usize {
        let mut strengths: Vec<f64> = self.samples.iter().map(|s| s.concentration.get()).collect();
        strengths.sort_by(f64::total_cmp);
        strengths.dedup();
        strengths.len()
    }

    fn division(&self) -> f64 {
        self.division.map_or(USUAL_DIVISION, Quantity::get)
    }

    fn repeats(&self) -> f64 {
        self.repeats.map_or(1.0, Quantity::get)
    }

    /// What a reading stands for.
    fn stands_for(&self, line: &Line, b: f64) -> Result<StandsFor, Refusal> {
        let share = |c: f64| Concentration::of(c.clamp(0.0, 100.0));
        let interval = line.inverse(b, self.repeats());
        Ok(StandsFor {
            brix: BrixOffset::of(b)?,
            concentration: share((b - line.offset) / line.slope)?,
            low: interval.map(|(low, _)| share(low)).transpose()?,
            high: interval.map(|(_, high)| share(high)).transpose()?,
        })
    }

    fn band(&self, line: &Line) -> Result<Vec<StandsFor>, Refusal> {
        let strengths = self.samples.iter().map(|sample| sample.concentration.get());
        let weakest = strengths.clone().fold(f64::INFINITY, f64::min);
        let strongest = strengths.fold(0.0, f64::max);
        let at = |i: u32| {
            let share = f64::from(i) / f64::from(BAND_POINTS - 1);
            self.stands_for(line, line.at(weakest + share * (strongest - weakest)).0)
        };
        (0..BAND_POINTS).map(at).collect()
    }

    fn assumptions(&self) -> Vec<Assumption> {
        let exact = "The mixes were taken to be as strong as they were meant to be, and all \
                     readings to scatter alike.";
        let temperature = "The readings were taken to be compensated for temperature, and to come \
                           from one instrument.";
        let mut assumptions =
            vec![Assumption::new("/samples", exact), Assumption::new("/samples", temperature)];
        if self.line.is_none() {
            let text = match self.line() {
                CalibrationLine::WithOffset => {
                    "The line was given an offset: what the water itself reads."
                }
                CalibrationLine::ThroughOrigin => {
                    "The water was taken to read nothing: two strengths cannot tell what it reads \
                     and how well."
                }
            };
            assumptions.push(Assumption::new("/line", text));
        }
        if self.division.is_none() {
            let text = "The scale was taken to be read to {}, and so to hide up to half of that in \
                        every reading.";
            let text = Sentence::new(text).with(ScaleDivision::measure_of(USUAL_DIVISION));
            assumptions.push(Assumption::new("/division", text));
        }
        if self.repeats.is_none() {
            let text = "A future reading was taken to be a single one.";
            assumptions.push(Assumption::new("/repeats", text));
        }
        assumptions
    }
}
