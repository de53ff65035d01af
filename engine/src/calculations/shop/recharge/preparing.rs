//! The steps in which batches and mixes for rinsing are made before a round.

use super::mixed::Mixed;
use super::{Recharge, SheetAction, SheetStep};
use crate::fluid::practice::PREMIX_AT_MOST;
use crate::fluid::stock::Stock;
use crate::quantity::{Concentration, Count, Quantity, Volume};
use crate::text::Refusal;

/// What is made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Made {
    Batch,
    RinseMix,
}

/// How it is made, the weakest stock first, and how it must read.
pub(super) fn steps(
    round: &Recharge,
    (made, number): (Made, usize),
    batch: &Mixed,
    stocks: &[Stock],
) -> Result<Vec<SheetStep>, Refusal> {
    let mixes = batch.mixes(round);
    let number = Some(Count::from_usize(number + 1)?);
    let times = (mixes > 1.0).then(|| Count::of(mixes)).transpose()?;
    let of_batch = |action: SheetAction| SheetStep {
        batch: number.filter(|_| made == Made::Batch),
        rinse_mix: number.filter(|_| made == Made::RinseMix),
        product: Some(batch.product.clone()),
        times,
        ..action.step()
    };
    let mut steps = Vec::new();
    for (place, (stock, v)) in batch.poured(stocks).into_iter().enumerate() {
        steps.push(SheetStep {
            stock: Some(stock.name.clone()),
            volume: Some(Volume::of(v / mixes)?),
            concentration: Some(stock.concentration),
            ..of_batch(action(place, stock))
        });
    }
    steps.push(SheetStep {
        volume: Some(Volume::of(batch.fluid.volume / mixes)?),
        concentration: Some(Concentration::of(batch.concentration)?),
        mark: batch.mark(round),
        ..of_batch(SheetAction::CheckBatch)
    });
    Ok(steps)
}

/// What is done with a stock: only what thickens when it is poured on is stirred in.
fn action(place: usize, stock: &Stock) -> SheetAction {
    match stock.concentration.get() {
        _ if place == 0 => SheetAction::Pour,
        c if c <= PREMIX_AT_MOST => SheetAction::PourOn,
        _ => SheetAction::StirIn,
    }
}
