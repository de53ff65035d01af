//! The lines through the samples, and what a reading on one of them stands for
//! (equations 1 to 6).

use super::{
    CalibrationLine, CalibrationSampleFit, OffsetTest, RefractometerCalibration, StandsFor, checks,
};
use crate::numerics::line::{Line, Through};
use crate::quantity::{BrixDifference, BrixOffset, Concentration, Quantity, Ratio, TestValue};
use crate::text::Refusal;

/// A p below this makes an offset real.
const SIGNIFICANT: f64 = 0.05;
/// Points of the band from the weakest to the strongest mix.
const BAND_POINTS: u32 = 11;

/// Both lines through the samples, as far as they can be had.
pub(super) struct Lines {
    through_origin: Line,
    with_offset: Option<Line>,
}

impl Lines {
    pub(super) fn of(&self, kind: CalibrationLine) -> &Line {
        match (kind, &self.with_offset) {
            (CalibrationLine::WithOffset, Some(line)) => line,
            _ => &self.through_origin,
        }
    }

    pub(super) fn offset_test(&self) -> Result<Option<OffsetTest>, Refusal> {
        let Some(line) = &self.with_offset else { return Ok(None) };
        let Some((f, p)) = line.offset_test(&self.through_origin) else { return Ok(None) };
        // A line without scatter makes F as large as a number can be.
        let (f, is_real) = (TestValue::of(f.min(TestValue::ROW.most))?, p < SIGNIFICANT);
        Ok(Some(OffsetTest { f, p: Ratio::of(p.clamp(0.0, 1.0))?, is_real }))
    }
}

pub(super) fn fits(line: &Line) -> Result<Vec<CalibrationSampleFit>, Refusal> {
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
    pub(super) fn lines(&self) -> Result<Lines, Refusal> {
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

    /// What a reading stands for.
    pub(super) fn stands_for(&self, line: &Line, b: f64) -> Result<StandsFor, Refusal> {
        let share = |c: f64| Concentration::of(c.clamp(0.0, 100.0));
        let interval = line.inverse(b, self.repeats());
        Ok(StandsFor {
            brix: BrixOffset::of(b)?,
            concentration: share((b - line.offset) / line.slope)?,
            low: interval.map(|(low, _)| share(low)).transpose()?,
            high: interval.map(|(_, high)| share(high)).transpose()?,
        })
    }

    pub(super) fn band(&self, line: &Line) -> Result<Vec<StandsFor>, Refusal> {
        let strengths = self.samples.iter().map(|sample| sample.concentration.get());
        let weakest = strengths.clone().fold(f64::INFINITY, f64::min);
        let strongest = strengths.fold(0.0, f64::max);
        let at = |i: u32| {
            let share = f64::from(i) / f64::from(BAND_POINTS - 1);
            self.stands_for(line, line.at(weakest + share * (strongest - weakest)).0)
        };
        (0..BAND_POINTS).map(at).collect()
    }
}
