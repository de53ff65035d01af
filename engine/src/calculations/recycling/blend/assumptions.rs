//! What a batch takes for granted because the request did not say.

use super::Blend;
use crate::fluid::batch::{Goal, any_cost};
use crate::fluid::stock;
use crate::sentence;
use crate::text::Assumption;

impl Blend {
    pub(super) fn assumptions(&self) -> Vec<Assumption> {
        let mut assumptions = stock::assumptions(&self.stocks);
        if any_cost(&self.stocks) {
            let free = self.stocks.iter().enumerate().filter(|(_, s)| s.unit_cost.is_none());
            assumptions.extend(free.map(|(i, stock)| {
                let text = sentence!("{}: was assumed to cost 0.", &stock.name);
                Assumption::new(format!("/stocks/{i}/unit_cost"), text)
            }));
        } else if self.stocks.len() > 2 && !matches!(self.goal, Some(Goal::Use(_))) {
            let text =
                sentence!("No stock has a cost, so earlier stocks in the list were preferred.");
            assumptions.push(Assumption::new("/goal", text));
        }
        assumptions
    }
}
