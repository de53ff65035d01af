//! The steps in which batches and mixes for rinsing are made before a round.

use super::mixed::Mixed;
use super::{Recharge, SheetAction, SheetStep};
use crate::fluid::measuring::MeasuringStep;
use crate::fluid::practice::PREMIX_AT_MOST;
use crate::fluid::stock::Stock;
use crate::quantity::{Brix, Concentration, Count, Quantity, Volume};
use crate::sentence;
use crate::text::{Refusal, Sentence};

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
    let poured = batch.poured(stocks);
    let whole = batch.fluid.volume / mixes;
    let exact: Vec<f64> = poured.iter().map(|(_, v)| v / mixes).collect();
    let step = MeasuringStep::of(round.measures_to, exact.iter().copied());
    let litres = step.round_within(&exact, whole);
    let mut steps = Vec::new();
    for (place, ((stock, v), measured)) in poured.iter().zip(&litres).enumerate() {
        let action = action(place, stock);
        let text = action.measured_out(step.measure(*measured), &stock.name).text;
        steps.push(SheetStep {
            stock: Some(stock.name.to_string()),
            volume: Some(Volume::of(v / mixes)?),
            concentration: Some(stock.concentration),
            text,
            ..of_batch(action)
        });
    }
    let brought: f64 =
        poured.iter().zip(&litres).map(|((s, _), v)| s.concentration.get() * v).sum();
    let strength = brought / litres.iter().sum::<f64>();
    steps.push(SheetStep {
        volume: Some(Volume::of(whole)?),
        concentration: Some(Concentration::of(batch.concentration)?),
        mark: batch.mark(round),
        text: read(strength, round.factor(&batch.product)),
        ..of_batch(SheetAction::CheckBatch)
    });
    Ok(steps)
}

/// What the batch must be and read, as it was measured out.
fn read(strength: f64, factor: Option<f64>) -> Sentence {
    let c = Concentration::measure_of(strength).rounded(3);
    match factor.and_then(|factor| Brix::of(strength / factor).ok()) {
        Some(mark) => sentence!(
            "Read it before use: {}, which is {}.",
            mark.measure().rounded(if mark.get() < 10.0 { 2 } else { 3 }),
            c
        ),
        None => sentence!("Check it before use: {}.", c),
    }
}

/// What is done with a stock: only what thickens when it is poured on is stirred in.
fn action(place: usize, stock: &Stock) -> SheetAction {
    match stock.concentration.get() {
        _ if place == 0 => SheetAction::Pour,
        c if c <= PREMIX_AT_MOST => SheetAction::PourOn,
        _ => SheetAction::StirIn,
    }
}
