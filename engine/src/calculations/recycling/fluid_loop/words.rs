//! What the limit is and why, in words.

use super::answer::{FluidLoopAnswer, LimitSide, Remark};
use super::limit::{Over, Reach};
use super::limit_words::{limit, removal};
use super::outcome::Reaches;
use super::steady::Steady;
use crate::fluid::properties::Properties;
use crate::quantity::Quantity;
use crate::text::Refusal;

impl Remark {
    pub(super) fn new(text: &'static str) -> Self {
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
pub(super) fn about(
    steady: &Steady<'_>,
    over: &Over,
    text: &'static str,
) -> Result<Remark, Refusal> {
    let shop = steady.shop;
    let (refilled, oldest) = steady.sump(over.g).contents(over.p);
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
        None if reaches.deionised.conflict.is_some() => remarks.push(Remark::new(
            "With things as asked no share of deionised water keeps every limit: what one of them \
             needs breaks another. The findings name both.",
        )),
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
