//! The tank before and after, what goes in between, and the strength on its scale.

use super::measured::Measured;
use super::{TopUp, TopUpAnswer};
use crate::picture::{
    ContentKind, Label, Picture, Scale, ScaleMark, Shows, VesselContent, VesselDrawn, Vessels,
};
use crate::quantity::{Concentration, Quantity, Volume};
use crate::sentence;
use crate::text::Sentence;

pub(super) fn pictures(question: &TopUp, answer: &TopUpAnswer) -> Vec<Picture> {
    let now = question.sump.strength().ok().flatten();
    // Only the answer of another question has no plan here.
    let Ok((_, _, measured)) = question.measured_of(answer) else { return Vec::new() };
    let tank = Picture::new("The tank before and after", tanks(question, answer, &measured, now));
    let scale = Picture::new("How strong the fluid is", Shows::Scale(scale(question, answer, now)));
    vec![tank, scale]
}

/// The amounts are those that are measured out, as the statement and the steps say them.
fn tanks(
    question: &TopUp,
    answer: &TopUpAnswer,
    measured: &Measured,
    now: Option<Concentration>,
) -> Shows {
    let sump = &question.sump;
    let holds = Some(sump.capacity.get());
    let reading = sump.reading.as_ref();
    let reads = reading.zip(now).and_then(|(reading, c)| {
        let mark = reading.mark(c, "/sump/reading").ok()?;
        Some(sentence!("reads {}", reading.shown(mark)))
    });
    let must_read = reading.zip(answer.after.mark);
    let must_read = must_read.map(|(reading, mark)| sentence!("must read {}", reading.shown(mark)));
    let (v_0, drained, poured) = (sump.volume.get(), measured.drain, measured.added());
    let mut vessels = vec![VesselDrawn {
        name: "now".into(),
        holds,
        contents: part("in it", v_0, now.map_or(0.0, Quantity::get)),
        notes: notes(v_0, now, reads),
    }];
    if drained > 0.0 {
        vessels.push(VesselDrawn {
            name: "drain".into(),
            holds: None,
            contents: part("drained", drained, now.map_or(0.0, Quantity::get)),
            notes: vec![sentence!("{}", measured.measure(drained))],
        });
    }
    let mixed = || [sentence!("{}", measured.measure(poured)), at(measured.premix)];
    if poured > 0.0 {
        vessels.push(VesselDrawn {
            name: "pour in".into(),
            holds: None,
            contents: stocks(question, measured),
            notes: answer.premix.iter().flat_map(|_| mixed()).collect(),
        });
    }
    let mut contents = part("was in it", v_0 - drained, now.map_or(0.0, Quantity::get));
    contents.extend(part("poured in", poured, measured.premix.get()));
    let after = &answer.after;
    vessels.push(VesselDrawn {
        name: "after".into(),
        holds,
        contents,
        // As full as what is measured out makes it.
        notes: notes(v_0 - drained + poured, Some(after.concentration), must_read),
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
fn stocks(question: &TopUp, measured: &Measured) -> Vec<VesselContent> {
    let stocks = question.stocks();
    let used = measured.used(&stocks).into_iter().map(|(_, stock, volume)| {
        let name = Label::Owned(stock.name.to_string());
        VesselContent { name, volume, kind: ContentKind::of(stock.concentration.get()) }
    });
    used.collect()
}

fn at(c: Concentration) -> Sentence {
    sentence!("{}", c.roughly())
}

/// Volume, strength, and what the instrument reads.
fn notes(volume: f64, c: Option<Concentration>, reads: Option<Sentence>) -> Vec<Sentence> {
    let c = c.filter(|_| volume > 0.0);
    let reads = reads.filter(|_| c.is_some());
    let volume = sentence!("{}", Volume::measure_of(volume).rounded(3));
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
    marks.push(mark("after", answer.after.concentration, true));
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
        let of = |name| tanks.vessels.iter().find(|own| own.name == name).map_or(0.0, sum);
        assert!((sum(last) - (sum(first) - of("drain") + of("pour in"))).abs() < 1e-9, "{tanks:?}");
        // What nobody measures out to the drop may be missing.
        let holds = answer.after.volume.get();
        assert!(sum(last) <= holds + 1e-9 && sum(last) > 0.98 * holds, "{tanks:?}");
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

    /// One dose is one number: that of the statement, and not the exact one beside it.
    #[test]
    fn what_is_poured_in_is_drawn_as_the_statement_says_it() {
        let mut question = example();
        question.sump.capacity = Quantity::of(800.0).expect("a capacity");
        question.sump.volume = Volume::of(715.0).expect("a volume");
        question.target.concentration = Concentration::of(7.7).expect("a strength");
        let answer = question.calculate().expect("an answer").answer;
        let said = question.stated(&answer).to_string();
        let pictures = pictures(&question, &answer);
        let Shows::Vessels(tanks) = &pictures[0].shows else { panic!("{pictures:?}") };
        let pour = tanks.vessels.iter().find(|own| own.name == "pour in").expect("it is topped up");
        for part in &pour.contents {
            let drawn = Volume::measure_of(part.volume).to_string();
            assert!(said.contains(&drawn), "{drawn} is drawn, and told is: {said}");
        }
        // 715 L at 7 % want 11.55 L of concentrate to be 800 L at 7.7 %.
        assert!(!said.contains("11.55"), "{said}");
    }
}
