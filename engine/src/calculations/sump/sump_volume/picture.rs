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
    let levels = (0_u32..).map(|line| f64::from(line) * step);
    let below = levels.take_while(|level| *level < brim * (1.0 - 1e-9));
    let levels = below.chain([brim]);
    let mut curve: Vec<(f64, f64)> = levels.map(|level| (level, shape.litres_at(level))).collect();
    curve.dedup_by(|a, b| a.0 == b.0);
    let level = shape.level.get();
    let in_sump = shape.litres_at(level);
    let mut layers = vec![Layer::line("without the pipes", curve.clone())];
    layers.push(Layer::ReadOff { label: "working level".into(), at: level, height: in_sump });
    if let Some(dilution) = &answer.by_dilution {
        layers.push(Layer::limit("by dilution", dilution.volume.get()));
    }
    let across = Across { from: Some(0.0), ..Across::plain("level").of(Length::ROW) };
    let panels =
        Panels { across, panels: vec![Panel::new("volume", Volume::ROW, layers).from_zero()] };
    let ruler = DipRuler { curve, working_level: level };
    vec![
        Picture::new("What the sump holds at each level", Shows::Panels(panels)),
        Picture::new("Dip ruler to print and hold into the sump", Shows::Ruler(ruler)),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calculation::Calculation;

    fn example() -> SumpVolume {
        let mut document: serde_json::Value =
            serde_json::from_str(SumpVolume::EXAMPLE).expect("an example");
        let members = document.as_object_mut().expect("an object");
        members.retain(|name, _| name != "units" && name != "reference");
        serde_json::from_value(document).expect("a question")
    }

    /// The ruler and the dip table say the same at every line of the table.
    #[test]
    fn the_ruler_says_what_the_dip_table_says() {
        let question = example();
        let answer = question.calculate().expect("an answer").answer;
        let pictures = pictures(&question, &answer);
        let Shows::Ruler(ruler) = &pictures[1].shows else { panic!("{pictures:?}") };
        assert!(answer.dip_table.len() > 5);
        for line in &answer.dip_table {
            let (level, litres) = (line.level.get(), line.volume.get());
            assert!((ruler.litres_at(level) - litres).abs() < 0.02 * litres.max(1.0), "{line:?}");
        }
        assert!(ruler.curve.is_sorted_by(|a, b| a.0 < b.0 && a.1 <= b.1));
    }
}
