//! What whoever orders has to know first.

use super::answer::SuppliesAnswer;
use super::question::Supplies;
use super::statement::running_short;
use crate::fluid::practice::few;
use crate::quantity::{Quantity, Volume};
use crate::sentence;
use crate::text::Finding;

impl Supplies {
    pub(super) fn findings(&self, answer: &SuppliesAnswer) -> Vec<Finding> {
        let mut findings = few(Self::short(answer));
        findings.extend(few(Self::spoils(answer)));
        findings.extend(few(self.too_large(answer)));
        findings.extend(few(Self::without_spread(answer)));
        findings.sort_by_key(|finding| finding.severity);
        findings
    }

    fn short(answer: &SuppliesAnswer) -> Vec<Finding> {
        let short = answer.supplies.iter().enumerate().filter_map(|(i, own)| {
            let text = sentence!(
                "{} Ask for a faster delivery or a loan from another shop, and put off what is \
                 planned.",
                running_short(own, own.short_on?)
            );
            Some(Finding::act("runs-out-before-delivery", format!("/supplies/{i}/on_hand"), text))
        });
        short.collect()
    }

    /// What is past its last day before it is used.
    fn spoils(answer: &SuppliesAnswer) -> Vec<Finding> {
        let spoils = answer.supplies.iter().enumerate().filter_map(|(i, own)| {
            let first = own.wasted.first()?;
            let all: f64 = own.wasted.iter().map(|wasted| wasted.volume.get()).sum();
            let text = sentence!(
                "{} of {} will not be used before its last day, the first of it by {}. Use it first, \
                 hand it on in time or order less at a time; what is past its day is waste, and \
                 local codes decide where it goes.",
                Volume::measure_of(all).rounded(3),
                &own.name,
                first.on.said()
            );
            Some(Finding::watch("spoils-before-use", format!("/supplies/{i}"), text))
        });
        spoils.collect()
    }

    /// One container is more than is used before it spoils.
    fn too_large(&self, answer: &SuppliesAnswer) -> Vec<Finding> {
        let all = self.supplies.iter().zip(&answer.supplies).enumerate();
        let large = all.filter_map(|(i, (item, own))| {
            let keeps = item.shelf_life_days?;
            let used = own.use_per_day.get() * keeps.get();
            let least = item.containers_at_least.map_or(1.0, Quantity::get);
            (own.next_order.is_some() && item.container.volume.get() * least > used).then(|| {
                let text = sentence!(
                    "The smallest order of {} is more than is used in the {} that it keeps. Ask for \
                     smaller containers.",
                    &item.name,
                    keeps
                );
                Finding::watch("container-too-large", format!("/supplies/{i}/container"), text)
            })
        });
        large.collect()
    }

    /// Steady use has no safety stock, and no shop's use is steady.
    fn without_spread(answer: &SuppliesAnswer) -> Vec<Finding> {
        let steady = answer
            .supplies
            .iter()
            .enumerate()
            .filter(|(_, own)| own.safety_stock.get() <= 0.0 && own.use_per_day.get() > 0.0);
        let steady = steady.map(|(i, own)| {
            let text = sentence!(
                "{} has no safety stock: nothing says how much its use or its delivery varies, and a \
                 busy week then empties the shelf. Give the spread, or what past weeks used.",
                &own.name
            );
            Finding::watch("no-safety-stock", format!("/supplies/{i}/use_spread_per_day"), text)
        });
        steady.collect()
    }
}
