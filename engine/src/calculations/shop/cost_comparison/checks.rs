//! Contradictions and gaps in the request for a comparison.

use super::{CostComparison, FilterMedia, Purchase, WayOfWorking};
use crate::quantity::{Concentration, Count, Days, Hours, Measure, Quantity, Share};
use crate::sentence;
use crate::text::names::check_unique;
use crate::text::{Faults, Kind, Refusal, with_nearest};

/// The most years of a comparison.
const MOST_YEARS: f64 = 100.0;
/// Days and hours of a leap year.
const DAYS_OF_A_YEAR: f64 = 366.0;
const HOURS_OF_A_YEAR: f64 = 8784.0;

impl CostComparison {
    pub(super) fn check(&self) -> Result<(), Refusal> {
        let mut faults = Faults::default();
        self.check_ranges(&mut faults);
        faults.or_refuse(Kind::OutOfRange)?;
        let mut faults = Faults::default();
        self.check_names(&mut faults);
        self.check_machines(&mut faults);
        for (g, group) in self.machines.iter().enumerate() {
            if let Some(losses) = &group.losses {
                losses.note_faults(&|| format!("/machines/{g}/losses"), &mut faults);
            }
        }
        for (w, way) in self.ways.iter().enumerate() {
            for (p, purchase) in way.purchases.iter().flatten().enumerate() {
                let pointer = format!("/ways/{w}/purchases/{p}");
                purchase.check(self.horizon_years, &pointer, &mut faults);
            }
        }
        faults.or_refuse(Kind::Inconsistent)?;
        let mut faults = Faults::default();
        for (g, group) in self.machines.iter().enumerate() {
            if let Some(losses) = &group.losses {
                losses.note_missing(&|| format!("/machines/{g}/losses"), &mut faults);
            }
        }
        self.ways.iter().for_each(|way| self.check_prices(way, &mut faults));
        faults.or_refuse(Kind::NotIdentifiable)
    }

    fn check_ranges(&self, faults: &mut Faults) {
        let years = self.horizon_years.get();
        if !(1.0..=MOST_YEARS).contains(&years) {
            let detail = sentence!(
                "Ways are compared over {} to {} years; {} is out of that range.",
                Measure::bare(1.0),
                Measure::bare(MOST_YEARS),
                self.horizon_years
            );
            faults.add("/horizon_years", detail);
        }
        if let Some(days) = self.working_days_per_year.filter(|days| days.get() > DAYS_OF_A_YEAR) {
            let detail = sentence!(
                "The working days of a year cannot be {}: a year has at most {}.",
                days,
                Days::measure_of(DAYS_OF_A_YEAR)
            );
            faults.add("/working_days_per_year", detail);
        }
        if self.vary_by.is_some_and(|share| share.get() == 0.0) {
            let detail = sentence!(
                "The share by which inputs are varied must be more than 0 %. Give the share by \
                 which they may be off."
            );
            faults.add("/vary_by", detail);
        }
        for (w, way) in self.ways.iter().enumerate() {
            for (p, purchase) in way.purchases.iter().flatten().enumerate() {
                purchase.check_ranges(&format!("/ways/{w}/purchases/{p}"), faults);
            }
        }
    }

    fn check_names(&self, faults: &mut Faults) {
        let groups = self.machines.iter().map(|group| group.name.as_str());
        check_unique(groups, "groups of machines", "/machines", faults);
        let ways = || self.ways.iter().map(|way| way.name.as_str());
        check_unique(ways(), "ways of working", "/ways", faults);
        let mut known = |name: &str, pointer: String| {
            if self.place(name).is_none() {
                let detail = sentence!("No way is called \"{}\".", name);
                faults.add(pointer, with_nearest(detail, name, ways()));
            }
        };
        if let Some(baseline) = &self.baseline {
            known(baseline, "/baseline".to_owned());
        }
        for (b, question) in self.break_even.iter().flatten().enumerate() {
            known(&question.way, format!("/break_even/{b}/way"));
            if let Some(against) = &question.against {
                known(against, format!("/break_even/{b}/against"));
            }
        }
    }

    fn check_machines(&self, faults: &mut Faults) {
        if self.machine_count() == 0.0 {
            let detail = sentence!(
                "The shop has no machines. Give the number of machines of at least one group."
            );
            faults.add("/machines", detail);
        }
        for (g, group) in self.machines.iter().enumerate() {
            let Some(losses) = &group.losses else { continue };
            let carried = losses.depletion() * group.concentration.get();
            if carried > 100.0 {
                let detail = sentence!(
                    "At this ratio what is carried off would hold {} of concentrate, more than all \
                     of it. Lower the ratio.",
                    Concentration::measure_of(carried)
                );
                faults.add(format!("/machines/{g}/losses/depletion_ratio"), detail);
            }
        }
    }

    /// Whatever a way uses must have a price.
    fn check_prices(&self, way: &WayOfWorking, faults: &mut Faults) {
        let prices = self.prices.overridden(way.prices.as_ref());
        let fluid = self.fluid_year(way);
        let running = || way.purchases.iter().flatten().filter_map(|p| p.running.as_ref());
        let needed = [
            (
                "concentrate",
                "concentrate",
                prices.concentrate.is_none(),
                fluid.bought.concentrate > 0.0,
            ),
            ("water", "water", prices.water.is_none(), fluid.bought.water > 0.0),
            ("disposal", "disposal", prices.disposal.is_none(), fluid.disposed() > 0.0),
            ("labour", "labour", prices.labour.is_none(), way.labour.is_some()),
            (
                "idle_machine",
                "an idle machine",
                prices.idle_machine.is_none(),
                way.idle_hours.is_some(),
            ),
            (
                "electricity",
                "electricity",
                prices.electricity.is_none(),
                running().any(|r| r.power.is_some()),
            ),
            ("fuel", "fuel", prices.fuel.is_none(), running().any(|r| r.fuel.is_some())),
        ];
        for (name, what, missing, used) in needed {
            let pointer = format!("/prices/{name}");
            if missing && used && !faults.has(&pointer) {
                let detail = sentence!(
                    "The price of {} is missing, and \"{}\" needs it. Give it for the shop or for \
                     this way, 0 where it is free.",
                    what,
                    &way.name
                );
                faults.add(pointer, detail);
            }
        }
    }
}

impl Purchase {
    fn check_ranges(&self, pointer: &str, faults: &mut Faults) {
        if self.life_years.is_some_and(|life| life.get() == 0.0) {
            let detail = sentence!(
                "The life of a purchase must be more than 0. Give it in whole years, or leave it \
                 out where it outlasts the comparison."
            );
            faults.add(format!("{pointer}/life_years"), detail);
        }
        let Some(running) = &self.running else { return };
        if let Some(hours) = running.hours_per_year.filter(|hours| hours.get() > HOURS_OF_A_YEAR) {
            let detail = sentence!(
                "The running hours of a year cannot be {}: a year has at most {}.",
                hours,
                Hours::measure_of(HOURS_OF_A_YEAR)
            );
            faults.add(format!("{pointer}/running/hours_per_year"), detail);
        }
        for (m, media) in running.media.iter().flatten().enumerate() {
            if media.life_hours.is_some_and(|hours| hours.get() == 0.0) {
                let detail = sentence!(
                    "The life of filter media must be more than 0. Give the running hours they last."
                );
                let pointer = format!("{pointer}/running/media/{m}/life_hours");
                faults.add(pointer, detail);
            }
        }
    }

    fn check(&self, horizon: Count, pointer: &str, faults: &mut Faults) {
        if let Some(after) = self.bought_after_years.filter(|after| *after >= horizon) {
            let detail = sentence!(
                "It is bought after {} years, when the comparison of {} years is over.",
                after,
                horizon
            );
            faults.add(format!("{pointer}/bought_after_years"), detail);
        }
        let price = self.price.get();
        if let Some(residual) = self.residual.filter(|worth| *worth > self.price && price >= 0.0) {
            let detail = sentence!(
                "The residual value of {} is more than the price of {}. Check the two.",
                Measure::bare(residual.get()),
                Measure::bare(price)
            );
            faults.add(format!("{pointer}/residual"), detail);
        }
        let media = self.running.iter().flat_map(|running| running.media.iter().flatten());
        for (m, media) in media.enumerate() {
            media.check(&format!("{pointer}/running/media/{m}"), faults);
        }
    }
}

impl FilterMedia {
    fn check(&self, pointer: &str, faults: &mut Faults) {
        let detail = match (self.life_weeks, self.life_hours) {
            (Some(_), Some(_)) => sentence!(
                "The life is given twice, in weeks and in running hours. Give one of them."
            ),
            (None, None) => {
                sentence!("The life is missing. Give it in weeks or in running hours.")
            }
            _ => return,
        };
        faults.add(format!("{pointer}/life_weeks"), detail);
    }
}

/// The fraction by which inputs are made smaller and larger.
pub(super) fn varied_by(share: Option<Share>) -> f64 {
    /// The fraction where the request does not say.
    const VARIED_BY: f64 = 0.1;
    share.map_or(VARIED_BY, Share::fraction)
}
