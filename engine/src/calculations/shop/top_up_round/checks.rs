//! What a round of top-ups may not contradict itself in.

use super::{PremixMaker, SumpFound, TopUpRound};
use crate::fluid::practice::NEAT_FROM;
use crate::fluid::product_stock::{ProductStock, check_products_named};
use crate::fluid::stock::{self, Stock};
use crate::quantity::{Concentration, Quantity};
use crate::sentence;
use crate::text::names::check_unique;
use crate::text::{Faults, Kind, Refusal, Sentence, with_nearest};

/// At this share of a band's width off either end nothing of the band is left, %.
const NOTHING_LEFT: f64 = 50.0;

impl TopUpRound {
    pub(super) fn check(&self) -> Result<(), Refusal> {
        let mut faults = Faults::default();
        stock::check(&self.plain_stocks(), &mut faults);
        let names = self.sumps.iter().map(|found| found.name.as_str());
        check_unique(names, "sumps", "/sumps", &mut faults);
        let vessels = self.vessels.iter().flatten().map(|vessel| vessel.name.as_str());
        check_unique(vessels, "vessels", "/vessels", &mut faults);
        for (i, found) in self.sumps.iter().enumerate() {
            check_sump(found, i, &mut faults);
        }
        self.check_premix(&mut faults);
        self.check_settings(&mut faults);
        faults.or_refuse(Kind::Inconsistent)?;
        self.check_readings()?;

        let mut faults = Faults::default();
        for (i, found) in self.sumps.iter().enumerate() {
            let given = found.sump.check_strength_given();
            placed(given, i, &mut faults);
        }
        self.check_products(&mut faults);
        faults.or_refuse(Kind::NotIdentifiable)?;
        self.check_makeable()
    }

    /// The stocks by themselves.
    pub(super) fn plain_stocks(&self) -> Vec<Stock> {
        self.stocks.iter().map(ProductStock::stock).collect()
    }

    pub(super) fn has_proportioner(&self) -> bool {
        self.mixing.as_ref().is_some_and(|mixing| mixing.by == PremixMaker::Proportioner)
    }

    /// The products of the round, in the order in which its sumps name them.
    pub(super) fn products(&self) -> Vec<&str> {
        let mut products: Vec<&str> = Vec::new();
        for found in &self.sumps {
            if !products.contains(&found.product.as_str()) {
                products.push(&found.product);
            }
        }
        products
    }

    /// A reading that cannot be is refused as it is where one sump is asked about.
    fn check_readings(&self) -> Result<(), Refusal> {
        let mut faults = Faults::default();
        let mut kind = None;
        for (i, found) in self.sumps.iter().enumerate() {
            if let Err(refusal) = found.sump.strength() {
                kind = kind.or(Some(refusal.kind));
                placed(Err(refusal), i, &mut faults);
            }
        }
        faults.or_refuse(kind.unwrap_or(Kind::Inconsistent))
    }

    fn check_premix(&self, faults: &mut Faults) {
        if let Some(bound) = self.premix_at_most.filter(|bound| bound.get() >= NEAT_FROM) {
            let detail = sentence!(
                "{} is concentrate and no premix: a premix is below {}.",
                bound,
                Concentration::measure_of(NEAT_FROM)
            );
            faults.add("/premix_at_most", detail);
        }
        if let Some(least) = self.premix_at_least
            && self.premix_at_most.is_some_and(|most| least > most)
        {
            let detail = sentence!("The weakest premix, {}, is above the strongest.", least);
            faults.add("/premix_at_least", detail);
        }
        if let Some(margin) = self.margin.filter(|margin| margin.get() >= NOTHING_LEFT) {
            let detail = sentence!(
                "A band of which {} are kept off at either end has nothing left. Give less than half.",
                margin
            );
            faults.add("/margin", detail);
        }
    }

    fn check_settings(&self, faults: &mut Faults) {
        let Some(mixing) = &self.mixing else { return };
        let Some(settings) = &mixing.settings else { return };
        if mixing.by != PremixMaker::Proportioner {
            let detail = sentence!("Only a proportioner has settings. Leave them out.");
            faults.add("/mixing/settings", detail);
        }
        for (i, setting) in settings.iter().enumerate().filter(|(_, c)| c.get() >= NEAT_FROM) {
            let detail = sentence!(
                "A setting of {} makes no premix. Give the strength that comes out of it.",
                *setting
            );
            faults.add(format!("/mixing/settings/{i}"), detail);
        }
    }

    /// Every sump's product must have a stock that brings concentrate, every stock that is more
    /// than water a product where there are several, and every product a vessel.
    fn check_products(&self, faults: &mut Faults) {
        let products = self.products();
        if products.len() > 1 {
            check_products_named(&self.stocks, faults);
        }
        for product in products {
            let first = self.sumps.iter().position(|found| found.product == product);
            let pointer = format!("/sumps/{}/product", first.unwrap_or_default());
            let brings = |s: &usize| self.stocks[*s].is_more_than_water();
            if !self.stocks_for(product).iter().any(brings) {
                let known = self.stocks.iter().filter_map(|stock| stock.product.as_deref());
                let detail = with_nearest(self.no_stock(product), product, known);
                faults.add(pointer.clone(), detail);
            }
            let mut vessels = self.vessels.iter().flatten();
            let carries =
                vessels.any(|vessel| vessel.product.as_ref().is_none_or(|own| own == product));
            if self.vessels.is_some() && !carries {
                let detail = sentence!(
                    "No vessel is for \"{}\". Give one that is, or leave out what one of them is \
                     kept for.",
                    product
                );
                faults.add(pointer, detail);
            }
        }
    }

    fn no_stock(&self, product: &str) -> Sentence {
        if self.has_proportioner() {
            sentence!(
                "No stock is a neat concentrate of \"{}\", which a proportioner draws from.",
                product
            )
        } else {
            sentence!("No stock holds concentrate of \"{}\".", product)
        }
    }

    /// Of every product some premix must be possible.
    fn check_makeable(&self) -> Result<(), Refusal> {
        let mut faults = Faults::default();
        for product in self.products() {
            if self.makeable(product).is_some() {
                continue;
            }
            let settings = self.mixing.as_ref().is_some_and(|mixing| mixing.settings.is_some());
            let (pointer, detail) = if settings {
                (
                    "/mixing/settings",
                    sentence!(
                        "No setting makes a premix of \"{}\" within the weakest and the strongest \
                         that is poured in.",
                        product
                    ),
                )
            } else {
                (
                    "/stocks",
                    sentence!(
                        "The stocks for \"{}\" make no premix within the weakest and the strongest \
                         that is poured in. Add water to them, or what is stronger.",
                        product
                    ),
                )
            };
            if !faults.has(pointer) {
                faults.add(pointer, detail);
            }
        }
        faults.or_refuse(Kind::Unreachable)
    }
}

fn check_sump(found: &SumpFound, i: usize, faults: &mut Faults) {
    let mut own = Faults::default();
    found.sump.check(&mut own);
    found.band.note_faults(&mut own);
    placed(own.or_refuse(Kind::Inconsistent), i, faults);
    if let Some(level) = found.fill_to.filter(|level| level.get() > found.sump.capacity.get()) {
        let detail = sentence!(
            "It is to be filled to {}, and holds {}. Correct one of the two.",
            level,
            found.sump.capacity
        );
        faults.add(format!("/sumps/{i}/fill_to"), detail);
    }
}

/// Puts the faults of a sump at its place in the list.
fn placed(own: Result<(), Refusal>, i: usize, faults: &mut Faults) {
    for fault in own.err().into_iter().flat_map(|refusal| refusal.faults) {
        faults.add(format!("/sumps/{i}{}", fault.pointer), fault.detail);
    }
}
