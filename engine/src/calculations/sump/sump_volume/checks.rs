//! What the measures of a sump may not contradict themselves in.

use super::{Dilution, SumpShape, SumpVolume, VolumeEstimate};
use crate::numerics::cut_off::look;
use crate::quantity::{Concentration, Length, Measure, Quantity};
use crate::sentence;
use crate::text::{Faults, Kind, Refusal};

/// The most lines of a dip table.
const DIP_LINES_MOST: f64 = 20_000.0;

/// Neither a shape nor a dilution.
pub(super) fn nothing_to_go_by() -> Refusal {
    let detail = sentence!(
        "There are no measurements to work the volume out from. Give the shape of the sump, a \
         dilution, or both."
    );
    Refusal::new(Kind::NotIdentifiable, "", detail)
}

/// Which uncertainty is missing to combine two estimates.
pub(super) fn how_good(shape: &VolumeEstimate, dilution: &VolumeEstimate) -> Refusal {
    let mut faults = Faults::default();
    let detail = || {
        sentence!(
            "Two volumes are combined by their uncertainties. Give this one, or ask for one volume \
             at a time."
        )
    };
    if shape.u.is_none_or(|u| u.get() == 0.0) {
        faults.add("/shape/length_u", detail());
    }
    if dilution.u.is_none_or(|u| u.get() == 0.0) {
        faults.add("/dilution/strength_u", detail());
    }
    faults.or_refuse(Kind::NotIdentifiable).err().unwrap_or_else(nothing_to_go_by)
}

impl SumpVolume {
    pub(super) fn check(&self) -> Result<(), Refusal> {
        if let Some(shape) = &self.shape {
            shape.check()?;
        }
        self.dilution.as_ref().map_or(Ok(()), Dilution::check)
    }
}

impl SumpShape {
    fn check(&self) -> Result<(), Refusal> {
        let mut faults = Faults::default();
        for (i, compartment) in self.compartments.iter().enumerate() {
            compartment.check(&format!("/shape/compartments/{i}"), &mut faults);
        }
        let lines = self.brim() / self.dip_step();
        if self.dip_step.is_some() && (lines.is_nan() || lines > DIP_LINES_MOST) {
            let detail = sentence!(
                "With this step the dip table would have more than {} lines. Take a larger one.",
                Measure::bare(DIP_LINES_MOST)
            );
            faults.add("/shape/dip_step", detail);
        }
        faults.or_refuse(Kind::OutOfRange)?;

        let mut faults = Faults::default();
        for (i, compartment) in self.compartments.iter().enumerate() {
            compartment.check_corner(&format!("/shape/compartments/{i}"), &mut faults);
        }
        if self.level.get() > self.brim() {
            let detail = sentence!(
                "The level of {} lies above the lowest brim, {}, where the fluid runs out.",
                self.level,
                Length::measure_of(self.brim())
            );
            faults.add("/shape/level", detail);
        }
        faults.or_refuse(Kind::Inconsistent)?;
        self.check_displaced()
    }

    /// Refuses what takes up more room than there is at some level.
    fn check_displaced(&self) -> Result<(), Refusal> {
        let steps = 0..=200;
        let levels =
            steps.map(|step| self.brim() * f64::from(step) / 200.0).chain([self.level.get()]);
        let brim = self.litres_at(self.brim()).abs();
        for level in levels {
            look();
            if self.litres_at(level) < -1e-9 * brim {
                let detail = sentence!(
                    "What stands in the sump takes up more room below {} than there is. Check its \
                     volume, its foot and its height.",
                    Length::measure_of(level)
                );
                return Err(Refusal::new(Kind::Inconsistent, "/shape/displaced", detail));
            }
        }
        Ok(())
    }
}

impl Dilution {
    fn check(&self) -> Result<(), Refusal> {
        let (c_0, c_1, c_a) = (self.before.get(), self.after.get(), self.strength_added());
        if self.added.get() == 0.0 {
            let detail = sentence!(
                "An addition of {} does not change the strength, so the volume cannot be worked out.",
                self.added
            );
            return Err(Refusal::new(Kind::NotIdentifiable, "/dilution/added", detail));
        }
        if c_0 == c_1 {
            let detail = sentence!(
                "The strength did not change, so the volume cannot be worked out. Add more, or \
                 something weaker or stronger."
            );
            return Err(Refusal::new(Kind::NotIdentifiable, "/dilution/after", detail));
        }
        let between = (c_0 < c_1) == (c_1 < c_a) && c_1 != c_a;
        if !between {
            let detail = sentence!(
                "After the addition the fluid cannot be at {}: it must lie between {}, where it \
                 was, and {}, what was added.",
                self.after,
                self.before,
                Concentration::measure_of(c_a)
            );
            return Err(Refusal::new(Kind::Inconsistent, "/dilution/after", detail));
        }
        Ok(())
    }
}
