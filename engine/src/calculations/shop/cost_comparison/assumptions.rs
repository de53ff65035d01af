//! What a comparison takes for granted because the request did not say.

use super::checks::varied_by;
use super::{CostComparison, CostComparisonAnswer, Purchase, WORKING_DAYS, WayOfWorking};
use crate::fluid::loss_rates::assumptions_of_many;
use crate::quantity::{Days, Quantity, Share, Weeks};
use crate::sentence;
use crate::text::{Assumption, Sentence};

impl CostComparison {
    pub(super) fn assumptions(&self, answer: &CostComparisonAnswer) -> Vec<Assumption> {
        let mut assumptions = vec![
            Assumption::weighs_like_water("/machines", "all fluid"),
            Assumption::new(
                "",
                sentence!(
                    "Every year is like the next, at prices of today; what is paid in a year \
                     counts at its end, and purchases now or at the end of their year. Taxes are \
                     left out."
                ),
            ),
            Assumption::new(
                "/machines",
                sentence!(
                    "Sumps are kept at their level and concentration, emptied completely at a \
                     clean-out and filled again."
                ),
            ),
        ];
        let mut note = |applies: bool, pointer: &'static str, text: Sentence| {
            if applies {
                assumptions.push(Assumption::new(pointer, text));
            }
        };
        self.note_inputs(&mut note);
        self.note_varied(answer, &mut note);
        self.note_ways(&mut note);
        let losses = self.machines.iter().enumerate();
        let losses = losses.filter_map(|(g, group)| Some((g, group.losses.as_ref()?)));
        assumptions.extend(assumptions_of_many(losses, |g| format!("/machines/{g}/losses")));
        assumptions
    }

    fn note_inputs(&self, note: &mut impl FnMut(bool, &'static str, Sentence)) {
        note(
            self.machines.iter().any(|group| group.losses.is_none()),
            "/machines",
            sentence!("Machines without losses were taken to lose no fluid."),
        );
        note(
            self.working_days_per_year.is_none()
                && self.machines.iter().any(|group| group.losses.is_some()),
            "/working_days_per_year",
            sentence!("The machines were taken to work {} a year.", Days::measure_of(WORKING_DAYS)),
        );
        note(
            self.discount_rate.is_none(),
            "/discount_rate",
            sentence!("The discount rate was taken to be {}.", Share::measure_of(0.0)),
        );
        note(
            self.baseline.is_none() && self.ways.len() > 1,
            "/baseline",
            sentence!("The ways are compared with the first."),
        );
    }

    fn note_varied(
        &self,
        answer: &CostComparisonAnswer,
        note: &mut impl FnMut(bool, &'static str, Sentence),
    ) {
        let is_varied = answer.sensitivity.is_some();
        note(
            self.vary_by.is_none() && is_varied,
            "/vary_by",
            sentence!(
                "Each input was made smaller and larger by {}.",
                Share::measure_of_fraction(varied_by(None))
            ),
        );
        note(
            is_varied,
            "/vary_by",
            sentence!(
                "Numbers of years after which something happens were not varied; costs jump with \
                 them. Where only whole numbers make sense, costs were taken to run straight from \
                 one to the next."
            ),
        );
        note(
            self.ways.len() > 1 && !is_varied,
            "/vary_by",
            sentence!(
                "The request has more numbers than are varied one by one, so the sensitivity was \
                 left out. Put machines that are alike into one group."
            ),
        );
    }

    fn note_ways(&self, note: &mut impl FnMut(bool, &'static str, Sentence)) {
        let way = |of: &dyn Fn(&WayOfWorking) -> bool| self.ways.iter().any(of);
        let purchases = || self.ways.iter().flat_map(|way| way.purchases.iter().flatten());
        let any = |of: &dyn Fn(&Purchase) -> bool| purchases().any(of);
        note(
            way(&|way| way.clean_out_ratio.is_none()),
            "/ways",
            sentence!("A way without a clean-out ratio follows the plan of the machines."),
        );
        note(
            way(&|way| way.recovered.is_some()),
            "/ways",
            sentence!("Recovered fluid goes back at the concentration of the sump it came from."),
        );
        note(
            way(&|way| way.wash_water.is_some()),
            "/ways",
            sentence!("Wash water is disposed of with the fluid, at its price."),
        );
        note(
            any(&|purchase| purchase.life_years.is_some()),
            "/ways",
            sentence!(
                "What is not worn out at the end of the comparison is worth its part of the price, \
                 on a straight line from the price to the residual value."
            ),
        );
        note(
            any(&|purchase| purchase.life_years.is_none()),
            "/ways",
            sentence!("Purchases without a life were taken to outlast the comparison."),
        );
        note(
            any(&|purchase| purchase.running.as_ref().is_some_and(|r| r.media.is_some())),
            "/ways",
            sentence!(
                "Filter media with a life by the calendar are changed in all {} of a year.",
                Weeks::measure_of(super::costs::WEEKS)
            ),
        );
    }
}
