//! A dose as a picture: what is in the sump from day to day.

use super::{Dose, DoseAnswer};
use crate::picture::{Across, Layer, Panel, Panels, Picture, Shows};
use crate::quantity::{Content, Quantity};

/// A line is drawn through so many points.
const POINTS: u32 = 48;
/// Days that are shown where nothing says how long.
const DAYS: f64 = 14.0;
/// So much longer than it lasts is shown.
const LONGER: f64 = 1.25;

pub(super) fn pictures(question: &Dose, answer: &DoseAnswer) -> Vec<Picture> {
    let lasts = answer.lasts_days.map(Quantity::get).filter(|days| *days > 0.0);
    let end = lasts.map_or(DAYS, |days| days * LONGER);
    let ago = question.last_dose.filter(|_| question.now.is_none()).map(|last| last.days_ago.get());
    let line = |content: f64, from: f64, to: f64| -> Vec<(f64, f64)> {
        (0..=POINTS)
            .map(|i| f64::from(i) / f64::from(POINTS) * (to - from))
            .map(|days| (from + days, question.left(content, days)))
            .collect()
    };
    let mut points = Vec::new();
    if let Some((last, ago)) = question.last_dose.zip(ago) {
        points.extend(line(last.content.get(), -ago, 0.0));
    } else {
        points.push((0.0, answer.now.get()));
    }
    points.extend(line(answer.after.content.get(), 0.0, end));
    let least = question.lasts_to.map(|least| Layer::limit("works down to", least.get()));
    let layers = least.into_iter().chain([Layer::line("in the sump", points)]).collect();
    let panel = Panel::new("content", Content::ROW, layers).from_zero();
    let panels = Panels { across: Across::days(), panels: vec![panel] };
    vec![Picture::new("What is in the sump", Shows::Panels(panels))]
}
