//! What brings the recovered fluid on target.
//!
//! The largest share of recovered fluid that any batch on target can have, x,
//! says how large a batch the R litres recovered make: R/x. What else goes into
//! it is then a [`blend`] from the stocks on hand.

use super::{Correction, Recycler, blend};
use crate::calculations::blend::{Goal, Mix, Take, UseGoal};
use crate::fluid::{Fluid, parts_of_water};
use crate::quantity::{Concentration, Density, Mass, Quantity, Share, Volume};
use crate::refusal::{Fault, Kind, Refusal};
use crate::sentence::{Measure, Sentence};
use crate::stock::Stock;

/// What the recovered fluid is called among the stocks.
pub(super) const RECOVERED: &str = "recovered fluid";

/// The batch that the recovered fluid makes.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Corrected {
    /// The recovered fluid, then the stocks.
    pub(super) stocks: Vec<Stock>,
    /// What goes in of each.
    pub(super) poured: Vec<Fluid>,
    /// What comes out.
    pub(super) batch: Fluid,
}

/// Corrects all of `recovered`.
pub(super) fn correct(question: &Recycler, recovered: &Fluid) -> Result<Corrected, Refusal> {
    let c_t = question.target.concentration.get();
    let limits = &question.target.limits;
    let goal = Goal::Use(UseGoal { most_of: RECOVERED.to_owned() });
    let own = Stock {
        density: Some(Density::of(recovered.mass / recovered.volume)?),
        properties: recovered.properties()?,
        ..Stock::plain(RECOVERED, Concentration::of(recovered.concentration().min(100.0))?)
    };
    let mut stocks = vec![own];
    stocks.extend(question.stocks());

    let endless: Vec<Stock> =
        stocks.iter().map(|stock| Stock { volume: None, ..stock.clone() }).collect();
    let best = blend::recipe(&endless, 1.0, c_t, limits, Some(&goal)).map_err(at_home)?;
    /// A batch with a smaller share of recovered fluid is not one of it.
    const TRACE: f64 = 1e-9;
    if best.volumes[0] <= TRACE {
        return Err(none_goes_in(question));
    }
    let v_t = recovered.volume / best.volumes[0].min(1.0);
    let recipe = blend::recipe(&stocks, v_t, c_t, limits, Some(&goal));
    let recipe = recipe.map_err(|refusal| too_little_on_hand(refusal, v_t))?;
    let poured = stocks.iter().zip(&recipe.volumes).enumerate();
    // All of the recovered fluid goes in, to the last drop of rounding.
    let poured = poured.map(
        |(i, (stock, litres))| {
            if i == 0 { recovered.clone() } else { stock.fluid(*litres) }
        },
    );
    let poured: Vec<Fluid> = poured.collect();
    let mut batch = Fluid::default();
    poured.iter().for_each(|fluid| batch += fluid);
    batch.volume = v_t;
    batch.concentrate = v_t * c_t / 100.0;
    Ok(Corrected { stocks, poured, batch })
}

fn none_goes_in(question: &Recycler) -> Refusal {
    let detail = "No batch at {} within the limits can take up any of the recovered fluid. Raise \
                  the limits, have a stage that removes more, or add a stock that carries less.";
    let detail = Sentence::new(detail).with(question.target.concentration.measure());
    Refusal::new(Kind::Unreachable, "/target", detail)
}

/// Some batch could take up all of the recovered fluid, but not with what is on
/// hand of the stocks.
fn too_little_on_hand(refusal: Refusal, v_t: f64) -> Refusal {
    if refusal.kind != Kind::Unreachable {
        return at_home(refusal);
    }
    let suffices = refusal.reachable.and_then(|r| r.volume).map_or(0.0, |range| range.high.get());
    let detail = "All of the recovered fluid makes a batch of {}, and the stocks on hand suffice \
                  for {}. Have more on hand, or recycle less at a time.";
    let detail = Sentence::new(detail)
        .with(Measure::of(Volume::ROW, v_t))
        .with(Measure::of(Volume::ROW, suffices));
    Refusal { reachable: refusal.reachable, ..Refusal::new(Kind::Unreachable, "/stocks", detail) }
}

/// A refusal of the blend, with pointers into this question: the recovered
/// fluid is no stock of it, and the limits belong to the target.
fn at_home(refusal: Refusal) -> Refusal {
    let faults = refusal.faults.into_iter().map(|fault| {
        let pointer = if fault.pointer.starts_with("/limits") {
            format!("/target{}", fault.pointer)
        } else {
            fault.pointer
        };
        Fault { pointer, detail: fault.detail.about("Correcting the recovered fluid") }
    });
    Refusal { faults: faults.collect(), ..refusal }
}

impl Corrected {
    /// The batch as it is answered.
    pub(super) fn answer(&self, question: &Recycler) -> Result<Correction, Refusal> {
        let c_t = question.target.concentration;
        let whole = self.batch.volume;
        let take = self.stocks.iter().zip(&self.poured).map(|(stock, fluid)| {
            Ok(Take {
                name: stock.name.clone(),
                volume: Volume::of(fluid.volume)?,
                mass: Mass::of(fluid.mass)?,
                share: Share::of((fluid.volume / whole * 100.0).min(100.0))?,
                parts: None,
            })
        });
        let reading = question.feed.reading.as_ref();
        Ok(Correction {
            take: take.collect::<Result<_, Refusal>>()?,
            batch: Mix {
                volume: Volume::of(whole)?,
                concentration: c_t,
                parts_of_water: parts_of_water(c_t.get()),
                properties: self.batch.properties()?,
            },
            mark: reading.and_then(|reading| reading.mark(c_t, "/feed/reading").ok()),
        })
    }
}
