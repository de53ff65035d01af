//! The tank before and after, what goes in between, and the strength on its scale.

use super::{TopUp, TopUpAnswer};
use crate::picture::{
    ContentKind, Label, Picture, Scale, ScaleMark, Shows, VesselContent, VesselDrawn, Vessels,
};
use crate::quantity::{Concentration, Quantity, Volume};
use crate::sentence;
use crate::text::Sentence;

pub(super) fn pictures(question: &TopUp, answer: &TopUpAnswer) -> Vec<Picture> {
    let now = question.sump.strength().ok().flatten();
    let tank = Picture::new("The tank before and after", tanks(question, answer, now));
    let scale = Picture::new("How strong the fluid is", Shows::Scale(scale(question, answer, now)));
    vec![tank, scale]
}

fn tanks(question: &TopUp, answer: &TopUpAnswer, now: Option<Concentration>) -> Shows {
    let sump = &question.sump;
    let holds = Some(sump.capacity.get());
    let reading = sump.reading.as_ref();
    let reads = reading.zip(now).and_then(|(reading, c)| {
        let mark = reading.mark(c, "/sump/reading").ok()?;
        Some(sentence!("reads {}", reading.shown(mark)))
    });
    let must_read = reading.zip(answer.after.mark);
    let must_read = must_read.map(|(reading, mark)| sentence!("must read {}", reading.shown(mark)));
    let (v_0, drained) = (sump.volume.get(), answer.drain.get());
    let poured: f64 = answer.add.iter().map(|added| added.volume.get()).sum();
    let mut vessels = vec![VesselDrawn {
        name: "now".into(),
        holds,
        contents: part("in it", v_0, now.map_or(0.0, Quantity::get)),
        notes: notes(sump.volume, now, reads),
    }];
    if drained > 0.0 {
        vessels.push(VesselDrawn {
            name: "drain".into(),
            holds: None,
            contents: part("drained", drained, now.map_or(0.0, Quantity::get)),
            notes: vec![sentence!("{}", answer.drain.roughly())],
        });
    }
    if poured > 0.0 {
        vessels.push(VesselDrawn {
            name: "pour in".into(),
            holds: None,
            contents: stocks(question, answer),
            notes: answer
                .premix
                .iter()
                .flat_map(|premix| {
                    [sentence!("{}", premix.volume.roughly()), at(premix.concentration)]
                })
                .collect(),
        });
    }
    let mut contents = part("was in it", v_0 - drained, now.map_or(0.0, Quantity::get));
    let premix = answer.premix.as_ref().map_or(0.0, |premix| premix.concentration.get());
    contents.extend(part("poured in", poured, premix));
    let after = &answer.after;
    vessels.push(VesselDrawn {
        name: "afterwards".into(),
        holds,
        contents,
        notes: notes(after.volume, Some(after.concentration), must_read),
    });
    Shows::Vessels(Vessels { vessels, in_order: true })
}

/// A part of what is in a tank; nothing where there is none of it.
fn part(name: &'static str, volume: f64, concentration: f64) -> Vec<VesselContent> {
    let kind = ContentKind::of(concentration);
    let part = VesselContent { name: name.into(), volume, kind };
    if volume > 0.0 { vec![part] } else { vec![] }
}

/// What is poured in, the weakest lowest, as it is to be mixed.
fn stocks(question: &TopUp, answer: &TopUpAnswer) -> Vec<VesselContent> {
    let stocks = question.stocks();
    let mut poured: Vec<(f64, VesselContent)> = stocks
        .iter()
        .zip(&answer.add)
        .filter(|(_, added)| added.volume.get() > 0.0)
        .map(|(stock, added)| {
            let c = stock.concentration.get();
            let name = Label::Owned(added.name.to_string());
            (c, VesselContent { name, volume: added.volume.get(), kind: ContentKind::of(c) })
        })
        .collect();
    poured.sort_by(|(a, _), (b, _)| a.total_cmp(b));
    poured.into_iter().map(|(_, content)| content).collect()
}

fn at(c: Concentration) -> Sentence {
    sentence!("{}", c.roughly())
}

/// Volume, strength, and what the instrument reads.
fn notes(volume: Volume, c: Option<Concentration>, reads: Option<Sentence>) -> Vec<Sentence> {
    let c = c.filter(|_| volume.get() > 0.0);
    let reads = reads.filter(|_| c.is_some());
    let volume = sentence!("{}", volume.roughly());
    [volume].into_iter().chain(c.map(at)).chain(reads).collect()
}

fn scale(question: &TopUp, answer: &TopUpAnswer, now: Option<Concentration>) -> Scale {
    let reading = question.sump.reading.as_ref();
    let mark = |name: &'static str, at: Concentration, is_here: bool| ScaleMark {
        name: name.into(),
        at: at.get(),
        is_here,
        reads: reading.and_then(|own| {
            let mark = own.mark(at, "/sump/reading").ok()?;
            Some(sentence!("{}", own.shown(mark)))
        }),
    };
    let now = now.filter(|_| question.sump.volume.get() > 0.0);
    let mut marks: Vec<ScaleMark> = now.map(|at| mark("now", at, true)).into_iter().collect();
    marks.push(mark("afterwards", answer.after.concentration, true));
    marks.push(mark("aim for", question.target.concentration, false));
    let band = question.band.map(|band| (band.low.get(), band.high.get()));
    Scale { label: "strength".into(), row: Concentration::ROW, band, marks }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calculation::Calculation;

    fn example() -> TopUp {
        let mut document: serde_json::Value =
            serde_json::from_str(TopUp::EXAMPLE).expect("an example");
        let members = document.as_object_mut().expect("an object");
        members.retain(|name, _| name != "units" && name != "reference");
        serde_json::from_value(document).expect("a question")
    }

    fn assert_tanks_hold_what_the_answer_says(question: &TopUp) {
        let answer = question.calculate().expect("an answer").answer;
        let pictures = pictures(question, &answer);
        let Shows::Vessels(tanks) = &pictures[0].shows else { panic!("{pictures:?}") };
        let sum =
            |vessel: &VesselDrawn| -> f64 { vessel.contents.iter().map(|part| part.volume).sum() };
        let (first, last) = (&tanks.vessels[0], tanks.vessels.last().expect("a tank"));
        assert!((sum(first) - question.sump.volume.get()).abs() < 1e-9);
        assert!((sum(last) - answer.after.volume.get()).abs() < 1e-9, "{tanks:?}");
        let is_drained = tanks.vessels.iter().any(|vessel| vessel.name == "drain");
        assert_eq!(is_drained, answer.drain.get() > 0.0);
    }

    #[test]
    fn what_is_in_the_tank_afterwards_was_in_it_or_was_poured_in() {
        let mut question = example();
        assert_tanks_hold_what_the_answer_says(&question);
        // Too strong and full: some is drained first.
        question.sump.reading = None;
        question.sump.concentration = Concentration::of(14.0).ok();
        question.sump.volume = Volume::of(question.sump.capacity.get()).expect("a volume");
        question.draining = Some(super::super::Draining::ToTarget);
        assert_tanks_hold_what_the_answer_says(&question);
    }
}
