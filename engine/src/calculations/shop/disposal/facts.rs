//! What the parts of a projection ask of its request.

use super::bands::DRAWS;
use super::ledger::Densities;
use super::machine::{Recycler, Shop, kilograms, whole};
use super::stream::WasteStream;
use super::sumps::{ChangeHabit, WasteGroup};
use super::terms::{ChangesFall, ConcentrateDrum, StreamTerms};
use super::{Disposal, share};
use crate::fluid::properties::Name;
use crate::handbook::water::DENSITY_AT_20_CELSIUS;
use crate::quantity::Quantity;
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
        self.months.map_or(MONTHS, whole)
    }

    pub(super) fn draws(&self) -> usize {
        let draws = self.sampling.and_then(|sampling| sampling.draws);
        draws.map_or(DRAWS, whole)
    }

    pub(super) fn densities(&self) -> Densities {
        let concentrate = self.concentrate.and_then(|concentrate| concentrate.density);
        Densities {
            concentrate: concentrate.map_or(DENSITY_AT_20_CELSIUS, Quantity::get),
            water: DENSITY_AT_20_CELSIUS,
            oil: self.oil_density.map_or(DENSITY_AT_20_CELSIUS, Quantity::get),
        }
    }

    /// The names of all that is dissolved anywhere.
    pub(super) fn names(&self) -> Vec<Name> {
        let in_sumps = self.groups.iter().flat_map(|group| group.properties.matter.keys());
        let in_water = self.water.iter().flat_map(|water| water.properties.matter.keys());
        in_sumps.chain(in_water).collect::<BTreeSet<_>>().into_iter().cloned().collect()
    }

    pub(super) fn shop(&self) -> Shop {
        let names = self.names();
        let in_water = |name: &Name| {
            let content = self.water.as_ref().and_then(|water| water.properties.matter.get(name));
            content.map_or(0.0, |content| kilograms(content.get()))
        };
        let recycler = self.recycler.map_or_else(Recycler::default, |yields| Recycler {
            recovered: share(yields.recovered),
            with_oil: yields.lost_with_oil.map_or(0.0, share),
            with_sludge: yields.lost_with_sludge.map_or(0.0, share),
            oil_removed: yields.oil_removed.map_or(1.0, share),
        });
        Shop {
            water: names.iter().map(in_water).collect(),
            densities: self.densities(),
            recycler,
            names,
        }
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
