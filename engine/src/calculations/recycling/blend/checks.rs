//! What a question about mixing may not contradict itself in.

use super::Blend;
use crate::fluid::batch::{check_limits_are_about_something, check_mixing};
use crate::text::{Faults, Kind, Refusal};

impl Blend {
    pub(super) fn check(&self) -> Result<(), Refusal> {
        let mut faults = Faults::default();
        check_mixing(&self.stocks, &self.limits, self.goal.as_ref(), &mut faults);
        faults.or_refuse(Kind::Inconsistent)?;
        let mut faults = Faults::default();
        check_limits_are_about_something(&self.stocks, &self.limits, &mut faults);
        faults.or_refuse(Kind::NotIdentifiable)
    }
}
