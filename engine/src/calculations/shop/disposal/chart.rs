//! A projection as a picture: the streams of each month, and what is on site.

use super::answer::DisposalAnswer;
use super::category::GeneratorCategory;
use crate::chart::{Chart, Layer, Panel};
use crate::handbook::conversions::DAYS_PER_MONTH;
use crate::quantity::{Days, Mass, Quantity};

/// Where a day lies across: a month's bar stands around its number.
fn across(day: Days) -> f64 {
    day.get() / DAYS_PER_MONTH + 0.5
}

/// A boundary further above all that is drawn than this is left out.
const HEADROOM: f64 = 1.5;

pub(super) fn chart(answer: &DisposalAnswer) -> Chart {
    let mut panels = vec![streams(answer)];
    panels.extend(on_site(answer));
    Chart { title: "What leaves the shop".into(), across: "month".into(), panels }
}

/// The streams stacked by month, those that count lowest, so that their sum can be
/// held against the boundaries of the categories.
fn streams(answer: &DisposalAnswer) -> Panel {
    let mut layers = Vec::new();
    for counts in [true, false] {
        for overall in answer.streams.iter().filter(|overall| overall.counts == counts) {
            let months = answer.months.iter().filter_map(|month| {
                let own = month.streams.iter().find(|own| own.stream == overall.stream)?;
                Some((month.month.get(), own.mass.get()))
            });
            let label = overall.stream.words().into();
            layers.push(Layer::Bars { label, points: months.collect() });
        }
    }
    if let Some(bands) = &answer.bands {
        let points = bands
            .months
            .iter()
            .map(|band| (band.month.get(), band.mass.p10.get(), band.mass.p90.get()))
            .collect();
        layers.push(Layer::Range { label: "P10 to P90 of all".into(), points });
    }
    let highest = answer.months.iter().map(|month| month.mass.get()).fold(0.0, f64::max);
    for (label, category) in [
        ("above: small quantity", GeneratorCategory::Small),
        ("from here: large quantity", GeneratorCategory::Large),
    ] {
        let at = category.entered_at().filter(|at| *at <= highest * HEADROOM);
        layers.extend(at.map(|at| Layer::Limit { label: label.into(), at }));
    }
    layers.extend(pickups(answer));
    Panel { label: "mass a month".into(), row: Mass::ROW, from_zero: true, layers }
}

fn pickups(answer: &DisposalAnswer) -> impl Iterator<Item = Layer> {
    let pickups = answer.pickups.iter();
    pickups.map(|pickup| Layer::Event { label: "pickup".into(), at: across(pickup.day) })
}

/// What is on site, falling to nothing at each pickup.
fn on_site(answer: &DisposalAnswer) -> Option<Panel> {
    let storage = answer.storage.as_ref()?;
    let mut points = vec![(0.5, 0.0)];
    let mut pickups = answer.pickups.iter().peekable();
    for month in &answer.months {
        while let Some(pickup) = pickups.next_if(|pickup| pickup.month == month.month) {
            points.push((across(pickup.day), pickup.mass.get()));
            points.push((across(pickup.day), 0.0));
        }
        let on_site = month.on_site.map_or(0.0, Quantity::get);
        points.push((month.month.get() + 0.5, on_site));
    }
    let mut layers = vec![Layer::Line { label: "on site".into(), points }];
    for limit in &storage.limits {
        let label = limit.category.map_or_else(
            || "most on site".into(),
            |category| format!("most on site, {}", category.words()).into(),
        );
        layers.extend(limit.mass.map(|most| Layer::Limit { label, at: most.get() }));
    }
    layers.extend(self::pickups(answer));
    Some(Panel { label: "mass on site".into(), row: Mass::ROW, from_zero: true, layers })
}
