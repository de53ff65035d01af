//! What a comparison takes for granted because the request did not say.

use super::{CostComparison, CostComparisonAnswer, Purchase, WayOfWorking};
use crate::text::Assumption;

impl CostComparison {
    pub(super) fn assumptions(&self, answer: &CostComparisonAnswer) -> Vec<Assumption> {
        let mut assumptions = vec![Assumption::like_water(
            "/machines",
            "All fluid was taken to have the density of water at {}, {}.",
        )];
        let mut note = |applies: bool, pointer: &'static str, text: &'static str| {
            if applies {
                assumptions.push(Assumption::new(pointer, text));
            }
        };
        let way = |of: &dyn Fn(&WayOfWorking) -> bool| self.ways.iter().any(of);
        let purchases = || self.ways.iter().flat_map(|way| way.purchases.iter().flatten());
        let any = |of: &dyn Fn(&Purchase) -> bool| purchases().any(of);
        note(
            true,
            "",
            "Every year is like the next, at prices of today; what is paid in a year counts at \
             its end, and purchases now or at the end of their year. Taxes are left out.",
        );
        note(
            true,
            "/machines",
            "Sumps are kept at their level and strength, emptied whole at a clean-out and filled \
             again.",
        );
        note(
            self.machines.iter().any(|group| group.losses.is_none()),
            "/machines",
            "Machines that do not say what they lose in a day were taken to lose nothing.",
        );
        note(
            self.working_days_a_year.is_none()
                && self.machines.iter().any(|group| group.losses.is_some()),
            "/working_days_a_year",
            "The machines were taken to work 250 days a year.",
        );
        note(
            self.discount_rate.is_none(),
            "/discount_rate",
            "Money was taken to cost nothing: amounts of all years count the same.",
        );
        note(
            self.baseline.is_none() && self.ways.len() > 1,
            "/baseline",
            "The ways are held against the first.",
        );
        note(
            self.vary_by.is_none() && answer.hangs_on.is_some(),
            "/vary_by",
            "Each input was made smaller and larger by 10 %.",
        );
        note(
            answer.hangs_on.is_some(),
            "/vary_by",
            "Numbers that say after how many years something happens were not varied; costs jump \
             with them. Where only whole numbers make sense, costs were taken to run straight \
             from one to the next.",
        );
        note(
            self.ways.len() > 1 && answer.hangs_on.is_none(),
            "/vary_by",
            "The request has more numbers than are varied one by one, so what the choice hangs on \
             was left out. Put machines that are alike into one group.",
        );
        note(
            way(&|way| way.clean_out_ratio.is_none()),
            "/ways",
            "A way that does not say how often it cleans out follows the plan of the machines.",
        );
        note(
            way(&|way| way.recovered.is_some()),
            "/ways",
            "Recovered fluid goes back at the strength of the sump it came from.",
        );
        note(
            way(&|way| way.wash_water.is_some()),
            "/ways",
            "Wash water is disposed of with the fluid, at its price.",
        );
        note(
            any(&|purchase| purchase.life_years.is_some()),
            "/ways",
            "What is not worn out at the end of the comparison is worth its part of the price, on \
             a straight line from the price to the residual value.",
        );
        note(
            any(&|purchase| purchase.life_years.is_none()),
            "/ways",
            "What does not say how long it lasts was taken to outlast the comparison.",
        );
        note(
            any(&|purchase| purchase.running.as_ref().is_some_and(|r| r.media.is_some())),
            "/ways",
            "Filter media that last so many weeks are changed in all 52 weeks of a year.",
        );
        assumptions
    }
}
