//! What a reading stands for: the samples, the line through them with its range at 95 %, and
//! each reading that was asked about.

use super::{RefractometerCalibration, RefractometerFactorAnswer};
use crate::picture::{Across, Layer, Panel, Panels, Picture, Shows};
use crate::quantity::{Concentration, Quantity};

pub(super) fn pictures(
    question: &RefractometerCalibration,
    answer: &RefractometerFactorAnswer,
) -> Vec<Picture> {
    let band = &answer.band;
    let range = band.iter().filter_map(|at| Some((at.brix.get(), at.low?.get(), at.high?.get())));
    let line = band.iter().map(|at| (at.brix.get(), at.concentration.get())).collect();
    let samples =
        question.samples.iter().map(|sample| (sample.brix.get(), sample.concentration.get()));
    let mut layers = vec![
        Layer::Range { label: "at 95 %".into(), points: range.collect() },
        Layer::line("stands for", line),
        Layer::Points { label: "samples".into(), points: samples.collect() },
    ];
    layers.extend(answer.readings.iter().map(|at| Layer::ReadOff {
        label: "asked about".into(),
        at: at.brix.get(),
        height: at.concentration.get(),
    }));
    let panels = vec![Panel::new("concentration", Concentration::ROW, layers).from_zero()];
    let across = Across { from: Some(0.0), ..Across::plain("°Brix") };
    let panels = Panels { across, panels };
    vec![Picture::new("What a reading stands for", Shows::Panels(panels))]
}
