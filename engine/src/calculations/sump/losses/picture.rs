//! Where the litres of the log went, and the log beside what the sump did by the fit.

use super::answer::LossesAnswer;
use super::fit::Fitted;
use super::log::{Log, LogObservation, Seen};
use super::question::Losses;
use super::suspect::Suspect;
use super::{balance, search};
use crate::dynamics::log::TakenOut;
use crate::dynamics::working_calendar::days_between;
use crate::fluid::balance::{Balance, StreamDirection};
use crate::picture::{
    Across, Change, ChangeKind, Label, Layer, Panel, Panels, Picture, Shows, Waterfall,
};
use crate::quantity::{Concentration, Quantity, Volume};
use jiff::civil::DateTime;

/// Both pictures are of the fit that the answer is of; a log that cannot be fitted has none.
pub(super) fn pictures(question: &Losses, _: &LossesAnswer) -> Vec<Picture> {
    let Ok(log) = question.read() else { return Vec::new() };
    let Ok(explained) = search::explain(&log) else { return Vec::new() };
    let fitted = &explained.fitted;
    let Ok(balance) = balance::balance(&log, fitted) else { return Vec::new() };
    let litres = Shows::Waterfall(litres(&balance, missing(fitted)));
    let course = &fitted.course;
    let walked = |of: fn(f64, f64) -> f64| -> Vec<(f64, f64)> {
        let before = course.before.iter().map(|state| of(state.v, state.c));
        let after = course.after.iter().map(|state| of(state.v, state.c));
        // After the last entry nothing is followed.
        let after = after.map(Some).chain([None]);
        let entries = log.events.iter().zip(before.zip(after));
        entries
            .flat_map(|(event, (before, after))| {
                [Some(before), after].into_iter().flatten().map(|height| (event.day, height))
            })
            .collect()
    };
    let stretches: Vec<Layer> = fitted.suspects.iter().filter_map(|s| stretch(&log, s)).collect();
    let events = log.events.iter().flat_map(|event| {
        let added = (event.poured.litres != Some(0.0)).then(|| Layer::event("added", event.day));
        let removed =
            (event.taken != TakenOut::Nothing).then(|| Layer::event("removed", event.day));
        [added, removed].into_iter().flatten()
    });
    let mut volume = stretches.clone();
    volume.push(Layer::limit("full", question.sump.capacity.get()));
    volume.push(Layer::line("by the fit", walked(|v, _| v)));
    volume.push(read(&log, true));
    volume.extend(events);
    let mut strength = stretches;
    let share = |v: f64, c: f64| if v > 0.0 { 100.0 * c / v } else { 0.0 };
    strength.push(Layer::line("by the fit", walked(share)));
    strength.push(read(&log, false));
    let across = Across { day_zero: day_zero(&log), ..Across::days() };
    let panels = vec![
        Panel::new("volume", Volume::ROW, volume).from_zero(),
        Panel::new("concentration", Concentration::ROW, strength),
    ];
    vec![
        Picture::new("Where the litres of the log went", litres),
        Picture::new("The log, and what the sump did", Shows::Panels(Panels { across, panels })),
    ]
}

/// What was read at the entries: the volumes or the strengths.
fn read(log: &Log, volumes: bool) -> Layer {
    let point = |own: &LogObservation| match own.seen {
        Seen::Volume(i) if volumes => Some((log.events[i].day, own.value)),
        Seen::Strength(i) if !volumes => Some((log.events[i].day, own.value)),
        _ => None,
    };
    Layer::Points {
        label: "read".into(),
        points: log.observations.iter().filter_map(point).collect(),
    }
}

/// Where in the log something was not written down.
fn stretch(log: &Log, suspect: &Suspect) -> Option<Layer> {
    let last = log.events.len() - 1;
    let (label, from, to) = match suspect {
        Suspect::Addition { after, .. } => ("went in, not written down", *after, after + 1),
        Suspect::Removal { after } => ("went missing, not written down", *after, after + 1),
        Suspect::Ingress { from } => ("water runs in", *from, last),
        _ => return None,
    };
    let day = |i: usize| log.events[i.min(last)].day;
    Some(Layer::Stretch { label: label.into(), from: day(from), to: day(to) })
}

/// What went missing without being written down, L.
fn missing(fitted: &Fitted) -> f64 {
    let removals = fitted.suspects.iter().enumerate();
    removals
        .filter(|(_, suspect)| matches!(suspect, Suspect::Removal { .. }))
        .map(|(s, _)| fitted.amount(s))
        .sum()
}

/// From what was in the sump at the first entry to what was in it at the last. What went missing
/// is a part of what the balance calls removed.
fn litres(balance: &Balance, missing: f64) -> Waterfall {
    let volume = |wanted: &str| {
        let found = balance.streams.iter().find(|stream| stream.name == wanted);
        found.map_or(0.0, |stream| stream.volume.get())
    };
    let moved = balance.streams.iter().filter(|stream| {
        stream.way != StreamDirection::Stays && stream.name != "sump at the first entry"
    });
    let mut changes: Vec<Change> = Vec::new();
    for stream in moved {
        let sign = if stream.way == StreamDirection::In { 1.0 } else { -1.0 };
        let mut by = sign * stream.volume.get();
        let kind = match stream.name.as_str() {
            "added" | "removed" => ChangeKind::Written,
            "evaporated" | "evaporated while it stood" | "carried off" => ChangeKind::WorkedOut,
            _ => ChangeKind::Found,
        };
        if stream.name == "removed" {
            by += missing;
        }
        if by != 0.0 {
            changes.push(Change { name: Label::Owned(stream.name.to_string()), by, kind });
        }
    }
    if missing != 0.0 {
        let name = "went missing, not written down".into();
        changes.push(Change { name, by: -missing, kind: ChangeKind::Found });
    }
    Waterfall {
        label: "volume".into(),
        row: Volume::ROW,
        start: ("at the first entry".into(), volume("sump at the first entry")),
        changes,
        end: ("at the last entry".into(), volume("sump at the last entry")),
    }
}

/// The date and time of the log's day 0, by its own clock.
fn day_zero(log: &Log) -> Option<f64> {
    let first = log.times.clocks.as_ref()?.first()?;
    Some(days_between(DateTime::constant(1970, 1, 1, 0, 0, 0, 0), *first) - log.times.days[0])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calculation::Calculation;

    fn example() -> Losses {
        let mut document: serde_json::Value =
            serde_json::from_str(Losses::EXAMPLE).expect("an example");
        let members = document.as_object_mut().expect("an object");
        members.retain(|name, _| name != "units" && name != "reference");
        serde_json::from_value(document).expect("a question")
    }

    /// Change by change it comes from what was there to what is there, and the bucket that nobody
    /// wrote down is one of the changes.
    #[test]
    fn the_litres_close_and_what_was_not_written_down_is_marked() {
        let question = example();
        let answer = question.calculate().expect("an answer").answer;
        let pictures = pictures(&question, &answer);
        let Shows::Waterfall(litres) = &pictures[0].shows else { panic!("{pictures:?}") };
        let sum: f64 = litres.changes.iter().map(|change| change.by).sum();
        let residual = litres.start.1 + sum - litres.end.1;
        assert!(residual.abs() < 1e-6, "{residual} of {litres:?}");
        let found: Vec<&Change> =
            litres.changes.iter().filter(|change| change.kind == ChangeKind::Found).collect();
        let [found] = found[..] else { panic!("{litres:?}") };
        let super::super::LogSuspect::UnrecordedAddition(suspect) = &answer.suspects[0] else {
            panic!("{answer:?}")
        };
        assert!((found.by - suspect.size.value.get()).abs() < 1e-9);
        let Shows::Panels(log) = &pictures[1].shows else { panic!("{pictures:?}") };
        let marked = log.panels[0].layers.iter().find_map(|layer| match layer {
            Layer::Stretch { from, to, .. } => Some((*from, *to)),
            _ => None,
        });
        assert_eq!(marked, Some((suspect.from.get(), suspect.to.get())));
        // 2026-03-02 06:30 is 20,514 days and a bit after the beginning of 1970.
        let zero = log.across.day_zero.expect("the log has dates");
        assert!((zero - 20_514.0 - 6.5 / 24.0).abs() < 1e-9, "{zero}");
    }
}
