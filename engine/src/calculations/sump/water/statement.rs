//! The statement: what to take of each water and how hard it is then, or how hard each is.

use super::hardness::class;
use super::{BlendedWater, HardnessInUnits, Water, WaterAnswer};
use crate::fluid::hardness::HardnessUnit;
use crate::fluid::measuring::MeasuringStep;
use crate::quantity::{Content, Measure, Quantity, Volume};
use crate::sentence;
use crate::text::{Sentence, listed};

/// So many waters are named.
const NAMED: usize = 4;

impl Water {
    pub(super) fn in_short(&self, answer: &WaterAnswer) -> Sentence {
        let first = match &answer.blend {
            Some(blend) => self.mixed(blend),
            None => self.each(answer),
        };
        match answer.made_per_day {
            Some(rate) if rate.get() == 0.0 => {
                sentence!(
                    "{} The shop's own mixed bed or membrane has nothing to make for it.",
                    first
                )
            }
            Some(rate) => sentence!(
                "{} The shop's own mixed bed or membrane has to make {} a day.",
                first,
                Volume::measure_of(rate.get()).rounded(3)
            ),
            None => first,
        }
    }

    fn mixed(&self, blend: &BlendedWater) -> Sentence {
        let litres = blend.take.iter().map(|take| take.volume.get());
        let step = MeasuringStep::of(None, litres.clone());
        let taken = blend.take.iter().filter(|take| take.volume.get() > 0.0);
        let parts = taken.take(NAMED).map(|take| {
            sentence!("{} of {}", step.measure(step.round(take.volume.get())), &take.name)
        });
        let parts: Vec<Sentence> = parts.collect();
        let whole = Volume::measure_of(litres.sum()).rounded(4);
        let parts = if parts.len() == 1 {
            sentence!("Take {} alone", listed(parts))
        } else {
            sentence!("Mix {}: {} in all", listed(parts), whole)
        };
        match blend.hardness {
            Some(hardness) => sentence!("{}. That has {}", parts, self.is(hardness)),
            None => sentence!("{}.", parts),
        }
    }

    /// The unit in which the caller thinks of hardness.
    fn unit(&self) -> HardnessUnit {
        let window = self.hardness.map(|window| window.unit);
        let first = self.waters.iter().find_map(|water| water.hardness).map(|h| h.unit);
        window.or(first).unwrap_or(HardnessUnit::MgPerLitre)
    }

    fn is(&self, hardness: HardnessInUnits) -> Sentence {
        let mg = hardness.mg_per_litre.get();
        let class = class(mg).words();
        let shown = Content::measure_of(mg).rounded(3);
        let unit = self.unit();
        if unit == HardnessUnit::MgPerLitre {
            return sentence!("a hardness of {} as calcium carbonate: {}.", shown, class);
        }
        let own = Measure::bare(mg / unit.mg_per_litre()).rounded(3);
        sentence!(
            "a hardness of {} {}, {} as calcium carbonate: {}.",
            own,
            unit.symbol(),
            shown,
            class
        )
    }

    fn each(&self, answer: &WaterAnswer) -> Sentence {
        let waters = answer.waters.iter().take(NAMED).map(|water| match water.hardness {
            Some(hardness) => {
                sentence!("{} has {}", &water.name, self.is(hardness))
            }
            None => sentence!("The hardness of {} is not known.", &water.name),
        });
        let mut waters = waters;
        let first = waters.next().unwrap_or_else(|| sentence!("There is no water."));
        waters.fold(first, |all, next| sentence!("{} {}", all, next))
    }
}
