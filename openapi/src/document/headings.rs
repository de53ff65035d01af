//! The heading of a member's doc comment is its title.
//!
//! The derive of a schema has no place for the title of a field. A doc comment has: its
//! first line as a heading, `# Lost to evaporation`.

use serde_json::Value;

/// Makes the title of each member that has one as the heading of its description.
pub(super) fn entitle_by_heading(schema: &mut Value) {
    match schema {
        Value::Object(keywords) => {
            let described = keywords.get("description").and_then(Value::as_str);
            if let Some((title, rest)) = described.and_then(split) {
                keywords.insert("description".to_owned(), rest.into());
                keywords.insert("title".to_owned(), title.into());
            }
            keywords.values_mut().for_each(entitle_by_heading);
        }
        Value::Array(entries) => entries.iter_mut().for_each(entitle_by_heading),
        _ => {}
    }
}

fn split(description: &str) -> Option<(String, String)> {
    let (title, rest) = description.strip_prefix("# ")?.split_once('\n')?;
    Some((title.trim().to_owned(), rest.trim_start().to_owned()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn a_heading_becomes_the_title() {
        let mut schema = json!({ "properties": {
            "carry_off": { "type": "number", "description": "# On chips\n\nFluid lost. Unit: L." },
            "water": { "$ref": "#/w", "description": "No heading." },
        }});
        entitle_by_heading(&mut schema);
        let expected = json!({ "properties": {
            "carry_off": { "type": "number", "description": "Fluid lost. Unit: L.", "title": "On chips" },
            "water": { "$ref": "#/w", "description": "No heading." },
        }});
        assert_eq!(schema, expected);
    }
}
