//! Why a log has no answer.

use super::fit::LogUnfit;
use super::log::Log;
use crate::quantity::Measure;
use crate::sentence;
use crate::text::{Kind, Refusal};

/// The refusal of a log that has no fit.
pub(super) fn refusal(log: &Log, unfit: LogUnfit) -> Refusal {
    match unfit {
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
