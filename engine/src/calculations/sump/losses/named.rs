//! The suspects of a log that was explained, each with its numbers.

use super::answer::{
    AdditionMissing, ConcentrationMisread, EstimatedConcentration, EstimatedDailyRate,
    EstimatedRatio, EstimatedVolume, FactorOff, InstrumentDrift, LeftOver, LogSuspect, PremixOff,
    SuspectKind, UnrecordedAddition, UnrecordedRemoval, VolumeMisread, WaterIngress,
};
use super::bounds::Explained;
use super::course::FIRST_SUSPECT;
use super::log::{Log, Seen};
use super::suspect::Suspect;
use crate::numerics::order;
use crate::quantity::{Concentration, DailyRate, Days, Quantity, Ratio, Volume, VolumeDifference};
use crate::text::Refusal;

/// What was not written down, the surest first.
pub(super) fn named(log: &Log, explained: &Explained) -> Result<Vec<LogSuspect>, Refusal> {
    let suspects = &explained.fitted.suspects;
    let mut surest: Vec<usize> = (0..suspects.len()).collect();
    let sureness = |s: usize| explained.fitted.amount(s).abs() / explained.u(FIRST_SUSPECT + s);
    order::greatest_first(&mut surest, |s| sureness(*s));
    surest.retain(|s| !matches!(suspects[*s], Suspect::Concentrate { .. }));
    surest.into_iter().map(|s| numbers_of(log, explained, s)).collect()
}

fn numbers_of(log: &Log, explained: &Explained, s: usize) -> Result<LogSuspect, Refusal> {
    let (size, u) = (explained.fitted.amount(s), explained.u(FIRST_SUSPECT + s));
    let day = |i: usize| Days::of(log.events[i].day);
    let last = log.events.len() - 1;
    let volume = || -> Result<EstimatedVolume, Refusal> {
        Ok(EstimatedVolume { value: Volume::of(size)?, u: Volume::of(u)? })
    };
    let suspect = explained.fitted.suspects[s];
    let or_else = explained.or_else(&suspect);
    Ok(match suspect {
        Suspect::Addition { after, .. } | Suspect::Concentrate { after } => {
            let found = explained.strengths.iter().find(|(at, ..)| *at == after);
            let (c, u_c) = found.map_or((0.0, 0.0), |(_, c, u)| (*c, *u));
            LogSuspect::UnrecordedAddition(UnrecordedAddition {
                from: day(after)?,
                to: day(after + 1)?,
                size: volume()?,
                concentration: strength(c, u_c)?,
                or_else,
            })
        }
        Suspect::Removal { after } => LogSuspect::UnrecordedRemoval(UnrecordedRemoval {
            from: day(after)?,
            to: day(after + 1)?,
            size: volume()?,
            or_else,
        }),
        Suspect::Missing { at } => {
            let claimed = log.events[at].added();
            LogSuspect::AdditionMissing(AdditionMissing {
                from: day(at)?,
                to: day(at + 1)?,
                size: EstimatedVolume {
                    value: Volume::of(size * claimed)?,
                    u: Volume::of(u * claimed)?,
                },
                claimed: Volume::of(claimed)?,
                or_else,
            })
        }
        Suspect::Ingress { from } => LogSuspect::WaterIngress(WaterIngress {
            from: day(from)?,
            to: day(last)?,
            size: EstimatedDailyRate { value: DailyRate::of(size)?, u: DailyRate::of(u)? },
            or_else,
        }),
        Suspect::Premix { from, to } => {
            let claimed = log.events[from].poured.strength;
            LogSuspect::PremixOff(PremixOff {
                from: day(from)?,
                to: day(to)?,
                size: strength(claimed * (1.0 + size), claimed * u)?,
                claimed: Concentration::of(claimed)?,
                or_else,
            })
        }
        Suspect::Factor { from } => {
            let last_read = last_strength(log);
            let factor = size.exp();
            LogSuspect::FactorOff(FactorOff {
                from: day(from)?,
                to: day(last_read)?,
                size: EstimatedRatio { value: Ratio::of(factor)?, u: Ratio::of(factor * u)? },
                or_else,
            })
        }
        Suspect::Drift { from } => {
            let last_read = last_strength(log);
            let days = log.days_between(from, last_read);
            let times = (size * days).exp();
            LogSuspect::InstrumentDrift(InstrumentDrift {
                from: day(from)?,
                to: day(last_read)?,
                size: EstimatedRatio { value: Ratio::of(times)?, u: Ratio::of(times * u * days)? },
                or_else,
            })
        }
        Suspect::Volume { at } => LogSuspect::VolumeMisread(VolumeMisread {
            from: day(at)?,
            to: day(at)?,
            size: LeftOver { value: VolumeDifference::of(size)?, u: Volume::of(u)? },
            or_else,
        }),
        Suspect::Strength { at } => {
            let read = log.observations.iter().find(|o| o.seen == Seen::Strength(at));
            let right = read.map_or(0.0, |o| o.value - size);
            LogSuspect::ConcentrationMisread(ConcentrationMisread {
                from: day(at)?,
                to: day(at)?,
                size: strength(right, u)?,
                or_else,
            })
        }
    })
}

/// The entry of the last strength that was read.
fn last_strength(log: &Log) -> usize {
    let read = log.observations.iter().filter_map(|o| match o.seen {
        Seen::Strength(at) => Some(at),
        _ => None,
    });
    read.fold(0, usize::max)
}

impl Explained {
    fn or_else(&self, suspect: &Suspect) -> Vec<SuspectKind> {
        let same = |other: &&(Suspect, Vec<SuspectKind>)| match (&other.0, suspect) {
            (Suspect::Addition { after: a, .. }, Suspect::Addition { after: b, .. }) => a == b,
            (a, b) => a == b,
        };
        self.rivals.iter().find(same).map(|(_, kinds)| kinds.clone()).unwrap_or_default()
    }
}

/// A strength that was worked out, which noise may carry past what can be.
fn strength(value: f64, u: f64) -> Result<EstimatedConcentration, Refusal> {
    let bounded = |c: f64| Concentration::of(c.clamp(0.0, 100.0));
    Ok(EstimatedConcentration { value: bounded(value)?, u: bounded(u)? })
}
