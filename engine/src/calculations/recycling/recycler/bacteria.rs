//! What the dip slide says after the treatment.

use super::{BacteriaBand, Recycler, RecyclerMode, TreatedBacteria};
use crate::fluid::practice::{GOOD_BELOW, POOR_FROM};
use crate::quantity::{BacterialCount, Quantity, Share};
use crate::text::Refusal;

/// The count after `n` passes or turnovers, and the published band that it lies in.
pub(super) fn bacteria(question: &Recycler, n: f64) -> Result<Option<TreatedBacteria>, Refusal> {
    let Some(count) = question.feed.dip_slide else { return Ok(None) };
    let kills = question.stages.iter().map(|stage| stage.kills.map_or(0.0, Share::fraction));
    let survive: f64 = kills.map(|share| 1.0 - share).product();
    let left = match question.mode {
        RecyclerMode::SinglePass => survive.powf(n),
        RecyclerMode::Recirculate => (-(1.0 - survive) * n).exp(),
    };
    let count = BacterialCount::of(count.get() * left)?;
    let band = match count.get() {
        count if count < GOOD_BELOW => BacteriaBand::Good,
        count if count < POOR_FROM => BacteriaBand::Reasonable,
        _ => BacteriaBand::Poor,
    };
    Ok(Some(TreatedBacteria { count, band }))
}
