//! What the limit is and why, in words, and what was taken for granted.

use super::answer::{FluidLoopAnswer, LimitSide, Remark, Verdict};
use super::limit::{Over, Reach};
use super::outcome::Reaches;
use super::shop::{OIL, Shop};
use super::steady::Steady;
use super::{FluidLoop, SumpGroup};
use crate::calculation::Assumption;
use crate::properties::Properties;
use crate::quantity::{Quantity, Share};
use crate::refusal::Refusal;

impl Remark {
    fn new(text: &'static str) -> Self {
        Self {
            text: text.into(),
            property: None,
            group: None,
            share: None,
            times: None,
            yearly: None,
            settles_at: Properties::default(),
            limit: Properties::default(),
        }
    }
}

/// The account of the loop, in the order in which a person asks.
pub(super) fn explain(
    steady: &Steady<'_>,
    answer: &FluidLoopAnswer,
    reaches: &Reaches,
) -> Result<Vec<Remark>, Refusal> {
    let mut remarks = vec![why_it_rises(answer)];
    remarks.extend(limit(steady, answer, reaches)?);
    remarks.extend(removal(steady, reaches)?);
    remarks.extend(remedies(answer, reaches));
    remarks.extend(life(steady, answer, reaches)?);
    if answer.yearly.surplus.get() > 0.0 {
        let text = "So much recycled fluid finds no place in a year: it is too strong or too weak \
                    for the sumps that may take it, and is disposed of. Let more groups take it, for \
                    topping up as well, or recycle fluids of like strength together.";
        remarks.push(Remark { yearly: Some(answer.yearly.surplus), ..Remark::new(text) });
    }
    Ok(remarks)
}

fn why_it_rises(answer: &FluidLoopAnswer) -> Remark {
    let most = answer.groups.iter().max_by(|a, b| a.cycles.get().total_cmp(&b.cycles.get()));
    let text = "Only water goes to the air, and what was dissolved in it stays. In this group an \
                old sump carries so many times what fresh fluid brings.";
    Remark {
        times: most.map(|group| group.cycles),
        group: most.map(|group| group.name.clone()),
        ..Remark::new(text)
    }
}

/// What a limit that binds looks like: where the property settles as asked.
fn about(steady: &Steady<'_>, over: &Over, text: &'static str) -> Result<Remark, Refusal> {
    let shop = steady.shop;
    let (refilled, oldest) = steady.contents(over.p, over.g);
    let content = match over.side {
        LimitSide::Max => refilled.max(oldest),
        LimitSide::Min => refilled.min(oldest),
    };
    Ok(Remark {
        property: Some(shop.name(over.p).to_owned()),
        group: Some(shop.group_name(over.g).to_owned()),
        settles_at: shop.one(over.p, content)?,
        limit: shop.one(over.p, over.limit)?,
        ..Remark::new(text)
    })
}

fn limit(
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
fn removal(steady: &Steady<'_>, reaches: &Reaches) -> Result<Option<Remark>, Refusal> {
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

/// What would let the shop go on as asked.
fn remedies(answer: &FluidLoopAnswer, reaches: &Reaches) -> Vec<Remark> {
    let mut remarks = Vec::new();
    let more = answer.purge.needed.filter(|needed| needed.get() > answer.purge.share.get());
    if matches!(reaches.back, Reach::Held { .. }) && more.is_some() {
        let text = "To go on feeding the recycler as asked, at least this share of what it gives \
                    has to be discarded and replaced by fresh fluid.";
        remarks.push(Remark { share: more, ..Remark::new(text) });
    }
    match answer.purge.deionised_needed {
        Some(share) if share.get() > 0.0 => {
            let text = "Deionised water does it too: with no more discarded than asked, at least \
                        this share of the water has to be deionised.";
            remarks.push(Remark { share: Some(share), ..Remark::new(text) });
        }
        None => remarks.push(Remark::new(
            "With things as asked not even deionised water alone keeps every limit: what binds does \
             not come with the water.",
        )),
        Some(_) => {}
    }
    remarks
}

/// How long the fluid may live.
fn life(
    steady: &Steady<'_>,
    answer: &FluidLoopAnswer,
    reaches: &Reaches,
) -> Result<Option<Remark>, Refusal> {
    let Some((times, over)) = &reaches.life else { return Ok(None) };
    let text = if *times < 1.0 {
        "With the share recycled as asked, the fluid lives too long: every interval between \
         clean-outs would have to be so many times what it is before this property keeps its \
         limit everywhere."
    } else {
        "With the share recycled as asked, every interval between clean-outs may be so many times \
         what it is before this property passes its limit."
    };
    let about = about(steady, over, text)?;
    Ok(Some(Remark { times: answer.recycling_limit.longest_life, ..about }))
}

impl FluidLoop {
    pub(super) fn assumptions(&self, shop: &Shop, days: usize) -> Vec<Assumption> {
        let mut assumptions = Vec::new();
        let mut note = |applies: bool, pointer: &'static str, text: &'static str| {
            if applies {
                assumptions.push(Assumption::new(pointer, text));
            }
        };
        let any = |test: fn(&SumpGroup) -> bool| self.groups.iter().any(test);
        let cleaned = any(|group| group.clean_out.is_some());
        note(true, "", "Volumes add: a mix takes up what its parts took up.");
        note(true, "", "Sumps and tanks are well mixed, and all sumps take the same product.");
        note(
            true,
            "",
            "Make-up is fed as it is lost. Recycled fluid goes into refills first, into each by \
             the room it has.",
        );
        note(
            self.recycler.is_some() && any(|group| group.takes_recycled.is_none()),
            "/groups",
            "A group that does not say what it takes recycled fluid for takes it for refills only.",
        );
        note(cleaned, "/groups", "The clean-outs of a group are spread evenly over the days.");
        let odd = |group: &SumpGroup| group.interval().is_some_and(|days| days.fract() != 0.0);
        note(
            self.groups.iter().any(odd),
            "/groups",
            "An interval between clean-outs was rounded to whole days; a month is a twelfth of 365 \
             days.",
        );
        note(
            any(|group| group.losses.depletion_ratio.is_none()),
            "/groups",
            "Where no depletion ratio is given, concentrate is carried off as its share.",
        );
        note(
            cleaned && any(|group| group.clean_out.is_some() && group.residue() == 0.0),
            "/groups",
            "Where no residue is given, a clean-out empties the sump.",
        );
        note(
            days > 0 && any(|group| group.carries_now.is_none()),
            "/groups",
            "A group that does not say what it carries now starts with freshly mixed fluid.",
        );
        note(
            self.recycler.is_none() && cleaned,
            "/recycler",
            "Nothing is recycled: all that is drained is disposed of.",
        );
        note(
            self.recycler.as_ref().is_some_and(|recycler| recycler.share.is_none()),
            "/recycler/share",
            "All that the dirty tank gives goes through the recycler.",
        );
        note(
            self.recycler.is_some() && self.tanks.is_none() && days > 0,
            "/tanks",
            "The tanks hold nothing from one day to the next.",
        );
        note(
            self.tanks
                .iter()
                .flat_map(|t| t.dirty.iter().chain(&t.clean))
                .any(|t| t.holds.is_none()),
            "/tanks",
            "A tank that does not say what it holds on to is half full.",
        );
        note(
            self.water.deionised.is_none() && !shop.names.is_empty(),
            "/water/deionised",
            "Deionised water, where it is asked what it could do, carries nothing of what is \
             followed.",
        );
        note(
            self.concentrate.as_ref().is_none_or(|concentrate| concentrate.density.is_none()),
            "/concentrate/density",
            "Concentrate: density of water at 20 °C, 0.9982072 kg/L.",
        );
        note(
            self.oil_density.is_none() && shop.oil,
            "/oil_density",
            "Tramp oil: density of water at 20 °C, 0.9982072 kg/L.",
        );
        note(
            !shop.names.is_empty(),
            "",
            "Dissolved and suspended matter weighs what its content says, on top of the water at \
             0.9982072 kg/L, and takes no room.",
        );
        note(
            self.days.is_none(),
            "/days",
            "A year of the way there is told, or as much of it as a \
             shop of this size allows.",
        );
        assumptions.extend(self.about_sources(shop));
        assumptions
    }

    /// What water and concentrate were taken to be free of.
    fn about_sources(&self, shop: &Shop) -> Vec<Assumption> {
        let mut assumptions = Vec::new();
        let concentrate = self.concentrate.as_ref().map(|concentrate| &concentrate.properties);
        for name in &shop.names {
            if !self.water.properties.matter.contains_key(name) {
                let pointer = format!("/water/properties/{name}");
                assumptions.push(Assumption::new(pointer, format!("Water carries no {name}.")));
            }
            if concentrate.is_none_or(|properties| !properties.matter.contains_key(name)) {
                let pointer = format!("/concentrate/properties/{name}");
                let text = format!("Concentrate carries no {name}.");
                assumptions.push(Assumption::new(pointer, text));
            }
        }
        assumptions
    }
}
