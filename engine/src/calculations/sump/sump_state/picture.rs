//! Litres and strength along the log, with their intervals, what was read, and what was done.

use super::answer::{EntryEstimate, SumpStateAnswer};
use super::question::SumpState;
use super::run;
use crate::dynamics::working_calendar::days_between;
use crate::picture::{Across, Layer, Panel, Panels, Picture, Shows};
use crate::quantity::{Concentration, Quantity, Volume};
use jiff::civil::DateTime;

/// The sump along the log that was handed in, up to now.
pub(super) fn pictures(question: &SumpState, answer: &SumpStateAnswer) -> Vec<Picture> {
    let Ok(run) = run::run(question) else { return Vec::new() };
    let entries = &answer.entries;
    let now = &answer.now;
    let range = |of: fn(&EntryEstimate) -> (f64, f64), last: (f64, f64)| Layer::Range {
        label: "95 % interval".into(),
        points: entries
            .iter()
            .map(|entry| (entry.day.get(), of(entry)))
            .chain([(now.day.get(), last)])
            .map(|(day, (low, high))| (day, low, high))
            .collect(),
    };
    let line = |of: fn(&EntryEstimate) -> f64, last: f64| {
        let points = entries.iter().map(|entry| (entry.day.get(), of(entry)));
        Layer::line("by the log", points.chain([(now.day.get(), last)]).collect())
    };
    let read = |is_volume: bool| Layer::Points {
        label: "read".into(),
        points: run
            .steps
            .iter()
            .filter_map(|step| {
                let read =
                    if is_volume { step.volume?.value } else { 100.0 * step.strength?.value };
                Some((step.day, read))
            })
            .collect(),
    };
    let slow = answer.alarms.iter().map(|alarm| Layer::Stretch {
        label: "slow fault".into(),
        from: alarm.began.get(),
        to: alarm.raised.get(),
    });
    let slow: Vec<Layer> = slow.collect();
    let mut volume = slow.clone();
    volume.push(range(
        |entry| (entry.volume.low.get(), entry.volume.high.get()),
        (now.volume.low.get(), now.volume.high.get()),
    ));
    volume.push(Layer::limit("full", question.sump.capacity.get()));
    volume.push(line(|entry| entry.volume.value.get(), now.volume.value.get()));
    volume.push(read(true));
    volume.extend(run.steps.iter().flat_map(|step| {
        let (entry, day) = (&question.log[step.entry], step.day);
        let added = entry.added.is_some().then(|| Layer::event("added", day));
        let removed = (entry.removed.is_some() || entry.happened.is_some())
            .then(|| Layer::event("removed or stood", day));
        [added, removed].into_iter().flatten()
    }));
    let mut strength = slow;
    if let Some(band) = &question.band {
        strength.push(Layer::Band {
            label: "band".into(),
            low: band.low.get(),
            high: band.high.get(),
        });
    }
    strength.push(range(
        |entry| (entry.concentration.low.get(), entry.concentration.high.get()),
        (now.concentration.low.get(), now.concentration.high.get()),
    ));
    strength.push(line(|entry| entry.concentration.value.get(), now.concentration.value.get()));
    strength.push(read(false));
    let day_zero = run.times.clocks.as_ref().and_then(|clocks| clocks.first()).map(|first| {
        days_between(DateTime::constant(1970, 1, 1, 0, 0, 0, 0), *first) - run.times.days[0]
    });
    let across = Across { day_zero, ..Across::days() };
    let panels = vec![
        Panel::new("volume", Volume::ROW, volume).from_zero(),
        Panel::new("concentration", Concentration::ROW, strength),
    ];
    let panels = Shows::Panels(Panels { across, panels });
    vec![Picture::new("What the sump held, by its log", panels)]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calculation::Calculation;
    use serde_json::json;

    /// A level and a strength that are off together are drawn where they were read.
    #[test]
    fn what_was_read_is_drawn_as_it_was_read() {
        let log: Vec<_> = (0..8)
            .map(|i| {
                let off = if i == 5 { 40.0 } else { 0.0 };
                let volume = 190.0 - 6.0 * f64::from(i) - off;
                json!({ "day": i, "volume": volume, "concentration": 8.0 - off / 20.0 })
            })
            .collect();
        let document = json!({ "sump": { "capacity": 200 }, "log": log });
        let question: SumpState = serde_json::from_value(document).expect("a log");
        let answer = question.calculate().expect("it is answered").answer;
        let pictures = pictures(&question, &answer);
        let [Picture { shows: Shows::Panels(Panels { panels, .. }), .. }] = &pictures[..] else {
            panic!("panels");
        };
        let drawn = panels.iter().map(|panel| {
            let points = panel.layers.iter().find_map(|layer| match layer {
                Layer::Points { points, .. } => Some(points.clone()),
                _ => None,
            });
            points.expect("points")
        });
        let drawn: Vec<Vec<(f64, f64)>> = drawn.collect();
        assert_eq!(drawn.len(), 2);
        for (member, points) in ["volume", "concentration"].into_iter().zip(drawn) {
            // What is known at first comes of the first entry.
            assert_eq!(points.len(), 7, "{member}");
            for ((day, value), entry) in points.into_iter().zip(&log[1..]) {
                let read = (entry["day"].as_f64(), entry[member].as_f64());
                let (Some(on), Some(read)) = read else { panic!("a reading") };
                assert!((day - on).abs() + (value - read).abs() < 1e-9, "{value} for {read}");
            }
        }
    }
}
