//! Each estimate of a volume, and how good it is to first order.

use super::{Dilution, DipLine, SumpShape, VolumeEstimate};
use crate::numerics::cut_off::look;
use crate::numerics::distribution::{Distribution, DistributionShape, Joint};
use crate::numerics::first_order;
use crate::quantity::{Length, Quantity, Volume};
use crate::text::Refusal;
use std::convert::Infallible;

/// Lines of the dip table when nobody says how far apart they are.
const DIP_LINES: f64 = 20.0;

impl SumpShape {
    pub(super) fn pipes(&self) -> f64 {
        self.in_pipes.map_or(0.0, Quantity::get)
    }

    /// The lowest brim, above which fluid runs out, mm.
    pub(super) fn brim(&self) -> f64 {
        self.compartments.iter().map(super::Compartment::brim).fold(f64::INFINITY, f64::min)
    }

    /// What is in the sump up to `level`, L.
    pub(super) fn litres_at(&self, level: f64) -> f64 {
        self.litres(level, &self.lengths())
    }

    /// The lengths of all compartments, one after the other.
    fn lengths(&self) -> Vec<f64> {
        let lengths = self.compartments.iter().flat_map(super::Compartment::lengths);
        lengths.map(|(_, length)| length.get()).collect()
    }

    fn litres(&self, level: f64, lengths: &[f64]) -> f64 {
        let mut rest = lengths;
        let held = self.compartments.iter().map(|compartment| {
            let (own, others) = rest.split_at(compartment.lengths().len());
            rest = others;
            compartment.litres(level, own)
        });
        let held: f64 = held.sum();
        let displaced: f64 = self.displaced.iter().flatten().map(|d| d.litres(level)).sum();
        held - displaced
    }

    pub(super) fn estimate(&self) -> Result<VolumeEstimate, Refusal> {
        let v = self.litres_at(self.level.get()) + self.pipes();
        let u = self.length_u.map(|u| self.uncertainty(v, u.get()));
        Ok(VolumeEstimate { volume: Volume::of(v)?, u: u.map(Volume::of).transpose()? })
    }

    /// How good `v` is when each length is known to `u` and the level as well. A length
    /// says something of its own compartment alone, so that each is looked at by itself.
    fn uncertainty(&self, v: f64, u: f64) -> f64 {
        let level = self.level.get();
        let lengths = self.lengths();
        let by_level = combined(&[(level, u)], v, |x| self.litres(x[0], &lengths) + self.pipes());
        let by_compartment = self.compartments.iter().map(|compartment| {
            look();
            let lengths = compartment.lengths();
            let lengths: Vec<f64> = lengths.into_iter().map(|(_, length)| length.get()).collect();
            let each: Vec<(f64, f64)> = lengths.iter().map(|x| (*x, u)).collect();
            combined(&each, compartment.litres(level, &lengths), |x| compartment.litres(level, x))
        });
        by_compartment.chain([by_level]).map(|u| u * u).sum::<f64>().sqrt()
    }

    pub(super) fn dip_step(&self) -> f64 {
        self.dip_step.map_or(self.brim() / DIP_LINES, Quantity::get)
    }

    /// What is in the sump at each line from its lowest point to the lowest brim.
    pub(super) fn dip_table(&self) -> Result<Vec<DipLine>, Refusal> {
        let (brim, step) = (self.brim(), self.dip_step());
        let levels = (0_u32..).map(|line| f64::from(line) * step);
        // The brim itself is a line, whatever rounding makes of the last step.
        let below = levels.take_while(|level| *level < brim * (1.0 - 1e-9));
        let line = |level: f64| {
            look();
            Ok(DipLine { level: Length::of(level)?, volume: Volume::of(self.litres_at(level))? })
        };
        below.chain([brim]).map(line).collect()
    }
}

impl Dilution {
    pub(super) fn estimate(&self) -> Result<VolumeEstimate, Refusal> {
        let c_a = self.strength_added();
        let v = |x: &[f64]| match x {
            [a, c_0, c_1] => a * (c_a - c_1) / (c_1 - c_0),
            _ => f64::NAN,
        };
        let (a, c_0, c_1) = (self.added.get(), self.before.get(), self.after.get());
        let found = v(&[a, c_0, c_1]);
        let u = self.strength_u.map(|u_c| {
            let u_a = self.added_u.map_or(0.0, Quantity::get);
            combined(&[(a, u_a), (c_0, u_c.get()), (c_1, u_c.get())], found, v)
        });
        Ok(VolumeEstimate { volume: Volume::of(found)?, u: u.map(Volume::of).transpose()? })
    }
}

/// The standard uncertainty of `v`, which `model` makes of numbers with their own.
fn combined(numbers: &[(f64, f64)], v: f64, model: impl Fn(&[f64]) -> f64 + Sync) -> f64 {
    let shape = DistributionShape::Normal;
    let inputs =
        numbers.iter().map(|(estimate, u)| Distribution { estimate: *estimate, u: *u, shape });
    let joint = Joint::independent(inputs.collect());
    let sensitivities = first_order::sensitivities(&joint, &[v], 1, |x, y| {
        y.push(model(x));
        Ok::<(), Infallible>(())
    });
    let sensitivities: Vec<f64> = sensitivities.into_iter().flatten().collect();
    first_order::budget(&joint, &sensitivities).u
}
