//! The chart of a projection of waste, compared with its answer.

use super::{example, solved};
use crate::{assert_near, number};
use sumpwright_engine::calculation::Calculation;
use sumpwright_engine::calculations::shop::disposal::{Disposal, DisposalAnswer};
use sumpwright_engine::chart::{Chart, Layer};
use sumpwright_engine::quantity::Quantity;

/// The example's answer and its chart.
fn drawn() -> (DisposalAnswer, Chart) {
    let mut question = example();
    let members = question.as_object_mut().expect("an object");
    members.retain(|name, _| name != "units" && name != "reference");
    let question: Disposal = serde_json::from_value(question).expect("a question");
    let answer = question.calculate().expect("an answer").answer;
    let chart = Disposal::CHART.and_then(|draw| draw(&question, &answer)).expect("a picture");
    (answer, chart)
}

/// The chart stacks the masses of the answer, marks each pickup, and draws
/// the waste on site below its limit.
#[test]
fn the_picture_shows_the_answer() {
    let (answer, chart) = drawn();
    let record = solved(&example());
    let months = record["answer"]["months"].as_array().expect("months");
    let mut stacked = vec![0.0; months.len()];
    let [streams, on_site] = &chart.panels[..] else { panic!("{} panels", chart.panels.len()) };
    for layer in &streams.layers {
        if let Layer::Bars { points, .. } = layer {
            for (sum, (_, height)) in stacked.iter_mut().zip(points) {
                *sum += height;
            }
        }
    }
    for (stacked, month) in stacked.iter().zip(months) {
        assert_near(*stacked, number(month, "/mass"), 1e-6);
    }
    let pickups = record["answer"]["pickups"].as_array().expect("pickups").len();
    for panel in [streams, on_site] {
        let events = panel.layers.iter().filter(|layer| matches!(layer, Layer::Event { .. }));
        assert_eq!(events.count(), pickups);
        assert!(panel.layers.iter().any(|layer| matches!(layer, Layer::Limit { .. })));
    }
    let lines = on_site.layers.iter().filter_map(|layer| match layer {
        Layer::Line { points, .. } => Some(points),
        _ => None,
    });
    let points: Vec<&(f64, f64)> = lines.flatten().collect();
    assert!(points.windows(2).all(|pair| pair[0].0 <= pair[1].0));
    let drawn = points.iter().map(|(_, kilograms)| *kilograms).fold(0.0, f64::max);
    let picked = answer.pickups.iter().map(|pickup| pickup.mass.get());
    let left = answer.months.iter().filter_map(|month| month.on_site.map(Quantity::get));
    assert_near(drawn, picked.chain(left).fold(0.0, f64::max), 1e-9);
    assert_eq!(points.iter().filter(|(_, kilograms)| *kilograms == 0.0).count(), pickups + 1);
}

/// A generator category is judged by what counts, so in each month the bars of the streams
/// that count stand lowest: together they are as high as what was counted.
#[test]
fn what_counts_stands_lowest() {
    let (answer, chart) = drawn();
    let bars = chart.panels[0].layers.iter().filter_map(|layer| match layer {
        Layer::Bars { points, .. } => Some(points),
        _ => None,
    });
    let bars: Vec<_> = bars.collect();
    let counting = answer.streams.iter().filter(|stream| stream.counts).count();
    assert!(0 < counting && counting < bars.len(), "{counting} of {}", bars.len());
    for month in &answer.months {
        let number = month.month.get();
        let lowest = bars[..counting].iter().flat_map(|points| points.iter());
        let height: f64 = lowest.filter(|(at, _)| *at == number).map(|(_, mass)| mass).sum();
        assert_near(height, month.counted.get(), 1e-9 * height);
    }
}
