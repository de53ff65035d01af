//! The list of what the service answers: the only place that knows all calculations.

use crate::calculation::Calculation;
use crate::calculations::{recycling, shop, sump};

/// Code that is written once for every calculation.
pub trait Visitor {
    /// Called for each calculation in turn.
    fn visit<C: Calculation>(&mut self);
}

/// A list of calculations.
pub trait Catalogue {
    /// Shows each of them to `visitor`.
    fn show(&self, visitor: &mut impl Visitor);
}

/// The list of what there is.
#[derive(Debug, Clone, Copy)]
pub struct Everything;

impl Catalogue for Everything {
    fn show(&self, visitor: &mut impl Visitor) {
        visitor.visit::<sump::concentration::ConcentrationOfReading>();
        visitor.visit::<recycling::blend::Blend>();
        visitor.visit::<sump::top_up::TopUp>();
        visitor.visit::<shop::top_up_round::TopUpRound>();
        visitor.visit::<sump::condition::Condition>();
        visitor.visit::<sump::dose::Dose>();
        visitor.visit::<sump::water::Water>();
        visitor.visit::<shop::test_plan::TestPlan>();
        visitor.visit::<shop::calendar::Calendar>();
        visitor.visit::<shop::recharge::Recharge>();
        visitor.visit::<sump::make_up::MakeUp>();
        visitor.visit::<sump::losses::Losses>();
        visitor.visit::<sump::sump_state::SumpState>();
        visitor.visit::<sump::forecast::Forecast>();
        visitor.visit::<recycling::separation::Separation>();
        visitor.visit::<recycling::recycler::Recycler>();
        visitor.visit::<recycling::fluid_loop::FluidLoop>();
        visitor.visit::<shop::disposal::Disposal>();
        visitor.visit::<shop::supplies::Supplies>();
        visitor.visit::<shop::cost_comparison::CostComparison>();
        visitor.visit::<sump::refractometer_factor::RefractometerCalibration>();
        visitor.visit::<sump::sump_volume::SumpVolume>();
    }
}
