//! What a document names and does not give: null, and a list of nothing, are as good as left out.
//!
//! Programs that write every member of a type write so what they leave out. A member that is required has been
//! missed before (see `check`), so nothing that is wanted goes this way.

use serde_json::Value;

/// Takes out of a document the members that are null, and the lists of nothing.
pub(crate) fn take_out(value: &mut Value) {
    match value {
        Value::Object(members) => {
            members.retain(|_, member| !is_nothing(member));
            members.values_mut().for_each(take_out);
        }
        Value::Array(entries) => entries.iter_mut().for_each(take_out),
        _ => {}
    }
}

fn is_nothing(value: &Value) -> bool {
    value.is_null() || value.as_array().is_some_and(Vec::is_empty)
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn what_is_not_given_goes_and_what_is_stays() {
        let mut document = json!({
            "a": null, "b": [], "c": { "d": null, "e": 0 }, "f": [{ "g": [] }, null], "h": "", "i": false,
        });
        take_out(&mut document);
        let left = json!({ "c": { "e": 0 }, "f": [{}, null], "h": "", "i": false });
        assert_eq!(document, left);
    }
}
