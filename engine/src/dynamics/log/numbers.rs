//! The entries of a log in numbers: what each read, took out and poured in.

use super::LogKeeping;
use super::entry::{LogAddition, LogEntry, LogHappening};
use crate::quantity::{Capacity, Concentration, Quantity, Volume};
use crate::sentence;
use crate::text::{Faults, Kind, Refusal, Sentence, with_nearest};

/// A sump may be filled past its working level, by no more than this.
const OVERFULL: f64 = 1.25;
/// The names of the two fluids that every shop has, and how strong they are, %.
const KNOWN_FLUIDS: [(&str, f64); 2] = [("water", 0.0), ("concentrate", 100.0)];

/// An entry in numbers.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct ReadEntry {
    /// What was in the sump before anything was done.
    pub volume: Option<ReadLevel>,
    /// How strong it was, %.
    pub strength: Option<f64>,
    /// What its strength's uncertainty was said to be, points.
    pub strength_u: Option<f64>,
    /// What was taken out.
    pub taken: TakenOut,
    /// What was poured in.
    pub poured: PouredIn,
    /// Whether the machine stood until the next entry.
    pub stood: bool,
}

/// A volume by a level.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ReadLevel {
    /// L.
    pub value: f64,
    /// What its uncertainty was said to be, L.
    pub u: Option<f64>,
}

/// What was taken out.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub enum TakenOut {
    /// Nothing.
    #[default]
    Nothing,
    /// So many litres.
    Litres(f64),
    /// All that was there.
    All,
}

/// What was poured in.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct PouredIn {
    /// L; where it is not known, whatever it took to fill up.
    pub litres: Option<f64>,
    /// Strength, %.
    pub strength: f64,
    /// The level that it was filled to, L.
    pub to: Option<f64>,
}

impl PouredIn {
    /// The level that it was filled to with litres that nobody wrote down.
    #[must_use]
    pub fn unwritten_up_to(&self) -> Option<f64> {
        if self.litres.is_none() { self.to } else { None }
    }
}

impl LogKeeping<'_> {
    /// Each entry in numbers, or each fault in it.
    pub fn read(&self) -> Result<Vec<ReadEntry>, Refusal> {
        let mut first: Option<Refusal> = None;
        let mut refuse = |refusal: Refusal| match &mut first {
            Some(first) => first.faults.extend(refusal.faults),
            None => first = Some(refusal),
        };
        let mut strengths = Vec::with_capacity(self.log.len());
        for (i, entry) in self.log.iter().enumerate() {
            let read = entry.reading.as_ref();
            let read = read.map(|reading| reading.concentration(&format!("/log/{i}/reading")));
            strengths.push(match (entry.concentration, read) {
                (Some(given), _) => Some(given.get()),
                (None, None) => None,
                (None, Some(Ok(read))) => Some(read.get()),
                (None, Some(Err(refusal))) => {
                    refuse(refusal);
                    None
                }
            });
        }
        if let Some(refusal) = first {
            return Err(refusal);
        }
        let mut faults = Faults::default();
        self.sump.check(&mut faults);
        let entries = self.log.iter().zip(strengths).enumerate();
        let entries =
            entries.map(|(i, (entry, strength))| self.entry(i, entry, strength, &mut faults));
        let entries = entries.collect();
        faults.or_refuse(Kind::Inconsistent)?;
        Ok(empty_until_filled(entries))
    }

    fn entry(
        &self,
        i: usize,
        entry: &LogEntry,
        strength: Option<f64>,
        faults: &mut Faults,
    ) -> ReadEntry {
        if entry.concentration.is_some() && entry.reading.is_some() {
            let detail = sentence!(
                "The strength of the fluid is given twice, as a concentration and as a reading. \
                 Give one of them."
            );
            faults.add(format!("/log/{i}/reading"), detail);
        }
        let said = [entry.reading_uncertainty, self.reading_uncertainty];
        let u = said.iter().flatten().find_map(|said| said.volume).map(Capacity::get);
        let strength_u = said.iter().flatten().find_map(|said| said.concentration);
        let taken = self.taken(i, entry, faults);
        let poured = self.poured(i, entry, faults);
        let seen = self.seen(i, entry, faults).map(|value| ReadLevel { value, u });
        let volume = match (seen, Self::before_filling(i, entry, taken, poured, faults)) {
            (None, before) => before.map(|value| ReadLevel { value, u }),
            (seen, None) => seen,
            // Two looks at one level are surer than one.
            (Some(seen), Some(before)) => Some(ReadLevel {
                value: seen.value.midpoint(before),
                u: u.map(|u| u * std::f64::consts::FRAC_1_SQRT_2),
            }),
        };
        ReadEntry {
            volume,
            strength,
            strength_u: strength_u.map(Concentration::get),
            taken,
            poured,
            stood: entry.happened == Some(LogHappening::MachineStood),
        }
    }

    /// The volume by its level.
    fn seen(&self, i: usize, entry: &LogEntry, faults: &mut Faults) -> Option<f64> {
        let most = self.sump.capacity.get() * OVERFULL;
        let (value, member) = match (entry.volume, entry.level) {
            (Some(_), Some(_)) => {
                let detail = sentence!(
                    "What is in the sump is given twice, as a volume and as a level. Give one of \
                     them."
                );
                faults.add(format!("/log/{i}/level"), detail);
                return None;
            }
            (Some(volume), None) => (volume.get(), "volume"),
            (None, Some(level)) => match self.sump.by_dip(level) {
                Some(volume) => (volume, "level"),
                None => {
                    let detail = if self.sump.dip_table.is_some() {
                        sentence!(
                            "{} lies outside the dip table. Check the level and the table.",
                            level
                        )
                    } else {
                        sentence!(
                            "A level is a volume only by a dip table. Give the sump's dip table \
                             (sump.dip_table), or the volume."
                        )
                    };
                    faults.add(format!("/log/{i}/level"), detail);
                    return None;
                }
            },
            (None, None) => return None,
        };
        let pointer = format!("/log/{i}/{member}");
        if value > most {
            let detail = sentence!(
                "{} in a sump of {} is more than overfull. Check the reading and the capacity.",
                Volume::measure_of(value),
                self.sump.capacity
            );
            faults.add(pointer, detail);
        } else if value == 0.0 {
            let detail =
                sentence!("An empty sump loses no fluid. Begin the log after it is filled.");
            faults.add(pointer, detail);
        }
        Some(value)
    }

    fn taken(&self, i: usize, entry: &LogEntry, faults: &mut Faults) -> TakenOut {
        let is_emptied =
            matches!(entry.happened, Some(LogHappening::Drained | LogHappening::CleanedOut));
        let Some(removed) = entry.removed else {
            return if is_emptied { TakenOut::All } else { TakenOut::Nothing };
        };
        let litres = removed.volume.get();
        if litres > self.sump.capacity.get() * OVERFULL {
            let detail = sentence!(
                "{} were removed from a sump that holds {}.",
                removed.volume,
                self.sump.capacity
            );
            faults.add(format!("/log/{i}/removed/volume"), detail);
        }
        // What was drained to the last drop is all there was, whatever the meter made of it.
        if is_emptied { TakenOut::All } else { TakenOut::Litres(litres) }
    }

    fn poured(&self, i: usize, entry: &LogEntry, faults: &mut Faults) -> PouredIn {
        let to = entry.filled_to.as_ref().and_then(|name| {
            let level = self.sump.filled(name);
            if level.is_none() {
                let unknown = sentence!("No mark of the sump is called \"{}\".", name);
                let detail = with_nearest(unknown, name, self.sump.levels());
                faults.add(format!("/log/{i}/filled_to"), detail);
            }
            level
        });
        let Some(added) = &entry.added else {
            if to.is_some() {
                let detail = sentence!(
                    "It is not said what the sump was filled up with. Give its strength or its \
                     name (added.concentration or added.of), and its volume where it was measured."
                );
                faults.add(format!("/log/{i}/added"), detail);
            }
            return PouredIn { litres: Some(0.0), strength: 0.0, to };
        };
        let strength = self.strength_of(i, added, faults);
        if added.volume.is_none() && entry.filled_to.is_none() {
            let detail = sentence!(
                "How much was poured in is missing. Give its volume, or the level that the sump \
                 was filled to (filled_to: full)."
            );
            faults.add(format!("/log/{i}/added/volume"), detail);
        }
        PouredIn { litres: added.volume.map(Volume::get), strength, to }
    }

    fn strength_of(&self, i: usize, added: &LogAddition, faults: &mut Faults) -> f64 {
        let known = || {
            let given = self.fluids.iter().map(|own| (own.name.as_str(), own.concentration.get()));
            given.chain(KNOWN_FLUIDS)
        };
        match (added.concentration, &added.of) {
            (Some(given), None) => given.get(),
            (None, Some(name)) => {
                let found = known().find(|(own, _)| *name == *own);
                found.map_or_else(
                    || {
                        let unknown = sentence!("No fluid of the question is called \"{}\".", name);
                        let detail = with_nearest(unknown, name, known().map(|(own, _)| own));
                        faults.add(format!("/log/{i}/added/of"), detail);
                        0.0
                    },
                    |(_, strength)| strength,
                )
            }
            (given, _) => {
                let detail: Sentence = if given.is_some() {
                    sentence!(
                        "The strength of what was poured in is given twice, as a concentration and \
                         by its name. Give one of them."
                    )
                } else {
                    sentence!(
                        "The strength of what was poured in is missing. Give its concentration (0 \
                         for water), or its name."
                    )
                };
                faults.add(format!("/log/{i}/added/concentration"), detail);
                0.0
            }
        }
    }

    /// What was in the sump before it was filled up, by the level that it was filled to and the
    /// litres that it took; none where nobody wrote them down, or where the sump was emptied.
    fn before_filling(
        i: usize,
        entry: &LogEntry,
        taken: TakenOut,
        poured: PouredIn,
        faults: &mut Faults,
    ) -> Option<f64> {
        let (litres, to) = (poured.litres?, poured.to?);
        let out = match taken {
            TakenOut::Nothing => 0.0,
            TakenOut::Litres(litres) => litres,
            TakenOut::All => return None,
        };
        entry.added.as_ref()?;
        let before = to - litres + out;
        if before <= 0.0 {
            let detail = sentence!(
                "{} more than fill the sump up to {}. Check the litres, or write that it was \
                 drained before.",
                Volume::measure_of(litres),
                Volume::measure_of(to)
            );
            faults.add(format!("/log/{i}/added/volume"), detail);
            return None;
        }
        Some(before)
    }
}

/// A sump that is emptied at one entry and filled at a later one stands empty in between and loses
/// nothing: it is taken to be emptied just before it is filled, by a machine that stands.
fn empty_until_filled(mut entries: Vec<ReadEntry>) -> Vec<ReadEntry> {
    let fills = |entry: &ReadEntry| entry.poured.litres != Some(0.0);
    let mut i = 0;
    while i < entries.len() {
        let is_left_empty = entries[i].taken == TakenOut::All && !fills(&entries[i]);
        let filled = (i + 1..entries.len()).find(|later| fills(&entries[*later]));
        if let Some(filled) = filled.filter(|_| is_left_empty) {
            let is_idle = |entry: &ReadEntry| entry.volume.is_none() && entry.strength.is_none();
            if entries[i + 1..=filled].iter().all(is_idle) {
                entries[i].taken = TakenOut::Nothing;
                entries[filled].taken = TakenOut::All;
                entries[i..filled].iter_mut().for_each(|entry| entry.stood = true);
            }
        }
        i += 1;
    }
    entries
}
