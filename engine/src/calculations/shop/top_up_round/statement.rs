//! The statement: what to mix, whom it serves, who helps out whom, and who stays out.

use super::TopUpRound;
use super::answer::{PremixToMake, RoundOutcome, SumpOnRound, TopUpRoundAnswer};
use super::steps::stays_out;
use crate::quantity::{Measure, Quantity, Volume};
use crate::sentence;
use crate::text::{Sentence, listed};

/// No more premixes, moves or sumps than this are named one by one.
const NAMED: usize = 3;

impl TopUpRound {
    pub(super) fn in_short(&self, answer: &TopUpRoundAnswer) -> Sentence {
        let main = match (answer.premixes.is_empty(), answer.moves.is_empty()) {
            (true, true) => nothing_to_pour(answer),
            (true, false) => sentence!("Nothing to mix: {}.", moved(self, answer)),
            (false, true) => sentence!("{}: {}.", self.to_mix(answer), serves(answer)),
            (false, false) => {
                sentence!("{}: {}; {}.", self.to_mix(answer), serves(answer), moved(self, answer))
            }
        };
        let mut out = answer.sumps.iter().filter(|sump| stays_out(sump).is_some());
        match (answer.out_of_reach.whole(), out.next()) {
            (0, _) | (_, None) => main,
            (1, Some(only)) => {
                sentence!("{} {} stays out of its band; the steps say why.", main, &only.name)
            }
            (several, _) => sentence!(
                "{} {} sumps stay out of their bands; the steps say which and why.",
                main,
                several
            ),
        }
    }

    /// "Mix 120 L at 7.5 % by volume", the first word as a sentence begins.
    fn to_mix(&self, answer: &TopUpRoundAnswer) -> Sentence {
        let premixes = &answer.premixes;
        if premixes.len() > NAMED {
            let all: f64 = premixes.iter().map(|own| own.volume.get()).sum();
            return sentence!(
                "Make {} premixes, {} in all",
                premixes.len(),
                Volume::measure_of(all).rounded(3)
            );
        }
        let products = self.products().len();
        let own = premixes.iter().map(|premix| self.said(premix, products > 1));
        let verb = match (premixes.iter().all(is_water), self.has_proportioner()) {
            (true, _) => "Take",
            (false, true) => "Draw",
            (false, false) => "Mix",
        };
        sentence!("{} {}", verb, listed(own))
    }

    fn said(&self, premix: &PremixToMake, with_product: bool) -> Sentence {
        let litres = self.said_total(premix);
        let at = premix.concentration.roughly();
        let what = match (is_water(premix), with_product) {
            (true, _) => sentence!("{} of water", litres),
            (false, true) => sentence!("{} of {} at {}", litres, &premix.product, at),
            (false, false) => sentence!("{} at {}", litres, at),
        };
        match premix.setting.filter(|_| !is_water(premix)) {
            Some(setting) => sentence!("{} (notch {})", what, setting),
            None => what,
        }
    }

    fn said_total(&self, premix: &PremixToMake) -> Measure {
        self.said_litres(premix.volume.get())
    }
}

fn is_water(premix: &PremixToMake) -> bool {
    premix.concentration.get() <= 0.0
}

/// "it serves 11 of 14 sumps in two trips".
fn serves(answer: &TopUpRoundAnswer) -> Sentence {
    let them = if answer.premixes.len() > 1 { "they serve" } else { "it serves" };
    let served =
        |sump: &&SumpOnRound| sump.premix.is_some() && sump.outcome == RoundOutcome::Served;
    let sumps = match (answer.sumps.iter().filter(served).count(), answer.sumps.len()) {
        (1, 1) => sentence!("the sump"),
        (served, all) => sentence!("{} of {} sumps", served, all),
    };
    match answer.trips.as_ref().map(Vec::len) {
        None => sentence!("{} {}", them, sumps),
        Some(1) => sentence!("{} {} in one trip", them, sumps),
        Some(several) => sentence!("{} {} in {} trips", them, sumps, several),
    }
}

/// "lathe 3 gives 22 L to lathe 4".
fn moved(round: &TopUpRound, answer: &TopUpRoundAnswer) -> Sentence {
    if answer.moves.len() > NAMED {
        let all: f64 = answer.moves.iter().map(|own| own.volume.get()).sum();
        return sentence!(
            "{} sumps give {} to others",
            answer.moves.len(),
            Volume::measure_of(all).rounded(3)
        );
    }
    let moves = answer.moves.iter().map(|own| {
        sentence!("{} gives {} to {}", &own.from, round.said_litres(own.volume.get()), &own.to)
    });
    listed(moves)
}

fn nothing_to_pour(answer: &TopUpRoundAnswer) -> Sentence {
    match (answer.in_order.whole(), answer.sumps.len()) {
        (1, 1) => sentence!("Nothing to pour: the sump is in its band and at its level."),
        (0, _) => sentence!("Nothing to pour on this round."),
        (own, all) if own == all => {
            sentence!("Nothing to pour: all {} sumps are in their bands and at their levels.", all)
        }
        (own, all) => sentence!("Nothing to pour: {} of {} sumps are in order.", own, all),
    }
}
