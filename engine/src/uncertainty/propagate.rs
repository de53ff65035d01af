//! One calculation, asked again and again.

use super::answer::{
    AnswerUncertainty, BudgetShare, FirstOrder, FirstOrderStanding, LargestShare,
    NumberUncertainty, RefusedDraws,
};
use super::draws::{Effort, count};
use super::inputs::Asked;
use super::numbers::Trace;
use super::question::Open;
use super::{ByPointer, POINTER, SHARES_MOST};
use crate::calculation::Calculation;
use crate::numerics::digits::round_to;
use crate::numerics::distribution::NORMAL_95;
use crate::numerics::first_order;
use crate::numerics::monte_carlo::{self, COVERAGE, Scatter, errors_of_ends};
use crate::numerics::order;
use crate::numerics::parallel::in_parallel;
use crate::quantity::{Count, Deviation, Figure, Quantity, Sensitivity, Share, VarianceShare};
use crate::sentence;
use crate::text::{Kind, Refusal, Telling, telling};
use serde_json::Value;

/// Where the answer lies in the document that is handed back.
const ANSWER: &str = "/answer";
/// A bound on the work: draws times the numbers in the question times those in
/// the question and its answer together. A calculation weighs what it is given
/// against each other, and writes what it answers once.
const WORK: usize = 300_000_000;

/// How sure `plain` is, the answer to `asked_of`, which is `question` as a document in
/// metric units with the members of the question and no others.
pub fn propagate<C: Calculation>(
    asked_of: &C,
    question: &Value,
    plain: &C::Answer,
    asked: &Asked,
    threads: usize,
) -> Result<AnswerUncertainty, Refusal> {
    let pointers: Vec<&str> = asked.pointers.iter().map(String::as_str).collect();
    let open = Open::new(question, &pointers);
    let trace = Trace::of(plain, ANSWER);
    check_room(trace.numbers.len(), pointers.len())?;
    let draws = draws(asked, open.numbers(), trace.numbers.len(), asked_of.work(plain))?;
    let model = |x: &[f64], y: &mut Vec<f64>| {
        if asked.rows.iter().zip(x).any(|(row, x)| !row.admits(*x)) {
            return Err(Kind::OutOfRange);
        }
        let question = open.read::<C>(x).map_err(|_| Kind::OutOfRange)?;
        let outcome =
            telling(Telling::Numbers, || question.calculate()).map_err(|refusal| refusal.kind)?;
        trace.follow(&outcome.answer, ANSWER, y);
        Ok(())
    };
    of_model(&trace.numbers, &model, asked, draws, threads)
}

/// The numbers of an answer, from those of a question; why there is none otherwise.
type Model<'a> = dyn Fn(&[f64], &mut Vec<f64>) -> Result<(), Kind> + Sync + 'a;

/// How much work it will be to answer `question`, which is `asked_of` as a document, and to say how sure
/// the answer is where that is asked: in handled numbers, by its own sizes.
pub fn work_ahead<C: Calculation>(asked_of: &C, question: &Value, asked: Option<&Asked>) -> usize {
    let (numbers, inside) = (Open::new(question, &[]).numbers(), asked_of.work_ahead());
    // An answer is taken to have as many numbers as its question; where it has more, `inside` says so.
    let draws = asked.map_or(0, |asked| {
        let draws = draws(asked, numbers, numbers, inside).unwrap_or(0);
        draws + 4 * asked.pointers.len()
    });
    (numbers + inside).saturating_mul(1 + draws)
}

/// How sure the numbers of a plain answer are, each with its pointer.
fn of_model(
    plain: &[(String, f64)],
    model: &Model<'_>,
    asked: &Asked,
    draws: usize,
    threads: usize,
) -> Result<AnswerUncertainty, Refusal> {
    let (pointers, plain): (Vec<String>, Vec<f64>) = plain.iter().cloned().unzip();
    let sensitivities = first_order::sensitivities(&asked.joint, &plain, threads, model);
    let drawn =
        monte_carlo::draw(&asked.joint, (draws, asked.seed as u64), plain.len(), threads, model);
    let numbers = in_parallel(threads, plain.len(), |i| {
        let of_number: Vec<f64> = sensitivities.iter().map(|row| row[i]).collect();
        number(plain[i], &mut drawn.values(i), &of_number, asked)
    });
    let numbers = pointers.into_iter().zip(numbers).map(|(pointer, number)| Ok((pointer, number?)));
    let mut refused = RefusedDraws::default();
    for kind in &drawn.refused {
        let counted = refused.of_kind(*kind);
        *counted = Some(Count::of(counted.map_or(0.0, Quantity::get) + 1.0)?);
    }
    Ok(AnswerUncertainty {
        draws: Count::from_usize(draws)?,
        seed: Count::from_usize(asked.seed)?,
        answered: Count::from_usize(draws - drawn.refused.len())?,
        refused,
        coverage: Share::of_fraction(COVERAGE)?,
        numbers: ByPointer(numbers.collect::<Result<_, Refusal>>()?),
    })
}

/// Refuses more shares of `inputs` in as many `numbers` of an answer than that has room for.
fn check_room(numbers: usize, inputs: usize) -> Result<(), Refusal> {
    let shares = numbers.saturating_mul(inputs);
    if shares <= SHARES_MOST {
        return Ok(());
    }
    let detail = sentence!(
        "This answer has {} numbers, and the share of each of {} uncertain inputs in each of them comes to \
         {} shares, more than the {} that an answer has room for. Give at most {} inputs, or ask for less \
         at a time.",
        count(numbers),
        count(inputs),
        count(shares),
        count(SHARES_MOST),
        count(SHARES_MOST / numbers)
    );
    Err(Refusal::new(Kind::OutOfRange, format!("{POINTER}/inputs"), detail))
}

/// How often to draw: what was asked for, unless it is more than so long a
/// document may have, or one whose answer takes `inside` so much work.
fn draws(
    asked: &Asked,
    in_question: usize,
    in_answer: usize,
    inside: usize,
) -> Result<usize, Refusal> {
    let effort = Effort {
        // A number of the answer is computed, kept, and put in order among its like.
        each: (in_question + 3 * in_answer + inside).max(1),
        // The sensitivities take up to four answers an input.
        beside: 4 * asked.pointers.len(),
        kept: in_answer,
    };
    let by_numbers = WORK / (in_question * (in_question + in_answer)).max(1);
    let by_numbers = effort.most_within(by_numbers);
    let most = if inside > 0 { by_numbers.min(effort.most()) } else { by_numbers };
    effort.draws(asked.draws, most, POINTER)
}

/// What is said of one number, from its values in the draws and how it changes
/// with each input.
fn number(
    plain: f64,
    values: &mut [f64],
    sensitivities: &[f64],
    asked: &Asked,
) -> Result<NumberUncertainty, Refusal> {
    let scatter = Scatter::of(values);
    let known = sensitivities.iter().all(|c| c.is_finite());
    let first_order = match &scatter {
        Some(scatter) if known => Some(budget(plain, scatter, values, sensitivities, asked)?),
        _ => None,
    };
    let largest = first_order.as_ref().and_then(|first_order| first_order.budget.0.first());
    let largest = largest.filter(|(_, budget)| budget.share.get() > 0.0);
    let figure = |of: fn(&Scatter) -> f64| scatter.as_ref().map(|s| Figure::of(of(s))).transpose();
    let spread =
        |of: fn(&Scatter) -> f64| scatter.as_ref().map(|s| Deviation::of(of(s))).transpose();
    Ok(NumberUncertainty {
        value: Figure::of(plain)?,
        present_in: Count::from_usize(values.len())?,
        mean: figure(|s| s.mean)?,
        u: spread(|s| s.u)?,
        low: figure(|s| s.low)?,
        high: figure(|s| s.high)?,
        half_width: spread(|s| (s.high - s.low) / 2.0)?,
        largest: largest.map(|(pointer, budget)| LargestShare {
            pointer: pointer.clone(),
            share: budget.share,
        }),
        first_order,
    })
}

fn budget(
    plain: f64,
    scatter: &Scatter,
    values: &mut [f64],
    sensitivities: &[f64],
    asked: &Asked,
) -> Result<FirstOrder, Refusal> {
    let budget = first_order::budget(&asked.joint, sensitivities);
    let inputs = asked.pointers.iter().zip(sensitivities).zip(&budget.shares);
    let shares = inputs.map(|((pointer, c), share)| {
        let share = BudgetShare {
            sensitivity: Sensitivity::of(*c)?,
            share: VarianceShare::of_fraction(*share)?,
        };
        Ok((pointer.clone(), share))
    });
    let mut shares = shares.collect::<Result<Vec<_>, Refusal>>()?;
    order::greatest_first(&mut shares, |(_, share)| share.share.get());
    Ok(FirstOrder {
        standing: standing(plain, budget.u, scatter, values),
        u: Deviation::of(budget.u)?,
        budget: ByPointer(shares),
    })
}

/// JCGM 101, 8.1: the ends of both intervals differ by no more than half of the
/// last digit of u, which is stated to one digit.
fn standing(plain: f64, u: f64, scatter: &Scatter, values: &mut [f64]) -> FirstOrderStanding {
    let digit = |u: f64| 10_f64.powf(round_to(u, 1).log10().floor());
    let tolerance = match (u > 0.0, scatter.u > 0.0) {
        (true, _) => digit(u) / 2.0,
        (false, true) => digit(scatter.u) / 2.0,
        (false, false) => return FirstOrderStanding::Agrees,
    };
    let off_low = (plain - NORMAL_95 * u - scatter.low).abs();
    let off_high = (plain + NORMAL_95 * u - scatter.high).abs();
    if off_low <= tolerance && off_high <= tolerance {
        return FirstOrderStanding::Agrees;
    }
    let (low, high) = errors_of_ends(values);
    if off_low <= tolerance + low && off_high <= tolerance + high {
        return FirstOrderStanding::Undecided;
    }
    FirstOrderStanding::Disagrees
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::{Catalogue, Everything, Visitor};
    use crate::document::Shape;
    use crate::quantity::UnitSystem;
    use crate::uncertainty::{DRAWS, DRAWS_LEAST, Uncertainty};
    use std::collections::BTreeMap;

    /// How often each example is drawn when nobody says, with one uncertain input.
    #[derive(Default)]
    struct ByDefault(BTreeMap<&'static str, usize>);

    impl Visitor for ByDefault {
        fn visit<C: Calculation>(&mut self) {
            let mut document: Value = serde_json::from_str(C::EXAMPLE).expect("JSON");
            let members = document.as_object_mut().expect("an object");
            members.retain(|name, _| name != "units" && name != "reference");
            let question: C = serde_json::from_value(document.clone()).expect("a question");
            let answer = question.calculate().expect("an answer").answer;
            let shape = Shape::of_type::<C>();
            let measured = shape.numbers(&document).into_iter().find(|(_, row, _)| !row.whole);
            let (pointer, ..) = measured.expect("a number that is measured");
            let uncertainty = serde_json::json!({ "inputs": { (pointer.as_str()): { "u": 1 } } });
            let uncertainty: Uncertainty = serde_json::from_value(uncertainty).expect("one");
            let asked = Asked::new(&uncertainty, &document, &shape, UnitSystem::Metric);
            let asked = asked.expect("it is right");
            let (in_question, in_answer) =
                (Open::new(&document, &[]).numbers(), Trace::of(&answer, ANSWER).numbers.len());
            let work = question.work(&answer);
            let draws = draws(&asked, in_question, in_answer, work).expect("it can be drawn");
            println!("{}: {in_question} {in_answer} {work}: {draws}", C::NAME);
            assert!((DRAWS_LEAST..=DRAWS).contains(&draws), "{}: {draws}", C::NAME);
            self.0.insert(C::NAME, draws);
        }
    }

    /// Examples that took half a minute at ten thousand draws, and what each may be
    /// drawn to take a few seconds; the others are drawn ten thousand times.
    #[test]
    fn an_example_that_takes_much_work_is_drawn_less_often() {
        let mut by_default = ByDefault::default();
        Everything.show(&mut by_default);
        // The recycler's own risk is drawn ten thousand times within each of them.
        let costly = [
            ("cost-comparison", 500),
            ("recycler", 200),
            ("disposal", 1_600),
            ("losses", 3_300),
            ("calendar", 400),
            ("top-up-round", 400),
        ];
        for (name, most) in costly {
            let draws = by_default.0.remove(name).expect("a calculation");
            assert!((most / 4..=most).contains(&draws), "{name}: {draws}");
        }
        for (name, draws) in by_default.0 {
            assert!(draws >= 900, "{name}: {draws}");
        }
    }
}
