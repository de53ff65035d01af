//! The statement: what to order by when, and what goes wrong if nobody does.

use super::answer::{SuppliesAnswer, SupplyKept, SupplyOrder};
use super::question::{ContainerKind, Supplies};
use crate::quantity::{Count, Quantity};
use crate::sentence;
use crate::text::{CalendarDate, Sentence, listed};

/// No more orders than this are named one by one.
const NAMED: usize = 3;

impl Supplies {
    pub(super) fn in_short(&self, answer: &SuppliesAnswer) -> Sentence {
        // The next order of each supply; what comes after it is planned anew by then.
        let mut next: Vec<&SupplyOrder> = Vec::new();
        for own in &answer.orders {
            if next.iter().all(|known| known.name != own.name.as_str()) {
                next.push(own);
            }
        }
        let ordered = match next.as_slice() {
            [] => sentence!("Nothing to order in the days ahead."),
            few if few.len() <= NAMED => {
                sentence!("Order {}.", listed(few.iter().map(|own| self.what_by_when(own))))
            }
            [first, rest @ ..] => sentence!(
                "Order {}; {} more supplies follow.",
                self.what_by_when(first),
                rest.len()
            ),
        };
        let short = answer.supplies.iter().find_map(|own| Some((own, own.short_on?)));
        match short {
            Some((own, day)) => {
                sentence!("{} {}", running_short(own, day), ordered)
            }
            None => ordered,
        }
    }

    /// "2 drums of concentrate A (410 L) by Tuesday 2026-12-08", or "today".
    pub(super) fn what_by_when(&self, own: &SupplyOrder) -> Sentence {
        let what = what(own);
        if self.today.day() == Some(own.order_on) {
            sentence!("{} today", what)
        } else {
            sentence!("{} by {}", what, own.order_on.said())
        }
    }
}

/// "2 drums of concentrate A (410 L)".
pub(super) fn what(own: &SupplyOrder) -> Sentence {
    sentence!(
        "{} {} of {} ({})",
        own.containers,
        called(own.kind, own.containers),
        &own.name,
        own.volume.roughly()
    )
}

fn called(kind: ContainerKind, containers: Count) -> &'static str {
    let one = containers.get() == 1.0;
    match (kind, one) {
        (ContainerKind::Canister, true) => "canister",
        (ContainerKind::Canister, false) => "canisters",
        (ContainerKind::Drum, true) => "drum",
        (ContainerKind::Drum, false) => "drums",
        (ContainerKind::Tote, true) => "tote",
        (ContainerKind::Tote, false) => "totes",
        (ContainerKind::Tanker, true) => "tanker load",
        (ContainerKind::Tanker, false) => "tanker loads",
    }
}

/// "concentrate A runs out on Friday 2026-12-04, before an order can come."
pub(super) fn running_short(own: &SupplyKept, day: CalendarDate) -> Sentence {
    sentence!("{} runs out on {}, before an order can come.", &own.name, day.said())
}
