//! The pictures of a projection of waste, compared with its answer.

use super::{example, solved};
use crate::{assert_near, number};
use sumpwright_engine::calculation::Calculation;
use sumpwright_engine::calculations::shop::disposal::{Disposal, DisposalAnswer};
use sumpwright_engine::picture::{Bar, Layer, Panels, PickupYear, Shows};
use sumpwright_engine::quantity::Quantity;

/// The example's answer, its months with their pickups, and its panels.
fn drawn() -> (DisposalAnswer, PickupYear, Panels) {
    let mut question = example();
    let members = question.as_object_mut().expect("an object");
    members.retain(|name, _| name != "units" && name != "reference");
    let question: Disposal = serde_json::from_value(question).expect("a question");
    let answer = question.calculate().expect("an answer").answer;
    let pictures = Disposal::PICTURES.map(|draw| draw(&question, &answer)).expect("pictures");
    let [first, second] = &pictures[..] else { panic!("{pictures:?}") };
    let (Shows::Pickups(year), Shows::Panels(panels)) = (&first.shows, &second.shows) else {
        panic!("{pictures:?}")
    };
    (answer, year.clone(), panels.clone())
}

fn bars(layer: &Layer) -> Option<&Vec<Bar>> {
    match layer {
        Layer::Bars { bars, .. } => Some(bars),
        _ => None,
    }
}

/// The panels stack the masses of the answer, marks each pickup, and draws
/// the waste on site below its limit.
#[test]
fn the_picture_shows_the_answer() {
    let (answer, _, chart) = drawn();
    let record = solved(&example());
    let months = record["answer"]["months"].as_array().expect("months");
    let mut stacked = vec![0.0; months.len()];
    let [streams, on_site] = &chart.panels[..] else { panic!("{} panels", chart.panels.len()) };
    for bars in streams.layers.iter().filter_map(bars) {
        for (sum, bar) in stacked.iter_mut().zip(bars) {
            *sum += bar.height;
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
    let (answer, _, chart) = drawn();
    let bars: Vec<&Vec<Bar>> = chart.panels[0].layers.iter().filter_map(bars).collect();
    for month in &answer.months {
        let number = month.month.get();
        let own = || bars.iter().flat_map(|bars| bars.iter()).filter(|bar| bar.from == number);
        assert!(own().all(|bar| bar.to == number + 1.0), "a month is as wide as it is");
        let mut height = 0.0;
        let counted = month.counted.get();
        let reached = own().any(|bar| {
            height += bar.height;
            (height - counted).abs() <= 1e-9 * counted
        });
        assert!(reached, "month {number}: no bar ends at {counted}");
    }
}

/// Every pickup of the answer is in its month, on the day that the table says.
#[test]
fn pickups_are_on_their_days() {
    let (answer, year, _) = drawn();
    assert_eq!(year.months.len(), answer.months.len());
    let drawn = year.months.iter().flat_map(|month| {
        month.pickups.iter().map(|pickup| (month.number, pickup.day_of_month, pickup.amount))
    });
    let drawn: Vec<_> = drawn.collect();
    assert_eq!(drawn.len(), answer.pickups.len());
    for ((month, day, amount), pickup) in drawn.iter().zip(&answer.pickups) {
        assert_eq!((*month, *amount), (pickup.month.whole(), pickup.mass.get()));
        // A month is a twelfth of 365 days, and its first day has number 1.
        let before = (f64::from(u32::try_from(*month).expect("few")) - 1.0) * 365.0 / 12.0;
        let end = before + f64::from(u32::try_from(*day).expect("few"));
        assert!((end - 1.0..=end).contains(&pickup.day.get()), "{month}, {day}: {pickup:?}");
    }
}
