//! The material balance of a whole round.

use super::dilution::Cleaned;
use super::mixed::Mixed;
use super::trips::Trip;
use super::{Recharge, SumpToClean};
use crate::fluid::Fluid;
use crate::fluid::balance::{Balance, StreamDirection};
use crate::fluid::stock::Stock;
use crate::text::Refusal;

/// In: what was in the sumps, with its chips, what was taken of the stocks, and system
/// cleaner. Out: what was taken away, added up load by load. Stays: the sumps as
/// they are promised. Chips are a stream of mass without volume.
pub(super) fn balance(
    round: &Recharge,
    stocks: &[Stock],
    cleaned: &[Cleaned],
    (batches, rinse_mixes): (&[Mixed], &[Mixed]),
    trips: &[Trip],
) -> Result<Balance, Refusal> {
    let mut streams: Vec<(String, StreamDirection, Fluid)> = Vec::new();
    let products = round.products();
    let of = |product: &str| {
        let product = product.to_owned();
        let all = round.sumps.iter().zip(cleaned).enumerate();
        all.filter(move |(_, (sump, _))| sump.product == product).map(|(i, (_, c))| (i, c))
    };
    for product in &products {
        let mut before = Fluid::default();
        for (_, cleaned) in of(product) {
            before += &cleaned.before;
        }
        streams.push((format!("sumps before, {product}"), StreamDirection::In, before));
    }
    for (s, stock) in stocks.iter().enumerate() {
        let poured: f64 = batches.iter().chain(rinse_mixes).map(|mix| mix.pours[s]).sum();
        let mut taken = stock.fluid(poured);
        let drawn = round.sumps.iter().zip(cleaned).filter(|(sump, _)| {
            sump.rinse
                .as_ref()
                .is_some_and(|rinse| rinse.stock.as_deref() == Some(stock.name.as_str()))
        });
        drawn.for_each(|(_, cleaned)| taken += &cleaned.rinse);
        if taken.volume > 0.0 {
            streams.push((stock.name.to_string(), StreamDirection::In, taken));
        }
    }
    let mut cleaner = Fluid::default();
    cleaned.iter().for_each(|cleaned| cleaner += &cleaned.cleaner);
    if cleaner.volume > 0.0 {
        streams.push(("system cleaner".to_owned(), StreamDirection::In, cleaner));
    }
    let expected: f64 = round.sumps.iter().map(SumpToClean::chips).sum();
    let fetched: f64 = trips.iter().map(Trip::chips).sum();
    let chips = |mass: f64| Fluid { mass, ..Fluid::default() };
    if expected > 0.0 {
        streams.push(("chips in the sumps".to_owned(), StreamDirection::In, chips(expected)));
    }
    for product in &products {
        let mut dirty = Fluid::default();
        let loads = trips.iter().filter(|trip| batches[trip.batch].product == *product);
        for load in loads.flat_map(|trip| &trip.loads).filter(|load| load.dirty > 0.0) {
            let sump = &cleaned[load.sump];
            dirty += &(sump.dirty_fluid() * (load.dirty / sump.dirty()));
        }
        streams.push((format!("dirty, {product}"), StreamDirection::Out, dirty));
    }
    if expected > 0.0 {
        streams.push(("chips to the bin".to_owned(), StreamDirection::Out, chips(fetched)));
    }
    for product in &products {
        let mut after = Fluid::default();
        for (i, cleaned) in of(product) {
            let batch = batches.iter().find(|batch| batch.sumps.contains(&i));
            batch.into_iter().for_each(|batch| after += &cleaned.after(batch));
        }
        streams.push((format!("sumps after, {product}"), StreamDirection::Stays, after));
    }
    let rows: Vec<(&str, StreamDirection, &Fluid)> =
        streams.iter().map(|(name, way, fluid)| (name.as_str(), *way, fluid)).collect();
    Balance::close(&rows)
}
