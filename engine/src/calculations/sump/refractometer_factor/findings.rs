//! What to look into before a factor is used.

use super::{CalibrationLine, CalibrationSampleFit, OffsetTest, RefractometerCalibration};
use crate::numerics::line::Line;
use crate::quantity::Quantity;
use crate::sentence;
use crate::text::{Finding, Sentence, Severity};

impl RefractometerCalibration {
    pub(super) fn findings(
        &self,
        line: &Line,
        test: Option<&OffsetTest>,
        samples: &[CalibrationSampleFit],
    ) -> Vec<Finding> {
        let mut findings = Vec::new();
        let mut find = |severity, code, pointer: String, text: Sentence| {
            findings.push(Finding::new(severity, code, pointer, text));
        };
        for (i, sample) in samples.iter().enumerate() {
            if sample.outside {
                find(
                    Severity::Act,
                    "sample-off-the-line",
                    format!("/samples/{i}"),
                    sentence!(
                        "This sample lies outside what a line through the others allows. Read it \
                     again, and check how it was made up."
                    ),
                );
            }
        }
        match line.degrees_of_freedom {
            0 => find(
                Severity::Watch,
                "few-samples",
                "/samples".to_owned(),
                sentence!(
                    "No sample is left over to show how far a reading scatters, so how sure the factor \
                 is stays unknown. Make up five, from the weakest to the strongest that you use."
                ),
            ),
            1 => find(
                Severity::Watch,
                "few-samples",
                "/samples".to_owned(),
                sentence!(
                    "A single sample is left over to show how far a reading scatters, which is hardly \
                 enough: the band is wide, and still may not hold. Make up five, from the weakest \
                 to the strongest that you use."
                ),
            ),
            _ => {}
        }
        match (self.line(), test.map(|test| test.is_real)) {
            (CalibrationLine::WithOffset, Some(false)) => find(
                Severity::Note,
                "offset-not-shown",
                "/line".to_owned(),
                sentence!(
                    "The samples do not show that the water itself reads anything. A line through the \
                 origin would do, and its factor would be surer."
                ),
            ),
            (CalibrationLine::ThroughOrigin, Some(true)) => find(
                Severity::Act,
                "offset-shown",
                "/line".to_owned(),
                sentence!(
                    "The samples show that the water itself reads something. Take a line with an \
                 offset."
                ),
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
                    sentence!(
                        "This reading lies outside the samples, where nobody has seen the line. Make up \
                     a mix that reads about as much."
                    ),
                );
            }
        }
        findings
    }
}

#[cfg(test)]
mod tests {
    use super::super::*;
    use crate::quantity::{Brix, Concentration};

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
