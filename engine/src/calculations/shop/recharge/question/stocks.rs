//! The stocks of a round by the products of its sumps.

use super::Recharge;
use crate::fluid::product_stock::ProductStock;
use crate::fluid::stock::Stock;

impl Recharge {
    /// The stocks as they are on hand.
    pub(in super::super) fn plain_stocks(&self) -> Vec<Stock> {
        self.stocks.iter().map(ProductStock::stock).collect()
    }

    /// The products of the round in the order in which its sumps name them.
    pub(in super::super) fn products(&self) -> Vec<&str> {
        let mut seen = std::collections::BTreeSet::new();
        let all = self.sumps.iter().map(|sump| sump.product.as_str());
        all.filter(|product| seen.insert(*product)).collect()
    }

    /// The places in the list of the stocks that go with `product`.
    pub(in super::super) fn stocks_for(&self, product: &str) -> Vec<usize> {
        let all = self.stocks.iter().enumerate();
        all.filter(|(_, stock)| stock.goes_with(product)).map(|(place, _)| place).collect()
    }
}
