//! What a round may not contradict itself in.

use super::{Recharge, SumpToClean};
use crate::calculations::blend;
use crate::quantity::{Concentration, Count, Quantity, Volume};
use crate::refusal::{Faults, Kind, Refusal};
use crate::sentence::{Measure, Sentence};
use crate::stock;
use std::collections::BTreeSet;

/// The most flushes of a sump: beyond it, nothing of the old fluid is left to flush out.
const MOST_FLUSHES: f64 = 100.0;

impl Recharge {
    pub(super) fn check(&self) -> Result<(), Refusal> {
        let mut faults = Faults::default();
        let stocks = self.plain_stocks();
        blend::check_mixing(&stocks, &self.limits, self.goal.as_ref(), &mut faults);
        let mut names = BTreeSet::new();
        for (i, sump) in self.sumps.iter().enumerate() {
            if !names.insert(sump.name.as_str()) {
                let detail = format!(
                    "Two sumps are called {:?}. Give each its own name, so that the job sheet can \
                     tell them apart.",
                    sump.name
                );
                faults.add(format!("/sumps/{i}/name"), Sentence::new(detail));
            }
            check_sump(sump, &format!("/sumps/{i}"), &mut faults);
            self.check_flush(sump, &format!("/sumps/{i}/flush"), &mut faults);
        }
        self.check_carrier(&mut faults);
        faults.or_refuse(Kind::Inconsistent)?;
        let mut faults = Faults::default();
        self.check_products(&mut faults);
        blend::check_limits_are_about_something(&stocks, &self.limits, &mut faults);
        faults.or_refuse(Kind::NotIdentifiable)
    }

    fn check_flush(&self, sump: &SumpToClean, pointer: &str, faults: &mut Faults) {
        let Some(flush) = &sump.flush else { return };
        let times = flush.times.get();
        if !(1.0..=MOST_FLUSHES).contains(&times) {
            let detail = "A sump is flushed from {} to {} times; {} is out of that. \
                          Leave the flush out where there is none.";
            let detail = Sentence::new(detail)
                .with(Measure::bare(1.0))
                .with(Measure::bare(MOST_FLUSHES))
                .with(Measure::of(Count::ROW, times));
            faults.add(format!("{pointer}/times"), detail);
        }
        let filled = sump.residue.get() + flush.volume.get();
        if filled > sump.volume.get() {
            let detail = "With the residue a flush comes to {}, more than the {} that the sump \
                          holds. Flush with less at a time, more often.";
            let detail = Sentence::new(detail)
                .with(Measure::of(Volume::ROW, filled))
                .with(sump.volume.measure());
            faults.add(format!("{pointer}/volume"), detail);
        }
        let names = || self.stocks.iter().map(|stock| stock.name.as_str());
        match self.stocks.iter().find(|stock| stock.name == flush.stock) {
            None => {
                let detail = format!("No stock is called {:?}.", flush.stock);
                let detail = blend::with_nearest(detail, &flush.stock, names());
                faults.add(format!("{pointer}/stock"), Sentence::new(detail));
            }
            Some(stock) if !stock.goes_with(&sump.product) => {
                let detail = format!(
                    "{} is not of the product {}, which belongs into this sump. Flush with water \
                     or with a stock of the same product.",
                    stock.name, sump.product
                );
                faults.add(format!("{pointer}/stock"), Sentence::new(detail));
            }
            Some(_) => {}
        }
    }

    fn check_carrier(&self, faults: &mut Faults) {
        if self.carrier.usable_share.get() == 0.0 {
            let detail = "Nothing of the dirty tank may be filled, so nothing can be fetched. Give \
                          the share of it that lies below the high-level cut-out.";
            faults.add("/carrier/usable_share", Sentence::new(detail));
        }
        if self.carrier.solids_basket.get() == 0.0
            && self.sumps.iter().any(|sump| sump.solids.get() > 0.0)
        {
            let detail = "There are chips to fetch, but the basket is rated for none. Give its \
                          rated load.";
            faults.add("/carrier/solids_basket", Sentence::new(detail));
        }
    }

    /// Every sump's product must have a stock that brings concentrate, and every stock that is more than
    /// water a product where there are several.
    fn check_products(&self, faults: &mut Faults) {
        let products = self.products();
        if products.len() > 1 {
            for (i, stock) in self.stocks.iter().enumerate() {
                if stock.product.is_none() && stock.is_more_than_water() {
                    let detail = format!(
                        "{} holds concentrate, but does not say of which product, and the sumps \
                         take several. Name its product, so that it is never mixed with another.",
                        stock.name
                    );
                    faults.add(format!("/stocks/{i}/product"), Sentence::new(detail));
                }
            }
        }
        for (i, sump) in self.sumps.iter().enumerate() {
            let own = self.stocks_for(&sump.product);
            let more_than_water = own.iter().any(|s| self.stocks[*s].is_more_than_water());
            if own.is_empty() || (!more_than_water && sump.target.get() > 0.0) {
                let detail = format!("No stock holds concentrate of {:?}.", sump.product);
                let known = self.stocks.iter().filter_map(|stock| stock.product.as_deref());
                let detail = blend::with_nearest(detail, &sump.product, known);
                faults.add(format!("/sumps/{i}/product"), Sentence::new(detail));
            }
        }
    }
}

fn check_sump(sump: &SumpToClean, pointer: &str, faults: &mut Faults) {
    let (v, h, v_0) = (sump.volume.get(), sump.residue.get(), sump.volume_now());
    if h >= v {
        let detail = "The suction leaves {} in a sump of {}: there is no room for a refill. Check \
                      the two volumes.";
        let detail = Sentence::new(detail).with(sump.residue.measure());
        faults.add(format!("{pointer}/residue"), detail.with(sump.volume.measure()));
    }
    if let Some(now) = &sump.fluid_now {
        if v_0 > v {
            let detail = "The sump is fuller than full: {} where it holds {}.";
            let detail = Sentence::new(detail).with(now.volume.measure());
            faults.add(format!("{pointer}/fluid_now/volume"), detail.with(sump.volume.measure()));
        }
        if v_0 < h {
            let detail = "There is {} in the sump, less than the {} that the suction leaves in it. \
                          Lower the residue to what is there.";
            let detail = Sentence::new(detail).with(now.volume.measure());
            faults.add(format!("{pointer}/residue"), detail.with(sump.residue.measure()));
        }
        let pointer = format!("{pointer}/fluid_now");
        stock::check_volume_shares(now.concentration, sump.pumped_properties(), &pointer, faults);
    }
    let oil = sump.left_properties().tramp_oil.map_or(0.0, Quantity::get);
    let filled = sump.residue_concentration.get() + oil;
    if filled > 100.0 {
        let detail = "Concentrate and tramp oil together come to {} of the residue, more than all \
                      of it.";
        let detail = Sentence::new(detail).with(Measure::of(Concentration::ROW, filled));
        faults.add(format!("{pointer}/residue_properties/tramp_oil"), detail);
    }
}
