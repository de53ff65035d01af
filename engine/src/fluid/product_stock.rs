//! Stocks that know which product they belong to.

use crate::fluid::properties::Properties;
use crate::fluid::stock::Stock;
use crate::quantity::{Concentration, Density, MoneyPerVolume, Quantity, Volume};
use crate::sentence;
use crate::text::{Faults, Name};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// A fluid to mix from, and the product it belongs to.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct ProductStock {
    /// # Stock
    ///
    /// Name of the stock, different for each.
    pub name: Name,
    /// # Product
    ///
    /// Product that it belongs to. Default: every product for water; anything else may leave
    /// it out only in a round of one product.
    #[schema(example = "product A")]
    pub product: Option<String>,
    /// # Strength
    ///
    /// Concentrate in it: 100 for neat concentrate, 0 for water.
    pub concentration: Concentration,
    /// # On hand
    ///
    /// Volume on hand. Default: as much as needed.
    pub volume: Option<Volume>,
    /// # Price
    ///
    /// Price. Default: 0.
    pub unit_cost: Option<MoneyPerVolume>,
    /// # Density
    ///
    /// Density. Default: that of water at room temperature.
    pub density: Option<Density>,
    /// # Carries
    ///
    /// What else it carries: tramp oil, hardness, chloride, whatever the shop follows.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
}

impl ProductStock {
    /// The stock by itself.
    #[must_use]
    pub fn stock(&self) -> Stock {
        Stock {
            name: self.name.clone(),
            concentration: self.concentration,
            volume: self.volume,
            unit_cost: self.unit_cost,
            density: self.density,
            properties: self.properties.clone(),
            hardness: None,
        }
    }

    /// Whether it may go into a batch or a sump of `product`. Checked before:
    /// a stock without a product is water, or there is one product only.
    #[must_use]
    pub fn goes_with(&self, product: &str) -> bool {
        self.product.as_ref().is_none_or(|own| own == product)
    }

    /// Whether it must say its product where there are several.
    #[must_use]
    pub fn is_more_than_water(&self) -> bool {
        self.concentration.get() > 0.0
    }
}

/// Where there are several products, every stock that is more than water must say which it is of.
pub(crate) fn check_products_named(stocks: &[ProductStock], faults: &mut Faults) {
    for (i, stock) in stocks.iter().enumerate() {
        if stock.product.is_none() && stock.is_more_than_water() {
            let detail = sentence!(
                "{} holds concentrate, but does not say of which product, and the sumps take \
                 several. Name its product, so that it is never mixed with another.",
                &stock.name
            );
            faults.add(format!("/stocks/{i}/product"), detail);
        }
    }
}
