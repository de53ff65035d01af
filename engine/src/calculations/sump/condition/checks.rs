//! The checks of what was observed.

use super::judging::Judged;
use super::question::Condition;
use crate::fluid::band::Band;
use crate::sentence;
use crate::text::{Faults, Kind, Refusal};

impl Condition {
    pub(super) fn check(&self) -> Result<(), Refusal> {
        self.band.as_ref().map_or(Ok(()), Band::check)?;
        if let Some(losses) = &self.losses {
            losses.check("/losses")?;
        }
        if let Some(sheet) = &self.sheet {
            let mut faults = Faults::default();
            sheet.check("/sheet", &mut faults);
            faults.or_refuse(Kind::Inconsistent)?;
        }
        if self.reading.is_some() && self.concentration.is_some() {
            let text = sentence!(
                "Both a reading and a strength are given. Leave out the strength, which the reading \
                 gives."
            );
            return Err(Refusal::new(Kind::Inconsistent, "/concentration", text));
        }
        Ok(())
    }

    /// Nothing can be decided about a sump of which nothing can be judged.
    pub(super) fn check_judged(judged: &[Judged]) -> Result<(), Refusal> {
        if !judged.is_empty() {
            return Ok(());
        }
        let text = sentence!(
            "Nothing that was given can be judged. Say how it looks and smells, give a reading with \
             its band, a pH or a dip slide, or a content with the fluid's own limit."
        );
        Err(Refusal::new(Kind::NotIdentifiable, "", text))
    }
}
