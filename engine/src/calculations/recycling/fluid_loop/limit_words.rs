//! The limit of recycling in words, and what taking more out would do.

use super::answer::{FluidLoopAnswer, LimitSide, Remark, Verdict};
use super::limit::Reach;
use super::outcome::Reaches;
use super::shop::OIL;
use super::steady::Steady;
use super::words::about;
use crate::quantity::{Quantity, Share};
use crate::text::Refusal;

pub(super) fn limit(
    steady: &Steady<'_>,
    answer: &FluidLoopAnswer,
    reaches: &Reaches,
) -> Result<Vec<Remark>, Refusal> {
    let share = answer.recycling_limit.share;
    let shop = steady.shop;
    let remark = match &reaches.back {
        Reach::All if shop.limits.iter().all(|(min, max)| min.is_none() && max.is_none()) => {
            Remark::new("No limit was given, so nothing holds recycling back.")
        }
        Reach::All => Remark {
            share,
            ..Remark::new(
                "Every property keeps within its limits even when this share of the dirty tank, \
                 all of it, goes through the recycler.",
            )
        },
        Reach::None { by } => about(
            steady,
            by,
            "No share recycled keeps every property in its limits: this one is out of them whether \
             much is recycled or nothing. Look at the water, at what the work brings in, and at \
             how long the fluid lives.",
        )?,
        Reach::NoRecycler { by: None } => Remark::new(
            "No recycler is described, so nothing is recycled, and every property keeps within its \
             limits.",
        ),
        Reach::NoRecycler { by: Some(by) } => about(
            steady,
            by,
            "No recycler is described, so nothing is recycled, and still this property is out of \
             its limits. Look at the water, at what the work brings in, and at how long the fluid \
             lives.",
        )?,
        Reach::Held { by, .. } => {
            let text = match (answer.recycling_limit.verdict, by.side, shop.fed * 100.0) {
                (Verdict::All, ..) => {
                    "With the purge as asked all that the dirty tank gives may go through the \
                     recycler. Without it this property would bind first."
                }
                (_, LimitSide::Max, fed) if share.is_some_and(|share| share.get() < fed) => {
                    "This is the greatest share that may be recycled, and more is recycled now: \
                     this property settles above its limit in this group, and goes on rising \
                     there until as much leaves the shop as comes in."
                }
                (_, LimitSide::Max, _) => {
                    "This is the greatest share that may be recycled. Beyond it this property \
                     settles above its limit in this group first."
                }
                (_, LimitSide::Min, _) => {
                    "This is the greatest share that may be recycled. Beyond it this property \
                     falls below the least that is wanted in this group first."
                }
            };
            Remark { share, ..about(steady, by, text)? }
        }
    };
    Ok(vec![remark])
}

/// What the recycler does about the property that binds.
pub(super) fn removal(steady: &Steady<'_>, reaches: &Reaches) -> Result<Option<Remark>, Refusal> {
    let Reach::Held { by, .. } = &reaches.back else { return Ok(None) };
    if by.side == LimitSide::Min {
        return Ok(None);
    }
    let (p, shop) = (by.p, steady.shop);
    let text = match (p, shop.r[p] > 0.0) {
        (OIL, true) => {
            "The recycler takes out this share of the oil; the rest comes back with every round."
        }
        (_, true) => {
            "The recycler takes out this share of the property that binds; the rest comes back \
             with every round."
        }
        (_, false) => {
            "The recycler takes out none of the property that binds: it separates oil and solids, \
             and what is dissolved goes round until it leaves on chips, in what is lost, or in \
             what is discarded."
        }
    };
    let property = Some(shop.name(p).to_owned());
    Ok(Some(Remark { property, share: Some(Share::of(shop.r[p] * 100.0)?), ..Remark::new(text) }))
}
