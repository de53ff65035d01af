//! What is taken out and what is left, by size.

use super::distribution::SizeDistribution;
use super::grading::Graded;
use super::{Separation, SeparationAnswer};
use crate::fluid::properties::spoken;
use crate::handbook::conversions::METRES_PER_MICROMETRE;
use crate::picture::{Across, Bar, Layer, Panel, Panels, Picture, Shows};
use crate::quantity::{ParticleSize, Quantity, Share};

/// A log-normal distribution is drawn in so many classes of size.
const CLASSES: u32 = 16;
/// It is drawn to so many standard deviations either way.
const FAR: f64 = 2.5;
/// Points in a class.
const POINTS: u32 = 40;

/// A panel for each property of which the sizes are known; none where there are none.
pub(super) fn pictures(question: &Separation, _: &SeparationAnswer) -> Vec<Picture> {
    let graded = question.separator.graded(question.throughput, "/throughput", "/separator");
    let graded = graded.unwrap_or_default();
    let panels: Vec<Panel> = graded.iter().filter_map(panel).collect();
    if panels.is_empty() {
        return Vec::new();
    }
    let across = Across { by_ratio: true, ..Across::plain("size").of(ParticleSize::ROW) };
    let panels = Shows::Panels(Panels { across, panels });
    vec![Picture::new("What one pass takes out and what it leaves, by size", panels)]
}

fn panel(graded: &Graded<'_>) -> Option<Panel> {
    let classes = match graded.distribution.as_ref()? {
        SizeDistribution::LogNormal { median, s } if *s > 0.0 => log_normal(graded, *median, *s),
        SizeDistribution::LogNormal { median, .. } => listed(graded, &[(*median, 1.0)]),
        SizeDistribution::List(classes) => listed(graded, classes),
    };
    let bars = |left: bool| {
        let bars = classes.iter().map(|class| Bar {
            from: class.from / METRES_PER_MICROMETRE,
            to: class.to / METRES_PER_MICROMETRE,
            height: 100.0 * if left { class.left } else { class.taken },
        });
        bars.collect::<Vec<_>>()
    };
    let mut layers = vec![
        Layer::Bars { label: "left in the fluid".into(), bars: bars(true) },
        Layer::Bars { label: "taken out".into(), bars: bars(false) },
    ];
    let (first, last) = (classes.first()?.from, classes.last()?.to);
    let within = |size: &f64| (first..=last).contains(size);
    let cuts = [
        ("half is taken out", graded.grade.half_from()),
        ("all is taken out from here", graded.grade.all_from()),
    ];
    let cuts = cuts.into_iter().filter_map(|(label, size)| {
        size.filter(within).map(|size| Layer::event(label, size / METRES_PER_MICROMETRE))
    });
    layers.extend(cuts);
    let label = format!("share of the {}", spoken(&graded.particles.property));
    Some(Panel::new(label, Share::ROW, layers).from_zero())
}

/// A class of sizes (m): what is left of it and what is taken out, of the whole mass.
struct SizeClassLeft {
    from: f64,
    to: f64,
    left: f64,
    taken: f64,
}

/// Classes of equal ratio; what lies beyond the first and the last is left out.
fn log_normal(graded: &Graded<'_>, median: f64, s: f64) -> Vec<SizeClassLeft> {
    let width = 2.0 * FAR / f64::from(CLASSES);
    let step = width / f64::from(POINTS);
    let classes = (0..CLASSES).map(|class| {
        let begin = -FAR + f64::from(class) * width;
        let (mut left, mut taken) = (0.0, 0.0);
        for point in 0..POINTS {
            let z = begin + (f64::from(point) + 0.5) * step;
            let mass = (-z * z / 2.0).exp() / (2.0 * std::f64::consts::PI).sqrt() * step;
            let share = graded.grade.share(median * (s * z).exp());
            left += mass * (1.0 - share);
            taken += mass * share;
        }
        let size = |z: f64| median * (s * z).exp();
        SizeClassLeft { from: size(begin), to: size(begin + width), left, taken }
    });
    classes.collect()
}

/// The sizes of a list, each as wide as half the way to its neighbours.
fn listed(graded: &Graded<'_>, classes: &[(f64, f64)]) -> Vec<SizeClassLeft> {
    /// How far an outermost size reaches where it has no neighbour, as a ratio.
    const ALONE: f64 = 1.4;
    let mut sizes: Vec<(f64, f64)> = Vec::new();
    for (size, share) in classes {
        match sizes.last_mut() {
            Some(last) if last.0 == *size => last.1 += share,
            _ => sizes.push((*size, *share)),
        }
    }
    let between = |a: usize, b: usize| (sizes[a].0 * sizes[b].0).sqrt();
    let last = sizes.len() - 1;
    let reach = |i: usize, neighbour: Option<usize>| {
        neighbour.map_or(ALONE.sqrt(), |other| {
            let edge = between(i, other);
            (edge / sizes[i].0).max(sizes[i].0 / edge)
        })
    };
    let classes = sizes.iter().enumerate().map(|(i, (size, mass))| {
        let below = i.checked_sub(1);
        let above = (i < last).then_some(i + 1);
        // At the ends a class reaches as far out as it reaches in.
        let (down, up) = (reach(i, below.or(above)), reach(i, above.or(below)));
        let share = graded.grade.share(*size);
        SizeClassLeft {
            from: size / down,
            to: size * up,
            left: mass * (1.0 - share),
            taken: mass * share,
        }
    });
    classes.collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calculation::Calculation;

    fn example() -> Separation {
        let mut document: serde_json::Value =
            serde_json::from_str(Separation::EXAMPLE).expect("an example");
        let members = document.as_object_mut().expect("an object");
        members.retain(|name, _| name != "units" && name != "reference");
        serde_json::from_value(document).expect("a question")
    }

    /// Over all sizes the bars come to what the answer says is taken out.
    #[test]
    fn the_bars_come_to_the_share_that_is_taken_out() {
        let question = example();
        let answer = question.calculate().expect("an answer").answer;
        let pictures = pictures(&question, &answer);
        let Shows::Panels(panels) = &pictures[0].shows else { panic!("{pictures:?}") };
        assert_eq!(panels.panels.len(), answer.separated.len());
        for (panel, separated) in panels.panels.iter().zip(&answer.separated) {
            let sums = panel.layers.iter().filter_map(|layer| match layer {
                Layer::Bars { bars, .. } => Some(bars.iter().map(|bar| bar.height).sum::<f64>()),
                _ => None,
            });
            let sums: Vec<f64> = sums.collect();
            let [left, taken] = sums[..] else { panic!("{panel:?}") };
            // A log-normal distribution is drawn to 2.5 standard deviations: all but 1.2 %.
            assert!((left + taken - 100.0).abs() < 1.3, "{left} and {taken}");
            let removed = separated.removed.get();
            assert!((taken - removed).abs() < 1.3, "{taken} and {removed}");
        }
    }
}
