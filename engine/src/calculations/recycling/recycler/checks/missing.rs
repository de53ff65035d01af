//! What a recycler cannot be calculated without.

use crate::calculations::recycling::recycler::Recycler;
use crate::fluid::properties::{TRAMP_OIL, spoken};
use crate::sentence;
use crate::text::{Faults, with_nearest};

impl Recycler {
    pub(super) fn check_what_is_missing(&self, faults: &mut Faults) {
        let feed = &self.feed;
        if feed.volume.is_none() && feed.arrivals.is_none() {
            let detail = sentence!(
                "How much there is to recycle is missing. Give the feed's volume, or its arrivals \
                 by day."
            );
            faults.add("/feed/volume", detail);
        }
        let on_feed = self.batch() + self.dirty_level() > 0.0
            || self.arrivals().iter().any(|arrival| arrival.concentration.is_none());
        if on_feed && feed.concentration.is_none() && feed.reading.is_none() {
            let detail = sentence!(
                "The strength of the dirty fluid is missing. Give its concentration in % by \
                 volume, or a reading."
            );
            faults.add("/feed/concentration", detail);
        }
        let known = self.carried();
        if feed.emulsified_share.is_some() && !known.contains(TRAMP_OIL) {
            let detail = sentence!(
                "How much of the tramp oil is emulsified is given, but not how much tramp oil \
                 there is. Give it among the feed's properties."
            );
            faults.add("/feed/emulsified_share", detail);
        }
        if feed.spread.is_some() && self.tanks.is_none() {
            let detail = sentence!(
                "How likely the dirty tank is to run over depends on its capacity. Give the \
                 tanks, or leave the spread out."
            );
            faults.add("/feed/spread", detail);
        }
        for name in self.target.limits.names() {
            if !known.contains(name) {
                let detail = sentence!(
                    "There is a limit on {}, but the feed does not say how much of it it carries. \
                     Give it among the feed's properties.",
                    spoken(name)
                );
                let detail = with_nearest(detail, name, known.iter().copied());
                faults.add(format!("/target/limits/{name}"), detail);
            }
        }
    }
}
