//! The steps of a round in the order in which they are done.

use super::TopUpRound;
use super::answer::{FluidMove, RoundOutcome, SumpOnRound};
use super::premixes::PremixMade;
use super::step::{TopUpRoundAction, TopUpRoundStep};
use super::trips::Loaded;
use crate::fluid::practice::PREMIX_AT_MOST;
use crate::quantity::{Concentration, Count, Measure, Quantity, Volume};
use crate::sentence;
use crate::text::{Refusal, Sentence};

impl TopUpRound {
    pub(super) fn steps(
        &self,
        made: &[PremixMade],
        trips: &[Loaded],
        moves: &[FluidMove],
        sumps: &[SumpOnRound],
    ) -> Result<Vec<TopUpRoundStep>, Refusal> {
        let mut steps: Vec<TopUpRoundStep> = moves.iter().map(|own| self.moved(own)).collect();
        let mut trip = 0;
        for (place, premix) in made.iter().enumerate() {
            steps.extend(self.made(place, premix)?);
            if self.vessels.is_none() {
                for stop in &premix.pours {
                    steps.push(self.poured((place, premix), (None, true), *stop, sumps)?);
                }
            }
            for loaded in trips.iter().filter(|loaded| loaded.premix == place) {
                trip += 1;
                steps.push(self.loaded(loaded, trip)?);
                for stop in &loaded.stops {
                    let mut later = trips[trip..].iter().flat_map(|later| &later.stops);
                    let is_last = later.all(|(sump, _)| *sump != stop.0);
                    let on = (Some(trip), is_last);
                    steps.push(self.poured((place, premix), on, *stop, sumps)?);
                }
            }
        }
        let out = sumps.iter().filter_map(|sump| {
            let step = TopUpRoundAction::StaysOut.step(stays_out(sump)?);
            let concentration = Some(sump.after.concentration);
            Some(TopUpRoundStep { sump: Some(sump.name.clone()), concentration, ..step })
        });
        steps.extend(out);
        Ok(steps)
    }

    fn moved(&self, own: &FluidMove) -> TopUpRoundStep {
        let litres = self.said_litres(own.volume.get());
        let loads = match own.loads.map_or(1, Count::whole) {
            0 | 1 => sentence!(""),
            several => sentence!(", in {} loads", several),
        };
        let text = sentence!(
            "Draw {} of good fluid ({}) from {} into a clean vessel and pour it into {}{}.",
            litres,
            own.concentration.roughly(),
            &own.from,
            &own.to,
            loads
        );
        TopUpRoundStep {
            sump: Some(own.from.clone()),
            to: Some(own.to.clone()),
            volume: Some(own.volume),
            concentration: Some(own.concentration),
            ..TopUpRoundAction::MoveFluid.step(text)
        }
    }

    /// How a premix is made.
    fn made(&self, place: usize, premix: &PremixMade) -> Result<Vec<TopUpRoundStep>, Refusal> {
        let number = Some(Count::from_usize(place + 1)?);
        let mixes = self.mixes(premix);
        let concentration = Some(Concentration::of(premix.strength)?);
        let (whole, strength) = (premix.fluid.volume, Concentration::measure_of(premix.strength));
        let each = if mixes > 1.0 {
            sentence!(" {} times:", Count::measure_of(mixes))
        } else {
            sentence!("")
        };
        if self.has_proportioner() {
            let settings = self.mixing.as_ref().and_then(|mixing| mixing.settings.as_ref());
            let notch =
                settings.and_then(|all| all.iter().position(|c| c.get() == premix.strength));
            let setting = match notch {
                Some(notch) => sentence!("notch {} ({})", notch + 1, strength.rounded(3)),
                None => sentence!("{}", strength.rounded(3)),
            };
            let text = sentence!(
                "Premix {}:{} set the proportioner for {} to {} and draw {}; read it before use.",
                place + 1,
                each,
                &premix.product,
                setting,
                self.said_litres(whole / mixes)
            );
            let step = TopUpRoundAction::DrawPremix.step(text);
            let volume = Some(Volume::of(whole)?);
            return Ok(vec![TopUpRoundStep { premix: number, volume, concentration, ..step }]);
        }
        let stocks = self.plain_stocks();
        let takes = premix.takes(&stocks);
        let comes_out = Concentration::measure_of(self.measured_premix(premix)).rounded(3);
        let steps = takes.iter().enumerate().map(|(at, (s, litres))| {
            let stock = &stocks[*s];
            let measure = self.said_litres(litres / mixes);
            let (action, text) = match at {
                0 if takes.len() == 1 => (
                    TopUpRoundAction::Pour,
                    sentence!(
                        "Premix {}:{} {} of {} as it is.",
                        place + 1,
                        each.clone(),
                        measure,
                        &stock.name
                    ),
                ),
                0 => (
                    TopUpRoundAction::Pour,
                    sentence!(
                        "Premix {}:{} pour {} of {} into a clean vessel.",
                        place + 1,
                        each.clone(),
                        measure,
                        &stock.name
                    ),
                ),
                _ if stock.concentration.get() > PREMIX_AT_MOST => (
                    TopUpRoundAction::StirIn,
                    sentence!(
                        "Stir {} of {} in slowly: concentrate into water, never water into \
                         concentrate. Premix {} must then be at {}.",
                        measure,
                        &stock.name,
                        place + 1,
                        comes_out
                    ),
                ),
                _ => (
                    TopUpRoundAction::MixIn,
                    sentence!("Add {} of {} to it and mix.", measure, &stock.name),
                ),
            };
            Ok(TopUpRoundStep {
                premix: number,
                stock: Some(stock.name.clone()),
                volume: Some(Volume::of(*litres)?),
                concentration: Some(stock.concentration),
                ..action.step(text)
            })
        });
        steps.collect()
    }

    fn loaded(&self, loaded: &Loaded, trip: usize) -> Result<TopUpRoundStep, Refusal> {
        let vessels = self.vessels.as_deref().unwrap_or_default();
        let text = sentence!(
            "Load {} of premix {} into the {}.",
            self.said_litres(loaded.volume()),
            loaded.premix + 1,
            &vessels[loaded.vessel].name
        );
        Ok(TopUpRoundStep {
            premix: Some(Count::from_usize(loaded.premix + 1)?),
            trip: Some(Count::from_usize(trip)?),
            volume: Some(Volume::of(loaded.volume())?),
            ..TopUpRoundAction::Load.step(text)
        })
    }

    fn poured(
        &self,
        (place, premix): (usize, &PremixMade),
        (trip, is_last): (Option<usize>, bool),
        (i, litres): (usize, f64),
        sumps: &[SumpOnRound],
    ) -> Result<TopUpRoundStep, Refusal> {
        let sump = &sumps[i];
        let whole = (sump.add.get() - litres).abs() <= 1e-9 * litres;
        let measure = if whole { self.said_pour(sump, i) } else { self.said_litres(litres) };
        let text = if is_last {
            sentence!(
                "Pour {} of premix {} in slowly, where the fluid returns; once it is mixed, {}.",
                measure,
                place + 1,
                self.comes_to(sump, i, premix)
            )
        } else {
            sentence!("Pour {} of premix {} in slowly; more of it comes.", measure, place + 1)
        };
        Ok(TopUpRoundStep {
            premix: Some(Count::from_usize(place + 1)?),
            trip: trip.map(Count::from_usize).transpose()?,
            sump: Some(sump.name.clone()),
            volume: Some(Volume::of(litres)?),
            concentration: Some(sump.after.concentration).filter(|_| is_last),
            mark: sump.after.mark.filter(|_| is_last),
            ..TopUpRoundAction::PourIn.step(text)
        })
    }

    /// All that goes into a sump, no more than it has room for.
    fn said_pour(&self, sump: &SumpOnRound, i: usize) -> Measure {
        let add = sump.add.get();
        let room = self.sumps[i].sump.capacity.get() - (sump.after.volume.get() - add);
        self.rounded(add, room.max(add)).1
    }
}

/// What is said of a sump that stays out of its band.
pub(super) fn stays_out(sump: &SumpOnRound) -> Option<Sentence> {
    let (name, is) = (&sump.name, sump.after.concentration.roughly());
    let needed = match sump.draining_needed {
        Some(litres) => sentence!(
            " It would take draining {}, which is no part of a round of top-ups.",
            litres.roughly()
        ),
        None => sentence!(""),
    };
    match sump.outcome {
        RoundOutcome::InOrder | RoundOutcome::Served => None,
        RoundOutcome::TooWeakForItsRoom => Some(sentence!(
            "{} stays too weak, at {}: it has no room for as much premix as it needs.{}",
            name,
            is,
            needed
        )),
        RoundOutcome::TooStrongForItsRoom => Some(sentence!(
            "{} stays too strong, at {}: it has no room for as much weak premix as it needs. Do not \
             drain it: make up what it loses with weak premix as it works.",
            name,
            is
        )),
        RoundOutcome::BetweenSettings => Some(sentence!(
            "{} stays at {}: the strength that it needs lies between the settings. Mix it by hand.",
            name,
            is
        )),
    }
}
