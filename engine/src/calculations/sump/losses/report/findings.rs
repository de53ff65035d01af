//! Findings in words, each with its size.

use super::{
    Concentration, ConcentrationMisread, DailyRate, Days, EstimatedConcentration,
    EstimatedDailyRate, EstimatedRatio, EstimatedVolume, Explained, FIRST_SUSPECT, FactorOff,
    FindingKind, LeftOver, Log, LogFinding, PremixOff, Quantity, Ratio, Refusal, Seen, Suspect,
    UnrecordedAddition, UnrecordedRemoval, Volume, VolumeDifference, VolumeMisread, WaterIngress,
};

const UNRECORDED_WATER: &str = "Water went in that is not in the log. Ask who topped up, and write \
    it in. If nobody did, the machine rested and lost less: give the running hours.";
const UNRECORDED_FLUID: &str = "Fluid went in that is not in the log. Ask who topped up, and write \
    it in. If nobody did, the machine rested and lost less: give the running hours.";
const UNRECORDED_REMOVAL: &str = "Fluid went missing between these entries. Ask whether some was \
    drained or spilled, or whether an addition in the log never went in.";
const WATER_INGRESS: &str = "Water runs into the sump from about this day on. Look for it at the \
    chiller, the heat exchanger, a wash gun, a valve that does not close, or the roof. The rates are \
    without it.";
const WATER_FROM_THE_START: &str = "More water comes in than evaporates, from the first entry on. \
    Look for it at the chiller, the heat exchanger, a wash gun, a valve that does not close, or the \
    roof. Only what comes in less what evaporates can be told.";
const PREMIX_OFF: &str = "The sump did not answer to this premix as its strength says. Read the \
    premix itself, and check the mixer.";
const FACTOR_OFF_SINCE: &str = "From this reading on, strengths are scaled against those before. \
    Check the factor that was entered and the zero of the instrument, and whether the product was \
    changed.";
const FACTOR_OFF: &str = "All strengths of the log are scaled against what its additions do to them. \
    Check the factor.";
const VOLUME_MISREAD: &str = "This level does not fit those before and after it. Read it again, or \
    look for a slip of the pen.";
const CONCENTRATION_MISREAD: &str = "This strength does not fit those before and after it. Read it \
    again, or look for a slip of the pen.";

/// What the log does not say, in the order of its sureness.
pub(super) fn findings(log: &Log, explained: &Explained) -> Result<Vec<LogFinding>, Refusal> {
    let suspects = &explained.fitted.suspects;
    let mut order: Vec<usize> = (0..suspects.len()).collect();
    let sureness = |s: usize| explained.fitted.amount(s).abs() / explained.u(FIRST_SUSPECT + s);
    order.sort_by(|a, b| sureness(*b).total_cmp(&sureness(*a)));
    order.retain(|s| !matches!(suspects[*s], Suspect::Concentrate { .. }));
    order.into_iter().map(|s| finding(log, explained, s)).collect()
}

fn finding(log: &Log, explained: &Explained, s: usize) -> Result<LogFinding, Refusal> {
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
            let text = if c <= 2.0 * u_c { UNRECORDED_WATER } else { UNRECORDED_FLUID };
            LogFinding::UnrecordedAddition(UnrecordedAddition {
                from: day(after)?,
                to: day(after + 1)?,
                size: volume()?,
                concentration: strength(c, u_c)?,
                or_else,
                text: text.to_owned(),
            })
        }
        Suspect::Removal { after } => LogFinding::UnrecordedRemoval(UnrecordedRemoval {
            from: day(after)?,
            to: day(after + 1)?,
            size: volume()?,
            or_else,
            text: UNRECORDED_REMOVAL.to_owned(),
        }),
        Suspect::Ingress { from } => LogFinding::WaterIngress(WaterIngress {
            from: day(from)?,
            to: day(last)?,
            size: EstimatedDailyRate { value: DailyRate::of(size)?, u: DailyRate::of(u)? },
            or_else,
            text: if from == 0 { WATER_FROM_THE_START } else { WATER_INGRESS }.to_owned(),
        }),
        Suspect::Premix { from, to } => {
            let claimed = log.events[from].strength;
            LogFinding::PremixOff(PremixOff {
                from: day(from)?,
                to: day(to)?,
                size: strength(claimed * (1.0 + size), claimed * u)?,
                claimed: Concentration::of(claimed)?,
                or_else,
                text: PREMIX_OFF.to_owned(),
            })
        }
        Suspect::Factor { from } => {
            let read = log.observations.iter().filter_map(|o| match o.seen {
                Seen::Strength(at) => Some(at),
                _ => None,
            });
            let (first, last_read) =
                read.fold((last, 0), |(low, high), at| (low.min(at), high.max(at)));
            let factor = size.exp();
            let text = if from <= first { FACTOR_OFF } else { FACTOR_OFF_SINCE };
            LogFinding::FactorOff(FactorOff {
                from: day(from)?,
                to: day(last_read)?,
                size: EstimatedRatio { value: Ratio::of(factor)?, u: Ratio::of(factor * u)? },
                or_else,
                text: text.to_owned(),
            })
        }
        Suspect::Volume { at } => LogFinding::VolumeMisread(VolumeMisread {
            from: day(at)?,
            to: day(at)?,
            size: LeftOver { value: VolumeDifference::of(size)?, u: Volume::of(u)? },
            or_else,
            text: VOLUME_MISREAD.to_owned(),
        }),
        Suspect::Strength { at } => {
            let read = log.observations.iter().find(|o| o.seen == Seen::Strength(at));
            let right = read.map_or(0.0, |o| o.value - size);
            LogFinding::ConcentrationMisread(ConcentrationMisread {
                from: day(at)?,
                to: day(at)?,
                size: strength(right, u)?,
                or_else,
                text: CONCENTRATION_MISREAD.to_owned(),
            })
        }
    })
}

impl Explained {
    fn or_else(&self, suspect: &Suspect) -> Vec<FindingKind> {
        let same = |other: &&(Suspect, Vec<FindingKind>)| match (&other.0, suspect) {
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
