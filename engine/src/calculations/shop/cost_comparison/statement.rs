//! The cheapest way in a sentence, and what would make it another.

use super::{BreakEven, CostComparison, CostComparisonAnswer, WayCost};
use crate::quantity::{Measure, Quantity, Share};
use crate::sentence;
use crate::text::Sentence;

/// Costs within this share of each other are the same.
const SAME: f64 = 1e-9;
/// Up to this many times what is given a change is said in per cent.
const IN_PER_CENT: f64 = 2.0;

impl CostComparison {
    /// The cheapest way, by how much it is the cheapest, and how long that holds.
    pub(super) fn told(&self, answer: &CostComparisonAnswer) -> Sentence {
        let Some(best) = answer.way(&answer.cheapest) else { return sentence!("") };
        let money = |amount: f64| {
            let amount = Measure::bare(amount).rounded(3);
            if let Some(currency) = &answer.currency {
                sentence!("{} {}", amount, currency)
            } else {
                sentence!("{}", amount)
            }
        };
        let yearly = money(best.cost_per_year.get());
        let others = answer.ways.iter().filter(|way| way.name != best.name);
        let present = |way: &WayCost| way.present_cost.get();
        let next = others.min_by(|a, b| present(a).total_cmp(&present(b)));
        let Some(next) = next else {
            return sentence!("\"{}\" costs {} a year over {}.", &best.name, yearly, self.span());
        };
        let less = present(next) - present(best);
        if less <= SAME * present(next).abs().max(present(best).abs()) {
            return sentence!(
                "\"{}\" and \"{}\" cost the same, {} a year over {}.",
                &best.name,
                &next.name,
                yearly,
                self.span()
            );
        }
        sentence!(
            "\"{}\" is the cheapest at {} a year, by {} over {} against \"{}\".{}",
            &best.name,
            yearly,
            money(less),
            self.span(),
            &next.name,
            stays(answer)
        )
    }

    fn span(&self) -> Sentence {
        let years = self.horizon_years;
        let years =
            if years.get() > 1.0 { sentence!("{} years", years) } else { sentence!("one year") };
        if self.rate() > 0.0 { sentence!("{} in money of now", years) } else { years }
    }
}

/// Until when the cheapest way stays the cheapest: to the nearest break-even point of an
/// input, as far as one was found, else as far as the inputs were varied.
fn stays(answer: &CostComparisonAnswer) -> Sentence {
    let alone = answer.break_even.iter().filter(|even| even.inputs.len() == 1);
    let nearest = alone
        .filter_map(|even| Some((even, away(even, &answer.cheapest)?)))
        .min_by(|(_, a), (_, b)| (a.factor - 1.0).abs().total_cmp(&(b.factor - 1.0).abs()));
    if let Some((even, away)) = nearest {
        return sentence!(
            " It stays so unless \"{}\" {}: then \"{}\" costs less.",
            &even.what,
            changed(away.factor),
            away.wins
        );
    }
    match &answer.sensitivity {
        Some(sensitivity) if sensitivity.choice_changes => sentence!(
            " That is close: an input that is off by {} makes another way the cheapest.",
            sensitivity.varied_by
        ),
        Some(sensitivity) => {
            sentence!(" It stays so where one input is off by {}.", sensitivity.varied_by)
        }
        None => sentence!(""),
    }
}

/// A break-even point: how many times what is given, and the way that wins beyond it.
struct Away<'a> {
    factor: f64,
    wins: &'a str,
}

/// The break-even point nearest to what is given at which another way takes over from
/// `cheapest`.
fn away<'a>(even: &'a BreakEven, cheapest: &str) -> Option<Away<'a>> {
    let points = even.at.iter().filter_map(|point| {
        let factor = point.factor?.get();
        let (now, wins) = if factor > 1.0 {
            (&point.cheaper_below, &point.cheaper_above)
        } else {
            (&point.cheaper_above, &point.cheaper_below)
        };
        (now == cheapest).then_some(Away { factor, wins })
    });
    points.min_by(|a, b| (a.factor - 1.0).abs().total_cmp(&(b.factor - 1.0).abs()))
}

/// "rises by 12 %", "falls by 30 %", "rises to 4.2 times what was given".
fn changed(factor: f64) -> Sentence {
    let by = Share::measure_of_fraction((factor - 1.0).abs()).rounded(2);
    if factor > IN_PER_CENT {
        let times = Measure::bare(factor).rounded(2);
        sentence!("rises to {} times the value given", times)
    } else if factor > 1.0 {
        sentence!("rises by {}", by)
    } else {
        sentence!("falls by {}", by)
    }
}
