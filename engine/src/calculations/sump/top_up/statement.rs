//! The statement: what to drain and pour and what the instrument must read then, or why
//! there is nothing to pour.

use super::answer::{TopUpAnswer, WeakMakeUp};
use super::job::Job;
use super::measured::Measured;
use super::plan::TopUpPlan;
use super::{FilledVessel, TopUp};
use crate::fluid::practice::PREMIX_AT_MOST;
use crate::fluid::stock::Stock;
use crate::numerics::digits::digits_apart;
use crate::quantity::{Concentration, Measure, Quantity, Volume};
use crate::sentence;
use crate::text::{Refusal, Sentence, listed};

/// No more stocks than this are named one by one.
const NAMED: usize = 4;

/// A top-up as it is told to a person.
struct Told<'a> {
    question: &'a TopUp,
    job: Job,
    plan: TopUpPlan,
    measured: Measured,
    weak_make_up: Option<&'a WeakMakeUp>,
}

impl TopUp {
    pub(super) fn stated(&self, answer: &TopUpAnswer) -> Sentence {
        // Only the answer of another question has no plan here.
        self.told(answer).unwrap_or_else(|_| sentence!("This is no answer to this question."))
    }

    fn told(&self, answer: &TopUpAnswer) -> Result<Sentence, Refusal> {
        let stocks = self.stocks();
        let (job, plan, measured) = self.measured_of(answer)?;
        let weak_make_up = answer.weak_make_up.as_ref();
        let told = Told { question: self, job, plan, measured, weak_make_up };
        let used = told.measured.used(&stocks);
        let drains = told.measured.drain > 0.0;
        Ok(match (drains, used.is_empty()) {
            (false, true) => told.nothing_to_pour(),
            (false, false) => sentence!("{}; {}", told.pour(&used), told.outcome()),
            (true, true) => sentence!("{}; {}", told.drain(), told.outcome()),
            (true, false) => {
                sentence!("{} first. {}; {}", told.drain(), told.pour(&used), told.outcome())
            }
        })
    }
}

impl Told<'_> {
    /// Whether the strength that it comes to is the one asked for or in its band.
    fn is_right(&self) -> bool {
        /// Points of strength: rounding of binary fractions.
        const ROUNDING: f64 = 1e-9;
        let off = (self.plan.comes_to - self.job.c_t).abs();
        off <= ROUNDING || self.job.is_in_band(self.plan.comes_to)
    }

    fn drain(&self) -> Sentence {
        let volume = self.measured.measure(self.measured.drain);
        if self.job.drains_good_fluid() {
            sentence!("Draw {} off into a clean vessel", volume)
        } else {
            sentence!("Drain {} of fluid", volume)
        }
    }

    /// What to pour, `used` being the stocks from the weakest to the strongest.
    fn pour(&self, used: &[(usize, &Stock, f64)]) -> Sentence {
        let measure = |litres| self.measured.measure(litres);
        let of = |(_, stock, litres): &(usize, &Stock, f64)| {
            sentence!("{} of {}", measure(*litres), &stock.name)
        };
        let vessel = self.question.vessel();
        match (used, vessel) {
            ([only], FilledVessel::Sump) => sentence!("Pour {} in", of(only)),
            ([only], FilledVessel::StirredTank) => sentence!("Pour {} into the tank", of(only)),
            ([weak, strong], FilledVessel::Sump)
                if strong.1.concentration.get() > PREMIX_AT_MOST =>
            {
                sentence!("Pour {} into {} and pour that in", of(strong), of(weak))
            }
            ([weak, strong], FilledVessel::StirredTank) => {
                sentence!("Pour {} into the tank, then {}", of(weak), of(strong))
            }
            (several, _) if several.len() <= NAMED => {
                let list = listed(several.iter().map(of));
                match vessel {
                    FilledVessel::Sump => sentence!("Mix {} and pour that in", list),
                    FilledVessel::StirredTank => sentence!("Pour {} into the tank", list),
                }
            }
            _ => {
                let (stocks, all) = (used.len(), measure(self.measured.added()));
                match vessel {
                    FilledVessel::Sump => {
                        sentence!("Mix {} stocks as the steps say and pour in all {}", stocks, all)
                    }
                    FilledVessel::StirredTank => sentence!(
                        "Pour {} stocks into the tank as the steps say, {} in all",
                        stocks,
                        all
                    ),
                }
            }
        }
    }

    /// What comes of it, after a semicolon.
    fn outcome(&self) -> Sentence {
        if self.is_right() {
            let reading = self.question.sump.reading.as_ref();
            return sentence!("{}.", self.measured.comes_to_clause(reading));
        }
        let (is, wanted) = self.apart();
        match self.weak_make_up {
            Some(weak) => sentence!("it is then still too strong, at {}. {}", is, make_up(weak)),
            None if self.plan.comes_to > self.job.c_t => sentence!(
                "it is then at {}, stronger than the {} asked for.{}",
                is,
                wanted,
                self.would_take()
            ),
            None => sentence!(
                "it is then at {}, weaker than the {} asked for.{}",
                is,
                wanted,
                self.would_take()
            ),
        }
    }

    fn nothing_to_pour(&self) -> Sentence {
        let (is, wanted) = self.apart();
        if self.plan.holds > self.job.v_t {
            let digits = digits_apart(self.plan.holds, self.job.v_t);
            return sentence!(
                "Nothing to pour or drain: it holds {}, more than the {} asked for, and its \
                 strength of {} is in its band.",
                Volume::measure_of(self.plan.holds).rounded(digits),
                Volume::measure_of(self.job.v_t).rounded(digits),
                self.measured.comes_to.roughly()
            );
        }
        if self.is_right() {
            return sentence!(
                "Nothing to pour: it is as full as it should be, and its strength of {} is right.",
                self.measured.comes_to.roughly()
            );
        }
        match self.weak_make_up {
            Some(weak) => sentence!(
                "Nothing to pour: it is full, and too strong at {}. {}",
                is,
                make_up(weak)
            ),
            None if self.plan.comes_to > self.job.c_t => sentence!(
                "Nothing can be poured in: it is full. It stays at {}, stronger than the {} asked \
                 for.{}",
                is,
                wanted,
                self.would_take()
            ),
            None => sentence!(
                "Nothing can be poured in: it is full. It stays at {}, weaker than the {} asked \
                 for.{}",
                is,
                wanted,
                self.would_take()
            ),
        }
    }

    /// The strength that it comes to and the one asked for, to as many digits as tell them
    /// apart.
    fn apart(&self) -> (Measure, Measure) {
        let (is, wanted) = (self.measured.comes_to.get(), self.job.c_t);
        let digits = digits_apart(is, wanted);
        let measure = |c| Concentration::measure_of(c).rounded(digits);
        (measure(is), measure(wanted))
    }

    /// What reaching the target would take, as a further sentence.
    fn would_take(&self) -> Sentence {
        match self.plan.would_take {
            Some(litres) => sentence!(
                " Reaching that takes draining {} first.",
                Volume::measure_of(litres).rounded(3)
            ),
            None => sentence!(""),
        }
    }
}

/// How fluid that is too strong comes back without draining any.
fn make_up(weak: &WeakMakeUp) -> Sentence {
    let with = weak.named();
    match (weak.back_in_days, weak.at_most) {
        (Some(days), _) => sentence!(
            "Make up what it loses with {}: it is back in {}.",
            with,
            days.measure().rounded(2)
        ),
        (None, Some(_)) => sentence!(
            "Make-up of {} does not bring it back: move some into a lean sump of the same product.",
            with
        ),
        (None, None) => sentence!("Make up what it loses with {} until it is back.", with),
    }
}
