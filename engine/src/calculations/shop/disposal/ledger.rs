//! The ledger of a shop: how much of each material flows where in each month.

use super::Disposal;
use super::stream::{FLOWS, MonthlyFlow, Timing};
use crate::fluid::Fluid;
use crate::fluid::properties::PropertyName;
use crate::handbook::water::DENSITY_AT_20_CELSIUS;
use crate::quantity::Quantity;

/// Columns of a row of the ledger: concentrate, water and tramp oil in L,
/// solids in kg, and after them each thing dissolved in kg.
pub(super) const CONCENTRATE: usize = 0;
/// Water, L.
pub(super) const WATER: usize = 1;
/// Tramp oil, L.
pub(super) const OIL: usize = 2;
/// Fines, filter media or drums, kg.
pub(super) const SOLIDS: usize = 3;
/// Where the columns of what is dissolved begin, kg.
pub(super) const MATTER: usize = 4;

/// What a litre of each material weighs, kg/L.
#[derive(Debug, Clone, Copy)]
pub(super) struct LedgerDensities {
    pub concentrate: f64,
    pub water: f64,
    pub oil: f64,
}

impl LedgerDensities {
    /// Mass of a row, kg.
    pub(super) fn mass(&self, row: &[f64]) -> f64 {
        row[CONCENTRATE] * self.concentrate
            + row[WATER] * self.water
            + row[OIL] * self.oil
            + row[SOLIDS]
    }

    /// A row as a fluid of the balance.
    pub(super) fn fluid(&self, row: &[f64], names: &[PropertyName], oil_followed: bool) -> Fluid {
        Fluid {
            volume: volume(row),
            concentrate: row[CONCENTRATE],
            tramp_oil: oil_followed.then_some(row[OIL]),
            mass: self.mass(row),
            matter: names.iter().cloned().zip(row[MATTER..].iter().copied()).collect(),
        }
    }
}

impl Disposal {
    /// The densities that it gives or takes for granted.
    pub(super) fn densities(&self) -> LedgerDensities {
        let concentrate = self.concentrate.and_then(|concentrate| concentrate.density);
        LedgerDensities {
            concentrate: concentrate.map_or(DENSITY_AT_20_CELSIUS, Quantity::get),
            water: DENSITY_AT_20_CELSIUS,
            oil: self.oil_density.map_or(DENSITY_AT_20_CELSIUS, Quantity::get),
        }
    }
}

/// Volume of a row, L: solids take no room.
pub(super) fn volume(row: &[f64]) -> f64 {
    row[CONCENTRATE] + row[WATER] + row[OIL]
}

/// A row for each month, flow and timing; and what is in the sumps at both ends.
#[derive(Debug, Clone)]
pub(super) struct WasteLedger {
    pub months: usize,
    /// Columns of a row.
    pub width: usize,
    cells: Vec<f64>,
    /// What is in the sumps at the start.
    pub start: Vec<f64>,
    /// What is in the sumps at the end, fines included.
    pub end: Vec<f64>,
    /// Sumps changed, by month.
    pub changes: Vec<f64>,
    /// Sumps past a limit at the end of the month, by month.
    pub past_limits: Vec<f64>,
}

impl WasteLedger {
    pub(super) fn new(months: usize, matter: usize) -> Self {
        let width = MATTER + matter;
        Self {
            months,
            width,
            cells: vec![0.0; months * FLOWS * 2 * width],
            start: vec![0.0; width],
            end: vec![0.0; width],
            changes: vec![0.0; months],
            past_limits: vec![0.0; months],
        }
    }

    fn offset(&self, month: usize, flow: MonthlyFlow, timing: Timing) -> usize {
        ((month * FLOWS + flow.place()) * 2 + timing as usize) * self.width
    }

    /// The row of a flow, months counted from 0.
    pub(super) fn row(&self, month: usize, flow: MonthlyFlow, timing: Timing) -> &[f64] {
        let at = self.offset(month, flow, timing);
        &self.cells[at..at + self.width]
    }

    /// The row of a flow, to add to.
    pub(super) fn row_mut(
        &mut self,
        month: usize,
        flow: MonthlyFlow,
        timing: Timing,
    ) -> &mut [f64] {
        let at = self.offset(month, flow, timing);
        &mut self.cells[at..at + self.width]
    }

    /// The row of what moves a little every day, to add to.
    pub(super) fn steady(&mut self, month: usize, flow: MonthlyFlow) -> &mut [f64] {
        self.row_mut(month, flow, Timing::Steady)
    }

    /// Both timings of a flow together.
    pub(super) fn in_month(&self, month: usize, flow: MonthlyFlow) -> Vec<f64> {
        let mut sum = self.row(month, flow, Timing::Steady).to_vec();
        add(&mut sum, self.row(month, flow, Timing::WithChanges), 1.0);
        sum
    }

    /// A flow over all months.
    pub(super) fn in_all(&self, flow: MonthlyFlow) -> Vec<f64> {
        let mut sum = vec![0.0; self.width];
        for month in 0..self.months {
            for timing in Timing::BOTH {
                add(&mut sum, self.row(month, flow, timing), 1.0);
            }
        }
        sum
    }
}

/// Adds a multiple of a row to another.
pub(super) fn add(sum: &mut [f64], row: &[f64], times: f64) {
    for (cell, other) in sum.iter_mut().zip(row) {
        *cell += other * times;
    }
}
