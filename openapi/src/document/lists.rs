//! How many entries a list of a question may have, said once for all of them.

use super::components::Components;
use serde_json::Value;
use std::collections::BTreeSet;
use sumpwright_engine::document::{ENTRIES_MOST, type_of};

/// Bounds each list in the components that are asked: as many entries as any list may have, unless its
/// member says fewer, and at least one where it is needed. (One that may be null is not: a list of nothing is left
/// out then.)
pub(super) fn bound_lists(components: &mut Components, asked: &BTreeSet<String>) {
    let asked = components.iter_mut().filter(|(name, _)| asked.contains(*name));
    asked.for_each(|(_, schema)| bound(schema));
}

fn bound(schema: &mut Value) {
    let is_list = type_of(schema) == "array";
    let is_needed = schema["type"] == "array";
    match schema {
        Value::Object(keywords) => {
            if is_list {
                let mut say = |keyword: &str, bound: usize| {
                    keywords.entry(keyword).or_insert_with(|| bound.into());
                };
                say("maxItems", ENTRIES_MOST);
                if is_needed {
                    say("minItems", 1);
                }
            }
            keywords.values_mut().for_each(bound);
        }
        Value::Array(branches) => branches.iter_mut().for_each(bound),
        _ => {}
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn a_list_of_a_question_is_bounded_and_one_of_an_answer_is_not() {
        let list = json!({ "type": ["array", "null"], "items": { "type": "number" } });
        let few = json!({ "type": "array", "items": { "type": "array" }, "maxItems": 7 });
        let own = json!({ "properties": { "logs": list, "days": few } });
        let mut components = Components::new();
        components.insert("Asked".to_owned(), own.clone());
        components.insert("Answered".to_owned(), own.clone());
        bound_lists(&mut components, &BTreeSet::from(["Asked".to_owned()]));
        let bounds = |pointer: &str| {
            let list = components["Asked"].pointer(pointer).expect("a list");
            (list["minItems"].as_u64(), list["maxItems"].as_u64())
        };
        assert_eq!(bounds("/properties/logs"), (None, Some(20_000)));
        assert_eq!(bounds("/properties/days"), (Some(1), Some(7)));
        assert_eq!(bounds("/properties/days/items"), (Some(1), Some(20_000)));
        assert_eq!(components["Answered"], own);
    }
}
