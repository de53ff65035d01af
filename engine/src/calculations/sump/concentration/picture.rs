//! The strength on its scale: where the fluid is, its band, and what to aim for.

use super::{ConcentrationAnswer, ConcentrationOfReading};
use crate::picture::{Picture, Scale, ScaleMark, Shows};
use crate::quantity::{Concentration, Mark, Quantity};

pub(super) fn pictures(
    question: &ConcentrationOfReading,
    answer: &ConcentrationAnswer,
) -> Vec<Picture> {
    let reading = &question.reading;
    let mark = |name: &'static str, at: Concentration, reads: Option<Mark>| ScaleMark {
        name: name.into(),
        at: at.get(),
        is_here: false,
        reads: reads.map(|mark| crate::sentence!("{}", reading.shown(mark))),
    };
    let here = answer.concentration;
    let own = reading.mark(here, "/reading").ok();
    let mut marks = vec![ScaleMark { is_here: true, ..mark("the fluid", here, own) }];
    if let (Some(band), Some(at)) = (&question.band, &answer.marks) {
        marks.extend([
            mark("weakest", band.low, Some(at.low)),
            mark("aim for", band.target, Some(at.target)),
            mark("strongest", band.high, Some(at.high)),
        ]);
    }
    let band = question.band.as_ref().map(|band| (band.low.get(), band.high.get()));
    let scale = Scale { label: "strength".into(), row: Concentration::ROW, band, marks };
    vec![Picture::new("How strong the fluid is", Shows::Scale(scale))]
}
