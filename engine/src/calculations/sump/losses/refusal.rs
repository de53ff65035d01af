//! Why a log has no answer.

use super::bounds::Explained;
use super::course::{CARRY_OFF, EVAPORATION};
use super::fit::LogUnfit;
use super::log::Log;
use crate::quantity::{DailyRate, Measure, Quantity};
use crate::sentence;
use crate::text::{Kind, Refusal, Sentence};

/// Why the strengths of a sump that is filled up unmeasured do not tell what it loses.
pub(super) const BLIND: &str = "The sump was filled up and nobody wrote down how much that took, and \
                                its strengths alone leave open what it loses. Write down how much \
                                the next few fillings take, by counted cans or a meter in the hose: \
                                that costs nobody a reading.";

/// The refusal of a log that has no fit.
pub(super) fn refusal(log: &Log, unfit: LogUnfit) -> Refusal {
    match unfit {
        // Whatever else the fit says, it says of losses that no level has shown.
        _ if log.filled_blindly() > 0 => {
            Refusal::new(Kind::NotIdentifiable, "/log", Sentence::fixed(BLIND))
        }
        LogUnfit::Undetermined => {
            let detail = sentence!(
                "The log cannot separate what was asked: some combination of the losses leaves no \
                 trace in its readings. Read the volume and the strength at more entries, and on \
                 different days."
            );
            Refusal::new(Kind::NotIdentifiable, "/log", detail)
        }
        LogUnfit::Dry(entry) => {
            let detail = sentence!(
                "By the log, the sump would be dry by day {}. An addition is missing, or a volume \
                 was misread.",
                Measure::bare(log.events[entry].day)
            );
            Refusal::new(Kind::Inconsistent, format!("/log/{entry}"), detail)
        }
        LogUnfit::Gains => {
            let detail = sentence!(
                "By the log, the sump gains concentrate that nobody added: its strength holds up \
                 better than evaporation can make it. Check the factor of the readings and the \
                 strengths of what was added."
            );
            Refusal::new(Kind::Inconsistent, "/log", detail)
        }
        LogUnfit::Unsettled(_) => {
            let detail = sentence!(
                "No rates were found that provably fit the log best. Check its numbers and their \
                 units."
            );
            Refusal::new(Kind::Unproven, "/log", detail)
        }
    }
}

impl Explained {
    /// Refuses a loss that strengths alone leave nearly open.
    pub(super) fn check_told(&self) -> Result<(), Refusal> {
        /// A standard uncertainty above this share of a loss leaves it open.
        const OPEN: f64 = 0.25;
        let theta = &self.fitted.theta;
        let loss = theta[EVAPORATION] + theta[CARRY_OFF];
        let u = self.propagated(&[(EVAPORATION, 1.0), (CARRY_OFF, 1.0)]);
        if u <= OPEN * loss {
            return Ok(());
        }
        let detail = sentence!(
            "The sump was filled up and nobody wrote down how much that took. Its strengths alone \
             say that it loses some {} of which {} are uncertain (one sigma), so this is left open. \
             Write down how much the next few fillings take, by counted cans or a meter in the \
             hose: that costs nobody a reading.",
            DailyRate::measure_of(loss.max(0.0)).rounded(2),
            DailyRate::measure_of(u).rounded(2)
        );
        Err(Refusal::new(Kind::NotIdentifiable, "/log", detail))
    }
}
