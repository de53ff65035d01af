//! What the sump holds at each level, as a curve and as a ruler to print.

use super::{SumpVolume, SumpVolumeAnswer};
use crate::picture::{Across, DipRuler, Layer, Panel, Panels, Picture, Shows};
use crate::quantity::{Length, Quantity, Volume};

/// A curve has at most so many points; a sump is no deeper than so many millimetres.
const POINTS_MOST: f64 = 2000.0;

/// The curve and the ruler of a sump that was measured; a dilution says nothing of its shape.
pub(super) fn pictures(question: &SumpVolume, answer: &SumpVolumeAnswer) -> Vec<Picture> {
    let Some(shape) = &question.shape else { return Vec::new() };
    let brim = shape.brim();
    let step = (brim / POINTS_MOST).max(1.0);
    let mut curve: Vec<(f64, f64)> = (0_u32..)
        .map(|line| f64::from(line) * step)
        .take_while(|level| *level < brim * (1.0 - 1e-9))
        .chain([brim])
        .map(|level| (level, shape.litres_at(level)))
        .collect();
    curve.dedup_by(|a, b| a.0 == b.0);
    let level = shape.level.get();
    let in_sump = shape.litres_at(level);
    let mut layers = vec![Layer::line("without the pipes", curve.clone())];
    layers.push(Layer::ReadOff { label: "working level".into(), at: level, height: in_sump });
    if let Some(dilution) = &answer.by_dilution {
        layers.push(Layer::limit("by dilution", dilution.volume.get()));
    }
    let across = Across { from: Some(0.0), ..Across::plain("level").of(Length::ROW) };
    let panels = Panels {
        across,
        panels: vec![Panel::new("volume", Volume::ROW, layers).from_zero()],
    };
    let ruler = DipRuler { curve, working_level: level };
    vec![
        Picture::new("What the sump holds at each level", Shows::Panels(panels)),
        Picture::new("Dip ruler to print and hold into the sump", Shows::Ruler(ruler)),
    ]
}
