//! A plan of recycling on paper: what comes and goes, what the stages leave, and what to
//! pour in so that the recovered batch is on target.

use super::moment::moment;
use super::{Recycler, RecyclerAnswer, StageWasteKind};
use crate::fluid::practice::PREMIX_AT_MOST;
use crate::job_sheet::{JobSheet, SheetPart, SheetRecords, SheetTask};
use crate::numerics::order;
use crate::quantity::{Days, Measure, Quantity, Volume};
use crate::sentence;
use crate::text::Sentence;

/// So many deliveries and demands are listed one by one.
const LISTED: usize = 20;

impl Recycler {
    pub(super) fn job_sheet(&self, answer: &RecyclerAnswer) -> JobSheet {
        let parts = self.comings().into_iter().chain([self.run(answer)]);
        let parts = parts.chain(self.correction(answer)).collect();
        let notes = vec![sentence!(
            "Day 0 is the day on which the plan begins. Oil, sludge and rinse water are kept apart."
        )];
        JobSheet { parts, notes, records: SheetRecords::Once }
    }

    /// What is brought to the dirty tank and fetched from the clean one, by its time.
    fn comings(&self) -> Option<SheetPart> {
        let brought = self.arrivals().iter().map(|arrival| {
            (arrival.day, sentence!("{} into the dirty tank", arrival.volume.roughly()))
        });
        let fetched = self.demand.iter().flatten().map(|demand| {
            (demand.day, sentence!("{} out of the clean tank", demand.volume.roughly()))
        });
        let mut comings: Vec<(Days, Sentence)> = brought.chain(fetched).collect();
        order::least_first(&mut comings, |(day, _)| day.get());
        let heading = sentence!("Deliveries and what is fetched");
        let tasks: Vec<SheetTask> = match comings.len() {
            0 => return None,
            several if several > LISTED => {
                let text = sentence!("{} deliveries and fetchings, as planned", several);
                vec![SheetTask::of(text)]
            }
            _ => comings
                .into_iter()
                .map(|(day, text)| SheetTask::of(text).at(moment("Day", day)))
                .collect(),
        };
        Some(SheetPart::headed(heading, tasks))
    }

    /// The run, and what it leaves as waste.
    fn run(&self, answer: &RecyclerAnswer) -> SheetPart {
        let batch = self.feed.volume.map(|batch| {
            SheetTask::of(sentence!("Pour {} into the dirty tank.", batch.measure().rounded(3)))
        });
        let hours = answer.hours.roughly();
        let passes = match answer.passes.get() {
            1.0 => sentence!("one pass"),
            several => sentence!("{} passes", Measure::bare(several).rounded(3)),
        };
        let run = match answer.done_day {
            Some(day) => sentence!(
                "Run the recycler for {} ({}): all is clean by {}.",
                hours,
                passes,
                moment("day", day)
            ),
            None => sentence!(
                "Run the recycler as planned: all of it takes {} ({}), and the dirty tank is \
                 not empty when the plan ends.",
                hours,
                passes
            ),
        };
        let wastes = answer.waste.iter().map(|waste| {
            let kind = match waste.kind {
                StageWasteKind::OilPhase => "oil",
                StageWasteKind::Sludge => "sludge",
                StageWasteKind::Rinse => "rinse water",
            };
            let amount = if waste.volume.get() > 0.0 {
                waste.volume.roughly()
            } else {
                waste.mass.roughly()
            };
            let text = sentence!("{} of {} to its waste tank", amount, kind);
            SheetTask::of(text).at(&*waste.stage)
        });
        let tasks = batch.into_iter().chain([SheetTask::of(run)]).chain(wastes);
        SheetPart::headed(sentence!("The run"), tasks.collect())
    }

    /// What brings the recovered fluid on target, in the order in which it is poured.
    fn correction(&self, answer: &RecyclerAnswer) -> Option<SheetPart> {
        let (step, mut poured) = self.poured(answer);
        order::least_first(&mut poured, |(_, stock)| stock.concentration.get());
        let correction = &answer.correction;
        let is_premixed = correction.premix.is_some();
        let mut tasks: Vec<SheetTask> = Vec::new();
        let mut all = 0.0;
        for (place, (litres, stock)) in poured.iter().enumerate() {
            all += litres;
            let (amount, name) = (step.measure(*litres), &stock.name);
            let is_strong = stock.concentration.get() > PREMIX_AT_MOST;
            tasks.push(SheetTask::of(match (is_premixed, place) {
                (true, 0) => {
                    sentence!("Pour {} of {} into a clean vessel outside the tank.", amount, name)
                }
                (true, _) if is_strong => sentence!(
                    "Stir {} of {} in slowly: concentrate into water, never water into \
                     concentrate.",
                    amount,
                    name
                ),
                (true, _) => sentence!("Add {} of {}.", amount, name),
                (false, _) if is_strong => sentence!(
                    "With the stirrer running, let {} of {} run into the tank slowly.",
                    amount,
                    name
                ),
                (false, _) => sentence!("Pour {} of {} into the tank.", amount, name),
            }));
        }
        if tasks.is_empty() {
            return None;
        }
        if is_premixed {
            let all = step.measure(all);
            tasks.push(SheetTask::of(match self.clean_tank_outgrown(correction.batch.volume.get()) {
                Some(room) => sentence!(
                    "Pour this premix, {} in all, into the recovered fluid in parts: the clean tank \
                     holds {}.",
                    all,
                    Volume::measure_of(room).rounded(3)
                ),
                None => sentence!("Pour this premix, {} in all, into the recovered fluid.", all),
            }));
        }
        let reading = self.feed.reading.as_ref().zip(correction.mark);
        let check = match reading {
            Some((reading, mark)) => {
                sentence!("Mix it well and read it: {}.", reading.must_then_read(mark))
            }
            None => sentence!(
                "Mix it well and check it: it must be at {}.",
                correction.batch.concentration.roughly()
            ),
        };
        tasks.push(SheetTask::of(check).read());
        let heading = sentence!("Correct the {} recovered", answer.recovered.volume.roughly());
        Some(SheetPart::headed(heading, tasks))
    }
}
