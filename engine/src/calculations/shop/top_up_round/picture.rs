//! The walk: what each sump gets on the way, and the trips one after the other.

use super::answer::TopUpRoundAnswer;
use super::question::TopUpRound;
use crate::picture::{BarRow, BarRows, Label, Picture, Shows};
use crate::quantity::{Quantity, Volume};

/// No more premixes than this have a pattern each.
const SHOWN: usize = 4;

pub(super) fn pictures(question: &TopUpRound, answer: &TopUpRoundAnswer) -> Vec<Picture> {
    let walk = walk(question, answer);
    let trips = trips(answer);
    let own =
        walk.map(|rows| Picture::new("The walk, and what goes into each sump", Shows::Rows(rows)));
    let loads =
        trips.map(|rows| Picture::new("The trips, and what each carries", Shows::Rows(rows)));
    own.into_iter().chain(loads).collect()
}

/// The sumps that get anything, in the order of the walk, each by what goes into it.
fn walk(question: &TopUpRound, answer: &TopUpRoundAnswer) -> Option<BarRows> {
    let mut kinds: Vec<Label> = Vec::new();
    let moved = !answer.moves.is_empty();
    if moved {
        kinds.push("moved in".into());
    }
    let products = question.products().len();
    let shown = answer.premixes.len().min(SHOWN);
    for (place, premix) in answer.premixes.iter().enumerate().take(shown) {
        let last = place + 1 == shown && answer.premixes.len() > shown;
        let name = match (last, products) {
            (true, _) => format!("premix {} and on", place + 1),
            (false, 1) => format!("premix {}, {}", place + 1, premix.concentration.roughly()),
            (false, _) => {
                format!(
                    "premix {}, {}, {}",
                    place + 1,
                    premix.product,
                    premix.concentration.roughly()
                )
            }
        };
        kinds.push(name.into());
    }
    let rows: Vec<BarRow> = answer
        .sumps
        .iter()
        .filter(|sump| sump.add.get() + sump.takes.get() > 0.0)
        .map(|sump| {
            let mut parts = vec![0.0; kinds.len()];
            if moved {
                parts[0] = sump.takes.get();
            }
            if let Some(premix) = sump.premix {
                let place = premix.whole().saturating_sub(1).min(shown.saturating_sub(1));
                parts[place + usize::from(moved)] += sump.add.get();
            }
            BarRow { name: Label::Owned(sump.name.to_string()), parts }
        })
        .collect();
    (!rows.is_empty()).then(|| BarRows {
        label: "goes in".into(),
        row: Volume::ROW,
        kinds,
        fluids: Vec::new(),
        rows,
    })
}

/// The trips by their stops.
fn trips(answer: &TopUpRoundAnswer) -> Option<BarRows> {
    let trips = answer.trips.as_ref().filter(|trips| !trips.is_empty())?;
    let rows = trips.iter().enumerate().map(|(place, trip)| {
        let stops: Vec<&str> = trip.stops.iter().map(|stop| stop.sump.as_str()).collect();
        let name = format!("{}  premix {}: {}", place + 1, trip.premix.whole(), stops.join(", "));
        BarRow { name: name.into(), parts: vec![trip.volume.get()] }
    });
    Some(BarRows {
        label: "load".into(),
        row: Volume::ROW,
        kinds: vec!["load".into()],
        fluids: Vec::new(),
        rows: rows.collect(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calculation::Calculation;

    /// What is drawn into a sump is what the answer pours and moves into it.
    #[test]
    fn bars_are_what_goes_in() {
        let mut document: serde_json::Value =
            serde_json::from_str(TopUpRound::EXAMPLE).expect("an example");
        let members = document.as_object_mut().expect("an object");
        members.retain(|name, _| name != "units" && name != "reference");
        let question: TopUpRound = serde_json::from_value(document).expect("a question");
        let answer = question.calculate().expect("an answer").answer;
        let rows = walk(&question, &answer).expect("a picture").rows;
        let drawn: f64 = rows.iter().flat_map(|row| &row.parts).sum();
        let goes_in: f64 = answer.sumps.iter().map(|sump| sump.add.get() + sump.takes.get()).sum();
        assert!((drawn - goes_in).abs() < 1e-9 && drawn > 0.0, "{drawn} {goes_in}");
        assert_eq!(pictures(&question, &answer).len(), 2);
    }
}
