//! The statement: how strong, where in its band, between which marks to keep it.

use super::{ConcentrationAnswer, ConcentrationOfReading};
use crate::fluid::band::{Band, Standing};
use crate::numerics::digits::digits_apart;
use crate::quantity::{Concentration, Quantity};
use crate::sentence;
use crate::text::Sentence;

impl ConcentrationOfReading {
    pub(super) fn stated(&self, answer: &ConcentrationAnswer) -> Sentence {
        let c = answer.concentration;
        let (Some(band), Some(marks), Some(standing)) =
            (&self.band, &answer.marks, answer.standing)
        else {
            return alone(answer);
        };
        let marks = [marks.low, marks.target, marks.high].map(|mark| self.reading.shown(mark));
        let [low, target, high] = marks;
        sentence!(
            "{} Keep the reading between {} and {}, and aim for {}.",
            is(c, band, standing),
            low,
            high,
            target
        )
    }
}

/// The strength where no band was given.
fn alone(answer: &ConcentrationAnswer) -> Sentence {
    let c = answer.concentration;
    match answer.parts_of_water {
        Some(parts) => sentence!(
            "The fluid is at {}: {} parts of water to one of concentrate.",
            c.roughly(),
            parts.roughly()
        ),
        None => sentence!("The fluid is at {}: there is no concentrate in it.", c.roughly()),
    }
}

/// The strength and its standing, to as many digits as tell it from the band's end.
fn is(c: Concentration, band: &Band, standing: Standing) -> Sentence {
    let beyond = |end: Concentration| {
        let digits = digits_apart(c.get(), end.get());
        (c.measure().rounded(digits), end.measure().rounded(digits))
    };
    match standing {
        Standing::InBand => sentence!("The fluid is at {}, in its band.", c.roughly()),
        Standing::Below => {
            let (c, end) = beyond(band.low);
            sentence!("The fluid is too weak: {}, below its band from {} on.", c, end)
        }
        Standing::Above => {
            let (c, end) = beyond(band.high);
            sentence!("The fluid is too strong: {}, above its band up to {}.", c, end)
        }
    }
}
