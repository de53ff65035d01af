//! A projection as pictures: the months with their pickups, the streams of each month, and what
//! is on site.

use super::answer::{DisposalAnswer, StreamOverall};
use super::category::GeneratorCategory;
use crate::handbook::conversions::DAYS_PER_MONTH;
use crate::picture::{
    Across, Bar, Label, Layer, MonthDrawn, Panel, Panels, PickupDrawn, PickupYear, Picture, Shows,
};
use crate::quantity::{Days, Mass, Quantity};
use std::slice::from_ref;

/// Where a day lies across: month 1 runs from 1 to 2.
fn across(day: Days) -> f64 {
    day.get() / DAYS_PER_MONTH + 1.0
}

/// A boundary further above all that is drawn than this is left out.
const HEADROOM: f64 = 1.5;
/// More streams than this cannot be told apart.
const STREAMS_MOST: usize = 5;

pub(super) fn pictures(_: &super::Disposal, answer: &DisposalAnswer) -> Vec<Picture> {
    let mut panels = vec![streams(answer)];
    panels.extend(on_site(answer));
    let across = Across { counts: true, ..Across::plain("month") };
    let panels = Shows::Panels(Panels { across, panels });
    let pickups = (!answer.pickups.is_empty())
        .then(|| Picture::new("Days on which waste is taken away", Shows::Pickups(year(answer))));
    let leaves = Picture::new("What leaves the shop", panels);
    pickups.into_iter().chain([leaves]).collect()
}

fn year(answer: &DisposalAnswer) -> PickupYear {
    let months = answer.months.iter().map(|month| MonthDrawn {
        number: month.month.whole(),
        left: month.on_site.map(Quantity::get),
        pickups: answer
            .pickups
            .iter()
            .filter(|pickup| pickup.month == month.month)
            .map(|pickup| PickupDrawn {
                day_of_month: day_of_month(pickup.day, month.month.get()),
                amount: pickup.mass.get(),
            })
            .collect(),
    });
    PickupYear { row: Mass::ROW, label: "on site".into(), months: months.collect() }
}

/// The day of a month that a day from the start is, counted from 1.
fn day_of_month(day: Days, month: f64) -> usize {
    let since = (day.get() - (month - 1.0) * DAYS_PER_MONTH).ceil();
    let last = DAYS_PER_MONTH.ceil();
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "from 1 to the last day of a month"
    )]
    let day = since.clamp(1.0, last) as usize;
    day
}

/// The streams stacked by month, those that count lowest, so that their sum can be
/// held against the boundaries of the categories.
fn streams(answer: &DisposalAnswer) -> Panel {
    let mut layers = Vec::new();
    for counts in [true, false] {
        let mut own: Vec<&StreamOverall> =
            answer.streams.iter().filter(|overall| overall.counts == counts).collect();
        own.sort_by(|a, b| b.mass.get().total_cmp(&a.mass.get()));
        let (shown, rest) = own.split_at(own.len().min(STREAMS_MOST));
        layers
            .extend(shown.iter().map(|one| bars(answer, one.stream.words().into(), from_ref(one))));
        if !rest.is_empty() {
            let name = if counts { "others that count" } else { "others" };
            layers.push(bars(answer, name.into(), rest));
        }
    }
    if let Some(bands) = &answer.bands {
        let points = bands
            .months
            .iter()
            .map(|band| (band.month.get() + 0.5, band.mass.p10.get(), band.mass.p90.get()));
        layers.push(Layer::Whiskers { label: "8 in 10 cases".into(), points: points.collect() });
    }
    let highest = answer.months.iter().map(|month| month.mass.get()).fold(0.0, f64::max);
    for (label, category) in [
        ("above: small quantity", GeneratorCategory::Small),
        ("from here: large quantity", GeneratorCategory::Large),
    ] {
        let at = category.entered_at().filter(|at| *at <= highest * HEADROOM);
        layers.extend(at.map(|at| Layer::limit(label, at)));
    }
    layers.extend(pickups(answer));
    Panel::new("mass a month", Mass::ROW, layers).from_zero()
}

/// The bars of some streams taken together.
fn bars(answer: &DisposalAnswer, label: Label, streams: &[&StreamOverall]) -> Layer {
    let bars = answer.months.iter().map(|month| {
        let own = month.streams.iter();
        let own = own.filter(|own| streams.iter().any(|overall| overall.stream == own.stream));
        let from = month.month.get();
        Bar { from, to: from + 1.0, height: own.map(|own| own.mass.get()).sum() }
    });
    Layer::Bars { label, bars: bars.collect() }
}

fn pickups(answer: &DisposalAnswer) -> impl Iterator<Item = Layer> {
    answer.pickups.iter().map(|pickup| Layer::event("pickup", across(pickup.day)))
}

/// What is on site, falling to nothing at each pickup.
fn on_site(answer: &DisposalAnswer) -> Option<Panel> {
    let storage = answer.storage.as_ref()?;
    let mut points = vec![(1.0, 0.0)];
    let mut pickups = answer.pickups.iter().peekable();
    for month in &answer.months {
        while let Some(pickup) = pickups.next_if(|pickup| pickup.month == month.month) {
            points.push((across(pickup.day), pickup.mass.get()));
            points.push((across(pickup.day), 0.0));
        }
        let on_site = month.on_site.map_or(0.0, Quantity::get);
        points.push((month.month.get() + 1.0, on_site));
    }
    let mut layers = vec![Layer::line("on site", points)];
    for limit in &storage.limits {
        let label = limit.category.map_or_else(
            || "most on site".into(),
            |category| format!("most on site, {}", category.words()).into(),
        );
        layers.extend(limit.mass.map(|most| Layer::Limit { label, at: most.get() }));
    }
    layers.extend(self::pickups(answer));
    Some(Panel::new("mass on site", Mass::ROW, layers).from_zero())
}
