//! What a request says, with its defaults.

use super::stream::WasteStream;
use super::track::count;
use super::{ChangeHabit, ChangesFall, ConcentrateDrum, Disposal, StreamTerms, WasteGroup};
use crate::fluid::properties::PropertyName;
use crate::handbook::conversions::DAYS_PER_MONTH;
use crate::quantity::{MonthsAhead, Quantity};
use std::collections::BTreeSet;

/// Months when the request does not say how many.
const MONTHS: usize = 12;

impl WasteGroup {
    /// How many sumps it has.
    pub(super) fn count(&self) -> f64 {
        self.count.map_or(1.0, Quantity::get)
    }

    pub(super) const fn is_by_forecast(&self) -> bool {
        matches!(self.change, Some(ChangeHabit::Forecast(_)))
    }
}

impl Disposal {
    pub(super) fn horizon(&self) -> usize {
        self.months.map_or(MONTHS, MonthsAhead::whole)
    }

    /// The share of each month that is worked, and of the one after the last.
    pub(super) fn worked(&self) -> Vec<f64> {
        let of = |month: usize| {
            let (from, to) = (count(month) * DAYS_PER_MONTH, count(month + 1) * DAYS_PER_MONTH);
            let worked = self.calendar.as_ref()?.worked_between(from, to)?;
            Some(worked / DAYS_PER_MONTH)
        };
        (0..=self.horizon()).map(|month| of(month).unwrap_or(1.0)).collect()
    }

    /// The names of all that is dissolved anywhere.
    pub(super) fn names(&self) -> Vec<PropertyName> {
        let in_sumps = self.groups.iter().flat_map(|group| group.properties.matter.keys());
        let in_water = self.water.iter().flat_map(|water| water.properties.matter.keys());
        in_sumps.chain(in_water).collect::<BTreeSet<_>>().into_iter().cloned().collect()
    }

    pub(super) fn drum(&self) -> Option<ConcentrateDrum> {
        self.concentrate?.drum
    }

    pub(super) fn terms(&self, stream: WasteStream) -> Option<&StreamTerms> {
        self.streams.iter().flatten().find(|terms| terms.stream == stream)
    }

    /// Whether a stream is kept as waste and counted.
    pub(super) fn counts(&self, stream: WasteStream) -> bool {
        let said = self.terms(stream).and_then(|terms| terms.counts);
        said.unwrap_or_else(|| stream.counts_by_itself())
    }

    pub(super) fn changes_fall(&self) -> ChangesFall {
        let said = self.storage.and_then(|storage| storage.changes_fall);
        said.unwrap_or(ChangesFall::OverTheMonth)
    }

    /// Whether tramp oil is anywhere.
    pub(super) fn has_tramp_oil(&self) -> bool {
        self.groups
            .iter()
            .any(|group| group.oil_leak.is_some() || group.properties.tramp_oil.is_some())
    }

    /// Whether any price is given.
    pub(super) fn has_prices(&self) -> bool {
        let of_stream = |terms: &StreamTerms| {
            terms.price_per_volume.is_some()
                || terms.price_per_mass.is_some()
                || terms.price_per_container.is_some()
        };
        self.pickup_price.is_some()
            || self.concentrate.is_some_and(|concentrate| concentrate.price.is_some())
            || self.water.as_ref().is_some_and(|water| water.price.is_some())
            || self.streams.iter().flatten().any(of_stream)
    }

    /// Whether any spread is given.
    pub(super) fn has_spread(&self) -> bool {
        let in_group = |group: &WasteGroup| {
            group.losses_spread.is_some()
                || group.oil_leak.is_some_and(|leak| leak.spread.is_some())
                || group.fines.is_some_and(|fines| fines.spread.is_some())
        };
        self.recycler.is_some_and(|recycler| recycler.spread.is_some())
            || self.groups.iter().any(in_group)
    }
}
