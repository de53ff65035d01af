//! What is taken for granted because the request did not say.

use super::{Recycler, RecyclerMode};
use crate::fluid::practice;
use crate::fluid::properties::TRAMP_OIL;
use crate::fluid::stock::{self, Stock};
use crate::handbook::water::DENSITY_AT_20_CELSIUS;
use crate::quantity::{Concentration, Count, Density, Quantity, Temperature};
use crate::sentence;
use crate::text::{Assumption, Sentence};

impl Recycler {
    /// What is taken for granted; `stocks` begin with the recovered fluid.
    pub(super) fn assumptions(&self, stocks: &[Stock]) -> Vec<Assumption> {
        let mut assumptions = vec![Assumption::volumes_add()];
        let mut note = |applies: bool, pointer: &'static str, text: Sentence| {
            if applies {
                assumptions.push(Assumption::new(pointer, text));
            }
        };
        self.about_the_treatment(&mut note);
        self.about_the_feed(&mut note);
        self.about_the_plan(&mut note);
        for (s, stage) in self.stages.iter().enumerate() {
            if let Some(separator) = &stage.separator {
                assumptions.extend(separator.assumptions(&format!("/stages/{s}/separator")));
            }
        }
        let feed = &self.feed;
        if feed.density.is_none() {
            assumptions.push(Assumption::weighs_like_water("/feed/density", "Dirty fluid"));
        }
        if self.stocks.is_none() {
            let text = sentence!(
                "Neat concentrate at {} and pure water were taken to be at hand, both with the \
                 density of water at {}, {}.",
                Concentration::measure_of(100.0),
                Temperature::measure_of(20.0),
                Density::measure_of(DENSITY_AT_20_CELSIUS).rounded(7)
            );
            assumptions.push(Assumption::new("/stocks", text));
        } else {
            assumptions.extend(stock::assumptions(&stocks[1..]).into_iter().skip(1));
        }
        let stocks = self.stocks.iter().flatten().flat_map(Stock::names);
        let told = stocks.into_iter().any(practice::is_hardness);
        assumptions.extend(practice::of_hardness(self.carried()).filter(|_| !told));
        if feed.dip_slide.is_some() {
            assumptions.push(practice::of_bands("/feed/dip_slide"));
        }
        if let Some(reading) = &feed.reading {
            assumptions.extend(reading.assumptions("/feed/reading"));
        }
        assumptions
    }

    fn about_the_treatment(&self, note: &mut impl FnMut(bool, &'static str, Sentence)) {
        note(
            true,
            "/stages",
            sentence!(
                "Each stage was taken to remove the same share on every pass, and the good fluid \
                 that leaves with it to be as the fluid that goes on."
            ),
        );
        let mode = match self.mode {
            RecyclerMode::SinglePass => sentence!(
                "All of the feed was taken to go through the stages at least once, and then as \
                 often as the whole of it needs."
            ),
            RecyclerMode::Recirculate => sentence!(
                "The batch was taken to be kept well mixed, to be turned over at least once, and \
                 to leave the dirty tank evenly while it is worked."
            ),
        };
        note(true, "/mode", mode);
        let mixing = match self.mode {
            RecyclerMode::SinglePass => sentence!(
                "The tank in which the fluid is corrected was taken to stand still: what is \
                 poured into it is a premix, made outside."
            ),
            RecyclerMode::Recirculate => sentence!(
                "The tank in which the fluid is corrected was taken to be turned over while \
                 concentrate is poured in slowly."
            ),
        };
        note(self.target.mixing.is_none(), "/target/mixing", mixing);
        note(
            self.stages.iter().any(|stage| stage.separator.is_some()),
            "/stages",
            sentence!(
                "A separator was taken to be fed at the flow of the slowest stage and to meet the \
                 sizes that it is given on every pass. What earlier stages and passes leave is \
                 finer, so that a later pass takes out less than this says."
            ),
        );
    }

    fn about_the_feed(&self, note: &mut impl FnMut(bool, &'static str, Sentence)) {
        let feed = &self.feed;
        note(
            feed.arrivals.is_some(),
            "/feed/arrivals",
            sentence!(
                "Deliveries were taken to mix in the dirty tank: passes, waste and correction are \
                 those of all of them together."
            ),
        );
        let oil = self.carried().contains(TRAMP_OIL);
        note(
            oil && feed.oil_density.is_none(),
            "/feed/oil_density",
            sentence!("The tramp oil was taken to weigh what the fluid weighs."),
        );
        note(
            oil && feed.emulsified_share.is_none(),
            "/feed/emulsified_share",
            sentence!(
                "All of the tramp oil was taken to be free to separate. Let a sample stand \
                 overnight to see."
            ),
        );
        let spread = feed.spread.as_ref();
        note(
            spread.is_some_and(|spread| spread.distribution.is_none()),
            "/feed/spread/distribution",
            sentence!(
                "The deliveries were taken to be lognormal about their volumes, each by itself."
            ),
        );
        note(
            spread.is_some_and(|spread| spread.seed.is_none()),
            "/feed/spread/seed",
            sentence!("The random draws grow from the seed {}.", Count::measure_of(1.0)),
        );
    }

    fn about_the_plan(&self, note: &mut impl FnMut(bool, &'static str, Sentence)) {
        note(
            self.tanks.is_some() || self.demand.is_some(),
            "/tanks",
            sentence!(
                "The recycler was taken to be stopped while the clean tank is full, and the \
                 recovered fluid to be corrected as it comes into it."
            ),
        );
        note(
            self.starts_at_hour.is_none(),
            "/starts_at_hour",
            sentence!("The recycler was taken to start at midnight."),
        );
        note(
            self.runs_on.is_none(),
            "/runs_on",
            sentence!("The recycler was taken to run every day."),
        );
    }
}
