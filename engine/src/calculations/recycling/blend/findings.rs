//! What is found of the stocks and of what the batch carries.

use super::Blend;
use crate::fluid::practice;
use crate::fluid::properties::Properties;
use crate::fluid::stock;
use crate::text::Finding;

impl Blend {
    /// What is found of the stocks and of what the batch carries.
    pub(super) fn findings(&self, carries: &Properties) -> Vec<Finding> {
        let mut findings = stock::findings(&self.stocks);
        for (name, content) in &carries.matter {
            let contents = self.stocks.iter().map(|stock| stock.content(name)).enumerate();
            let most = contents.max_by(|a, b| a.1.total_cmp(&b.1)).map_or(0, |(i, _)| i);
            let pointer = format!("/stocks/{most}/properties/{name}");
            findings.extend(practice::nitrite(name, *content, &pointer));
            let limit = self.limits.matter.get(name);
            findings.extend(practice::soft_water(name, *content, limit, &pointer));
        }
        findings
    }
}
