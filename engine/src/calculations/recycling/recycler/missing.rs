//! What a recycler cannot be calculated without.

use super::Recycler;
use crate::fluid::properties::{Name, TRAMP_OIL};
use crate::sentence;
use crate::text::{Faults, Sentence, with_nearest};

impl Recycler {
    pub(super) fn check_what_is_missing(&self, faults: &mut Faults) {
        let feed = &self.feed;
        if feed.volume.is_none() && feed.arrivals.is_none() {
            let detail = "How much there is to recycle is missing. Give the feed's volume, or its \
                          arrivals by day.";
            faults.add("/feed/volume", Sentence::new(detail));
        }
        let on_feed = self.batch() + self.dirty_level() > 0.0
            || self.arrivals().iter().any(|arrival| arrival.concentration.is_none());
        if on_feed && feed.concentration.is_none() && feed.reading.is_none() {
            let detail = "The strength of the dirty fluid is missing. Give its concentration in % \
                          by volume, or a reading.";
            faults.add("/feed/concentration", Sentence::new(detail));
        }
        let known = self.carried();
        if feed.emulsified_share.is_some() && !known.contains(TRAMP_OIL) {
            let detail = "How much of the tramp oil is emulsified is said, but not how much tramp \
                          oil there is. Give it among the feed's properties.";
            faults.add("/feed/emulsified_share", Sentence::new(detail));
        }
        if feed.spread.is_some() && self.tanks.is_none() {
            let detail = "How likely the dirty tank is to run over depends on its capacity. Give \
                          the tanks, or leave the spread out.";
            faults.add("/feed/spread", Sentence::new(detail));
        }
        let limits = &self.target.limits;
        let limited = limits.tramp_oil.iter().map(|_| TRAMP_OIL);
        for name in limited.chain(limits.matter.keys().map(Name::as_str)) {
            if !known.contains(name) {
                let detail = sentence!(
                    "There is a limit on {}, but the feed does not say how much of it it carries. \
                     Give it among the feed's properties.",
                    name
                );
                let detail = with_nearest(detail, name, known.iter().copied());
                faults.add(format!("/target/limits/{name}"), detail);
            }
        }
    }
}
