//! Where properties that keep coming into a recirculated batch settle.

use super::SettlingContent;
use super::treatment::Treatment;
use crate::fluid::properties::Properties;
use crate::quantity::{Content, Hours, Quantity};
use crate::text::Refusal;
use std::collections::BTreeMap;

/// Those of them that a stage removes.
pub(super) fn settling(treatment: &Treatment<'_>) -> Result<Vec<SettlingContent>, Refusal> {
    let removed = treatment.fed_places().filter(|i| treatment.is_removed(*i));
    let settling = removed.map(|i| {
        let name = treatment.name(i).to_owned();
        let content = Content::of(treatment.settles_at(i))?;
        Ok(SettlingContent {
            property: name.clone(),
            settles_at: Properties {
                matter: BTreeMap::from([(name.into(), content)]),
                ..Properties::default()
            },
            time_constant_hours: Hours::of(treatment.time_constant(i))?,
        })
    });
    settling.collect()
}
