//! The batch as a tank filled stock by stock, and what holds it back.

use super::{Blend, BlendAnswer};
use crate::fluid::properties::{TRAMP_OIL, spoken};
use crate::picture::{
    ContentKind, Label, LimitBar, Picture, Shows, VesselContent, VesselDrawn, Vessels,
};
use crate::quantity::{Concentration, Content, Quantity, Volume};
use crate::sentence;

pub(super) fn pictures(question: &Blend, answer: &BlendAnswer) -> Vec<Picture> {
    let mut taken: Vec<(f64, VesselContent)> = question
        .stocks
        .iter()
        .zip(&answer.take)
        .filter(|(_, take)| take.volume.get() > 0.0)
        .map(|(stock, take)| {
            let c = stock.concentration.get();
            let name = Label::Owned(take.name.clone());
            (c, VesselContent { name, volume: take.volume.get(), kind: ContentKind::of(c) })
        })
        .collect();
    // The weakest lowest: water goes in first, concentrate last.
    taken.sort_by(|(a, _), (b, _)| a.total_cmp(b));
    let mix = &answer.mix;
    let batch = VesselDrawn {
        name: "batch".into(),
        holds: None,
        contents: taken.into_iter().map(|(_, content)| content).collect(),
        notes: vec![
            sentence!("{}", mix.volume.roughly()),
            sentence!("{}", mix.concentration.roughly()),
        ],
    };
    let vessels = Vessels { vessels: vec![batch], in_order: false };
    let mut pictures = vec![Picture::new("What goes into the batch", Shows::Vessels(vessels))];
    let limits = limits(question, answer);
    if !limits.is_empty() {
        pictures.push(Picture::new("What it carries, between its limits", Shows::Limits(limits)));
    }
    let used = used(question, answer);
    if !used.is_empty() {
        pictures.push(Picture::new("What is used of what is on hand", Shows::Limits(used)));
    }
    pictures
}

fn limits(question: &Blend, answer: &BlendAnswer) -> Vec<LimitBar> {
    let carried = &answer.mix.properties;
    let oil = question.limits.tramp_oil.map(|limit| LimitBar {
        name: spoken(TRAMP_OIL).into(),
        row: Concentration::ROW,
        value: carried.tramp_oil.map_or(0.0, Quantity::get),
        min: limit.min.map(Quantity::get),
        max: limit.max.map(Quantity::get),
    });
    let matter = question.limits.matter.iter().map(|(name, limit)| LimitBar {
        name: spoken(name).into(),
        row: Content::ROW,
        value: carried.matter.get(name).map_or(0.0, |content| content.get()),
        min: limit.min.map(Quantity::get),
        max: limit.max.map(Quantity::get),
    });
    oil.into_iter().chain(matter).collect()
}

fn used(question: &Blend, answer: &BlendAnswer) -> Vec<LimitBar> {
    let stocks = question.stocks.iter().zip(&answer.take);
    let bounded = stocks.filter_map(|(stock, take)| {
        let on_hand = stock.volume.filter(|volume| volume.get() > 0.0)?;
        Some(LimitBar {
            name: Label::Owned(stock.name.to_string()),
            row: Volume::ROW,
            value: take.volume.get(),
            min: None,
            max: Some(on_hand.get()),
        })
    });
    bounded.collect()
}
