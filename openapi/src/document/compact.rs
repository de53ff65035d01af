//! JSON as it is shipped: short, and in lines that a reviewer can hold against each other.
//!
//! What fits on a line stands on one; short members share a line; whatever is longer is
//! broken up, indented by one space. Two spaces and a line for each member take half as
//! many bytes again.

use serde_json::Value;

/// So many bytes has a line, unless a single text is longer.
const WIDTH: usize = 100;

/// Writes a tree as text that ends with a line end.
pub(super) fn written(tree: &Value) -> String {
    let mut text = String::new();
    write(&mut text, tree, 0, 0);
    text.push('\n');
    text
}

/// Writes `value` where `indent` spaces stand before its line, and `before` bytes between
/// those and the value.
fn write(text: &mut String, value: &Value, indent: usize, before: usize) {
    let room = WIDTH.saturating_sub(indent + before);
    if let Some(line) = on_one_line(value).filter(|line| line.len() <= room) {
        return text.push_str(&line);
    }
    match value {
        Value::Object(members) => {
            let parts =
                members.iter().map(|(name, member)| (format!("{}: ", quoted(name)), member));
            write_parts(text, ['{', '}'], parts, indent);
        }
        Value::Array(entries) => {
            let parts = entries.iter().map(|entry| (String::new(), entry));
            write_parts(text, ['[', ']'], parts, indent);
        }
        leaf => text.push_str(&leaf.to_string()),
    }
}

fn write_parts<'a>(
    text: &mut String,
    [open, close]: [char; 2],
    parts: impl Iterator<Item = (String, &'a Value)>,
    indent: usize,
) {
    text.push(open);
    let inner = indent + 1;
    // What stands on the line so far, when it is all on one line and more may follow.
    let mut filled = None;
    for (at, (name, value)) in parts.enumerate() {
        let mut part = name.clone();
        write(&mut part, value, inner, name.len());
        let is_line = !part.contains('\n');
        match filled {
            Some(length) if is_line && inner + length + 2 + part.len() < WIDTH => {
                text.push_str(", ");
                text.push_str(&part);
                filled = Some(length + 2 + part.len());
            }
            _ => {
                text.push_str(if at == 0 { "\n" } else { ",\n" });
                text.extend(std::iter::repeat_n(' ', inner));
                text.push_str(&part);
                filled = is_line.then_some(part.len());
            }
        }
    }
    text.push('\n');
    text.extend(std::iter::repeat_n(' ', indent));
    text.push(close);
}

/// A value on one line; none where it is longer than a line anyway.
fn on_one_line(value: &Value) -> Option<String> {
    let mut line = String::new();
    fits(&mut line, value).then_some(line)
}

fn fits(line: &mut String, value: &Value) -> bool {
    match value {
        Value::Object(members) => {
            line.push('{');
            for (at, (name, member)) in members.iter().enumerate() {
                line.push_str(if at == 0 { "" } else { ", " });
                line.push_str(&quoted(name));
                line.push_str(": ");
                if !fits(line, member) {
                    return false;
                }
            }
            line.push('}');
        }
        Value::Array(entries) => {
            line.push('[');
            for (at, entry) in entries.iter().enumerate() {
                line.push_str(if at == 0 { "" } else { ", " });
                if !fits(line, entry) {
                    return false;
                }
            }
            line.push(']');
        }
        leaf => line.push_str(&leaf.to_string()),
    }
    line.len() <= WIDTH
}

fn quoted(name: &str) -> String {
    Value::from(name).to_string()
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn lines_are_filled_and_hold_the_same() {
        let long = "A sentence that fills the line. ".repeat(3);
        let tree = json!({
            "type": "number", "minimum": 0, "title": "Volume",
            "description": long,
            "examples": [1.5, 2, "three"],
            "members": { "none": {}, "also none": [], "nothing": null, "\"quoted\"\n": true },
            "list": [{ "description": long }, { "description": "short" }],
        });
        let text = written(&tree);
        assert_eq!(serde_json::from_str::<Value>(&text).expect("JSON"), tree);
        let first: Vec<&str> = text.lines().take(4).collect();
        assert_eq!(first[..2], ["{", r#" "type": "number", "minimum": 0, "title": "Volume","#]);
        assert!(first[2].starts_with(r#" "description": "A sentence"#), "{text}");
        assert_eq!(first[3], r#" "examples": [1.5, 2, "three"],"#);
        assert!(text.lines().all(|line| line.len() <= WIDTH || line.contains("A sentence")));
        assert!(text.ends_with("}\n"));
    }

    #[test]
    fn what_is_short_is_one_line() {
        assert_eq!(written(&json!({ "a": [1, { "b": null }] })), "{\"a\": [1, {\"b\": null}]}\n");
    }
}
