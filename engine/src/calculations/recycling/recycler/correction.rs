//! What brings the recovered fluid on target.
//!
//! The largest share of recovered fluid that any batch on target can have, x,
//! says how large a batch the R litres recovered make: R/x. What else goes into
//! it is then a [`blend`] from the stocks on hand.
//!
//! Into a tank that stands still they go as one premix, no stronger than p %. With
//! v_i litres of the stocks of c_i % that is Σ (c_i − p)·v_i ≤ 0, or the same as a
//! limit on the batch: of a number that is p for the recovered fluid and c_i for the
//! others, the batch has at most p.

use super::{BatchCorrection, Recycler};
use crate::fluid::batch;
use crate::fluid::batch::{Goal, Mix, Premix, Take, UseGoal};
use crate::fluid::practice::PREMIX_AT_MOST;
use crate::fluid::properties::{ContentLimit, Limits, PropertyName};
use crate::fluid::stock::Stock;
use crate::fluid::{Fluid, parts_of_water};
use crate::quantity::{Concentration, Content, Density, Mass, Quantity, Share, Volume};
use crate::sentence;
use crate::text::{Fault, Finding, Kind, Refusal};

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

    let (mixed, limits) = if question.is_stirred() {
        (stocks.clone(), limits.clone())
    } else {
        poured_as_premix(&stocks, limits)?
    };
    let endless: Vec<Stock> =
        mixed.iter().map(|stock| Stock { volume: None, ..stock.clone() }).collect();
    let best = batch::recipe(&endless, 1.0, c_t, &limits, Some(&goal)).map_err(at_home)?;
    /// A batch with a smaller share of recovered fluid is not one of it.
    const TRACE: f64 = 1e-9;
    if best.volumes[0] <= TRACE {
        return Err(none_goes_in(question));
    }
    let v_t = recovered.volume / best.volumes[0].min(1.0);
    let recipe = batch::recipe(&mixed, v_t, c_t, &limits, Some(&goal));
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
    batch.concentrate = v_t * question.target.concentration.fraction();
    Ok(Corrected { stocks, poured, batch })
}

/// What holds a premix to its strength among the limits. No property has a space in
/// its name.
const PREMIX: &str = "strength of the premix";

/// The stocks and limits of a batch into which all but the recovered fluid, which comes
/// first, goes as one premix.
fn poured_as_premix(stocks: &[Stock], limits: &Limits) -> Result<(Vec<Stock>, Limits), Refusal> {
    let mut held = stocks.to_vec();
    for (i, stock) in held.iter_mut().enumerate() {
        let share = if i == 0 { PREMIX_AT_MOST } else { stock.concentration.get() };
        stock.properties.matter.insert(PropertyName::new_static(PREMIX), Content::of(share)?);
    }
    let most = ContentLimit { min: None, max: Some(Content::of(PREMIX_AT_MOST)?) };
    let mut limits = limits.clone();
    limits.matter.insert(PropertyName::new_static(PREMIX), most);
    Ok((held, limits))
}

fn none_goes_in(question: &Recycler) -> Refusal {
    let detail = sentence!(
        "No batch at {} within the limits can take up any of the recovered fluid. Raise the \
         limits, have a stage that removes more, or add a stock that carries less.",
        question.target.concentration
    );
    Refusal::new(Kind::Unreachable, "/target", detail)
}

/// Some batch could take up all of the recovered fluid, but not with what is on
/// hand of the stocks.
fn too_little_on_hand(refusal: Refusal, v_t: f64) -> Refusal {
    if refusal.kind != Kind::Unreachable {
        return at_home(refusal);
    }
    let suffices = refusal.reachable.and_then(|r| r.volume).map_or(0.0, |range| range.high.get());
    let detail = sentence!(
        "All of the recovered fluid makes a batch of {}, and the stocks on hand suffice for {}. \
         Have more on hand, or recycle less at a time.",
        Volume::measure_of(v_t),
        Volume::measure_of(suffices)
    );
    Refusal { reachable: refusal.reachable, ..Refusal::new(Kind::Unreachable, "/stocks", detail) }
}

/// A refusal of the blend, with pointers into this question: the recovered
/// fluid is no stock of it, and the limits belong to the target.
fn at_home(refusal: Refusal) -> Refusal {
    let faults = refusal.faults.into_iter().map(|fault| {
        if fault.pointer.contains(PREMIX) {
            let detail = sentence!(
                "Into a tank that stands still concentrate goes as a premix of at most {}, and \
                 from these stocks none makes the batch. Add water to the stocks, or have the tank \
                 stirred and say so.",
                Concentration::measure_of(PREMIX_AT_MOST)
            );
            return Fault { pointer: "/target/mixing".to_owned(), detail };
        }
        let pointer = if fault.pointer.starts_with("/limits") {
            format!("/target{}", fault.pointer)
        } else {
            fault.pointer
        };
        let detail = sentence!("Correcting the recovered fluid: {}", fault.detail);
        Fault { pointer, detail }
    });
    Refusal { faults: faults.collect(), ..refusal }
}

impl Recycler {
    /// What the clean tank holds, L, where a batch of `volume` litres does not fit into it.
    pub(super) fn clean_tank_outgrown(&self, volume: f64) -> Option<f64> {
        let room = self.tanks.as_ref().map(|tanks| tanks.clean.capacity.get());
        room.filter(|room| volume > *room)
    }
}

/// A batch that grows by more than this share is worth a word.
const GROWS: f64 = 0.1;

impl Corrected {
    /// Says so where the batch grows by much: it needs the room, and what it takes is
    /// thinned rather than cleaned.
    pub(super) fn growth(&self, question: &Recycler, recovered: &Fluid) -> Option<Finding> {
        let (from, to) = (recovered.volume, self.batch.volume);
        if to <= from * (1.0 + GROWS) {
            return None;
        }
        let overflows = question.clean_tank_outgrown(to);
        let litres = |litres: f64| Volume::measure_of(litres).rounded(4);
        let text = sentence!(
            "To come on target the batch grows from {} recovered to {}: {} of fresh mix goes in. \
             What the stages leave is thinned, not taken out. Have a stage that takes it out, or \
             correct only as much as is needed and dispose of the rest.",
            litres(from),
            litres(to),
            litres(to - from)
        );
        Some(match overflows {
            Some(room) => {
                let room = Volume::measure_of(room);
                let text =
                    sentence!("{} The clean tank holds {}: correct it in parts.", text, room);
                Finding::act("batch-outgrows-its-tank", "/tanks/clean/capacity", text)
            }
            None => Finding::watch("batch-grows", "/target", text),
        })
    }

    /// What is stirred together first where the tank is not stirred.
    fn premix(&self, question: &Recycler) -> Result<Option<Premix>, Refusal> {
        if question.is_stirred() {
            return Ok(None);
        }
        let mut all = Fluid::default();
        self.poured.iter().skip(1).for_each(|fluid| all += fluid);
        if all.volume <= 0.0 || all.concentrate <= 0.0 {
            return Ok(None);
        }
        // The programme keeps the bound to its last digits.
        let concentration = Concentration::of(all.concentration().min(PREMIX_AT_MOST))?;
        Ok(Some(Premix {
            volume: Volume::of(all.volume)?,
            concentration,
            parts_of_water: parts_of_water(concentration.get()),
        }))
    }

    /// The batch as it is answered.
    pub(super) fn answer(&self, question: &Recycler) -> Result<BatchCorrection, Refusal> {
        let c_t = question.target.concentration;
        let whole = self.batch.volume;
        let take = self.stocks.iter().zip(&self.poured).map(|(stock, fluid)| {
            Ok(Take {
                name: stock.name.to_string(),
                volume: Volume::of(fluid.volume)?,
                mass: Mass::of(fluid.mass)?,
                share: Share::of_fraction((fluid.volume / whole).min(1.0))?,
                parts: None,
            })
        });
        let reading = question.feed.reading.as_ref();
        Ok(BatchCorrection {
            take: take.collect::<Result<_, Refusal>>()?,
            premix: self.premix(question)?,
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
