//! The trips of the round one after the other, the batches to prepare, and the other way.

use super::answer::{RechargeAnswer, RoundBatch, RoundTrip};
use super::question::Recharge;
use crate::picture::{BarRow, BarRows, ContentKind, Label, Picture, Shows, TripDrawn, Trips};
use crate::quantity::{Hours, Quantity, Volume};

const MINUTES_PER_HOUR: f64 = 60.0;

pub(super) fn pictures(question: &Recharge, answer: &RechargeAnswer) -> Vec<Picture> {
    let trips = answer.trips.as_ref().filter(|trips| !trips.is_empty()).map(|own| {
        let title = "The trips of the round, and how full the tanks are";
        Picture::new(title, Shows::Trips(trips(question, answer, own)))
    });
    let batches = Picture::new("Batches to prepare", Shows::Rows(batches(question, answer)));
    let other = compared(answer)
        .map(|rows| Picture::new("The crew at work, this way and the other", Shows::Rows(rows)));
    trips.into_iter().chain(other).chain([batches]).collect()
}

fn trips(question: &Recharge, answer: &RechargeAnswer, trips: &[RoundTrip]) -> Trips {
    let timed = trips.iter().all(|trip| trip.minutes.is_some());
    let mut now = 0.0;
    let trips = trips.iter().map(|trip| {
        let from = now;
        let hours = trip.minutes.filter(|_| timed);
        now += hours.map_or(1.0, |minutes| minutes.get() / MINUTES_PER_HOUR);
        let batch = trip.batch.whole().checked_sub(1).and_then(|i| answer.batches.get(i));
        TripDrawn {
            name: batch.map_or(Label::Borrowed("batch"), |own| Label::Owned(own.product.clone())),
            machines: trip.sumps.iter().map(|name| Label::Owned(name.clone())).collect(),
            from,
            to: now,
            clean: trip.clean.get(),
            dirty: trip.dirty.get(),
            chips: trip.chips.get(),
        }
    });
    let trips = trips.collect();
    let hold = question.hold();
    let bound = |litres: f64| Some(litres).filter(|litres| litres.is_finite());
    Trips { timed, trips, clean_holds: bound(hold.clean), dirty_holds: bound(hold.dirty) }
}

/// The batches, each by what it is made of.
fn batches(question: &Recharge, answer: &RechargeAnswer) -> BarRows {
    const KINDS: [ContentKind; 3] =
        [ContentKind::Concentrate, ContentKind::Fluid, ContentKind::Water];
    let kind_of = |name: &str| {
        let stock = question.stocks.iter().find(|stock| stock.name == name);
        stock.map_or(ContentKind::Fluid, |stock| ContentKind::of(stock.concentration.get()))
    };
    let row = |batch: &RoundBatch| BarRow {
        // Per cent are the same in either system of units.
        name: format!("{}, {}", batch.product, batch.concentration.roughly()).into(),
        parts: KINDS
            .map(|kind| {
                let take = batch.take.iter().filter(|take| kind_of(&take.name) == kind);
                take.map(|take| take.volume.get()).sum::<f64>()
            })
            .to_vec(),
    };
    BarRows {
        label: "volume".into(),
        row: Volume::ROW,
        kinds: vec!["concentrate".into(), "recycled fluid".into(), "water".into()],
        fluids: KINDS.to_vec(),
        rows: answer.batches.iter().map(row).collect(),
    }
}

fn compared(answer: &RechargeAnswer) -> Option<BarRows> {
    let (other, here) = (answer.another_way.as_ref()?, answer.crew_hours?);
    let row = |name: Label, hours: Hours| BarRow { name, parts: vec![hours.get()] };
    Some(BarRows {
        label: "crew at work".into(),
        row: Hours::ROW,
        kinds: vec!["crew at work".into()],
        fluids: Vec::new(),
        rows: vec![
            row("this round".into(), here),
            row(Label::Owned(other.name.clone()), other.crew_hours),
        ],
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calculation::Calculation;

    fn example() -> Recharge {
        let mut document: serde_json::Value =
            serde_json::from_str(Recharge::EXAMPLE).expect("an example");
        let members = document.as_object_mut().expect("an object");
        members.retain(|name, _| name != "units" && name != "reference");
        serde_json::from_value(document).expect("a question")
    }

    /// The crew is one: no trip begins before the one before it has ended, and the last ends when
    /// the answer says that the round does.
    #[test]
    fn trips_follow_each_other() {
        let question = example();
        let answer = question.calculate().expect("an answer").answer;
        let pictures = pictures(&question, &answer);
        let Shows::Trips(trips) = &pictures[0].shows else { panic!("{pictures:?}") };
        assert!(trips.timed && trips.trips.len() == answer.trips.as_ref().map_or(0, Vec::len));
        assert!(trips.trips.windows(2).all(|pair| pair[0].to == pair[1].from));
        let end = trips.trips.last().expect("a trip").to;
        assert!((end - answer.crew_hours.expect("timed").get()).abs() < 1e-9, "{end}");
        let full = |holds: Option<f64>, volume: f64| holds.is_none_or(|most| volume <= most + 1e-6);
        for trip in &trips.trips {
            assert!(full(trips.clean_holds, trip.clean) && full(trips.dirty_holds, trip.dirty));
        }
    }

    #[test]
    fn batches_are_as_large_as_what_goes_into_them() {
        let question = example();
        let answer = question.calculate().expect("an answer").answer;
        for (row, batch) in batches(&question, &answer).rows.iter().zip(&answer.batches) {
            let parts: f64 = row.parts.iter().sum();
            assert!((parts - batch.volume.get()).abs() < 1e-6 * parts, "{row:?}");
        }
    }
}
