//! What a plan of supplies takes for granted because the request did not say.

use super::question::{Supplies, SupplyItem};
use crate::quantity::{Days, Quantity, Share};
use crate::sentence;
use crate::text::{Assumption, Sentence};

impl Supplies {
    pub(super) fn assumptions(&self) -> Vec<Assumption> {
        let any = |of: fn(&SupplyItem) -> bool| self.supplies.iter().any(of);
        let about: [(bool, &'static str, Sentence); 8] = [
            (
                true,
                "/supplies",
                sentence!(
                    "What is used was taken as it was given and not worked out from sumps. Days are \
                     days of the calendar: give the use of a working week over seven days."
                ),
            ),
            (
                true,
                "/supplies",
                sentence!(
                    "Days were assumed to be independent of each other, and their sum over the lead \
                     time to be normal. What spoils first was assumed to be used first."
                ),
            ),
            (
                self.service_level.is_none(),
                "/service_level",
                sentence!(
                    "Nothing was to run out before a delivery in {} of orders.",
                    Share::measure_of(95.0)
                ),
            ),
            (
                self.look_days.is_none(),
                "/look_days",
                sentence!("The shelf was assumed to be looked at every day."),
            ),
            (
                any(|item| item.lead_spread_days.is_none()),
                "/supplies",
                sentence!(
                    "A delivery that does not say how much it varies was assumed to be punctual."
                ),
            ),
            (
                any(|item| item.order_lasts_days.is_none()),
                "/supplies",
                sentence!(
                    "An order that does not say how long it is to last was made for {}.",
                    Days::measure_of(30.0)
                ),
            ),
            (
                any(|item| item.shelf_life_days.is_none()),
                "/supplies",
                sentence!("What does not say how long it keeps was assumed to keep."),
            ),
            (
                any(|item| item.planned.is_none()),
                "/supplies",
                sentence!("Where nothing is planned, no refill takes more than an ordinary day."),
            ),
        ];
        let about = about.into_iter().filter(|(applies, _, _)| *applies);
        about.map(|(_, pointer, text)| Assumption::new(pointer, text)).collect()
    }
}
