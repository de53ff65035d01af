//! The shelf day by day: what comes, what is used, what is thrown away, and when to order.

use super::point::ReorderPoint;
use super::question::{Supplies, SupplyItem, whole_days};
use crate::numerics::cut_off::look;
use crate::quantity::Quantity;
use crate::text::{CalendarDate, DayText};

/// Days that an order lasts where nobody says.
const USUAL_ORDER: f64 = 30.0;
/// Less than this is rounding, L.
const ROUNDING: f64 = 1e-9;

/// What came together and spoils together.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Lot {
    litres: f64,
    /// The last day on which it may be used.
    use_by: Option<usize>,
}

/// An order that is written down.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Ordered {
    pub(super) on: usize,
    pub(super) arrives: usize,
    pub(super) containers: f64,
}

/// What a supply is today, in days counted from today.
#[derive(Debug, Clone)]
pub(super) struct Shelf {
    lots: Vec<Lot>,
    /// What is to come, L by its day.
    coming: Vec<(usize, f64)>,
    /// What is used on each day, L.
    uses: Vec<f64>,
    point: ReorderPoint,
    container: f64,
    containers_at_least: f64,
    lead: usize,
    look_every: usize,
    order_lasts: usize,
    keeps: Option<usize>,
    horizon: usize,
}

/// What becomes of it.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Walked {
    pub(super) orders: Vec<Ordered>,
    /// The first day that there is too little, where nothing more is ordered.
    pub(super) runs_out: Option<usize>,
    /// The first day that there is too little all the same.
    pub(super) short: Option<usize>,
    /// What is thrown away, L by its day.
    pub(super) wasted: Vec<(usize, f64)>,
    /// What is on the shelf at the end, L.
    pub(super) left: f64,
    /// What is on the shelf at the end of each day, L.
    pub(super) stock: Vec<f64>,
}

impl Supplies {
    pub(super) fn shelf(
        &self,
        item: &SupplyItem,
        point: &ReorderPoint,
        today: CalendarDate,
    ) -> Shelf {
        let day =
            |date: &DayText| date.day().and_then(|day| usize::try_from(day.days_since(today)).ok());
        let horizon = self.horizon();
        let (lead, look_every) = (whole_days(item.lead_days.get()), self.look_every());
        let order_lasts = whole_days(item.order_lasts_days.map_or(USUAL_ORDER, Quantity::get));
        let keeps = item.shelf_life_days.map(|days| whole_days(days.get()));
        // So far it is looked ahead from the last day of the plan.
        let ahead = lead + look_every.max(order_lasts.max(keeps.unwrap_or(0).min(MOST_DAYS)));
        let mut uses = vec![point.mean; horizon + ahead + 2];
        for planned in item.planned.iter().flatten() {
            if let Some(litres) = day(&planned.on).and_then(|day| uses.get_mut(day)) {
                *litres += planned.volume.get();
            }
        }
        let coming = item.on_order.iter().flatten();
        Shelf {
            lots: vec![Lot {
                litres: item.on_hand.get(),
                use_by: item.use_by.as_ref().and_then(day),
            }],
            coming: coming
                .filter_map(|own| Some((day(&own.arrives_on)?, own.volume.get())))
                .collect(),
            uses,
            point: *point,
            container: item.container.volume.get(),
            containers_at_least: item.containers_at_least.map_or(1.0, Quantity::get),
            lead,
            look_every,
            order_lasts,
            keeps,
            horizon,
        }
    }
}

/// Nobody plans further.
pub(super) const MOST_DAYS: usize = 3_650;

impl Shelf {
    /// Walks through the plan; what runs out is told of the shelf without any more orders.
    pub(super) fn walked(&self) -> Walked {
        let without = self.walk(false);
        Walked { runs_out: without.short, ..self.walk(true) }
    }

    fn walk(&self, orders: bool) -> Walked {
        let mut lots = self.lots.clone();
        let mut coming = self.coming.clone();
        let mut walked = Walked::default();
        for day in 0..=self.horizon {
            look();
            let keeps = self.keeps.map(|days| day + days);
            let arrived: f64 =
                coming.iter().filter(|(on, _)| *on == day).map(|(_, litres)| litres).sum();
            coming.retain(|(on, _)| *on != day);
            if arrived > 0.0 {
                lots.push(Lot { litres: arrived, use_by: keeps });
            }
            let wasted = throw_away(&mut lots, day);
            if wasted > ROUNDING {
                walked.wasted.push((day, wasted));
            }
            if orders
                && day % self.look_every == 0
                && let Some(containers) = self.to_order(&lots, &coming, day)
            {
                let arrives = day + self.lead;
                walked.orders.push(Ordered { on: day, arrives, containers });
                let litres = containers * self.container;
                if arrives == day {
                    lots.push(Lot { litres, use_by: keeps });
                } else {
                    coming.push((arrives, litres));
                }
            }
            let missing = use_up(&mut lots, self.uses[day]);
            if missing > ROUNDING && walked.short.is_none() {
                walked.short = Some(day);
            }
            walked.stock.push(lots.iter().map(|lot| lot.litres).sum());
        }
        walked.left = walked.stock.last().copied().unwrap_or_default();
        walked
    }

    /// How many containers to order on a day; none where there is enough.
    fn to_order(&self, lots: &[Lot], coming: &[(usize, f64)], day: usize) -> Option<f64> {
        let window = day..day + self.lead + self.look_every;
        let planned: f64 =
            self.uses[window.clone()].iter().map(|litres| litres - self.point.mean).sum();
        let stock: f64 = lots.iter().map(|lot| lot.litres).sum();
        let ordered: f64 = coming.iter().map(|(_, litres)| litres).sum();
        let position = stock + ordered - self.spoils_within(lots, window.end, day);
        let at = self.point.order_at + planned;
        if position > at + ROUNDING || self.point.mean <= 0.0 && position >= planned {
            return None;
        }
        let arrives = day + self.lead;
        let lasts: f64 = self.uses[arrives..arrives + self.order_lasts].iter().sum();
        let wanted = lasts.max(at - position + ROUNDING);
        let mut containers = (wanted / self.container - ROUNDING).ceil();
        if let Some(keeps) = self.keeps {
            let until_then: f64 = self.uses[day..arrives].iter().sum();
            let left = (position - until_then).max(0.0);
            let used: f64 = self.uses[arrives..arrives + keeps.min(MOST_DAYS)].iter().sum();
            containers = containers.min(((used - left) / self.container).floor());
        }
        Some(containers.max(self.containers_at_least).max(1.0))
    }

    /// What of the lots will not be used up before it spoils, until the day `end`.
    fn spoils_within(&self, lots: &[Lot], end: usize, day: usize) -> f64 {
        if lots.iter().all(|lot| lot.use_by.is_none_or(|last| last >= end)) {
            return 0.0;
        }
        let mut lots = lots.to_vec();
        let mut spoilt = 0.0;
        for day in day..end {
            spoilt += throw_away(&mut lots, day);
            use_up(&mut lots, self.uses[day]);
        }
        spoilt + throw_away(&mut lots, end)
    }
}

/// Takes out what is past its last day, L.
fn throw_away(lots: &mut Vec<Lot>, day: usize) -> f64 {
    let past = |lot: &Lot| lot.use_by.is_some_and(|last| last < day);
    let wasted = lots.iter().filter(|lot| past(lot)).map(|lot| lot.litres).sum();
    lots.retain(|lot| !past(lot) && lot.litres > 0.0);
    wasted
}

/// Uses what spoils first, and says how much is missing, L.
fn use_up(lots: &mut [Lot], mut litres: f64) -> f64 {
    lots.sort_by_key(|lot| lot.use_by.unwrap_or(usize::MAX));
    for lot in lots.iter_mut() {
        let taken = lot.litres.min(litres);
        lot.litres -= taken;
        litres -= taken;
    }
    litres
}
