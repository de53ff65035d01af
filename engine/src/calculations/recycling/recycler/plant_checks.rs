//! What the plant of a recycler may not contradict itself in: its stages, tanks and sources.

use super::{Mode, Recycler, Stage, Tank};
use crate::calculations::recycling::separation::SeparatingStage;
use crate::fluid::properties::{Name, TRAMP_OIL};
use crate::quantity::{Measure, Quantity};
use crate::sentence;
use crate::text::names::check_unique;
use crate::text::{Faults, Sentence, with_nearest};
use std::collections::BTreeSet;

impl Recycler {
    pub(super) fn check_stages(&self, faults: &mut Faults) {
        check_unique(self.stages.iter().map(|s| s.name.as_str()), "stages", "/stages", faults);
        let known = self.carried();
        for (s, stage) in self.stages.iter().enumerate() {
            if stage.throughput.get() <= 0.0 {
                let detail = "Nothing gets through a stage without throughput. Say how much fluid \
                              it takes in an hour.";
                faults.add(format!("/stages/{s}/throughput"), Sentence::new(detail));
            }
            if stage.good_fluid_lost.is_some_and(|share| share.get() >= 100.0) {
                let detail = "A stage that loses all of the good fluid recovers nothing.";
                faults.add(format!("/stages/{s}/good_fluid_lost"), Sentence::new(detail));
            }
            check_removed(s, stage, &known, faults);
        }
    }

    pub(super) fn check_plant(&self, faults: &mut Faults) {
        if let Some(tanks) = &self.tanks {
            check_tank("dirty", &tanks.dirty, faults);
            check_tank("clean", &tanks.clean, faults);
        }
        if let Some(days) = self.plan_days.map(Quantity::get) {
            for (pointer, _) in self.ends().filter(|(_, end)| *end >= days) {
                let detail = "The plan of {} days is over before this is done. Give the plan more \
                              days, or leave this out.";
                faults.add(pointer, Sentence::new(detail).with(Measure::bare(days)));
            }
        }
    }

    pub(super) fn check_sources(&self, faults: &mut Faults) {
        if self.sources.is_none() {
            return;
        }
        if self.mode != Mode::Recirculate || self.feed.volume.is_none() {
            let detail = "Sources are for one batch that is recirculated. Give the feed's volume \
                          and the mode \"recirculate\", or leave the sources out.";
            faults.add("/sources", Sentence::new(detail));
        }
        let known = self.carried();
        for (i, source) in self.sources.iter().flatten().enumerate() {
            let name = source.property.as_str();
            if name == TRAMP_OIL || !known.contains(name) {
                let detail = sentence!(
                    "The feed does not say how much \"{}\" it carries, as a content. Give it among \
                     the feed's properties, 0 if there is none at the start.",
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
fn check_removed(s: usize, stage: &Stage, known: &BTreeSet<&str>, faults: &mut Faults) {
    if let Some(separator) = &stage.separator {
        if !stage.removes.is_empty() {
            let detail = "What this stage removes is given twice, as shares and by a separator. \
                          Give one of them.";
            faults.add(format!("/stages/{s}/removes"), Sentence::new(detail));
        }
        if matches!(separator.stage, SeparatingStage::Ultrafiltration(_)) {
            let detail = "A membrane divides the fluid in two, which a share removed does not \
                          tell. Ask for it as a separation, and give here the shares that it \
                          removes and the good fluid that is lost.";
            faults.add(format!("/stages/{s}/separator/stage"), Sentence::new(detail));
        }
    }
    let oil = stage.removes.tramp_oil.map(|_| TRAMP_OIL);
    let given = oil.into_iter().chain(stage.removes.matter.keys().map(Name::as_str));
    let given = given.map(|name| (format!("/stages/{s}/removes/{name}"), name));
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
                name
            );
            faults.add(at, with_nearest(detail, name, known.iter().copied()));
        }
    }
}

fn check_tank(name: &str, tank: &Tank, faults: &mut Faults) {
    if tank.level() > tank.capacity.get() {
        let detail = format!("The {name} tank is fuller than full: {{}} in a capacity of {{}}.");
        let detail =
            Sentence::new(detail).with(Measure::of(crate::quantity::Volume::ROW, tank.level()));
        faults.add(format!("/tanks/{name}/level"), detail.with(tank.capacity.measure()));
    }
}
