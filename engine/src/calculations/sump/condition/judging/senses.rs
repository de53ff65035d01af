//! What eye, nose, thermometer and calendar tell.

use super::super::answer::Observation;
use super::super::bounds::{Bounds, DAYS_STANDING};
use super::super::question::{Condition, Foam, FungalGrowth, Look, Rust, Smell};
use super::super::rules;
use super::Judged;
use crate::quantity::{Days, Quantity, Temperature};
use crate::sentence;

impl Condition {
    pub(super) fn judged_fungi(&self) -> Option<Judged> {
        let (row, text) = match self.fungi?.growth {
            FungalGrowth::None => (None, "no growth of fungi"),
            FungalGrowth::Slight => (Some(rules::SOME_FUNGI), "slight growth of fungi"),
            FungalGrowth::Moderate => (Some(rules::FUNGI), "moderate growth of fungi"),
            FungalGrowth::Heavy => (Some(rules::FUNGI), "heavy growth of fungi"),
        };
        Some(Judged::new(Observation::Fungi, row, sentence!("{}", text), rules::FUNGI.source))
    }

    pub(super) fn judged_temperature(&self, bounds: &Bounds) -> Option<Judged> {
        let is = self.temperature?;
        let most = bounds.temperature;
        let is_warm = is.get() > most.at;
        let (shown, bound) = (is.roughly(), Temperature::measure_of(most.at).rounded(3));
        let text = if is_warm {
            sentence!("at {}, above {}, where microbes thrive", shown, bound)
        } else {
            sentence!("at {}, not above {}", shown, bound)
        };
        let row = is_warm.then_some(rules::WARM);
        Some(Judged::new(Observation::Temperature, row, text, rules::WARM.source).by(most))
    }

    pub(super) fn judged_age(&self, bounds: &Bounds) -> Option<Judged> {
        let is = self.days_since_fill?;
        let (shown, most) = (is.roughly(), Days::measure_of(bounds.days.at));
        let judged =
            |row, text| Judged::new(Observation::Age, row, text, rules::OLD.source).by(bounds.days);
        Some(if is.get() >= bounds.days.at {
            judged(
                Some(rules::TOO_OLD),
                sentence!("filled {} ago, due for a clean-out after {}", shown, most),
            )
        } else if is.get() >= bounds.days_seen {
            let text =
                sentence!("filled {} ago, due for a clean-out after {}, so plan it", shown, most);
            judged(Some(rules::OLD), text)
        } else {
            judged(None, sentence!("filled {} ago, due for a clean-out after {}", shown, most))
        })
    }

    pub(super) fn judged_standing(&self) -> Option<Judged> {
        let is = self.days_standing?;
        let stood = is.get() >= DAYS_STANDING;
        let text = if stood {
            sentence!("stood still for {}", is.roughly())
        } else {
            sentence!("stood still for less than {}", Days::measure_of(DAYS_STANDING))
        };
        let row = stood.then_some(rules::STOOD);
        Some(Judged::new(Observation::StandingStill, row, text, rules::STOOD.source))
    }

    pub(super) fn judged_smell(&self) -> Option<Judged> {
        let (row, text) = match self.smell? {
            Smell::Fresh => (None, "smells fresh"),
            Smell::Musty => (Some(rules::MUSTY), "smells musty or sour"),
            Smell::RottenEggs => (
                Some(rules::ROTTEN_EGGS),
                "smells of rotten eggs, which is hydrogen sulphide: it dulls the nose and then kills",
            ),
        };
        Some(Judged::new(Observation::Smell, row, sentence!("{}", text), rules::MUSTY.source))
    }

    pub(super) fn judged_look(&self) -> Option<Judged> {
        let (row, text) = match self.look? {
            Look::AsNew => (None, "looks as new"),
            Look::OilOnTop => (Some(rules::OIL_ON_TOP), "oil swims on it"),
            Look::Darker => (Some(rules::DARKER), "darker or grey, with fines in it"),
            Look::Slimy => (Some(rules::SLIMY), "slime on walls or filters"),
            Look::Split => (Some(rules::SPLIT), "split into oil and water"),
        };
        Some(Judged::new(Observation::Look, row, sentence!("{}", text), rules::SPLIT.source))
    }

    pub(super) fn judged_foam(&self) -> Option<Judged> {
        let (row, text) = match self.foam? {
            Foam::None => (None, "no foam that stays"),
            Foam::Some => (Some(rules::FOAMS), "some foam that stays"),
            Foam::OverTheEdge => (Some(rules::FOAMS_OVER), "foam comes over the edge"),
        };
        Some(Judged::new(Observation::Foam, row, sentence!("{}", text), rules::FOAMS.source))
    }

    pub(super) fn judged_rust(&self) -> Option<Judged> {
        let (row, text) = match self.rust? {
            Rust::None => (None, "nothing rusts"),
            Rust::OnParts => (Some(rules::RUSTS), "parts rust"),
            Rust::OnMachine => (Some(rules::RUSTS), "the machine rusts"),
        };
        Some(Judged::new(Observation::Rust, row, sentence!("{}", text), rules::RUSTS.source))
    }

    pub(super) fn judged_skin(&self) -> Option<Judged> {
        let complains = self.skin_complaints?;
        let text = if complains {
            "somebody has complaints of the skin or in breathing"
        } else {
            "nobody has complaints of the skin or in breathing"
        };
        let row = complains.then_some(rules::SKIN);
        Some(Judged::new(Observation::Skin, row, sentence!("{}", text), rules::SKIN.source))
    }
}
