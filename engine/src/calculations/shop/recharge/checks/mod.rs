//! What a round may not contradict itself in.

mod vessels;

use super::{Recharge, SumpToClean};
use crate::fluid::product_stock::check_products_named;
use crate::fluid::{batch, stock};
use crate::quantity::{Concentration, Count, Measure, Quantity, Volume};
use crate::sentence;
use crate::text::names::check_unique;
use crate::text::{Faults, Kind, Refusal, with_nearest};

/// The most rinses of a sump: beyond it, nothing of the old fluid is left to rinse out.
const MOST_RINSES: f64 = 100.0;
/// The most equal mixes that a batch is split into.
const MOST_MIXES: f64 = 1000.0;

impl Recharge {
    pub(super) fn check(&self) -> Result<(), Refusal> {
        let mut faults = Faults::default();
        let stocks = self.plain_stocks();
        batch::check_mixing(&stocks, &self.limits, self.goal.as_ref(), &mut faults);
        let names = self.sumps.iter().map(|sump| sump.name.as_str());
        check_unique(names, "sumps", "/sumps", &mut faults);
        for (i, sump) in self.sumps.iter().enumerate() {
            check_sump(sump, &format!("/sumps/{i}"), &mut faults);
            self.check_rinse(sump, &format!("/sumps/{i}/rinse"), &mut faults);
        }
        self.check_mixes(&mut faults);
        self.check_vessels(&mut faults);
        faults.or_refuse(Kind::Inconsistent)?;
        let mut faults = Faults::default();
        self.check_products(&mut faults);
        self.check_what_vessels_hold(&mut faults);
        batch::check_limits_are_about_something(&stocks, &self.limits, &mut faults);
        faults.or_refuse(Kind::NotIdentifiable)
    }

    fn check_rinse(&self, sump: &SumpToClean, pointer: &str, faults: &mut Faults) {
        let Some(rinse) = &sump.rinse else { return };
        let times = rinse.times.map_or(1.0, Quantity::get);
        if !(1.0..=MOST_RINSES).contains(&times) {
            let detail = sentence!(
                "A sump is rinsed from {} to {} times; {} is out of that. Leave the rinse out where \
                 there is none.",
                Measure::bare(1.0),
                Measure::bare(MOST_RINSES),
                Count::measure_of(times)
            );
            faults.add(format!("{pointer}/times"), detail);
        }
        let filled = sump.stays() + rinse.volume.get();
        if filled > sump.volume.get() {
            let detail = sentence!(
                "With the residue a rinse comes to {}, more than the {} that the sump holds. Rinse \
                 with less at a time, more often.",
                Volume::measure_of(filled),
                sump.volume
            );
            faults.add(format!("{pointer}/volume"), detail);
        }
        match (rinse.strength, &rinse.stock) {
            (Some(strength), None) if strength.get() > self.premix_bound() => {
                let detail = sentence!(
                    "What is poured into a sump is {} at most (premix_at_most), and a rinse is \
                     weak: a few per cent.",
                    Concentration::measure_of(self.premix_bound())
                );
                faults.add(format!("{pointer}/strength"), detail);
            }
            (Some(_), None) => {}
            (None, Some(stock)) => self.check_rinse_stock(sump, stock, pointer, faults),
            (Some(_), Some(_)) | (None, None) => {
                let detail = sentence!(
                    "Say what the sump is rinsed with: the strength of a mix of its product \
                     (strength), or the name of a stock (stock), one of the two."
                );
                faults.add(pointer.to_owned(), detail);
            }
        }
    }

    fn check_rinse_stock(
        &self,
        sump: &SumpToClean,
        name: &str,
        pointer: &str,
        faults: &mut Faults,
    ) {
        let names = || self.stocks.iter().map(|stock| stock.name.as_str());
        match self.stocks.iter().find(|stock| stock.name == name) {
            None => {
                let detail = sentence!("No stock is called \"{}\".", name);
                faults.add(format!("{pointer}/stock"), with_nearest(detail, name, names()));
            }
            Some(stock) if !stock.goes_with(&sump.product) => {
                let detail = sentence!(
                    "{} is not of the product {}, which belongs into this sump. Rinse with a weak \
                     mix of the same product.",
                    &stock.name,
                    &sump.product
                );
                faults.add(format!("{pointer}/stock"), detail);
            }
            Some(stock) if stock.concentration.get() > self.premix_bound() => {
                let detail = sentence!(
                    "{} is stronger than the {} that is poured into a sump at most \
                     (premix_at_most). Rinse with a weak mix of the product (strength).",
                    &stock.name,
                    Concentration::measure_of(self.premix_bound())
                );
                faults.add(format!("{pointer}/stock"), detail);
            }
            Some(_) => {}
        }
    }

    fn check_mixes(&self, faults: &mut Faults) {
        let Some(most) = self.batch_at_most else { return };
        let all: f64 = self.sumps.iter().map(|sump| sump.volume.get()).sum();
        if all > MOST_MIXES * most.get() {
            let detail = sentence!(
                "Batches of {} would be mixed more than {} times to fill these sumps. Check the \
                 units of both.",
                most,
                Measure::bare(MOST_MIXES)
            );
            faults.add("/batch_at_most", detail);
        }
    }

    /// Every sump's product must have a stock that brings concentrate, and every stock that is more than
    /// water a product where there are several.
    fn check_products(&self, faults: &mut Faults) {
        let products = self.products();
        if products.len() > 1 {
            check_products_named(&self.stocks, faults);
        }
        for (i, sump) in self.sumps.iter().enumerate() {
            let own = self.stocks_for(&sump.product);
            let more_than_water = own.iter().any(|s| self.stocks[*s].is_more_than_water());
            if own.is_empty() || (!more_than_water && sump.target.get() > 0.0) {
                let detail = sentence!("No stock holds concentrate of \"{}\".", &sump.product);
                let known = self.stocks.iter().filter_map(|stock| stock.product.as_deref());
                let detail = with_nearest(detail, &sump.product, known);
                faults.add(format!("/sumps/{i}/product"), detail);
            }
        }
    }
}

fn check_sump(sump: &SumpToClean, pointer: &str, faults: &mut Faults) {
    let (v, h, v_0) = (sump.volume.get(), sump.stays(), sump.volume_now());
    if h >= v {
        let detail = sentence!(
            "Emptying leaves {} in a sump of {}: there is no room for a refill. Check the two \
             volumes.",
            Volume::measure_of(h),
            sump.volume
        );
        faults.add(format!("{pointer}/residue"), detail);
    }
    if let Some(now) = &sump.fluid_now {
        if v_0 > v {
            let detail = sentence!(
                "The sump is fuller than full: {} where it holds {}.",
                now.volume,
                sump.volume
            );
            faults.add(format!("{pointer}/fluid_now/volume"), detail);
        }
        if v_0 < h {
            let detail = sentence!(
                "There is {} in the sump, less than the {} that emptying leaves in it. Lower the \
                 residue to what is there.",
                now.volume,
                Volume::measure_of(h)
            );
            faults.add(format!("{pointer}/residue"), detail);
        }
        let pointer = format!("{pointer}/fluid_now");
        stock::check_volume_shares(now.concentration, sump.pumped_properties(), &pointer, faults);
    }
    let oil = sump.left_properties().tramp_oil.map_or(0.0, Quantity::get);
    let filled = sump.stays_at() + oil;
    if filled > 100.0 {
        let detail = sentence!(
            "Concentrate and tramp oil together come to {} of the residue, more than all of it.",
            Concentration::measure_of(filled)
        );
        faults.add(format!("{pointer}/residue_properties/tramp_oil"), detail);
    }
}
