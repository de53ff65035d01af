//! What samples cannot be calibrated with, and what to look into.

use super::{CalibrationLine, CalibrationSampleFit, OffsetTest, RefractometerCalibration};
use crate::numerics::line::{Line, Through};
use crate::quantity::{BrixOffset, Measure, Quantity};
use crate::text::{Finding, Kind, Refusal, Sentence, Severity};

impl RefractometerCalibration {
    pub(super) fn check(&self) -> Result<(), Refusal> {
        if self.samples.len() < 2 {
            let detail = "One sample tells nothing of how good a factor is. Make up at least two \
                          mixes, better five, from the weakest to the strongest that you use.";
            return Err(Refusal::new(Kind::NotIdentifiable, "/samples", Sentence::new(detail)));
        }
        if self.repeats.is_some_and(|repeats| repeats.get() < 1.0) {
            let detail = "A reading is taken at least once: repeats is 1 or more.";
            return Err(Refusal::new(Kind::OutOfRange, "/repeats", Sentence::new(detail)));
        }
        Ok(())
    }

    pub(super) fn findings(
        &self,
        line: &Line,
        test: Option<&OffsetTest>,
        samples: &[CalibrationSampleFit],
    ) -> Vec<Finding> {
        let mut findings = Vec::new();
        let mut find = |severity, code, pointer: String, text: &'static str| {
            findings.push(Finding::new(severity, code, pointer, text));
        };
        for (i, sample) in samples.iter().enumerate() {
            if sample.outside {
                find(
                    Severity::Act,
                    "sample-off-the-line",
                    format!("/samples/{i}"),
                    "This sample lies outside what a line through the others allows. Read it \
                     again, and check how it was made up.",
                );
            }
        }
        match line.degrees_of_freedom {
            0 => find(
                Severity::Watch,
                "few-samples",
                "/samples".to_owned(),
                "No sample is left over to tell how far a reading scatters, so nothing is said of \
                 how good the factor is. Make up five, from the weakest to the strongest that you \
                 use.",
            ),
            1 => find(
                Severity::Watch,
                "few-samples",
                "/samples".to_owned(),
                "A single sample is left over to tell how far a reading scatters, which is next to \
                 nothing: the band is wide, and still may not hold. Make up five, from the weakest \
                 to the strongest that you use.",
            ),
            _ => {}
        }
        match (self.line(), test.map(|test| test.is_real)) {
            (CalibrationLine::WithOffset, Some(false)) => find(
                Severity::Note,
                "offset-not-shown",
                "/line".to_owned(),
                "The samples do not show that the water itself reads anything. A line through the \
                 origin would do, and its factor would be surer.",
            ),
            (CalibrationLine::ThroughOrigin, Some(true)) => find(
                Severity::Act,
                "offset-shown",
                "/line".to_owned(),
                "The samples show that the water itself reads something. Take a line with an \
                 offset.",
            ),
            _ => {}
        }
        let readings = self.samples.iter().map(|sample| sample.brix.get());
        let (least, most) =
            readings.fold((f64::INFINITY, 0.0_f64), |(l, m), b| (l.min(b), m.max(b)));
        for (i, b) in self.readings.iter().flatten().enumerate() {
            if !(least..=most).contains(&b.get()) {
                find(
                    Severity::Watch,
                    "reading-outside-the-samples",
                    format!("/readings/{i}"),
                    "This reading lies outside the samples, where nobody has seen the line. Make up \
                     a mix that reads about as much.",
                );
            }
        }
        findings
    }
}

/// Why there is no line.
pub(super) fn no_line(through: Through) -> Refusal {
    let detail = match through {
        Through::Origin => {
            "All samples are plain water, which tells nothing of the concentrate. Make up at \
             least one mix."
        }
        Through::Offset => {
            "All samples are of one strength, which cannot tell the factor from what the water \
             reads. Make up another strength, or take the line through the origin."
        }
    };
    Refusal::new(Kind::NotIdentifiable, "/samples", Sentence::new(detail))
}

/// Refuses a line that no refractometer reads.
pub(super) fn check_line(line: &Line) -> Result<(), Refusal> {
    if line.slope <= 0.0 {
        let detail = "The readings do not rise with the strength of the mixes, so there is no \
                      factor. Check which reading belongs to which mix.";
        return Err(Refusal::new(Kind::Inconsistent, "/samples", Sentence::new(detail)));
    }
    if !BrixOffset::ROW.admits(line.offset) {
        let detail = "By these samples plain water would read {}, which cannot be. Check the \
                      samples, and set the instrument to zero on clean water.";
        let detail = Sentence::new(detail).with(Measure::of(BrixOffset::ROW, line.offset));
        return Err(Refusal::new(Kind::Inconsistent, "/samples", detail));
    }
    Ok(())
}

/// Refuses a reading that stands for nothing or for more than all.
pub(super) fn check_reading(b: f64, c: f64, i: usize) -> Result<(), Refusal> {
    let pointer = format!("/readings/{i}");
    let detail = if c < 0.0 {
        "A reading of {} is lower than what the water alone gives."
    } else if c > 100.0 {
        "A reading of {} stands for more than neat concentrate."
    } else {
        return Ok(());
    };
    let detail = Sentence::new(detail).with(Measure::of(BrixOffset::ROW, b));
    Err(Refusal::new(Kind::Inconsistent, pointer, detail))
}

#[cfg(test)]
mod tests {
    use super::super::*;

    fn samples(pairs: &[(f64, f64)]) -> RefractometerCalibration {
        let sample = |(c, b): &(f64, f64)| CalibrationSample {
            concentration: Concentration::of(*c).expect("a share"),
            brix: Brix::of(*b).expect("a reading"),
        };
        let samples = pairs.iter().map(sample).collect();
        RefractometerCalibration {
            samples,
            line: None,
            division: None,
            readings: None,
            repeats: None,
        }
    }

    #[test]
    fn readings_on_a_line_give_the_line_back() {
        // Made up by hand: factor 1.25, water reads 0.4.
        let exact = samples(&[(0.0, 0.4), (2.5, 2.4), (5.0, 4.4), (10.0, 8.4)]);
        let outcome = exact.calculate().expect("a factor");
        let answer = outcome.answer;
        assert!((answer.factor.get() - 1.25).abs() < 1e-12);
        assert!((answer.water_brix.get() - 0.4).abs() < 1e-12);
        assert!(outcome.findings.is_empty(), "{:?}", outcome.findings);
        assert!(answer.offset_test.expect("a scale has steps").is_real);
    }

    #[test]
    fn a_sample_off_the_line_is_found() {
        let mut off = samples(&[
            (0.0, 0.1),
            (2.0, 1.7),
            (4.0, 3.2),
            (5.0, 4.1),
            (6.0, 4.8),
            (8.0, 6.5),
            (10.0, 8.0),
        ]);
        assert!(off.calculate().expect("a factor").answer.samples.iter().all(|s| !s.outside));
        off.samples[4].brix = Brix::of(6.8).expect("a reading");
        let outcome = off.calculate().expect("a factor");
        assert!(outcome.answer.samples[4].outside);
        assert_eq!(outcome.findings[0].pointer, "/samples/4");
    }
}
