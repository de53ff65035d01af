//! The chart: what a reading stands for, with its range at 95 %.

use super::RefractometerFactorAnswer;
use crate::chart::{Chart, Layer, Panel};
use crate::quantity::{Concentration, Quantity};

pub(super) fn chart(answer: &RefractometerFactorAnswer) -> Chart {
    let band = &answer.band;
    let range = band.iter().filter_map(|at| Some((at.brix.get(), at.low?.get(), at.high?.get())));
    let line = band.iter().map(|at| (at.brix.get(), at.concentration.get())).collect();
    let layers = vec![
        Layer::Range { label: "95 %".into(), points: range.collect() },
        Layer::Line { label: "stands for".into(), points: line },
    ];
    let panel =
        Panel { label: "concentration".into(), row: Concentration::ROW, from_zero: true, layers };
    Chart {
        title: "What a reading stands for".into(), across: "°Brix".into(), panels: vec![panel]
    }
}
