//! The sumps afterwards, and the balance of the round.

use super::TopUpRound;
use super::need::Need;
use super::premixes::{PlannedProduct, PremixMade};
use crate::fluid::Fluid;
use crate::fluid::balance::{Balance, StreamDirection};
use crate::handbook::water::DENSITY_AT_20_CELSIUS;
use crate::text::Refusal;

/// A sump afterwards, and what came and went.
#[derive(Debug, Clone)]
pub(super) struct Filled {
    pub(super) gives: f64,
    pub(super) takes: f64,
    /// The premix that it gets, by its place, and how much of it, L.
    pub(super) pour: Option<(usize, f64)>,
    /// What is in it then, as the plan promises it.
    pub(super) after: Fluid,
}

impl TopUpRound {
    fn before(&self, needs: &[Need], i: usize) -> Fluid {
        let properties = &self.sumps[i].sump.properties;
        Fluid::of(needs[i].v, needs[i].strength(), DENSITY_AT_20_CELSIUS, properties)
    }

    pub(super) fn filled(
        &self,
        needs: &[Need],
        planned: &[PlannedProduct],
        made: &[PremixMade],
    ) -> Vec<Filled> {
        let mut filled: Vec<Filled> = (0..self.sumps.len())
            .map(|i| Filled { gives: 0.0, takes: 0.0, pour: None, after: self.before(needs, i) })
            .collect();
        for PlannedProduct { sumps, plan } in planned {
            for own in &plan.moves {
                let (from, to) = (sumps[own.giver], sumps[own.taker]);
                let given = self.before(needs, from) * (own.litres / needs[from].v);
                filled[from].gives = own.litres;
                filled[from].after += &(given.clone() * -1.0);
                filled[to].takes = own.litres;
                filled[to].after += &given;
                let moved = own.litres * needs[from].strength() / 100.0;
                promise(
                    &mut filled[from].after,
                    needs[from].v - own.litres,
                    needs[from].k / 100.0 - moved,
                );
                promise(
                    &mut filled[to].after,
                    needs[to].v + own.litres,
                    needs[to].k / 100.0 + moved,
                );
            }
        }
        for (place, premix) in made.iter().enumerate() {
            for (i, litres) in &premix.pours {
                let own = &mut filled[*i];
                own.pour = Some((place, *litres));
                let (volume, concentrate) = (
                    own.after.volume + litres,
                    own.after.concentrate + premix.strength * litres / 100.0,
                );
                own.after += &(premix.fluid.clone() * (litres / premix.fluid.volume));
                promise(&mut own.after, volume, concentrate);
            }
        }
        filled
    }

    /// What was in the sumps and what of the stocks came in is what is in them afterwards.
    pub(super) fn balance(
        &self,
        needs: &[Need],
        made: &[PremixMade],
        filled: &[Filled],
    ) -> Result<Balance, Refusal> {
        let stocks = self.plain_stocks();
        let before: Vec<Fluid> = (0..self.sumps.len()).map(|i| self.before(needs, i)).collect();
        let poured: Vec<Fluid> = stocks
            .iter()
            .enumerate()
            .map(|(s, stock)| stock.fluid(made.iter().map(|premix| premix.stocks[s]).sum()))
            .collect();
        let names: Vec<(String, String)> = self
            .sumps
            .iter()
            .map(|found| (format!("{} before", found.name), format!("{} after", found.name)))
            .collect();
        let rows = names.iter().zip(&before);
        let mut streams: Vec<(&str, StreamDirection, &Fluid)> =
            rows.map(|((name, _), fluid)| (name.as_str(), StreamDirection::In, fluid)).collect();
        let used = stocks.iter().zip(&poured).filter(|(_, fluid)| fluid.volume > 0.0);
        streams.extend(used.map(|(stock, own)| (stock.name.as_str(), StreamDirection::In, own)));
        let rows = names.iter().zip(filled);
        streams.extend(
            rows.map(|((_, name), own)| (name.as_str(), StreamDirection::Stays, &own.after)),
        );
        Balance::close(&streams)
    }
}

/// The volume and the concentrate as the plan has them.
fn promise(fluid: &mut Fluid, volume: f64, concentrate: f64) {
    fluid.volume = volume;
    fluid.concentrate = concentrate;
}
