//! When to order how much of each concentrate and of water.
//!
//! *How many drums do I order of which product, by when, and what will spoil on the shelf?*
//!
//! With μ and σ what is used in a day and how much that varies (L), L and σ_L the days from an
//! order to its delivery and how much they vary, r the days from one look at the shelf to the
//! next, and z the normal quantile of the service level:
//!
//! 1. safety stock: z·√(L·σ² + μ²·σ_L²)
//! 2. reorder point: μ·L + safety stock
//! 3. with a look every r days: order at μ·(L + r) + z·√((L + r)·σ² + μ²·σ_L²), and what is
//!    planned for these days
//! 4. an order lasts T days from its delivery, in whole containers, and no longer than it keeps:
//!    n·c ≤ μ·(shelf life) − what is left when it arrives
//!
//! What is on hand and on order is then walked through day by day at its mean use: what spoils
//! first is used first, what is past its day is thrown away, and an order is written down on the
//! first look on which stock and open orders are at the point or below it.
//!
//! The use is taken as it is given: a mean and its spread, what past weeks used, or the numbers
//! that `forecast`, `make-up` and a calendar of clean-outs answer. Days are days of the calendar.
//!
//! Assumes that days are independent and add up to a normal sum over the lead time. Valid for
//! supplies that are used every day or so; for what is used in a few large lots give these as
//! planned. Source: the reorder point with a service level of any textbook of stock keeping, from
//! memory; with a varying lead time, the variance of a sum of so many days.

mod answer;
mod assumptions;
mod cautions;
mod checks;
mod findings;
mod job_sheet;
mod picture;
mod point;
mod question;
mod shelf;
mod statement;
mod usage;

pub use answer::{SuppliesAnswer, SupplyKept, SupplyOrder, SupplyWasted};
pub use question::{ContainerKind, OpenOrder, PlannedUse, Supplies, SupplyContainer, SupplyItem};

use crate::calculation::{Calculation, DrawPictures, Outcome};
use crate::job_sheet::MakeSheet;
use crate::numerics::cut_off::look;
use crate::numerics::order;
use crate::quantity::{Count, DailyRate, Days, Money, Quantity, Volume};
use crate::text::{CalendarDate, Refusal, Sentence, filed, said};
use point::ReorderPoint;
use shelf::Walked;

impl Calculation for Supplies {
    const NAME: &'static str = "supplies";
    const SUMMARY: &'static str = "When to order how much of each concentrate and of water, what runs \
                                   out when, and what would spoil on the shelf";
    const EXAMPLE: &'static str = include_str!("../../../../../examples/supplies.json");
    const LIST: Option<&'static str> = Some("supplies");
    const SHEET: Option<MakeSheet<Self, SuppliesAnswer>> = Some(|_, answer| answer.job_sheet());
    type Answer = SuppliesAnswer;
    const PICTURES: Option<DrawPictures<Self>> = Some(picture::pictures);

    fn calculate(&self) -> Result<Outcome<SuppliesAnswer>, Refusal> {
        let today = self.check()?;
        let mut kept = Vec::with_capacity(self.supplies.len());
        let mut orders: Vec<SupplyOrder> = Vec::new();
        for item in &self.supplies {
            look();
            let (point, walked) = self.walked(item, today);
            let own = Self::orders_of(item, &walked, today)?;
            kept.push(Self::kept(item, &point, &walked, &own, today)?);
            orders.extend(own);
        }
        #[expect(clippy::cast_precision_loss, reason = "a few hundred days")]
        order::least_first(&mut orders, |own| own.order_on.days_since(today) as f64);
        let costs = orders.iter().map(|own| own.cost.map(Quantity::get));
        let cost = costs.sum::<Option<f64>>().filter(|_| !orders.is_empty());
        let answer = SuppliesAnswer {
            due_today: Count::from_usize(
                orders.iter().filter(|own| own.order_on == today).count(),
            )?,
            cost: cost.map(Money::of).transpose()?,
            orders,
            supplies: kept,
        };
        Ok(Outcome {
            findings: said(|| self.findings(&answer)),
            balance: None,
            assumptions: filed(|| self.assumptions()),
            cautions: said(|| cautions::cautions(&answer)),
            answer,
        })
    }

    fn statement(&self, answer: &SuppliesAnswer) -> Sentence {
        self.in_short(answer)
    }

    fn work(&self, _: &SuppliesAnswer) -> usize {
        self.work_ahead()
    }

    fn work_ahead(&self) -> usize {
        /// A day of a supply, in handled numbers.
        const A_DAY: usize = 2;
        A_DAY * self.supplies.len() * 2 * self.horizon()
    }
}

impl Supplies {
    fn walked(&self, item: &SupplyItem, today: CalendarDate) -> (ReorderPoint, Walked) {
        let point = ReorderPoint::of(self, item);
        let shelf = self.shelf(item, &point, today);
        (point, shelf.walked())
    }

    fn orders_of(
        item: &SupplyItem,
        walked: &Walked,
        today: CalendarDate,
    ) -> Result<Vec<SupplyOrder>, Refusal> {
        let day = |day: usize| later(today, day);
        let orders = walked.orders.iter().map(|own| {
            let litres = own.containers * item.container.volume.get();
            let cost = item.unit_cost.map(|price| Money::of(price.get() * litres));
            Ok(SupplyOrder {
                name: item.name.clone(),
                order_on: day(own.on),
                arrives_on: day(own.arrives),
                containers: Count::of(own.containers)?,
                kind: item.container.kind,
                volume: Volume::of(litres)?,
                cost: cost.transpose()?,
            })
        });
        orders.collect()
    }

    fn kept(
        item: &SupplyItem,
        point: &ReorderPoint,
        walked: &Walked,
        orders: &[SupplyOrder],
        today: CalendarDate,
    ) -> Result<SupplyKept, Refusal> {
        let wasted = walked.wasted.iter().map(|(day, litres)| {
            Ok(SupplyWasted { on: later(today, *day), volume: Volume::of(*litres)? })
        });
        let days = |day: usize| Days::of(Count::from_usize(day)?.get());
        Ok(SupplyKept {
            name: item.name.clone(),
            use_per_day: DailyRate::of(point.mean)?,
            use_spread_per_day: DailyRate::of(point.spread)?,
            safety_stock: Volume::of(point.safety)?,
            reorder_point: Volume::of(point.reorder)?,
            order_at: Volume::of(point.order_at)?,
            runs_out_on: walked.runs_out.map(|day| later(today, day)),
            lasts_days: walked.runs_out.map(days).transpose()?,
            short_on: walked.short.map(|day| later(today, day)),
            next_order: orders.first().cloned(),
            wasted: wasted.collect::<Result<_, Refusal>>()?,
            left: Volume::of(walked.left)?,
        })
    }
}

/// The day so many days after today; the calendar ends beyond any horizon that is asked.
fn later(today: CalendarDate, days: usize) -> CalendarDate {
    i64::try_from(days).ok().and_then(|days| today.later(days)).unwrap_or(today)
}
