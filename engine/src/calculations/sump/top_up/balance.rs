//! The material balance of a top-up.

use crate::fluid::Fluid;
use crate::fluid::balance::{Balance, StreamDirection};
use crate::fluid::stock::Stock;
use crate::text::Refusal;

pub(super) fn balance(
    stocks: &[Stock],
    before: &Fluid,
    drained: &Fluid,
    poured: &[Fluid],
    after: &Fluid,
) -> Result<Balance, Refusal> {
    let mut streams = vec![("sump before", StreamDirection::In, before)];
    let added = stocks.iter().zip(poured).filter(|(_, fluid)| fluid.volume > 0.0);
    streams.extend(added.map(|(stock, fluid)| (stock.name.as_str(), StreamDirection::In, fluid)));
    if drained.volume > 0.0 {
        streams.push(("drained", StreamDirection::Out, drained));
    }
    streams.push(("sump after", StreamDirection::Stays, after));
    Balance::close(&streams)
}
