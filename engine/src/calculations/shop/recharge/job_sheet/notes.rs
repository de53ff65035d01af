//! What holds for every batch, every machine and every trip of a round, said once.

use super::{RechargeAnswer, SheetAction, SheetStep};
use crate::sentence;
use crate::text::Sentence;

/// What most steps of a kind have in common.
pub(super) struct Usual<'a> {
    /// The first step of each kind.
    firsts: Vec<&'a SheetStep>,
    /// Whether every machine is scraped, so that the notes can say it of all.
    pub(super) scrapes_all: bool,
}

impl<'a> Usual<'a> {
    pub(super) fn of(answer: &'a RechargeAnswer) -> Self {
        let mut firsts: Vec<&SheetStep> = Vec::new();
        let mut scraped = 0;
        for step in &answer.sheet {
            scraped += usize::from(step.action == SheetAction::Scrape);
            if firsts.iter().all(|first| first.action != step.action) {
                firsts.push(step);
            }
        }
        Self { firsts, scrapes_all: scraped == answer.sumps.len() }
    }

    /// The vessel of the first step of a kind, which is named once.
    pub(super) fn vessel(&self, action: SheetAction) -> Option<&'a str> {
        self.firsts.iter().find(|step| step.action == action)?.vessel.as_deref()
    }

    fn does(&self, action: SheetAction) -> bool {
        self.firsts.iter().any(|step| step.action == action)
    }

    /// What holds for every batch, every machine and every trip, as far as there is such a
    /// step.
    pub(super) fn notes(&self) -> Vec<Sentence> {
        let mut notes = Vec::new();
        if self.does(SheetAction::CirculateCleaner) {
            notes.push(sentence!(
                "System cleaner circulates through every line, as its label says. Watch the level, \
                 and for foam."
            ));
        }
        if self.does(SheetAction::CheckBatch) {
            notes.push(sentence!(
                "Batches: pour into a clean vessel in the order given; stir concentrate in slowly, \
                 concentrate into water, never water into concentrate; read before use."
            ));
        }
        let usual = match (self.vessel(SheetAction::TakeOut), self.vessel(SheetAction::Refill)) {
            (Some(dirty), Some(clean)) => sentence!(
                " Out goes into {} and in comes from {} where no other is named.",
                dirty,
                clean
            ),
            _ => sentence!(""),
        };
        let scrape = match (self.does(SheetAction::Scrape), self.scrapes_all) {
            (false, _) => sentence!(""),
            (true, true) => sentence!(" scrape chip beds and sludge out, wipe walls and guards;"),
            (true, false) => sentence!(
                " where it says so, scrape chip beds and sludge out, and wipe walls and guards;"
            ),
        };
        let rinse = if self.does(SheetAction::Rinse) {
            sentence!(" where it says so, rinse corners, pipes and walls, and take the rinse out;")
        } else {
            sentence!("")
        };
        notes.push(sentence!(
            "At each machine: lock it out and open the sump; take out, chips apart, and stop below \
             the mark of what it goes into;{}{} fill in. Last of all close the sump, take your lock \
             off, circulate, and write on the line what it reads.{}",
            scrape,
            rinse,
            usual
        ));
        if self.does(SheetAction::DriveBack) {
            notes.push(sentence!(
                "Back from a trip: chips into their bin with rated lifting gear, nobody below, hands \
                 clear; dirty fluid to the recycler or the waste tank for what is in it, and so what \
                 hoses and vessels were washed with."
            ));
        }
        notes
    }
}
