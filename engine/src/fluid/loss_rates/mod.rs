//! What a sump loses while it works, as rates.
//!
//! Water leaves to the air and nothing else with it; fluid leaves on chips and
//! parts as it is, of which the concentrate may be a little more or less than
//! its share. Who does not know the rates gives what they come from: the chips and how wet they
//! are, the open surface and the air over it.

mod chips;
mod surface;

pub use chips::{ChipsWeighed, WetChips};
pub use surface::OpenSurface;

use crate::quantity::{DailyRate, Quantity, Ratio};
use crate::sentence;
use crate::text::{Assumption, Faults, Kind, Refusal};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// What a sump loses on an ordinary working day.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct LossRates {
    /// # Lost to evaporation
    ///
    /// Water lost to evaporation per day. Give this or the open surface.
    #[schema(example = 9.0)]
    pub evaporation: Option<DailyRate>,
    /// # Carried off
    ///
    /// Fluid carried off per day on chips, on parts and as mist. Give this or the chips.
    #[schema(example = 6.0)]
    pub carry_off: Option<DailyRate>,
    /// # Depletion ratio
    ///
    /// Strength of what is carried off, as a multiple of the fluid's. 1 keeps the
    /// concentration; above 1 the fluid gets weaker. Default: 1.
    pub depletion_ratio: Option<Ratio>,
    /// # Chips
    ///
    /// The chips that carry fluid off, where nobody knows how much that is.
    pub chips: Option<WetChips>,
    /// # Open surface
    ///
    /// The open surface that evaporates, where nobody measured how much: an estimate.
    pub surface: Option<OpenSurface>,
}

impl LossRates {
    /// Water lost to the air, L/day.
    #[must_use]
    pub fn evaporates(&self) -> f64 {
        let estimate = || self.surface.map_or(0.0, surface::OpenSurface::evaporates);
        self.evaporation.map_or_else(estimate, Quantity::get)
    }

    /// Fluid carried off, L/day.
    #[must_use]
    pub fn carried_off(&self) -> f64 {
        let by_chips = || self.chips.map_or(0.0, chips::WetChips::carry_off);
        self.carry_off.map_or_else(by_chips, Quantity::get)
    }

    /// Concentrate lost with what is carried off, against its share.
    #[must_use]
    pub fn depletion(&self) -> f64 {
        self.depletion_ratio.map_or(1.0, Quantity::get)
    }

    /// Whether nothing says what is carried off.
    pub(crate) fn is_silent(&self) -> bool {
        self.carry_off.is_none() && self.chips.is_none()
    }

    /// Refuses losses that are not given, or given twice.
    pub(crate) fn check(&self, pointer: &str) -> Result<(), Refusal> {
        let mut faults = Faults::default();
        self.note_missing(&|| pointer.to_owned(), &mut faults);
        faults.or_refuse(Kind::NotIdentifiable)?;
        let mut faults = Faults::default();
        self.note_faults(&|| pointer.to_owned(), &mut faults);
        faults.or_refuse(Kind::Inconsistent)
    }

    /// Notes the losses that nothing says.
    pub(crate) fn note_missing(&self, at: &dyn Fn() -> String, faults: &mut Faults) {
        if self.evaporation.is_none() && self.surface.is_none() {
            let text = sentence!(
                "What evaporates is missing. Give it, if only as 0, or the open surface for an \
                 estimate."
            );
            faults.add(format!("{}/evaporation", at()), text);
        }
        if self.is_silent() {
            let text = sentence!(
                "What is carried off is missing. Give it, if only as 0, or the chips with what they \
                 weigh and how wet they are."
            );
            faults.add(format!("{}/carry_off", at()), text);
        }
    }

    /// Notes the losses that are given twice, and what they cannot come from.
    pub(crate) fn note_faults(&self, at: &dyn Fn() -> String, faults: &mut Faults) {
        if self.evaporation.is_some() && self.surface.is_some() {
            let text = sentence!(
                "What evaporates is given twice: itself, and the open surface for an estimate. A \
                 measured value is better; leave out the surface."
            );
            faults.add(format!("{}/surface", at()), text);
        }
        if self.carry_off.is_some() && self.chips.is_some() {
            let text = sentence!(
                "What is carried off is given twice: itself, and by the chips. Leave out one; what \
                 goes off on parts and as mist beside the chips is given as chips.besides."
            );
            faults.add(format!("{}/chips", at()), text);
        }
        if let Some(surface) = &self.surface {
            surface.note_faults(at, faults);
        }
        if let Some(chips) = &self.chips {
            chips.note_faults(at, faults);
        }
    }

    /// Whether one of them was worked out.
    fn is_worked_out(&self) -> bool {
        self.chips.is_some() || self.surface.is_some()
    }

    /// What is taken for granted of rates that were worked out; `pointer` is where they lie.
    pub(crate) fn assumptions(&self, pointer: &str) -> Vec<Assumption> {
        let surface = self.surface.filter(|_| self.evaporation.is_none());
        let chips = self.chips.filter(|_| self.carry_off.is_none());
        let surface = surface.map(|surface| surface.assumption(pointer));
        surface.into_iter().chain(chips.map(|chips| chips.assumption(pointer))).collect()
    }
}

/// The same of many, of which the first few are told one by one; `at` says where each lies.
pub(crate) fn assumptions_of_many<'a>(
    all: impl IntoIterator<Item = (usize, &'a LossRates)>,
    at: impl Fn(usize) -> String,
) -> Vec<Assumption> {
    /// So many are told.
    const FEW: usize = 3;
    let mut worked_out = all.into_iter().filter(|(_, losses)| losses.is_worked_out());
    let told = worked_out.by_ref().take(FEW);
    let mut assumptions: Vec<Assumption> =
        told.flat_map(|(i, losses)| losses.assumptions(&at(i))).collect();
    let more = worked_out.count();
    if more > 0 {
        let text = sentence!("The losses of {} more were worked out in the same way.", more);
        assumptions.push(Assumption::new("", text));
    }
    assumptions
}
