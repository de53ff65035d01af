//! What each way costs a year and by what, the sum spent year by year, and what the choice hangs
//! on.

use super::answer::{CostByHeading, CostComparisonAnswer, CostSensitivity};
use crate::picture::{
    Across, BarRow, BarRows, Label, Layer, Panel, Panels, Picture, Shows, Varied, WhatMatters,
};
use crate::quantity::{Money, Quantity};

/// So many inputs are drawn; the rest move the result less than these.
const INPUTS_MOST: usize = 12;

pub(super) fn pictures(_: &super::CostComparison, answer: &CostComparisonAnswer) -> Vec<Picture> {
    let year = Picture::new("What each way costs a year", Shows::Rows(by_heading(answer)));
    let spent = Picture::new("What each way has cost so far", Shows::Panels(spent(answer)));
    let matters =
        answer.sensitivity.as_ref().filter(|own| !own.inputs.is_empty()).map(|own| {
            Picture::new("What the choice hangs on", Shows::WhatMatters(what_matters(own)))
        });
    let pictures = [year, spent].into_iter().chain(matters);
    pictures.map(|picture| picture.in_currency(answer.currency.as_deref())).collect()
}

/// Each heading under which money is spent, and how much it is.
fn headings(cost: &CostByHeading) -> [(&'static str, f64); 10] {
    [
        ("purchases", cost.purchases),
        ("labour", cost.labour),
        ("downtime", cost.downtime),
        ("concentrate", cost.concentrate),
        ("water", cost.water),
        ("disposal", cost.disposal),
        ("filter media", cost.filter_media),
        ("energy", cost.energy),
        ("upkeep", cost.upkeep),
        ("fees", cost.fees),
    ]
    .map(|(name, money)| (name, money.get()))
}

/// The cost per year of each way, the dearest heading first and those left out that none has.
fn by_heading(answer: &CostComparisonAnswer) -> BarRows {
    let ways: Vec<_> =
        answer.ways.iter().map(|way| headings(&way.cost_per_year_by_heading)).collect();
    let of_all = |i: usize| ways.iter().map(|way| way[i].1.abs()).sum::<f64>();
    let places = ways.first().map_or(0, |way| way.len());
    let mut used: Vec<usize> = (0..places).filter(|i| of_all(*i) > 0.0).collect();
    used.sort_by(|a, b| of_all(*b).total_cmp(&of_all(*a)));
    let rows = answer.ways.iter().zip(&ways).map(|(way, headings)| BarRow {
        name: Label::Owned(way.name.clone()),
        parts: used.iter().map(|i| headings[*i].1).collect(),
    });
    BarRows {
        label: "cost per year".into(),
        row: Money::ROW,
        kinds: used.iter().map(|i| ways[0][*i].0.into()).collect(),
        fluids: Vec::new(),
        rows: rows.collect(),
    }
}

/// The sums spent on each way, in money as it is paid, and where one becomes the cheaper.
fn spent(answer: &CostComparisonAnswer) -> Panels {
    let lines = answer.ways.iter().map(|way| {
        let points = way.years.iter().map(|year| (year.year.get(), year.spent.get()));
        Layer::line(way.name.clone(), points.collect())
    });
    let crossings = answer.crossings.iter().map(|crossing| {
        let label = format!("{} overtakes {}", crossing.cheaper_after, crossing.cheaper_before);
        Layer::event(label, crossing.years.get())
    });
    let layers = lines.chain(crossings).collect();
    let across = Across { from: Some(0.0), ..Across::plain("year") };
    Panels { across, panels: vec![Panel::new("spent so far", Money::ROW, layers).from_zero()] }
}

fn what_matters(sensitivity: &CostSensitivity) -> WhatMatters {
    let inputs = sensitivity.inputs.iter().take(INPUTS_MOST).map(|input| Varied {
        name: Label::Owned(input.what.clone()),
        smaller: input.margin_low.map(Quantity::get),
        larger: input.margin_high.map(Quantity::get),
    });
    WhatMatters {
        label: format!("{} costs less than {} by", sensitivity.cheapest, sensitivity.next).into(),
        row: Money::ROW,
        value: sensitivity.margin.get(),
        below_nothing: format!("{} costs less", sensitivity.next).into(),
        varied_by: sensitivity.varied_by.get(),
        inputs: inputs.collect(),
        more: sensitivity.inputs.len().saturating_sub(INPUTS_MOST),
    }
}

#[cfg(test)]
mod tests {
    use super::super::CostComparison;
    use super::*;
    use crate::calculation::Calculation;

    fn example() -> CostComparison {
        let mut document: serde_json::Value =
            serde_json::from_str(CostComparison::EXAMPLE).expect("an example");
        let members = document.as_object_mut().expect("an object");
        members.retain(|name, _| name != "units" && name != "reference");
        serde_json::from_value(document).expect("a question")
    }

    #[test]
    fn the_parts_come_to_the_cost_of_a_year() {
        let answer = example().calculate().expect("an answer").answer;
        for (row, way) in by_heading(&answer).rows.iter().zip(&answer.ways) {
            let parts: f64 = row.parts.iter().sum();
            assert!((parts - way.cost_per_year.get()).abs() < 1e-6 * parts.abs(), "{row:?}");
        }
    }

    #[test]
    fn what_matters_most_comes_first() {
        let answer = example().calculate().expect("an answer").answer;
        let sensitivity = answer.sensitivity.expect("several ways");
        let matters = what_matters(&sensitivity);
        assert_eq!(matters.inputs.len() + matters.more, sensitivity.inputs.len());
        let swing = |input: &Varied| {
            let ends = [input.smaller, input.larger].map(|end| end.unwrap_or(matters.value));
            (ends[0] - ends[1]).abs()
        };
        assert!(matters.inputs.windows(2).all(|pair| swing(&pair[0]) >= swing(&pair[1]) - 1e-6));
    }
}
