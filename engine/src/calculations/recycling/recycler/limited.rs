//! The properties that have a limit.

use super::Recycler;
use super::mixture::{MATTER, Mixture};
use crate::fluid::properties::TRAMP_OIL;
use crate::quantity::{Concentration, Content, Measure, Quantity};

/// A property that has a limit.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Limited {
    /// Its name.
    pub(super) name: String,
    /// Its place among the materials; none for tramp oil, which has two.
    pub(super) place: Option<usize>,
    /// The most that is tolerated, % by volume or mg/L.
    pub(super) most: f64,
}

impl Limited {
    /// A content of the property for a sentence.
    pub(super) fn measure(&self, content: f64) -> Measure {
        match self.place {
            None => Concentration::measure_of(content),
            Some(_) => Content::measure_of(content),
        }
    }
}

/// The limits that the target sets, on what the feed carries.
pub(super) fn limited(question: &Recycler, mixture: &Mixture) -> Vec<Limited> {
    let limits = &question.target.limits;
    let oil = limits.tramp_oil.and_then(|limit| limit.max);
    let oil = oil.map(|most| Limited { name: TRAMP_OIL.to_owned(), place: None, most: most.get() });
    let matter = mixture.names.iter().enumerate().filter_map(|(i, name)| {
        let most = limits.matter.get(name)?.max?.get();
        Some(Limited { name: name.to_string(), place: Some(MATTER + i), most })
    });
    oil.into_iter().chain(matter).collect()
}
