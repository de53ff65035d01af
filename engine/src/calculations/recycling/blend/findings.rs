//! What is found of the stocks and of what the batch carries.

use super::Blend;
use crate::fluid::practice;
use crate::fluid::properties::Properties;
use crate::fluid::stock::{self, Stock};
use crate::quantity::Quantity;
use crate::text::Finding;

impl Blend {
    /// What is found of the stocks and of what the batch carries.
    pub(super) fn findings(&self, carries: &Properties) -> Vec<Finding> {
        let mut findings = stock::findings(&self.stocks);
        for (name, content) in &carries.matter {
            let of = |stock: &Stock| stock.properties.matter.get(name).map_or(0.0, |c| c.get());
            let contents = self.stocks.iter().map(of).enumerate();
            let most = contents.max_by(|a, b| a.1.total_cmp(&b.1)).map_or(0, |(i, _)| i);
            let pointer = format!("/stocks/{most}/properties/{name}");
            findings.extend(practice::nitrite(name, *content, &pointer));
            let limit = self.limits.matter.get(name);
            findings.extend(practice::soft_water(name, *content, limit, &pointer));
        }
        findings
    }
}
