//! The inputs at which two ways cost the same: equation 9.

use super::answer::{BreakEven, BreakEvenPoint, BreakEvenVerdict, CostSensitivity};
use super::levers::{Lever, Levers, Trials};
use super::search::{Apart, Cross, FoundKind, SearchFound, search};
use super::{BreakEvenQuestion, CostComparison};
use crate::quantity::{Number, Quantity};
use crate::sentence;
use crate::text::{Faults, Kind, Refusal, with_nearest};

/// Inputs that are looked at where the request asks for none.
pub(super) const LOOKED_AT: usize = 5;

/// A question with its inputs and its ways found.
pub(super) struct BreakEvenSearch<'a> {
    levers: Vec<&'a Lever>,
    way: usize,
    against: usize,
}

impl CostComparison {
    /// The questions of the request, or a refusal of those that cannot be asked.
    pub(super) fn break_even_questions<'a>(
        &self,
        levers: &'a Levers,
    ) -> Result<Vec<BreakEvenSearch<'a>>, Refusal> {
        let mut faults = Faults::default();
        let mut asked = Vec::new();
        for (b, question) in self.break_even.iter().flatten().enumerate() {
            let found = self.asked(question, levers, &format!("/break_even/{b}"), &mut faults);
            asked.extend(found);
        }
        faults.or_refuse(Kind::Inconsistent)?;
        Ok(asked)
    }

    fn asked<'a>(
        &self,
        question: &BreakEvenQuestion,
        levers: &'a Levers,
        pointer: &str,
        faults: &mut Faults,
    ) -> Option<BreakEvenSearch<'a>> {
        let way = self.place(&question.way)?;
        let against = question.against.as_deref().map(|name| self.place(name));
        let against = against.unwrap_or(Some(self.baseline_place()))?;
        if way == against {
            let detail = sentence!(
                "A way always costs the same as itself. Name another to compare it with."
            );
            faults.add(format!("{pointer}/way"), detail);
        }
        let mut found: Vec<&Lever> = Vec::new();
        for (i, input) in question.inputs.iter().enumerate() {
            let pointer = format!("{pointer}/inputs/{i}");
            match levers.at(input) {
                None => {
                    let detail = sentence!(
                        "There is no number at \"{}\" in this request that costs depend on.",
                        input
                    );
                    let known = levers.0.iter().map(|lever| lever.pointer.as_str());
                    faults.add(pointer, with_nearest(detail, input, known));
                }
                Some(lever) if question.inputs.len() > 1 && lever.row.whole => {
                    let detail = sentence!(
                        "Several inputs change by one factor, which does not keep this one a \
                         whole number. Ask for it alone."
                    );
                    faults.add(pointer, detail);
                }
                Some(lever) if question.inputs.len() > 1 && i == 0 && lever.given == 0.0 => {
                    let detail = sentence!(
                        "Several inputs change by one factor, and 0 stays 0. Put one first that is \
                         not 0."
                    );
                    faults.add(pointer, detail);
                }
                Some(lever) => {
                    if found.iter().any(|before| before.pointer == lever.pointer) {
                        let detail = sentence!("This input is named twice. Name each once.");
                        faults.add(pointer, detail);
                    }
                    found.push(lever);
                }
            }
        }
        let complete = found.len() == question.inputs.len();
        complete.then_some(BreakEvenSearch { levers: found, way, against })
    }

    /// Answers the questions; without any, those for the inputs that the choice
    /// depends on most.
    pub(super) fn break_even(
        &self,
        asked: Vec<BreakEvenSearch<'_>>,
        sensitivity: Option<&CostSensitivity>,
        levers: &Levers,
        trials: &mut Trials,
    ) -> Result<Vec<BreakEven>, Refusal> {
        let own = sensitivity.filter(|_| self.break_even.is_none()).and_then(|sensitivity| {
            let pair = (self.place(&sensitivity.cheapest)?, self.place(&sensitivity.next)?);
            let strongest = sensitivity.inputs.iter().take(LOOKED_AT);
            let levers = strongest.filter_map(|input| levers.at(&input.input));
            let ask = |lever| BreakEvenSearch { levers: vec![lever], way: pair.0, against: pair.1 };
            Some(levers.map(ask).collect::<Vec<_>>())
        });
        let all = asked.into_iter().chain(own.into_iter().flatten());
        all.map(|asked| self.breaks_even(&asked, trials)).collect()
    }

    fn breaks_even(
        &self,
        asked: &BreakEvenSearch<'_>,
        trials: &mut Trials,
    ) -> Result<BreakEven, Refusal> {
        let first = asked.levers[0];
        let mut apart = |number: f64| {
            let changed = |lever: &Lever| lever.given * (number / first.given);
            let others = asked.levers[1..].iter().map(|lever| (*lever, changed(lever)));
            let changes: Vec<(&Lever, f64)> = [(first, number)].into_iter().chain(others).collect();
            let costs = trials.present_costs(&changes)?;
            let (way, against) = (costs[asked.way], costs[asked.against]);
            Some(Apart { by: way - against, size: way.abs() + against.abs() })
        };
        let found = search(first.row, first.given, first.is_a_date(), &mut apart);
        let verdict = verdict(&found);
        let points = found.crossings.iter().map(|cross| self.point(cross, first, asked));
        let searched = found.searched;
        Ok(BreakEven {
            inputs: asked.levers.iter().map(|lever| lever.pointer.clone()).collect(),
            what: first.what.clone(),
            given: first.amount(first.given)?,
            way: self.ways[asked.way].name.to_string(),
            against: self.ways[asked.against].name.to_string(),
            verdict,
            at: points.collect::<Result<_, _>>()?,
            searched_from: searched.map(|(from, _)| first.amount(from)).transpose()?,
            searched_to: searched.map(|(_, to)| first.amount(to)).transpose()?,
        })
    }

    fn point(
        &self,
        cross: &Cross,
        lever: &Lever,
        asked: &BreakEvenSearch<'_>,
    ) -> Result<BreakEvenPoint, Refusal> {
        let factor = cross.at.filter(|_| lever.given != 0.0).map(|at| at / lever.given);
        let whole = |number: Option<f64>| number.map(Number::of).transpose();
        let (below, above) = if cross.dearer_above {
            (asked.way, asked.against)
        } else {
            (asked.against, asked.way)
        };
        Ok(BreakEvenPoint {
            value: cross.at.map(|at| lever.amount(at)).transpose()?,
            factor: factor
                .filter(|factor| Number::ROW.admits(*factor))
                .map(Number::of)
                .transpose()?,
            whole_below: whole(cross.between.map(|between| between.0))?,
            whole_above: whole(cross.between.map(|between| between.1))?,
            cheaper_below: self.ways[below].name.to_string(),
            cheaper_above: self.ways[above].name.to_string(),
        })
    }
}

fn verdict(found: &SearchFound) -> BreakEvenVerdict {
    match (found.kind, found.crossings.is_empty()) {
        (FoundKind::NoEffect, _) => BreakEvenVerdict::NoEffect,
        (FoundKind::AlwaysEqual, _) => BreakEvenVerdict::AlwaysEqual,
        (FoundKind::Straight, true) => BreakEvenVerdict::None,
        (FoundKind::Straight, false) => BreakEvenVerdict::One,
        (FoundKind::InSteps, true) => BreakEvenVerdict::NoneFound,
        (FoundKind::InSteps, false) => BreakEvenVerdict::Found,
    }
}
