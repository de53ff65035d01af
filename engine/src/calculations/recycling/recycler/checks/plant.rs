//! What the plant of a recycler may not contradict itself in: its stages, tanks and sources.

use crate::calculations::recycling::recycler::{
    Recycler, RecyclerMode, RecyclerStage, RecyclerTank,
};
use crate::calculations::recycling::separation::SeparatingStage;
use crate::fluid::properties::{TRAMP_OIL, spoken};
use crate::quantity::{Count, Quantity, Volume};
use crate::sentence;
use crate::text::names::check_unique;
use crate::text::{Faults, with_nearest};
use std::collections::BTreeSet;

impl Recycler {
    pub(super) fn check_stages(&self, faults: &mut Faults) {
        check_unique(self.stages.iter().map(|s| s.name.as_str()), "stages", "/stages", faults);
        let known = self.carried();
        for (s, stage) in self.stages.iter().enumerate() {
            if stage.throughput.get() <= 0.0 {
                let detail = sentence!(
                    "No fluid gets through a stage without throughput. Say how much fluid it \
                     takes in an hour."
                );
                faults.add(format!("/stages/{s}/throughput"), detail);
            }
            if stage.good_fluid_lost.is_some_and(|share| share.get() >= 100.0) {
                let detail =
                    sentence!("A stage that loses all of the good fluid recovers none of it.");
                faults.add(format!("/stages/{s}/good_fluid_lost"), detail);
            }
            check_removed(s, stage, &known, faults);
        }
    }

    pub(super) fn check_plant(&self, faults: &mut Faults) {
        if let Some(tanks) = &self.tanks {
            check_tank("dirty", &tanks.dirty, faults);
            check_tank("clean", &tanks.clean, faults);
        }
        if let Some(days) = self.plan_days {
            for (pointer, _) in self.ends().filter(|(_, end)| *end >= days.get()) {
                let detail = sentence!(
                    "The plan of {} days is over before this is done. Give the plan more days, or \
                     leave this out.",
                    Count::measure_of(days.get())
                );
                faults.add(pointer, detail);
            }
        }
    }

    pub(super) fn check_sources(&self, faults: &mut Faults) {
        if self.sources.is_none() {
            return;
        }
        if self.mode != RecyclerMode::Recirculate || self.feed.volume.is_none() {
            let detail = sentence!(
                "Sources are for one batch that is recirculated. Give the feed's volume and the \
                 mode \"recirculate\", or leave the sources out."
            );
            faults.add("/sources", detail);
        }
        let known = self.carried();
        for (i, source) in self.sources.iter().flatten().enumerate() {
            let name = source.property.as_str();
            if name == TRAMP_OIL || !known.contains(name) {
                let detail = sentence!(
                    "The feed does not say how much \"{}\" it carries, as a content. Give it \
                     among the feed's properties, 0 if there is none at the start.",
                    name
                );
                let matter = known.iter().copied().filter(|known| *known != TRAMP_OIL);
                let detail = with_nearest(detail, name, matter);
                faults.add(format!("/sources/{i}/property"), detail);
            }
        }
    }
}

/// A stage removes only what the feed is said to carry, and says how much once.
fn check_removed(s: usize, stage: &RecyclerStage, known: &BTreeSet<&str>, faults: &mut Faults) {
    if let Some(separator) = &stage.separator {
        if !stage.removes.is_empty() {
            let detail = sentence!(
                "What this stage removes is given twice, as shares and by a separator. Give one \
                 of them."
            );
            faults.add(format!("/stages/{s}/removes"), detail);
        }
        if matches!(separator.stage, SeparatingStage::Ultrafiltration(_)) {
            let detail = sentence!(
                "A membrane divides the fluid in two, which a share removed cannot express. Ask \
                 for it as a separation, and give here the shares that it removes and the good \
                 fluid that is lost."
            );
            faults.add(format!("/stages/{s}/separator/stage"), detail);
        }
    }
    let given = stage.removes.names().map(|name| (format!("/stages/{s}/removes/{name}"), name));
    let sized = stage.separator.iter().flat_map(|separator| separator.particles.iter().enumerate());
    let sized = sized.map(|(i, particles)| {
        let at = format!("/stages/{s}/separator/particles/{i}/property");
        (at, particles.property.as_str())
    });
    for (at, name) in given.chain(sized) {
        if !known.contains(name) {
            let detail = sentence!(
                "This stage removes {}, but the feed does not say how much of it it carries. Give \
                 it among the feed's properties.",
                spoken(name)
            );
            faults.add(at, with_nearest(detail, name, known.iter().copied()));
        }
    }
}

fn check_tank(name: &'static str, tank: &RecyclerTank, faults: &mut Faults) {
    if tank.level() > tank.capacity.get() {
        let detail = sentence!(
            "The {} tank is fuller than full: {} in a capacity of {}.",
            name,
            Volume::measure_of(tank.level()),
            tank.capacity
        );
        faults.add(format!("/tanks/{name}/level"), detail);
    }
}
